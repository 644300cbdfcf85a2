"""Papers against open data: papersizes.guide, version 2026.10.10, CC BY 4.0 (the rows used here are quoted below).

The data's ANSI rows name ANSI/ASME Y14.1 as their standard. Sides in inches.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from matplan import catalogue

INCH = Fraction("25.4")
NORTH_AMERICAN = {
    "ANSI A": ("8.5", "11"),
    "ANSI B": ("11", "17"),
    "ANSI C": ("17", "22"),
    "ANSI D": ("22", "34"),
    "ANSI E": ("34", "44"),
    "Arch A": ("9", "12"),
    "Arch B": ("12", "18"),
    "Arch C": ("18", "24"),
    "Arch D": ("24", "36"),
    "Arch E": ("36", "48"),
    "Letter": ("8.5", "11"),
    "Legal": ("8.5", "14"),
    "Tabloid": ("11", "17"),
    "Ledger": ("17", "11"),
    "Executive": ("7.25", "10.5"),
    "Half letter": ("5.5", "8.5"),
    "Junior legal": ("5", "8"),
    "Super B": ("13", "19"),
}
PHOTO = {
    "3R": ("3.5", "5"),
    "4R": ("4", "6"),
    "5R": ("5", "7"),
    "6R": ("6", "8"),
    "8R": ("8", "10"),
    "S8R": ("8", "12"),
    "10R": ("10", "12"),
    "S10R": ("10", "15"),
    "11R": ("11", "14"),
    "12R": ("12", "15"),
}


def sheet(name: str) -> tuple[Fraction, Fraction]:
    paper = catalogue.paper(name)
    assert paper is not None, name
    return paper.size.width, paper.size.height


@pytest.mark.parametrize("name", NORTH_AMERICAN)
def test_north_american_sheets_are_exact(name: str) -> None:
    width, height = NORTH_AMERICAN[name]
    assert sheet(name) == (Fraction(width) * INCH, Fraction(height) * INCH)


@pytest.mark.parametrize("name", PHOTO)
def test_photo_sizes_are_their_inches_to_the_nearest_millimetre(name: str) -> None:
    width, height = PHOTO[name]
    assert sheet(name) == (Fraction(round(Fraction(width) * INCH)), Fraction(round(Fraction(height) * INCH)))


def test_every_row_that_claims_this_source_is_checked() -> None:
    checked = {paper.name for name in (*NORTH_AMERICAN, *PHOTO) if (paper := catalogue.paper(name))}
    assert {paper.name for paper in catalogue.papers() if "papersizes.guide" in paper.source} <= checked
