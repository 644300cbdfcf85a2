"""A caption insert at full size: the words set in it, cut marks at its corners.

Boxes are in the insert's own frame of reference, from its top left corner.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import chain
from typing import Final

from matplan.documents.parts.folio import Folio, WindowOf
from matplan.documents.parts.framed import model_box
from matplan.documents.prints.marks import cut_marks
from matplan.drawing import lettering
from matplan.drawing.blocks import set_lines
from matplan.drawing.items import Anchor, Area, Item, Level, Rect, Size, Text
from matplan.drawing.pens import SECONDARY
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import View
from matplan.habits import habits_of
from matplan.job.records import Job
from matplan.lengths import Box
from matplan.mats.records import SolvedAperture, SolvedPiece

_EDGE: Final = 15.0
"""Left free round the insert on the paper that it is printed on, in mm."""
_OFF: Final = Fraction(2)
_LONG: Final = Fraction(6)
_LARGEST: Final = 12.0
"""The words' capitals are no higher, in mm."""


def has_insert(aperture: SolvedAperture) -> bool:
    """Whether the window shows words on an insert of their own."""
    return aperture.ask.text is not None


def drawn(folio: Folio, window: WindowOf) -> tuple[Sheet, ...]:
    """Return the insert of a caption window; empty for another window."""
    return (caption_insert(folio.job, window.piece, window.aperture),) if has_insert(window.aperture) else ()


def caption_insert(job: Job, piece: SolvedPiece, aperture: SolvedAperture) -> Sheet:
    """Return the insert as large as it is, in the middle of the job's paper, of its own or of one that holds it.

    It is printed at 100 % and cut out.

    Raises `ValueError` where the window shows no words.
    """
    if aperture.ask.text is None:
        raise ValueError(f"the window {aperture.name} shows no words")
    insert = Box.of(aperture.image.size)
    size = _page(job, aperture, insert)
    at = ((size[0] - float(insert.width)) / 2, (size[1] - float(insert.height)) / 2)
    view = View(scale=Fraction(1), at=at, model=model_box(insert))
    area = view.area(model_box(insert))
    seen = (float(aperture.opening.width), float(aperture.opening.height))
    printer = job.printer
    title = f"{piece.name}: {aperture.name}"
    foot = (
        f"{title} — caption insert {printer.size(insert.size)}, {piece.ask.quantity} to cut. Print at 100 %, cut at "
        "the marks."
    )
    items: tuple[Item, ...] = (
        Rect(
            x=area.x,
            y=area.y,
            width=area.width,
            height=area.height,
            pen=None,
            id="image",
            classes=("image", "paper"),
            box=model_box(insert),
            data=(("aperture", aperture.name),),
        ),
        *cut_marks(view, insert, _OFF, _LONG),
        *_words(aperture.ask.text, area, seen),
        *_foot(foot, size),
    )
    return Sheet(
        name=f"caption {piece.ask.file} {aperture.name}", title=title, size=size, items=items, scale=Fraction(1)
    )


def _foot(text: str, page: tuple[float, float]) -> Iterator[Text]:
    """Yield what the sheet is and how it is cut, in the middle of its lower margin."""
    found = lettering.held(text, page[0] - 2 * _EDGE, _EDGE - 6.0, Size.SMALL)
    top = page[1] - _EDGE / 2 - found.height / 2
    yield from set_lines(found, page[0] / 2, top, colour=SECONDARY, anchor=Anchor.MIDDLE)


def _page(job: Job, aperture: SolvedAperture, insert: Box) -> tuple[float, float]:
    """The job's paper, on its side where the insert asks for it, else the sheet that the plan prints it on, else the
    next larger papers, else a page of the insert's own.
    """
    usual, *larger = ((size, size[::-1]) for size in habits_of(job.units).papers)
    wide, high = float(insert.width) + 2 * _EDGE, float(insert.height) + 2 * _EDGE
    sheets = [*usual]
    if aperture.print is not None:
        sheets.append((float(aperture.print.size.width), float(aperture.print.size.height)))
    for size in (*sheets, *chain.from_iterable(larger)):
        if wide <= size[0] and high <= size[1]:
            return size
    return wide, high


def _words(text: str, area: Area, seen: tuple[float, float]) -> tuple[Item, ...]:
    """The words as large as the clear opening takes them, in as few lines as that needs, about its middle."""
    wide, high = seen[0] * 0.9, seen[1] * 0.8
    found = lettering.fitted(text, wide, high * 0.75, _LARGEST)
    size, lines = (found.size, found.lines) if found else (Size.LEAST, lettering.wrapped(text, wide, Size.LEAST))
    x, middle = area.centre
    top = middle - (len(lines) - 1) * lettering.LINE_PITCH * size / 2
    return tuple(
        Text(
            at=(x, top + number * lettering.LINE_PITCH * size),
            text=line,
            size=size,
            anchor=Anchor.MIDDLE,
            level=Level.MIDDLE,
            classes=("caption-text",),
        )
        for number, line in enumerate(lines)
    )
