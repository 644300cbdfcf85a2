"""What depends on the unit system, against what each system's people use."""

from __future__ import annotations

import ast
from fractions import Fraction
from pathlib import Path

import pytest

import matplan
from matplan.habits import IMPERIAL, METRIC, Habits, habits_of
from matplan.lengths import Units
from matplan.weights import area, force, mass


@pytest.mark.parametrize(("units", "habits"), [(Units.MM, METRIC), (Units.CM, METRIC), (Units.IN, IMPERIAL)])
def test_each_unit_has_the_habits_of_its_system(units: Units, habits: Habits) -> None:
    assert habits_of(units) is habits


@pytest.mark.parametrize("habits", [METRIC, IMPERIAL])
def test_scales_and_papers_run_one_way(habits: Habits) -> None:
    assert sorted(habits.scales, reverse=True) == list(habits.scales)
    assert habits.scales[0] == 1 < habits.enlargements[-1]
    assert sorted(habits.enlargements, reverse=True) == list(habits.enlargements)
    assert sorted(habits.papers) == list(habits.papers)
    assert all(across < down for across, down in habits.papers)


def test_the_rulers_parts_are_a_millimetre_and_an_eighth_of_an_inch() -> None:
    assert METRIC.ruler.length / METRIC.ruler.parts == 1
    assert IMPERIAL.ruler.length / IMPERIAL.ruler.parts == Fraction(254, 80)


def test_an_inch_job_prints_pounds_pounds_force_and_square_feet() -> None:
    """Source: 1 kg = 2.204 62 lb, 1 N = 0.224 809 lbf, 1 m² = 10.7639 ft² (NIST SP 811, appendix B.8)."""
    assert mass(Fraction(10), Units.IN) == "22.05 lb"
    assert force(Fraction(100), Units.IN) == "22.5 lbf"
    assert area(Fraction(1_000_000), Units.IN) == "10.76 sq ft"


def test_no_other_module_of_what_is_printed_or_drawn_chooses_by_the_inch() -> None:
    root = Path(matplan.__file__).parent
    found = []
    for room in ("documents", "drawing", "mats", "orders", "pack", "walls", "weights.py"):
        files = [root / room] if room.endswith(".py") else sorted((root / room).rglob("*.py"))
        for file in files:
            nodes = ast.walk(ast.parse(file.read_text(encoding="utf-8")))
            if any(isinstance(node, ast.Compare) and "Units.IN" in ast.unparse(node) for node in nodes):
                found.append(str(file.relative_to(root)))
    assert found == []
