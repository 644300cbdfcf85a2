"""Which paper a drawing gets, which way the paper lies, and at which scale the drawing fits.

A drawing's paper is A4 or A3 (Letter or Tabloid in an inch job). The larger paper is taken only where the drawing on
the smaller one would fall under the next scale but one, or where the smaller one cannot hold it at all. A wide thing
gets a landscape page where both ways give one scale.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from matplan.documents.parts.page import further_scales, papers
from matplan.drawing.frame import drawing_area
from matplan.drawing.items import Area
from matplan.drawing.views import NoScaleFits
from matplan.lengths import Units

type PaperSize = tuple[float, float]
"""Width and height of a sheet of paper in mm, as it lies."""

_STEPS: Final = 2
"""So many scales smaller than on the larger paper a drawing may be before it gets the larger paper."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid[T]:
    """A drawing laid on paper: the paper's size as it lies, the scale, and what was `made` for it."""

    size: PaperSize
    scale: Fraction
    made: T


def best_paper[T](units: Units, *, wide: bool, lay: Callable[[Area], tuple[Fraction, T]]) -> Laid[T]:
    """Return the drawing on the paper that suits it.

    `lay` takes the area that the frame of a paper leaves. It returns the scale and the drawing, or raises
    `NoScaleFits`. `wide` tells that the thing drawn is wider than high.
    Raises `NoScaleFits` where no paper holds the drawing.
    """
    found: list[Laid[T]] = []
    faults: list[NoScaleFits] = []
    for upright in papers(units)[:2]:
        ways = (upright[::-1], upright) if wide else (upright, upright[::-1])
        laid: list[Laid[T]] = []
        for size in ways:
            try:
                scale, made = lay(drawing_area(size))
            except NoScaleFits as fault:
                faults.append(fault)
            else:
                laid.append(Laid(size=size, scale=scale, made=made))
        if laid:
            found.append(max(laid, key=lambda one: one.scale))
    if not found:
        raise faults[-1]
    return _least(found, further_scales(units))


def _least[T](found: Sequence[Laid[T]], series: Sequence[Fraction]) -> Laid[T]:
    """Return the first drawing that is no more than so many scales smaller than the last and largest one."""
    ranks = [series.index(one.scale) for one in found]
    return next(one for one, rank in zip(found, ranks, strict=True) if rank - min(ranks) <= _STEPS)
