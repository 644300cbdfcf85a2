"""A print on its sheet: the line round it where that is no rectangle, and crop marks that carry its edges on where the
mat covers them.

In the sheet's own frame of reference: mm from its top left corner as it is fed, y down.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from matplan.documents.parts.outline_path import outline_on_paper
from matplan.drawing.items import Line, Outline, Point
from matplan.drawing.pens import Pen
from matplan.drawing.views import View
from matplan.job.records import Show
from matplan.lengths import Box
from matplan.mats.records import Print, SolvedAperture, SolvedPiece

OFF: Final = Fraction(2)
"""From the image, or the opening where that is larger, to a mark."""
LONG: Final = Fraction(5)
LEAST: Final = Fraction(3, 2)
"""A shorter mark is none."""

type Mark = tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]


def shape_on_sheet(
    piece: SolvedPiece, aperture: SolvedAperture, made: Print, scale: Fraction, corner: Point
) -> Outline | None:
    """The line round what is printed, at that scale, the sheet's corner at that point of paper; None where it is the
    image's rectangle.
    """
    if not piece.layers or aperture.show is Show.IMAGE or aperture.work.upright:
        return None
    x, y = aperture.image.x - made.margins.left, aperture.image.y - made.margins.top
    return outline_on_paper(
        aperture.work, View(scale=scale, at=corner, model=(x, y, made.size.width, made.size.height))
    )


def crop_marks(piece: SolvedPiece, aperture: SolvedAperture, made: Print) -> tuple[Mark, ...]:
    """Return two marks at each corner of the image within the printer's reach; none where the sheet's white is seen."""
    if aperture.show is Show.SHEET or not piece.layers:
        return ()
    image = made.image_box(aperture.image.size)
    hidden = aperture.seen.box.moved(image.x - aperture.image.x, image.y - aperture.image.y)
    left, top = min(image.x, hidden.x), min(image.y, hidden.y)
    right, bottom = max(image.right, hidden.right), max(image.bottom, hidden.bottom)
    bare = made.unreachable
    reach = Box(bare.left, bare.top, made.size.width - bare.across, made.size.height - bare.down)
    across = list(_outwards(left, right, reach.x, reach.right))
    down = list(_outwards(top, bottom, reach.y, reach.bottom))
    return (
        *(((x, start), (x, end)) for x in (image.x, image.right) if reach.x <= x <= reach.right for start, end in down),
        *(
            ((start, y), (end, y))
            for y in (image.y, image.bottom)
            if reach.y <= y <= reach.bottom
            for start, end in across
        ),
    )


def _outwards(low: Fraction, high: Fraction, first: Fraction, last: Fraction) -> Iterator[tuple[Fraction, Fraction]]:
    """From where to where a mark runs before `low` and behind `high`, within `first` and `last`."""
    for start, end in ((low - OFF, max(first, low - OFF - LONG)), (high + OFF, min(last, high + OFF + LONG))):
        if (start - end if start < low else end - start) >= LEAST:
            yield start, end


def corner_marks(box: Box, off: Fraction, long: Fraction) -> tuple[Mark, ...]:
    """Two marks of that length at each corner of a box, that far from it: for prints that lie close together."""
    across = ((box.x - off, box.x - off - long), (box.right + off, box.right + off + long))
    down = ((box.y - off, box.y - off - long), (box.bottom + off, box.bottom + off + long))
    return (
        *(((x, start), (x, end)) for x in (box.x, box.right) for start, end in down),
        *(((start, y), (end, y)) for y in (box.y, box.bottom) for start, end in across),
    )


def cut_marks(view: View, box: Box, off: Fraction = Fraction(1), long: Fraction = Fraction(3)) -> Iterator[Line]:
    """Yield the lines along which what a view shows is cut out: two at each corner of its box."""
    for start, end in corner_marks(box, off, long):
        yield Line(start=view.point(*start), end=view.point(*end), pen=Pen.EDGE, classes=("cut-mark",))
