"""How rounds and slopes are set out on a board's back, as tables: what the cutter is set to, where centres and marks
lie.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from matplan.drawing import blocks, lettering
from matplan.drawing.blocks import Block, Column
from matplan.drawing.dimensions import united
from matplan.drawing.items import Size
from matplan.lengths import Printer
from matplan.lengths import Size as BlankSize
from matplan.mats.outline_cuts import OutlineCut
from matplan.mats.shapes.roots import Point

_GAP: Final = 3.0
_FEW: Final = 4
"""So many rows have figures that are readable at arm's length."""


def set_out(
    cuts: Sequence[OutlineCut],
    letters: Sequence[str],
    blank: BlankSize,
    printer: Printer,
    *,
    x: float,
    y: float,
    width: float,
) -> Block:
    """The tables one below the other. `letters` name the windows, "" where there is but one."""
    made: list[Block] = []
    many = len(letters) > 1
    for columns, rows in (
        (_ROUNDS, _rounds(cuts, letters, blank, printer)),
        (_SLOPES, _slopes(cuts, letters, blank, printer)),
    ):
        found = list(rows)
        if found:
            kept = [n for n, column in enumerate(columns) if many or column.head != "Window"]
            table = [[row[n] for n in kept] for row in found]
            top = made[-1].bottom + _GAP if made else y
            chosen = [columns[n] for n in kept]
            size = Size.NORMAL if len(found) <= _FEW and _natural(chosen, table) <= width else Size.SMALL
            made.append(blocks.table(chosen, table, x=x, y=top, width=width, size=size, classes=("outline-table",)))
    words = "Places: from the left edge · from the top, as the board lies"
    made.append(blocks.paragraph(words, x=x + blocks.CELL_X, y=made[-1].bottom + 1.5, width=width - blocks.CELL_X))
    return Block(
        items=tuple(item for block in made for item in block.items), area=united([block.area for block in made])
    )


_ROUNDS: Final = (Column(head="Cut"), Column(head="Window"), Column(head="Round", bold=True), Column(head="Centre"))
_SLOPES: Final = (Column(head="Cut"), Column(head="Window"), Column(head="Slope from"), Column(head="to"))


def _natural(columns: Sequence[Column], rows: Sequence[Sequence[str]]) -> float:
    """The width at which no cell wraps."""
    cells = (
        max(
            lettering.width(column.head, Size.NORMAL, True),
            *(lettering.width(row[n], Size.NORMAL, column.bold) for row in rows),
        )
        for n, column in enumerate(columns)
    )
    return sum(wide + 2 * blocks.CELL_X + 0.01 for wide in cells)


def _rounds(
    cuts: Sequence[OutlineCut], letters: Sequence[str], blank: BlankSize, printer: Printer
) -> Iterator[tuple[str, ...]]:
    for cut in cuts:
        arc = cut.round
        if arc is None:
            continue
        if not cut.whole:
            setting = f"arc, radius {printer.number(arc.rx)}"
        elif arc.rx == arc.ry:
            setting = f"circle, {printer.number(2 * arc.rx)} across"
        else:
            setting = f"oval, axes {printer.number(2 * arc.rx)} × {printer.number(2 * arc.ry)}"
        yield str(cut.number), letters[cut.window], setting, _place(arc.centre, blank, printer)


def _slopes(
    cuts: Sequence[OutlineCut], letters: Sequence[str], blank: BlankSize, printer: Printer
) -> Iterator[tuple[str, ...]]:
    for cut in cuts:
        if cut.round is None:
            first, last = (_place(mark, blank, printer) for mark in cut.marks)
            yield str(cut.number), letters[cut.window], first, last


def _place(point: Point, blank: BlankSize, printer: Printer) -> str:
    """A point on the board's back: from its left edge as it lies, and from its top."""
    x, y = point
    return f"{printer.number(blank.width - x)} · {printer.number(y)}"
