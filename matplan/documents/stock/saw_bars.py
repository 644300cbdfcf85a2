"""A stick as a bar with its rails in order and their numbers, on the rails or above them.

A bar's length is to scale and so are its mitres along it; its height is not, so that a number has room on each rail.
Boxes are in the stick's own frame of reference: x from its end along its outer edge, y from its inner edge.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from matplan.documents.parts.spreading import spread
from matplan.drawing import lettering
from matplan.drawing.items import Anchor, Area, Ellipse, Group, Item, Level, ModelBox, Polyline, Size, Text
from matplan.drawing.pens import PAPER, SECONDARY, TINT, Pen
from matplan.drawing.views import NoScaleFits, View
from matplan.lengths import ZERO, plain_decimal
from matplan.orders.cutting import Rack
from matplan.orders.sawing import SawnStick

BAR: Final = 8.0
"""A bar's height in mm of paper."""
_SIZES: Final = (Size.NORMAL, Size.SMALL, Size.LEAST)
_MOST_ROWS: Final = 2
"""Rows of numbers above a bar."""
_ROW: Final = 5.6
_STUB: Final = 1.0
_SLANT: Final = 2.6
_FREE: Final = 1.2
"""Between two numbers beside one another."""
_FAR: Final = 12.0
"""A number above a bar stands no further from its rail along the stick."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbers:
    """How the rails' numbers are set: their size, and the middles of those above each bar, `None` for those on it."""

    size: float
    rows: int
    above: tuple[tuple[float | None, ...], ...]

    def room(self, order: int) -> float:
        """Return the height that the numbers above a bar take."""
        return 0.0 if all(place is None for place in self.above[order]) else _STUB + _SLANT + self.rows * _ROW


def numbers_of(rack: Rack, sticks: Sequence[SawnStick], scale: Fraction, width: float) -> Numbers:
    """Return the numbers' places: on their rails, else above the bar. Raises `NoScaleFits` where they find no room."""
    for size in _SIZES:
        for rows in range(1, _MOST_ROWS + 1):
            first, above = 1, list[tuple[float | None, ...]]()
            for one in sticks:
                found = _above(rack, one, first, scale, width, size, rows)
                if found is None:
                    break
                above.append(found)
                first += len(one.rails)
            else:
                return Numbers(size=size, rows=rows, above=tuple(above))
    raise NoScaleFits("the numbers find no room above a stick")


def _above(
    rack: Rack, one: SawnStick, first: int, scale: Fraction, width: float, size: float, rows: int
) -> tuple[float | None, ...] | None:
    """Return the middle of each number above the bar, from the bar's end; `None` where there is no room for all."""
    mitre = float((rack.frame.rail or ZERO) * scale)
    places: list[float | None] = [None] * len(one.rails)
    wanted, widths, numbers = list[float](), list[float](), list[int]()
    for order, (rail, start) in enumerate(zip(one.rails, one.starts(rack.frame.kerf), strict=True)):
        wide = lettering.width(str(first + order), size, True)
        if wide + 1.0 > float(rail.long_edge * scale) - mitre:
            numbers.append(order)
            wanted.append(float((start + rail.long_edge / 2) * scale))
            widths.append(wide + _FREE)
    if rows > 1:
        widths = [max(widths, default=0.0) / rows] * len(widths)
    found = spread(wanted, widths, 0.0, width)
    if found is None or any(abs(place - at) > _FAR for place, at in zip(found, wanted, strict=True)):
        return None
    for order, place in zip(numbers, found, strict=True):
        places[order] = place
    return tuple(places)


def bar(rack: Rack, one: SawnStick, order: int, first: int, numbers: Numbers | None, view: View) -> Iterator[Item]:
    """Yield a stick with its rails, of which the leftmost has the number `first`; it is the list's `order`th from 0."""
    frame_, kind = rack.frame, one.stick.kind
    face = frame_.rail or ZERO
    y = view.at[1]

    def part(start: Fraction, length: Fraction) -> tuple[Area, ModelBox]:
        left, right = view.point(start, ZERO)[0], view.point(start + length, ZERO)[0]
        return Area(x=left, y=y, width=right - left, height=BAR), (start, ZERO, length, face)

    whole, box = part(ZERO, kind.length)
    yield whole.rect(pen=Pen.OUTLINE, fill=TINT, classes=("stick",), box=box, data=(("count", str(one.count)),))
    if kind.spare:
        usable, box = part(kind.spare, kind.usable)
        yield usable.rect(pen=Pen.HIDDEN, classes=("spare",), box=box)
    mitre = view.length(face)
    areas = list[Area]()
    for number, (rail, start) in enumerate(zip(one.rails, one.starts(frame_.kerf), strict=True), first):
        area, box = part(start, rail.long_edge)
        areas.append(area)
        yield Polyline(
            points=(
                (area.x, area.bottom),
                (area.x + mitre, area.y),
                (area.right - mitre, area.y),
                (area.right, area.bottom),
            ),
            closed=True,
            pen=Pen.CUT,
            fill=PAPER,
            classes=("rail",),
            box=box,
            data=(
                ("number", str(number)),
                ("piece", rail.piece),
                ("side", rail.side),
                ("rabbet", plain_decimal(rail.rabbet)),
            ),
        )
    offcut = rack.offcut(one.stick)
    if offcut:
        area, box = part(kind.length - kind.spare - offcut, offcut)
        yield area.rect(classes=("offcut",), box=box)
    if numbers is not None:
        yield from _numbered(numbers, order, first, areas, view.at[0])


def _numbered(numbers: Numbers, order: int, first: int, areas: Sequence[Area], x: float) -> Iterator[Item]:
    outside = 0
    for number, (area, place) in enumerate(zip(areas, numbers.above[order], strict=True), first):
        at = area.centre
        if place is not None:
            row = outside % numbers.rows
            outside += 1
            bend, foot = (x + place, area.y - _STUB - _SLANT), (at[0], area.y + BAR / 2)
            low = bend[1] - row * _ROW
            points = ((bend[0], low), bend, (at[0], area.y - _STUB), foot)
            yield Polyline(points=points[0 if row else 1 :], pen=Pen.DIMENSION)
            yield Ellipse(centre=foot, rx=0.5, ry=0.5, fill=SECONDARY)
            at = (bend[0], low - _ROW / 2)
        text = Text(at=at, text=str(number), size=numbers.size, anchor=Anchor.MIDDLE, level=Level.MIDDLE, bold=True)
        yield Group(classes=("rail-number",), items=(text,), data=(("number", str(number)),))
