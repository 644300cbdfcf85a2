"""Equal borders where the blank's steps do not halve: the odd side is known, or the opening moves by a step."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given

from matplan.job.records import Piece, Shape, Show
from matplan.lengths import Printer, Step, Units
from matplan.mats.solve import solve
from tests.laws.strategies import STEPS, pieces
from tests.laws.test_laws_of_a_piece import relaxed, solved_or_not
from tests.making import frame, mm, size, solved, window

MM = Printer(Units.MM, Step.usual(Units.MM))
FRAME = frame("40x50 cm")


def test_the_side_that_takes_the_odd_step_is_known() -> None:
    """400 − 245 = 155 = 77 + 78; 500 − 294 = 206 = 103 + 103."""
    made = solved(frame=FRAME, apertures=(window(image="251x300 mm"),))
    assert made.odd_sides == ("right",)
    assert made.apertures[0].cut.right - made.apertures[0].cut.left == 1
    assert solved(frame=FRAME, apertures=(window(image="251x301 mm"),)).odd_sides == ("right", "bottom")


def test_a_weight_asks_for_no_equal_borders_above_and_below() -> None:
    from matplan.job.records import AddedWeight

    made = solved(frame=FRAME, apertures=(window(image="250x301 mm"),), weight=AddedWeight(extra=mm(10)))
    assert made.odd_sides == ()


def test_a_covering_opening_becomes_smaller_by_a_step() -> None:
    """245 covers 251 by 3 on each side; 244 by 3.5, and 400 − 244 = 156 is 78 on each side."""
    made = solved(frame=FRAME, apertures=(window(image="251x300 mm"),), even=True)
    (shown,) = made.apertures
    assert made.odd_sides == ()
    assert shown.cut.left == shown.cut.right == 78
    assert shown.opening.width == 244
    assert shown.overlap is not None
    assert shown.overlap.left == shown.overlap.right == Fraction("3.5")
    told = [one.in_words(MM) for one in made.sums if one.what == "opening width"]
    assert told[-1] == "opening width 244 mm = opening 245 − a step for equal borders 1"


@pytest.mark.parametrize(("show", "width"), [(Show.MARGIN, 272), (Show.SHEET, 264)])
def test_an_opening_round_a_work_becomes_larger_by_a_step(show: Show, width: int) -> None:
    """251 + 2 × 10 = 271 and 251 + 2 × 6 = 263 leave odd rooms of 400: one step more gives no less reveal or gap."""
    made = solved(frame=FRAME, apertures=(window(image="251x300 mm", show=show),), even=True)
    assert made.apertures[0].opening.width == width
    assert made.odd_sides == ()


def test_nothing_moves_where_the_borders_are_equal() -> None:
    asked: dict[str, Any] = {"frame": FRAME, "apertures": (window(image="250x300 mm"),)}
    assert solved(**asked, even=True) == replace(solved(**asked), ask=solved(**asked, even=True).ask)


def test_a_circle_moves_only_where_both_axes_would() -> None:
    """A circle of 245 in 400 × 501: the width would need half a step, the height not; in 400 × 500 both would."""
    asked: dict[str, Any] = {"apertures": (window(image="251x251 mm", shape=Shape.CIRCLE),), "even": True}
    assert solved(frame=frame("400x501 mm"), **asked).odd_sides == ("right",)
    made = solved(frame=FRAME, **asked)
    assert made.odd_sides == ()
    assert made.apertures[0].opening.size == size("244x244 mm")


def test_one_window_moves_in_each_of_the_widest_rows() -> None:
    """Two rows of 100 + 20 + 121 = 241 in 400: the last of each becomes 120; 2 × 121 + 20 = 262 in 500 is even."""
    row = (window("a", image="106x127 mm"), window("b", image="127x127 mm"))
    other = (window("c", image="106x127 mm"), window("d", image="127x127 mm"))
    made = solved(frame=FRAME, apertures=(*row, *other), rows=((0, 1), (2, 3)), gutter=mm(20), even=True)
    assert [shown.opening.width for shown in made.apertures] == [100, 120, 100, 120]
    assert made.odd_sides == ()


@given(ask=pieces(), step=STEPS)
@relaxed
def test_a_covering_window_alone_always_gets_equal_borders(ask: Piece, step: Fraction) -> None:
    """A step less of opening leaves more border, so that nothing stands in its way."""
    ask = replace(ask, even=True, apertures=(replace(ask.apertures[0], show=Show.IMAGE),))
    still = solved_or_not(replace(ask, even=False), step)
    made = solve(ask, printer=Printer(Units.MM, Step(step)))
    assert made.odd_sides == ()
    assert made.blank == still.blank
    assert still.apertures[0].opening.width - made.apertures[0].opening.width in (0, step)
