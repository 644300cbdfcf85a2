"""An opening in the image's place: the print follows from it, and a mat that is there already keeps what it has."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import assume, given

from matplan.job.records import AddedWeight, ApertureAsk, Cut, LayerAsk, MatSupply, Piece, Shape, Show
from matplan.job.records.sides import FourSides
from matplan.lengths import Printer, Size, Step, Units
from matplan.mats.records import SolvedPiece
from matplan.mats.solve import solve
from matplan.mats.windows import Unsolvable
from tests.laws.strategies import STEPS, pieces, sizes
from tests.laws.test_laws_of_a_piece import relaxed, solved_or_not
from tests.making import RAG, WHITE, border, frame, mm, photo, size, solved, window

FRAME = frame("40x50 cm")
CUT_HERE = MatSupply.SHEETS


def given_(opening: str, **changes: Any) -> ApertureAsk:
    return window(opening=size(opening), **changes)


def codes(made: SolvedPiece) -> set[str]:
    return {finding.code for finding in made.findings}


@pytest.mark.parametrize(
    ("show", "image"), [(Show.IMAGE, "206x296 mm"), (Show.MARGIN, "180x270 mm"), (Show.SHEET, "188x278 mm")]
)
def test_the_print_follows_from_the_opening(show: Show, image: str) -> None:
    """200 × 290: covered by 3 on each side, with 10 of white round it, or afloat with 6 round it."""
    made = solved(frame=FRAME, apertures=(given_("200x290 mm", show=show),))
    (shown,) = made.apertures
    assert shown.opening.size == size("200x290 mm")
    assert shown.image.size == size(image)
    assert shown.cut.left == 100


def test_the_photo_is_cropped_to_what_comes_out() -> None:
    made = solved(frame=FRAME, apertures=(given_("194x194 mm", photo=photo(3000, 2000)),))
    (shown,) = made.apertures
    assert shown.image.size == size("200x200 mm")
    assert shown.crop is not None
    assert shown.crop.width == Fraction(2, 3)


def test_an_opening_and_borders_make_the_blank() -> None:
    made = solved(border=border("60 mm"), apertures=(given_("200x290 mm"),))
    assert made.blank == size("330x420 mm")  # 65 + 200 + 65: 60 seen and 4.5 under the lip, up to 65
    assert made.apertures[0].image.size == size("206x296 mm")


def test_frame_opening_and_border_are_checked() -> None:
    with pytest.raises(Unsolvable, match=r"frame, image and border do not go together"):
        solved(frame=FRAME, border=border("90 mm"), apertures=(given_("300x290 mm"),))


def test_an_opening_off_the_step_is_taken_as_measured() -> None:
    made = solved(frame=FRAME, apertures=(given_("190.5 x 280.25 mm"),))
    (shown,) = made.apertures
    assert shown.opening.size == size("190.5 x 280.25 mm")
    assert shown.image.width == mm("196.5 mm")
    assert (shown.cut.left, shown.cut.right) == (mm(104), mm("105.5"))  # (400 − 190.5) ÷ 2 = 104.75, down; the rest
    assert "opening-to-step" not in codes(made)


def test_a_mat_that_is_cut_here_is_cut_on_steps_and_says_so() -> None:
    made = solved(frame=FRAME, apertures=(given_("190.5 x 280 mm"),), mat_supply=CUT_HERE)
    (shown,) = made.apertures
    assert shown.opening.size == size("190x280 mm")
    assert shown.image.width == 196
    (found,) = [finding for finding in made.findings if finding.code == "opening-to-step"]
    assert found.text == "the opening of 190.5 × 280 mm is cut on steps of 1 mm: 190 × 280 mm are seen"
    assert "opening-to-step" not in codes(solved(frame=FRAME, apertures=(given_("190x280 mm"),), mat_supply=CUT_HERE))


def test_behind_a_reverse_cut_the_opening_is_the_face() -> None:
    """The eye sees 190, the back is 190 + 2 × 1.4 = 192.8; cut here 192, of which 189.2 are seen."""
    mat = (LayerAsk(board=WHITE, reveal=mm(0), cut=Cut.REVERSE),)
    made = solved(frame=FRAME, apertures=(given_("190x280 mm"),), mat=mat)
    assert made.apertures[0].opening.width == mm("192.8")
    assert made.apertures[0].seen.box.size == size("190x280 mm")
    assert made.apertures[0].image.width == 196
    here = solved(frame=FRAME, apertures=(given_("190x280 mm"),), mat=mat, mat_supply=CUT_HERE)
    assert here.apertures[0].opening.width == 192
    assert here.apertures[0].image.width == mm("195.2")
    assert "opening-to-step" in codes(here)


def test_a_floated_work_is_cut_to_what_the_opening_leaves() -> None:
    made = solved(frame=FRAME, apertures=(given_("200x290 mm", show=Show.SHEET, paper=RAG),))
    (shown,) = made.apertures
    assert shown.work.box.size == shown.image.size == size("188x278 mm")
    assert shown.print is not None
    assert shown.print.margins.left == mm("70.5")  # (329 − 188) ÷ 2
    assert "trim-to-work" in codes(made)


def test_a_reveal_as_wide_as_the_opening_is_refused() -> None:
    with pytest.raises(Unsolvable, match="the reveal leaves nothing of the rectangle, or only parts of it; use a "):
        solved(frame=FRAME, apertures=(given_("20x290 mm", show=Show.MARGIN),))


def test_given_openings_stand_in_rows() -> None:
    two = (given_("100x150 mm", name="a"), given_("80x150 mm", name="b", shape=Shape.OVAL))
    made = solved(frame=FRAME, apertures=two, rows=((0, 1),), gutter=mm(20))
    assert [shown.opening.width for shown in made.apertures] == [100, 80]
    assert made.apertures[0].cut.left == 100  # (400 − 200) ÷ 2


@given(ask=pieces(most=3), step=STEPS, opening=sizes(40, 200))
@relaxed
def test_a_given_opening_is_what_the_eye_sees_and_its_sums_close(ask: Piece, step: Fraction, opening: Size) -> None:
    asks = tuple(replace(window, image=None, opening=opening, paper=None) for window in ask.apertures)
    made = solved_or_not(replace(ask, apertures=asks, justify=False), step)
    for shown in made.apertures:
        assert shown.seen.box.size == opening
        assert shown.cut.left + shown.opening.width + shown.cut.right == made.blank.width
        edges = shown.overlap or shown.reveal or shown.gap
        asked = {Show.IMAGE: shown.ask.overlap, Show.MARGIN: shown.ask.reveal, Show.SHEET: shown.ask.gap}[shown.show]
        assert edges is not None
        assert {edges.left, edges.right, edges.top, edges.bottom} == {asked}
    assert all(one.tree.value == one.value for one in made.sums)


@given(ask=pieces(), step=STEPS)
@relaxed
def test_the_opening_that_an_image_asks_for_gives_the_same_piece(ask: Piece, step: Fraction) -> None:
    """What is seen of a solved piece, given as its opening, is the same mat."""
    first = solved_or_not(replace(ask, even=False), step)
    (shown,) = first.apertures
    assume(shown.ask.paper is None)
    again = replace(shown.ask, image=None, opening=shown.seen.box.size)
    frame_ = replace(ask.frame, takes=None, rabbet=first.frame.rabbet)
    made = solve(replace(first.ask, apertures=(again,), frame=frame_), printer=Printer(Units.MM, Step(step)))
    assert made.apertures[0].opening == shown.opening
    assert [layer.openings for layer in made.layers] == [layer.openings for layer in first.layers]


# --- a mat that is there already -------------------------------------------------------------------------------------


def own(opening: str = "190x280 mm", **changes: Any) -> SolvedPiece:
    asked: dict[str, Any] = {"frame": FRAME, "apertures": (given_(opening),), "mat_supply": MatSupply.OWN}
    return solved(**(asked | changes))


def test_a_mat_that_is_there_has_its_opening_in_the_middle() -> None:
    (shown,) = own("191x281 mm").apertures
    assert shown.cut.left == shown.cut.right == mm("104.5")
    assert shown.cut.top == shown.cut.bottom == mm("109.5")
    assert own("191x281 mm").comes_cut


def test_or_where_its_weight_puts_it() -> None:
    (shown,) = own(weight=AddedWeight(extra=mm(15))).apertures
    assert shown.cut.top == mm("102.5")  # (500 − 280 − 15) ÷ 2
    assert shown.cut.bottom == mm("117.5")


def test_or_where_its_border_was_measured() -> None:
    """A visible border of 97.5 on the right lies 102 from the blank's edge; left 400 − 190 − 102."""
    (shown,) = own(measured=FourSides(right=mm("97.5"), top=mm("90.5"))).apertures
    assert shown.visible.right == mm("97.5")
    assert shown.cut.left == 108
    assert shown.visible.top == mm("90.5")
    assert shown.cut.bottom == 125  # 500 − 280 − 95


def test_borders_that_do_not_make_the_blank_are_refused_by_how_much() -> None:
    with pytest.raises(Unsolvable) as fault:
        own(measured=FourSides(left=mm("100.5"), right=mm("97.5")))
    assert fault.value.where == "border.right"
    assert "right 100.5 mm would be right, got 97.5 mm" in fault.value.text
    own(measured=FourSides(left=mm("100.5"), right=mm("100.1")))  # within a step: the first side holds


def test_it_lies_in_the_stack_but_is_neither_ordered_nor_cut() -> None:
    from matplan.orders.lines import own_lines
    from matplan.orders.records import Item

    made = own()
    assert "mat" in {part.part for part in made.stack.parts}
    assert Item.MAT not in {line.item for line in own_lines([made])}


HEAD = """
[[piece]]
name = "Gull"
frame = "40x50 cm"
"""


def test_the_keys_are_read(tmp_path: Any) -> None:
    from matplan.job import parse_job

    text = HEAD + 'opening = "190 x 280 mm"\nmat_supply = "own"\nborder = { left = "100 mm", top = "90 mm" }\n'
    (read,) = parse_job(text, tmp_path).pieces
    assert read.apertures[0].opening == size("190x280 mm")
    assert read.mat_supply is MatSupply.OWN
    assert read.border is None
    assert read.measured == FourSides(left=mm(100), top=mm(90))


def test_a_windows_own_opening_stands_before_its_pieces_image(tmp_path: Any) -> None:
    from matplan.job import parse_job

    windows = '[[piece.aperture]]\nname = "a"\nopening = "90 x 90 mm"\n[[piece.aperture]]\nname = "b"\n'
    (read,) = parse_job(HEAD + 'image = "100 x 100 mm"\n' + windows, tmp_path).pieces
    assert (read.apertures[0].image, read.apertures[0].opening) == (None, size("90x90 mm"))
    assert read.apertures[1].image is not None
