"""Prints on their papers: margins that close, orientation, and what a paper is too small for."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from matplan.job import parse_job
from matplan.job.records import Paper, Show
from matplan.lengths import Sides, Size, Units
from matplan.mats.records import Level, Print, SolvedPiece
from matplan.mats.windows import Unsolvable
from tests.making import RAG, frame, mm, size, solved, window

LARGE = frame("50x70 cm")


def printed(made: SolvedPiece) -> Print:
    found = made.apertures[0].print
    assert found is not None
    return found


def test_margins_of_the_print_close_on_the_paper() -> None:
    made = solved(frame=frame("40x50 cm"), apertures=(window(image="250 mm wide", aspect="3:2", paper=RAG),))
    margins = printed(made).margins
    assert margins.left + 250 + margins.right == 329
    assert margins.left == margins.right == Fraction("39.5")
    assert printed(made).orientation == "portrait"


def test_a_sheet_is_landscape_where_the_image_needs_it() -> None:
    made = solved(frame=frame("70x50 cm"), apertures=(window(image="450x300 mm", paper=RAG),))
    assert printed(made).orientation == "landscape"
    assert printed(made).size == size("483x329 mm")
    assert not [finding for finding in made.findings if finding.level is Level.WARNING]


def test_a_small_lying_image_keeps_the_sheet_as_it_is_named() -> None:
    made = solved(frame=LARGE, apertures=(window(image="300x200 mm", paper=RAG),))
    assert printed(made).orientation == "portrait"


def refused(where: str, words: str, **changes: Any) -> None:
    with pytest.raises(Unsolvable) as fault:
        solved(**({"frame": LARGE} | changes))
    assert fault.value.where == where
    assert words in fault.value.text


def test_an_image_larger_than_its_paper_is_refused_with_the_largest() -> None:
    """17:25 on 483 − 2 × 5 = 473 high: 473 × 17 ÷ 25 = 321.6; on 319 wide it is 469.1 high, which fits."""
    refused(
        "image",
        "the image of 340 × 500 mm is larger than the paper rag, 329 × 483 mm; make it at most 319 × 469 mm, or name a "
        "larger paper (the printer leaves 5 mm white)",
        apertures=(window(image="340x500 mm", paper=RAG),),
    )


def test_a_paper_too_small_is_laid_the_better_way_before_it_is_called_so() -> None:
    """500 × 200 lies on 483 × 329 but for 17 mm: at most 473 × 189.2."""
    refused(
        "image",
        "make it at most 473 × 189 mm",
        apertures=(window(image="500x200 mm", paper=RAG),),
        frame=frame("70x50 cm"),
    )


def test_among_several_windows_the_one_is_named() -> None:
    two = (window("a", image="100x100 mm"), window("b", image="340x500 mm", paper=RAG))
    refused(
        "aperture[2].image", "b: the image of", apertures=two, rows=((0, 1),), gutter=mm(20), frame=frame("70x100 cm")
    )


@pytest.mark.parametrize(
    ("margin", "assumed", "words"),
    [
        (
            3,
            True,
            "the printer is taken to leave 3 mm white; printer_margin on the paper says otherwise, 0 is borderless",
        ),
        (3, False, "the printer leaves 3 mm white"),
        (0, False, "printed borderless"),
    ],
)
def test_it_is_said_what_the_printer_leaves_white(margin: int, assumed: bool, words: str) -> None:
    paper = replace(RAG, printer_margin=Sides.all(Fraction(margin)), margin_assumed=assumed)
    refused("image", f"({words})", apertures=(window(image="340x500 mm", paper=paper),))


def test_an_image_to_the_papers_edge_runs_into_what_the_printer_leaves_white() -> None:
    named = replace(RAG, printer_margin=Sides.all(Fraction(3)))
    made = solved(frame=LARGE, apertures=(window(image="329x483 mm", paper=named),))
    assert "printer-margin" in {f.code for f in made.findings}
    borderless = replace(RAG, printer_margin=Sides.all(Fraction(0)))
    made = solved(frame=LARGE, apertures=(window(image="329x483 mm", paper=borderless),))
    assert not [finding for finding in made.findings if finding.level is Level.WARNING]


@pytest.mark.parametrize(
    ("reveal", "words"),
    [
        ("14 mm", "reaches 0.5 mm behind the mat, where 3 mm are needed on every side"),  # (329 − 300) ÷ 2 − 14
        ("20 mm", "ends 5.5 mm inside the opening"),
    ],
)
def test_round_a_white_margin_the_paper_must_reach_behind_the_mat(reveal: str, words: str) -> None:
    asked = window(image="300x400 mm", show=Show.MARGIN, reveal=mm(reveal), paper=RAG)
    refused("paper", words, apertures=(asked,))


def test_round_a_white_margin_the_better_way_of_the_paper_counts() -> None:
    """A4 in landscape reaches behind 200 × 170 with 15 mm of white, 230 × 200; in portrait 210 does not reach 230."""
    a4 = Paper(name="A4", size=size("210x297 mm"))
    asked = window(image="200x170 mm", show=Show.MARGIN, reveal=mm(15), paper=a4)
    assert printed(solved(frame=LARGE, apertures=(asked,))).orientation == "landscape"


@given(
    wide=st.integers(20, 480), high=st.integers(20, 480), bare=st.integers(0, 8), show=st.sampled_from(list(Show)[:2])
)
def test_a_print_lies_on_its_paper_or_is_refused(wide: int, high: int, bare: int, show: Show) -> None:
    """Whichever way up: refused only where neither way holds it; within the printer's reach wherever one way is."""
    paper = replace(RAG, printer_margin=Sides.all(Fraction(bare)))
    asked = window(image=f"{wide}x{high} mm", show=show, reveal=mm(5), overlap=mm(2), paper=paper)
    ways = (paper.size, paper.size.turned)
    need = Size(Fraction(wide), Fraction(high)).grown(Fraction(7) if show is Show.MARGIN else Fraction(0))
    try:
        made = printed(solved(frame=frame("70x100 cm"), apertures=(asked,)))
    except Unsolvable:
        assert not any(way.holds(need) for way in ways)
        return
    image = Size(Fraction(wide), Fraction(high))
    assert made.margins.across + image.width == made.size.width
    assert made.margins.least >= 0
    reached = [way.grown(Fraction(-bare)).holds(image) and way.holds(need) for way in ways]
    assert made.size.grown(Fraction(-bare)).holds(image) or not any(reached)


HEAD = """
units = "{units}"
[paper.own]
size = "A4"
{margin}
[[piece]]
name = "Gull"
frame = "40x50 cm"
image = "100 x 100 mm"
paper = "{paper}"
"""


@pytest.mark.parametrize(
    ("units", "paper", "margin", "white", "assumed"),
    [
        (Units.MM, "own", "", mm("3 mm"), True),
        (Units.IN, "own", "", mm("1/8 in"), True),
        (Units.MM, "A4", "", mm("3 mm"), True),
        (Units.MM, "200 x 200 mm", "", mm("3 mm"), True),
        (Units.MM, "own", 'printer_margin = "5 mm"', mm("5 mm"), False),
        (Units.MM, "own", "printer_margin = 0", mm("0 mm"), False),
    ],
)
def test_a_paper_that_names_no_margin_is_taken_to_have_the_usual(
    units: Units, paper: str, margin: str, white: Fraction, assumed: bool, tmp_path: Path
) -> None:
    """3 mm, 1/8 in in an inch job (common practice)."""
    job = parse_job(HEAD.format(units=units, paper=paper, margin=margin), tmp_path)
    found = job.pieces[0].apertures[0].paper
    assert found is not None
    assert found.printer_margin == Sides.all(white)
    assert found.margin_assumed is assumed
