"""Tables in columns beside one another, below a drawing or at its right, and on as many pages as they need."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import repeat, tee
from typing import Final

from matplan.drawing.blocks import Table
from matplan.drawing.items import Area, Item

GAP: Final = 5.0
"""Between a drawing and its tables."""
_MOST: Final = 0.5
"""The part of a page's height or width that tables beside a drawing may take."""
BETWEEN: Final = 7.0
"""Between two columns of tables."""
_BELOW: Final = 6.0
"""Between two tables in one column."""
_STEP: Final = 3.0
_ROWS: Final = 4
"""A column has at least so many rows where its table has them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Chunk:
    """Rows of a table that stand below one another, and where from the page's corner."""

    table: Table
    first: int
    last: int
    x: float
    y: float

    @property
    def right(self) -> float:
        return self.x + sum(self.table.widths)

    @property
    def bottom(self) -> float:
        return self.y + self.table.head_height + sum(self.table.heights[self.first : self.last])


def rooms(room: Area, tables: Sequence[Table]) -> Iterator[tuple[Area, Area | None]]:
    """Yield the room of a drawing and that of its tables: below, at the right, and on a page of their own."""
    if not tables:
        yield room, None
        return
    high = least_height(tables, room.width, room.height * _MOST)
    if high is not None:
        below = Area(x=room.x, y=room.bottom - high, width=room.width, height=high + 0.01)
        yield room.inset(0, 0, 0, high + GAP), below
    wide = width_of(tables, room.height)
    if wide < room.width * _MOST:
        beside = Area(x=room.right - wide, y=room.y, width=wide + 0.01, height=room.height)
        yield room.inset(0, 0, wide + GAP, 0), beside
    yield room, None


def least_height(tables: Sequence[Table], width: float, most: float) -> float | None:
    """Return the least height in which the tables stand on one page of that width, or `None` above `most`."""
    if not tables:
        return 0.0
    abreast = max(1, columns_in(width, min(sum(table.widths) for table in tables)))
    level = sum(table.head_height + sum(table.heights) for table in tables) / abreast
    height = max(level, *(table.head_height + sum(table.heights[:_ROWS]) for table in tables))
    while height <= most:
        pages = list(_paged(tables, _alike(width, height)))
        needed = max(chunk.bottom for chunk in pages[0])
        if len(pages) == 1 and needed <= height:
            return needed
        height += _STEP
    return None


def columns_in(width: float, column: float) -> int:
    """Return how many columns of that width stand beside one another."""
    return max(0, int((width + BETWEEN) / (column + BETWEEN)))


def width_of(tables: Sequence[Table], height: float) -> float:
    """Return how wide the tables are in columns of that height."""
    (page,) = _paged(tables, _alike(float("inf"), height))
    return max(chunk.right for chunk in page)


def set_in(tables: Sequence[Table], areas: Iterator[Area], classes: tuple[str, ...] = ()) -> Iterator[tuple[Item, ...]]:
    """Yield the tables' items for each of the areas that they need."""
    areas, same = tee(areas)
    for page, area in zip(_paged(tables, areas), same, strict=False):
        yield tuple(
            item
            for chunk in page
            for item in chunk.table.block(chunk.first, chunk.last, area.x + chunk.x, area.y + chunk.y, classes).items
        )


def _alike(width: float, height: float) -> Iterator[Area]:
    """Return pages of one size."""
    return repeat(Area(x=0.0, y=0.0, width=width, height=height))


def _paged(tables: Sequence[Table], areas: Iterator[Area]) -> Iterator[list[_Chunk]]:
    """Yield the rows of each page in columns: a table begins below the last one where all of it has room there."""
    area = next(areas)
    page: list[_Chunk] = []
    x = y = right = 0.0
    for table in tables:
        wide, whole = sum(table.widths), table.head_height + sum(table.heights)
        if page and (y + _BELOW + whole > area.height or x + wide > area.width):
            x, y = right + BETWEEN, 0.0
        elif page:
            y += _BELOW
        first = 0
        while first < len(table.heights):
            if page and x + wide > area.width:
                yield page
                area = next(areas)
                page, x, y, right = [], 0.0, 0.0, 0.0
            last, low = first, y + table.head_height
            while last < len(table.heights) and (last == first or low + table.heights[last] <= area.height):
                low += table.heights[last]
                last += 1
            page.append(_Chunk(table=table, first=first, last=last, x=x, y=y))
            right, y, first = max(right, x + wide), low, last
            if first < len(table.heights):
                x, y = right + BETWEEN, 0.0
    if page:
        yield page
