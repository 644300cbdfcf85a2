"""Plane figures in millimetres: sizes, sides and boxes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Self

from matplan.lengths.units import ZERO


@dataclass(frozen=True, slots=True)
class Size:
    """Width and height in millimetres."""

    width: Fraction
    height: Fraction

    @property
    def upright(self) -> Size:
        """The same with its longer side upright."""
        return self if self.width <= self.height else self.turned

    @property
    def turned(self) -> Size:
        """The same by a quarter turn."""
        return Size(self.height, self.width)

    @property
    def orientation(self) -> str:
        """`portrait` or `landscape`, as a print dialog calls it; a square is portrait."""
        return "landscape" if self.width > self.height else "portrait"

    @property
    def area(self) -> Fraction:
        """In square millimetres."""
        return self.width * self.height

    def grown(self, by: Fraction) -> Size:
        """Larger by `by` on every side."""
        return Size(self.width + 2 * by, self.height + 2 * by)

    def each(self, snap: Callable[[Fraction], Fraction]) -> Size:
        """Both sides passed through `snap`."""
        return Size(snap(self.width), snap(self.height))

    def holds(self, other: Size) -> bool:
        """Whether the other lies within, unturned."""
        return self.width >= other.width and self.height >= other.height

    def holds_either_way(self, other: Size) -> bool:
        """Whether the other lies within, turned or unturned."""
        return self.holds(other) or self.holds(other.turned)

    def lacks(self, other: Size) -> Fraction:
        """Return by how much it is too small for the other, unturned; zero where it holds it."""
        return max(other.width - self.width, other.height - self.height, ZERO)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sides:
    """One length for each side, in millimetres."""

    top: Fraction
    right: Fraction
    bottom: Fraction
    left: Fraction

    @classmethod
    def all(cls, length: Fraction) -> Self:
        """The same on every side."""
        return cls(top=length, right=length, bottom=length, left=length)

    def each(self, change: Callable[[Fraction], Fraction]) -> Sides:
        """Every side passed through `change`."""
        return Sides(top=change(self.top), right=change(self.right), bottom=change(self.bottom), left=change(self.left))

    def at_least(self, other: Sides) -> Sides:
        """On every side the greater of both."""
        return Sides(
            top=max(self.top, other.top),
            right=max(self.right, other.right),
            bottom=max(self.bottom, other.bottom),
            left=max(self.left, other.left),
        )

    @property
    def across(self) -> Fraction:
        """Left and right together."""
        return self.left + self.right

    @property
    def down(self) -> Fraction:
        """Top and bottom together."""
        return self.top + self.bottom

    @property
    def least(self) -> Fraction:
        """The smallest of the four."""
        return min(self.top, self.right, self.bottom, self.left)

    @property
    def even(self) -> bool:
        """Whether the four are the same."""
        return self.top == self.right == self.bottom == self.left


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle in millimetres: x to the right and y down from the blank's top left corner, seen from the
    front.
    """

    x: Fraction
    y: Fraction
    width: Fraction
    height: Fraction

    @classmethod
    def of(cls, size: Size, x: Fraction = Fraction(0), y: Fraction = Fraction(0)) -> Self:
        """A box of that size with its top left corner at x, y."""
        return cls(x, y, size.width, size.height)

    @classmethod
    def around(cls, boxes: Iterable[Box]) -> Self:
        """Return the smallest box that holds all of `boxes`."""
        found = list(boxes)
        x, y = min(box.x for box in found), min(box.y for box in found)
        return cls(x, y, max(box.right for box in found) - x, max(box.bottom for box in found) - y)

    @property
    def size(self) -> Size:
        return Size(self.width, self.height)

    @property
    def right(self) -> Fraction:
        return self.x + self.width

    @property
    def bottom(self) -> Fraction:
        return self.y + self.height

    @property
    def centre(self) -> tuple[Fraction, Fraction]:
        return self.x + self.width / 2, self.y + self.height / 2

    def grown(self, by: Fraction) -> Box:
        """Larger by `by` on every side, smaller where it is negative."""
        return Box(self.x - by, self.y - by, self.width + 2 * by, self.height + 2 * by)

    def moved(self, dx: Fraction, dy: Fraction) -> Box:
        """The same, elsewhere."""
        return Box(self.x + dx, self.y + dy, self.width, self.height)

    def centred_in(self, other: Box) -> Box:
        """The same size about the other's centre, exactly."""
        x, y = other.centre
        return Box(x - self.width / 2, y - self.height / 2, self.width, self.height)

    def within(self, other: Box) -> bool:
        """Whether it lies inside the other, edges included."""
        return self.x >= other.x and self.y >= other.y and self.right <= other.right and self.bottom <= other.bottom

    def inset_in(self, other: Box) -> Sides:
        """How far each of its sides lies inside the other's; negative outside."""
        return Sides(
            top=self.y - other.y,
            right=other.right - self.right,
            bottom=other.bottom - self.bottom,
            left=self.x - other.x,
        )


def turns(corners: Sequence[tuple[Fraction, Fraction]]) -> tuple[Fraction, ...]:
    """Return for each corner, from the second, how a closed outline turns there: above 0 clockwise with y down, 0 where
    three corners lie in a line.
    """
    closed = (*corners, *corners[:2])
    sides = tuple((after[0] - one[0], after[1] - one[1]) for one, after in pairwise(closed))
    return tuple(one[0] * after[1] - one[1] * after[0] for one, after in pairwise(sides))
