"""Tick lists: a large job has one line a piece with a box, its sizes and the page that its drawing is on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from matplan.documents.book import workbook
from matplan.documents.book.tick_lists import MANY
from matplan.drawing import clashes
from matplan.drawing.book import Book, Chapter
from matplan.drawing.items import Group, Rect, Text
from matplan.drawing.sheet import Sheet
from matplan.lengths import Size
from matplan.pack import choice, pack_files
from matplan.pack.contents import Contents
from matplan.planning import Plan, plan
from tests.making import RAG, border, double_mat, frame, mm, photo, piece, planned, window
from tests.readback import read_pdf
from tests.walls.building import wall


def several(count: int) -> Plan:
    """A job of so many pieces, every third with two boards, hung in a row on one wall."""
    asks = [
        piece(
            f"Piece {n}",
            file=f"piece-{n}",
            apertures=(window(f"Piece {n}", image=f"{150 + n} x 120", paper=RAG, photo=photo(900, 720)),),
            border=border("40"),
            frame=frame(depth=mm(18)),
            quantity=1 + n % 2,
            **({"mat": double_mat()} if n % 3 == 0 else {}),
        )
        for n in range(count)
    ]
    made = planned(*asks)
    return plan(replace(made.job, walls=(wall(made.pieces, size="40 x 3 m"),)))


def bound(plan: Plan) -> Book:
    book: Book = workbook.drawn(Contents(plan, choice(plan.job, None), lambda _: {}).folio, plan)
    return book


def lists_of(book: Book) -> dict[str, Chapter]:
    return {
        chapter.title: document
        for chapter in book.chapters
        for document in chapter.below
        if document.title == "Tick list"
    }


def rows_of(sheet: Sheet) -> Iterator[dict[str, str]]:
    """The table's rows by the heads of their columns, each with its box."""
    (table,) = (item for item in sheet.items if isinstance(item, Group) and "ticks" in item.classes)
    texts = [item for item in table.items if isinstance(item, Text)]
    heads = {text.at[0]: text.text for text in texts if text.at[1] == texts[0].at[1]}
    boxes = [item for item in table.items if isinstance(item, Rect) and "tick" in item.classes]
    tops = sorted({text.at[1] for text in texts if heads.get(text.at[0]) == "Page" and text.text != "Page"})
    assert len(boxes) == len(tops)
    for box, top in zip(boxes, tops, strict=True):
        assert box.y < top + 2.5
        assert top < box.y + box.height
        yield {heads[text.at[0]]: text.text for text in texts if text.at[1] == top}


LARGE = several(40)


@pytest.mark.parametrize(
    ("chapter", "what"),
    [("Prints", "print sheet"), ("Windows", "cutting diagram"), ("Assembly", "front view")],
)
def test_each_line_names_the_page_of_its_drawing(chapter: str, what: str) -> None:
    book = bound(LARGE)
    names = [sheet.name for sheet in book.sheets]
    (of_it,) = (one for one in book.chapters if one.title == chapter)
    pages: dict[str, list[str]] = {}
    for document in of_it.below:
        about, _, title = document.title.partition(": ")
        if title.startswith(what):
            pages.setdefault(about, []).append(str(names.index(document.sheets[0].name) + 1))
    rows = [row for sheet in lists_of(book)[chapter].sheets for row in rows_of(sheet)]
    assert {row["Piece"]: row["Page"] for row in rows} == {about: ", ".join(found) for about, found in pages.items()}
    assert [row["Piece"] for row in rows] == [one.name for one in LARGE.pieces]
    assert [row["Quantity"] for row in rows] == [str(one.ask.quantity) for one in LARGE.pieces]


def test_boards_on_one_page_have_one_page_number() -> None:
    asks = [
        piece(
            f"Piece {n}",
            file=f"piece-{n}",
            apertures=(window(f"Piece {n}", image="240 x 340"),),
            frame=frame("400 x 500 mm"),
            mat=double_mat(),
        )
        for n in range(MANY + 1)
    ]
    book = bound(planned(*asks))
    pages = [str(page) for page, sheet in enumerate(book.sheets, 1) if sheet.name.endswith("all layers")]
    rows = [row for sheet in lists_of(book)["Windows"].sheets for row in rows_of(sheet)]
    assert len(pages) == len(asks)
    assert [row["Page"] for row in rows] == pages


def test_the_sizes_are_the_plan_s() -> None:
    ticked = {title: list(document.sheets) for title, document in lists_of(bound(LARGE)).items()}
    printer = LARGE.job.printer

    def bare(size: Size) -> str:
        return f"{printer.number(size.width)} × {printer.number(size.height)}"

    def column(chapter: str, head: str) -> list[Any]:
        return [row[head] for sheet in ticked[chapter] for row in rows_of(sheet)]

    blanks = [bare(one.blank) for one in LARGE.pieces]
    openings = [bare(one.apertures[0].opening.size) for one in LARGE.pieces]
    assert column("Windows", "Blank") == column("Assembly", "Blank") == blanks
    assert column("Windows", "Clear opening") == openings
    seen = [one.apertures[0].visible for one in LARGE.pieces]
    for side in ("top", "right", "bottom", "left"):
        assert column("Assembly", side.capitalize()) == [printer.number(getattr(one, side)) for one in seen]
    assert column("Prints", "Image") == [bare(one.apertures[0].image.size) for one in LARGE.pieces]
    (wall,) = LARGE.walls
    hung = {one.name: one for one in wall.frames}
    for sheet in ticked["Walls"]:
        for row in rows_of(sheet):
            hooks = hung[row["Piece"]].hooks
            assert row["Hooks, from left"] == " · ".join(printer.tape(hook.left) for hook in hooks)
            assert row["Above floor"] == printer.tape(hooks[0].height)
    assert sorted(column("Walls", "Piece")) == sorted(hung)


def test_nothing_meets() -> None:
    for document in lists_of(bound(LARGE)).values():
        for sheet in document.sheets:
            assert clashes.check(sheet) == ()


def test_a_job_in_hand_s_reach_has_none() -> None:
    assert not lists_of(bound(several(MANY)))
    book = bound(several(MANY + 1))
    assert list(lists_of(book)) == ["Prints", "Windows", "Assembly", "Walls"]
    for title, document in lists_of(book).items():
        (chapter,) = (one for one in book.chapters if one.title == title)
        assert chapter.below[0] == document


@pytest.mark.parametrize(("most", "filed"), [(175, {"assembly list"}), (150, {"assembly list", "front view"})])
def test_a_book_out_of_hand_s_reach_lists_files_in_the_place_of_sheets(
    most: int, filed: set[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workbook, "_MOST_PAGES", most)
    bare = (replace(one, apertures=(replace(one.apertures[0], photo=None),)) for one in LARGE.job.pieces)
    made = plan(replace(LARGE.job, pieces=tuple(bare)))
    files = dict(pack_files(made, choice(made.job, None)))
    reading = read_pdf(files["workshop.pdf"])
    assert len(reading.pages) < most
    bookmarks = {title.partition(": ")[2] or title for level, title, _ in reading.bookmarks if level == 1}
    assert ("Assembly list" not in bookmarks) == ("assembly list" in filed)
    assert ("front view" not in bookmarks) == ("front view" in filed)
    said = {text.text for page in reading.pages[:12] for text in page.texts}
    assert ("assembly.pdf" in said) == ("assembly list" in filed)
    assert ("front/piece-7.svg" in said) == ("front view" in filed)
    assert {"assembly.pdf", "front/piece-7.svg"} <= files.keys()
