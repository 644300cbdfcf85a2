"""Masses and forces by the job's units, and the lengths' table against pint's reading of the same file."""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest

from matplan.habits import POUND, POUND_FORCE, SQUARE_FOOT
from matplan.lengths import Units, unit_factor
from matplan.weights import converted, force, mass, registry


@pytest.mark.parametrize("unit", ["mm", "cm", "m", "in", "ft"])
def test_the_lengths_table_is_what_pint_reads_from_the_units_file(unit: str) -> None:
    assert unit_factor(unit) == converted(Fraction(1), unit, "mm")


@pytest.mark.parametrize(
    ("ours", "theirs", "to"), [("lb", "pound", "kilogram"), ("lbf", "pound_force", "newton"), ("N", "newton", "newton")]
)
def test_units_agree_with_pints_own_registry(ours: str, theirs: str, to: str) -> None:
    """Source: pint's default registry (a general-purpose library)."""
    known = float(pint.UnitRegistry().Quantity(1.0, theirs).to(to).magnitude)
    assert float(converted(Fraction(1), ours, {"kilogram": "kg", "newton": "N"}[to])) == pytest.approx(known, rel=1e-12)


def test_the_figures_at_hand_are_what_pint_reads_from_the_units_file() -> None:
    assert converted(Fraction(1), "lb", "kg") == POUND
    assert converted(Fraction(1), "lbf", "N") == POUND_FORCE
    assert converted(Fraction(1), "ft ** 2", "mm ** 2") == SQUARE_FOOT


def test_the_units_file_is_read_exactly() -> None:
    assert isinstance(registry().Quantity(Fraction(1, 3), "in").to("mm").magnitude, Fraction)


def test_masses_and_forces_print_in_the_jobs_units() -> None:
    assert mass(Fraction("1.42"), Units.MM) == "1.42 kg"
    assert mass(Fraction("1.42"), Units.IN) == "3.13 lb"
    assert force(Fraction(10), Units.CM) == "10 N"
    assert force(Fraction(10), Units.IN) == "2.2 lbf"
