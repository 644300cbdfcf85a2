"""The hooks' figures as a close table in one or several columns: number, piece, from the left edge, above the floor."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil
from typing import Final

from matplan.documents.parts import wording
from matplan.drawing import lettering
from matplan.drawing.blocks import Block
from matplan.drawing.items import Anchor, Area, Group, Item, Level, Line, Rect, Text
from matplan.drawing.pens import TINT, Pen
from matplan.lengths import Printer
from matplan.walls.work import Mark

SIZE: Final = 2.0
ROW: Final = 3.9
HEAD: Final = 4.5
_BETWEEN: Final = 5.0
_PAD: Final = 1.1
_NAME: Final = (12.0, 28.0)
"""What a piece's name has, at least and at most."""
_HEADS: Final = ("Hook", "Piece", "From left", "Up")


def _widths(marks: Sequence[Mark], printer: Printer) -> tuple[float, float, float, float]:
    """Return what each part of a column needs."""

    def most(texts: Iterator[str], head: str, bold: bool = False) -> float:
        return max([lettering.width(head, SIZE, True), *(lettering.width(t, SIZE, bold) for t in texts)]) + 2 * _PAD

    name = min(max(most((_name(mark) for mark in marks), _HEADS[1]), _NAME[0]), _NAME[1])
    return (
        most((mark.number for mark in marks), _HEADS[0], bold=True),
        name,
        most((printer.number(mark.hook.left) for mark in marks), _HEADS[2]),
        most((printer.number(mark.hook.height) for mark in marks), _HEADS[3]),
    )


def _name(mark: Mark) -> str:
    name = wording.short(mark.hung.name)
    return f"{name}, {mark.hung.copy}" if mark.hung.frame.copies > 1 else name


def table_width(marks: Sequence[Mark], printer: Printer, height: float) -> float:
    """Return how wide the table is in as many columns as that height asks for."""
    rows = max(1, int((height - HEAD) / ROW))
    columns = ceil(len(marks) / rows)
    return columns * sum(_widths(marks, printer)) + (columns - 1) * _BETWEEN


def hook_table(
    marks: Sequence[Mark], printer: Printer, *, x: float, y: float, width: float, height: float | None = None
) -> Block:
    """Return the table at x, y: filled down to the height, or without one in as many columns as the width holds, all as
    even as may be.
    """
    parts = _widths(marks, printer)
    column = sum(parts)
    if height is None:
        count = max(1, int((width + _BETWEEN) / (column + _BETWEEN)))
        rows = ceil(len(marks) / count)
    else:
        rows = max(1, int((height - HEAD) / ROW))
    items: list[Item] = []
    left, high = x, 0
    for first in range(0, len(marks), rows):
        chunk = marks[first : first + rows]
        items.extend(_column(chunk, printer, parts, left, y))
        high = max(high, len(chunk))
        left += column + _BETWEEN
    area = Area(x=x, y=y, width=left - _BETWEEN - x, height=HEAD + high * ROW)
    return Block(items=(Group(classes=("table", "hooks"), items=tuple(items)),), area=area)


def _column(marks: Sequence[Mark], printer: Printer, parts: Sequence[float], x: float, y: float) -> Iterator[Item]:
    width = sum(parts)
    yield Rect(x=x, y=y, width=width, height=HEAD, fill=TINT)
    yield from _cells(_HEADS, parts, x, y + HEAD / 2, bold=True)
    yield Line(start=(x, y + HEAD), end=(x + width, y + HEAD), pen=Pen.EDGE)
    for number, mark in enumerate(marks):
        top = y + HEAD + number * ROW
        cells = (mark.number, _name(mark), printer.number(mark.hook.left), printer.number(mark.hook.height))
        yield Group(
            classes=("hook-figures",),
            items=tuple(_cells(cells, parts, x, top + ROW / 2)),
            data=(("number", mark.number), ("piece", mark.hung.name), ("copy", str(mark.hung.copy))),
        )
        yield Line(start=(x, top + ROW), end=(x + width, top + ROW), pen=Pen.RULE)


def _cells(
    cells: Sequence[str], parts: Sequence[float], x: float, middle: float, *, bold: bool = False
) -> Iterator[Text]:
    for place, (text, width) in enumerate(zip(cells, parts, strict=True)):
        right = place != 1
        yield Text(
            at=(x + width - _PAD if right else x + _PAD, middle),
            text=text,
            size=SIZE,
            anchor=Anchor.END if right else Anchor.START,
            level=Level.MIDDLE,
            bold=bold or place == 0,
            max_width=width - 2 * _PAD + 0.01,
        )
        x += width
