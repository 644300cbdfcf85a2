"""A wall's top edge where it is not level: how high it is over a stretch of the wall, and where a
height fits below it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from matplan.lengths import ZERO

type Points = Sequence[tuple[Fraction, Fraction]]
"""(from the left, above the floor), left to right; an upright part of the edge has two points at one place."""


def lowest(points: Points, left: Fraction, right: Fraction) -> Fraction:
    """The edge's least height from `left` to `right`, ends included, within the wall.

    >>> lowest([(Fraction(0), Fraction(10)), (Fraction(10), Fraction(0))], Fraction(2), Fraction(4))
    Fraction(6, 1)
    """
    return min(_heights(points, left, right))


def _heights(points: Points, left: Fraction, right: Fraction) -> Iterator[Fraction]:
    """Yield the edge's corners between the two, and its height at both."""
    yield from (height for x, height in points if left < x < right)
    for (x1, y1), (x2, y2) in pairwise(points):
        if x1 == x2:
            continue
        for x in dict.fromkeys((left, right)):
            beyond = left < right and (x2 == left or x1 == right)  # a part of the edge that only touches the stretch
            if x1 <= x <= x2 and not beyond:
                yield y1 + (y2 - y1) * (x - x1) / (x2 - x1)


def floor_below(points: Points, x: Fraction) -> Fraction:
    """Return how high the floor is there; 0 on a wall without a stair, and as at its end beyond it.

    >>> floor_below([(Fraction(0), Fraction(0)), (Fraction(10), Fraction(5))], Fraction(4))
    Fraction(2, 1)
    """
    if not points:
        return ZERO
    x = min(max(x, points[0][0]), points[-1][0])
    return max(_heights(points, x, x), default=points[-1][1])


def highest(points: Points, left: Fraction, right: Fraction) -> Fraction:
    """Return the line's greatest height from `left` to `right`, ends included, within the wall."""
    return max(floor_below(points, left), floor_below(points, right), *(h for x, h in points if left <= x <= right))


def stretches(points: Points, height: Fraction) -> tuple[tuple[Fraction, Fraction], ...]:
    """Return where along the wall the edge is at least that high, left to right."""
    found: list[list[Fraction]] = []
    for (x1, y1), (x2, y2) in pairwise(points):
        if x1 == x2:  # an upright part of the edge: the lower of its ends counts on its own side only
            continue
        low, high = x1, x2
        if max(y1, y2) < height:
            continue
        if min(y1, y2) < height:
            crossing = x1 + (x2 - x1) * (height - y1) / (y2 - y1)
            low, high = (crossing, x2) if y2 > y1 else (x1, crossing)
        if found and found[-1][1] == low:
            found[-1][1] = high
        else:
            found.append([low, high])
    return tuple((low, high) for low, high in found)


def sideways(points: Points, left: Fraction, width: Fraction, height: Fraction) -> Fraction | None:
    """Return the least shift to the right that brings a frame of the width and top below the edge; negative to the
    left, or `None` where none does.
    """
    shifts = [
        (low - left if left < low else high - width - left)
        for low, high in stretches(points, height)
        if high - low >= width and not low <= left <= high - width
    ]
    return min(shifts, key=lambda shift: (abs(shift), shift)) if shifts else None
