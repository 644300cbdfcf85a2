"""Lengths printed back, as a job prints them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from matplan.lengths.decimals import inch_fraction, plain_decimal
from matplan.lengths.planes import Sides, Size
from matplan.lengths.steps import Step
from matplan.lengths.units import INCH, Units, unit_factor


@dataclass(frozen=True, slots=True)
class Printer:
    """How a job prints its lengths: in its units, inches as reduced fractions of the step.

    A whole number of steps prints exactly, so that reading it back gives the same length. Any other length is rounded
    to 0.1 mm (a label stays within 0.05 mm) or, in an inch job, to the nearest step. Steps of an inch job that no inch
    fraction holds print in millimetres, with their unit.
    """

    units: Units
    step: Step

    def number(self, length: Fraction) -> str:
        """The bare number for a drawing whose units are stated once: `244`, `16 3/8`."""
        return self._split(length)[0] if self._in_own_units() else self.length(length)

    def length(self, length: Fraction) -> str:
        """The number with its unit: `244 mm`, `16 3/8 in`."""
        number, unit = self._split(length)
        return f"{number} {unit}"

    def halved(self, length: Fraction) -> str:
        """Return the number of the nearest half step, for the middle of what is whole steps long: a centre, a radius.

        >>> Printer(Units.IN, Step.usual(Units.IN)).halved(INCH * 97 / 32)
        '3 1/32'
        """
        return Printer(self.units, Step(self.step.size / 2)).number(length)

    def tape(self, length: Fraction) -> str:
        """Return a figure to read on a tape: the bare number of the nearest whole step.

        >>> Printer(Units.MM, Step.usual(Units.MM)).tape(Fraction("1021.5"))
        '1022'
        """
        return self.number(self.step.nearest(length))

    def exact(self, length: Fraction, *, unit: bool = False) -> str:
        """Return the number without rounding it to a step, with its unit on demand: `10 2/3`.

        Where no short figure is exact the number is rounded and says so: `about 166.667`.
        """
        units = self.units if self._in_own_units() else Units.MM
        number = length / units.factor
        if units is Units.IN and (number.denominator <= 100 or self.step.is_whole(length)):
            text = inch_fraction(number)
        elif 10**6 % number.denominator == 0:
            text = plain_decimal(number, 6)
        else:
            text = f"about {plain_decimal(number, 3)}"
        return f"{text} {units}" if unit or units is not self.units else text

    def fine(self, length: Fraction) -> str:
        """Return a length that is finer than a step, such as a board's thickness: `1.4 mm`, or `5/8 in`.

        In inches it is a fraction; one that is neither a step nor a 64th is rounded to a 64th and says so. Less than
        half a 64th stays a decimal.

        >>> Printer(Units.CM, Step.usual(Units.CM)).fine(Fraction("1.4"))
        '1.4 mm'
        >>> inches = Printer(Units.IN, Step.usual(Units.IN))
        >>> inches.fine(INCH * 5 / 8), inches.fine(Fraction("8.4")), inches.fine(Fraction("0.15"))
        ('5/8 in', 'about 21/64 in', '0.006 in')
        """
        if self.units is not Units.IN:
            return f"{plain_decimal(length, 1)} mm"
        finest = Step(self.step.size if self._dyadic() and self.step.is_whole(length) else INCH / 64)
        near = finest.nearest(length)
        if length and not near:
            return f"{plain_decimal(length / INCH, 3)} in"
        return f"{'' if near == length else 'about '}{inch_fraction(near / INCH)} in"

    def exact_size(self, size: Size) -> str:
        """Return both sides without rounding them to a step, with the unit: `190.5 × 280 mm`."""
        return f"{self.exact(size.width)} × {self.exact(size.height, unit=True)}"

    def size(self, size: Size, times: str = "×") -> str:
        """`400 × 500 mm`."""
        width, unit = self._split(size.width)
        return f"{width} {times} {self._split(size.height)[0]} {unit}"

    def sides(self, sides: Sides) -> str:
        """Return `60 mm` if the four sides print the same, else their numbers: top / right / bottom / left."""
        numbers = [self.number(side) for side in (sides.top, sides.right, sides.bottom, sides.left)]
        return self.length(sides.top) if len({*numbers}) == 1 else " / ".join(numbers)

    def _in_own_units(self) -> bool:
        return self.units is not Units.IN or self._dyadic()

    def _dyadic(self) -> bool:
        bottom = (self.step.size / unit_factor("in")).denominator
        return bottom & (bottom - 1) == 0 and bottom <= 128

    def _split(self, length: Fraction) -> tuple[str, str]:
        whole = self.step.is_whole(length)
        if self.units is Units.IN and self._dyadic():
            return inch_fraction((length if whole else self.step.nearest(length)) / unit_factor("in")), "in"
        if self.units is Units.CM:
            return self._decimal(length / 10, whole, 2), "cm"
        return self._decimal(length, whole, 1), "mm"

    @staticmethod
    def _decimal(number: Fraction, whole: bool, places: int) -> str:
        return plain_decimal(number, 8 if whole and 10**8 % number.denominator == 0 else places)
