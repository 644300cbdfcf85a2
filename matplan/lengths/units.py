"""The units of lengths, exact: what each is in millimetres, and how people spell it."""

from __future__ import annotations

from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

type Number = int | Decimal | Fraction
"""A number without a unit, exact."""

ZERO = Fraction(0)
LONGEST = Fraction(100_000)
"""No length exceeds 100 m."""

INCH = Fraction(127, 5)
"""One inch in millimetres (published: international yard and pound agreement, 1959); pint's table agrees."""


class Units(StrEnum):
    """The units of a job: what bare numbers mean and how lengths are printed."""

    MM = "mm"
    CM = "cm"
    IN = "in"

    @property
    def factor(self) -> Fraction:
        """How many millimetres one of it is."""
        return unit_factor(self.value)


def exact(value: Number) -> Fraction:
    """That number as a fraction, exactly."""
    return value if isinstance(value, Fraction) else Fraction(value)


SPELLINGS = {
    "mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "cm": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "in": "in", "in.": "in", "inch": "in", "inches": "in", '"': "in", "″": "in", "”": "in", "“": "in",
    "''": "in", "′′": "in", "’’": "in",
    "ft": "ft", "ft.": "ft", "foot": "ft", "feet": "ft", "'": "ft", "′": "ft", "’": "ft",
}  # fmt: skip


_FACTORS = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": INCH, "ft": 12 * INCH}
"""What pint reads from `units.txt`, kept here because every job needs it and pint takes a tenth of a second to wake; a
test compares.
"""


def unit_factor(unit: str) -> Fraction:
    """Millimetres in one of that unit (`mm`, `cm`, `m`, `in`, `ft`), exact."""
    return _FACTORS[unit]
