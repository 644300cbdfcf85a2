"""The files of a pack: what the shelf holds, drawn for the chosen pieces and walls, each sheet once.

It must not know any document by name, nor how one looks, nor where the files go.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from matplan.documents.document import Chapter, Document, Form, Subject
from matplan.documents.parts.folio import Bound, Corners, Folio, Sizes
from matplan.documents.parts.pictures import Picture, PictureKey, Pictures
from matplan.documents.shelf import SHELF
from matplan.drawing.sheet import Sheet
from matplan.job.records import Wall
from matplan.mats.records import SolvedPiece
from matplan.pack.back_ends import BACK_ENDS
from matplan.pack.choice import Choice
from matplan.pack.folder import Content
from matplan.planning import Plan

PLAN = "plan"
"""The document that is always there: a folder without it is no pack."""
WORKBOOK = "workshop"
"""The document that binds others."""


@dataclass(frozen=True, slots=True)
class Album:
    """Makes pictures smaller or lays them on their side; see `documents.parts.folio.Album`."""

    def smaller(self, pictures: Pictures, sizes: Sizes) -> Pictures:
        """Return the pictures that `sizes` name, for drawings that show them no larger."""
        from matplan.pack.pictures import smaller

        return {key: smaller(pictures[key], sizes[key]) for key in sorted(sizes.keys() & pictures.keys())}

    def widest_tones(self, picture: Picture, part: tuple[Fraction, Fraction]) -> tuple[Fraction, Fraction]:
        """Return the middle of the part, in fractions of the picture, with the widest range of tones."""
        from matplan.pack.tones import widest_tones

        return widest_tones(picture, part)

    def turned(self, pictures: Pictures, keys: Iterable[PictureKey]) -> Pictures:
        """Return the pictures of these keys, turned a quarter to the left."""
        from matplan.pack.pictures import turned

        return {key: turned(pictures[key]) for key in sorted(set(keys) & pictures.keys())}

    def in_perspective(
        self, picture: bytes, corners: Corners, within: tuple[int, int], part: float
    ) -> tuple[bytes, tuple[int, int, int, int]]:
        """Return the picture with its corners there, and its box; see `documents.parts.folio.Album`."""
        from matplan.pack.perspective import in_perspective

        return in_perspective(picture, corners, within, part)


class Contents:
    """The chosen documents of a plan. What the workbook binds is drawn once for it and for the single files."""

    def __init__(self, plan: Plan, chosen: Choice, pictures: Callable[[Contents], Pictures]) -> None:
        self._chosen = chosen
        self._drawn: dict[tuple[int, int], Any] = {}
        self._written: set[tuple[int, int]] = set()
        pieces = tuple(piece for piece in plan.pieces if piece.ask.file in chosen.pieces)
        walls = tuple(wall for wall in plan.walls if wall.ask.file in chosen.walls)
        self.folio = Folio(job=plan.job, pieces=pieces, walls=walls, plan=plan, album=Album(), bound=self._bound)
        self._subjects = {document: tuple(document.over(self.folio)) for document in SHELF if self._wanted(document)}
        self._taken = frozenset(document.file(s) for document, subjects in self._subjects.items() for s in subjects)
        self.folio = replace(self.folio, pictures=pictures(self))

    def _wanted(self, document: Document) -> bool:
        chosen = self._chosen
        return document.part == PLAN or chosen.takes(document) or (chosen.all_bound and document.chapter is not None)

    @property
    def steps(self) -> int:
        """How many documents are drawn for files of their own."""
        return sum(len(subjects) for document, subjects in self._subjects.items() if self._has_files(document))

    def _has_files(self, document: Document) -> bool:
        return bool(document.forms) and (document.part == PLAN or self._chosen.takes(document))

    def names(self) -> Iterator[tuple[str, str, str]]:
        """Yield each file that may be written, with what it is and whose, without drawing it."""
        for document, subjects in self._subjects.items():
            for subject in subjects:
                for form in self._chosen.forms(document):
                    yield f"{document.file(subject)}.{form.ending}", document.heading(subject), subject.about

    @property
    def pictured(self) -> tuple[SolvedPiece, ...]:
        """The pieces whose photos are shown: those chosen, and those that hang on a chosen wall."""
        if not any(document.pictured for document in self._subjects):
            return ()
        folio = self.folio
        hung = [one.frame.piece for wall in folio.walls for one in wall.frames] if self._on_walls else []
        return tuple({piece.ask.file: piece for piece in (*folio.pieces, *hung)}.values())

    @property
    def walls(self) -> tuple[Wall, ...]:
        """The walls whose photographs are shown."""
        return tuple(wall.ask for wall in self.folio.walls) if self._on_walls else ()

    @property
    def _on_walls(self) -> bool:
        return any(document.part == "wall" for document in self._subjects)

    def picture_sizes(self, piece: SolvedPiece) -> Mapping[str, tuple[float, float]]:
        """Return how large the drawings show each window's photo at most, in mm of paper, by the window's name."""
        return picture_sizes(Folio(job=self.folio.job, pieces=(piece,), laid=self.folio.laid))[piece.ask.file]

    def files(self, tick: Callable[[], None] = lambda: None) -> Iterator[tuple[str, Content]]:
        """Yield every file of the pack: its relative name and its content."""
        for document, subjects in self._subjects.items():
            if not self._has_files(document):
                continue
            for subject in subjects:
                drawn = self._draw(document, subject)
                if drawn:
                    self._written.add((id(document), id(subject)))
                    forms = self._chosen.forms(document)
                    yield from files_of(document, subject, drawn, self._taken, forms, self.folio.job.title)
                tick()

    def _draw(self, document: Document, subject: Subject) -> Any:
        """Return what the document draws; what the workbook binds is kept for it."""
        if document.chapter is None or WORKBOOK not in self._chosen.parts or not document.bound:
            return document.draw(self.folio, subject)
        key = (id(document), id(subject))
        if key not in self._drawn:
            self._drawn[key] = document.draw(self.folio, subject)
        return self._drawn[key]

    def _bound(self) -> tuple[Bound, ...]:
        """Return the workbook's documents: chapter by chapter, and in each subject by subject.

        A document that is not bound is listed where its file is written; one that is bound has its file too.
        """
        found: list[Bound] = []
        for chapter in Chapter:
            in_it = [(d, s) for d, subjects in self._subjects.items() if d.chapter is chapter for s in subjects]
            order = {about: number for number, about in enumerate(dict.fromkeys(s.about for _, s in in_it))}
            left_out = {(d.instead, s.about) for d, s in in_it if d.instead and self._draw(d, s)}
            kept = [(d, s) for d, s in in_it if (d.title, s.about) not in left_out]
            for document, subject in sorted(kept, key=lambda one: order[one[1].about]):
                sheets: tuple[Sheet, ...] = ()
                file = ""
                if document.bound:
                    sheets = tuple(self._draw(document, subject))
                if (id(document), id(subject)) in self._written:
                    file = f"{document.file(subject)}.{document.forms[0].ending}"
                if sheets or file:
                    title = document.heading(subject)
                    about, record = subject.about, subject.record
                    found.append(
                        Bound(chapter=chapter, about=about, title=title, sheets=sheets, file=file, record=record)
                    )
        return tuple(found)


def files_of(
    document: Document,
    subject: Subject,
    drawn: Any,
    taken: Collection[str] = (),
    forms: Collection[Form] | None = None,
    job: str = "",
) -> Iterator[tuple[str, Content]]:
    """Yield the files of a drawn document, each with its name in the pack: in the `forms`, or in all of its own.

    A further sheet's file never has a name that is `taken` by a document's first one. The title of what is about no
    single piece or wall names the `job`.
    """
    title = ": ".join(part for part in (subject.about or job, document.heading(subject)) if part)
    for form in document.forms if forms is None else forms:
        for behind, content in BACK_ENDS[form](title, drawn):
            file = document.file(subject)
            while behind and f"{file}{behind}" in taken:
                file += "-sheet"
            yield f"{file}{behind}.{form.ending}", content


def picture_sizes(folio: Folio, parts: Collection[str] | None = None) -> dict[str, dict[str, tuple[float, float]]]:
    """Return how large documents show photos at most, in mm of paper, by the piece's file and the window's name."""
    largest: dict[str, dict[str, tuple[float, float]]] = {piece.ask.file: {} for piece in folio.pieces}
    for document in SHELF:
        if not document.pictured or (parts is not None and document.part not in parts):
            continue
        for subject in document.over(folio):
            for (file, name), (width, height) in document.picture_sizes(folio, subject).items():
                wide, high = largest[file].get(name, (0.0, 0.0))
                largest[file][name] = max(wide, width), max(high, height)
    return largest
