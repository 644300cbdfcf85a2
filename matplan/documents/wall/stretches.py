"""A wall too long for a paper at the smallest scale: stretches of it from left to right, each frame whole on one.

A wall is divided where no frame and no label is, and where nothing else stands either, if such a place is near.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import Final

from matplan.documents.parts.page import papers, scales
from matplan.documents.parts.paper import PaperSize
from matplan.drawing.frame import drawing_area
from matplan.drawing.items import ModelBox
from matplan.job.records import Job
from matplan.lengths import ZERO, Step
from matplan.walls.records import HungFrame, SolvedWall, place_of
from matplan.walls.work import Mark, in_order, marks

MOST: Final = 40
"""Into so many stretches a wall is divided at most: 100 m, which no length exceeds, in parts of 2.5 m."""
_CLEAR: Final = Fraction(100)
"""Millimetres left free beside a frame where a wall is divided, if there are as many."""
_NEAR: Final = Fraction(1, 4)
"""The part of a stretch by which it may be longer or shorter to keep a thing whole."""

type _Span = tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A part of a wall from `left` to `right`, with the frames that hang there; `first` is the first one's number."""

    wall: SolvedWall
    """The wall with these frames alone."""
    left: Fraction
    right: Fraction
    hooks: tuple[Mark, ...]
    first: int = 1
    place: int = 1
    count: int = 1

    @property
    def box(self) -> ModelBox:
        return (self.left, ZERO, self.right - self.left, self.wall.ask.size.height)

    @property
    def begins(self) -> bool:
        """Whether it has the wall's left edge."""
        return self.place == 1

    @property
    def ends(self) -> bool:
        """Whether it has the wall's right edge."""
        return self.place == self.count


def whole(wall: SolvedWall) -> Stretch:
    """Return all of a wall."""
    return Stretch(wall=wall, left=ZERO, right=wall.ask.size.width, hooks=marks(wall))


def divided(wall: SolvedWall, count: int, step: Step) -> tuple[Stretch, ...]:
    """Return about equal stretches; none where frames leave no place to divide the wall at."""
    width = wall.ask.size.width
    cuts = [_cut(wall, width * n / count, width / count * _NEAR, step) for n in range(1, count)]
    stops = [ZERO, *(cut for cut in cuts if cut is not None), width]
    if None in cuts or any(b <= a for a, b in pairwise(stops)):
        return ()
    order = in_order(wall)
    found = []
    for place, (left, right) in enumerate(pairwise(stops), 1):
        own = [number for number, hung in enumerate(order, 1) if left <= hung.spot.left < right]
        frames = tuple(hung for hung in wall.frames if left <= hung.spot.left < right)
        hooks = tuple(mark for mark in marks(wall) if left <= mark.hung.spot.left < right)
        shown = replace(wall, frames=frames)
        first = min(own, default=1)
        found.append(Stretch(wall=shown, left=left, right=right, hooks=hooks, first=first, place=place, count=count))
    return tuple(found)


def _cut(wall: SolvedWall, ideal: Fraction, near: Fraction, step: Step) -> Fraction | None:
    """Return the place next to an ideal one at which nothing stands, else at which no frame hangs."""
    hung = [_span(frame) for frame in wall.frames]
    things = [*map(place_of, wall.ask.furniture), *map(place_of, wall.ask.keep_clear)]
    beside = _nearest([*hung, *((place.left, place.right) for place in things)], wall, ideal, step)
    if beside is not None and abs(beside - ideal) <= near:
        return beside
    return _nearest(hung, wall, ideal, step)


def _span(hung: HungFrame) -> _Span:
    """Return what a frame with its label takes across."""
    spots = [spot for spot in (hung.spot, hung.label) if spot is not None]
    return min(spot.left for spot in spots), max(spot.right for spot in spots)


def _nearest(taken: Sequence[_Span], wall: SolvedWall, ideal: Fraction, step: Step) -> Fraction | None:
    places = []
    for low, high in _free(taken, wall.ask.size.width):
        off = min(_CLEAR, (high - low) / 2)
        place = min(max(ideal, low + off), high - off)
        snapped = step.nearest(place)
        places.append(snapped if low < snapped < high else place)
    return min(places, key=lambda place: abs(place - ideal), default=None)


def _free(taken: Sequence[_Span], width: Fraction) -> Iterator[_Span]:
    """Yield what is free across the wall."""
    at = ZERO
    for low, high in sorted(taken):
        if low > at:
            yield at, low
        at = max(at, high)
    if at < width:
        yield at, width


def divisions(wall: SolvedWall, job: Job) -> Iterator[tuple[tuple[Stretch, ...], PaperSize, Fraction]]:
    """Yield ways to divide a wall that leave each stretch on its page, the fewest pages first: with the paper, on which
    it lies or stands, and the scale.
    """
    for count in range(2, MOST + 1):
        parts = divided(wall, count, job.step)
        widest, high = max((part.right - part.left for part in parts), default=ZERO), wall.ask.size.height
        for upright in papers(job.units)[:2] if parts else ():
            for size in (upright[::-1], upright):
                area = drawing_area(size)
                for scale in scales(job.units):
                    if float(widest * scale) <= area.width and float(high * scale) <= area.height:
                        yield parts, size, scale
