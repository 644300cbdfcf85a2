"""The lists of a sheet layout: what the fence is set to for which cuts, and which part is which.

Lists run in columns beside one another, on as many pages as they need.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from matplan.documents.parts import wording
from matplan.documents.stock.keys import Kind
from matplan.drawing.blocks import Align, Column, Table
from matplan.drawing.items import Area, Item, Size
from matplan.lengths import Printer
from matplan.stock.records import CutLine

_BETWEEN: Final = 7.0
"""Between two columns of lists."""
_BELOW: Final = 6.0
"""Between two lists in one column."""
_STEP: Final = 3.0
_LONGEST_NAME: Final = 44


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


def lists(cuts: Sequence[CutLine], kinds: Sequence[Kind], printer: Printer) -> tuple[Table, ...]:
    """Return the table of the fence's settings, whose figures are set at the cutter, and that of the parts."""
    settings = tuple(_settings(cuts, printer))
    fence = (Column(head="Cuts", bold=True), Column(head="Fence set to", align=Align.RIGHT))
    parts = (
        Column(head="Key", bold=True),
        Column(head="Part"),
        Column(head="Size", align=Align.RIGHT),
        Column(head="Quantity", align=Align.RIGHT),
    )
    rows = [(kind.called, _name(kind.name), printer.size(kind.size), str(kind.count)) for kind in kinds]
    return (
        *((Table(fence, settings, size=Size.NORMAL, head_size=Size.SMALL, pad=1.0),) if settings else ()),
        Table(parts, rows, pad=1.1),
    )


def _name(name: str) -> str:
    """Return the name in lines of a column's width."""
    from matplan.drawing import lettering

    width = lettering.width("n" * _LONGEST_NAME, Size.SMALL)
    return "\n".join(lettering.wrapped(wording.short(name), width, Size.SMALL))


def _settings(cuts: Sequence[CutLine], printer: Printer) -> Iterator[tuple[str, ...]]:
    """Yield runs of cuts at one setting of the fence: `1–3`, `40 cm`."""
    for setting, run in groupby(enumerate(cuts, 1), key=lambda one: one[1].setting):
        numbers = [number for number, _ in run]
        yield (str(numbers[0]) if len(numbers) == 1 else f"{numbers[0]}–{numbers[-1]}"), printer.length(setting)


def least_height(tables: Sequence[Table], width: float, most: float) -> float | None:
    """Return the least height in which the lists stand on one page of that width, or `None` where `most` is too little."""
    height = _STEP
    while height <= most:
        pages = list(_paged(tables, width, height))
        needed = max(chunk.bottom for chunk in pages[0])
        if len(pages) == 1 and needed <= height:
            return needed
        height += _STEP
    return None


def width_of(tables: Sequence[Table], height: float) -> float:
    """Return how wide the lists are in columns of that height."""
    (page,) = _paged(tables, float("inf"), height)
    return max(chunk.right for chunk in page)


def set_in(tables: Sequence[Table], areas: Iterator[Area]) -> Iterator[tuple[Item, ...]]:
    """Yield the lists' items for each of the areas that they need."""
    area = next(areas)
    for page in _paged(tables, area.width, area.height):
        yield tuple(
            item
            for chunk in page
            for item in chunk.table.block(chunk.first, chunk.last, area.x + chunk.x, area.y + chunk.y, ("list",)).items
        )


def _paged(tables: Sequence[Table], width: float, height: float) -> Iterator[list[_Chunk]]:
    """Yield the rows of each page in columns: a table begins below the last one where all of it has room there."""
    page: list[_Chunk] = []
    x = y = right = 0.0
    for table in tables:
        wide, whole = sum(table.widths), table.head_height + sum(table.heights)
        if page and (y + _BELOW + whole > height or x + wide > width):
            x, y = right + _BETWEEN, 0.0
        elif page:
            y += _BELOW
        first = 0
        while first < len(table.heights):
            if page and x + wide > width:
                yield page
                page, x, y, right = [], 0.0, 0.0, 0.0
            last, low = first, y + table.head_height
            while last < len(table.heights) and (last == first or low + table.heights[last] <= height):
                low += table.heights[last]
                last += 1
            page.append(_Chunk(table=table, first=first, last=last, x=x, y=y))
            right, y, first = max(right, x + wide), low, last
            if first < len(table.heights):
                x, y = right + _BETWEEN, 0.0
    if page:
        yield page
