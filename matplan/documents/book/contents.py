"""The contents of a book: one line a document with its page, in two columns, each line a link."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from matplan.documents.parts.running import TITLE_SIZE, Running
from matplan.drawing import blocks
from matplan.drawing.blocks import Block
from matplan.drawing.items import Anchor, Area, Group, Item, Line, Link, Size, Text
from matplan.drawing.pens import Pen

_LINE: Final = 5.6
_BETWEEN: Final = 10.0


def contents(running: Running, lines: Sequence[ContentsLine]) -> None:
    """Set the lines in two columns; what belongs to a heading stays with it."""
    chunks = list(_chunks(lines))
    head = 7.0
    while chunks:
        if running.left < head + 8 * _LINE:
            running.turn()
        room = int((running.left - head) / _LINE)
        columns, chunks = _columns(chunks, room)

        def made(x: float, y: float, width: float, columns: _Columns = columns, head: float = head) -> Block:
            return _listed(columns, Area(x=x, y=y, width=width, height=0.0), head)

        running.add(made, gap=5.0)
        head = 0.0


def _chunks(lines: Sequence[ContentsLine]) -> Iterator[list[ContentsLine]]:
    """Yield lines that stay together: a heading with what stands under it, each other line alone."""
    chunk: list[ContentsLine] = []
    for line in lines:
        if not line.indent and chunk:
            yield chunk
            chunk = []
        chunk.append(line)
    if chunk:
        yield chunk


def _columns(chunks: list[list[ContentsLine]], room: int) -> tuple[_Columns, list[list[ContentsLine]]]:
    """Return two columns of no more than so many lines, as even as may be, and the chunks that are left over."""
    total = sum(map(len, chunks))
    for high in range(min(room, -(-total // 2)), room + 1):
        first, rest = _taken(chunks, high)
        second, rest = _taken(rest, high)
        if not rest:
            return (first, second), []
    first, rest = _taken(chunks, room)
    second, rest = _taken(rest, room)
    return (first, second), rest


def _taken(chunks: list[list[ContentsLine]], room: int) -> tuple[list[ContentsLine], list[list[ContentsLine]]]:
    """Return as many chunks as go into a column of so many lines, and the rest; a chunk that is longer than a column is
    parted.
    """
    lines: list[ContentsLine] = []
    for number, chunk in enumerate(chunks):
        if len(lines) + len(chunk) > room:
            if lines:
                return lines, chunks[number:]
            return chunk[:room], [chunk[room:], *chunks[number + 1 :]]
        lines.extend(chunk)
    return lines, []


@dataclass(frozen=True, slots=True, kw_only=True)
class ContentsLine:
    """A line of the contents: a heading where it has no page and names no file."""

    text: str
    page: int | None = None
    target: str = ""
    indent: float = 0.0
    file: bool = False


type _Columns = tuple[list[ContentsLine], list[ContentsLine]]


def _listed(columns: Sequence[Sequence[ContentsLine]], at: Area, head: float) -> Block:
    items: list[Item] = []
    top = at.y
    if head:
        items.extend(blocks.paragraph("Contents", x=at.x, y=at.y, width=at.width, size=TITLE_SIZE, bold=True).items)
        top += head - 1.5
    width = (at.width - _BETWEEN) / 2
    for number, lines in enumerate(columns):
        x = at.x + number * (width + _BETWEEN)
        for index, line in enumerate(lines):
            items.extend(_line(line, x, top + index * _LINE, width))
    height = top - at.y + max(len(lines) for lines in columns) * _LINE
    return Block(
        items=(Group(classes=("contents",), items=tuple(items)),),
        area=Area(x=at.x, y=at.y, width=at.width, height=height),
    )


def _line(line: ContentsLine, x: float, y: float, width: float) -> Iterator[Item]:
    base = y + _LINE - 1.7
    most = width - line.indent - (12.0 if line.page is not None else 0.0)
    yield Text(
        at=(x + line.indent, base),
        text=line.text,
        size=Size.SMALL,
        bold=line.page is None and not line.file,
        max_width=most,
    )
    if line.page is not None:
        yield Text(at=(x + width, base), text=str(line.page), size=Size.SMALL, anchor=Anchor.END)
        yield Link(x=x, y=y, width=width, height=_LINE, target=line.target)
    yield Line(start=(x, y + _LINE), end=(x + width, y + _LINE), pen=Pen.RULE)
