"""How a board is cut on a mat cutter: each straight cut with its gauge setting, in the order in which they are made.

A board is cut from its back, lying face down, so that its left and right change sides; its top stays away from the person. The
gauge is set to the distance of a cut from the board's edge on the same side of the window: the border that stays.

Order: the settings from the smallest to the largest, so that the gauge moves one way only and play in its stop does no
harm; at one setting the edges as the board is turned by quarters (top, left, bottom, right as it lies); along an edge the windows in
reading order. Each cut runs with its window on the left of the travel, so that a window's corners are met one after the other.

Points are the plan's: x to the right and y down from the blank's top left corner, seen from the front.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from itertools import groupby

from matplan.job.records import Shape
from matplan.lengths import Box, Size
from matplan.mats.outlines import Outline
from matplan.mats.records import Layer

type Rows = Sequence[Sequence[int]]
"""The openings' places in their layer, row by row as framed."""
type Point = tuple[Fraction, Fraction]


class Edge(StrEnum):
    """An edge of a board as it lies face down on the cutter, in the order in which quarter turns clockwise bring them to the gauge."""

    TOP = "top"
    LEFT = "left"
    BOTTOM = "bottom"
    RIGHT = "right"

    @property
    def framed(self) -> Edge:
        """The same edge as it is called in the frame, seen from the front."""
        return {Edge.LEFT: Edge.RIGHT, Edge.RIGHT: Edge.LEFT}.get(self, self)


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeCut:
    """One straight cut along a board edge. `window` is the opening's place in the layer.

    `corners` are the marked corners that it passes, `start` and `stop` the blade's points beyond them, both in the direction of travel.
    `behind` and `ahead` are the distances of start and stop from the board's edges behind and ahead of the blade.
    """

    number: int
    window: int
    edge: Edge
    setting: Fraction
    corners: tuple[Point, Point]
    start: Point
    stop: Point
    behind: Fraction
    ahead: Fraction

    @property
    def box(self) -> tuple[Fraction, Fraction, Fraction, Fraction]:
        """The line from start to stop as a box without width or height."""
        (x1, y1), (x2, y2) = self.start, self.stop
        return (min(x1, x2), min(y1, y2), abs(x2 - x1), abs(y2 - y1))


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineCut:
    """The one cut round a shaped opening, which follows its drawn outline and ends past its own start, at `start`.

    `ahead` is a point that the travel makes for from there: clockwise as framed, counter-clockwise as it lies.
    """

    number: int
    window: int
    start: Point
    ahead: Point


def outline_cuts(layer: Layer, rows: Rows, after: int) -> tuple[OutlineCut, ...]:
    """The cuts of the layer's shaped openings in reading order, numbered on from the number given."""
    shaped = [window for window in reading_order(rows) if not layer.openings[window].back.upright]
    return tuple(
        OutlineCut(number=number, window=window, start=start, ahead=ahead)
        for number, window in enumerate(shaped, after + 1)
        for start, ahead in [_first_of(layer.openings[window].back)]
    )


def _first_of(line: Outline) -> tuple[Point, Point]:
    """Where the cut round that outline begins, and a point ahead: at the top of a round one, else at its first corner."""
    if line.shape in (Shape.CIRCLE, Shape.OVAL):
        x, _ = line.box.centre
        return (x, line.box.y), (line.box.right, line.box.y)
    first, second, *_ = line.points()
    return first, second


def gauge_cuts(layer: Layer, blank: Size, rows: Rows) -> tuple[GaugeCut, ...]:
    """Every cut of the layer's rectangular openings, numbered from 1 in their order; `rows` hold the openings' places."""
    found = [
        cut
        for window, opening in enumerate(layer.openings)
        if opening.back.upright
        for cut in _round_window(window, opening.back.box, blank, layer.overcut)
    ]
    edges, reading = list(Edge), reading_order(rows)
    found.sort(key=lambda cut: (cut.setting, edges.index(cut.edge), reading.index(cut.window)))
    return tuple(replace(cut, number=number) for number, cut in enumerate(found, 1))


def by_setting(cuts: Sequence[GaugeCut]) -> Iterator[tuple[Fraction, tuple[GaugeCut, ...]]]:
    """The gauge's settings in their order, each with its cuts."""
    for setting, same in groupby(cuts, key=lambda cut: cut.setting):
        yield setting, tuple(same)


def reading_order(rows: Rows) -> tuple[int, ...]:
    """The openings' places as one reads them on the board as it lies: row by row downwards, each from its left."""
    return tuple(window for row in rows for window in reversed(row))


def _round_window(window: int, back: Box, blank: Size, overcut: Fraction) -> Iterator[GaugeCut]:
    """The window's four cuts, not yet numbered."""
    corners = {
        # as it lies the plan's left is at the right: the cuts run counter-clockwise as it lies, clockwise as framed
        Edge.TOP: ((back.x, back.y), (back.right, back.y)),
        Edge.LEFT: ((back.right, back.y), (back.right, back.bottom)),
        Edge.BOTTOM: ((back.right, back.bottom), (back.x, back.bottom)),
        Edge.RIGHT: ((back.x, back.bottom), (back.x, back.y)),
    }
    settings = {
        Edge.TOP: back.y,
        Edge.LEFT: blank.width - back.right,
        Edge.BOTTOM: blank.height - back.bottom,
        Edge.RIGHT: back.x,
    }
    edges = list(Edge)
    for number, edge in enumerate(edges):
        first, last = corners[edge]
        along = _direction(first, last)
        yield GaugeCut(
            number=0,
            window=window,
            edge=edge,
            setting=settings[edge],
            corners=(first, last),
            start=(first[0] - along[0] * overcut, first[1] - along[1] * overcut),
            stop=(last[0] + along[0] * overcut, last[1] + along[1] * overcut),
            behind=settings[edges[number - 1]] - overcut,
            ahead=settings[edges[(number + 1) % 4]] - overcut,
        )


def _direction(first: Point, last: Point) -> tuple[int, int]:
    dx, dy = last[0] - first[0], last[1] - first[1]
    return ((dx > 0) - (dx < 0), (dy > 0) - (dy < 0))
