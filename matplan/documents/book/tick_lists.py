"""Tick lists of a large job: at the head of a chapter one line a piece, with a box to tick, the sizes that matter and
the page of its drawing.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from matplan.documents.document import Chapter
from matplan.documents.parts import wording
from matplan.documents.parts.folio import BoardsOf, Bound, Folio, LayerOf, WindowOf
from matplan.documents.parts.mark import marked
from matplan.documents.parts.page import paper, title_block
from matplan.documents.parts.running import Running
from matplan.drawing.blocks import Align, Column
from matplan.drawing.frame import drawing_area, frame
from matplan.drawing.sheet import Sheet
from matplan.lengths import Printer, Size
from matplan.mats.records import SolvedPiece
from matplan.walls.records import HungFrame, SolvedWall
from matplan.walls.work import in_order

MANY: Final = 12
"""A job of more pieces than these has tick lists."""

type _Paged = Sequence[tuple[Bound, str]]
"""A chapter's documents with their pages, `file` for one that is not bound."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Table:
    """The columns between box and page, and a row for each line with its page; what is ticked off."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[tuple[str, ...], str], ...]
    what: str


def is_large(folio: Folio) -> bool:
    """Return whether the folio's pieces are so many that a chapter has a tick list."""
    return len(folio.pieces) > MANY


def tick_list(folio: Folio, chapter: str, documents: _Paged) -> tuple[Sheet, ...]:
    """Return the tick list of a chapter; nothing where it has none."""
    if not is_large(folio):
        return ()
    made = _table(folio, chapter, documents)
    if made is None or not made.rows:
        return ()
    job, size = folio.job, paper(folio.job.units).portrait
    running = Running(drawing_area(size))
    columns = (Column(head="", tick=True), *made.columns, Column(head="Page", align=Align.RIGHT, bold=True))
    rows = [("", *cells, page) for cells, page in made.rows]
    running.table(columns, rows, title=f"{made.what}, {wording.UNITS[job.units]}", classes=("ticks",))
    pages = running.pages
    sheets = []
    for number, items in enumerate(pages, 1):
        block = title_block(job, title=chapter, document="Tick list", sheet=(number, len(pages)))
        title = f"{chapter}: tick list" if len(pages) == 1 else f"{chapter}: tick list, sheet {number}"
        name = f"ticks {chapter} {number}"
        sheets.append(marked(Sheet(name=name, title=title, size=size, items=(*frame(size, block).items, *items))))
    return tuple(sheets)


def _table(folio: Folio, chapter: str, documents: _Paged) -> _Table | None:
    """Return what a chapter's list says, or `None` of a chapter that has none."""
    printer = folio.job.printer
    match chapter:
        case Chapter.PRINTS:
            return _prints(documents, printer)
        case Chapter.WINDOWS:
            return _windows(documents, printer)
        case Chapter.ASSEMBLY:
            return _assembly(documents, printer)
        case Chapter.WALLS:
            return _walls(documents, printer)
        case _:
            return None


_QUANTITY: Final = Column(head="Quantity", align=Align.RIGHT)
_PIECE: Final = Column(head="Piece", share=1.0)


def _prints(documents: _Paged, printer: Printer) -> _Table:
    rows = []
    for document, page in documents:
        one = document.record
        if isinstance(one, WindowOf):
            aperture, made = one.aperture, one.aperture.print
            name = wording.short(one.piece.name)
            name += f": {wording.short(aperture.name)}" if len(one.piece.apertures) > 1 else ""
            sheet = "" if made is None else f"{_size(made.size, printer)} {made.orientation}"
            on = "" if made is None or made.paper is None else wording.short(made.paper.name)
            cells = (str(one.piece.ask.quantity), name, on, sheet, _size(aperture.image.size, printer))
            rows.append((cells, page))
    columns = (_QUANTITY, _PIECE, Column(head="Paper"), Column(head="Sheet"), Column(head="Image"))
    return _Table(columns=columns, rows=tuple(rows), what="Prints to make")


def _windows(documents: _Paged, printer: Printer) -> _Table:
    """One line a piece: all its boards have one blank."""
    pages: dict[str, list[str]] = {}
    pieces: dict[str, SolvedPiece] = {}
    for document, page in documents:
        if isinstance(document.record, LayerOf | BoardsOf):
            pieces[document.about] = document.record.piece
            pages.setdefault(document.about, []).append(page)
    rows = []
    for name, piece in pieces.items():
        boards = ", ".join(wording.short(layer.board.name) for layer in piece.layers)
        cells = (
            str(piece.ask.quantity),
            wording.short(name),
            boards,
            _size(piece.blank, printer),
            _openings(piece, printer),
        )
        rows.append((cells, ", ".join(pages[name])))
    columns = (_QUANTITY, _PIECE, Column(head="Boards", share=0.6), Column(head="Blank"), Column(head="Clear opening"))
    return _Table(columns=columns, rows=tuple(rows), what="Mats to cut")


def _assembly(documents: _Paged, printer: Printer) -> _Table:
    rows = []
    for document, page in documents:
        piece = document.record
        if isinstance(piece, SolvedPiece):
            row = tuple(piece_row(piece, printer))
            rows.append((row[:_OPENING] + row[_OPENING + 1 :], page))
    columns = PIECE_COLUMNS[:_OPENING] + PIECE_COLUMNS[_OPENING + 1 :]
    return _Table(columns=columns, rows=tuple(rows), what="Pieces to put together, with their visible borders")


def _walls(documents: _Paged, printer: Printer) -> _Table:
    rows = []
    seen: set[str] = set()
    for document, page in documents:
        wall = document.record
        if isinstance(wall, SolvedWall) and wall.ask.file not in seen:
            seen.add(wall.ask.file)
            for number, hung in enumerate(in_order(wall), 1):
                rows.append(((wording.short(wall.name), str(number), *_hung(hung, printer)), page))
    columns = (
        Column(head="Wall", share=0.6),
        Column(head="Frame", align=Align.RIGHT, bold=True),
        _PIECE,
        Column(head="Hooks, from left", align=Align.RIGHT),
        Column(head="Above floor", align=Align.RIGHT),
    )
    return _Table(columns=columns, rows=tuple(rows), what="Frames to hang")


def _hung(hung: HungFrame, printer: Printer) -> tuple[str, ...]:
    name = wording.short(hung.name) + (f", {hung.copy}" if hung.frame.copies > 1 else "")
    heights = dict.fromkeys(printer.tape(hook.height) for hook in hung.hooks)
    return name, " · ".join(printer.tape(hook.left) for hook in hung.hooks), " · ".join(heights)


# --- a piece in a line -----------------------------------------------------------------------------------------------

PIECE_COLUMNS: Final = (
    _QUANTITY,
    _PIECE,
    Column(head="Frame", share=1.0),
    Column(head="Blank"),
    Column(head="Opening"),
    *(Column(head=head, align=Align.RIGHT) for head in ("Top", "Right", "Bottom", "Left")),
)
_OPENING: Final = 4
"""The opening's place among them; the windows' list has it already."""


def piece_row(piece: SolvedPiece, printer: Printer) -> Iterable[str]:
    """Yield what a line says of a piece: its frame, blank, opening and visible borders."""
    only = piece.apertures[0] if len(piece.apertures) == 1 else None
    seen = only.visible if only is not None and only.visible.least >= 0 else None
    yield str(piece.ask.quantity)
    yield wording.short(piece.name)
    yield wording.frame_in_words(piece)
    yield _size(piece.blank, printer)
    yield _openings(piece, printer)
    yield from ("",) * 4 if seen is None else map(printer.number, (seen.top, seen.right, seen.bottom, seen.left))


def _openings(piece: SolvedPiece, printer: Printer) -> str:
    return (
        _size(piece.apertures[0].opening.size, printer)
        if len(piece.apertures) == 1
        else f"{len(piece.apertures)} windows"
    )


def _size(size: Size, printer: Printer) -> str:
    """Return a size without its unit, which the table's title has."""
    return f"{printer.number(size.width)} × {printer.number(size.height)}"
