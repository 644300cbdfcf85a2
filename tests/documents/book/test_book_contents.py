"""The contents of a book: every name whole, every document's page as a link, headings with their lines, any number."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matplan.documents.book.contents import ContentsLine, Entry, contents
from matplan.documents.parts.running import Running
from matplan.drawing import clashes
from matplan.drawing.items import Area, Group, Item, Link, Text
from matplan.drawing.sheet import Sheet

AREA = Area(x=12.0, y=12.0, width=186.0, height=246.0)


def pages(lines: list[ContentsLine]) -> tuple[tuple[Item, ...], ...]:
    running = Running(AREA)
    contents(running, lines)
    return running.pages


def flat(items: tuple[Item, ...]) -> Iterator[Item]:
    for item in items:
        if isinstance(item, Group):
            yield from flat(item.items)
        else:
            yield item


def words(page: tuple[Item, ...]) -> list[Text]:
    return [item for item in flat(page) if isinstance(item, Text)]


def links(page: tuple[Item, ...]) -> list[Link]:
    return [item for item in flat(page) if isinstance(item, Link)]


def piece(name: str, first: int, count: int = 2) -> ContentsLine:
    entries = tuple(Entry(text=f"layer {n}", page=first + n, target=f"{name} {n}") for n in range(count))
    return ContentsLine(text=name, entries=entries)


def test_a_piece_and_its_documents_stand_on_one_row_where_they_fit() -> None:
    (page,) = pages([ContentsLine(text="Windows"), piece("Slipway", 7)])
    found = {text.text: text for text in words(page)}
    assert len({found[word].at[1] for word in ("Slipway", "layer 0", "7", "layer 1", "8")}) == 1
    assert found["Windows"].at[1] < found["Slipway"].at[1]
    assert found["Windows"].bold


def test_each_link_lies_under_its_page_and_leads_to_its_sheet() -> None:
    (page,) = pages([ContentsLine(text="Windows"), piece("Slipway", 7), piece("Breakwater", 9)])
    numbers = {text.text: text for text in words(page) if text.text.isdigit()}
    assert [link.target for link in links(page)] == ["Slipway 0", "Slipway 1", "Breakwater 0", "Breakwater 1"]
    for link, number in zip(links(page), ("7", "8", "9", "10"), strict=True):
        x, y = numbers[number].at
        assert x == pytest.approx(link.x + link.width)
        assert link.y <= y <= link.y + link.height


def test_a_long_name_is_wrapped_and_never_cut() -> None:
    name = "The ferry that waits below the lighthouse for the last of the morning's fog to lift off the water"
    (page,) = pages([ContentsLine(text="Windows"), piece(name, 7)])
    found = [text for text in words(page) if text.text in name]
    assert len(found) > 1
    assert " ".join(text.text for text in found) == name


def test_a_long_document_is_wrapped_and_has_its_page_on_its_last_row() -> None:
    text = "print sheet, the window on the left of the upper row with the ferry that waits below the lighthouse"
    line = ContentsLine(text="Slipway", entries=(Entry(text=text, page=21, target="sheet"),))
    (page,) = pages([ContentsLine(text="Prints"), line])
    found = [one for one in words(page) if one.text in text]
    (number,) = (one for one in words(page) if one.text == "21")
    assert len(found) > 1
    assert " ".join(one.text for one in found) == text
    assert number.at[1] == max(one.at[1] for one in found)


def test_a_file_stands_without_a_page() -> None:
    entry = Entry(text="template/slipway.pdf")
    (page,) = pages([ContentsLine(text="Windows"), ContentsLine(text="Slipway", entries=(entry,))])
    assert "template/slipway.pdf" in [text.text for text in words(page)]
    assert not links(page)


def test_no_heading_stands_alone_at_a_column_s_foot() -> None:
    lines: list[ContentsLine] = []
    for number in range(60):
        lines += [ContentsLine(text=f"Chapter {number}"), piece(f"Piece {number}", number)]
    for page in pages(lines):
        by_place = {(text.at[0] > 105, text.at[1]): text for text in words(page) if text.text != "Contents"}
        for (right, y), text in by_place.items():
            if text.bold:
                assert any(place == right and 0 < below - y < 7 for place, below in by_place)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(st.text(min_size=1, max_size=90).filter(str.strip), st.integers(1, 40)), min_size=1, max_size=60)
)
def test_every_entry_is_there_once_whatever_the_names(asked: list[tuple[str, int]]) -> None:
    lines = [ContentsLine(text="Chapter")]
    lines += [piece(f"{name} {n}", 100 * n, count) for n, (name, count) in enumerate(asked)]
    found = pages(lines)
    targets = [link.target for page in found for link in links(page)]
    assert targets == [entry.target for line in lines for entry in line.entries]
    for page in found:
        assert clashes.check(Sheet(name="one", title="One", size=(210.0, 297.0), items=page)) == ()
        assert max(text.at[1] for text in words(page)) <= AREA.bottom


def test_a_piece_with_many_documents_goes_on_in_the_next_column() -> None:
    """Kept whole, its rows would leave the other column free and take the whole page."""
    long = tuple(
        Entry(text=f"print sheet of the window on the {n}th row", page=n, target=f"sheet {n}") for n in range(30)
    )
    running = Running(AREA)
    contents(running, [ContentsLine(text="Prints"), ContentsLine(text="Slipway", entries=long)])
    (page,) = running.pages
    assert [link.target for link in links(page)] == [f"sheet {n}" for n in range(30)]
    assert running.left > AREA.height / 2
