"""workshop.pdf: one line and one bookmark a document, on the page that the contents say; survives any job."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matplan.documents.book import workbook
from matplan.documents.book.assembly_list import assembly_list
from matplan.documents.book.tick_lists import MANY
from matplan.documents.parts.cautions import Work, cautions
from matplan.documents.parts.folio import Bound, Folio
from matplan.drawing import clashes, pdf
from matplan.drawing.book import Book, Chapter
from matplan.drawing.items import Group, Link, Rect, Text
from matplan.drawing.sheet import Sheet
from matplan.job.records import Included, Piece, StockSheet
from matplan.lengths import Size, Units
from matplan.pack import choice, pack_files
from matplan.pack.contents import Contents
from matplan.planning import Plan
from tests.laws.strategies import pieces, plan_of
from tests.making import GLASS, RAG, border, double_mat, frame, photo, piece, planned, window
from tests.readback import read_pdf


def bound(plan: Plan) -> Book:
    """The book of a plan, as the pack binds it."""
    book: Book = workbook.drawn(Contents(plan, choice(plan.job, None), lambda _: {}).folio, plan)
    return book


def documents(book: Book) -> list[Chapter]:
    """The documents of the book's chapters, in order."""
    return [document for chapter in book.chapters[1:] for document in chapter.below]


def several(count: int, **changes: object) -> Plan:
    asks = [
        piece(
            f"Piece {n}",
            apertures=(window(f"Piece {n}", image=f"{200 + n} x 167", paper=RAG, photo=photo(900, 601)),),
            frame=frame("40 x 50 cm"),
        )
        for n in range(count)
    ]
    return planned(*asks, **changes)


@pytest.mark.parametrize("count", [1, 3, 40])
def test_every_document_is_on_the_page_that_the_contents_say(count: int) -> None:
    plan = several(count)
    book = bound(plan)
    reading = read_pdf(pdf.render(book))
    contents = book.chapters[0].sheets
    if count == 40:
        assert len(documents(book)[0].sheets) > 1  # so that pages and documents differ in number
    links = [(item.target, number) for sheet in contents for item, number in _links_with_pages(sheet)]
    names = [sheet.name for sheet in book.sheets]
    lists = 3 if count > MANY else 0  # tick lists of prints, windows and assembly
    assert len(links) == len(documents(book)) == 3 + 3 * count + lists
    for (target, number), document in zip(links, documents(book), strict=True):
        assert target == document.sheets[0].name
        assert names.index(target) + 1 == number
    marks = [(title, page + 1) for level, title, page in reading.bookmarks if level == 1]
    assert [mark for mark in marks if not mark[0].startswith("Contents")] == [
        (c.title, n) for c, (_, n) in zip(documents(book), links, strict=True)
    ]


def test_sixty_pieces_stay_under_three_hundred_pages() -> None:
    assert len(list(bound(several(60)).sheets)) < 300


def _links_with_pages(sheet: Sheet) -> list[tuple[Link, int]]:
    """Each link with the number that is printed in its area."""
    found = []
    for link in (item for item in sheet.flat() if isinstance(item, Link)):
        inside = [
            int(text.text)
            for text in sheet.texts()
            if text.text.isdigit()
            and abs(text.at[0] - link.x - link.width) < 0.01
            and link.y <= text.at[1] <= link.y + link.height
        ]
        (number,) = inside
        found.append((link, number))
    return found


def test_pages_are_numbered_through() -> None:
    book = bound(several(2))
    sheets = list(book.sheets)
    for number, sheet in enumerate(sheets, 1):
        assert [t.text for t in sheet.texts() if "page-number" in t.classes] == [f"page {number} of {len(sheets)}"]


def test_documents_come_in_working_order() -> None:
    book = bound(several(2))
    assert [chapter.title for chapter in book.chapters] == ["Contents", "To buy", "Prints", "Windows", "Assembly"]
    assert [document.title for document in documents(book)] == [
        "Order list",
        *(f"Piece {n}: print sheet" for n in (0, 1)),
        "Bench card",
        *(f"Piece {n}: cutting diagram, layer 1" for n in (0, 1)),
        *(f"Piece {n}: front view" for n in (0, 1)),
        "Assembly list",
    ]


def test_sheets_for_several_prints_are_listed_with_their_file_and_not_bound() -> None:
    plan = several(2)
    plan = planned(*(replace(one, apertures=(replace(one.apertures[0], photo=None),)) for one in plan.job.pieces))
    reading = read_pdf(dict(pack_files(plan, choice(plan.job, None)))["workshop.pdf"])
    words = [text.text for text in reading.pages[0].texts]
    assert "Several prints on one sheet" in words
    assert "print/gang-rag-1.svg" in words
    assert not [title for _, title, _ in reading.bookmarks if "Several" in title]


def test_full_size_templates_are_listed_with_their_file_and_not_bound() -> None:
    plan = several(1)
    plan = planned(*(replace(one, apertures=(replace(one.apertures[0], photo=None),)) for one in plan.job.pieces))
    files = dict(pack_files(plan, choice(plan.job, None)))
    reading = read_pdf(files["workshop.pdf"])
    assert "template/piece 0.pdf" in files
    assert any("template/piece 0.pdf" in text.text for text in reading.pages[0].texts)
    assert not [title for _, title, _ in reading.bookmarks if "template" in title]


def test_sheets_without_a_title_block_stay_as_they_are() -> None:
    plan = several(1)
    tile = Sheet(name="tile", title="Tile", size=(210, 297), items=())
    document = Bound(chapter="Windows", about="", title="tile", sheets=(tile,))
    book: Book = workbook.drawn(Folio(job=plan.job, pieces=plan.pieces, plan=plan, bound=lambda: (document,)), plan)
    assert documents(book)[-1] == Chapter(title="Tile", sheets=(tile,))


def test_print_sheets_of_several_windows_are_told_apart() -> None:
    windows = (window("left", image="100 x 150", paper=RAG), window("right", image="100 x 150", paper=RAG))
    plan = planned(piece(apertures=windows, rows=((0, 1),), gutter=Fraction(20), border=border("50"), frame=frame()))
    titles = [document.title for document in documents(bound(plan))]
    assert "Slipway: print sheet, left" in titles
    assert "Slipway: print sheet, right" in titles


def test_all_findings_are_gathered_on_the_first_sheets() -> None:
    plan = several(3)
    text = " ".join(t.text for sheet in bound(plan).chapters[0].sheets for t in sheet.texts())
    findings = [f for p in plan.pieces for f in p.findings]
    assert findings
    for finding in findings:
        # a table wraps its cells: each word stands there
        assert all(word in text for word in finding.text.split())


def test_a_finding_that_pieces_share_stands_once_with_their_names() -> None:
    plan = several(MANY)
    shared = {finding.text for finding in plan.pieces[0].findings} & {f.text for f in plan.pieces[1].findings}
    assert shared
    sheets = bound(plan).chapters[0].sheets
    table = [t.text for sheet in sheets for group in _tables(sheet) for t in group.items if isinstance(t, Text)]
    words = " ".join(table)
    first = next(iter(shared)).split(";")[0][:30]
    assert words.count(first) == 1
    assert all(f"Piece {n}" in words for n in range(MANY))
    assert all(clashes.check(sheet) == () for sheet in sheets)


def test_a_large_job_says_each_kind_of_finding_once_and_whose_it_is() -> None:
    plan = several(30)
    plan = planned(*plan.job.pieces, piece("Odd", apertures=(window("Odd", image="150 x 120"),), border=border("40")))
    sheets = bound(plan).chapters[0].sheets
    words = " ".join(t.text for sheet in sheets for group in _tables(sheet) for t in group.items if isinstance(t, Text))
    codes = {finding.code for one in plan.pieces for finding in one.findings}
    assert "low-resolution" in codes
    low = [one.name for one in plan.pieces if any(finding.code == "low-resolution" for finding in one.findings)]
    assert len({f.text for one in plan.pieces for f in one.findings if f.code == "low-resolution"}) > 1
    assert words.count("the photo gives") <= 2 * -(-len(low) // 12)
    assert "the others' figures stand on their front views" in words
    assert all(name in words for name in low)
    assert all(clashes.check(sheet) == () for sheet in sheets)


def _tables(sheet: Sheet) -> list[Group]:
    return [item for item in sheet.items if isinstance(item, Group) and "findings" in item.classes]


def test_the_assembly_list_of_a_glazed_piece_cautions_against_glass() -> None:
    def text(plan: Plan) -> str:
        return " ".join(t.text for sheet in assembly_list(plan.job, plan.pieces) for t in sheet.texts())

    (first, *_) = cautions(Work.GLASS)
    plain: dict[str, Any] = {"apertures": (window(image="250 x 167"),), "frame": frame("40 x 50 cm")}
    assert first in text(planned(piece(**plain)))
    assert first not in text(planned(piece(**plain, glazing=None)))
    scored, stock = cautions(Work.SCORING)[0], (StockSheet(written="1 m", size=Size(Fraction(1000), Fraction(1000))),)
    sheets = replace(GLASS, sheets=stock)
    brought = replace(frame("40 x 50 cm"), includes=(Included.GLAZING,))
    assert scored in text(planned(piece(**plain, glazing=sheets)))
    assert scored not in text(planned(piece(**plain)))  # it is ordered to size
    assert scored not in text(planned(piece(**plain | {"frame": brought}, glazing=sheets)))
    heavy = replace(GLASS, thickness=Fraction(100))
    assert cautions(Work.HEAVY)[0] in text(planned(piece(**plain, glazing=heavy)))


def test_the_assembly_list_has_every_layers_borders_as_cut() -> None:
    plan = planned(piece(apertures=(window(image="250 x 167"),), frame=frame("40 x 50 cm"), mat=double_mat()))
    texts = [t.text for sheet in assembly_list(plan.job, plan.pieces) for t in sheet.texts()]
    # clear opening 244 × 161: 78 and 169 left and above; the front layer is 6 larger on each side
    for figure in ("244 × 161 mm", "78", "169", "170", "256 × 173 mm", "72", "163", "164"):
        assert figure in texts


def test_the_same_plan_gives_the_same_bytes() -> None:
    assert pdf.render(bound(several(2))) == pdf.render(bound(several(2)))


def test_the_pieces_stand_side_by_side_at_one_scale() -> None:
    plan = planned(
        piece("Wide", apertures=(window("Wide", aspect="3:2"),), border=border("60"), frame=frame("50 x 40 cm")),
        piece("High", apertures=(window("High", aspect="2:3"),), border=border("60"), frame=frame("40 x 50 cm")),
    )
    (first,) = bound(plan).chapters[0].sheets
    outers = [item for item in first.flat() if isinstance(item, Rect) and "frame-outer" in item.classes]
    (scale,) = (t.text.split(", ")[1] for t in first.texts() if t.text.startswith("The pieces, "))
    many = int(scale.removeprefix("1:"))
    assert [(r.width * many, r.height * many) for r in outers] == [pytest.approx((531, 431)), pytest.approx((431, 531))]
    assert outers[0].y + outers[0].height == pytest.approx(outers[1].y + outers[1].height)


def test_inch_jobs_are_on_letter_paper() -> None:
    assert {tuple(sorted(sheet.size)) for sheet in bound(several(1, units=Units.IN)).sheets} == {(215.9, 279.4)}


@settings(max_examples=25, deadline=None)
@given(pieces(5), st.text(min_size=1, max_size=120).filter(str.strip), st.sampled_from(list(Units)))
def test_no_sheet_clashes_whatever_the_job(ask: Piece, name: str, units: Units) -> None:
    plan = plan_of(replace(ask, name=name), units=units, title=name)
    book = bound(plan)
    names = [sheet.name for sheet in book.sheets]
    assert len(set(names)) == len(names)
    for sheet in book.sheets:
        assert clashes.check(sheet) == ()
