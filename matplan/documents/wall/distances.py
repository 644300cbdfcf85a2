"""The distances between neighbouring frames, and from frames down to furniture: small dimensions where they find room.

A level distance has its figure above its line, an upright one at its right; where a gap is narrow the figure is turned
and stands beyond the line's middle.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from typing import Final

from matplan.documents.parts.free_places import Taken
from matplan.documents.wall.hung_frames import spot_box
from matplan.drawing import lettering
from matplan.drawing.dimensions import Dimension, Ends, Placed, Side, Style, draw
from matplan.drawing.items import Anchor, Area, Group, Level, Size, Text
from matplan.drawing.pens import SECONDARY
from matplan.drawing.views import View
from matplan.lengths import Printer
from matplan.walls.cables import zones
from matplan.walls.records import SolvedWall, Spot, place_of

_SIZE: Final = Size.LEAST
_HIGH: Final = _SIZE * 1.3
"""What a figure takes across its line."""
_LIFT: Final = 0.55
_FREE: Final = 0.3
"""Left free round a figure in its gap."""
_LOOK: Final = Style(size=_SIZE, stroke=1.1)
_PARTS: Final = tuple(Fraction(n, 12) for n in (6, 4, 8, 3, 9, 2, 10, 1, 11))
"""Where along the facing edges the line may stand, the middle first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Gap:
    """Free wall between two things: its box, and whether it is measured across."""

    spot: Spot
    across: bool

    @property
    def length(self) -> Fraction:
        return self.spot.width if self.across else self.spot.height

    def at(self, part: Fraction) -> tuple[tuple[Fraction, Fraction], tuple[Fraction, Fraction]]:
        """Return the ends of the line at a part of the facing edges."""
        spot = self.spot
        if self.across:
            y = spot.bottom + spot.height * part
            return (spot.left, y), (spot.right, y)
        x = spot.left + spot.width * part
        return (x, spot.bottom), (x, spot.top)


def drawn(wall: SolvedWall, view: View, printer: Printer, taken: Taken) -> Iterator[Group]:
    """Yield a dimension in each gap that has room for it; what they take is added to `taken`."""
    ask = wall.ask
    hatched = Taken(areas=[view.area(spot_box(strip)) for kept in ask.keep_clear for strip in zones(ask, kept)])
    for gap in (*_between(wall), *_above_furniture(wall)):
        placed = _placed(gap, view, printer, taken, hatched)
        if placed is not None:
            yield from draw([placed], _LOOK)


def _between(wall: SolvedWall) -> Iterator[_Gap]:
    """Yield the gaps between frames that face each other with nothing between."""
    spots = [hung.spot for hung in wall.frames]
    for one, other in combinations(spots, 2):
        gap = _facing(one, other)
        if gap is not None and not any(spot.overlaps(gap.spot) for spot in spots):
            yield gap


def _above_furniture(wall: SolvedWall) -> Iterator[_Gap]:
    """Yield for each piece of furniture the gap to the lowest frame above it."""
    for thing in wall.ask.furniture:
        place = place_of(thing)
        gaps = [gap for hung in wall.frames if (gap := _facing(place, hung.spot)) is not None and not gap.across]
        if gaps:
            yield min(gaps, key=lambda gap: (gap.length, -gap.spot.width, gap.spot.left))


def _facing(one: Spot, other: Spot) -> _Gap | None:
    """Return the gap between two things whose edges face each other, or `None` where none do."""
    across, up = one.beside(other)
    if across > 0 > up:
        left = min(one.right, other.right)
        return _Gap(spot=_box(left, left + across, *_shared(one.bottom, one.top, other.bottom, other.top)), across=True)
    if up > 0 > across:
        bottom = min(one.top, other.top)
        low, high = _shared(one.left, one.right, other.left, other.right)
        return _Gap(spot=_box(low, high, bottom, bottom + up), across=False)
    return None


def _shared(a: Fraction, b: Fraction, c: Fraction, d: Fraction) -> tuple[Fraction, Fraction]:
    return max(a, c), min(b, d)


def _box(left: Fraction, right: Fraction, bottom: Fraction, top: Fraction) -> Spot:
    return Spot(left=left, bottom=bottom, width=right - left, height=top - bottom)


def _placed(gap: _Gap, view: View, printer: Printer, taken: Taken, hatched: Taken) -> Placed | None:
    label = printer.number(gap.length)
    wide, room = lettering.width(label, _SIZE), view.length(gap.length) - 2 * _FREE
    whole = view.area(spot_box(gap.spot))
    along = wide <= room
    if not along and room < _HIGH:
        return None
    for part in _PARTS:
        start, end = gap.at(part)
        (x1, y1), (x2, y2) = view.point(*start), view.point(*end)
        middle = ((x1 + x2) / 2, (y1 + y2) / 2)
        deep = _LIFT + _HIGH if along else _LIFT + wide
        half = room / 2 if along else _HIGH / 2
        if gap.across:
            area = Area(x=middle[0] - half, y=y1 - deep, width=2 * half, height=deep + _LOOK.stroke / 2)
        else:
            area = Area(x=x1 - _LOOK.stroke / 2, y=middle[1] - half, width=deep + _LOOK.stroke / 2, height=2 * half)
        if not _within(area, whole) or not hatched.is_free(area) or taken.first_free([area]) is None:
            continue
        dimension = Dimension(
            start=start,
            end=end,
            side=Side.ABOVE if gap.across else Side.RIGHT,
            label=label,
            classes=("distance",),
        )
        ends = ((x1, y1), (x2, y2))
        text = _text(label, gap.across, along, middle)
        return Placed(dimension=dimension, row=0, feet=ends, line=ends, ends=Ends.STROKES, extensions=(), text=text)
    return None


def _within(area: Area, whole: Area) -> bool:
    return (
        whole.x <= area.x + 1e-6
        and whole.y <= area.y + 1e-6
        and area.right <= whole.right + 1e-6
        and area.bottom <= whole.bottom + 1e-6
    )


def _text(label: str, across: bool, along: bool, middle: tuple[float, float]) -> Text:
    x, y = middle
    if across:
        at = (x, y - _LIFT)
        anchor, level = (Anchor.MIDDLE, Level.BASELINE) if along else (Anchor.START, Level.MIDDLE)
    else:
        at = (x + _LIFT, y)
        anchor, level = (Anchor.MIDDLE, Level.TOP) if along else (Anchor.START, Level.MIDDLE)
    return Text(
        at=at,
        text=label,
        size=_SIZE,
        anchor=anchor,
        level=level,
        turn=0.0 if across == along else -90.0,
        colour=SECONDARY,
    )
