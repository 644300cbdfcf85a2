"""What of a line lies within a window, as paths in the window's own coordinates: mm from its top left corner, arcs
still arcs.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from math import acos, asin, atan2, cos, dist, pi, sin
from typing import Final, assert_never

from matplan.drawing.items import ArcTo, Point, To
from matplan.lengths import Box
from matplan.mats.shapes.segments import FINE, Arc, Parallel, Segment, Straight

_SAME: Final = 1e-7
"""Points no further apart than that, in mm, are one."""

type ModelPoint = tuple[Fraction, Fraction]
type Bounds = tuple[float, float, float, float]
"""Left, top, right and bottom in the plan's coordinates: near enough to tell what cannot meet."""


def bounds_of(box: Box) -> Bounds:
    """Return the bounds of a box."""
    return float(box.x), float(box.y), float(box.right), float(box.bottom)


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """A window on the plan: its box, and that in floats."""

    box: Box
    bounds: Bounds
    width: float
    height: float

    @classmethod
    def on(cls, box: Box) -> Window:
        """Return the window that shows that box of the plan."""
        return cls(box=box, bounds=bounds_of(box), width=float(box.width), height=float(box.height))

    def meets(self, bounds: Bounds) -> bool:
        """Return whether something within those bounds may be seen in it."""
        left, top, right, bottom = self.bounds
        return bounds[0] <= right and left <= bounds[2] and bounds[1] <= bottom and top <= bounds[3]

    def point(self, at: ModelPoint) -> Point:
        """Return a point of the plan from the window's top left corner."""
        return float(at[0] - self.box.x), float(at[1] - self.box.y)

    def holds(self, at: Point) -> bool:
        """Return whether the window shows that point of its own coordinates."""
        return -_SAME <= at[0] <= self.width + _SAME and -_SAME <= at[1] <= self.height + _SAME


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A part of a line without a break; closed where it is the whole of a closed one."""

    start: Point
    steps: tuple[To | ArcTo, ...]

    @property
    def end(self) -> Point:
        return self.steps[-1].end

    @property
    def closed(self) -> bool:
        return len(self.steps) > 1 and dist(self.start, self.end) <= _SAME


def runs(line: Sequence[Segment], window: Window) -> tuple[Run, ...]:
    """Return the parts of that line which the window shows, in its order."""
    found: list[Run] = []
    for start, step in (part for piece in line for part in _inside(piece, window)):
        if found and dist(found[-1].end, start) <= _SAME:
            found[-1] = Run(start=found[-1].start, steps=(*found[-1].steps, step))
        else:
            found.append(Run(start=start, steps=(step,)))
    if len(found) > 1 and dist(found[-1].end, found[0].start) <= _SAME:  # a closed line that begins inside the window
        last = found.pop()
        found[0] = Run(start=last.start, steps=(*last.steps, *found[0].steps))
    return tuple(found)


def _inside(piece: Segment, window: Window) -> Iterator[tuple[Point, To | ArcTo]]:
    match piece:
        case Straight():
            yield from _lines((piece.start, piece.end), window)
        case Arc():
            yield from _arcs(piece, window)
        case Parallel():
            yield from _lines((piece.start, *piece.inner(FINE), piece.end), window)
        case _:
            assert_never(piece)


def _lines(points: Iterable[ModelPoint], window: Window) -> Iterator[tuple[Point, To]]:
    chain = [window.point(point) for point in points]
    for start, end in pairwise(chain):
        part = crossing(start, end, (0.0, 0.0, window.width, window.height))
        if part is not None:
            first, last = part
            yield (
                start if first == 0 else _between(start, end, first),
                To(end=end if last == 1 else _between(start, end, last)),
            )


def crossing(start: Point, end: Point, box: tuple[float, float, float, float]) -> tuple[float, float] | None:
    """Return from which to which part (0 to 1) a line lies in a box (left, top, right, bottom); None where it passes it
    or only touches it.
    """
    first, last = 0.0, 1.0
    for axis in (0, 1):
        way = end[axis] - start[axis]
        low, high = box[axis] - start[axis], box[axis + 2] - start[axis]
        if way == 0:
            if low > _SAME or high < -_SAME:
                return None
            continue
        near, far = sorted((low / way, high / way))
        first, last = max(first, near), min(last, far)
    return (first, last) if last - first > 1e-12 else None


def _between(start: Point, end: Point, part: float) -> Point:
    return start[0] + (end[0] - start[0]) * part, start[1] + (end[1] - start[1]) * part


def _arcs(arc: Arc, window: Window) -> Iterator[tuple[Point, ArcTo]]:
    """Yield the parts of an arc between its crossings of the window's four sides."""
    (cx, cy), rx, ry = window.point(arc.centre), float(arc.rx), float(arc.ry)
    ends = window.point(arc.start), window.point(arc.end)
    first, sweep = atan2((ends[0][1] - cy) / ry, (ends[0][0] - cx) / rx), arc.sweep

    def at(turn: float) -> Point:
        if turn in (0.0, sweep):
            return ends[turn == sweep]
        return cx + rx * cos(first + turn), cy + ry * sin(first + turn)

    turns = [0.0, *sorted(_crossings(first, sweep, (cx, cy, rx, ry), window)), sweep]
    begun: float | None = None
    for start, end in pairwise(turns):
        inside = end > start and window.holds(at((start + end) / 2))
        if inside and begun is None:
            begun = start
        if begun is not None and (not inside or end == sweep):
            stop = end if inside else start
            yield at(begun), ArcTo(end=at(stop), rx=rx, ry=ry, large=stop - begun > pi, clockwise=True)
            begun = None


def _crossings(
    first: float, sweep: float, ellipse: tuple[float, float, float, float], window: Window
) -> Iterator[float]:
    """Yield the turns between 0 and the sweep at which an ellipse crosses the lines of the window's sides."""
    cx, cy, rx, ry = ellipse
    across = [(side - cx) / rx for side in (0.0, window.width)]
    down = [(side - cy) / ry for side in (0.0, window.height)]
    angles = [sign * acos(part) for part in across if abs(part) < 1 for sign in (1, -1)]
    angles += [angle for part in down if abs(part) < 1 for angle in (asin(part), pi - asin(part))]
    for angle in angles:
        turn = (angle - first) % (2 * pi)
        if 0 < turn < sweep:
            yield turn


def surrounds(corners: Sequence[ModelPoint], at: ModelPoint) -> bool:
    """Return whether a polygon has that point inside (even-odd)."""
    x, y = at
    inside = False
    for (x1, y1), (x2, y2) in zip(corners, (*corners[1:], corners[0]), strict=True):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1):
            inside = not inside
    return inside
