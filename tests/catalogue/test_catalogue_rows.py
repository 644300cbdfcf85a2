"""Every row of every table is whole: a name of its own, a size, a source and how far to trust it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from fractions import Fraction
from typing import Any

import pytest

from matplan import catalogue
from matplan.catalogue import Kind, Paper, ReadyCut, Status
from matplan.catalogue.tables import key, raw_rows
from matplan.lengths import Size

NAMED = tuple(kind for kind in Kind if kind is not Kind.SUBSTANCES)
ALLOWED = {
    Kind.PAPERS: {"name", "also", "size", "series"},
    Kind.FRAMES: {"name", "also", "size", "series"},
    Kind.READY_CUT: {"name", "frame", "opening", "print"},
    Kind.BOARDS: {"name", "ply", "thickness", "of"},
    Kind.GLAZING: {"name", "thickness", "of", "largest"},
    Kind.BACKING: {"name", "thickness", "of", "mass", "mass_status", "mass_source"},
    Kind.BOARD_SHEETS: {"name", "size"},
    Kind.MAT_BLANKS: {"name", "size"},
    Kind.CURRENCIES: {"name", "also", "decimals"},
    Kind.HARDWARE: {"name", "also", "sold", "pack", "small", "each"},
    Kind.SUBSTANCES: {"name", "quantity", "value", "unit", "at_rh"},
}


def faults_of(rows: Iterable[Any], allowed: set[str], named_once: bool = True) -> list[str]:
    """What is wrong with raw rows: unknown keys, a source or a status that is missing, one name for two rows."""
    faults: list[str] = []
    spelt: Counter[str] = Counter()
    for row in rows:
        name = row.get("name", "?")
        faults += [f"{name}: unknown key {extra}" for extra in row.keys() - allowed - {"status", "source"}]
        source, status = row.get("source", ""), row.get("status")
        if len(source.strip()) < 3:
            faults.append(f"{name}: no source")
        if status not in set(Status):
            faults.append(f"{name}: no such status")
        if status == "published" and "no published" in source:
            faults.append(f"{name}: published, and not found")
        spelt.update({key(other) for other in (name, *row.get("also", ()))})
    if named_once:
        faults += [f"{name}: names {count} rows" for name, count in spelt.items() if count > 1]
    return faults


@pytest.mark.parametrize("kind", Kind)
def test_every_row_has_source_and_status_and_a_name_of_its_own(kind: Kind) -> None:
    assert raw_rows(kind)
    assert faults_of(raw_rows(kind), ALLOWED[kind], named_once=kind is not Kind.SUBSTANCES) == []


@pytest.mark.parametrize(
    ("row", "fault"),
    [
        ({"name": "Z1", "size": "1 x 2 mm", "status": "published"}, "Z1: no source"),
        ({"name": "Z1", "size": "1 x 2 mm", "source": "ISO 216"}, "Z1: no such status"),
        ({"name": "Z1", "size": "1 x 2 mm", "status": "certain", "source": "ISO 216"}, "Z1: no such status"),
        ({"name": "Z1", "widht": 3, "status": "derived", "source": "ISO 216"}, "Z1: unknown key widht"),
        (
            {"name": "Z1", "status": "published", "source": "found in no published source"},
            "Z1: published, and not found",
        ),
        ({"name": "z-0", "status": "memory", "source": "as sold"}, "z0: names 2 rows"),
    ],
)
def test_a_broken_row_is_found(row: dict[str, Any], fault: str) -> None:
    whole = {"name": "Z0", "size": "1 x 2 mm", "status": "derived", "source": "two lines up"}
    assert faults_of([whole, row], {"name", "size"}) == [fault]


@pytest.mark.parametrize("kind", Kind)
def test_every_row_reads_into_a_record_with_its_raw_name(kind: Kind) -> None:
    assert [row.name for row in catalogue.rows(kind)] == [row["name"] for row in raw_rows(kind)]


def test_no_two_papers_are_one_sheet() -> None:
    """Ledger apart, which is a Tabloid turned."""
    assert repeated(paper.size for paper in catalogue.papers() if paper.name != "Ledger") == []
    ledger, tabloid = catalogue.paper("Ledger"), catalogue.paper("Tabloid")
    assert ledger is not None
    assert tabloid is not None
    assert ledger.size.turned == tabloid.size


def test_no_two_frames_take_one_sheet() -> None:
    assert repeated(frame.size for frame in catalogue.frames()) == []


def test_a_sheet_given_twice_is_found_also_turned() -> None:
    assert repeated([Size(Fraction(2), Fraction(3)), Size(Fraction(3), Fraction(2))]) == [(Fraction(2), Fraction(3))]


def repeated(sizes: Iterable[Size]) -> list[tuple[Fraction, Fraction]]:
    """Sheets that occur more than once, turned or not."""
    count = Counter((min(size.width, size.height), max(size.width, size.height)) for size in sizes)
    return [size for size, often in count.items() if often > 1]


def test_papers_and_frames_stand_upright() -> None:
    sheets = [
        *((paper.name, paper.size) for paper in catalogue.papers()),
        *((frame.name, frame.size) for frame in catalogue.frames()),
    ]
    lying = [name for name, size in sheets if size.width > size.height]
    assert lying == ["Ledger"]


def test_names_that_are_sizes_are_the_row_s_size() -> None:
    """`40x50 cm` is 400 × 500 mm; a name of two numbers and a unit is never a nominal one."""
    from matplan.lengths import Units, parse_size

    checked = 0
    for kind in (Kind.PAPERS, Kind.FRAMES, Kind.BOARD_SHEETS, Kind.MAT_BLANKS):
        for row in catalogue.rows(kind):
            for name in (row.name, *row.also):
                if name[0].isdigit() and "x" in name:
                    assert parse_size(name, Units.MM) == getattr(row, "size", None), name
                    checked += 1
    assert checked > 70


@pytest.mark.parametrize("kind", [Kind.BOARDS, Kind.GLAZING, Kind.BACKING])
def test_names_of_sheet_materials_say_their_thickness(kind: Kind) -> None:
    from matplan.lengths import Units, parse_length

    for row in catalogue.rows(kind):
        last = row.name.rpartition("-")[2]
        if last[0].isdigit() and last.endswith(("mm", "in")):
            assert parse_length(last, Units.MM) == getattr(row, "thickness", None), row.name


def ready_cut_faults(mat: ReadyCut) -> list[str]:
    """What makes that mat useless: an opening that shows the print's edge, covers too much of it, or
    leaves no border.
    """
    eighth, half = Fraction("3.175"), Fraction("12.7")
    faults = []
    if mat.overlap.least < eighth:
        faults.append("the print's edge is covered by less than 1/8 in")
    if max(mat.overlap.top, mat.overlap.right) > half / 2:
        faults.append("the opening is more than 1/2 in under the print in all")
    if mat.overlap.top != mat.overlap.right:
        faults.append("the overlap differs between the sides")
    if mat.borders.least < half:
        faults.append("less than 1/2 in of mat is left")
    return faults


def test_ready_cut_openings_cover_the_print_and_leave_a_border() -> None:
    """Common practice (ready-cut mats): opening 1/2 in, some 1/4 in, under the print's nominal size in all."""
    mats = [row for row in catalogue.rows(Kind.READY_CUT) if isinstance(row, ReadyCut)]
    assert len(mats) > 20
    assert {mat.name: faults for mat in mats if (faults := ready_cut_faults(mat))} == {}


@pytest.mark.parametrize("opening", ["5 x 7 in", "4 x 6 in", "4 1/2 x 6 3/4 in", "7.75 x 9.75 in"])
def test_a_useless_ready_cut_mat_is_found(opening: str) -> None:
    from dataclasses import replace

    from matplan.lengths import Units, parse_size

    mat = catalogue.ready_cut("8x10 in for 5x7 in")
    assert mat is not None
    assert ready_cut_faults(mat) == []
    assert ready_cut_faults(replace(mat, opening=parse_size(opening, Units.MM))) != []


@pytest.mark.parametrize(
    "row", [row for row in catalogue.rows(Kind.READY_CUT) if isinstance(row, ReadyCut)], ids=lambda row: row.name
)
def test_ready_cut_mats_fit_a_frame_and_a_paper_of_the_tables(row: ReadyCut) -> None:
    frame, paper = catalogue.frame(row.frame), catalogue.paper(row.print_name)
    assert frame is not None
    assert isinstance(paper, Paper)
    assert (row.blank, row.print_size) == (frame.size, paper.size)


def test_default_materials_are_in_the_tables_and_none_is_not() -> None:
    assert catalogue.board(catalogue.DEFAULT_BOARD) is not None
    assert catalogue.glazing(catalogue.DEFAULT_GLAZING) is not None
    assert catalogue.backing(catalogue.DEFAULT_BACKING) is not None
    assert catalogue.glazing(catalogue.NONE) is None
    assert catalogue.backing(catalogue.NONE) is None
