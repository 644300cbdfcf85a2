"""The pieces of an outline, each from `start` to `end`, clockwise as seen.

A `Straight` line; an `Arc` of a circle or of an upright ellipse; a `Parallel`, the curve at one distance from an arc,
which is what a bevel makes of an oval and no ellipse any more. Curves are sampled by the direction of their normal, in
which the height of a chord's arc is at most radius of curvature × turning² ÷ 8.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import acos, atan2, ceil, cos, hypot, pi, sin, sqrt
from typing import Final

from matplan.mats.shapes.roots import Point, near, root

FINE: Final = Fraction(1, 100)
"""How far a chord may lie from its arc, in mm, where nothing else is asked for."""
_PARTS: Final = 256
"""Into so many parts a parallel is divided to find its area."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Straight:
    """A line."""

    start: Point
    end: Point

    def inner(self, tolerance: Fraction) -> Iterator[Point]:  # noqa: ARG002  (a line needs no points between its ends)
        """Return the points between its ends: a line has no others."""
        return iter(())

    @property
    def bulge(self) -> float:
        """The area between the line and its chord, in mm²: always zero."""
        return 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """A piece of the upright ellipse with half axes `rx` and `ry` about `centre`; of a circle where they are equal."""

    centre: Point
    rx: Fraction
    ry: Fraction
    start: Point
    end: Point

    def inner(self, tolerance: Fraction) -> Iterator[Point]:
        """Return points between its ends, so close that no chord is further than `tolerance` from the arc."""
        return _curve(self, 0.0, float(tolerance))

    @property
    def sweep(self) -> float:
        """The turn of its parameter from start to end, in radians: above zero, at most 2π."""
        (x, y), rx, ry = self.centre, self.rx, self.ry
        first, last = (atan2((p[1] - y) / ry, (p[0] - x) / rx) for p in (self.start, self.end))
        return _onward(first, last) - first

    @property
    def large(self) -> bool:
        """Whether it is more than half of its ellipse."""
        return self.sweep > pi + 1e-9

    @property
    def bulge(self) -> float:
        """The area between it and its chord, in mm²."""
        return float(self.rx * self.ry) * (self.sweep - sin(self.sweep)) / 2

    @property
    def turn(self) -> tuple[float, float]:
        """The directions of the normals at start and end, in radians; the second is the greater."""
        first, last = (
            atan2(float(down), float(across)) for across, down in (self.normal(self.start), self.normal(self.end))
        )
        return first, _onward(first, last)

    def normal(self, point: Point) -> Point:
        """Return the unit vector that points outwards at a point of the arc."""
        across, down = (point[0] - self.centre[0]) / self.rx**2, (point[1] - self.centre[1]) / self.ry**2
        length = root(across**2 + down**2)
        return across / length, down / length


@dataclass(frozen=True, slots=True, kw_only=True)
class Parallel:
    """All points at the distance `by` from an arc, outwards along its normal; inwards where `by` is negative."""

    arc: Arc
    by: Fraction

    @property
    def start(self) -> Point:
        return self._moved(self.arc.start)

    @property
    def end(self) -> Point:
        return self._moved(self.arc.end)

    def _moved(self, point: Point) -> Point:
        across, down = self.arc.normal(point)
        return near(point[0] + self.by * across), near(point[1] + self.by * down)

    def inner(self, tolerance: Fraction) -> Iterator[Point]:
        """Return points between its ends, so close that no chord is further than `tolerance` from the curve."""
        return _curve(self.arc, float(self.by), float(tolerance))

    @property
    def bulge(self) -> float:
        """The area between it and its chord, in mm²: what its tangents sweep about the centre (Simpson's rule) less the
        chord's part.

        A tangent at the distance h from the centre sweeps half of radius of curvature × h for each radian that its
        normal turns.
        """
        arc, rx, ry, by = self.arc, float(self.arc.rx), float(self.arc.ry), float(self.by)
        first, last = arc.turn

        def swept(angle: float) -> float:
            reach = hypot(rx * cos(angle), ry * sin(angle))
            return ((rx * ry) ** 2 / reach**3 + by) * (reach + by) / 2

        step = (last - first) / _PARTS
        inner = sum((4 if n % 2 else 2) * swept(first + n * step) for n in range(1, _PARTS))
        (x, y), (a, b), (c, d) = arc.centre, self.start, self.end
        return (swept(first) + inner + swept(last)) * step / 3 - float(shear((a - x, b - y), (c - x, d - y))) / 2


type Segment = Straight | Arc | Parallel


def shear(first: Point, second: Point) -> Fraction:
    """Return twice the area that the way between two points sweeps about the origin; positive clockwise as seen."""
    return first[0] * second[1] - first[1] * second[0]


def _onward(first: float, last: float) -> float:
    """Return the angle `last` as the next one after `first`."""
    while last <= first + 1e-12:
        last += 2 * pi
    return last


def _curve(arc: Arc, by: float, tolerance: float) -> Iterator[Point]:
    """Yield points of the parallel of an arc between its ends."""
    (cx, cy), rx, ry = map(float, arc.centre), float(arc.rx), float(arc.ry)
    first, last = arc.turn

    def curvature(angle: float) -> float:
        """Return the radius of curvature where the normal has an angle."""
        return (rx * ry) ** 2 / hypot(rx * cos(angle), ry * sin(angle)) ** 3 + by

    for angle in _angles(first, last, curvature, tolerance) if rx != ry else _even(first, last, rx + by, tolerance):
        across, down = cos(angle), sin(angle)
        reach = hypot(rx * across, ry * down)
        yield near(cx + (rx * rx / reach + by) * across), near(cy + (ry * ry / reach + by) * down)


def _even(first: float, last: float, radius: float, tolerance: float) -> Iterator[float]:
    """Yield angles at equal steps along a circle, without the ends: an even number, so that an arch's crown is one."""
    step = 2 * acos(max(1 - tolerance / radius, 0.0)) if radius > 0 else last - first
    count = 2 * max(1, ceil((last - first) / step / 2 - 1e-9))
    yield from (first + (last - first) * n / count for n in range(1, count))


def _angles(first: float, last: float, curvature: Callable[[float], float], tolerance: float) -> Iterator[float]:
    """Yield angles between the ends, halved until every chord is near enough."""
    middle = (first + last) / 2
    radius = max(abs(curvature(angle)) for angle in (first, middle, last))
    if last - first > pi / 2 + 1e-9 or last - first > sqrt(8 * tolerance / max(radius, 1e-12)):
        yield from _angles(first, middle, curvature, tolerance)
        yield middle
        yield from _angles(middle, last, curvature, tolerance)
