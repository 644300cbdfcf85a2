"""How long sheets of many shaped windows take to solve: four times the windows, about four times the time."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from matplan.job.records import Piece, Shape
from matplan.lengths import Printer, Step, Units
from matplan.mats.solve import solve
from tests.making import border, double_mat, frame, mm, piece, window

type Benchmark = Callable[..., object]


def sheet(shape: Shape, count: int) -> Piece:
    """That many windows of one shape, five in a row, in a double mat."""
    return piece(
        frame=frame(),
        border=border("50 mm"),
        apertures=tuple(window(f"w{n}", image="66 x 86 mm", shape=shape) for n in range(count)),
        rows=tuple(tuple(range(first, first + 5)) for first in range(0, count, 5)),
        gutter=mm(20),
        mat=double_mat(),
    )


@pytest.mark.parametrize("count", [25, 100])
@pytest.mark.parametrize("shape", [Shape.RECTANGLE, Shape.CIRCLE, Shape.OVAL, Shape.ARCH, Shape.OCTAGON])
def test_a_sheet_of_shaped_windows(benchmark: Benchmark, shape: Shape, count: int) -> None:
    ask, printer = sheet(shape, count), Printer(Units.MM, Step.usual(Units.MM))
    solve(ask, printer=printer)  # imports shapely once
    benchmark(solve, ask, printer=printer)
