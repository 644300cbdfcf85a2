"""workshop.pdf: every document in working order behind a first sheet with the job, its pieces, the contents and all findings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from matplan.documents import wording
from matplan.documents.fact_list import facts_beside
from matplan.documents.framed import extent, framed, model_box
from matplan.documents.page import further_scales, paper, title_block
from matplan.documents.pictures import Pictures
from matplan.documents.running_sheets import TITLE_SIZE, Running
from matplan.documents.summary import piece_summary
from matplan.drawing import blocks
from matplan.drawing.blocks import Align, Block, Column
from matplan.drawing.frame import MARGIN, frame
from matplan.drawing.items import Anchor, Area, Group, Item, Level, Line, Link, Size, Text
from matplan.drawing.pdf import Book, Chapter
from matplan.drawing.pens import SECONDARY, Pen
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import View, scale_name
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
    """The book: contents, order list, each piece's documents, then what is `further` (sheet layouts, walls). No sheets' names are alike."""
    entries = list(_entries(plan, order, pieces, further))
    pictures = {} if pictures is None else pictures
    first = _first_sheets(plan, entries, [p.piece for p in pieces], pictures, pages=1)
    first = _first_sheets(plan, entries, [p.piece for p in pieces], pictures, pages=len(first))
    chapters = [Chapter(title="Contents", sheets=first), *(Chapter(title=e.title, sheets=e.sheets) for e in entries)]
    return Book(title=plan.job.title, chapters=_numbered(chapters))


def _entries(plan: Plan, order: tuple[Sheet, ...], pieces: Sequence[PieceSheets], further: Sequence[Chapter]) -> Iterator[_Entry]:
    if order:
        yield _Entry(group="", document="Order list", sheets=order)
    for sheets in pieces:
        piece = sheets.piece
        yield _Entry(group=piece.name, document="summary", sheets=piece_summary(plan, piece))
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
    _side_by_side(running, plan, pieces, pictures)
    _contents(running, entries, pages)
    _pieces(running, plan, pieces)
    _findings(running, pieces)
    made = running.pages
    sheets = []
    for number, items in enumerate(made, 1):
        block = title_block(plan.job, title=plan.job.title, document="Workshop pack", sheet=(number, len(made)))
        title = "Contents" if len(made) == 1 else f"Contents, sheet {number}"
        sheets.append(Sheet(name=f"contents {number}", title=title, size=size, items=(*frame(size, block).items, *items)))
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


# --- the pieces side by side, to one scale ---

_CARD_GAP: Final = 8.0
_CARD_LEAST: Final = 26.0
_CARD_FOOT: Final = 7.5
_STRIP_HIGHEST: Final = 96.0
_SMALL_CARD: Final = 27.0


def _side_by_side(running: Running, plan: Plan, pieces: Sequence[SolvedPiece], pictures: Pictures) -> None:
    """All pieces as framed, in rows, at the largest scale at which they take no more than a part of the sheet."""
    if not pieces:
        return
    width = running.width
    scale = _common_scale(pieces, further_scales(plan.job.units), width)
    heading = f"The piece{'s' if len(pieces) > 1 else ''}, {scale_name(scale)}"
    running.space(1.0)
    for number, row in enumerate(_rows(pieces, scale, width)):

        def made(x: float, y: float, width: float, row: Sequence[SolvedPiece] = row) -> Block:
            return _row(row, pictures, scale, Area(x=x, y=y, width=width, height=0.0))

        def titled(x: float, y: float, width: float) -> Block:
            return blocks.paragraph(heading, x=x, y=y, width=width, size=TITLE_SIZE, bold=True)

        running.add(*((titled, made) if number == 0 else (made,)), gap=3.0)
    running.space(2.0)


def _common_scale(pieces: Sequence[SolvedPiece], series: Sequence[Fraction], width: float) -> Fraction:
    """The largest scale at which all pieces take a part of the sheet, or where they are many, at which none is very high."""
    widest, highest = max(extent(p).width for p in pieces), max(extent(p).height for p in pieces)
    for scale in sorted(series, reverse=True):
        if widest * scale > width or highest * scale > _STRIP_HIGHEST - _CARD_FOOT:
            continue
        if highest * scale <= _SMALL_CARD or _height(_rows(pieces, scale, width), scale) <= _STRIP_HIGHEST:
            return scale
    return min(series)


def _card(piece: SolvedPiece, scale: Fraction) -> float:
    return max(float(extent(piece).width * scale), _CARD_LEAST)


def _rows(pieces: Sequence[SolvedPiece], scale: Fraction, width: float) -> list[list[SolvedPiece]]:
    """The pieces in rows no wider than that."""
    rows: list[list[SolvedPiece]] = [[]]
    used = 0.0
    for piece in pieces:
        card = _card(piece, scale)
        if rows[-1] and used + card > width:
            rows.append([])
            used = 0.0
        rows[-1].append(piece)
        used += card + _CARD_GAP
    return rows


def _row_height(row: Sequence[SolvedPiece], scale: Fraction) -> float:
    return max(float(extent(piece).height * scale) for piece in row) + _CARD_FOOT


def _height(rows: Sequence[Sequence[SolvedPiece]], scale: Fraction) -> float:
    return sum(_row_height(row, scale) + 3.0 for row in rows)


def _row(row: Sequence[SolvedPiece], pictures: Pictures, scale: Fraction, at: Area) -> Block:
    """One row, the frames' lower edges on one line, each with its name below."""
    height = _row_height(row, scale)
    base = at.y + height - _CARD_FOOT
    x = at.x
    items: list[Item] = []
    for piece in row:
        whole = extent(piece)
        card, wide, high = _card(piece, scale), float(whole.width * scale), float(whole.height * scale)
        view = View(scale=scale, at=(x + (card - wide) / 2, base - high), model=model_box(whole))
        items.append(Group(classes=("small-front",), items=framed(piece, pictures, view, small=True)))
        items.append(_label(f"{piece.ask.quantity} × {piece.name}" if piece.ask.quantity > 1 else piece.name, x + card / 2, base, card))
        x += card + _CARD_GAP
    return Block(items=tuple(items), area=Area(x=at.x, y=at.y, width=at.width, height=height))


def _label(text: str, x: float, base: float, card: float) -> Text:
    return Text(at=(x, base + 2.6), text=text, size=2.2, anchor=Anchor.MIDDLE, level=Level.TOP, max_width=card)


# --- contents ---

_LINE: Final = 5.6
_BETWEEN: Final = 10.0


def _contents(running: Running, entries: Sequence[_Entry], pages: int) -> None:
    """One line a document with its page, in two columns; what belongs to a piece stands under its name."""
    chunks = list(_chunks(list(_lines(entries, pages))))
    head = 7.0
    while chunks:
        if running.left < head + 8 * _LINE:
            running.turn()
        room = int((running.left - head) / _LINE)
        columns, chunks = _columns(chunks, room)

        def made(x: float, y: float, width: float, columns: _Columns = columns, head: float = head) -> Block:
            return _listed(columns, Area(x=x, y=y, width=width, height=0.0), head)

        running.add(made, gap=5.0)
        head = 0.0


def _chunks(lines: Sequence[_Line]) -> Iterator[list[_Line]]:
    """Lines that stay together: a heading with what stands under it, each other line alone."""
    chunk: list[_Line] = []
    for line in lines:
        if not line.indent and chunk:
            yield chunk
            chunk = []
        chunk.append(line)
    if chunk:
        yield chunk


def _columns(chunks: list[list[_Line]], room: int) -> tuple[_Columns, list[list[_Line]]]:
    """Two columns of no more than so many lines, as even as may be, and the chunks that are left over."""
    total = sum(map(len, chunks))
    for high in range(min(room, -(-total // 2)), room + 1):
        first, rest = _taken(chunks, high)
        second, rest = _taken(rest, high)
        if not rest:
            return (first, second), []
    first, rest = _taken(chunks, room)
    second, rest = _taken(rest, room)
    return (first, second), rest


def _taken(chunks: list[list[_Line]], room: int) -> tuple[list[_Line], list[list[_Line]]]:
    """As many chunks as go into a column of so many lines, and the rest; a chunk that is longer than a column is parted."""
    lines: list[_Line] = []
    for number, chunk in enumerate(chunks):
        if len(lines) + len(chunk) > room:
            if lines:
                return lines, chunks[number:]
            return chunk[:room], [chunk[room:], *chunks[number + 1 :]]
        lines.extend(chunk)
    return lines, []


@dataclass(frozen=True, slots=True, kw_only=True)
class _Line:
    """A line of the contents: a heading where it has no page."""

    text: str
    page: int | None = None
    target: str = ""
    indent: float = 0.0


type _Columns = tuple[list[_Line], list[_Line]]


def _lines(entries: Sequence[_Entry], pages: int) -> Iterator[_Line]:
    page, group = pages + 1, ""
    for entry in entries:
        if entry.group and entry.group != group:
            yield _Line(text=entry.group)
        group = entry.group
        text = entry.document[:1].upper() + entry.document[1:]
        yield _Line(text=text, page=page, target=entry.sheets[0].name, indent=3.0 if entry.group else 0.0)
        page += len(entry.sheets)


def _listed(columns: Sequence[Sequence[_Line]], at: Area, head: float) -> Block:
    items: list[Item] = []
    top = at.y
    if head:
        items.extend(blocks.paragraph("Contents", x=at.x, y=at.y, width=at.width, size=TITLE_SIZE, bold=True).items)
        top += head - 1.5
    width = (at.width - _BETWEEN) / 2
    for number, lines in enumerate(columns):
        x = at.x + number * (width + _BETWEEN)
        for index, line in enumerate(lines):
            items.extend(_line(line, x, top + index * _LINE, width))
    height = top - at.y + max(len(lines) for lines in columns) * _LINE
    return Block(items=(Group(classes=("contents",), items=tuple(items)),), area=Area(x=at.x, y=at.y, width=at.width, height=height))


def _line(line: _Line, x: float, y: float, width: float) -> Iterator[Item]:
    base = y + _LINE - 1.7
    most = width - line.indent - (12.0 if line.page is not None else 0.0)
    yield Text(at=(x + line.indent, base), text=line.text, size=Size.SMALL, bold=line.page is None, max_width=most)
    if line.page is not None:
        yield Text(at=(x + width, base), text=str(line.page), size=Size.SMALL, anchor=Anchor.END)
        yield Link(x=x, y=y, width=width, height=_LINE, target=line.target)
    yield Line(start=(x, y + _LINE), end=(x + width, y + _LINE), pen=Pen.RULE)


# --- pieces and findings ---


def _pieces(running: Running, plan: Plan, pieces: Sequence[SolvedPiece]) -> None:
    printer = plan.job.printer
    columns = [Column(head="Quantity", align=Align.RIGHT), Column(head="Piece", share=1.0), Column(head="Frame", share=0.7)]
    columns += [Column(head="Blank"), Column(head="Opening")]
    columns += [Column(head=head, align=Align.RIGHT) for head in ("Top", "Right", "Bottom", "Left")]
    rows = []
    for piece in pieces:
        only = piece.apertures[0] if len(piece.apertures) == 1 else None
        opening = f"{len(piece.apertures)} windows" if only is None else printer.size(only.opening.size)
        seen = only.visible if only is not None and only.visible.least >= 0 else None
        borders = ("",) * 4 if seen is None else tuple(map(printer.number, (seen.top, seen.right, seen.bottom, seen.left)))
        name, frame_name = wording.short(piece.name), wording.frame_in_words(piece)
        rows.append((str(piece.ask.quantity), name, frame_name, printer.size(piece.blank), opening, *borders))
    running.table(columns, rows, title="Pieces, with the borders that the eye sees", classes=("pieces",), gap=6.0)


def _findings(running: Running, pieces: Sequence[SolvedPiece]) -> None:
    rows = []
    for piece in pieces:
        for number, finding in enumerate(piece.findings):
            about = "" if finding.where == piece.name else wording.short(finding.where)
            rows.append((wording.short(piece.name) if number == 0 else "", finding.level.value, about, finding.text))
    columns = (Column(head="Piece", share=0.6), Column(head="Level"), Column(head="About", share=0.4), Column(head="Finding", share=1.8))
    running.table(columns, rows, title="Findings", classes=("findings",), gap=6.0)
