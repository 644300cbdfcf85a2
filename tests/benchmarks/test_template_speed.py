"""How long templates take: the largest usual blank, and a sheet of a hundred shaped windows in two layers."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from matplan.documents.tiled.mat_template import template
from matplan.drawing import pdf
from matplan.job.records import Shape
from tests.making import border, double_mat, frame, piece, planned, window

SHAPES = (Shape.OVAL, Shape.ARCH, Shape.OCTAGON, Shape.RECTANGLE)


@pytest.mark.benchmark(group="template: 100 x 150 cm")
def test_a_large_blank(benchmark: Any) -> None:
    plan = planned(piece(frame=frame(takes="1000 x 1500 mm"), apertures=(window(image="700 x 1100"),)))
    assert benchmark(lambda: pdf.render(template(plan.job, plan.pieces[0]))).startswith(b"%PDF")


@pytest.mark.benchmark(group="template: 100 windows")
def test_a_hundred_windows(benchmark: Any) -> None:
    asks = tuple(window(f"w{n}", image="100 x 80", shape=SHAPES[n % 4]) for n in range(100))
    rows = tuple(tuple(range(10 * row, 10 * row + 10)) for row in range(10))
    plan = planned(piece(apertures=asks, rows=rows, gutter=Fraction(20), border=border("40"), mat=double_mat()))
    assert len(benchmark(lambda: template(plan.job, plan.pieces[0]))) == 35
