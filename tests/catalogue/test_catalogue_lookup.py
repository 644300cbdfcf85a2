"""Names find their rows however they are spelt, and a name that is none says what is near."""

from __future__ import annotations

import subprocess
import sys
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matplan import catalogue
from matplan.catalogue import Kind
from matplan.catalogue.tables import raw_rows
from matplan.lengths import Size, Units, parse_size


def size(text: str) -> Size:
    return parse_size(text, Units.MM)


@pytest.mark.parametrize(
    ("spelt", "name"),
    [
        ("a4", "A4"),
        (" A4 ", "A4"),
        ("letter", "Letter"),
        ("US letter", "Letter"),
        ("ansi a", "Letter"),
        ("half-letter", "Half letter"),
        ("a3+", "A3+"),
        ("A3 PLUS", "A3+"),
        ("13 × 19 in", "13x19 in"),
        ('13x19"', "13x19 in"),
        ("arch-d", "Arch D"),
    ],
)
def test_papers_are_found_however_spelt(spelt: str, name: str) -> None:
    paper = catalogue.paper(spelt)
    assert paper is not None
    assert paper.name == name


@pytest.mark.parametrize(
    ("spelt", "name"),
    [
        ("40×50 cm", "40x50 cm"),
        ("40 x 50 cm", "40x50 cm"),
        ("40X50CM", "40x50 cm"),
        ("400 x 500 mm", "40x50 cm"),
        ("16x20 in", "16x20 in"),
        ('16 x 20"', "16x20 in"),
        ("16x20 inches", "16x20 in"),
        ("8 1/2 x 11 in", "8.5x11 in"),
        ("210 x 297 mm", "A4"),
        ("a2", "A2"),
    ],
)
def test_frames_are_found_by_name_and_by_size(spelt: str, name: str) -> None:
    frame = catalogue.frame(spelt)
    assert frame is not None
    assert frame.name == name


@pytest.mark.parametrize(
    "text",
    [
        "50x40 cm",
        "40x50",
        "16x20",
        "210x297",
        "400 x 500 ",
        "210x296½",
        "81/2x11 in",
        "403 x 503 mm",
        "ash",
        "",
        "x",
        "4 x",
        "1x2x3 mm",
        "9" * 5000 + "x1 mm",
    ],
)
def test_what_is_no_frame_of_the_tables_is_none(text: str) -> None:
    """Nothing is turned unasked, and a size without a unit is in the job's units, which are not known here."""
    assert catalogue.frame(text) is None


@given(st.text(max_size=30))
@settings(max_examples=100)
def test_no_text_breaks_a_lookup(text: str) -> None:
    for kind in Kind:
        catalogue.near(text, kind)
    for found in (catalogue.paper(text), catalogue.frame(text), catalogue.glazing(text), catalogue.ready_cut(text)):
        assert found is None or found.name


@pytest.mark.parametrize("kind", [kind for kind in Kind if kind is not Kind.SUBSTANCES])
def test_every_name_finds_its_own_row_in_any_case(kind: Kind) -> None:
    from matplan.catalogue.tables import find

    for number, row in enumerate(raw_rows(kind)):
        for name in (row["name"], *row.get("also", ())):
            for spelt in (
                name,
                name.upper(),
                name.lower(),
                name.replace("x", " × ") if name[0].isdigit() and kind is not Kind.READY_CUT else name,
            ):
                assert find(kind, spelt) == number, spelt


@pytest.mark.parametrize(
    ("text", "kind", "first"),
    [
        ("glas-2mm", Kind.GLAZING, "glass-2mm"),
        ("glass", Kind.GLAZING, "glass-2mm"),
        ("foam", Kind.BACKING, "foam-3mm"),
        ("non", Kind.BACKING, "none"),
        ("leter", Kind.PAPERS, "Letter"),
        ("16x21 in", Kind.FRAMES, "16x20 in"),
        ("4 ply board", Kind.BOARDS, "4-ply"),
    ],
)
def test_near_gives_the_name_that_was_meant_first(text: str, kind: Kind, first: str) -> None:
    found = catalogue.near(text, kind)
    assert found[0] == first
    assert len(found) <= 3


def test_near_gives_nothing_where_nothing_is_like_it() -> None:
    assert catalogue.near("qqqqqqq", Kind.FRAMES) == ()
    assert catalogue.near("", Kind.GLAZING) == ()
    assert catalogue.near("none", Kind.PAPERS) != ("none",)


def test_ready_cut_mats_of_a_frame_lie_as_the_blank_does() -> None:
    upright = catalogue.ready_cuts(size("16x20 in"))
    assert [mat.name for mat in upright] == ["16x20 in for 11x14 in", "16x20 in for 12x16 in"]
    lying = catalogue.ready_cuts(size("20x16 in"))
    assert [mat.opening for mat in lying] == [mat.opening.turned for mat in upright]


def test_ready_cut_mats_are_found_for_a_blank_that_was_snapped_to_a_step() -> None:
    blank = Size(Fraction(406), Fraction(508))  # 16x20 in is 406.4 × 508 mm, down to whole millimetres
    assert catalogue.ready_cuts(blank) == ()
    assert len(catalogue.ready_cuts(blank, within=Fraction(1))) == 2


def test_borders_opening_and_blank_of_a_ready_cut_mat_close() -> None:
    mat = catalogue.ready_cut("11x14 in for 8x10 in")
    assert mat is not None
    assert mat.borders.across + mat.opening.width == mat.blank.width
    assert mat.borders.down + mat.opening.height == mat.blank.height
    assert mat.overlap.across + mat.opening.width == mat.print_size.width


def test_boards_by_ply() -> None:
    thickness = {ply: board.thickness for ply in range(1, 10) if (board := catalogue.board_of_ply(ply))}
    assert thickness == {2: Fraction("0.7"), 4: Fraction("1.4"), 6: Fraction("2.1"), 8: Fraction("2.8")}
    sheet = catalogue.board_sheet("32×40 in")
    assert sheet is not None
    assert sheet.size == Size(Fraction("812.8"), Fraction(1016))


def test_looking_up_a_metric_row_needs_no_unit_registry() -> None:
    """A lookup is quick: it reads one table, makes one record, and leaves pint alone where the row is
    in millimetres.
    """
    program = """
import sys
from matplan import catalogue
assert catalogue.paper("A4") and catalogue.frame("A4")
assert catalogue.glazing("glass-2mm") and catalogue.backing("foam-5mm")
print([name for name in ("pint", "pydantic", "PIL", "difflib") if name in sys.modules])
"""
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_names_are_each_given_once_in_the_table_s_order() -> None:
    assert catalogue.names(Kind.BOARDS) == ("2-ply", "4-ply", "6-ply", "8-ply")
    assert catalogue.names(Kind.SUBSTANCES)[:2] == ("glass", "acrylic")
    assert catalogue.NONE not in catalogue.names(Kind.GLAZING)
