"""What a cut's kind changes: how far the blade runs past a corner, and to where the eye measures."""

from __future__ import annotations

from fractions import Fraction

import pytest

from matplan.job.records import Cut, LayerAsk, Show
from matplan.lengths import Printer, Step, Units
from matplan.mats.gauge import GaugeCut, gauge_cuts
from matplan.mats.records import SolvedPiece
from matplan.mats.solve import solve
from tests.making import WHITE, border, frame, mm, piece, solved, window


@pytest.mark.parametrize(("cut", "over"), [(Cut.BEVEL, "2.4"), (Cut.STRAIGHT, "1"), (Cut.REVERSE, "1")])
def test_only_a_bevel_is_cut_past_its_corners_by_the_boards_thickness(cut: Cut, over: str) -> None:
    """1.4 mm of board and 1 mm of setback; a straight or reverse cut is through at the corner (derived)."""
    asked = piece(frame=frame("40x50 cm"), apertures=(window(image="250x300 mm"),), mat=(one_board(cut),))
    made = solve(asked, printer=Printer(Units.MM, Step.usual(Units.MM)), setback=mm(1))
    assert made.layers[0].overcut == mm(over)
    assert all(cut.near == cut_start(made, cut) for cut in gauge_cuts(made.layers[0], made.blank, ((0,),)))


def cut_start(made: SolvedPiece, cut: GaugeCut) -> Fraction:
    """Where the blade enters: the neighbouring border less the over-cut, from the edge behind the blade."""
    insets = made.apertures[0].cut
    behind = {"left": insets.top, "right": insets.bottom, "top": insets.left, "bottom": insets.right}
    return behind[cut.edge.framed] - made.layers[0].overcut


def one_board(cut: Cut) -> LayerAsk:
    return LayerAsk(board=WHITE, reveal=mm(0), cut=cut)


def test_behind_a_reverse_cut_the_eye_measures_to_the_face() -> None:
    """Overlap 3 on each side of 250: the eye sees 244, the back is 2 × 1.4 larger, 246.8, down to 246."""
    made = solved(frame=frame("40x50 cm"), apertures=(window(image="250x300 mm"),), mat=(one_board(Cut.REVERSE),))
    (shown,) = made.apertures
    assert shown.opening.width == 246
    assert shown.seen.box.width == mm("243.2")
    assert shown.overlap is not None
    assert shown.overlap.left == mm("3.4")  # (250 − 243.2) ÷ 2
    assert shown.cut.left == 77  # (400 − 246) ÷ 2
    assert shown.visible.left == mm("73.9")  # 77 + 1.4 − 4.5 under the lip


@pytest.mark.parametrize(("show", "back"), [("margin", 273), ("sheet", 265)])
def test_reveal_and_gap_count_from_a_reverse_cuts_face(show: str, back: int) -> None:
    """250 + 2 × 10.1 + 2 × 1.4 = 273; the sheet 250 + 2 × 6 + 2 × 1.4 = 264.8, up."""
    asked = window(image="250x300 mm", show=Show(show), reveal=mm("10.1"))
    made = solved(frame=frame("40x50 cm"), apertures=(asked,), mat=(one_board(Cut.REVERSE),))
    assert made.apertures[0].opening.width == back


def test_a_border_that_is_asked_for_is_seen_in_front_of_a_reverse_cut() -> None:
    """60 seen: 60 + 4.5 under the lip − 1.4 = 63.1, up to 64 at the back."""
    made = solved(border=border("60 mm"), apertures=(window(image="250x300 mm"),), mat=(one_board(Cut.REVERSE),))
    assert made.apertures[0].cut.left == 64
    assert made.apertures[0].visible.left == mm("60.9")
