"""Where two sheets of a tiled drawing are joined: a line to trim along, and marks that both of them show at the same
places.

A mark is a diamond about a point of the join with its letter, so that half of it stays on either side of the trimmed
edge.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from matplan.documents.parts.free_places import Taken
from matplan.documents.parts.windowed import Window, runs
from matplan.documents.tiled.lines import ModelLine
from matplan.documents.tiled.tiling import OVERLAP, Tile, Tiling, on_paper
from matplan.drawing import lettering
from matplan.drawing.items import Anchor, Area, Group, Item, Level, Line, Point, Polyline, Text
from matplan.drawing.pens import Pen
from matplan.lengths import Box
from matplan.mats.letters import letter_of
from matplan.mats.shapes.segments import Straight

_HALF: Final = 4.4
"""Half a diamond's diagonal: it stays within the overlap."""
_LETTER, _LETTERS = 2.5, 2.0
"""Capitals of a mark's letter, and of one with two."""
_OFF_CORNER: Final = 16.0
"""What the marks keep from the ends of a join, where four sheets meet."""
_PLACES: Final = 24


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A join mark: its letter and the point of the plan that it stands about; where its letter stands, from there.

    `crowded` tells that lines run on all sides, so that the letter stands on one of them.
    """

    letter: str
    at: tuple[Fraction, Fraction]
    beside: Point = (0.0, 0.0)
    crowded: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """What two neighbours share: the model line along which one is trimmed, its marks, and the neighbours' rows and
    columns.
    """

    sheets: tuple[tuple[int, int], tuple[int, int]]
    start: tuple[Fraction, Fraction]
    end: tuple[Fraction, Fraction]
    marks: tuple[Mark, ...]


def joins(tiling: Tiling, lines: Sequence[ModelLine]) -> tuple[Join, ...]:
    """Every join between two sheets that are printed, two marks on each, clear of the lines where that can be."""
    printed = {(tile.row, tile.column): tile for tile in tiling.tiles}
    found: list[Join] = []
    count = 0
    for tile in tiling.tiles:
        for key in ((tile.row, tile.column + 1), (tile.row + 1, tile.column)):
            other = printed.get(key)
            if other is not None:
                join = _join(tile, other, count, lines)
                count += len(join.marks)
                found.append(join)
    return tuple(found)


def _join(first: Tile, second: Tile, count: int, lines: Sequence[ModelLine]) -> Join:
    one, two = first.window, second.window
    shared = Box(two.x, two.y, one.right - two.x, one.bottom - two.y)
    beside = first.row == second.row
    if beside:
        x = two.x + OVERLAP / 2
        start, end = (x, shared.y), (x, shared.bottom)
    else:
        y = two.y + OVERLAP / 2
        start, end = (shared.x, y), (shared.right, y)
    sheets = ((first.row, first.column), (second.row, second.column))
    return Join(sheets=sheets, start=start, end=end, marks=tuple(_marks(shared, beside, count, lines)))


def _marks(shared: Box, beside: bool, count: int, lines: Sequence[ModelLine]) -> Iterator[Mark]:
    """One mark in each half of the overlap, as near to the half's middle as the lines allow."""
    window = Window.on(shared)
    taken = Taken()
    for line in lines:
        if window.meets(line.bounds):
            for run in runs(line.segments, window):
                taken.run(run)
    length = window.height if beside else window.width
    for half in (0, 1):
        letter = letter_of(count + half)
        middle = length * (1 + 2 * half) / 4
        reach = max(0.0, length / 4 - _OFF_CORNER)
        places = [middle + reach * n / _PLACES * sign for n in range(_PLACES + 1) for sign in ((1, -1) if n else (1,))]
        along, offset, crowded = _place(taken, places, float(OVERLAP) / 2, beside, letter)
        exact = Fraction(round(along * 1000), 1000)
        at = (shared.x + OVERLAP / 2, shared.y + exact) if beside else (shared.x + exact, shared.y + OVERLAP / 2)
        yield Mark(letter=letter, at=at, beside=offset, crowded=crowded)


def _place(
    taken: Taken, places: Sequence[float], middle: float, beside: bool, letter: str
) -> tuple[float, Point, bool]:
    """Return how far along the join a mark stands, where its letter stands from its point, and whether on a line.

    The letter stands in the mark, else beside it, else in the mark over the line.
    """
    width = lettering.width(letter, _LETTER, True) + 0.6

    def point(along: float) -> Point:
        return (middle, along) if beside else (along, middle)

    for along in places:
        if taken.is_free(_diamond(*point(along))):
            return along, (0.0, 0.0), False
    # something runs along the join: the diamond where least meets it, its letter beside it
    outside = _HALF + _LETTER
    offsets = [(off, far) for off in (0.0, -2.8, 2.8) for far in (outside, -outside)]
    for along in sorted(places, key=lambda along: taken.count(_diamond(*point(along)))):
        x, y = point(along)
        for off, far in offsets:
            dx, dy = (off, far) if beside else (far, off)
            if taken.is_free(Area(x=x + dx - width / 2, y=y + dy - _LETTER, width=width, height=2 * _LETTER)):
                return along, (dx, dy), False
    return places[0], (0.0, 0.0), True


def _diamond(x: float, y: float) -> Area:
    """What a mark takes, and a little more."""
    half = _HALF + 0.8
    return Area(x=x - half, y=y - half, width=2 * half, height=2 * half)


def join_items(join: Join, tile: Tile) -> Iterator[Item]:
    """Return the trimming line and the marks on a sheet that shows a tile."""
    window = Window.on(tile.window)
    for run in runs([Straight(start=join.start, end=join.end)], window):
        marks = [on_paper(window.point(mark.at)) for mark in join.marks]
        yield from _broken(on_paper(run.start), on_paper(run.end), marks)
    for mark in join.marks:
        if window.holds(window.point(mark.at)):
            yield _mark_item(mark, on_paper(window.point(mark.at)))


def _broken(start: Point, end: Point, marks: Sequence[Point]) -> Iterator[Item]:
    """The trimming line, left out within the marks."""
    axis = 0 if start[1] == end[1] else 1
    ends = [start[axis], *(side for at in sorted(marks) for side in (at[axis] - _HALF, at[axis] + _HALF)), end[axis]]
    for low, high in list(pairwise(ends))[::2]:
        if high > low:
            yield Line(
                start=(low, start[1]) if axis == 0 else (start[0], low),
                end=(high, start[1]) if axis == 0 else (start[0], high),
                pen=Pen.RULE,
                classes=("join-line",),
            )


def _mark_item(mark: Mark, at: Point) -> Group:
    x, y = at
    corners = ((x, y - _HALF), (x + _HALF, y), (x, y + _HALF), (x - _HALF, y))
    diamond = Polyline(points=corners, closed=True, pen=Pen.EDGE, classes=("join-mark",))
    letter = Text(
        at=(x + mark.beside[0], y + mark.beside[1]),
        text=mark.letter,
        size=_LETTER if len(mark.letter) == 1 else _LETTERS,
        anchor=Anchor.MIDDLE,
        level=Level.MIDDLE,
        bold=True,
        halo=mark.crowded,
        classes=("join-letter",),
    )
    return Group(items=(diamond, letter), classes=("join",), data=(("letter", mark.letter),))
