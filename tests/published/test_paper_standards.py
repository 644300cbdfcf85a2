"""Papers against ISO 216, and against a general-purpose library's page sizes.

Sources: ISO 216 (A0 has an area of 1 m² and sides as 1 : √2; each next size halves the long side, down to a whole
millimetre; tolerances); `reportlab.lib.pagesizes`. Two errors of libraries are named where they are met.
"""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import pairwise

import pytest
from reportlab.lib import pagesizes
from reportlab.lib.units import mm

from matplan import catalogue
from matplan.catalogue import iso_216_tolerance

KNOWN_ERRORS = {"HALF_LETTER": (5.5 * 25.4, 8 * 25.4)}
"""Page sizes of reportlab that are wrong: half a Letter of 8½ × 11 in is 5½ × 8½ in."""
NAMES = {
    "LETTER": "Letter",
    "LEGAL": "Legal",
    "ELEVENSEVENTEEN": "Tabloid",
    "TABLOID": "Tabloid",
    "LEDGER": "Ledger",
    "JUNIOR_LEGAL": "Junior legal",
    "HALF_LETTER": "Half letter",
}


def sheet(name: str) -> tuple[Fraction, Fraction]:
    paper = catalogue.paper(name)
    assert paper is not None, name
    return paper.size.width, paper.size.height


def pair(width: int, height: int) -> tuple[Fraction, Fraction]:
    return Fraction(width), Fraction(height)


def series(letter: str) -> list[tuple[Fraction, Fraction]]:
    return [sheet(f"{letter}{number}") for number in range(11)]


def halving_faults(sheets: list[tuple[Fraction, Fraction]]) -> list[int]:
    """Numbers of the sheets that are not the one before with its long side halved, down to a whole millimetre."""
    return [
        number
        for number, ((width, height), after) in enumerate(pairwise(sheets), 1)
        if after != (Fraction(height // 2), width)
    ]


def test_a0_is_a_square_metre_with_sides_as_one_to_root_two() -> None:
    side = 1000 / math.sqrt(math.sqrt(2))
    assert sheet("A0") == pair(round(side), round(side * math.sqrt(2))) == pair(841, 1189)


def test_b0_is_a_metre_wide_with_sides_as_one_to_root_two() -> None:
    assert sheet("B0") == pair(1000, round(1000 * math.sqrt(2)))


@pytest.mark.parametrize("letter", ["A", "B"])
def test_each_sheet_halves_the_one_before(letter: str) -> None:
    assert halving_faults(series(letter)) == []


def test_a_b4_of_352_mm_breaks_the_halving_rule() -> None:
    """One paper-size library gives B4 as 250 × 352 mm; ISO 216 has 353, the width of B3."""
    wrong = series("B")
    wrong[4] = pair(250, 352)
    assert halving_faults(wrong) == [4]
    assert sheet("B4") == pair(250, 353)


@pytest.mark.parametrize("number", range(1, 11))
def test_b_lies_at_the_geometric_mean_of_its_a_neighbours(number: int) -> None:
    for b, larger, smaller in zip(sheet(f"B{number}"), sheet(f"A{number - 1}"), sheet(f"A{number}"), strict=True):
        assert abs(float(b) - math.sqrt(larger * smaller)) <= 1  # each size is a whole millimetre


@pytest.mark.parametrize("letter", ["A", "B"])
def test_sides_stay_as_one_to_root_two_within_the_rounding(letter: str) -> None:
    for width, height in series(letter):
        assert abs(float(height) - float(width) * math.sqrt(2)) <= 1.5


@pytest.mark.parametrize("name", [f"{letter}{number}" for letter in "AB" for number in range(11)])
def test_iso_sheets_agree_with_reportlab(name: str) -> None:
    assert tuple(map(float, sheet(name))) == pytest.approx([side / mm for side in getattr(pagesizes, name)])


@pytest.mark.parametrize("name", NAMES)
def test_north_american_sheets_agree_with_reportlab_but_for_its_known_error(name: str) -> None:
    theirs = pytest.approx([side / mm for side in getattr(pagesizes, name)])
    ours = tuple(map(float, sheet(NAMES[name])))
    if name in KNOWN_ERRORS:
        assert theirs == KNOWN_ERRORS[name]  # still wrong there
        assert ours != theirs
        assert ours == pytest.approx((5.5 * 25.4, 8.5 * 25.4))
    else:
        assert ours == theirs


def test_half_letter_is_half_a_letter() -> None:
    width, height = sheet("Letter")
    assert sheet("Half letter") == (height / 2, width)


def test_each_ansi_sheet_doubles_the_one_before() -> None:
    """ANSI/ASME Y14.1: A 8½ × 11 in, and each next is two of the one before."""
    sheets = [sheet(f"ANSI {letter}") for letter in "ABCDE"]
    assert sheets[0] == (Fraction("215.9"), Fraction("279.4"))
    assert [(width, height) for width, height in sheets[1:]] == [(height, 2 * width) for width, height in sheets[:-1]]


def test_each_arch_sheet_doubles_the_one_before() -> None:
    sheets = [sheet(f"Arch {letter}") for letter in "ABCDE"]
    assert sheets[0] == (9 * Fraction("25.4"), 12 * Fraction("25.4"))
    assert [(width, height) for width, height in sheets[1:]] == [(height, 2 * width) for width, height in sheets[:-1]]


def test_panorama_sheets_are_halves_along_the_length() -> None:
    for name, whole in (("A2 panorama", "A2"), ("A1 panorama", "A1")):
        width, height = sheet(whole)
        assert sheet(name) == (width / 2, height)


def test_a3_plus_is_sold_in_millimetres_and_is_not_13_by_19_inches() -> None:
    """Common practice."""
    assert sheet("A3+") == pair(329, 483)
    assert sheet("13x19 in") == (Fraction("330.2"), Fraction("482.6"))


@pytest.mark.parametrize(
    ("side", "tolerance"),
    [
        ("26", "1.5"),
        ("150", "1.5"),
        ("150.1", "2"),
        ("210", "2"),
        ("297", "2"),
        ("600", "2"),
        ("600.1", "3"),
        ("1189", "3"),
    ],
)
def test_tolerances_of_iso_216(side: str, tolerance: str) -> None:
    """ISO 216: ±1.5 mm up to 150 mm, ±2 mm up to 600 mm, ±3 mm above."""
    assert iso_216_tolerance(Fraction(side)) == Fraction(tolerance)
