"""workshop.pdf: every document in working order behind a first sheet with the job, its pieces, the contents and all
findings.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from matplan.documents.book.contents import ContentsLine, contents
from matplan.documents.book.side_by_side import side_by_side
from matplan.documents.book.summary import piece_summary
from matplan.documents.parts import wording
from matplan.documents.parts.facts import facts_beside
from matplan.documents.parts.page import paper, title_block
from matplan.documents.parts.pictures import Pictures
from matplan.documents.parts.running import Running
from matplan.drawing import blocks
from matplan.drawing.blocks import Align, Column
from matplan.drawing.frame import MARGIN, frame
from matplan.drawing.items import Anchor, Group, Size, Text
from matplan.drawing.pdf import Book, Chapter
from matplan.drawing.pens import SECONDARY
from matplan.drawing.sheet import Sheet
from matplan.mats.records import SolvedPiece
from matplan.planning import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceSheets:
    """The documents of one piece. `further` are more of them, each a chapter of its own, such as templates."""

    piece: SolvedPiece
    front: Sheet
    prints: tuple[Sheet, ...] = ()
    cuts: tuple[Sheet, ...] = ()
    further: tuple[Chapter, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class _Entry:
    """A document in the book: what it belongs to ("" for the job), what it is, and its sheets."""

    group: str
    document: str
    sheets: tuple[Sheet, ...]

    @property
    def title(self) -> str:
        return f"{self.group}: {self.document}" if self.group else self.document


def workbook(
    plan: Plan,
    *,
    order: tuple[Sheet, ...],
    pieces: Sequence[PieceSheets],
    further: Sequence[Chapter] = (),
    pictures: Pictures | None = None,
) -> Book:
    """The book: contents, order list, each piece's documents, then what is `further` (sheet layouts, walls). No sheets'
    names are alike.
    """
    entries = list(_entries(plan, order, pieces, further))
    pictures = {} if pictures is None else pictures
    first = _first_sheets(plan, entries, [p.piece for p in pieces], pictures, pages=1)
    first = _first_sheets(plan, entries, [p.piece for p in pieces], pictures, pages=len(first))
    chapters = [Chapter(title="Contents", sheets=first), *(Chapter(title=e.title, sheets=e.sheets) for e in entries)]
    return Book(title=plan.job.title, chapters=_numbered(chapters))


def _entries(
    plan: Plan, order: tuple[Sheet, ...], pieces: Sequence[PieceSheets], further: Sequence[Chapter]
) -> Iterator[_Entry]:
    if order:
        yield _Entry(group="", document="Order list", sheets=order)
    for sheets in pieces:
        piece = sheets.piece
        yield _Entry(group=piece.name, document="summary", sheets=piece_summary(plan.job, piece))
        yield _Entry(group=piece.name, document="front view", sheets=(sheets.front,))
        for sheet in sheets.prints:
            which = "" if len(sheets.prints) == 1 else f" {sheet.title.removeprefix(f'{piece.name}: ')}"
            yield _Entry(group=piece.name, document=f"print sheet{which}", sheets=(sheet,))
        for number, sheet in enumerate(sheets.cuts, 1):
            yield _Entry(group=piece.name, document=f"cutting diagram, layer {number}", sheets=(sheet,))
        for chapter in sheets.further:
            yield _Entry(group=piece.name, document=chapter.title, sheets=chapter.sheets)
    for chapter in further:
        yield _Entry(group="", document=chapter.title, sheets=chapter.sheets)


# --- page numbers ----------------------------------------------------------------------------------------------------


def _numbered(chapters: Sequence[Chapter]) -> tuple[Chapter, ...]:
    """The chapters with the book's page number at the foot of every sheet that has a title block."""
    count = sum(len(chapter.sheets) for chapter in chapters)
    page = 0
    found = []
    for chapter in chapters:
        sheets = []
        for sheet in chapter.sheets:
            page += 1
            sheets.append(_with_number(sheet, page, count) if _has_title_block(sheet) else sheet)
        found.append(replace(chapter, sheets=tuple(sheets)))
    return tuple(found)


def _has_title_block(sheet: Sheet) -> bool:
    return any(isinstance(item, Group) and "title-block" in item.classes for item in sheet.items)


def _with_number(sheet: Sheet, page: int, count: int) -> Sheet:
    width, height = sheet.size
    text = f"page {page} of {count}"
    at = (width - MARGIN, height - 6.0)
    number = Text(at=at, text=text, size=Size.CAPTION, anchor=Anchor.END, colour=SECONDARY, classes=("page-number",))
    return replace(sheet, items=(*sheet.items, number))


# --- the first sheets ------------------------------------------------------------------------------------------------


def _first_sheets(
    plan: Plan, entries: Sequence[_Entry], pieces: Sequence[SolvedPiece], pictures: Pictures, *, pages: int
) -> tuple[Sheet, ...]:
    """The sheets before the first document, which begins after so many `pages`."""
    size = paper(plan.job.units).portrait
    running = Running(frame(size, title_block(plan.job, title="", document="")).area)
    _head(running, plan, pieces)
    side_by_side(running, plan.job, pieces, pictures)
    contents(running, list(_lines(entries, pages)))
    _pieces(running, plan, pieces)
    _findings(running, pieces)
    made = running.pages
    sheets = []
    for number, items in enumerate(made, 1):
        block = title_block(plan.job, title=plan.job.title, document="Workshop pack", sheet=(number, len(made)))
        title = "Contents" if len(made) == 1 else f"Contents, sheet {number}"
        sheets.append(
            Sheet(name=f"contents {number}", title=title, size=size, items=(*frame(size, block).items, *items))
        )
    return tuple(sheets)


def _head(running: Running, plan: Plan, pieces: Sequence[SolvedPiece]) -> None:
    job = plan.job
    frames = sum(piece.ask.quantity for piece in pieces)
    warned = sum(bool(piece.findings) for piece in pieces)
    lists = (
        ("", [("Pieces", str(len(pieces))), ("Frames in all", str(frames))]),
        ("", [("Units", job.units.value), ("Step", job.printer.length(job.step.size))]),
        ("", [("Order lines", str(len(plan.order))), ("Pieces with findings", str(warned))]),
    )
    title = wording.short(job.title)
    running.add(
        lambda x, y, width: blocks.paragraph(title, x=x, y=y, width=width, size=7.0, bold=True),
        lambda x, y, width: facts_beside(lists, x=x, y=y, width=width),
        gap=5.0,
    )


def _lines(entries: Sequence[_Entry], pages: int) -> Iterator[ContentsLine]:
    page, group = pages + 1, ""
    for entry in entries:
        if entry.group and entry.group != group:
            yield ContentsLine(text=entry.group)
        group = entry.group
        text = entry.document[:1].upper() + entry.document[1:]
        yield ContentsLine(text=text, page=page, target=entry.sheets[0].name, indent=3.0 if entry.group else 0.0)
        page += len(entry.sheets)


def _pieces(running: Running, plan: Plan, pieces: Sequence[SolvedPiece]) -> None:
    printer = plan.job.printer
    columns = [
        Column(head="Quantity", align=Align.RIGHT),
        Column(head="Piece", share=1.0),
        Column(head="Frame", share=0.7),
    ]
    columns += [Column(head="Blank"), Column(head="Opening")]
    columns += [Column(head=head, align=Align.RIGHT) for head in ("Top", "Right", "Bottom", "Left")]
    rows = []
    for piece in pieces:
        only = piece.apertures[0] if len(piece.apertures) == 1 else None
        opening = f"{len(piece.apertures)} windows" if only is None else printer.size(only.opening.size)
        seen = only.visible if only is not None and only.visible.least >= 0 else None
        borders = (
            ("",) * 4 if seen is None else tuple(map(printer.number, (seen.top, seen.right, seen.bottom, seen.left)))
        )
        name, frame_name = wording.short(piece.name), wording.frame_in_words(piece)
        rows.append((str(piece.ask.quantity), name, frame_name, printer.size(piece.blank), opening, *borders))
    running.table(columns, rows, title="Pieces, with the borders that the eye sees", classes=("pieces",), gap=6.0)


def _findings(running: Running, pieces: Sequence[SolvedPiece]) -> None:
    rows = []
    for piece in pieces:
        for number, finding in enumerate(piece.findings):
            about = "" if finding.where == piece.name else wording.short(finding.where)
            rows.append((wording.short(piece.name) if number == 0 else "", finding.level.value, about, finding.text))
    columns = (
        Column(head="Piece", share=0.6),
        Column(head="Level"),
        Column(head="About", share=0.4),
        Column(head="Finding", share=1.8),
    )
    running.table(columns, rows, title="Findings", classes=("findings",), gap=6.0)
