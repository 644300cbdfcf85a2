"""workshop.pdf: every document in working order behind a first sheet with the job, its pieces, the contents and all
findings.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import accumulate, batched, groupby
from typing import Final

from matplan.documents.book.contents import ContentsLine, Entry, contents
from matplan.documents.book.side_by_side import side_by_side
from matplan.documents.book.tick_lists import PIECE_COLUMNS, is_large, piece_row, tick_list
from matplan.documents.document import Chapter as Shelved
from matplan.documents.parts import wording
from matplan.documents.parts.facts import facts_beside
from matplan.documents.parts.folio import Bound, Folio
from matplan.documents.parts.mark import FOOT, has_title_block, marked
from matplan.documents.parts.page import paper, title_block
from matplan.documents.parts.running import Running, flowed
from matplan.drawing import blocks
from matplan.drawing.blocks import Column
from matplan.drawing.book import Book, Chapter
from matplan.drawing.frame import MARGIN, drawing_area, frame
from matplan.drawing.items import Anchor, Size, Text
from matplan.drawing.pens import SECONDARY
from matplan.drawing.sheet import Sheet
from matplan.mats.records import SolvedPiece
from matplan.planning import Plan

_NAMES_IN_A_ROW: Final = 12
"""So many pieces share a row of the findings at most, so that no row is higher than a page."""


_SOME_PAGE: Final = 888
"""Stands for a page that is not known yet: it takes as much room."""
_MOST_PAGES: Final = 300
"""A book that had as many would be out of hand's reach."""
_FILED: Final = ("assembly list", "front view")
"""What such a book lists with its files and does not bind, the first of it first."""


def drawn(folio: Folio, plan: Plan) -> Book:
    """Return the book of all that is bound, behind its contents. No two sheets' names are alike."""
    documents: Sequence[Bound] = folio.bound()
    for filed in (*_FILED, None):
        bound = _with_lists(folio, documents, {})
        before = len(_first_sheets(folio, plan, bound, pages=1))
        if before + sum(len(document.sheets) for document in bound) < _MOST_PAGES or not is_large(folio):
            break
        documents = [replace(one, sheets=()) if one.title == filed and one.file else one for one in documents]
    bound = _with_lists(folio, documents, _pages(bound, before))
    first = _first_sheets(folio, plan, bound, pages=before)
    count = len(first) + sum(len(document.sheets) for document in bound)
    number = iter(range(1, count + 1))
    chapters = [Chapter(title="Contents", sheets=_numbered(first, number, count))]
    for title, group in groupby(bound, key=lambda document: document.chapter):
        below = [
            Chapter(title=_named(document), sheets=_numbered(document.sheets, number, count))
            for document in group
            if document.sheets
        ]
        if below:
            chapters.append(Chapter(title=title, below=tuple(below)))
    return Book(title=plan.job.title, chapters=tuple(chapters))


def _named(document: Bound) -> str:
    text = f"{document.about}: {document.title}" if document.about else document.title
    return text[:1].upper() + text[1:]


def _with_lists(folio: Folio, documents: Sequence[Bound], pages: Mapping[int, int]) -> tuple[Bound, ...]:
    """Return the documents with a tick list at the head of each chapter that has one; `pages` are by id."""
    found: list[Bound] = []
    for chapter, group in groupby(documents, key=lambda document: document.chapter):
        own = tuple(group)
        paged = [(one, str(pages.get(id(one), _SOME_PAGE)) if one.sheets else "file") for one in own]
        sheets = tick_list(folio, chapter, paged)
        if sheets:
            found.append(Bound(chapter=chapter, about="", title="tick list", sheets=sheets))
        found.extend(own)
    return tuple(found)


def _pages(bound: Sequence[Bound], before: int) -> dict[int, int]:
    """Return the first page of each document by its id, behind so many pages."""
    starts = accumulate((len(document.sheets) for document in bound), initial=before + 1)
    return {id(document): page for document, page in zip(bound, starts, strict=False)}


# --- page numbers ----------------------------------------------------------------------------------------------------


def _numbered(sheets: Sequence[Sheet], numbers: Iterator[int], count: int) -> tuple[Sheet, ...]:
    """Return the sheets with the book's page number at the foot of each that has a title block."""
    return tuple(
        _with_number(sheet, page, count) if has_title_block(sheet) else sheet
        for sheet, page in zip(sheets, numbers, strict=False)
    )


def _with_number(sheet: Sheet, page: int, count: int) -> Sheet:
    width, height = sheet.size
    text = f"page {page} of {count}"
    at = (width - MARGIN, height - FOOT)
    number = Text(at=at, text=text, size=Size.CAPTION, anchor=Anchor.END, colour=SECONDARY, classes=("page-number",))
    return replace(sheet, items=(*sheet.items, number))


# --- the first sheets ------------------------------------------------------------------------------------------------


def _first_sheets(folio: Folio, plan: Plan, bound: Sequence[Bound], *, pages: int) -> tuple[Sheet, ...]:
    """Return the sheets before the first document, which begins after so many `pages`."""
    pieces = folio.pieces
    size = paper(plan.job.units).portrait
    listed = is_large(folio) and any(document.chapter == Shelved.ASSEMBLY for document in bound)

    def fill(running: Running) -> None:
        _head(running, plan, pieces)
        side_by_side(running, plan.job, pieces, folio.pictures)
        contents(running, list(_lines(bound, pages)))
        if not listed:
            _pieces(running, plan, pieces)
        _findings(running, plan, pieces, large=listed)

    made = flowed(drawing_area(size), fill)
    sheets = []
    for number, items in enumerate(made, 1):
        block = title_block(plan.job, title=plan.job.title, document="Workshop pack", sheet=(number, len(made)))
        title = "Contents" if len(made) == 1 else f"Contents, sheet {number}"
        sheets.append(
            marked(Sheet(name=f"contents {number}", title=title, size=size, items=(*frame(size, block).items, *items)))
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


def _lines(bound: Sequence[Bound], pages: int) -> Iterator[ContentsLine]:
    """Yield a heading for each chapter, and a line for each piece or material in it: its documents with their pages, or
    the files to print instead.
    """
    page = pages + 1
    for title, group in groupby(bound, key=lambda document: document.chapter):
        yield ContentsLine(text=title)
        for about, documents in groupby(group, key=_about):
            entries: list[Entry] = []
            kind = ""
            for document in documents:
                what, _, which = document.title.partition(", ")
                label = which if what == kind or not document.about else document.title
                label, kind = f"{what} {which}" if which.isdigit() else label, what
                if document.sheets:
                    entries.append(Entry(text=label, page=page, target=document.sheets[0].name))
                    page += len(document.sheets)
                else:
                    entries.append(Entry(text=document.file))
            yield ContentsLine(text=about, entries=tuple(entries))


def _about(document: Bound) -> str:
    """Return what the document's line in the contents names: whose it is, or what it is."""
    text = document.about or document.title.partition(", ")[0]
    return text[:1].upper() + text[1:]


def _pieces(running: Running, plan: Plan, pieces: Sequence[SolvedPiece]) -> None:
    rows = [tuple(piece_row(piece, plan.job.printer)) for piece in pieces]
    title = f"Pieces, with their visible borders, {wording.UNITS[plan.job.units]}"
    running.table(PIECE_COLUMNS, rows, title=title, classes=("pieces",), gap=6.0)


def _findings(running: Running, plan: Plan, pieces: Sequence[SolvedPiece], *, large: bool) -> None:
    """Add what concerns the job as a whole, then what concerns pieces; what several pieces share stands once.

    In a large job whose front views are bound a kind of finding stands once, with the figures of its first piece.
    """
    rows = [("The job" if number == 0 else "", f.level.value, "", f.text) for number, f in enumerate(plan.findings)]
    shared: dict[tuple[str, ...], list[tuple[str, str, str]]] = {}
    for piece in pieces:
        for finding in piece.findings:
            about = "" if finding.where == piece.name else wording.short(finding.where)
            kind = (finding.level.value, finding.code) if large else (finding.level.value, about, finding.text)
            shared.setdefault(kind, []).append((wording.short(piece.name), about, finding.text))
    for (level, *_), found in shared.items():
        first, about, text = found[0]
        if len({(one, other) for _, one, other in found}) > 1:
            about, text = "", f"{first}: {text}; the others' figures stand on their front views"
        names = tuple(dict.fromkeys(name for name, _, _ in found))
        if large and len(names) == len(pieces):
            names = (f"all {len(names)} pieces",)
        rows.extend((", ".join(some), level, about, text) for some in batched(names, _NAMES_IN_A_ROW))
    columns = (
        Column(head="Piece", share=1.2 if large else 0.6),
        Column(head="Level"),
        Column(head="About", share=0.4),
        Column(head="Finding", share=1.8),
    )
    running.table(columns, rows, title="Findings", classes=("findings",), gap=6.0)
