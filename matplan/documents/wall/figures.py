"""The hooks' figures: each frame by its number, how far its hooks lie from the wall's left edge and above the floor."""

from __future__ import annotations

from typing import Final

from matplan.documents.parts import wording
from matplan.drawing import lettering
from matplan.drawing.blocks import Align, Column, Table
from matplan.lengths import Printer
from matplan.walls.records import HungFrame, SolvedWall
from matplan.walls.work import in_order

SIZE: Final = 2.0
_LONGEST_NAME: Final = 26


def figures(wall: SolvedWall, printer: Printer, first: int = 1) -> tuple[Table, ...]:
    """Return the table of the frames in the order of work, numbered from `first`; hooks side by side stand in one row.
    Nothing without a frame.
    """
    if not wall.frames:
        return ()
    several = any(len(hung.hooks) > 1 for hung in wall.frames)
    columns = (
        Column(head="No.", align=Align.RIGHT, bold=True),
        Column(head="Piece"),
        Column(head="Hooks,\nfrom left" if several else "From\nleft", align=Align.RIGHT),
        Column(head="Above\nfloor", align=Align.RIGHT),
    )
    rows = [
        (
            str(number),
            _name(hung),
            " · ".join(printer.tape(hook.left) for hook in hung.hooks),
            " · ".join(dict.fromkeys(printer.tape(wall.above_floor(hook.left, hook.height)) for hook in hung.hooks)),
        )
        for number, hung in enumerate(in_order(wall), first)
    ]
    return (Table(columns, rows, size=SIZE, pad=0.8),)


def named(hung: HungFrame) -> str:
    """Return the piece's name, with its copy where several hang on the wall."""
    name = wording.short(hung.name)
    return f"{name}, {hung.copy}" if hung.frame.copies > 1 else name


def _name(hung: HungFrame) -> str:
    """Return the name in lines of a column's width."""
    width = lettering.width("n" * _LONGEST_NAME, SIZE)
    return "\n".join(lettering.wrapped(named(hung), width, SIZE))
