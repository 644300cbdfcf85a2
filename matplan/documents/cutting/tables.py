"""The tables of a cutting diagram: the gauge's settings, how rounds and slopes are set out, and the windows.

A table runs over columns and pages; no row of it is ever left out. Figures that are set have the size of the drawing's.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from matplan.documents.cutting.board import Board
from matplan.drawing.blocks import Align, Column, Table, paragraph
from matplan.drawing.items import Area, Item, Size
from matplan.lengths import Printer
from matplan.mats.gauge import By, Edge
from matplan.mats.outline_cuts import OutlineCut
from matplan.mats.shapes.roots import Point
from matplan.mats.shapes.segments import Arc

GAP: Final = 4.0
"""Between two tables, and between two columns of tables."""
_PAD: Final = 0.9
"""What a cell keeps free above and below."""
_TITLE: Final = 4.4


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """A table before it is measured."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    name: str
    title: str = ""
    size: float = Size.NORMAL

    def table(self, width: float | None = None) -> Table:
        """Return the table of that width, or one in which nothing is wrapped."""
        return Table(self.columns, self.rows, width=width, size=self.size, head_size=Size.SMALL, pad=_PAD)


def listings(board: Board) -> tuple[Listing, ...]:
    """Return the board's tables in the order of the work; those without rows are left out."""
    made = (_gauge(board), _rounds(board), _slopes(board), _windows(board))
    return tuple(listing for listing in made if listing.rows)


def natural_width(listed: Sequence[Listing]) -> float:
    """Return the width at which no table wraps."""
    return max((sum(listing.table().widths) for listing in listed), default=0.0)


def edge_in_words(edge: Edge) -> str:
    """Return `left (right)`: the edge as it lies, and in brackets as framed where that is another."""
    return edge.value if edge.framed is edge else f"{edge.value} ({edge.framed.value})"


def _kept(columns: Sequence[tuple[Column, bool]], rows: Sequence[Sequence[str]]) -> tuple[
    tuple[Column, ...], tuple[tuple[str, ...], ...]
]:  # fmt: skip
    """Return the columns that are wanted, and their cells."""
    wanted = [n for n, (_, shown) in enumerate(columns) if shown]
    return tuple(columns[n][0] for n in wanted), tuple(tuple(row[n] for n in wanted) for row in rows)


def _gauge(board: Board) -> Listing:
    """Return the straight cuts along the board's edges, each with its setting and where the blade starts and stops."""
    number = board.job.printer.number
    by_hand = any(cut.by is By.HAND for cut in board.cuts)
    right = Align.RIGHT
    columns = (
        (Column(head="Cut", align=right, bold=True), True),
        (Column(head="Gauge", align=right, bold=True), True),
        (Column(head="Edge as it lies\n(as framed)"), True),
        (Column(head="Window"), board.several),
        (Column(head="Start", align=right), True),
        (Column(head="Stop", align=right), True),
        (Column(head="By"), by_hand),
    )
    rows = [
        (
            str(cut.number),
            number(cut.setting),
            edge_in_words(cut.edge),
            board.letters[cut.window],
            number(cut.near),
            number(cut.far),
            cut.by.value,
        )
        for cut in board.cuts
    ]
    kept = _kept(columns, rows)
    return Listing(columns=kept[0], rows=kept[1], name="gauge-table")


def _rounds(board: Board) -> Listing:
    """Return what a cutter of circles and ovals is set to, at the back and at the face, and where its centre stands."""
    columns = (
        (Column(head="Cut", align=Align.RIGHT, bold=True), True),
        (Column(head="Window"), board.several),
        (Column(head="Round, at the back", bold=True), True),
        (Column(head="At the face"), True),
        (Column(head="Centre: from left · top"), True),
    )
    rows = []
    for cut in board.outlines:
        back = cut.round
        if back is not None:
            face = _face(board, cut)
            printer = board.job.printer
            setting = f"arc, radius {printer.number(back.rx)}" if not cut.whole else _axes(back, printer)
            at_face = (
                "" if face is None else f"radius {printer.number(face.rx)}" if not cut.whole else _axes(face, printer)
            )
            row = (str(cut.number), board.letters[cut.window], setting, at_face, _place(back.centre, board))
            rows.append(row)
    kept = _kept(columns, rows)
    return Listing(columns=kept[0], rows=kept[1], name="outline-table")


def _axes(arc: Arc, printer: Printer) -> str:
    """Return `circle, 200`, or an oval's axes and their difference."""
    wide, high = 2 * arc.rx, 2 * arc.ry
    if wide == high:
        return f"circle, {printer.number(wide)}"
    return f"oval, {printer.number(wide)} × {printer.number(high)}\ndifference {printer.number(abs(wide - high))}"


def _face(board: Board, cut: OutlineCut) -> Arc | None:
    """Return the round that the cut shows on the board's face, or `None` where the face has none there."""
    face = board.layer.openings[cut.window].face
    arcs = [piece for piece in face.line if isinstance(piece, Arc)]
    if cut.whole:
        box = face.box
        return next((arc for arc in arcs if arc.centre == box.centre), None)
    return next((arc for arc in arcs if cut.round is not None and arc.centre[0] == cut.round.centre[0]), None)


def _slopes(board: Board) -> Listing:
    """Return the ends of cuts along slopes."""
    columns = (
        (Column(head="Cut", align=Align.RIGHT, bold=True), True),
        (Column(head="Window"), board.several),
        (Column(head="Slope from: left · top"), True),
        (Column(head="to: left · top"), True),
    )
    rows = [
        (str(cut.number), board.letters[cut.window], *(_place(mark, board) for mark in cut.marks))
        for cut in board.outlines
        if cut.round is None
    ]
    kept = _kept(columns, rows)
    return Listing(columns=kept[0], rows=kept[1], name="outline-table")


def _place(point: Point, board: Board) -> str:
    """Return a point on the board's back: from its left edge as it lies, and from its top."""
    number = board.job.printer.number
    return f"{number(board.piece.blank.width - point[0])} · {number(point[1])}"


def _windows(board: Board) -> Listing:
    """Return the windows by their letters, with their openings at the back and what becomes of their drop-outs."""
    openings, printer = board.layer.openings, board.job.printer
    rows = [
        (board.letters[n], openings[n].aperture, printer.size(openings[n].back.box.size), board.fate(n))
        for n in (board.order if board.several else ())
    ]
    heads = ("Window", "Name", "Width × height,\nat the back", "Drop-out")
    columns = tuple(Column(head=head, bold=head == "Window") for head in heads)
    return Listing(columns=columns, rows=tuple(rows), name="windows")


# --- set on paper ----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Flowed:
    """Tables set into columns: their items, how far down they reach, and what is left for the next page."""

    items: tuple[Item, ...]
    bottom: float
    rest: tuple[Listing, ...]


def flowed(listed: Sequence[Listing], columns: Sequence[Area]) -> Flowed:
    """Return the tables set from the top of the first column on, one below the other."""
    items: list[Item] = []
    todo, bottom = list(listed), columns[0].y
    for area in columns:
        y = area.y
        while todo:
            listing = todo[0]
            table = listing.table(area.width)
            above = _TITLE if listing.title else 0.0
            room = area.bottom - y - above - table.head_height
            count = _rows_within(table.heights, room)
            if count == 0 and y > area.y:
                break
            count = max(count, 1)  # a row that is higher than the page is set all the same
            if listing.title:
                items.extend(paragraph(listing.title, x=area.x, y=y, width=area.width, bold=True).items)
            block = table.block(0, count, area.x, y + above, (listing.name,))
            items.extend(block.items)
            bottom, y = max(bottom, block.bottom), block.bottom + GAP
            if count < len(listing.rows):
                todo[0] = _after(listing, count)
                break
            todo.pop(0)
    return Flowed(items=tuple(items), bottom=bottom, rest=tuple(todo))


def _rows_within(heights: Sequence[float], room: float) -> int:
    """Return how many rows from the first on fit into the room."""
    for number, height in enumerate(heights):
        room -= height
        if room < -1e-6:
            return number
    return len(heights)


def _after(listing: Listing, count: int) -> Listing:
    return Listing(
        columns=listing.columns, rows=listing.rows[count:], name=listing.name, title=listing.title, size=listing.size
    )


def side_by_side(area: Area, width: float) -> tuple[Area, ...]:
    """Return as many columns of at least that width as stand beside one another in the area."""
    count = max(1, int((area.width + GAP) / (width + GAP)))
    each = (area.width - GAP * (count - 1)) / count
    return tuple(Area(x=area.x + n * (each + GAP), y=area.y, width=each, height=area.height) for n in range(count))


def least_height(listed: Sequence[Listing], columns: Sequence[Area], most: float) -> float | None:
    """Return the least height at which the columns hold all tables, or `None` where `most` does not do."""
    height = sum(sum(t.heights) + t.head_height for t in (one.table(columns[0].width) for one in listed)) / len(columns)
    while height <= most:
        found = flowed(listed, [Area(x=c.x, y=c.y, width=c.width, height=height) for c in columns])
        if not found.rest and found.bottom <= columns[0].y + height + 1e-6:
            return found.bottom - columns[0].y
        height += 1.0
    return None


def pages(listed: Sequence[Listing], area: Area, width: float) -> Iterator[tuple[Item, ...]]:
    """Return the tables on as many pages of that area as they need."""
    rest = tuple(listed)
    while rest:
        found = flowed(rest, side_by_side(area, width))
        yield found.items
        rest = found.rest
