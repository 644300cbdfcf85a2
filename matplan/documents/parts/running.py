"""Sheets that text runs over: blocks set one below the other, on as many sheets of one size as they need."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Final

from matplan.drawing.blocks import Block, Column, paged_table, paragraph
from matplan.drawing.items import Area, Item, Size

type Made = Callable[[float, float, float], Block]
"""A block made at x, y and of a width."""

GAP: Final = 4.0
"""Between one block and the next, in mm."""
TITLE_SIZE: Final = 3.0
TITLE_ROOM: Final = 5.6
"""A table's title takes that much above its head."""
_LEAST_TABLE: Final = 24.0
"""A table begins a new page where less is left: its head and a row or two."""


class Running:
    """Blocks on pages whose drawing area is `area`; each page is a tuple of items. `close` is what is left of gaps."""

    def __init__(self, area: Area, close: float = 1.0) -> None:
        self._area, self._close = area, close
        self._pages: list[list[Item]] = [[]]
        self._y = area.y

    @property
    def pages(self) -> tuple[tuple[Item, ...], ...]:
        """What stands on each page."""
        return tuple(map(tuple, self._pages))

    @property
    def width(self) -> float:
        """The page's width."""
        return self._area.width

    @property
    def left(self) -> float:
        """What is left of the page's height."""
        return self._area.bottom - self._y

    @property
    def fresh(self) -> bool:
        """Whether nothing stands on the page yet."""
        return self._y == self._area.y

    def turn(self) -> None:
        """Begin a new page, unless this one is still empty."""
        if not self.fresh:
            self._pages.append([])
            self._y = self._area.y

    def space(self, height: float) -> None:
        """Leave a gap, unless at the top of a page."""
        if not self.fresh:
            self._y += height * self._close

    def add(self, *makers: Made, gap: float = GAP) -> None:
        """Set the blocks one below the other and never parted."""
        gap *= self._close
        blocks, y = self._made(makers, self._y, gap)
        if y - gap > self._area.bottom and not self.fresh:
            self.turn()
            blocks, y = self._made(makers, self._y, gap)
        for block in blocks:
            self._pages[-1].extend(block.items)
        self._y = y

    def _made(self, makers: Sequence[Made], y: float, gap: float) -> tuple[list[Block], float]:
        blocks: list[Block] = []
        for make in makers:
            block = make(self._area.x, y, self._area.width)
            blocks.append(block)
            y = block.bottom + gap
        return blocks, y

    def table(
        self,
        columns: Sequence[Column],
        rows: Sequence[Sequence[str]],
        *,
        title: str = "",
        size: float = Size.SMALL,
        zebra: bool = False,
        classes: tuple[str, ...] = (),
        gap: float = GAP,
    ) -> None:
        """Set a table under its title, with title and head on every page that it runs over."""
        if not rows:
            return
        gap *= self._close

        def laid() -> Iterator[Block]:
            areas = self._areas(TITLE_ROOM if title else 0.0)
            return paged_table(columns, rows, areas, size=size, zebra=zebra, classes=classes)

        if self.left < _LEAST_TABLE or next(laid()).bottom > self._area.bottom:  # not even the first row fits
            self.turn()
        for number, block in enumerate(laid()):
            if number:
                self.turn()
            if title:
                text = f"{title}, continued" if number else title
                heading = paragraph(text, x=self._area.x, y=self._y, width=self._area.width, size=TITLE_SIZE, bold=True)
                self._pages[-1].extend(heading.items)
            self._pages[-1].extend(block.items)
            self._y = block.bottom + gap

    def _areas(self, above: float) -> Iterator[Area]:
        """Yield what is left of this page below a title of that height, then the same of whole pages."""
        yield self._area.inset(0, self._y - self._area.y + above, 0, 0)
        while True:
            yield self._area.inset(0, above, 0, 0)


type Pages = tuple[tuple[Item, ...], ...]

_CLOSE: Final = 0.5


def flowed(area: Area, fill: Callable[[Running], None]) -> Pages:
    """Return the pages that `fill` adds to; the blocks stand closer together where that saves a page."""
    made: list[Pages] = []
    for close in (1.0, _CLOSE):
        running = Running(area, close)
        fill(running)
        made.append(running.pages)
        if len(running.pages) == 1:
            break
    return min(made, key=len)
