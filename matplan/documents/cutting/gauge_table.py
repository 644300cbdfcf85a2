"""The gauge's settings as a table: what it is set to, and which cuts are made at it, figures readable at arm's length."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from matplan.drawing import lettering
from matplan.drawing.blocks import CELL_X, CELL_Y, Block, paragraph
from matplan.drawing.items import Area, Group, Item, Level, Line, Rect, Size, Text
from matplan.drawing.pens import TINT, Pen
from matplan.lengths import Printer
from matplan.mats.gauge import Edge, GaugeCut, by_setting

SINGLE_CUTS: Final = 2
"""With so many windows each cut has a line of its own; with more, the cuts of one edge are named together."""
_PITCH: Final = 6.3
_BETWEEN: Final = "   ·   "


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """One setting and the lines beside it, each a text for every head."""

    setting: str
    lines: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Table:
    heads: tuple[str, ...]
    rows: tuple[_Row, ...]

    @property
    def widths(self) -> tuple[float, ...]:
        """The columns' own widths, the setting's first."""
        pad = 2 * CELL_X + 0.01
        settings = (lettering.width(row.setting, Size.TITLE, True) for row in self.rows)
        found = [max(*settings, lettering.width(self.heads[0], Size.SMALL, True)) + pad]
        for number, head in enumerate(self.heads[1:]):
            texts = (lettering.width(line[number], Size.NORMAL) for row in self.rows for line in row.lines)
            found.append(max(*texts, lettering.width(head, Size.SMALL, True)) + pad)
        return tuple(found)


def gauge_table(
    cuts: Sequence[GaugeCut],
    letters: Sequence[str],
    order: Sequence[int],
    printer: Printer,
    *,
    x: float,
    y: float,
    width: float,
) -> Block:
    """The table with its top left corner at x, y. `letters` name the windows, in that order of reading; "" where there
    is but one.

    Start and stop are left out where the width has no room for them; what is wider all the same says so by its area.
    """
    many = len(letters) > 1
    if len(letters) > SINGLE_CUTS:
        return _drawn(_grouped(cuts, letters, order, printer, width), x, y, width)
    marks = _single(cuts, letters, printer, many, marks=True)
    if sum(marks.widths) > width:
        return _drawn(_single(cuts, letters, printer, many, marks=False), x, y, width)
    table = _drawn(marks, x, y, width)
    words = "Start, stop: from the board's edges behind and ahead"
    meaning = paragraph(words, x=x + CELL_X, y=table.bottom + 1.5, width=width - CELL_X)
    height = meaning.bottom - y
    return Block(items=(*table.items, *meaning.items), area=Area(x=x, y=y, width=width, height=height))


def edge_in_words(edge: Edge) -> str:
    """`left (right)`: the edge as it lies, and in brackets as framed where that is another."""
    return edge.value if edge.framed is edge else f"{edge.value} ({edge.framed.value})"


def _single(cuts: Sequence[GaugeCut], letters: Sequence[str], printer: Printer, many: bool, *, marks: bool) -> _Table:
    """A line for every cut."""
    heads = (
        f"Set to, {printer.units}",
        "Cut",
        "Edge (framed)",
        *(("Window",) if many else ()),
        *(("Start", "Stop") if marks else ()),
    )

    def line(cut: GaugeCut) -> tuple[str, ...]:
        window = (letters[cut.window],) if many else ()
        ends = (printer.number(cut.near), printer.number(cut.far)) if marks else ()
        return (str(cut.number), edge_in_words(cut.edge), *window, *ends)

    rows = tuple(
        _Row(setting=printer.number(setting), lines=tuple(map(line, same))) for setting, same in by_setting(cuts)
    )
    return _Table(heads=heads, rows=rows)


def _grouped(
    cuts: Sequence[GaugeCut], letters: Sequence[str], order: Sequence[int], printer: Printer, width: float
) -> _Table:
    """A line for every setting, wrapped where it must be: the cuts along each edge together."""
    settings = [(printer.number(setting), same) for setting, same in by_setting(cuts)]
    first = max(lettering.width(text, Size.TITLE, True) for text, _ in settings)
    room = width - max(first, lettering.width(f"Set to, {printer.units}", Size.SMALL, True)) - 4 * CELL_X - 0.1
    rows = tuple(
        _Row(setting=text, lines=tuple((line,) for line in _flowed(_edges(same, letters, order), room)))
        for text, same in settings
    )
    return _Table(heads=(f"Set to, {printer.units}", "Cuts: edge as it lies, windows"), rows=rows)


def _edges(cuts: Sequence[GaugeCut], letters: Sequence[str], order: Sequence[int]) -> Iterator[str]:
    """`3–4 top A B` for each edge."""
    for edge, found in groupby(cuts, key=lambda cut: cut.edge):
        same = tuple(found)
        numbers = f"{same[0].number}" if len(same) == 1 else f"{same[0].number}–{same[-1].number}"
        yield f"{numbers} {edge.value} {' '.join(_runs([cut.window for cut in same], letters, order))}"


def _runs(windows: Sequence[int], letters: Sequence[str], order: Sequence[int]) -> Iterator[str]:
    """The windows' letters, three and more that follow one another as `A–C`; `order` is that of the letters."""
    places = [order.index(window) for window in windows]
    for _, found in groupby(enumerate(places), key=lambda pair: pair[1] - pair[0]):
        run = [letters[order[place]] for _, place in found]
        yield from (f"{run[0]}–{run[-1]}",) if len(run) > 2 else run


def _flowed(parts: Iterator[str], room: float) -> Iterator[str]:
    """The parts in as few lines as hold them; one that is wider than the room is wrapped."""
    line = ""
    for part in parts:
        joined = f"{line}{_BETWEEN}{part}" if line else part
        if line and lettering.width(joined, Size.NORMAL) > room:
            yield line
            line = part
        else:
            line = joined
        if lettering.width(line, Size.NORMAL) > room:
            *full, line = lettering.wrapped(line, room, Size.NORMAL)
            yield from full
    if line:
        yield line


def _drawn(table: _Table, x: float, y: float, width: float) -> Block:
    widths = table.widths
    width = max(width, sum(widths))
    spare = (width - sum(widths)) / len(widths)
    lefts, left = [], x
    for wide in widths:
        lefts.append(left + CELL_X)
        left += wide + spare
    head_height = Size.SMALL + 2 * CELL_Y + 0.8
    items: list[Item] = [Rect(x=x, y=y, width=width, height=head_height, fill=TINT)]
    for at, head in zip(lefts, table.heads, strict=True):
        items.append(Text(at=(at, y + CELL_Y + 0.2), text=head, size=Size.SMALL, level=Level.TOP, bold=True))
    top, y = y, y + head_height
    items.append(Line(start=(x, y), end=(x + width, y), pen=Pen.EDGE))
    for row in table.rows:
        base = y + CELL_Y + Size.TITLE
        items.append(Text(at=(lefts[0], base), text=row.setting, size=Size.TITLE, bold=True, classes=("setting",)))
        for number, line in enumerate(row.lines):
            for at, text in zip(lefts[1:], line, strict=True):
                items.append(Text(at=(at, base + number * _PITCH), text=text, size=Size.NORMAL))
        y = base + (len(row.lines) - 1) * _PITCH + CELL_Y + 1.0
        items.append(Line(start=(x, y), end=(x + width, y), pen=Pen.RULE))
    return Block(
        items=(Group(classes=("gauge-table",), items=tuple(items)),), area=Area(x=x, y=top, width=width, height=y - top)
    )
