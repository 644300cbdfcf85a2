"""Irrational numbers as fractions: the one place where an outline is not exact, and by how little.

Square roots are within 1e-12, coordinates that come out of them within 1e-9 mm: a thousandth of what `plan.json`
promises.
"""

from __future__ import annotations

from fractions import Fraction
from math import isqrt
from typing import Final

type Point = tuple[Fraction, Fraction]

GRAIN: Final = 10**9
"""Parts of a millimetre to which an irrational coordinate is rounded."""


def root(value: Fraction) -> Fraction:
    """Return the square root: exact where it is rational, else rounded down to a part in 10¹².

    >>> root(Fraction(9, 16)), float(root(Fraction(2)))
    (Fraction(3, 4), 1.414213562373)
    """
    if value < 0:
        raise ValueError(f"{value} has no square root")
    above, below = isqrt(value.numerator), isqrt(value.denominator)
    if above**2 == value.numerator and below**2 == value.denominator:
        return Fraction(above, below)
    return Fraction(isqrt(value.numerator * 10**24 // value.denominator), 10**12)


ROOT_2: Final = root(Fraction(2))


def near(value: Fraction | float) -> Fraction:
    """Return a coordinate within 1e-9 mm; an exact one stays as it is.

    >>> near(Fraction(1, 3)), near(0.5), near(Fraction(1, 10**12))
    (Fraction(1, 3), Fraction(1, 2), Fraction(0, 1))
    """
    if isinstance(value, Fraction) and value.denominator <= GRAIN:
        return value
    return Fraction(round(value * GRAIN), GRAIN)
