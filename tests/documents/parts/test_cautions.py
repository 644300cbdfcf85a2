"""The cautions: short, each kind has some, figures in the job's units, and every one has a source beside it in the
code.
"""

from __future__ import annotations

import ast
import inspect
from fractions import Fraction

import pytest

from matplan.documents.parts import cautions as module
from matplan.documents.parts.cautions import Work, cautions, cutting_of, handling_of, is_heavy
from matplan.job.records import Material, MaterialKind
from matplan.lengths import Units


@pytest.mark.parametrize("work", list(Work))
def test_every_kind_of_work_has_short_cautions(work: Work) -> None:
    lines = cautions(work)
    assert lines
    assert all(20 < len(line) <= 140 and line.endswith(".") and "{" not in line for line in lines)


def test_a_caution_is_printed_once() -> None:
    assert cautions(Work.CUTTING, Work.GLASS, Work.CUTTING) == cautions(Work.CUTTING, Work.GLASS)


def test_figures_follow_the_jobs_units() -> None:
    # revised NIOSH lifting equation: 23 kg, 51 lb; UK prescribed zones: 150 mm
    assert any("23 kg" in line for line in cautions(Work.HEAVY))
    assert any("51 lb" in line for line in cautions(Work.HEAVY, units=Units.IN))
    assert any("150 mm" in line for line in cautions(Work.WALL))
    assert any("6 in" in line for line in cautions(Work.WALL, units=Units.IN))


def test_above_the_lifting_limit_is_heavy() -> None:
    assert not is_heavy(Fraction(23))
    assert is_heavy(Fraction(231, 10))


def test_materials_bring_their_work() -> None:
    def works(kind: MaterialKind, substance: str) -> tuple[tuple[Work, ...], tuple[Work, ...]]:
        material = Material(kind=kind, name="stock", thickness=Fraction(3), substance=substance)
        return handling_of(material), cutting_of(material)

    assert works(MaterialKind.GLAZING, "glass") == ((Work.GLASS,), (Work.GLASS, Work.SCORING))
    assert works(MaterialKind.GLAZING, "") == works(MaterialKind.GLAZING, "glass")  # a pane may be glass
    assert works(MaterialKind.GLAZING, "acrylic") == ((Work.ACRYLIC,), (Work.ACRYLIC,))
    assert works(MaterialKind.BACKING, "wood") == ((), (Work.HARD_BOARD,))
    assert works(MaterialKind.BACKING, "") == ((), (Work.CUTTING,))


def test_a_source_stands_before_each_caution() -> None:
    source = inspect.getsource(module).splitlines()
    texts = {line for lines in module._WORDS.values() for line in lines}
    found = [n for n in ast.walk(ast.parse("\n".join(source))) if isinstance(n, ast.Constant) and n.value in texts]
    assert len(found) == len(texts)
    above = [[line.strip() for line in source[: node.lineno - 1] if line.strip() != "("][-1] for node in found]
    assert all(line.startswith("#") for line in above)
