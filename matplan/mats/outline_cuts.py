"""The cuts of shaped openings that no gauge guides: rounds by a cutter of circles and ovals, slopes along a
straight-edge.

A shaped opening's level and upright sides are gauge cuts like any other; what is left of its outline stands here. Every
piece is cut clockwise as framed, with the opening on the left of the travel as the board lies, or the other way where
the cutter's head asks for the opening on its right.

At a corner a bevel's blade must run on until the cut at the board's face meets the next one: board's thickness ×
cot(α / 2) past the mark, with α the opening's angle, and the cutter's own set-back besides (derived; one thickness at a
right angle, less at a blunt corner). A reverse or straight cut needs the set-back alone. At a reflex corner, where
board stands into the opening, the blade stops on the mark.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from matplan.job.records import Cutter, Hand
from matplan.lengths import Box
from matplan.mats.records import Layer
from matplan.mats.shapes.roots import ROOT_2, Point, near, root
from matplan.mats.shapes.segments import Arc, Parallel, Segment, Straight

ANY_CUTTER: Final = Cutter()
"""A cutter of which nothing is known: no limits, the window on the left of the travel."""

type Way = tuple[Fraction, Fraction]
"""A unit vector in the plan's frame of reference."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlineCut:
    """One cut along a piece of a shaped outline: a whole circle or oval, an arc, or a slope.

    `marks` are the marked ends that it passes, `start` and `stop` the blade's points; both are the top of a whole
    round. `heading` and `leaving` are its directions there.
    """

    number: int
    window: int
    pieces: tuple[Segment, ...]
    marks: tuple[Point, Point]
    start: Point
    stop: Point
    heading: Way
    leaving: Way

    @property
    def round(self) -> Arc | None:
        """The circle or ellipse that a cutter of rounds is set to, None for a slope."""
        first = self.pieces[0]
        return first if isinstance(first, Arc) else None

    @property
    def whole(self) -> bool:
        """Whether it goes all round."""
        return len(self.pieces) > 1

    @property
    def box(self) -> Box:
        """The bounds of what the blade follows."""
        points = [
            self.start,
            self.stop,
            *(p for piece in self.pieces for p in (piece.start, *piece.inner(Fraction(1, 10)), piece.end)),
        ]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return Box(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))

    @property
    def middle(self) -> tuple[Point, Way]:
        """A point of it clear of axes, the half-way one where there are none, and which way the opening lies from
        there.
        """
        arc = self.round
        if arc is not None and self.whole:
            (x, y), part = arc.centre, ROOT_2 / 2
            point = (near(x + arc.rx * part), near(y - arc.ry * part))
            across, down = arc.normal(point)
            return point, (-across, -down)
        if arc is not None:
            (_, y), (left, _), (right, _) = arc.centre, arc.start, arc.end
            return ((left + right) / 2, y - arc.ry), (Fraction(0), Fraction(1))
        (x1, y1), (x2, y2) = self.marks
        return ((x1 + x2) / 2, (y1 + y2) / 2), inwards(way_at(self.pieces[0], self.pieces[0].start))

    @property
    def reversed(self) -> OutlineCut:
        """The same cut with the opening on the other side of the travel."""
        (hx, hy), (lx, ly) = self.heading, self.leaving
        return replace(
            self, marks=self.marks[::-1], start=self.stop, stop=self.start, heading=(-lx, -ly), leaving=(-hx, -hy)
        )


def inwards(way: Way) -> Way:
    """Return the way to the right of a clockwise way: into the opening."""
    return -way[1], way[0]


def runs_along_an_edge(piece: Segment) -> bool:
    """Return whether a gauge guides the cut along that piece: it is straight, and level or upright."""
    return isinstance(piece, Straight) and (piece.start[0] == piece.end[0] or piece.start[1] == piece.end[1])


def way_at(piece: Segment, point: Point) -> Way:
    """Return the direction of a piece at one of its ends."""
    match piece:
        case Straight(start=(x1, y1), end=(x2, y2)) if x1 == x2 or y1 == y2:
            return Fraction((x2 > x1) - (x2 < x1)), Fraction((y2 > y1) - (y2 < y1))
        case Straight(start=(x1, y1), end=(x2, y2)):
            length = root((x2 - x1) ** 2 + (y2 - y1) ** 2)
            return (x2 - x1) / length, (y2 - y1) / length
        case Arc():
            across, down = piece.normal(point)
            return -down, across
        case Parallel():
            raise ValueError("the outline on a board's back has no parallel curves")


def overrun(before: Segment, behind: Segment, layer: Layer) -> Fraction:
    """Return how far past a corner the blade runs, on either of its two cuts."""
    (ax, ay), (bx, by) = way_at(before, before.end), way_at(behind, behind.start)
    turn, level = ax * by - ay * bx, ax * bx + ay * by
    if turn < 0:
        return Fraction(0)
    return near(layer.bevel * turn / (1 + level)) + layer.setback  # cot(α/2) = tan of half the turn


def outline_cuts(layer: Layer, order: Sequence[int], after: int, cutter: Cutter = ANY_CUTTER) -> tuple[OutlineCut, ...]:
    """Return the cuts of the layer's shaped openings, window by window in that order, numbered on from `after`."""
    found = _clockwise(layer, order, after)
    return tuple(found if cutter.window_side is Hand.LEFT else [cut.reversed for cut in found])


def _clockwise(layer: Layer, order: Sequence[int], after: int) -> list[OutlineCut]:
    found: list[OutlineCut] = []
    for window in order:
        back = layer.openings[window].back
        if back.upright:
            continue
        if back.ellipse:
            top = (back.box.centre[0], back.box.y)
            level = (Fraction(1), Fraction(0))
            number = after + len(found) + 1
            found.append(
                OutlineCut(
                    number=number,
                    window=window,
                    pieces=back.line,
                    marks=(top, top),
                    start=top,
                    stop=top,
                    heading=level,
                    leaving=level,
                )
            )
            continue
        for at, piece in enumerate(back.line):
            if not runs_along_an_edge(piece):
                found.append(_open(after + len(found) + 1, window, back.line, at, layer))
    return found


def _open(number: int, window: int, line: Sequence[Segment], at: int, layer: Layer) -> OutlineCut:
    """Return the cut along one piece between two corners. An arc is drawn from mark to mark."""
    piece = line[at]
    heading, leaving = way_at(piece, piece.start), way_at(piece, piece.end)
    start, stop = piece.start, piece.end
    if isinstance(piece, Straight):
        back, on = overrun(line[at - 1], piece, layer), overrun(piece, line[(at + 1) % len(line)], layer)
        start = near(start[0] - heading[0] * back), near(start[1] - heading[1] * back)
        stop = near(stop[0] + leaving[0] * on), near(stop[1] + leaving[1] * on)
    return OutlineCut(
        number=number,
        window=window,
        pieces=(piece,),
        marks=(piece.start, piece.end),
        start=start,
        stop=stop,
        heading=heading,
        leaving=leaving,
    )
