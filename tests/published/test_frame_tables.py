"""Frames and mats against published lists, and against what frames and ready-cut mats are commonly sold as.

Published: Canadian Conservation Institute, CCI Notes 11/5 (museum mat sizes); M. T. Jackson, *The Museum*, 1917, p.
175, public domain (reusable museum frames). The inch and centimetre lists and the ready-cut openings are common
practice, without one authority; 15x20, 20x25, 28x35 and 50x60 cm are memory, and marked so.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from matplan import catalogue
from matplan.catalogue import Kind, ReadyCut, Status
from matplan.lengths import Size, Units, parse_size

INCHES = [
    "4x6",
    "5x7",
    "8x10",
    "8.5x11",
    "9x12",
    "10x13",
    "11x14",
    "12x16",
    "14x18",
    "16x20",
    "18x24",
    "20x24",
    "22x28",
    "24x30",
    "24x36",
    "30x40",
]
CENTIMETRES = [
    "10x15",
    "13x18",
    "15x20",
    "18x24",
    "20x25",
    "20x30",
    "21x30",
    "24x30",
    "28x35",
    "30x40",
    "40x50",
    "50x60",
    "50x70",
    "60x80",
    "70x100",
]
READY_CUT = [
    ("8x10 in", "4 1/2 x 6 1/2 in", "5x7 in"),
    ("11x14 in", "7 1/2 x 9 1/2 in", "8x10 in"),
    ("16x20 in", "10 1/2 x 13 1/2 in", "11x14 in"),
    ("20x24 in", "15 1/2 x 19 1/2 in", "16x20 in"),
    ("20x24 in", "15 3/4 x 19 3/4 in", "16x20 in"),
    ("24x36 in", "19 1/2 x 29 1/2 in", "20x30 in"),
]


def size(text: str) -> Size:
    return parse_size(text, Units.MM)


def test_museum_mat_sizes() -> None:
    """CCI Notes 11/5: 8 × 10, 10 × 12, 14 × 18, 16 × 22, 22 × 28, 28 × 36 in."""
    rows = catalogue.rows(Kind.MAT_BLANKS)
    assert [row.name for row in rows] == ["8x10 in", "10x12 in", "14x18 in", "16x22 in", "22x28 in", "28x36 in"]
    assert {(row.status, "CCI Notes 11/5" in row.source) for row in rows} == {(Status.PUBLISHED, True)}


def test_museum_frames() -> None:
    """Jackson 1917, p. 175: 14 × 18, 22 × 28, 28 × 40 in."""
    published = [frame for frame in catalogue.frames() if frame.status is Status.PUBLISHED]
    assert [frame.name for frame in published] == ["14x18 in", "22x28 in", "28x40 in"]
    assert all("Jackson" in frame.source for frame in published)


@pytest.mark.parametrize(
    "written", [*(f"{s} in" for s in INCHES), *(f"{s} cm" for s in CENTIMETRES), "A5", "A4", "A3", "A2", "A1"]
)
def test_frames_of_common_practice(written: str) -> None:
    frame = catalogue.frame(written)
    assert frame is not None
    assert frame.name == written
    if written[0] != "A":
        assert frame.size == size(written)


def test_iso_frames_take_their_sheet_as_it_is() -> None:
    """Common practice: an A4 frame takes an A4 sheet; the window of its mat is then smaller."""
    for name in ("A1", "A2", "A3", "A4", "A5"):
        frame, paper = catalogue.frame(name), catalogue.paper(name)
        assert frame is not None
        assert paper is not None
        assert frame.size == paper.size


def test_frames_from_memory_say_so() -> None:
    assert [frame.name for frame in catalogue.frames() if frame.status is Status.MEMORY] == [
        "15x20 cm",
        "20x25 cm",
        "28x35 cm",
        "50x60 cm",
    ]


@pytest.mark.parametrize(("frame", "opening", "cut_for"), READY_CUT)
def test_ready_cut_mats_of_common_practice(frame: str, opening: str, cut_for: str) -> None:
    mats = [mat for mat in catalogue.ready_cuts(size(frame)) if mat.opening == size(opening)]
    assert [(mat.print_size, mat.status) for mat in mats] == [(size(cut_for), Status.COMMON_PRACTICE)]


def test_only_those_ready_cut_mats_claim_common_practice() -> None:
    claimed = [
        mat
        for mat in catalogue.rows(Kind.READY_CUT)
        if isinstance(mat, ReadyCut) and mat.status is Status.COMMON_PRACTICE
    ]
    assert [(mat.frame, mat.opening, mat.print_name) for mat in claimed] == [(f, size(o), p) for f, o, p in READY_CUT]


def test_a_ready_cut_mat_leaves_borders_that_close() -> None:
    """Derived: picture 8 × 10 in, overlap 1/4: window 7½ × 9½; (11 − 7½) / 2 = 1¾ and (14 − 9½) / 2 = 2¼."""
    mat = catalogue.ready_cut("11x14 in for 8x10 in")
    assert mat is not None
    assert (mat.overlap.top, mat.overlap.right) == (Fraction("6.35"), Fraction("6.35"))
    assert (mat.borders.left, mat.borders.top) == (
        Fraction("1.75") * Fraction("25.4"),
        Fraction("2.25") * Fraction("25.4"),
    )


def test_board_sheets() -> None:
    """Common practice: 32 × 40 in (813 × 1016 mm) and 40 × 60 in (1016 × 1524 mm); 815 × 1120 mm is memory."""
    sheets = {name: sheet for name in ("32x40 in", "40x60 in", "815x1120 mm") if (sheet := catalogue.board_sheet(name))}
    assert [(round(s.size.width), round(s.size.height)) for s in sheets.values()] == [
        (813, 1016),
        (1016, 1524),
        (815, 1120),
    ]
    assert [s.status for s in sheets.values()] == [Status.COMMON_PRACTICE, Status.COMMON_PRACTICE, Status.MEMORY]
