"""The lists of a sheet layout: what the fence is set to for which cuts, and which part is which."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Final

from matplan.documents.parts import wording
from matplan.documents.stock.keys import Kind
from matplan.drawing.blocks import Align, Column, Table
from matplan.drawing.items import Size
from matplan.lengths import Printer
from matplan.stock.records import CutLine

_LONGEST_NAME: Final = 44


def lists(cuts: Sequence[CutLine], kinds: Sequence[Kind], printer: Printer) -> tuple[Table, ...]:
    """Return the table of the fence's settings, whose figures are set at the cutter, and that of the parts."""
    settings = tuple(_settings(cuts, printer))
    fence = (Column(head="Cuts", bold=True), Column(head="Fence set to", align=Align.RIGHT))
    parts = (
        Column(head="Key", bold=True),
        Column(head="Part"),
        Column(head="Size", align=Align.RIGHT),
        Column(head="Quantity", align=Align.RIGHT),
    )
    rows = [(kind.called, _name(kind.name), printer.size(kind.size), str(kind.count)) for kind in kinds]
    return (
        *((Table(fence, settings, size=Size.NORMAL, head_size=Size.SMALL, pad=1.0),) if settings else ()),
        Table(parts, rows, pad=1.1),
    )


def _name(name: str) -> str:
    """Return the name in lines of a column's width."""
    from matplan.drawing import lettering

    width = lettering.width("n" * _LONGEST_NAME, Size.SMALL)
    return "\n".join(lettering.wrapped(wording.short(name), width, Size.SMALL))


def _settings(cuts: Sequence[CutLine], printer: Printer) -> Iterator[tuple[str, ...]]:
    """Yield runs of cuts at one setting of the fence: `1–3`, `40 cm`."""
    for setting, run in groupby(enumerate(cuts, 1), key=lambda one: one[1].setting):
        numbers = [number for number, _ in run]
        yield (str(numbers[0]) if len(numbers) == 1 else f"{numbers[0]}–{numbers[-1]}"), printer.length(setting)
