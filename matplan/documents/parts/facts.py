"""Facts under a heading: what it is at the left, its figure beside it, a thin rule below each."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from matplan.documents.parts.wording import Fact
from matplan.drawing import lettering
from matplan.drawing.blocks import Block, levelled, paragraph
from matplan.drawing.dimensions import united
from matplan.drawing.items import Area, Group, Item, Level, Line, Size, Text
from matplan.drawing.pens import INK, SECONDARY, Pen

_ABOVE: Final = 1.35
_BELOW: Final = 1.25
_BETWEEN: Final = 3.0
_WIDEST_NAME: Final = 0.5


def fact_list(head: str, facts: Sequence[Fact], *, x: float, y: float, width: float, size: float = Size.SMALL) -> Block:
    """Return the list as high as it needs to be. Names take half of the width at most; longer ones are wrapped."""
    pitch = size * lettering.LINE_PITCH
    items: list[Item] = []
    top = y
    if head:
        heading = paragraph(head, x=x, y=y, width=width, size=size, bold=True)
        items.extend(heading.items)
        y = heading.bottom + 1.6 - 0.3 * size
        items.append(Line(start=(x, y), end=(x + width, y), pen=Pen.EDGE))
    figures = max((lettering.width(figure, size) for name, figure in facts if name), default=0.0)
    left = min(_widest_name(facts, size), max(width * _WIDEST_NAME, width - figures - _BETWEEN - 0.02)) + 0.01
    for name, figure in facts:
        y += _ABOVE
        named = lettering.wrapped(name, left, size)
        start = left + _BETWEEN if name else 0.0  # a fact without a name is a remark on those above it
        figured = lettering.wrapped(figure, width - start, size)
        for lines, at, colour in ((named, x, SECONDARY), (figured, x + start, INK)):
            items.extend(
                Text(at=(at, y + number * pitch), text=line, size=size, level=Level.TOP, colour=colour)
                for number, line in enumerate(lines)
                if line
            )
        y += size + (max(len(named), len(figured)) - 1) * pitch + 0.3 * size + _BELOW
        items.append(Line(start=(x, y), end=(x + width, y), pen=Pen.RULE))
    return Block(
        items=(Group(classes=("facts",), items=tuple(items)),), area=Area(x=x, y=top, width=width, height=y - top)
    )


def _widest_name(facts: Sequence[Fact], size: float) -> float:
    return max((lettering.width(name, size) for name, _ in facts), default=0.0)


def _natural(head: str, facts: Sequence[Fact], size: float) -> float:
    """Return the width at which nothing is wrapped."""
    names = _widest_name(facts, size)
    figures = max((lettering.width(figure, size) for name, figure in facts if name), default=0.0)
    remarks = max((lettering.width(figure, size) for name, figure in facts if not name), default=0.0)
    return max(lettering.width(head, size, True), names + _BETWEEN + figures, remarks) + 0.1


def facts_beside(
    lists: Sequence[tuple[str, Sequence[Fact]]],
    *,
    x: float,
    y: float,
    width: float,
    between: float = 7.0,
    size: float = Size.SMALL,
) -> Block:
    """Return lists beside one another, each as wide as it needs; the widest give way where there is too little room.

    Empty ones are left out.
    """
    shown = [(head, facts) for head, facts in lists if facts]
    if not shown:
        return Block(items=(), area=Area(x=x, y=y, width=width, height=0.0))
    free = width - between * (len(shown) - 1)
    wanted = [_natural(head, facts, size) for head, facts in shown]
    spare = max(0.0, free - sum(wanted)) / len(wanted)
    widths = [wide + spare for wide in levelled(wanted, free)]
    laid = []
    for (head, facts), each in zip(shown, widths, strict=True):
        laid.append(fact_list(head, facts, x=x, y=y, width=each, size=size))
        x += each + between
    return Block(items=tuple(i for b in laid for i in b.items), area=united([b.area for b in laid]))
