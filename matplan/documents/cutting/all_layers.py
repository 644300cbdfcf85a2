"""All boards of a piece on one page, where they fit at the scale and on the paper that each has alone.

The workbook binds this page in the place of the boards' own; the files of a pack hold one board each. The boards lie
one below the other, their left edges in line, with the words and tables of each at its right, or side by side, their
top edges in line, with its words and tables below. What is alike in all of them stands once.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from itertools import product
from typing import Final, Protocol

from matplan.documents.cutting import notes
from matplan.documents.cutting.board import Board
from matplan.documents.cutting.diagram import found_in
from matplan.documents.cutting.layout import GAP
from matplan.documents.cutting.together import Together
from matplan.documents.parts.columns import least_height, set_in, width_of
from matplan.documents.parts.folio import BoardsOf, Folio
from matplan.documents.parts.page import title_block
from matplan.drawing.blocks import Block, Table
from matplan.drawing.frame import drawing_area, frame
from matplan.drawing.items import Area, Group, Item, Point
from matplan.drawing.sheet import Sheet

_LEAST_WORDS: Final = 42.0
"""Words stand at the right of tables that leave so much width, or more where a field needs it."""
_BETWEEN: Final = 1.8
"""Between a board's figures and those of the next one below it."""
_SLACK: Final = 1e-3


class _Words(Protocol):
    """Makes a block of words."""

    def __call__(self, *, x: float, y: float, width: float) -> Block: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cell:
    """Where the top left corner of a board lies, and where its words and its tables stand."""

    at: Point
    words: Area
    tables: Area


@dataclass(frozen=True, slots=True, kw_only=True)
class _Strip:
    """Where words and tables stand in the room below a board, and how high they are."""

    room: Area
    words: Area
    tables: Area
    high: float


def drawn(folio: Folio, record: BoardsOf) -> tuple[Sheet, ...]:
    """Return the page of all boards of a piece, nothing where they do not fit on one."""
    piece = record.piece
    together, where = found_in(folio, piece)
    if any(len(parts) > 1 for parts in together.parts):
        return ()
    for size in (where.size, where.size[::-1]):
        items = next(_on(together, where.scale, drawing_area(size)), None)
        if items is not None:
            block = title_block(
                folio.job,
                title=piece.name,
                document="Cutting diagrams",
                view="from the back, mirrored",
                scale=where.scale,
                further=(("Layers", f"all {len(piece.layers)}"), ("Quantity", str(piece.ask.quantity))),
            )
            return (
                Sheet(
                    name=f"cut {piece.ask.file} all layers",
                    title=f"{piece.name}, cutting diagrams of all layers",
                    size=size,
                    items=(*frame(size, block).items, *items),
                    scale=where.scale,
                ),
            )
    return ()


def _on(together: Together, scale: Fraction, area: Area) -> Iterator[tuple[Item, ...]]:
    """Yield the ways in which a page holds all boards: what they share above and below them, or among their words."""
    boards = together.boards
    head, foot = partial(notes.head, boards), partial(notes.remarks, boards)
    above, below = (_height((make,), area.width) for make in (head, foot))
    last = len(boards) - 1
    for headed, warned, stacked in product((False, True), (None, last, 0), (True, False)):
        room = area.inset(0, 0.0 if headed else above, 0, below if warned is None else 0.0)
        words = tuple(_words(boards, number, warned, headed=headed) for number in range(len(boards)))
        lean = together.without("blank-width" if stacked else "blank-height")
        # what all have alike is dimensioned once: below the last, or at the left of the first
        whole = last if stacked else 0
        drawings = [together if number == whole else lean for number in range(len(boards))]
        bounds = [found for drawing in drawings if (found := drawing.bounds(scale)) is not None]
        if len(bounds) < len(boards):
            continue
        least = max(_LEAST_WORDS, *(notes.title_width(board, boards) for board in boards))
        cells = (_stacked if stacked else _abreast)(together.listed, words, least, bounds, room)
        if cells is None:
            continue
        items: list[Item] = []
        if not headed:
            items.extend(head(x=area.x, y=area.y, width=area.width).items)
        if warned is None:
            items.extend(foot(x=area.x, y=room.bottom + GAP, width=area.width).items)
        for number, (cell, drawing) in enumerate(zip(cells, drawings, strict=True)):
            view = together.view(scale, cell.at)
            items.extend(map(_unnamed, drawing.drawn(drawing.boards[number], view, None)))
            items.extend(_set(words[number], cell.words))
            items.extend(next(set_in(together.listed[number], iter((cell.tables,))), ()))
        yield tuple(items)


def _words(boards: Sequence[Board], number: int, warned: int | None, *, headed: bool) -> tuple[_Words, ...]:
    """Return the words of a board: which it is, what holds for it alone, and what stands among the boards' words.

    The caution stands among those of the board `warned`, what holds for all boards at the other end; neither where that
    is `None`.
    """
    told = None if warned is None else len(boards) - 1 - warned
    made = (
        partial(notes.head, boards) if headed and number == 0 else None,
        partial(notes.title, boards[number], boards),
        partial(notes.own, boards[number], boards),
        partial(notes.shared, boards) if number == told else None,
        notes.caution if number == warned else None,
    )
    return tuple(make for make in made if make is not None and make(x=0.0, y=0.0, width=100.0).items)


type _Listed = Sequence[Sequence[Table]]
"""The tables of each board."""


def _stacked(
    listed: _Listed, words: Sequence[Sequence[_Words]], words_width: float, bounds: Sequence[Area], room: Area
) -> list[_Cell] | None:
    """Return the cells of boards one below the other, or `None` where the room does not hold them."""
    deepest = max(box.height for box in bounds)
    widest = max(box.width for box in bounds)
    least = max(words_width, *(sum(table.widths) for own in listed for table in own))
    wide = room.width - widest - GAP
    if wide < least:
        return None
    wide = max(min(wide, *(width_of(own, deepest) + _SLACK for own in listed)), least)
    told = [_height(own, wide) for own in words]
    lows = [least_height(own, wide, room.height) for own in listed]
    if any(low is None for low in lows):
        return None
    highs = [max(box.height, said + (low or 0.0)) for box, said, low in zip(bounds, told, lows, strict=True)]
    spare = room.height - sum(highs) - _BETWEEN * (len(highs) - 1)
    if spare < 0:
        return None
    left = room.x + (room.width - widest - wide - GAP) / 2
    cells = []
    y = room.y
    for box, said, high in zip(bounds, told, highs, strict=True):
        tall = high + spare / len(highs)
        column = Area(x=left + widest + GAP, y=y, width=wide, height=tall)
        cells.append(
            _Cell(
                at=(left - min(one.x for one in bounds), y + (tall - box.height) / 2 - box.y),
                words=column,
                tables=column.inset(0, said, -_SLACK, -_SLACK),
            )
        )
        y += tall + _BETWEEN
    return cells


def _abreast(
    listed: _Listed, words: Sequence[Sequence[_Words]], words_width: float, bounds: Sequence[Area], room: Area
) -> list[_Cell] | None:
    """Return the cells of boards side by side, or `None` where the room does not hold them."""
    deepest = max(box.height for box in bounds)
    spare = room.width - sum(box.width for box in bounds) - GAP * (len(bounds) - 1)
    left = room.height - deepest - GAP
    if spare < 0 or left <= 0:
        return None
    x, strips = room.x, []
    for said, own, box in zip(words, listed, bounds, strict=True):
        strip = _strip(said, own, words_width, Area(x=x, y=0.0, width=box.width + spare / len(bounds), height=left))
        if strip is None:
            return None
        strips.append(strip)
        x += box.width + spare / len(bounds) + GAP
    deep = max(strip.high for strip in strips)
    top = room.y + (left - deep) / 2 - min(box.y for box in bounds)
    low = room.bottom - deep
    return [
        _Cell(
            at=(strip.room.centre[0] - box.centre[0], top),
            words=replace(strip.words, y=strip.words.y + low),
            tables=replace(strip.tables, y=strip.tables.y + low),
        )
        for strip, box in zip(strips, bounds, strict=True)
    ]


def _strip(words: Sequence[_Words], listed: Sequence[Table], words_width: float, room: Area) -> _Strip | None:
    """Return where words and tables stand below a board: beside one another, or else one below the other."""
    least = max(sum(table.widths) for table in listed)
    for wide in (width_of(listed, room.height), least):
        beside = room.width - wide - GAP
        low = least_height(listed, wide + _SLACK, room.height)
        if low is not None and beside >= words_width and (told := _height(words, beside)) <= room.height:
            return _Strip(
                room=room,
                words=replace(room, x=room.x + wide + GAP, width=beside),
                tables=replace(room, width=wide + _SLACK),
                high=max(low, told),
            )
    told = _height(words, room.width)
    low = least_height(listed, room.width, room.height - told)
    if low is None or room.width < max(least, words_width):
        return None
    return _Strip(room=room, words=room, tables=replace(room, y=room.y + told), high=told + low + _SLACK)


def _height(makers: Sequence[_Words], width: float) -> float:
    """Return the height of blocks one below the other, with the gap below each."""
    return sum(make(x=0.0, y=0.0, width=width).area.height + GAP for make in makers)


def _set(makers: Sequence[_Words], area: Area) -> Iterator[Item]:
    """Yield the blocks one below the other."""
    y = area.y
    for make in makers:
        block = make(x=area.x, y=y, width=area.width)
        yield from block.items
        y = block.bottom + GAP


def _unnamed(item: Item) -> Item:
    """Return the item without an id, since another board on the page has the same."""
    if isinstance(item, Group):
        return replace(item, id=None, items=tuple(map(_unnamed, item.items)))
    return replace(item, id=None)
