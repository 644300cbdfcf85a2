"""The contents of a book in two columns: one line for each piece of a chapter, with its documents and their pages.

Each document is a link. What does not fit beside its name stands on the next rows; nothing is cut.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import batched
from typing import Final

from matplan.documents.parts.running import TITLE_SIZE, Running
from matplan.drawing import blocks, lettering
from matplan.drawing.blocks import Block
from matplan.drawing.items import Anchor, Area, Group, Item, Line, Link, Size, Text
from matplan.drawing.pens import SECONDARY, Pen

_ROW: Final = 5.6
_HEAD: Final = 7.0
_BETWEEN: Final = 10.0
"""Between the two columns."""
_INDENT: Final = 3.0
"""Lines stand so far right of their chapter's heading."""
_GAP: Final = 4.0
"""Between two documents, and between a name and its documents."""
_NUMBER: Final = 1.6
"""Between a document and its page."""
_LEAST: Final = 8
"""The contents begin a new page where fewer rows are left."""
_WHOLE: Final = 8
"""No more rows than these are kept together, so that they fit wherever contents may begin."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A document: what it is, and its page, which leads to the sheet `target`; or without a page its file."""

    text: str
    page: int | None = None
    target: str = ""

    @property
    def width(self) -> float:
        """The width that it takes in a row."""
        number = 0.0 if self.page is None else lettering.width(str(self.page), Size.SMALL)
        return lettering.width(self.text, Size.SMALL) + (_NUMBER if self.text and number else 0.0) + number


@dataclass(frozen=True, slots=True, kw_only=True)
class ContentsLine:
    """A name with its documents; without documents a chapter's heading."""

    text: str
    entries: tuple[Entry, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """What stands on one height: a name at the left, documents at the right."""

    name: str = ""
    entries: tuple[Entry, ...] = ()
    heading: bool = False
    last: bool = True
    """Whether a rule follows."""


type _Rows = list[_Row]
type _Columns = tuple[_Rows, _Rows]


def contents(running: Running, lines: Sequence[ContentsLine]) -> None:
    """Add the lines in two columns; a heading stays with its first line, and a line's rows stay together."""
    chunks = list(_chunks(lines, (running.width - _BETWEEN) / 2 - _INDENT))
    head = _HEAD
    while chunks:
        if running.left < head + _LEAST * _ROW:
            running.turn()
        columns, chunks = _columns(chunks, int((running.left - head) / _ROW))

        def made(x: float, y: float, width: float, columns: _Columns = columns, head: float = head) -> Block:
            return _listed(columns, Area(x=x, y=y, width=width, height=0.0), head)

        running.add(made, gap=5.0)
        head = 0.0


def _chunks(lines: Iterable[ContentsLine], width: float) -> Iterator[_Rows]:
    """Yield the rows that stay together: those of a line, with the heading above it; a long line goes on anywhere."""
    above: _Rows = []
    for line in lines:
        if not line.entries:
            above = [*above, _Row(name=line.text, heading=True)]
            continue
        yield from map(list, batched([*above, *_rows(line, width)], _WHOLE))
        above = []
    if above:
        yield above


def _rows(line: ContentsLine, width: float) -> _Rows:
    """Return a line in rows of that width."""
    names = lettering.wrapped(line.text, width, Size.SMALL)
    rows = [_Row(name=name, last=False) for name in names]
    for entries in _packed([part for entry in line.entries for part in _parts(entry, width)], width):
        used = sum(entry.width + _GAP for entry in entries)
        if not rows[-1].entries and lettering.width(rows[-1].name, Size.SMALL) + used <= width:
            rows[-1] = replace(rows[-1], entries=entries)
        else:
            rows.append(_Row(entries=entries, last=False))
    return [*rows[:-1], replace(rows[-1], last=True)]


def _parts(entry: Entry, width: float) -> Iterator[Entry]:
    """Yield an entry as it is, or one that is wider than a row in rows, its page on the last."""
    if entry.width <= width:
        yield entry
        return
    *before, last = lettering.wrapped(entry.text, width - (entry.width - Entry(text=entry.text).width), Size.SMALL)
    yield from (Entry(text=text) for text in before)
    yield replace(entry, text=last)


def _packed(entries: Sequence[Entry], width: float) -> Iterator[tuple[Entry, ...]]:
    """Yield the entries in rows that are as full as may be."""
    row: list[Entry] = []
    for entry in entries:
        if row and sum(one.width + _GAP for one in row) + entry.width > width:
            yield tuple(row)
            row = []
        row.append(entry)
    yield tuple(row)


def _columns(chunks: list[_Rows], room: int) -> tuple[_Columns, list[_Rows]]:
    """Return two columns of no more than so many rows, as even as may be, and the chunks that are left over."""
    lengths = [len(chunk) for chunk in chunks]
    for high in range(min(room, max(-(-sum(lengths) // 2), *lengths, 1)), room + 1):
        first, rest = _taken(chunks, high)
        second, rest = _taken(rest, high)
        if not rest:
            return (first, second), []
    first, rest = _taken(chunks, room)
    second, rest = _taken(rest, room)
    return (first, second), rest


def _taken(chunks: list[_Rows], room: int) -> tuple[_Rows, list[_Rows]]:
    """Return as many chunks as go into a column of so many rows, and the rest."""
    rows: _Rows = []
    for number, chunk in enumerate(chunks):
        if len(rows) + len(chunk) > room:
            return rows, chunks[number:]
        rows.extend(chunk)
    return rows, []


def _listed(columns: Sequence[_Rows], at: Area, head: float) -> Block:
    items: list[Item] = []
    top = at.y
    if head:
        items.extend(blocks.paragraph("Contents", x=at.x, y=at.y, width=at.width, size=TITLE_SIZE, bold=True).items)
        top += head - 1.5
    width = (at.width - _BETWEEN) / 2
    for number, rows in enumerate(columns):
        x = at.x + number * (width + _BETWEEN)
        for index, row in enumerate(rows):
            items.extend(_drawn(row, x, top + index * _ROW, width))
    height = top - at.y + max(map(len, columns)) * _ROW
    return Block(
        items=(Group(classes=("contents",), items=tuple(items)),),
        area=Area(x=at.x, y=at.y, width=at.width, height=height),
    )


def _drawn(row: _Row, x: float, y: float, width: float) -> Iterator[Item]:
    base = y + _ROW - 1.7
    if row.name:
        yield Text(at=(x if row.heading else x + _INDENT, base), text=row.name, size=Size.SMALL, bold=row.heading)
    left = x + width - sum(entry.width for entry in row.entries) - _GAP * (len(row.entries) - 1)
    for entry in row.entries:
        right = left + entry.width
        if entry.text:
            yield Text(at=(left, base), text=entry.text, size=Size.SMALL, colour=SECONDARY)
        if entry.page is not None:
            yield Text(at=(right, base), text=str(entry.page), size=Size.SMALL, anchor=Anchor.END)
            yield Link(x=left, y=y, width=right - left, height=_ROW, target=entry.target)
        left = right + _GAP
    if row.last:
        yield Line(start=(x, y + _ROW), end=(x + width, y + _ROW), pen=Pen.RULE)
