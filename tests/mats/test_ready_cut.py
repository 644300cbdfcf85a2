"""Ready-cut mats in a piece: the standard mat that suits, what it makes of frame and image, and what it is refused for.

The openings against frames and print sizes are common practice (ready-cut mats as sold), without one authority.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from matplan.catalogue import rows
from matplan.catalogue.records import Kind, ReadyCut
from matplan.job.records import AddedWeight, ApertureAsk, Cut, LayerAsk, MatSupply, Paper, Shape, Show
from matplan.lengths import Sides, Units
from matplan.mats.records import SolvedPiece
from matplan.mats.windows import Unsolvable
from matplan.orders.records import Item, OrderLine
from tests.making import RAG, WHITE, border, double_mat, frame, mm, photo, piece, planned, size, solved, window

EIGHTH = mm("1/8 in")
QUARTER = mm("1/4 in")

AS_SOLD = [
    # frame, print, opening (all inches): common practice
    ("8x10", "5x7", "4 1/2 x 6 1/2"),
    ("11x14", "8x10", "7 1/2 x 9 1/2"),
    ("16x20", "11x14", "10 1/2 x 13 1/2"),
    ("24x36", "20x30", "19 1/2 x 29 1/2"),
]


def ready(takes: str, ask: ApertureAsk, **changes: Any) -> SolvedPiece:
    """That window in a frame sold for that sheet, in an inch job unless said otherwise."""
    own = {"frame": frame(takes, clearance=EIGHTH, lip=QUARTER)} if takes else {}
    given: dict[str, Any] = {"units": Units.IN} | own
    return solved(apertures=(ask,), mat_supply=MatSupply.READY_CUT, **(given | changes))


def inch_window(image: str | None = None, **changes: Any) -> ApertureAsk:
    return window(image=image, **({"overlap": EIGHTH} | changes))


@pytest.mark.parametrize(("takes", "print_size", "opening"), AS_SOLD)
def test_a_print_gets_the_mat_that_is_sold_for_it(takes: str, print_size: str, opening: str) -> None:
    """Common practice: the opening is 1/2 in under the print's nominal size in all, so that 1/4 in of each side is
    covered.
    """
    made = ready(f"{takes} in", inch_window(f"{print_size} in"))
    (shown,) = made.apertures
    assert made.ready_cut is not None
    assert made.ready_cut.name == f"{takes} in for {print_size} in"
    assert shown.opening.size == size(f"{opening} in")
    assert shown.overlap == Sides.all(QUARTER)


def test_the_larger_opening_is_taken_where_the_print_still_reaches_under_it() -> None:
    """Common practice: some 20x24 in mats for 16x20 in prints are cut 15 3/4 x 19 3/4 in: 1/8 in is covered."""
    made = ready("20x24 in", inch_window("16x20 in"))
    assert made.apertures[0].opening.size == size("15 3/4 x 19 3/4 in")
    assert made.apertures[0].overlap == Sides.all(EIGHTH)
    more = ready(
        "20x24 in", inch_window("16x20 in", overlap=QUARTER)
    )  # asked for 1/4 in, only the smaller opening does
    assert more.apertures[0].opening.size == size("15 1/2 x 19 1/2 in")


def test_the_window_lies_in_the_middle_and_borders_follow() -> None:
    (shown,) = ready("11x14 in", inch_window("8x10 in")).apertures
    assert shown.cut == Sides(
        top=mm("2 1/4 in"), bottom=mm("2 1/4 in"), left=mm("1 3/4 in"), right=mm("1 3/4 in")
    )  # (14 − 9 1/2) / 2
    assert shown.visible.left == mm("1 9/16 in")  # 1 3/4 − (1/4 − 1/16) under the lip


def test_every_chain_closes_for_every_standard_mat() -> None:
    mats = [mat for mat in rows(Kind.READY_CUT) if isinstance(mat, ReadyCut)]
    openings = {turned.opening for mat in mats for turned in (mat, mat.turned)}
    for mat in mats:
        for turned in (mat, mat.turned):
            made = ready("", inch_window(), frame=replace(frame(), takes=turned.blank), units=Units.MM)
            (shown,) = made.apertures
            assert shown.opening.size in openings
            assert shown.cut.left + shown.opening.width + shown.cut.right == made.blank.width
            assert shown.cut.top + shown.opening.height + shown.cut.bottom == made.blank.height
            assert (shown.cut.left, shown.cut.top) == (shown.cut.right, shown.cut.bottom)
            assert shown.overlap == Sides.all(EIGHTH)
            assert all(told.tree.value == told.value for told in made.sums)


def test_a_turned_frame_takes_the_mat_turned() -> None:
    made = ready("10x8 in", inch_window("7x5 in"))
    assert made.apertures[0].opening.size == size("6 1/2 x 4 1/2 in")


def test_with_a_frame_alone_the_image_follows_from_the_window() -> None:
    made = ready("16x20 in", inch_window(aspect="3:4"))
    # of 10 1/2 × 13 1/2 and 11 1/2 × 15 1/2 with 1/8 more on each side, 11 3/4 : 15 3/4 = 0.746 is nearer to 3 : 4
    assert made.apertures[0].image.size == size("11 3/4 x 15 3/4 in")
    assert ready("16x20 in", inch_window(aspect="4:5")).apertures[0].image.size == size(
        "10 3/4 x 13 3/4 in"
    )  # 0.782 for 0.8


def test_a_photo_of_another_aspect_is_cropped_and_a_warning_says_so() -> None:
    made = ready("11x14 in", inch_window(photo=photo(3000, 4500)))
    assert made.apertures[0].image.size == size("7 3/4 x 9 3/4 in")
    (cropped,) = (finding for finding in made.findings if finding.code == "photo-cropped")
    assert cropped.text.startswith("16.1 % of the photo's height is cropped away")  # 1 − (9.75 / 7.75) / 1.5


def test_an_image_too_small_is_told_the_sizes_that_work() -> None:
    with pytest.raises(Unsolvable) as told:
        ready("16x20 in", inch_window("8x10 in"))
    assert told.value.where == "mat_supply"
    assert (
        "at least 10 3/4 × 13 3/4 in (16x20 in for 11x14 in) or 11 3/4 × 15 3/4 in (16x20 in for 12x16 in)"
        in told.value.text
    )
    assert "at most 16 × 20 in" in told.value.text


@pytest.mark.parametrize(
    ("smallest", "suits"),
    [("10 3/4 x 13 3/4 in", True), ("10 11/16 x 13 3/4 in", False), ("10 3/4 x 13 11/16 in", False)],
)
def test_the_smallest_size_told_is_the_smallest_that_works(smallest: str, suits: bool) -> None:
    if suits:
        assert ready("16x20 in", inch_window(smallest)).apertures[0].overlap == Sides.all(EIGHTH)
    else:
        with pytest.raises(Unsolvable):
            ready("16x20 in", inch_window(smallest))


@pytest.mark.parametrize(
    ("largest", "suits"), [("16x20 in", True), ("16 1/16 x 20 in", False), ("16 x 20 1/16 in", False)]
)
def test_an_image_behind_the_mat_is_no_larger_than_the_blank(largest: str, suits: bool) -> None:
    if suits:
        assert ready("16x20 in", inch_window(largest)).ready_cut is not None
    else:
        with pytest.raises(Unsolvable, match="at most 16 × 20 in"):
            ready("16x20 in", inch_window(largest))


def test_white_paper_round_the_image_leaves_at_least_the_reveal() -> None:
    ask = window(image="270x370 mm", show=Show.MARGIN, reveal=mm(10), paper=RAG)
    made = ready("40x50 cm", ask, frame=frame("40x50 cm"), units=Units.MM)
    assert made.ready_cut is not None
    assert made.ready_cut.name == "40x50 cm for 30x40 cm"  # 287 × 410 would leave 8.5 mm at the sides
    assert made.apertures[0].reveal == Sides.all(mm(10))  # (290 − 270) / 2, (390 − 370) / 2
    with pytest.raises(Unsolvable, match="at most 270 × 370 mm"):
        ready(
            "40x50 cm",
            window(image="271x370 mm", show=Show.MARGIN, reveal=mm(10), paper=RAG),
            frame=frame("40x50 cm"),
            units=Units.MM,
        )


def test_a_floated_sheet_lies_whole_in_the_window() -> None:
    paper = Paper(name="slip", size=size("270x370 mm"))
    made = ready(
        "40x50 cm",
        window(aspect="3:4", show=Show.SHEET, gap=mm(6), paper=paper),
        frame=frame("40x50 cm"),
        units=Units.MM,
    )
    assert made.apertures[0].gap == Sides.all(mm(10))  # (290 − 270) / 2
    cut = ready("40x50 cm", window(aspect="3:4", show=Show.SHEET, gap=mm(6)), frame=frame("40x50 cm"), units=Units.MM)
    assert cut.apertures[0].image.size == size("278x378 mm")  # 290 − 2 × 6, 390 − 2 × 6


def test_a_border_that_the_standard_mat_does_not_leave_is_refused() -> None:
    assert ready("11x14 in", inch_window("8x10 in"), border=border("1 1/2 in")).ready_cut is not None  # 1 9/16 in seen
    with pytest.raises(
        Unsolvable, match=r"right by 1/4 in, left by 1/4 in"
    ):  # 1 3/4 + 3/16 = 1 15/16, up from 1 3/4; top has 2 1/4
        ready("11x14 in", inch_window("8x10 in"), border=border("1 13/16 in"))


def test_a_frame_of_no_standard_size_has_no_ready_cut_mat() -> None:
    with pytest.raises(Unsolvable, match="no ready-cut mat for a blank of 15 × 20 in"):
        ready("15x20 in", inch_window("11x14 in"))


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"mat": double_mat()}, "2 boards"),
        ({"mat": ()}, "no board"),
        ({"mat": (LayerAsk(board=WHITE, reveal=Fraction(0), cut=Cut.REVERSE),)}, "a reverse cut"),
        ({"frame": frame()}, "a frame without a size"),
        ({"weight": AddedWeight(extra=mm(12))}, "a weight"),
        ({"apertures": (inch_window("8x10 in", shape=Shape.OVAL),)}, "the shape oval"),
        ({"apertures": (inch_window("8x10 in"), inch_window("8x10 in", name="Gull")), "rows": ((0, 1),)}, "2 windows"),
    ],
)
def test_what_no_ready_cut_mat_is_sold_with_is_refused(changes: dict[str, Any], said: str) -> None:
    given: dict[str, Any] = {"frame": frame("11x14 in"), "apertures": (inch_window("8x10 in"),)} | changes
    with pytest.raises(Unsolvable, match=f"got {said}"):
        solved(units=Units.IN, mat_supply=MatSupply.READY_CUT, **given)


def test_the_order_names_the_mat_of_the_tables() -> None:
    plan = planned(
        piece(frame=frame("11x14 in"), apertures=(inch_window("8x10 in"),), mat_supply=MatSupply.READY_CUT, quantity=3),
        units=Units.IN,
    )
    lines = [line for line in plan.order if line.item in (Item.MAT, Item.READY_CUT)]
    assert lines == [
        OrderLine(
            item=Item.READY_CUT,
            material="11x14 in for 8x10 in",
            size=size("11x14 in"),
            openings=(plan.pieces[0].apertures[0].opening,),
            quantity=3,
            pieces=("Slipway",),
            note="white, bevel cut, for a print of 8x10 in",
        )
    ]


def test_a_derived_mat_is_ordered_with_a_question() -> None:
    plan = planned(
        piece(frame=frame("40x50 cm"), apertures=(window(image="300x400 mm"),), mat_supply=MatSupply.READY_CUT)
    )
    (line,) = (line for line in plan.order if line.item is Item.READY_CUT)
    assert line.note.endswith("ask whether it is stocked")
