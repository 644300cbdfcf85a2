"""How a drawing at full size is spread over the sheets of an office printer: which sheets, and what each of them shows.

Windows lie in the plan's coordinates. Neighbours overlap, so that they can be joined; a sheet that would show nothing
but the waste of an opening is left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil
from typing import Final

from matplan.documents.parts.windowed import Run, Window, runs, surrounds
from matplan.drawing.frame import Page
from matplan.drawing.items import Point
from matplan.lengths import Box, Size
from matplan.mats.outlines import Outline

MARGIN: Final = Fraction(10)
"""From the paper's edge to what is printed."""
CORNER: Final = (float(MARGIN), float(MARGIN))
"""The window's upper left corner on the paper."""
STRIP: Final = Fraction(18)
"""Below the window, for the ruler, the map and the words."""
OVERLAP: Final = Fraction(10)
"""What two neighbours both show."""
CLEAR: Final = Fraction(2)
"""What every window keeps free beyond the drawing, so that its edge is printed in full."""
MOST: Final = 1000
"""Sheets beyond which nobody joins them any more."""
_NEAR: Final = 6.0
"""How near a join may come to an edge that runs along it: so near that its marks would meet the edge."""


def on_paper(at: Point) -> Point:
    """Return the point of the paper where a point of the window lies."""
    return CORNER[0] + at[0], CORNER[1] + at[1]


def run_on_paper(run: Run) -> Run:
    """Return a run as it lies on the paper."""
    return Run(start=on_paper(run.start), steps=tuple(replace(step, end=on_paper(step.end)) for step in run.steps))


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """One sheet: its row and column, counted from 1 at the top left, and the part of the plan that it shows."""

    row: int
    column: int
    window: Box


@dataclass(frozen=True, slots=True, kw_only=True)
class Tiling:
    """The sheets of one drawing, row by row; `page` is their paper as it is fed, in mm."""

    page: tuple[float, float]
    rows: int
    columns: int
    windows: tuple[tuple[Box, ...], ...]
    """All windows, by row and column, those of sheets that are left out too."""
    tiles: tuple[Tile, ...]

    @property
    def left_out(self) -> int:
        """How many sheets would show waste alone."""
        return self.rows * self.columns - len(self.tiles)


def tiling(blank: Size, waste: Sequence[Outline], edges: Sequence[Box], page: Page) -> Tiling:
    """The fewest sheets of that paper, upright or lying, that show the whole blank but what lies wholly within one of
    the `waste`.

    `edges` are boxes whose sides no join should run along. Raises ValueError where there would be more than `MOST`.
    """
    ways = [_grid(blank, edges, size) for size in (page.portrait, page.landscape)]
    fitting = [way for way in ways if way.rows * way.columns <= MOST]
    if not fitting:
        least = min(way.rows * way.columns for way in ways)
        raise ValueError(f"{least} sheets")
    return min((_kept(way, waste) for way in fitting), key=lambda way: (len(way.tiles), way.page[0] > way.page[1]))


def sheets_needed(blank: Size, page: Page) -> int:
    """How many sheets the whole of that blank takes at least."""
    return min(
        _count(blank.width, w.width) * _count(blank.height, w.height)
        for w in map(window_size, (page.portrait, page.landscape))
    )


def window_size(page: tuple[float, float]) -> Size:
    """What a sheet of that paper shows."""
    width, height = (Fraction(str(side)) for side in page)
    return Size(width - 2 * MARGIN, height - 2 * MARGIN - STRIP)


def _count(length: Fraction, window: Fraction) -> int:
    return max(1, ceil((length + 2 * CLEAR - OVERLAP) / (window - OVERLAP)))


def _grid(blank: Size, edges: Sequence[Box], page: tuple[float, float]) -> Tiling:
    """All sheets of the grid; its windows are listed only where somebody would join them."""
    window = window_size(page)
    columns, rows = _count(blank.width, window.width), _count(blank.height, window.height)
    windows: tuple[tuple[Box, ...], ...] = ()
    if rows * columns <= MOST:
        left = _starts(blank.width, window.width, columns, [x for box in edges for x in (box.x, box.right)])
        top = _starts(blank.height, window.height, rows, [y for box in edges for y in (box.y, box.bottom)])
        windows = tuple(tuple(Box.of(window, x, y) for x in left) for y in top)
    return Tiling(page=page, rows=rows, columns=columns, windows=windows, tiles=())


def _starts(length: Fraction, window: Fraction, count: int, edges: Iterable[Fraction]) -> tuple[Fraction, ...]:
    """Where the windows begin along one axis: about the middle, moved within what is left over so that no join runs
    along an edge.
    """
    pitch = window - OVERLAP
    spare = pitch * count + OVERLAP - length - 2 * CLEAR
    lines = sorted({float(edge) for edge in edges})

    def touched(first: Fraction) -> int:
        joins = (float(first + n * pitch + OVERLAP / 2) for n in range(1, count))
        return sum(abs(join - line) < _NEAR for join in joins for line in lines)

    # from the middle outwards, in sixteenths of what is left over
    firsts = [-CLEAR - spare / 2 + spare * n / 16 * sign for n in range(9) for sign in ((1, -1) if n else (1,))]
    first = min(firsts, key=touched) if count > 1 else firsts[0]
    return tuple(first + n * pitch for n in range(count))


def _kept(grid: Tiling, waste: Sequence[Outline]) -> Tiling:
    tiles = tuple(
        Tile(row=row, column=column, window=window)
        for row, windows in enumerate(grid.windows, 1)
        for column, window in enumerate(windows, 1)
        if not any(_within(window, outline) for outline in waste)
    )
    return Tiling(page=grid.page, rows=grid.rows, columns=grid.columns, windows=grid.windows, tiles=tiles)


def _within(window: Box, outline: Outline) -> bool:
    """Whether the window lies inside the outline with all that it shows."""
    if not window.within(outline.box):
        return False
    return outline.upright or (
        not runs(outline.segments, Window.on(window)) and surrounds(outline.points(), window.centre)
    )
