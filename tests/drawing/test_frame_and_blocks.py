"""Title blocks, tables, notes and cautions: laid out without a clash whatever they say."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matplan.drawing import blocks, clashes, lettering
from matplan.drawing.blocks import Align, Column
from matplan.drawing.frame import BLOCK_HEIGHT, MARGIN, Page, TitleBlock, frame
from matplan.drawing.items import Area, Group, Rect, Size, Text
from matplan.drawing.sheet import Sheet

FULL = TitleBlock(
    title="Slipway, layer 1: warm white",
    document="Cutting diagram",
    view="seen from the back",
    job="Ferry steps",
    units="mm",
    scale=Fraction(1, 5),
    sheet=(3, 12),
    further=(("Step", "1 mm"), ("Cutter", "Harbour studio"), ("Corner", "mitred")),
)
PAGES = [size for page in Page for size in (page.portrait, page.landscape)]
COLUMNS = (
    Column(head="Item", share=1),
    Column(head="Size", align=Align.RIGHT),
    Column(head="For", share=2),
    Column(head="Quantity", align=Align.CENTRE),
)
WORDS = st.text(st.characters(codec="utf-8", categories=["L", "N", "Zs", "P"]), max_size=40)


def sheet(*items: object, size: tuple[float, float] = (210, 297)) -> Sheet:
    return Sheet(name="s", title="s", size=size, items=items)  # type: ignore[arg-type]


def texts(drawn: Sheet) -> list[str]:
    return [t.text for t in drawn.texts()]


def test_pages_are_the_standards() -> None:
    """ISO 216, and inches of 25.4 mm, as reportlab has them."""
    from reportlab.lib import pagesizes
    from reportlab.lib.units import mm

    for page, known in (
        (Page.A4, pagesizes.A4),
        (Page.A3, pagesizes.A3),
        (Page.LETTER, pagesizes.letter),
        (Page.TABLOID, pagesizes.TABLOID),
    ):
        assert page.portrait == pytest.approx([v / mm for v in known], abs=0.01)
        assert page.landscape == page.portrait[::-1]


@pytest.mark.parametrize("size", PAGES)
def test_frame_leaves_its_area_above_the_block(size: tuple[float, float]) -> None:
    made = frame(size, FULL)
    assert made.area.x == MARGIN
    assert made.area.bottom < size[1] - MARGIN - BLOCK_HEIGHT
    assert clashes.check(sheet(*made.items, size=size)) == ()


def test_block_says_every_field() -> None:
    shown = texts(sheet(*frame(Page.A3.landscape, FULL).items))
    for wanted in (
        "Slipway, layer 1: warm white",
        "Cutting diagram · seen from the back",
        "Ferry steps",
        "Harbour studio",
    ):
        assert wanted in shown
    for caption, value in (
        ("Scale", "1:5"),
        ("Sheet", "3 of 12"),
        ("Units", "mm"),
        ("Corner", "mitred"),
        ("Step", "1 mm"),
    ):
        assert shown[shown.index(caption) + 1] == value


def test_names_of_any_length_stand_whole_in_the_title_block() -> None:
    """A name of 120 letters, of any script and as the job's too, on the narrowest page."""
    from dataclasses import replace

    for name in (
        "The ferry that waits below the lighthouse for the last of the fog to lift off the water, from the shed",
        "Το πλοίο που περιμένει κάτω από τον φάρο μέχρι να σηκωθεί η τελευταία ομίχλη από το νερό, όπως το βλέπω",
        "العبّارة التي تنتظر تحت المنارة حتى ينقشع آخر الضباب عن الماء كما تُرى من السقيفة القديمة عند الرصيف",
        "W" * 60,
    ):
        block = replace(FULL, title=name, job=name)
        made = sheet(*frame(Page.A4.portrait, block).items)
        for kind in ("title", "job"):
            lines = [t.text for t in made.texts() if kind in t.classes]
            assert "".join(lines).replace(" ", "") == name.replace(" ", "")
        assert clashes.check(made) == ()


def test_long_title_takes_two_smaller_lines() -> None:
    from dataclasses import replace

    long = replace(FULL, title="Slipway with the boats in front of the old shed, layer 1: warm white board")
    made = [t for t in sheet(*frame(Page.A4.portrait, long).items).texts() if "title" in t.classes]
    assert [t.size for t in made] == [Size.NORMAL, Size.NORMAL]
    assert made[0].at[1] < made[1].at[1]


def test_block_leaves_out_what_it_does_not_know() -> None:
    shown = texts(sheet(*frame(Page.A4.portrait, TitleBlock(title="A", document="B")).items))
    assert shown == ["B", "A"]


@given(st.builds(TitleBlock, title=WORDS, document=WORDS, job=WORDS, units=WORDS, view=WORDS))
@settings(max_examples=40, deadline=None)
def test_no_title_block_ever_clashes(block: TitleBlock) -> None:
    for size in (Page.A4.portrait, Page.A3.landscape):
        assert clashes.check(sheet(*frame(size, block).items, size=size)) == ()


def test_table_is_as_wide_as_asked_and_says_its_height() -> None:
    made = blocks.table(COLUMNS, [("mat", "400 × 500", "Slipway", "2")], x=20, y=30, width=150)
    assert made.area.width == pytest.approx(150)
    assert made.bottom == made.area.y + made.area.height
    assert texts(sheet(*made.items)) == ["Item", "Size", "For", "Quantity", "mat", "400 × 500", "Slipway", "2"]


def test_numbers_end_at_the_right_edge_of_their_column() -> None:
    columns = (Column(head="A", share=1), Column(head="Price", align=Align.RIGHT))
    made = blocks.table(columns, [("a", "9.00"), ("b", "1250.00")], x=20, y=20, width=80)
    ends = [lettering.setting(t) for t in sheet(*made.items).texts() if "." in t.text]
    assert [e.start[0] + e.width for e in ends] == pytest.approx([100 - blocks.CELL_X] * 2)


def test_cells_keep_clear_of_their_columns_edges() -> None:
    words = " ".join(f"{'m' * n}" for n in range(1, 30))
    made = blocks.table((Column(head="A", share=1), Column(head="B", share=1)), [(words, words)], x=0, y=0, width=100)
    for text in sheet(*made.items).texts():
        setting = lettering.setting(text)
        column = 0 if setting.start[0] < 50 else 50
        assert setting.start[0] >= column + blocks.CELL_X - 1e-9
        assert setting.start[0] + setting.width <= column + 50 - blocks.CELL_X + 1e-9


def test_table_without_heads_has_no_head_row() -> None:
    with_head = blocks.table((Column(head="A"),), [("x",)], x=0, y=0, width=40)
    without = blocks.table((Column(head=""),), [("x",)], x=0, y=0, width=40)
    assert without.area.height < with_head.area.height


def test_zebra_tints_every_second_row() -> None:
    made = blocks.table((Column(head=""),), [("a",), ("b",), ("c",)], x=0, y=0, width=40, zebra=True)
    assert len([i for i in sheet(*made.items).flat() if isinstance(i, Rect)]) == 1


def test_long_table_goes_on_over_the_next_areas() -> None:
    area = Area(x=20, y=20, width=170, height=60)
    rows = [("mat", "400 × 500", f"piece {n}", "1") for n in range(25)]
    pages = list(blocks.paged_table(COLUMNS, rows, iter([area] * 10)))
    assert len(pages) > 1
    shown = [text for page in pages for text in texts(sheet(*page.items))]
    assert [t for t in shown if t.startswith("piece")] == [f"piece {n}" for n in range(25)]
    assert shown.count("Quantity") == len(pages)
    assert all(page.bottom <= area.bottom + 1e-9 for page in pages)


def test_row_higher_than_its_area_is_set_alone() -> None:
    area = Area(x=20, y=20, width=60, height=10)
    pages = list(blocks.paged_table((Column(head="A"),), [("word " * 60,), ("b",)], iter([area] * 3)))
    assert len(pages) == 2


def test_empty_table_still_shows_its_head() -> None:
    (page,) = blocks.paged_table(COLUMNS, [], iter([Area(x=20, y=20, width=170, height=60)]))
    assert "Item" in texts(sheet(*page.items))


@given(st.lists(st.tuples(WORDS, WORDS, WORDS, WORDS), max_size=4), st.floats(60, 180))
@settings(max_examples=40, deadline=None)
def test_no_table_ever_clashes(rows: list[tuple[str, str, str, str]], width: float) -> None:
    made = blocks.table(COLUMNS, rows, x=15, y=15, width=width)
    assert made.area.width <= width + 1e-6
    drawn = sheet(*made.items, size=(210, 4000))
    assert clashes.check(drawn) == ()
    for text in drawn.texts():
        setting = lettering.setting(text)
        assert setting.start[0] >= 15
        assert setting.start[0] + setting.width <= 15 + width + 1e-6 or len(text.text) == 1


def test_notes_hang_behind_their_dashes() -> None:
    made = blocks.notes(
        ["Cut face down, with a slip sheet under the board.", "Mark the top."], x=20, y=20, width=60, title="Notes"
    )
    drawn = sheet(*made.items)
    assert texts(drawn)[0] == "Notes"
    lefts = {t.at[0] for t in drawn.texts() if t.text not in ("–", "Notes")}
    assert len(lefts) == 1
    assert clashes.check(drawn) == ()


def test_one_note_has_no_dash() -> None:
    assert "–" not in texts(sheet(*blocks.notes(["Cut face down."], x=20, y=20, width=60).items))


@pytest.mark.parametrize("width", [50, 90, 180])
def test_cautions_stay_in_their_box(width: float) -> None:
    lines = ("Fresh blades. Cut away from the hand that holds the board.", "Keep fingers off the line of the cut.")
    made = blocks.cautions(lines, x=15, y=15, width=width)
    (group,) = made.items
    assert isinstance(group, Group)
    assert group.classes == ("caution",)
    for text in sheet(*made.items).texts():
        for x, y in lettering.setting(text).corners():
            assert 15 < x < 15 + width
            assert 15 < y < made.bottom
    assert clashes.check(sheet(*made.items)) == ()


def test_paragraph_starts_at_the_top_of_its_capitals() -> None:
    made = blocks.paragraph("Two lines of text", x=20, y=20, width=25, size=Size.NORMAL)
    first, *_ = (i for i in made.items if isinstance(i, Text))
    assert lettering.setting(first).top == pytest.approx(20)
    assert len(made.items) > 1
