"""Where numbers and keys stand on a drawing of level and upright lines, so that none meets another or a line.

A number stands on its line where it finds room. Else it stands beside it on a thin leader; else outside the sheet,
above or at the left, again on a leader. A leader ends in a dot.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from matplan.documents.parts.spreading import spread
from matplan.drawing.dimensions import Side
from matplan.drawing.items import Area, Ellipse, Item, Point, Polyline
from matplan.drawing.pens import SECONDARY, Pen

type Stroke = tuple[Point, Point]
"""A level or upright line, its ends."""
type _Bounds = tuple[float, float, float, float]
"""Left, top, right, bottom."""

MOST_ROWS: Final = 2
UTMOST_ROWS: Final = 8
"""Rows of labels outside a drawing that no paper holds with fewer."""
_ROW: Final = (5.6, 8.6)
"""From row to row outside: above the sheet, and at its left."""
_STUB: Final = 1.0
_SLANT: Final = 2.6
_STEP: Final = 0.7
_FAR: Final = 22.0
"""A leader inside the sheet is no longer than this."""
_PARTS: Final = (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9, 0.04, 0.96)
"""Where along a line a leader may end."""
_CROSSING: Final = 8.0
"""A leader may be so much longer to cross one line less."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A label and what it belongs to: a line, on which it may stand, or a `thing` that is too small to hold it."""

    width: float
    height: float
    line: Stroke
    thing: Area | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Where a label stands: its area and, where it has one, its leader from the label to the dot.

    `met` tells that a leader runs below the label.
    """

    area: Area
    leader: tuple[Point, ...] = ()
    met: bool = False

    def drawn(self, dot: float) -> Iterator[Item]:
        """Yield the leader and its dot, of that radius."""
        if self.leader:
            yield Polyline(points=self.leader, pen=Pen.DIMENSION)
            yield Ellipse(centre=self.leader[-1], rx=dot, ry=dot, fill=SECONDARY)

    def moved(self, dx: float, dy: float) -> Spot:
        """Return the spot, shifted."""
        area = self.area.inset(dx, dy, -dx, -dy)
        return replace(self, area=area, leader=tuple((x + dx, y + dy) for x, y in self.leader))


def depth(rows: int) -> tuple[float, float]:
    """Return what so many rows of labels take above the sheet, and at its left."""
    above, left = (_STUB + _SLANT + rows * row if rows else 0.0 for row in _ROW)
    return above, left


class NoRoom(Exception):
    """The labels find no room round the sheet."""


@dataclass(slots=True)
class Board:
    """A sheet on paper with its lines and what stands on it already."""

    whole: Area
    gap: float = 0.5
    """Between a label and whatever is beside it."""
    _lines: list[_Bounds] = field(default_factory=list)
    _taken: list[_Bounds] = field(default_factory=list)
    _leaders: list[_Bounds] = field(default_factory=list)
    """The straight part of each leader from outside."""

    def draw(self, lines: Iterable[Stroke]) -> None:
        """Take note of lines."""
        self._lines.extend(map(_spans, lines))

    def take(self, area: Area) -> None:
        """Take note of a label."""
        self._taken.append(_bounds(area))

    def is_free(self, area: Area, own: Stroke | None = None) -> bool:
        """Return whether no other label and no line but its own meets the area."""
        gap = self.gap
        left, top, right, bottom = area.x - gap, area.y - gap, area.right + gap, area.bottom + gap
        for a, b, c, d in self._taken:
            if left < c and a < right and top < d and b < bottom:
                return False
        skip = None if own is None else _spans(own)
        for line in self._lines:
            a, b, c, d = line
            if left < c and a < right and top < d and b < bottom and line != skip:
                return False
        return True

    def on_line(self, wanted: Wanted) -> Spot | None:
        """Return a place on the line itself, nearest its middle, or `None` where there is none."""
        length = length_of(wanted.line)
        count = int(length / 2 / _STEP)
        for number in range(count + 1):
            for sign in (1, -1) if number else (1,):
                at = _along(wanted.line, 0.5 + sign * number * _STEP / length if length else 0.5)
                area = _centred(at, wanted)
                if self.holds(area) and self.is_free(area, wanted.line):
                    self.take(area)
                    return Spot(area=area)
        return None

    def beside(self, wanted: Wanted) -> Spot | None:
        """Return a place near the line with a leader, the shortest that crosses least, or `None` where
        there is none.
        """
        best: tuple[float, Area, Point] | None = None
        level = wanted.line[0][1] == wanted.line[1][1]
        half = (wanted.height if level else wanted.width) / 2
        for part in (0.5, 0.3, 0.7, 0.15, 0.85):
            foot = _along(wanted.line, part)
            for number in range(int((_FAR - half) / _STEP)):
                away = half + 1.5 + number * _STEP
                if best is not None and away >= best[0]:
                    break
                for sign in (1, -1):
                    at = (foot[0], foot[1] + sign * away) if level else (foot[0] + sign * away, foot[1])
                    area = _centred(at, wanted)
                    if not self.holds(area) or not self.is_free(area):
                        continue
                    leader = _spans((area.nearest(foot), foot))
                    if any(_meet(other, leader) for other in self._taken):
                        continue
                    cost = away + _CROSSING * (self._touching(leader) - 1)
                    if best is None or cost < best[0]:
                        best = (cost, area, foot)
        if best is None:
            return None
        _, area, foot = best
        self.take(area)
        self.draw([(area.nearest(foot), foot)])
        return Spot(area=area, leader=(area.nearest(foot), foot))

    def near(self, wanted: Wanted) -> Spot | None:
        """Return a place off a thing with a straight leader to its edge, the nearest, or `None` where there is none."""
        thing = wanted.thing or _centred(wanted.line[0], wanted)
        for number in range(int(_FAR / _STEP)):
            away = 1.0 + number * _STEP
            for part in _PARTS:
                x, y = thing.x + thing.width * part, thing.y + thing.height * part
                up, side = away + wanted.height / 2, away + wanted.width / 2
                for foot, at in (
                    ((x, thing.y), (x, thing.y - up)),
                    ((x, thing.bottom), (x, thing.bottom + up)),
                    ((thing.x, y), (thing.x - side, y)),
                    ((thing.right, y), (thing.right + side, y)),
                ):
                    area = _centred(at, wanted)
                    leader = (area.nearest(foot), foot)
                    bounds = _spans(leader)
                    if not self.holds(area) or not self.is_free(area):
                        continue
                    if any(_meet(other, bounds) for other in self._taken):
                        continue
                    self.take(area)
                    self.draw([leader])
                    return Spot(area=area, leader=leader)
        return None

    def outside(self, wanted: Sequence[Wanted], rows: int) -> tuple[Spot, ...]:
        """Return places in rows above the sheet and at its left. Raises `NoRoom` where there are too many."""
        feet = [self._foot(one) for one in wanted]
        found: dict[int, Spot] = {}
        for side in (Side.ABOVE, Side.LEFT):
            axis = 0 if side is Side.ABOVE else 1
            own = sorted((n for n, (s, _) in enumerate(feet) if s is side), key=lambda n: (feet[n][1][axis], n))
            low, high = ((self.whole.x, self.whole.right), (self.whole.y, self.whole.bottom))[axis]
            wide = [(wanted[n].width if axis == 0 else wanted[n].height) + 1.2 for n in own]
            sizes = wide if rows == 1 else [max(wide, default=0.0) / rows] * len(wide)
            places = spread([feet[n][1][axis] for n in own], sizes, low - (depth(rows)[1] if axis == 0 else 0), high)
            if places is None:
                raise NoRoom
            for order, (number, place) in enumerate(zip(own, places, strict=True)):
                found[number] = self._out(wanted[number], feet[number][1], place, axis, order % rows)
        return tuple(found[n] for n in range(len(wanted)))

    def under_leaders(self, spot: Spot) -> Spot:
        """Return the spot, marked where a leader of another label runs below it."""
        bounds = _bounds(spot.area)
        own = _spans((spot.leader[-2], spot.leader[-1])) if spot.leader else None
        return replace(spot, met=any(_meet(bounds, leader) for leader in self._leaders if leader != own))

    def _foot(self, wanted: Wanted) -> tuple[Side, Point]:
        """Return the side from which a straight leader meets the least, and where on the line it ends."""
        level = wanted.line[0][1] == wanted.line[1][1]
        thing = wanted.thing
        if thing is None:
            feet = [_along(wanted.line, part) for part in _PARTS]
            sides: tuple[Side, ...] = (Side.ABOVE,) if level else (Side.LEFT,)
        else:
            feet = [(thing.x + thing.width * a, thing.y + thing.height * b) for a in _PARTS for b in _PARTS]
            sides = (Side.ABOVE, Side.LEFT)

        def cost(choice: tuple[Side, Point]) -> tuple[int, float]:
            side, foot = choice
            leader = ((foot[0], self.whole.y) if side is Side.ABOVE else (self.whole.x, foot[1]), foot)
            line, dot = _spans(leader), (foot[0] - 1, foot[1] - 1, foot[0] + 1, foot[1] + 1)
            left, top = min(line[0], dot[0]), min(line[1], dot[1])
            right, bottom = max(line[2], dot[2]), max(line[3], dot[3])
            near = [o for o in self._taken if o[0] < right and left < o[2] and o[1] < bottom and top < o[3]]
            return sum(_meet(other, line) or _meet(other, dot) for other in near), length_of(leader)

        return min(((side, foot) for side in sides for foot in feet), key=cost)

    def _out(self, wanted: Wanted, foot: Point, place: float, axis: int, row: int) -> Spot:
        def point(along: float, away: float) -> Point:
            return (along, self.whole.y - away) if axis == 0 else (self.whole.x - away, along)

        half = (wanted.height if axis == 0 else wanted.width) / 2
        start = _STUB + _SLANT + row * _ROW[axis]
        area = _centred(point(place, start + half), wanted)
        leader = (point(place, start), point(place, _STUB + _SLANT), point(foot[axis], _STUB), foot)[0 if row else 1 :]
        straight = (leader[-2], leader[-1])
        self.draw([straight])
        self._leaders.append(_spans(straight))
        return Spot(area=area, leader=leader)

    def _touching(self, leader: _Bounds) -> int:
        """Return how many lines a level or upright one meets, at their ends too."""
        left, top, right, bottom = leader
        return sum(o[0] <= right and left <= o[2] and o[1] <= bottom and top <= o[3] for o in self._lines)

    def holds(self, area: Area) -> bool:
        """Return whether an area lies on the sheet."""
        return self.whole.holds(area)


def _centred(at: Point, wanted: Wanted) -> Area:
    return Area.about(at, wanted.width, wanted.height)


def _along(line: Stroke, part: float) -> Point:
    (x1, y1), (x2, y2) = line
    return (x1 + (x2 - x1) * part, y1 + (y2 - y1) * part)


def length_of(line: Stroke) -> float:
    """Return how long a level or upright line is, or the way round of any other."""
    (x1, y1), (x2, y2) = line
    return abs(x2 - x1) + abs(y2 - y1)


def _bounds(area: Area) -> _Bounds:
    return area.x, area.y, area.right, area.bottom


def _spans(line: Stroke) -> _Bounds:
    (x1, y1), (x2, y2) = line
    return (x1 if x1 < x2 else x2, y1 if y1 < y2 else y2, x2 if x1 < x2 else x1, y2 if y1 < y2 else y1)


def _meet(one: _Bounds, other: _Bounds) -> bool:
    """Return whether two areas meet, or a level or upright line runs through an area."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def broken(line: Stroke, area: Area) -> Iterator[Stroke]:
    """Yield what is left of a line before and behind the label that stands on it."""
    start, end = line
    axis = 1 if start[0] == end[0] else 0
    low, high = ((area.x, area.right), (area.y, area.bottom))[axis]
    for part, stop in (
        (start, low if start[axis] < end[axis] else high),
        (end, high if start[axis] < end[axis] else low),
    ):
        point = (start[0], stop) if axis else (stop, start[1])
        if part != point:
            yield (part, point)
