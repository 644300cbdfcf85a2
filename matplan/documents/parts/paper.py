"""Which paper a drawing gets, which way the paper lies, and at which scale the drawing fits.

A drawing's paper is A4 or A3 (Letter or Tabloid in an inch job). The larger paper is taken only where the drawing on
the smaller one would fall under the next scale but one or under the series, or where the smaller one cannot hold it at
all. A wide thing gets a landscape page where both ways give the same scale.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from matplan.documents.parts.page import further_scales, papers, scales
from matplan.drawing.frame import drawing_area
from matplan.drawing.items import Area
from matplan.drawing.views import NoScaleFits
from matplan.lengths import Size, Units

type PaperSize = tuple[float, float]
"""Width and height of a sheet of paper in mm, as it lies."""

_USUAL: Final = 2
"""So many papers are usual."""
_STEPS: Final = 2
"""So many scales smaller than on the larger paper a drawing may be before it gets the larger paper."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid[T]:
    """A drawing laid on paper: the paper's size as it lies, the scale, and what was `made` for it."""

    size: PaperSize
    scale: Fraction
    made: T


def best_paper[T](
    units: Units, model: Size, lay: Callable[[Area], tuple[Fraction, T]], *, any_paper: bool = False
) -> Laid[T]:
    """Return the drawing of a thing of the model's size on the paper that suits it.

    `lay` takes the area that the frame of a paper leaves. It returns the scale and the drawing, or raises
    `NoScaleFits`. With `any_paper` the drawing may be as large as A0, for what no usual paper holds.
    Raises `NoScaleFits` where no paper holds the drawing.
    """
    series, usual = tuple(further_scales(units)), scales(units)
    best: Laid[T] | None = None
    faults: list[NoScaleFits] = []
    for number, upright in enumerate(papers(units)[: None if any_paper else _USUAL]):
        small = best is not None and best.scale not in usual and number < _USUAL
        if best is not None and not small and _rank_alone(model, upright, series) >= series.index(best.scale) - _STEPS:
            break  # even alone on the larger paper the thing would not be drawn so much larger
        for size in (upright[::-1], upright) if model.width > model.height else (upright, upright[::-1]):
            try:
                scale, made = lay(drawing_area(size))
            except NoScaleFits as fault:
                faults.append(fault)
                continue
            if best is None or (
                scale > best.scale and (small or best.size in (size, size[::-1]) or _gains(scale, best, series))
            ):
                best = Laid(size=size, scale=scale, made=made)
    if best is None:
        raise faults[-1]
    return best


def _rank_alone(model: Size, paper: PaperSize, series: Sequence[Fraction]) -> int:
    """Return the place in the series of the largest scale at which the paper holds the bare thing."""
    long, short = max(model.width, model.height), min(model.width, model.height)
    fitting = (n for n, s in enumerate(series) if float(long * s) <= max(paper) and float(short * s) <= min(paper))
    return next(fitting, len(series))


def _gains[T](scale: Fraction, best: Laid[T], series: Sequence[Fraction]) -> bool:
    """Return whether a scale is more than so many scales larger than that of the drawing on the smaller paper."""
    return series.index(best.scale) - series.index(scale) > _STEPS
