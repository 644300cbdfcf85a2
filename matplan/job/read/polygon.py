"""Whether points make a polygon that an opening can be cut along."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

type Point = tuple[Fraction, Fraction]

MOST_POINTS = 200
_IN_ORDER = "write the corners in order round the opening"


def fault_of_polygon(points: Sequence[Point]) -> str | None:
    """Return what is wrong with the closed line through the points; `None` if it neither crosses nor touches itself."""
    if len(points) < 3:
        return f"got {len(points)} points; a polygon has at least three, like [[0.5, 0], [1, 1], [0, 1]]"
    if len(points) > MOST_POINTS:
        return f"got {len(points)} points; write at most {MOST_POINTS}"
    if len(set(points)) < len(points):
        return "the same point stands there twice; a polygon's line never comes back to a point"
    count = len(points)
    sides = [(points[number], points[(number + 1) % count]) for number in range(count)]
    for first in range(count):
        if _cross(*sides[first], sides[(first + 1) % count][1]) == 0 and _folds(
            *sides[first], sides[(first + 1) % count][1]
        ):
            return f"the line folds back on itself at point {(first + 1) % count + 1}; {_IN_ORDER}"
        for second in range(first + 2, count):
            if first == 0 and second == count - 1:
                continue  # neighbours, round the end
            if _meet(sides[first], sides[second]):
                return f"the side from point {first + 1} crosses the one from point {second + 1}; {_IN_ORDER}"
    return None


def _cross(origin: Point, one: Point, other: Point) -> Fraction:
    """Return a number above 0 if `other` is on one hand of the line from `origin` through `one`, else below 0."""
    return (one[0] - origin[0]) * (other[1] - origin[1]) - (one[1] - origin[1]) * (other[0] - origin[0])


def _folds(before: Point, corner: Point, behind: Point) -> bool:
    """Return whether the line turns right back at the corner; the three points lie on one line."""
    return (before[0] - corner[0]) * (behind[0] - corner[0]) + (before[1] - corner[1]) * (behind[1] - corner[1]) > 0


def _meet(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """Return whether two sides have a point in common."""
    a, b, c, d = _cross(*one, other[0]), _cross(*one, other[1]), _cross(*other, one[0]), _cross(*other, one[1])
    if ((a > 0 > b) or (b > 0 > a)) and ((c > 0 > d) or (d > 0 > c)):
        return True
    return any(
        turn == 0 and _between(side, point)
        for turn, side, point in ((a, one, other[0]), (b, one, other[1]), (c, other, one[0]), (d, other, one[1]))
    )


def _between(side: tuple[Point, Point], point: Point) -> bool:
    """Return whether a point on the side's line lies within the side."""
    (x1, y1), (x2, y2) = side
    return min(x1, x2) <= point[0] <= max(x1, x2) and min(y1, y2) <= point[1] <= max(y1, y2)
