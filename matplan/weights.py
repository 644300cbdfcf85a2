"""Masses, forces and areas in the units that a job's people think in: kilograms, newtons and square metres, or pounds
and square feet in an inch job.

pint knows the units (`units.txt`), exactly; the few that every inch job prints stand in `habits` as well, because pint
takes two tenths of a second to wake, and a test compares. This module knows nothing of frames.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from matplan.habits import habits_of
from matplan.lengths import Units

if TYPE_CHECKING:
    from pint import UnitRegistry


@cache
def registry() -> UnitRegistry[Any]:
    """The units of `units.txt`, exact."""
    import pint

    return pint.UnitRegistry(str(Path(__file__).with_name("units.txt")), non_int_type=Fraction)


def converted(value: Fraction, unit: str, to: str) -> Fraction:
    """That many of one unit in another, exactly.

    >>> converted(Fraction(1), "lb", "kg")
    Fraction(45359237, 100000000)
    """
    return Fraction(registry().Quantity(value, unit).to(to).magnitude)


def mass(kilograms: Fraction, units: Units, places: int = 2) -> str:
    """`1.42 kg`, or `3.13 lb` in an inch job."""
    return habits_of(units).mass.text(kilograms, places)


def force(newtons: Fraction, units: Units, places: int = 1) -> str:
    """`12.5 N`, or `2.8 lbf` in an inch job."""
    return habits_of(units).force.text(newtons, places)


def area(square_mm: Fraction, units: Units, places: int = 2) -> str:
    """Return an area as people say it: `0.54 m²`, or `5.81 sq ft` in an inch job."""
    return habits_of(units).area.text(square_mm, places)
