"""Paper, scales and title blocks follow the job's units."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest

from matplan.documents.parts.page import further_scales, paper, papers, printed, title_block
from matplan.drawing.frame import Page
from matplan.drawing.views import INCH, METRIC
from matplan.lengths import Printer, Step, Units
from tests.making import job, piece


def test_inch_jobs_take_letter_and_others_a4() -> None:
    assert paper(Units.IN) is Page.LETTER
    assert paper(Units.MM) is paper(Units.CM) is Page.A4


@pytest.mark.parametrize("units", list(Units))
def test_larger_papers_follow_the_first(units: Units) -> None:
    """ISO 216: each A size is as wide as the next smaller one is high. The ANSI series from Letter on does the same."""
    found = papers(units)
    assert found[0] == paper(units).portrait
    for smaller, larger in pairwise(found):
        assert larger[0] == pytest.approx(smaller[1], abs=0.01)
        assert larger[1] == pytest.approx(2 * smaller[0], abs=1.0)  # ISO rounds down to whole mm


@pytest.mark.parametrize("units", list(Units))
def test_scales_go_on_where_the_series_ends(units: Units) -> None:
    usual = INCH if units is Units.IN else METRIC
    assert tuple(further_scales(units))[: len(usual)] == usual
    assert min(further_scales(units)) < min(usual)


def test_the_title_block_names_job_units_and_scale() -> None:
    block = title_block(
        job(piece(), units=Units.IN),
        title="Slipway",
        document="Front view",
        scale=Fraction(1, 4),
        further=(("Count", "3"),),
    )
    assert dict(block.fields) == {"Job": "Ferry steps", "Units": "in", "Scale": "1:4", "Count": "3"}


def test_a_thickness_never_prints_as_zero() -> None:
    coarse = Printer(Units.IN, Step(Units.IN.factor))
    assert printed(Fraction(7, 5), coarse) == "about 1/16 in"
    assert printed(Fraction(7, 5), Printer(Units.IN, Step.usual(Units.IN))) == "1/16 in"
    assert printed(Fraction(0), coarse) == "0 in"
