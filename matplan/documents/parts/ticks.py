"""A list to tick off: an empty box, what is set and its value, a thin rule below each."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from matplan.documents.parts.wording import Fact
from matplan.drawing import lettering
from matplan.drawing.blocks import TICK, Block, paragraph
from matplan.drawing.dimensions import united
from matplan.drawing.items import Area, Group, Item, Level, Line, Rect, Size, Text
from matplan.drawing.pens import INK, SECONDARY, Pen

_INDENT: Final = 5.0
_PITCH: Final = 1.7
"""Above and below a line's text."""
_BETWEEN: Final = 8.0
_GAP: Final = 3.0


def tick_list(
    title: str, lines: Sequence[Fact], *, x: float, y: float, width: float, columns: int = 2, size: float = Size.SMALL
) -> Block:
    """Return the lines under their title, read down one column after the other. A long value is wrapped."""
    heading = paragraph(title, x=x, y=y, width=width, size=size, bold=True)
    rule = heading.bottom + 1.6 - 0.3 * size
    wide = (width - (columns - 1) * _BETWEEN) / columns
    many = -(-len(lines) // columns)
    items: list[Item] = [*heading.items]
    areas = [Area(x=x, y=y, width=width, height=rule - y)]
    for number in range(columns):
        made = _column(lines[number * many : (number + 1) * many], x + number * (wide + _BETWEEN), rule, wide, size)
        items.extend(made.items)
        areas.append(made.area)
    return Block(items=(Group(classes=("ticks",), items=tuple(items)),), area=united(areas))


def _column(lines: Sequence[Fact], x: float, y: float, width: float, size: float) -> Block:
    items: list[Item] = [Line(start=(x, y), end=(x + width, y), pen=Pen.EDGE)]
    top, pitch = y, size * lettering.LINE_PITCH
    names = max((lettering.width(name, size) for name, _ in lines), default=0.0)
    start = x + _INDENT + names + _GAP
    for name, value in lines:
        wrapped = lettering.wrapped(value, x + width - start, size)
        text = y + _PITCH
        items.append(Rect(x=x, y=text + (size - TICK) / 2, width=TICK, height=TICK, pen=Pen.EDGE, classes=("tick",)))
        items.append(Text(at=(x + _INDENT, text), text=name, size=size, level=Level.TOP, colour=SECONDARY))
        items.extend(
            Text(at=(start, text + number * pitch), text=line, size=size, level=Level.TOP, colour=INK)
            for number, line in enumerate(wrapped)
        )
        y = text + size + (len(wrapped) - 1) * pitch + _PITCH
        items.append(Line(start=(x, y), end=(x + width, y), pen=Pen.RULE))
    return Block(items=tuple(items), area=Area(x=x, y=top, width=width, height=y - top))
