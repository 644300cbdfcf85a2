"""The tables of a cutting diagram: the gauge's settings, how rounds and slopes are set out, and the windows.

A table runs over columns and pages; no row of it is ever left out. Figures that are set have the size of the drawing's.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Self

from matplan.documents.cutting.board import Board
from matplan.drawing.blocks import Align, Cells, Column, Row, Table, filled
from matplan.drawing.items import Area, Item, Size
from matplan.mats.gauge import By, Edge, GaugeCut
from matplan.mats.outline_cuts import OutlineCut
from matplan.mats.shapes.roots import Point

GAP: Final = 4.0
"""Between two tables, and between two columns of tables."""
_PAD: Final = 0.9
"""What a cell keeps free above and below."""
_SPARE: Final = 24.0
"""A table is no wider than its text and this."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """A table before it is measured."""

    name: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]

    @classmethod
    def of[T](cls, name: str, cells: Sequence[Cells[T] | None], records: Sequence[T]) -> Self:
        """Return the table of some records; `None` stands for a column that is left out."""
        columns, rows = filled(cells, records)
        return cls(name=name, columns=columns, rows=rows)

    def table(self, width: float | None = None) -> Table:
        """Return the table of that width, or one in which nothing is wrapped."""
        return Table(self.columns, self.rows, width=width, size=Size.NORMAL, head_size=Size.SMALL, pad=_PAD)


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


def _gauge(board: Board) -> Listing:
    """Return the straight cuts along the board's edges, each with its setting and where the blade starts and stops."""
    number, letters, right = board.job.printer.number, board.letters, Align.RIGHT
    cells: tuple[Cells[GaugeCut] | None, ...] = (
        (Column(head="Cut", align=right, bold=True), lambda cut: str(cut.number)),
        (Column(head="Gauge", align=right, bold=True), lambda cut: number(cut.setting)),
        (Column(head="Edge as it lies\n(as framed)"), lambda cut: edge_in_words(cut.edge)),
        (Column(head="Window"), lambda cut: letters[cut.window]) if board.several else None,
        (Column(head="Start", align=right), lambda cut: number(cut.near)),
        (Column(head="Stop", align=right), lambda cut: number(cut.far)),
        (Column(head="By"), lambda cut: cut.by.value) if any(cut.by is By.HAND for cut in board.cuts) else None,
    )
    return Listing.of("gauge-table", cells, board.cuts)


def _numbered(board: Board) -> tuple[Cells[OutlineCut] | None, ...]:
    """Return the first columns of a table of cuts that no gauge guides."""
    window: Cells[OutlineCut] = (Column(head="Window"), lambda cut: board.letters[cut.window])
    return (
        (Column(head="Cut", align=Align.RIGHT, bold=True), lambda cut: str(cut.number)),
        window if board.several else None,
    )


def _rounds(board: Board) -> Listing:
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
    return Listing.of("outline-table", cells, [cut for cut in board.outlines if cut.round is not None])


def _set_to(cut: OutlineCut, board: Board) -> Iterator[str]:
    """Yield what the cutter is set to for the back, and for the face where that is another."""
    back, opening, number = cut.round, board.layer.openings[cut.window], board.job.printer.number
    if back is None:
        return
    if not cut.whole:
        yield f"arc, radius {number(back.rx)} back"
        grows = (opening.face.box.width - opening.back.box.width) / 2
        if grows:
            yield f"radius {number(back.rx + grows)} face"
        return
    sides = [("back", opening.back.box), ("face", opening.face.box)]
    for where, box in sides if opening.back.box != opening.face.box else sides[:1]:
        if box.width == box.height:
            yield f"circle {number(box.width)} {where}"
        else:
            difference = number(abs(box.width - box.height))
            yield f"{number(box.width)} × {number(box.height)} ({difference}) {where}"


def _slopes(board: Board) -> Listing:
    """Return the ends of cuts along slopes."""
    cells: tuple[Cells[OutlineCut] | None, ...] = (
        *_numbered(board),
        (Column(head="Slope from\nleft · top"), lambda cut: _place(cut.marks[0], board)),
        (Column(head="to\nleft · top"), lambda cut: _place(cut.marks[1], board)),
    )
    return Listing.of("outline-table", cells, [cut for cut in board.outlines if cut.round is None])


def _place(point: Point, board: Board) -> str:
    """Return a point on the board's back: from its left edge as it lies, and from its top."""
    number = board.job.printer.number
    return f"{number(board.piece.blank.width - point[0])} · {number(point[1])}"


def _windows(board: Board) -> Listing:
    """Return the windows by their letters, with their openings at the back and what becomes of their drop-outs."""
    openings, printer = board.layer.openings, board.job.printer
    cells: tuple[Cells[int], ...] = (
        (Column(head="Window", bold=True), lambda n: board.letters[n]),
        (Column(head="Name"), lambda n: openings[n].aperture),
        (Column(head="Width × height,\nat the back"), lambda n: printer.size(openings[n].back.box.size)),
        (Column(head="Drop-out"), board.fate),
    )
    return Listing.of("windows", cells, board.order if board.several else ())


# --- set on paper ----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Some rows of a table in one of the columns of a page, `y` below the column's top."""

    table: int
    rows: tuple[int, int]
    column: int
    y: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Tables:
    """A board's tables measured in one width; `names` are their classes."""

    tables: tuple[Table, ...]
    names: tuple[str, ...]

    @classmethod
    def of(cls, listed: Sequence[Listing], width: float) -> Self:
        """Return the tables no wider than that, nor much wider than their text."""
        wide = min(width, natural_width(listed) + _SPARE)
        return cls(tables=tuple(one.table(wide) for one in listed), names=tuple(one.name for one in listed))

    @property
    def width(self) -> float:
        """The tables' width."""
        return max((sum(table.widths) for table in self.tables), default=0.0)

    def flowed(self, columns: int, height: float, start: tuple[int, int] = (0, 0)) -> tuple[list[Part], float, Place]:
        """Return what stands in so many columns of that height from a place on, how far it reaches, and what is next."""
        table, row = start
        parts: list[Part] = []
        bottom = 0.0
        for column in range(columns):
            y = 0.0
            while table < len(self.tables):
                made = self.tables[table]
                count = _rows_within(made.heights[row:], height - y - made.head_height)
                if count == 0 and y > 0:
                    break
                count = max(count, 1)  # a row that is higher than the page is set all the same
                parts.append(Part(table=table, rows=(row, row + count), column=column, y=y))
                y += made.head_height + sum(made.heights[row : row + count]) + GAP
                bottom = max(bottom, y - GAP)
                row += count
                if row < len(made.heights):
                    break
                table, row = table + 1, 0
        return parts, bottom, (table, row)

    def least_height(self, columns: int, most: float) -> float | None:
        """Return the least height at which so many columns hold all tables, or `None` where `most` does not do."""
        height = sum(sum(table.heights) + table.head_height for table in self.tables) / columns
        while height <= most:
            _, bottom, after = self.flowed(columns, height)
            if after[0] == len(self.tables) and bottom <= height + 1e-6:
                return bottom
            height += 1.0
        return None

    def items(self, parts: Sequence[Part], columns: Sequence[Area]) -> Iterator[Item]:
        """Return those parts set in their columns."""
        for part in parts:
            area = columns[part.column]
            block = self.tables[part.table].block(*part.rows, area.x, area.y + part.y, (self.names[part.table],))
            yield from block.items


type Place = tuple[int, int]
"""A table's place and a row's."""


def _rows_within(heights: Sequence[float], room: float) -> int:
    """Return how many rows from the first on fit into the room."""
    for number, height in enumerate(heights):
        room -= height
        if room < -1e-6:
            return number
    return len(heights)


def side_by_side(area: Area, width: float) -> tuple[Area, ...]:
    """Return as many columns of at least that width as stand beside one another in the area."""
    count = max(1, int((area.width + GAP + 1e-6) / (width + GAP)))
    each = (area.width - GAP * (count - 1)) / count
    return tuple(Area(x=area.x + n * (each + GAP), y=area.y, width=each, height=area.height) for n in range(count))


def pages(listed: Sequence[Listing], area: Area, start: Place = (0, 0)) -> Iterator[tuple[Item, ...]]:
    """Return the tables from a place on, on as many pages of that area as they need."""
    columns = side_by_side(area, natural_width(listed))
    measured = Tables.of(listed, columns[0].width)
    while start[0] < len(measured.tables):
        parts, _, start = measured.flowed(len(columns), area.height, start)
        yield tuple(measured.items(parts, columns))
