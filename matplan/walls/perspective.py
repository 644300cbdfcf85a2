"""The projective map between a plane wall and a photograph of it, exact, from the four corners of a rectangle.

A camera without lens errors maps a plane onto its picture by a projective map, and four points, no three in a line,
fix one (school geometry). The closed form from the unit square is derived from the eight equations of the corners.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from matplan.job.records import WallPhoto
from matplan.lengths import turns
from matplan.walls.records import Spot

type Exact = tuple[Fraction, Fraction]
type Row = tuple[Fraction, Fraction, Fraction]


class NotConvex(ValueError):
    """Corners that are those of no rectangle seen from before: they cross, run back or lie in a line."""


@dataclass(frozen=True, slots=True)
class Perspective:
    """A projective map of the plane: the rows of its matrix for across, down and depth."""

    across: Row
    down: Row
    depth: Row

    @classmethod
    def of(cls, rectangle: Spot, corners: Sequence[Exact]) -> Perspective:
        """Return the map from the wall to pixels that takes the rectangle to the four corners.

        The corners run clockwise from the upper left; pixels run to the right and down. Raises `NotConvex`.
        """
        square = cls.onto(corners)
        wide, high = 1 / rectangle.width, 1 / rectangle.height

        def row(a: Fraction, b: Fraction, c: Fraction) -> Row:
            return (a * wide, -b * high, c - a * rectangle.left * wide + b * rectangle.top * high)

        return cls(row(*square.across), row(*square.down), row(*square.depth))

    @classmethod
    def onto(cls, corners: Sequence[Exact]) -> Perspective:
        """Return the map that takes the unit square, 1 to the right and 1 down, to the four corners.

        Its depth is above 0 within the square. Raises `NotConvex`.
        """
        if any(turn <= 0 for turn in turns(corners)):
            raise NotConvex("the corners do not run clockwise round a convex figure")
        (x0, y0), (x1, y1), (x2, y2), (x3, y3) = corners
        ax, ay, bx, by = x1 - x2, y1 - y2, x3 - x2, y3 - y2
        sx, sy = x0 - x1 + x2 - x3, y0 - y1 + y2 - y3
        whole = ax * by - bx * ay
        g, h = (sx * by - bx * sy) / whole, (ax * sy - sx * ay) / whole
        return cls(
            (x1 - x0 + g * x1, x3 - x0 + h * x3, x0),
            (y1 - y0 + g * y1, y3 - y0 + h * y3, y0),
            (g, h, Fraction(1)),
        )

    def at(self, x: Fraction, y: Fraction) -> Exact:
        """Return where a point is seen. Raises `ZeroDivisionError` for a point on the horizon."""
        depth = _times(self.depth, x, y)
        return _times(self.across, x, y) / depth, _times(self.down, x, y) / depth

    def sees(self, spot: Spot) -> bool:
        """Return whether the whole rectangle lies before the camera: none of its corners is behind the horizon."""
        sides = ((spot.left, spot.right), (spot.bottom, spot.top))
        return all(_times(self.depth, x, y) > 0 for x in sides[0] for y in sides[1])

    @property
    def inverse(self) -> Perspective:
        """The map back, by the adjugate: a common factor of the matrix makes no difference."""
        (a, b, c), (d, e, f), (g, h, i) = self.across, self.down, self.depth
        return Perspective(
            (e * i - f * h, c * h - b * i, b * f - c * e),
            (f * g - d * i, a * i - c * g, c * d - a * f),
            (d * h - e * g, b * g - a * h, a * e - b * d),
        )


def _times(row: Row, x: Fraction, y: Fraction) -> Fraction:
    return row[0] * x + row[1] * y + row[2]


class Shown(Enum):
    """How much of a rectangle on a wall its photograph shows."""

    WHOLE = "whole"
    PART = "part"
    NOT = "not"


def of_photo(photo: WallPhoto) -> Perspective:
    """Return the map from a wall to the pixels of its photograph."""
    of = photo.of
    return Perspective.of(Spot(left=of.left, bottom=of.bottom, width=of.width, height=of.height), photo.corners)


def shown(photo: WallPhoto, spot: Spot) -> Shown:
    """Return how much of a rectangle the photograph shows; one that reaches behind the camera is not shown."""
    seen = of_photo(photo)
    if not seen.sees(spot):
        return Shown.NOT
    corners = [seen.at(x, y) for x in (spot.left, spot.right) for y in (spot.bottom, spot.top)]
    ways = [
        (min(ends), max(ends), most) for ends, most in zip(zip(*corners, strict=True), photo.file.pixels, strict=True)
    ]
    if all(least >= 0 and end <= most for least, end, most in ways):
        return Shown.WHOLE
    return Shown.PART if all(least < most and end > 0 for least, end, most in ways) else Shown.NOT
