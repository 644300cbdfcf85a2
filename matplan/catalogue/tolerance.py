"""How far a sheet's true size may lie from its nominal one."""

from __future__ import annotations

from fractions import Fraction

_TO_150, _TO_600, _ABOVE = Fraction(3, 2), Fraction(2), Fraction(3)


def iso_216_tolerance(dimension_mm: Fraction) -> Fraction:
    """The millimetres, more or less, by which a side of that nominal length may differ.

    Source: ISO 216: ±1.5 mm up to 150 mm, ±2 mm up to 600 mm, ±3 mm above.

    >>> iso_216_tolerance(Fraction(297))
    Fraction(2, 1)
    """
    if dimension_mm <= 150:
        return _TO_150
    return _TO_600 if dimension_mm <= 600 else _ABOVE
