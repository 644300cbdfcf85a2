"""The outline of an opening: a rectangle unless a shape says more.

An outline keeps its bounds as a `Box`. Rectangles and squares are their box; circles and ovals the ellipse in it.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from matplan.job.records import Shape
from matplan.lengths import Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """The edge of an opening; `box` is its bounds."""

    shape: Shape
    box: Box

    @property
    def upright(self) -> bool:
        """Whether the outline is its box: four straight cuts."""
        return self.shape in (Shape.RECTANGLE, Shape.SQUARE)

    def points(self) -> tuple[tuple[Fraction, Fraction], ...]:
        """Points along the outline, clockwise from its top left."""
        b = self.box
        return (b.x, b.y), (b.right, b.y), (b.right, b.bottom), (b.x, b.bottom)


def outline(shape: Shape, box: Box) -> Outline:
    """The outline of that shape in a nominal opening."""
    return Outline(shape=shape, box=box)


def enlarged(line: Outline, by: Fraction) -> Outline:
    """The opening of a layer in front: larger by `by` on every side, of the same kind."""
    return Outline(shape=line.shape, box=line.box.grown(by))


def grown(line: Outline, by: Fraction) -> Outline:
    """What a 45° bevel makes of that outline on the other face of the board: grown by `by` along the normal, mitred at corners."""
    return Outline(shape=line.shape, box=line.box.grown(by))
