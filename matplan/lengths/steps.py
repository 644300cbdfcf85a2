"""The step that a workshop measures and cuts to, and other multiples."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Self

from matplan.faults import LengthError
from matplan.lengths.decimals import plain_decimal
from matplan.lengths.units import Units, unit_factor

SMALLEST_STEP = Fraction(1, 100)
LARGEST_STEP = Fraction(254, 10)


@dataclass(frozen=True, slots=True)
class Multiple:
    """Whole multiples of `size`, which is above 0: what figures are brought down, up or nearest to."""

    size: Fraction

    def down(self, figure: Fraction) -> Fraction:
        """Return the largest whole multiple that is no larger."""
        return figure // self.size * self.size

    def up(self, figure: Fraction) -> Fraction:
        """Return the smallest whole multiple that is no smaller."""
        return -(-figure // self.size) * self.size

    def nearest(self, figure: Fraction) -> Fraction:
        """Return the nearest whole multiple, ties up."""
        return self.down(figure + self.size / 2)

    def is_whole(self, figure: Fraction) -> bool:
        """Return whether the figure is a whole multiple."""
        return figure % self.size == 0


@dataclass(frozen=True, slots=True)
class Step(Multiple):
    """The smallest division that the workshop measures and cuts to, in millimetres."""

    def __post_init__(self) -> None:
        if not SMALLEST_STEP <= self.size <= LARGEST_STEP:
            raise LengthError(f"got a step of {plain_decimal(self.size)} mm; it lies between 0.01 mm and 1 in")

    @classmethod
    def usual(cls, units: Units) -> Self:
        """1 mm, or 1/16 in in an inch job."""
        return cls(unit_factor("in") / 16 if units is Units.IN else Fraction(1))
