"""Arches: two upright sides and a level base under an arc of a circle.

`rise` is how high the arc stands over its springing. Half-round: the rise is half the width. Segmental: it is less, and
the radius is (half width² + rise²) ÷ (2 × rise). An arch of the rise of its height has no sides: its arc ends on the
base.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from matplan.lengths import Box
from matplan.mats.shapes.roots import near, root
from matplan.mats.shapes.segments import Arc, Segment, Straight


@dataclass(frozen=True, slots=True, kw_only=True)
class Arch:
    """All points within `radius` of (`x`, `y`), above `base`, and no further sideways than `half`.

    `half` is None where the arch has no sides.
    """

    x: Fraction
    y: Fraction
    radius: Fraction
    base: Fraction
    half: Fraction | None

    @classmethod
    def of(cls, box: Box, rise: Fraction) -> Arch:
        """Return the arch that fills `box`."""
        half = box.width / 2
        radius = (half**2 + rise**2) / (2 * rise)
        sides = rise < box.height or radius == half
        return cls(x=box.x + half, y=box.y + radius, radius=radius, base=box.bottom, half=half if sides else None)

    def grown(self, by: Fraction) -> Arch | None:
        """Return the arch moved outwards along the normal, mitred, or `None` if nothing is left.

        Each of its three limits moves by itself.
        """
        grown = Arch(
            x=self.x,
            y=self.y,
            radius=self.radius + by,
            base=self.base + by,
            half=None if self.half is None else self.half + by,
        )
        if grown.half is None and grown.base > grown.y:  # past its widest an arc goes straight on
            grown = replace(grown, half=grown.radius)
        narrow = grown.half is not None and grown.half <= 0
        return None if grown.radius <= 0 or narrow or grown.y - grown.radius >= grown.base else grown

    def enlarged(self, by: Fraction) -> Arch:
        """Return the arch in a box larger by `by` on every side, with its arc about the same centre."""
        half = self.half if self.half is not None else self._reach(self.base)
        return Arch(x=self.x, y=self.y, radius=self.radius + by, base=self.base + by, half=half + by)

    def _reach(self, level: Fraction) -> Fraction:
        """Return how far from the middle the circle is at `level`."""
        return root(self.radius**2 - (level - self.y) ** 2)

    @property
    def segments(self) -> tuple[Segment, ...]:
        """The pieces clockwise from the left springing: arc, right side, base, left side."""
        springing = self.base
        if self.half is not None:
            springing = min(self.base, near(self.y - root(self.radius**2 - self.half**2)))
        half = self.half if self.half is not None and springing < self.base else near(self._reach(self.base))
        left, right = (self.x - half, springing), (self.x + half, springing)
        low_left, low_right = (left[0], self.base), (right[0], self.base)
        arc = Arc(centre=(self.x, self.y), rx=self.radius, ry=self.radius, start=left, end=right)
        base = Straight(start=low_right, end=low_left)
        if springing == self.base:
            return arc, base
        return arc, Straight(start=right, end=low_right), base, Straight(start=low_left, end=left)

    @property
    def box(self) -> Box:
        """The bounds of the arch."""
        arc = self.segments[0]
        top = self.y - self.radius
        return Box(arc.start[0], top, arc.end[0] - arc.start[0], self.base - top)
