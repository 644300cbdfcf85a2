"""The gauge's settings as a table: what it is set to, and which cuts are made at it, figures readable at arm's length."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from matplan.documents.gauge import GaugeCut, by_setting
from matplan.drawing import lettering
from matplan.drawing.blocks import CELL_X, CELL_Y, Block
from matplan.drawing.items import Area, Group, Item, Level, Line, Rect, Size, Text
from matplan.drawing.pens import TINT, Pen
from matplan.lengths import Printer

SINGLE_CUTS: Final = 3
"""With so many windows each cut has a line of its own; with more, the cuts of one edge share one."""
_PITCH: Final = 6.3


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """One setting and the lines beside it, each a text for every head."""

    setting: str
    lines: tuple[tuple[str, ...], ...]


def gauge_table(cuts: Sequence[GaugeCut], letters: Sequence[str], printer: Printer, *, x: float, y: float, width: float) -> Block:
    """The table with its top left corner at x, y, at most that wide. `letters` name the windows; "" where there is but one.

    Start and stop are left out where there is no room for them.
    """
    many = len(letters) > 1
    single = len(letters) <= SINGLE_CUTS
    full = ("Cut", "Edge as it lies", "as framed", *(("Window",) if many else ()), *(("Start", "Stop") if single else ()))
    for heads in (full, tuple(head for head in full if head not in ("Start", "Stop"))):
        for size in (Size.NORMAL, Size.SMALL):
            rows = [
                _Row(setting=printer.length(setting), lines=tuple(_lines(same, letters, printer, heads, single)))
                for setting, same in by_setting(cuts)
            ]
            widths = _widths(rows, heads, size)
            if sum(widths) <= width:
                return _drawn(rows, heads, widths, size, x, y, width)
    return _drawn(rows, heads, widths, Size.SMALL, x, y, sum(widths))


def _lines(
    cuts: Sequence[GaugeCut], letters: Sequence[str], printer: Printer, heads: Sequence[str], single: bool
) -> Iterator[tuple[str, ...]]:
    for edge, found in groupby(cuts, key=lambda cut: cut.edge):
        same = tuple(found)
        for group in [(cut,) for cut in same] if single else [same]:
            first, last = group[0], group[-1]
            texts = {
                "Cut": f"{first.number}" if first is last else f"{first.number}–{last.number}",
                "Edge as it lies": edge.value,
                "as framed": edge.framed.value,
                "Window": " ".join(letters[cut.window] for cut in group),
                "Start": printer.number(first.behind),
                "Stop": printer.number(first.ahead),
            }
            yield tuple(texts[head] for head in heads)


def _widths(rows: Sequence[_Row], heads: Sequence[str], size: float) -> tuple[float, ...]:
    """The columns' own widths, the setting's first."""
    pad = 2 * CELL_X + 0.01
    setting = max((lettering.width(row.setting, Size.TITLE, True) for row in rows), default=0.0)
    found = [max(setting, lettering.width("Set the gauge to", Size.SMALL, True)) + pad]
    for number, head in enumerate(heads):
        texts = max((lettering.width(line[number], size) for row in rows for line in row.lines), default=0.0)
        found.append(max(texts, lettering.width(head, Size.SMALL, True)) + pad)
    return tuple(found)


def _drawn(rows: Sequence[_Row], heads: Sequence[str], widths: Sequence[float], size: float, x: float, y: float, width: float) -> Block:
    spare = (width - sum(widths)) / len(widths)
    lefts, left = [], x
    for wide in widths:
        lefts.append(left + CELL_X)
        left += wide + spare
    pitch = _PITCH * size / Size.NORMAL
    head_height = Size.SMALL + 2 * CELL_Y + 0.8
    items: list[Item] = [Rect(x=x, y=y, width=width, height=head_height, fill=TINT)]
    for at, head in zip(lefts, ("Set the gauge to", *heads), strict=True):
        items.append(Text(at=(at, y + CELL_Y + 0.2), text=head, size=Size.SMALL, level=Level.TOP, bold=True))
    top, y = y, y + head_height
    items.append(Line(start=(x, y), end=(x + width, y), pen=Pen.EDGE))
    for row in rows:
        lines = (len(row.lines) - 1) * pitch + size
        height = max(Size.TITLE, lines) + 2 * CELL_Y + 1.2
        first = y + CELL_Y + (Size.TITLE - size if lines < Size.TITLE else 0.0)
        items.append(Text(at=(lefts[0], y + CELL_Y), text=row.setting, size=Size.TITLE, level=Level.TOP, bold=True, classes=("setting",)))
        for number, line in enumerate(row.lines):
            for at, text in zip(lefts[1:], line, strict=True):
                items.append(Text(at=(at, first + number * pitch), text=text, size=size, level=Level.TOP))
        y += height
        items.append(Line(start=(x, y), end=(x + width, y), pen=Pen.RULE))
    return Block(items=(Group(classes=("gauge-table",), items=tuple(items)),), area=Area(x=x, y=top, width=width, height=y - top))
