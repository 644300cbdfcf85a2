"""A caption window's slip at full size: the words set in it, cut marks at its corners.

Boxes are in the slip's own frame of reference, from its top left corner.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from matplan.documents.parts.folio import Folio, WindowOf
from matplan.documents.parts.framed import model_box
from matplan.documents.parts.page import paper
from matplan.documents.prints.marks import corner_marks
from matplan.drawing import lettering
from matplan.drawing.items import Anchor, Area, Item, Level, Line, Rect, Size, Text
from matplan.drawing.pens import SECONDARY, Pen
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import View
from matplan.job.records import Job
from matplan.lengths import Box
from matplan.mats.records import SolvedAperture, SolvedPiece

_EDGE: Final = 15.0
"""Left free round the slip on the paper that it is printed on, in mm."""
_OFF: Final = Fraction(2)
_LONG: Final = Fraction(6)
_LARGEST: Final = 12.0
"""The words' capitals are no higher, in mm."""


def is_slip(aperture: SolvedAperture) -> bool:
    """Whether the window shows words on a slip of their own."""
    return aperture.ask.text is not None


def drawn(folio: Folio, window: WindowOf) -> tuple[Sheet, ...]:
    """Return the insert of a caption window; empty for another window."""
    return (caption_slip(folio.job, window.piece, window.aperture),) if is_slip(window.aperture) else ()


def caption_slip(job: Job, piece: SolvedPiece, aperture: SolvedAperture) -> Sheet:
    """The slip as large as it is, in the middle of the job's paper, of its own or of one that holds it; to be printed
    at 100 % and cut out.

    Raises `ValueError` where the window shows no words.
    """
    if aperture.ask.text is None:
        raise ValueError(f"the window {aperture.name} shows no words")
    slip = Box.of(aperture.image.size)
    size = _page(job, aperture, slip)
    at = ((size[0] - float(slip.width)) / 2, (size[1] - float(slip.height)) / 2)
    view = View(scale=Fraction(1), at=at, model=model_box(slip))
    area = view.area(model_box(slip))
    seen = (float(aperture.opening.width), float(aperture.opening.height))
    printer = job.printer
    title = f"{piece.name}: {aperture.name}"
    foot = f"{title} — slip {printer.size(slip.size)}, {piece.ask.quantity} to cut. Print at 100 %, cut at the marks."
    items: tuple[Item, ...] = (
        Rect(
            x=area.x,
            y=area.y,
            width=area.width,
            height=area.height,
            pen=None,
            id="image",
            classes=("image", "paper"),
            box=model_box(slip),
            data=(("aperture", aperture.name),),
        ),
        *(
            Line(start=view.point(*start), end=view.point(*end), pen=Pen.EDGE, classes=("cut-mark",))
            for start, end in corner_marks(slip, _OFF, _LONG)
        ),
        *_words(aperture.ask.text, area, seen),
        Text(
            at=(size[0] / 2, size[1] - _EDGE / 2),
            text=foot,
            size=Size.SMALL,
            anchor=Anchor.MIDDLE,
            level=Level.MIDDLE,
            colour=SECONDARY,
            max_width=size[0] - 2 * _EDGE,
        ),
    )
    return Sheet(name=f"slip {piece.ask.file} {aperture.name}", title=title, size=size, items=items, scale=Fraction(1))


def _page(job: Job, aperture: SolvedAperture, slip: Box) -> tuple[float, float]:
    """The job's paper, on its side where the slip asks for it, else the sheet that the plan prints it on, else a page
    of the slip's own.
    """
    page = paper(job.units)
    wide, high = float(slip.width) + 2 * _EDGE, float(slip.height) + 2 * _EDGE
    sheets = [page.portrait, page.landscape]
    if aperture.print is not None:
        sheets.append((float(aperture.print.size.width), float(aperture.print.size.height)))
    for size in sheets:
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
