"""Facts under a heading: what it is at the left, its figure beside it, a thin rule below each."""

from __future__ import annotations

from collections.abc import Sequence

from matplan.documents.wording import Fact
from matplan.drawing import lettering
from matplan.drawing.blocks import Block
from matplan.drawing.items import Area, Group, Item, Level, Line, Size, Text
from matplan.drawing.pens import INK, SECONDARY, Pen

_ABOVE, _BELOW = 1.35, 1.25
_BETWEEN = 3.0
_WIDEST_NAME = 0.48


def fact_list(head: str, facts: Sequence[Fact], *, x: float, y: float, width: float, size: float = Size.SMALL) -> Block:
    """The list as high as it needs to be. Names take no more than half of the width; what is longer is wrapped."""
    pitch = size * lettering.LINE_PITCH
    items: list[Item] = []
    top = y
    if head:
        items.append(Text(at=(x, y), text=head, size=size, level=Level.TOP, bold=True, max_width=width))
        y += size + 1.6
        items.append(Line(start=(x, y), end=(x + width, y), pen=Pen.EDGE))
    names = max((lettering.width(name, size) for name, _ in facts), default=0.0)
    left = min(names, width * _WIDEST_NAME) + 0.01
    for name, figure in facts:
        y += _ABOVE
        named = lettering.wrapped(name, left, size)
        # a fact without a name is a remark on those above it
        start = left + _BETWEEN if name else 0.0
        figured = lettering.wrapped(figure, width - start, size)
        for lines, at, colour in ((named, x, SECONDARY), (figured, x + start, INK)):
            items.extend(
                Text(at=(at, y + number * pitch), text=line, size=size, level=Level.TOP, colour=colour)
                for number, line in enumerate(lines)
                if line
            )
        y += size + (max(len(named), len(figured)) - 1) * pitch + 0.3 * size + _BELOW
        items.append(Line(start=(x, y), end=(x + width, y), pen=Pen.RULE))
    return Block(items=(Group(classes=("facts",), items=tuple(items)),), area=Area(x=x, y=top, width=width, height=y - top))

