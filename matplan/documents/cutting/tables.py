"""The tables of a cutting diagram: the gauge's settings, how rounds and slopes are set out, and the windows.

Figures that are set have the size of the drawing's.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from matplan.documents.cutting.board import Board
from matplan.drawing.blocks import CELL_X, Align, Cells, Column, Table, filled
from matplan.drawing.items import Size
from matplan.mats.gauge import By, Edge, GaugeCut
from matplan.mats.outline_cuts import OutlineCut
from matplan.mats.shapes.roots import Point

_PAD: Final = 0.9
"""What a cell keeps free above and below."""
_SIDE: Final = 0.9
"""What a cell of the gauge's table keeps free at its sides: two columns of it stand on an upright page."""
_APART: Final = 1.0
"""What stands between two figures besides, so that they are never read as one."""


def tables(board: Board) -> tuple[Table, ...]:
    """Return the board's tables in the order of the work; those without rows are left out."""
    made = (_gauge(board), _rounds(board), _slopes(board), _windows(board))
    return tuple(table for table in made if table.heights)


def _table[T](name: str, cells: Sequence[Cells[T] | None], records: Sequence[T], side: float = CELL_X) -> Table:
    """Return the table of some records, no wider than its text; `None` stands for a column that is left out."""
    columns, rows = filled(cells, records)
    return Table(columns, rows, size=Size.NORMAL, head_size=Size.SMALL, pad=_PAD, side=side, classes=(name,))


def edge_in_words(edge: Edge) -> str:
    """Return `left (right)`: the edge as it lies, and in brackets as framed where that is another."""
    return edge.value if edge.framed is edge else f"{edge.value} ({edge.framed.value})"


def _gauge(board: Board) -> Table:
    """Return the straight cuts along the board's edges, each with its setting and where the blade starts and stops."""
    number, letters, right = board.job.printer.number, board.letters, Align.RIGHT
    cells: tuple[Cells[GaugeCut] | None, ...] = (
        (Column(head="Cut", align=right, bold=True), lambda cut: str(cut.number)),
        (Column(head="Gauge", align=right, bold=True, room=_APART), lambda cut: number(cut.setting)),
        (Column(head="Edge as it lies\n(as framed)"), lambda cut: edge_in_words(cut.edge)),
        (Column(head="Win-\ndow"), lambda cut: letters[cut.window]) if board.several else None,
        (Column(head="Start", align=right), lambda cut: number(cut.near)),
        (Column(head="Stop", align=right, room=_APART), lambda cut: number(cut.far)),
        (Column(head="By"), lambda cut: cut.by.value) if any(cut.by is By.HAND for cut in board.cuts) else None,
    )
    return _table("gauge-table", cells, board.cuts, _SIDE)


def _numbered(board: Board) -> tuple[Cells[OutlineCut] | None, ...]:
    """Return the first columns of a table of cuts that no gauge guides."""
    window: Cells[OutlineCut] = (Column(head="Window"), lambda cut: board.letters[cut.window])
    return (
        (Column(head="Cut", align=Align.RIGHT, bold=True), lambda cut: str(cut.number)),
        window if board.several else None,
    )


def _rounds(board: Board) -> Table:
    """Return what a cutter of circles and ovals is set to, at the back and at the face, and where its centre stands."""
    head = "Round: axes (their difference),\nat the back and at the face"
    cells: tuple[Cells[OutlineCut] | None, ...] = (
        *_numbered(board),
        (Column(head=head, bold=True), lambda cut: "\n".join(_set_to(cut, board))),
        (
            Column(head="Centre, from\nleft · top"),
            lambda cut: "" if cut.round is None else _place(cut.round.centre, board),
        ),
    )
    return _table("outline-table", cells, [cut for cut in board.outlines if cut.round is not None])


def _set_to(cut: OutlineCut, board: Board) -> Iterator[str]:
    """Yield what the cutter is set to for the back, and for the face where that is another."""
    back, opening, number = cut.round, board.layer.openings[cut.window], board.job.printer.number
    if back is None:
        return
    if not cut.whole:
        halved = board.job.printer.halved
        yield f"arc, radius {halved(back.rx)} back"
        grows = (opening.face.box.width - opening.back.box.width) / 2
        if grows:
            yield f"radius {halved(back.rx + grows)} face"
        return
    sides = [("back", opening.back.box), ("face", opening.face.box)]
    for where, box in sides if opening.back.box != opening.face.box else sides[:1]:
        if box.width == box.height:
            yield f"circle {number(box.width)} {where}"
        else:
            difference = number(abs(box.width - box.height))
            yield f"{number(box.width)} × {number(box.height)} ({difference}) {where}"


def _slopes(board: Board) -> Table:
    """Return the ends of cuts along slopes."""
    cells: tuple[Cells[OutlineCut] | None, ...] = (
        *_numbered(board),
        (Column(head="Slope from\nleft · top"), lambda cut: _place(cut.marks[0], board)),
        (Column(head="to\nleft · top"), lambda cut: _place(cut.marks[1], board)),
    )
    return _table("outline-table", cells, [cut for cut in board.outlines if cut.round is None])


def _place(point: Point, board: Board) -> str:
    """Return a point on the board's back: from its left edge as it lies, and from its top."""
    halved = board.job.printer.halved
    return f"{halved(board.piece.blank.width - point[0])} · {halved(point[1])}"


def _windows(board: Board) -> Table:
    """Return the windows by their letters, with their openings at the back and what becomes of their drop-outs."""
    openings, printer = board.layer.openings, board.job.printer
    cells: tuple[Cells[int], ...] = (
        (Column(head="Window", bold=True), lambda n: board.letters[n]),
        (Column(head="Name"), lambda n: openings[n].aperture),
        (Column(head="Width × height,\nat the back"), lambda n: printer.size(openings[n].back.box.size)),
        (Column(head="Drop-out"), board.fate),
    )
    return _table("windows", cells, board.order if board.several else ())
