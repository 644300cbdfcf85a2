"""A board's lines as a computerised cutter takes them: closed corners, whole ellipses, chains of lines and bows.

Points lie in the machine's frame of reference: x to the right and y up from the blank's lower left corner, in mm.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from matplan.lengths import Size
from matplan.mats.shapes.roots import Point

LAYERS: Final = ("blank", "cut", "score")
"""The layers of each file; `score` stays empty, because matplan scores no board."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Corners:
    """A closed line through its corners."""

    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A straight line."""

    start: Point
    end: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Whole:
    """A whole upright ellipse, or a whole circle."""

    centre: Point
    rx: Fraction
    ry: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Bow:
    """A part of a circle; `large` where it is more than half of it, `clockwise` as the machine sees it."""

    centre: Point
    radius: Fraction
    start: Point
    end: Point
    large: bool
    clockwise: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """A closed line whose pieces follow one another."""

    pieces: tuple[Line | Bow, ...]


type Trace = Corners | Whole | Chain


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineBoard:
    """A board for the machine: `comment` says line by line what it is, `cuts` are its openings."""

    comment: tuple[str, ...]
    blank: Size
    cuts: tuple[Trace, ...]

    @property
    def layers(self) -> tuple[tuple[str, tuple[Trace, ...]], ...]:
        """The layers of a file, each with its lines."""
        width, height, zero = self.blank.width, self.blank.height, Fraction(0)
        edge = Corners(points=((zero, zero), (width, zero), (width, height), (zero, height)))
        return tuple(zip(LAYERS, ((edge,), self.cuts, ()), strict=True))
