"""The dimensions of a cutting diagram.

A board with one window has chains from edge to edge of the blank, below and at the left, each adding up to its width or
height; the outer figures of a chain are the gauge's settings. Every board has the whole blank outside them.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise
from typing import Final

from matplan.drawing.dimensions import Dimension, ModelPoint, Side, Style
from matplan.job.records import Shape
from matplan.lengths import ZERO, Printer, Size
from matplan.mats.outlines import Outline

STYLE: Final = Style(first=7.2, pitch=6.6, gap=3.2)
"""Figures as high as all that is set at the cutter; the gap leaves room for start and stop marks."""


def chains(opening: Outline, blank: Size, printer: Printer) -> tuple[Dimension, ...]:
    """Return the two chains over a board's only opening. Gauge settings are bold."""
    return (*_chain(opening, Side.BELOW, blank, printer), *_chain(opening, Side.LEFT, blank, printer))


def wholes(blank: Size, printer: Printer) -> tuple[Dimension, ...]:
    """Return the blank's width below and its height at the left."""
    corner = (blank.width, blank.height)  # the plan's right is at the left as it lies
    return (
        Dimension(
            start=(ZERO, blank.height), end=corner, side=Side.BELOW, label=printer.number(blank.width),
            id="blank-width", classes=("whole",),
        ),
        Dimension(
            start=(blank.width, ZERO), end=corner, side=Side.LEFT, label=printer.number(blank.height),
            id="blank-height", classes=("whole",),
        ),
    )  # fmt: skip


def _chain(opening: Outline, side: Side, blank: Size, printer: Printer) -> Iterator[Dimension]:
    """Return border, opening and border from one edge of the blank to the other."""
    box, across = opening.box, side.across
    (middle_x, middle_y) = box.centre
    round_ = opening.shape in (Shape.CIRCLE, Shape.OVAL)  # touches its bounds in the middles of its sides only
    edge = blank.height if across else blank.width
    near = (middle_y if round_ else box.bottom) if across else (middle_x if round_ else box.right)
    low, high, whole = (box.x, box.right, blank.width) if across else (box.y, box.bottom, blank.height)
    stops = ((ZERO, edge), (low, near), (high, near), (whole, edge))
    for number, ((start, from_), (end, to)) in enumerate(pairwise(stops), 1):
        if end == start:
            continue
        yield Dimension(
            start=_point(start, from_, across=across),
            end=_point(end, to, across=across),
            side=side,
            label=printer.number(end - start),
            id=f"{side}-{number}",
            classes=("opening" if number == 2 else "gauge",),
            bold=number != 2,
        )


def _point(along: Fraction, across_: Fraction, *, across: bool) -> ModelPoint:
    return (along, across_) if across else (across_, along)
