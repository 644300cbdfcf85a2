"""The paper of a drawing: A4 or A3, and the larger one only where the smaller would cost too much."""

from __future__ import annotations

from fractions import Fraction

import pytest

from matplan.documents.parts.paper import best_paper
from matplan.drawing.items import Area
from matplan.drawing.views import NoScaleFits, fit
from matplan.habits import METRIC
from matplan.lengths import Size, Units


def laid(width: int, height: int, taken: float = 0.0, units: Units = Units.MM) -> tuple[tuple[float, float], Fraction]:
    """The paper and the scale of a bare thing of that size, below which other things take a height."""
    size = Size(Fraction(width), Fraction(height))

    def lay(area: Area) -> tuple[Fraction, None]:
        model = (Fraction(0), Fraction(0), size.width, size.height)
        if area.height <= taken:
            raise NoScaleFits("no room")
        return fit(model, area.inset(0, 0, 0, taken), (*METRIC.scales, *METRIC.further_scales)).scale, None

    found = best_paper(units, size, lay)
    return found.size, found.scale


@pytest.mark.parametrize(
    ("width", "height", "paper", "scale"),
    [
        (150, 200, (210, 297), 1),  # A4 leaves 186 × 246 upright and 273 × 159 lying
        (200, 150, (297, 210), 1),  # a wide thing lies on a landscape page
        (300, 400, (210, 297), Fraction(1, 2)),
        (220, 230, (210, 297), Fraction(1, 2)),  # A3 holds it at 1:1, one scale larger
        (340, 380, (210, 297), Fraction(1, 2)),
        (1000, 1000, (210, 297), Fraction(1, 10)),
    ],
)
def test_the_smaller_paper_does_where_it_costs_no_more_than_two_scales(
    width: int, height: int, paper: tuple[int, int], scale: Fraction
) -> None:
    assert laid(width, height) == (paper, scale)


def test_the_larger_paper_is_taken_where_the_smaller_costs_three_scales() -> None:
    """Less 215 mm for other things A4 keeps 31 mm of height, where 160 mm go at 1:10, and A3 154, where they go at 1:2;
    less 235 mm they keep 11 and 134: 1:20 and 1:2.
    """
    assert laid(160, 160, taken=215) == ((210, 297), Fraction(1, 10))
    assert laid(160, 160, taken=235) == ((297, 420), Fraction(1, 2))


def test_the_larger_paper_is_taken_where_the_smaller_has_no_room() -> None:
    assert laid(100, 100, taken=246)[0] == (297, 420)


def test_the_larger_paper_is_taken_where_the_smaller_falls_under_the_series() -> None:
    # A4 leaves 273 × 159 lying and 186 × 246 upright, A3 396 × 246
    assert laid(13_000, 7000) == ((297, 210), Fraction(1, 50))
    assert laid(15_000, 7000) == ((420, 297), Fraction(1, 50))
    assert laid(30_000, 7000) == ((420, 297), Fraction(1, 100))


def test_inch_jobs_have_papers_of_their_own() -> None:
    assert laid(150, 150, units=Units.IN)[0] == (215.9, 279.4)
    assert laid(100, 100, taken=240, units=Units.IN)[0] == (279.4, 431.8)


def test_what_no_paper_holds_is_told() -> None:
    with pytest.raises(NoScaleFits):
        laid(100, 100, taken=1000)
