"""How a board is cut on a mat cutter: each straight cut with its gauge setting, in the order in which they are made.

A board is cut from its back, lying face down, so that its left and right change sides; its top stays away from the
person. The gauge is set to the distance of a cut from the board's edge on the same side of the window: the border that
stays.

Order: the settings from the smallest to the largest, so that the gauge moves one way only and play in its stop does no
harm; at one setting the edges as the board is turned by quarters (top, left, bottom, right as it lies); along an edge
the windows in reading order. Each cut runs with its window on one side of the travel, the left where the cutter does
not say otherwise, so that a window's corners are met one after the other.

Points are the plan's: x to the right and y down from the blank's top left corner, seen from the front.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from matplan.job.records import Cutter, Hand
from matplan.lengths import Size
from matplan.mats.letters import letter_of
from matplan.mats.outline_cuts import ANY_CUTTER, overrun, runs_along_an_edge
from matplan.mats.outlines import Outline
from matplan.mats.records import Layer

type Rows = Sequence[Sequence[int]]
"""The openings' places in their layer, row by row as framed."""
type Point = tuple[Fraction, Fraction]


class Edge(StrEnum):
    """An edge of a board as it lies face down on the cutter, in the order in which quarter turns clockwise bring them
    to the gauge.
    """

    TOP = "top"
    LEFT = "left"
    BOTTOM = "bottom"
    RIGHT = "right"

    @property
    def framed(self) -> Edge:
        """The same edge as it is called in the frame, seen from the front."""
        return {Edge.LEFT: Edge.RIGHT, Edge.RIGHT: Edge.LEFT}.get(self, self)


class By(StrEnum):
    """What leads the blade along a straight cut."""

    GUIDE = "guide"
    HAND = "hand"
    """Marked, and cut along a straight-edge: the guide does not reach so far."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeCut:
    """One straight cut along a board edge. `window` is the opening's place in the layer.

    `corners` are the marked corners that it passes, `start` and `stop` the blade's points beyond them, both in the
    direction of travel. `near` is the distance of the start from the board's near edge, which lies behind the blade,
    and `far` that of the stop from the far edge, ahead of it.
    """

    number: int
    window: int
    edge: Edge
    setting: Fraction
    corners: tuple[Point, Point]
    start: Point
    stop: Point
    near: Fraction
    far: Fraction
    by: By = By.GUIDE

    @property
    def length(self) -> Fraction:
        """How far the blade travels from start to stop."""
        return max(self.box[2:])

    @property
    def reversed(self) -> GaugeCut:
        """The same cut with the window on the other side of the travel."""
        return replace(self, corners=self.corners[::-1], start=self.stop, stop=self.start, near=self.far, far=self.near)

    @property
    def box(self) -> tuple[Fraction, Fraction, Fraction, Fraction]:
        """The line from start to stop as a box without width or height."""
        (x1, y1), (x2, y2) = self.start, self.stop
        return (min(x1, x2), min(y1, y2), abs(x2 - x1), abs(y2 - y1))


def gauge_cuts(layer: Layer, blank: Size, rows: Rows, cutter: Cutter = ANY_CUTTER) -> tuple[GaugeCut, ...]:
    """Return every cut along a board edge, numbered from 1 in their order: the level and upright sides of all openings.

    `rows` hold the openings' places. A cut that the cutter's guide or track does not reach is made by hand.
    """
    found = [
        _on(cutter, cut)
        for window, opening in enumerate(layer.openings)
        for cut in _along_edges(window, opening.back, layer, blank)
    ]
    edges, reading = list(Edge), reading_order(rows)
    found.sort(key=lambda cut: (cut.setting, edges.index(cut.edge), reading.index(cut.window)))
    return tuple(replace(cut, number=number) for number, cut in enumerate(found, 1))


def _on(cutter: Cutter, cut: GaugeCut) -> GaugeCut:
    """Return the cut as it is made on that cutter: its direction, and by what the blade is led."""
    cut = cut if cutter.window_side is Hand.LEFT else cut.reversed
    return cut if guided(cut, cutter) and not too_long(cut, cutter) else replace(cut, by=By.HAND)


def guided(cut: GaugeCut, cutter: Cutter) -> bool:
    """Return whether the cutter's guide can be set as far as the cut asks."""
    return cutter.widest_border is None or cut.setting <= cutter.widest_border


def too_long(cut: GaugeCut, cutter: Cutter) -> bool:
    """Return whether the cut is longer than the cutter's track."""
    return cutter.longest_cut is not None and cut.length > cutter.longest_cut


def reading_order(rows: Rows) -> tuple[int, ...]:
    """Return the openings' places as they are read on the board as it lies: row by row, each from its left."""
    return tuple(window for row in rows for window in reversed(row))


def window_letters(rows: Rows) -> tuple[str, ...]:
    """Return a letter for each opening, in reading order as the board lies: A … Z, AA …; "" if there is but one.

    >>> window_letters(((0, 1), (2,)))
    ('B', 'A', 'C')
    """
    order = reading_order(rows)
    if len(order) == 1:
        return ("",)
    return tuple(letter_of(order.index(window)) for window in range(len(order)))


def _along_edges(window: int, back: Outline, layer: Layer, blank: Size) -> Iterator[GaugeCut]:
    """Yield the cuts along the opening's level and upright sides, not yet numbered."""
    sides = back.segments
    for at, side in enumerate(sides):
        if runs_along_an_edge(side):
            run_up, run_on = overrun(sides[at - 1], side, layer), overrun(side, sides[(at + 1) % len(sides)], layer)
            yield _along_edge(window, (side.start, side.end), run_up, run_on, blank)


def _along_edge(window: int, corners: tuple[Point, Point], run_up: Fraction, run_on: Fraction, blank: Size) -> GaugeCut:
    """Return the cut between two corners, clockwise as framed: as it lies the plan's left is at the right, and the way
    counter-clockwise.
    """
    (x1, y1), (x2, y2) = corners
    dx, dy = (x2 > x1) - (x2 < x1), (y2 > y1) - (y2 < y1)
    start, stop = (x1 - dx * run_up, y1 - dy * run_up), (x2 + dx * run_on, y2 + dy * run_on)
    # where the window lies below the cut as framed, the border that stays is the top one, and so on round
    edge, setting = {
        (1, 0): (Edge.TOP, y1),
        (0, 1): (Edge.LEFT, blank.width - x1),
        (-1, 0): (Edge.BOTTOM, blank.height - y1),
        (0, -1): (Edge.RIGHT, x1),
    }[dx, dy]
    axis = 0 if dx else 1
    near, far = start[axis], stop[axis]
    whole = blank.width if dx else blank.height
    before, after = (near, whole - far) if dx + dy > 0 else (whole - near, far)
    return GaugeCut(
        number=0,
        window=window,
        edge=edge,
        setting=setting,
        corners=corners,
        start=start,
        stop=stop,
        near=before,
        far=after,
    )
