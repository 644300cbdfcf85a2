"""The dimensions of a cutting diagram: chains from edge to edge of the blank, each adding up to its width or height.

Below and at the left stand the window's own figures with the whole blank outside them; where a board has rows of
windows, the first row stands above and the other ends of the rows at the right, if they differ.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from matplan.drawing.dimensions import Dimension, ModelPoint, Side, Style
from matplan.drawing.items import Size
from matplan.job.records import Shape
from matplan.lengths import Box, Printer
from matplan.lengths import Size as BlankSize
from matplan.mats.outlines import Outline

BIG: Final = Style(size=Size.TITLE, first=9.0, pitch=9.0, arrow=3.0, arrow_width=1.0, gap=3.2, lift=1.5, pad=1.1)
"""Figures to be read at arm's length; the gap leaves room for start and stop marks."""
PLAIN: Final = Style(size=Size.NORMAL, first=8.0, pitch=7.5, gap=3.2)
"""The same where the large ones find no room."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Reach:
    """An opening's bounds, and whether it touches them in the middles of its sides only (a circle, an oval)."""

    box: Box
    round: bool = False

    def near(self, side: Side) -> Fraction:
        """Where, across the side, the opening's ends are that a dimension on that side is drawn from."""
        x, y = self.box.centre
        if self.round:
            return y if side.across else x
        return {Side.ABOVE: self.box.y, Side.BELOW: self.box.bottom, Side.RIGHT: self.box.x, Side.LEFT: self.box.right}[
            side
        ]


def dimensions_of(
    openings: Sequence[Outline], rows: Sequence[Sequence[int]], blank: BlankSize, printer: Printer
) -> tuple[Dimension, ...]:
    """Every dimension of the board; `rows` hold the openings' places. Gauge settings are bold."""
    reaches = [_Reach(box=line.box, round=line.shape in (Shape.CIRCLE, Shape.OVAL)) for line in openings]
    return _dimensions([[reaches[n] for n in row] for row in rows], blank, printer)


def block_dimensions(openings: Sequence[Outline], blank: BlankSize, printer: Printer) -> tuple[Dimension, ...]:
    """The borders round all openings together, for a board whose windows leave no room for more."""
    return _dimensions([[_Reach(box=_around([line.box for line in openings]))]], blank, printer)


def _dimensions(across: Sequence[Sequence[_Reach]], blank: BlankSize, printer: Printer) -> tuple[Dimension, ...]:
    found: list[Dimension] = []
    found += _chain(across[-1], Side.BELOW, blank, printer)
    if _stops(across[0], Side.ABOVE) != _stops(across[-1], Side.BELOW):
        found += _chain(across[0], Side.ABOVE, blank, printer)
    at_left = [row[-1] for row in across]  # as it lies the last window of a row is the leftmost
    at_right = [row[0] for row in across]
    found += _chain(at_left, Side.LEFT, blank, printer)
    if _stops(at_right, Side.RIGHT) != _stops(at_left, Side.LEFT):
        found += _chain(at_right, Side.RIGHT, blank, printer)
    return (*found, *_whole(blank, printer))


def _stops(reaches: Sequence[_Reach], side: Side) -> list[Fraction]:
    boxes = [reach.box for reach in reaches]
    return [stop for box in boxes for stop in ((box.x, box.right) if side.across else (box.y, box.bottom))]


def _joined(reaches: Sequence[_Reach], side: Side) -> Iterator[_Reach]:
    """The openings along a chain, those that run into one another as one."""
    last: _Reach | None = None
    for reach in reaches:
        if last is None:
            last = reach
        elif _stops([reach], side)[0] < _stops([last], side)[1]:
            last = _Reach(box=_around([last.box, reach.box]))
        else:
            yield last
            last = reach
    if last is not None:
        yield last


def _around(boxes: Sequence[Box]) -> Box:
    x, y = min(box.x for box in boxes), min(box.y for box in boxes)
    return Box(x, y, max(box.right for box in boxes) - x, max(box.bottom for box in boxes) - y)


def _chain(reaches: Sequence[_Reach], side: Side, blank: BlankSize, printer: Printer) -> Iterator[Dimension]:
    """From one edge of the blank over every window to the other."""
    level = {Side.ABOVE: Fraction(0), Side.BELOW: blank.height, Side.RIGHT: Fraction(0), Side.LEFT: blank.width}[side]
    points: list[ModelPoint] = [(Fraction(0), level) if side.across else (level, Fraction(0))]
    for reach in _joined(reaches, side):
        near = reach.near(side)
        points += [(stop, near) if side.across else (near, stop) for stop in _stops([reach], side)]
    points.append((blank.width, level) if side.across else (level, blank.height))
    axis = 0 if side.across else 1
    last = len(points) - 2
    for number, (start, end) in enumerate(pairwise(points)):
        length = end[axis] - start[axis]
        if length <= 0:
            continue
        border = number in (0, last)
        kind = "gauge" if border else "opening" if number % 2 else "web"
        yield Dimension(
            start=start,
            end=end,
            side=side,
            label=printer.number(length),
            id=f"{side}-{number + 1}",
            classes=(kind,),
            bold=border,
        )


def _whole(blank: BlankSize, printer: Printer) -> Iterator[Dimension]:
    nought = Fraction(0)
    low, left = (nought, blank.height), (blank.width, nought)  # the plan's right is at the left as it lies
    corner = (blank.width, blank.height)
    yield Dimension(
        start=low, end=corner, side=Side.BELOW, label=printer.number(blank.width), id="blank-width", classes=("whole",)
    )
    yield Dimension(
        start=left,
        end=corner,
        side=Side.LEFT,
        label=printer.number(blank.height),
        id="blank-height",
        classes=("whole",),
    )
