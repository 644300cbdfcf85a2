"""One piece drawn without a pack, as SVG text.

A face that follows each edit asks here; what it keeps are a workshop and a darkroom of its own.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from math import ceil
from typing import Final

from matplan.documents.document import Form
from matplan.documents.parts.folio import Folio
from matplan.documents.shelf import SHELF
from matplan.job.records import Job
from matplan.mats.records import SolvedPiece
from matplan.pack.contents import Album, files_of, picture_sizes
from matplan.pack.darkroom import Darkroom
from matplan.walls.records import SolvedWall

EVERY: Final = 10
"""Pictures are made in sizes of so many mm of paper, so that one serves for an image that grows or shrinks a little."""

WALL_SCALE: Final = 8
"""A wall view is no larger than 1 : 8 but for very small walls; its pictures are made for that."""


def drawings(
    job: Job, piece: SolvedPiece, darkroom: Darkroom | None = None, *, parts: Iterable[str] = ("front", "cut")
) -> dict[str, str]:
    """Return a piece's drawings by their names in a pack: its front view and the diagram of each board that is cut.

    `parts` are other documents by their names on the shelf. Photos are made ready in `darkroom`, which keeps them;
    without one they are made for this call alone. Raises `JobError` that names every undecodable photo.
    """
    wanted = tuple(parts)
    folio = Folio(job=job, pieces=(piece,))

    def sizes(_piece: SolvedPiece) -> dict[str, tuple[float, float]]:
        shown = picture_sizes(folio, wanted)[piece.ask.file]
        return {name: (_up(width), _up(height)) for name, (width, height) in shown.items()}

    folio = replace(folio, pictures=(darkroom or Darkroom()).pictures(job, (piece,), sizes))
    return _drawn(folio, wanted)


def wall_drawings(job: Job, wall: SolvedWall, darkroom: Darkroom | None = None) -> dict[str, str]:
    """Return a wall's drawings by their names in a pack; see `drawings`."""
    hung = {one.frame.piece.ask.file: one.frame.piece for one in wall.frames}
    pieces = tuple(hung.values())
    pictures = (darkroom or Darkroom()).pictures(job, pieces, _on_a_wall, walls=(wall.ask,))
    return _drawn(Folio(job=job, pieces=pieces, walls=(wall,), pictures=pictures, album=Album()), ("wall",))


def names(job: Job, piece: SolvedPiece) -> dict[str, str]:
    """Return what `drawings` can draw of a piece: the name in a pack of each document's first sheet, and its title."""
    folio = Folio(job=job, pieces=(piece,))
    found: dict[str, str] = {}
    for document in SHELF:
        if document.path and Form.SVG in document.forms:
            for subject in document.over(folio):
                found.setdefault(f"{document.file(subject)}.{Form.SVG.ending}", document.heading(subject))
    return found


def _on_a_wall(piece: SolvedPiece) -> dict[str, tuple[float, float]]:
    """Return how large a wall view shows each window's picture at most."""
    sizes = ((one.name, one.image.width / WALL_SCALE, one.image.height / WALL_SCALE) for one in piece.apertures)
    return {name: (_up(float(width)), _up(float(height))) for name, width, height in sizes}


def _drawn(folio: Folio, wanted: Iterable[str]) -> dict[str, str]:
    """Return the drawings of these parts that the workbook binds."""
    return {
        name: content.decode()
        for part in wanted
        for document in SHELF
        if document.part == part and Form.SVG in document.forms and document.chapter is not None
        for subject in document.over(folio)
        for name, content in files_of(document, subject, document.draw(folio, subject))
        if name.endswith(Form.SVG.ending) and isinstance(content, bytes)
    }


def _up(side: float) -> float:
    return ceil(side / EVERY) * EVERY
