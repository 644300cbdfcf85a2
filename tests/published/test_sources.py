"""Every figure has a source, every published one a work that a reader can look up; every check holds."""

from __future__ import annotations

import ast
from dataclasses import fields
from fractions import Fraction
from pathlib import Path

import pytest

from matplan.catalogue import Kind, rows
from matplan.habits import Habits
from tests.published.checks import CHECKS, Check, cut_lists
from tests.published.figures import (
    DEFAULTS,
    HABITS,
    STATUSES,
    Figure,
    defaults,
    of_catalogue,
    of_cautions,
    of_constants,
    of_defaults,
    of_habits,
)
from tests.published.works import WORKS, has_section, work_of

ROOT = Path(__file__).parents[2]
FIGURES = [
    *(figure for kind in Kind for figure in of_catalogue(kind)),
    *(figure for _, figure in of_constants()),
    *of_cautions(),
    *of_habits(),
    *of_defaults(),
]


def off(check: Check) -> list[int]:
    """The places at which the program answers otherwise than the work."""
    here = check.here()
    assert len(here) == len(check.there), check.what
    return [n for n, (a, b) in enumerate(zip(here, check.there, strict=True)) if abs(float(a - b)) > check.within]


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.what)
def test_the_program_answers_as_the_work_does(check: Check) -> None:
    assert off(check) == []


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.what)
def test_a_check_names_its_work_and_a_test_that_is_there(check: Check) -> None:
    assert check.status in STATUSES
    if check.status == "published":
        assert has_section(check.source), check.source
    path, _, name = check.test.partition("::")
    tree = ast.parse((ROOT / path).read_text(encoding="utf-8"))
    assert not name or name in {node.name for node in tree.body if isinstance(node, ast.FunctionDef)}, check.test


def test_another_answer_is_found() -> None:
    check = CHECKS[0]
    wrong = Check(what="", source="", there=check.there, here=lambda: (Fraction(5),), test="")
    assert off(wrong) == [0]


def faults(figure: Figure) -> str:
    if figure.status not in STATUSES:
        return "no such status"
    if len(figure.source) < 3:
        return "no source"
    if figure.status == "published" and not has_section(figure.source):
        return "published, but a reader cannot look it up"
    return ""


@pytest.mark.parametrize("figure", FIGURES, ids=lambda figure: f"{figure.what[:40]} {figure.here[:20]}")
def test_a_figure_has_a_source_that_bears_its_status(figure: Figure) -> None:
    assert faults(figure) == "", figure


def test_a_source_that_bears_nothing_is_found() -> None:
    for source in ("a teaching article", "ISO 216", "EN 572-1.", ""):
        assert faults(Figure(what="x", here="1", status="published", source=source))
    assert faults(Figure(what="x", here="1", status="certain", source="ISO 216, A"))


def test_every_table_constant_caution_and_default_is_there() -> None:
    """Constants: each that the program's words give a status; defaults: each of the job file that is a figure."""
    assert {place for place, _ in defaults()} == DEFAULTS.keys()
    units = {"unit", "mass", "force", "area", "bought", "whole_steps"}
    assert {field.name for field in fields(Habits)} - units == HABITS.keys()
    names = {module for module, _ in of_constants()}
    assert {"matplan.mats.findings", "matplan.mats.budgets", "matplan.walls.findings", "matplan.habits"} <= names
    assert sum(len(list(of_catalogue(kind))) >= len(rows(kind)) for kind in Kind) == len(Kind)


def test_every_work_is_cited() -> None:
    cited = {work_of(figure.source) for figure in FIGURES} | {work_of(check.source) for check in CHECKS}
    assert WORKS.keys() - cited == set()
    assert len(list(cut_lists())) == 10
