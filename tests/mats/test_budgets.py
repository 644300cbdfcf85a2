"""Budgets: slack, what spends it, what is left; findings on both sides of their thresholds; the sources' examples."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import sqrt
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matplan.catalogue import Quantity, Status, figures
from matplan.job.records import Climate, Included, Piece, Show
from matplan.lengths import Printer, Size, Step, Units
from matplan.mats.budgets import across_the_grain, at_humidity, thermal, tightest
from matplan.mats.records import Bound, Budget, Level, SolvedPiece, Spend
from matplan.mats.solve import solve
from tests.laws.strategies import STEPS, pieces
from tests.laws.test_laws_of_a_piece import relaxed, solved_or_not
from tests.making import ACRYLIC_EIGHTH, RAG, frame, piece, window

METRIC = Printer(Units.MM, Step(Fraction(1)))
STILL = Climate(temperature=(Fraction(20), Fraction(20)), humidity=(Fraction(50), Fraction(50)))


def made(ask: Piece | None = None, climate: Climate | None = None, **changes: Any) -> SolvedPiece:
    ask = ask or piece(frame=frame("40x50 cm"), apertures=(window(image="250 x 300 mm"),), **changes)
    return solve(ask, printer=METRIC, climate=climate or Climate())


def one(solved: SolvedPiece, what: Bound, side: str) -> Budget:
    (found,) = (budget for budget in solved.budgets if (budget.what, budget.side) == (what, side))
    return found


def amounts(budget: Budget) -> dict[str, Fraction]:
    return {spend.of: spend.amount for spend in budget.spends}


# --- published examples ----------------------------------------------------------------------------------------------


def test_eight_inches_of_red_alder_move_an_eighth() -> None:
    """USDA Wood Handbook FPL-GTR-190, chapter 13: 8 in, 6 % of moisture content, 0.0026 give 0.1248 in."""
    assert across_the_grain(Fraction(8), Fraction("0.0026"), Fraction(6)) == Fraction("0.1248")


def test_four_feet_of_acrylic_grow_by_a_fifth_of_an_inch() -> None:
    """Derived, as in makers' notes on acrylic sheet: 48 in at 4.1e-5 /°F and 100 °F give 0.197 in."""
    assert round(thermal(Fraction(48), Fraction("4.1e-5"), Fraction(100)), 3) == Fraction("0.197")


def test_moisture_content_runs_straight_between_the_published_figures() -> None:
    """Wengert: 6, 9, 12 and 16 % at 30, 50, 65 and 80 % of relative humidity."""
    table = figures("wood", Quantity.MOISTURE_CONTENT)
    told = [at_humidity(table, Fraction(rh)) for rh in (30, 35, 50, 65, 80)]
    assert told == [6, Fraction("6.75"), 9, 12, 16]
    assert at_humidity(table, Fraction(90)) > 16 > 6 > at_humidity(table, Fraction(20))


# --- by hand ---------------------------------------------------------------------------------------------------------


def test_a_covered_edge_is_spent_by_cut_placing_and_board() -> None:
    top = one(made(), Bound.EDGE_SHOWS, "top")
    grown = Fraction(294, 2) * Fraction("0.006") * Fraction(30, 100)  # half the opening, 35 to 65 %
    assert top.slack == 3
    assert top.aperture == "Slipway"
    assert amounts(top) == {
        "half a step of the cut": Fraction(1, 2),
        "placing of the print": 1,
        "the board's growth by damp": grown,
    }
    assert top.worst == 3 - Fraction(3, 2) - grown
    assert float(top.likely) == pytest.approx(3 - sqrt(0.25 + 1 + float(grown) ** 2), abs=1e-11)
    assert [spend.status for spend in top.spends] == [Status.DERIVED, Status.MEMORY, Status.MEMORY]


def test_blank_and_glazing_are_spent_by_frame_and_movement() -> None:
    solved = made(glazing=ACRYLIC_EIGHTH)
    wood = 2 * 14 * Fraction("0.00369") * (12 - Fraction("6.75"))
    blank = amounts(one(solved, Bound.BLANK_BINDS, "width"))
    assert blank == {
        "half a step of the cut": Fraction(1, 2),
        "the frame's tolerance": Fraction(1, 2),
        "the board's growth by damp": 400 * Fraction("0.0018"),
        "the rails' swelling by damp, as red oak": wood,
    }
    acrylic = amounts(one(solved, Bound.GLAZING_BINDS, "height"))
    damp = Fraction("0.00225") - Fraction(35, 60) * Fraction("0.002")
    assert acrylic["the acrylic's growth by damp"] == 500 * damp
    assert acrylic["the acrylic's growth by warmth"] == 500 * Fraction("7.2e-5") * 15
    assert one(solved, Bound.GLAZING_BINDS, "height").slack == 3


def test_the_paper_s_tolerance_counts_where_its_margin_is_seen() -> None:
    show = window(image="250 x 300 mm", show=Show.MARGIN, paper=RAG)
    solved = made(piece(frame=frame("40x50 cm"), apertures=(show,)))
    left = one(solved, Bound.EDGE_SHOWS, "left")
    assert left.slack == Fraction(329 - 250, 2) - 10
    taken = "the paper's tolerance, taken as that of ISO 216"  # which has no A3+
    assert amounts(left)[taken] == 1  # 329 mm: 2 mm, half on each side
    assert not any("tolerance" in of for of in amounts(one(made(), Bound.EDGE_SHOWS, "left")))
    a3 = replace(show, paper=replace(RAG, size=Size(Fraction(297), Fraction(420))))
    known = one(made(piece(frame=frame("40x50 cm"), apertures=(a3,))), Bound.EDGE_SHOWS, "left")
    assert [spend.status for spend in known.spends if spend.of == "the paper's tolerance, ISO 216"] == [
        Status.PUBLISHED
    ]


def test_nothing_moves_in_air_that_does_not_change_and_metal_never_swells() -> None:
    still = made(climate=STILL, glazing=ACRYLIC_EIGHTH)
    assert all(not spend.amount for b in still.budgets for spend in b.spends if "growth" in spend.of)
    assert not any("swelling" in spend.of for b in still.budgets for spend in b.spends)
    for changes in ({"density": Fraction(2700)}, {"rail": None}):
        other = made(piece(frame=frame("40x50 cm", **changes), apertures=(window(image="250 x 300 mm"),)))
        assert not any("swelling" in spend.of for b in other.budgets for spend in b.spends)
    kit = frame("40x50 cm", includes=(Included.GLAZING,))
    brought = made(piece(frame=kit, apertures=(window(image="250 x 300 mm"),)))
    assert {budget.what for budget in brought.budgets} == {Bound.EDGE_SHOWS, Bound.BLANK_BINDS}


# --- findings --------------------------------------------------------------------------------------------------------


def levels(solved: SolvedPiece) -> dict[str, Level]:
    return {finding.code: finding.level for finding in solved.findings if finding.code.endswith("-budget")}


def clearance(length: str) -> SolvedPiece:
    held = frame("40x50 cm", clearance=Fraction(length))
    return made(piece(frame=held, apertures=(window(image="250 x 300 mm"),)), climate=STILL)


def test_a_budget_that_may_fail_is_a_note_and_one_that_is_likely_to_a_warning() -> None:
    """In still air blank and glazing are spent 0.5 + 0.5 mm: 1 at worst, √0.5 = 0.707… likely."""
    assert levels(clearance("1")) == {}
    assert levels(clearance("0.99")) == dict.fromkeys(("blank-budget", "glazing-budget"), Level.NOTE)
    assert levels(clearance("0.708")) == dict.fromkeys(("blank-budget", "glazing-budget"), Level.NOTE)
    assert levels(clearance("0.707")) == dict.fromkeys(("blank-budget", "glazing-budget"), Level.WARNING)


def test_a_small_overlap_is_told_with_the_one_that_mends_it() -> None:
    """The cut takes 0.5 and the placing 1 mm: √1.25 = 1.118 likely, so that 1 mm is too little and 2 mm are enough."""

    def ask(overlap: int) -> Piece:
        return piece(frame=frame("40x50 cm"), apertures=(window(image="250 x 300 mm", overlap=Fraction(overlap)),))

    short = made(ask(1), STILL)
    (finding,) = (f for f in short.findings if f.code == "edge-budget")
    assert (finding.level, finding.where) == (Level.WARNING, "Slipway")
    assert finding.text == (
        "the covered edge at the top has 1 mm of slack and is likely to be 0.1 mm short (matplan explain has the sum); "
        'overlap = "2 mm" mends it'
    )
    assert levels(made(ask(2), STILL)) == {}


def test_the_tightest_has_the_least_left_at_worst() -> None:
    solved = made()
    found = tightest(solved.budgets)
    assert found is not None
    assert (found.what, found.side) == (Bound.BLANK_BINDS, "height")
    assert tightest(()) is None


# --- laws ------------------------------------------------------------------------------------------------------------


AMOUNTS = st.fractions(min_value=0, max_value=20, max_denominator=1000)


@given(slack=st.fractions(min_value=-5, max_value=30, max_denominator=1000), spends=st.lists(AMOUNTS, max_size=6))
@settings(deadline=None)
def test_the_likely_case_lies_between_the_worst_and_the_slack(slack: Fraction, spends: list[Fraction]) -> None:
    """worst ≤ likely ≤ slack; what is short is told exactly; a further spend never leaves more."""
    budget = Budget(
        what=Bound.BLANK_BINDS,
        aperture="",
        side="width",
        slack=slack,
        spends=tuple(Spend("one", amount, Status.MEMORY) for amount in spends),
    )
    tiny = Fraction(1, 10**11)
    assert budget.worst - tiny <= budget.likely <= budget.slack
    assert budget.worst == slack - sum(spends)
    if abs(budget.likely) > tiny:
        assert budget.is_short == (budget.likely < 0)
    further = replace(budget, spends=(*budget.spends, Spend("further", Fraction(1), Status.MEMORY)))
    assert further.worst < budget.worst
    assert further.likely <= budget.likely + tiny


@given(ask=pieces(most=3), step=STEPS)
@relaxed
def test_slacks_are_the_piece_s_own(ask: Piece, step: Fraction) -> None:
    """The slack of a covered edge is its true overlap, of blank and glazing their play; no spend is below zero."""
    solved = solved_or_not(ask, step)
    play = Size(solved.frame.rabbet.width - solved.blank.width, solved.frame.rabbet.height - solved.blank.height)
    overlaps = {aperture.name: aperture.overlap for aperture in solved.apertures}
    for budget in solved.budgets:
        assert all(spend.amount >= 0 for spend in budget.spends)
        covered = overlaps.get(budget.aperture)
        if budget.what is not Bound.EDGE_SHOWS:
            assert budget.slack == getattr(play, budget.side)
        elif covered is not None:
            assert budget.slack == getattr(covered, budget.side)
    sides = [b.side for b in solved.budgets if b.what is Bound.EDGE_SHOWS]
    assert len(sides) >= 4 * sum(covered is not None for covered in overlaps.values())


@given(wider=st.integers(0, 30))
@settings(deadline=None, max_examples=20)
def test_a_wider_climate_never_leaves_more(wider: int) -> None:
    wide = Climate(
        temperature=(Fraction(15 - wider), Fraction(30 + wider)), humidity=(Fraction(35 - wider), Fraction(65 + wider))
    )
    for narrow, other in zip(made().budgets, made(climate=wide).budgets, strict=True):
        assert other.worst <= narrow.worst
