"""The three pairs of frame, image and border, and everything that hangs on them, with the sum beside each expected
number.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from matplan.job.records import AddedWeight, BorderAt, BorderTo, Cut, LayerAsk, OpticalWeight, RatioWeight, Show
from matplan.lengths import Box, Sides, Size
from matplan.mats.records import Finding, SolvedPiece
from matplan.mats.windows import Unsolvable
from tests.making import CHARCOAL, RAG, WHITE, border, double_mat, frame, mm, photo, size, solved, window


def sides(top: object, right: object, bottom: object, left: object) -> Sides:
    return Sides(top=mm(top), right=mm(right), bottom=mm(bottom), left=mm(left))


# --- frame and blank -------------------------------------------------------------------------------------------------


def test_a_ready_made_frame_takes_its_sheet_as_the_blank() -> None:
    made = solved(frame=frame("40x50 cm"), apertures=(window(image="250x300 mm"),))
    assert made.blank == size("400x500 mm")
    assert made.frame.rabbet == size("403x503 mm")  # takes + clearance 3
    assert made.frame.sight == size("391x491 mm")  # rabbet − 2 × lip 6
    assert made.frame.outer == size("431x531 mm")  # sight + 2 × rail 20
    assert made.frame.long_edges == size("431x531 mm")  # rabbet + 2 × (rail 20 − lip 6)
    assert made.hidden == size("4.5x4.5 mm")  # lip 6 − (403 − 400) / 2


def test_a_measured_rabbet_loses_its_clearance() -> None:
    made = solved(frame=frame(rabbet="403.6 x 503.2 mm"), apertures=(window(image="250x300 mm"),))
    assert made.blank == size("400x500 mm")  # 400.6 and 500.2, down to a step
    assert made.hidden == Size(Fraction("4.2"), Fraction("4.4"))  # 6 − 3.6/2, 6 − 3.2/2


def test_a_ready_made_frame_off_the_step_gives_a_blank_down_to_one() -> None:
    made = solved(frame=frame("16x20 in"), apertures=(window(image="250x300 mm"),))
    assert made.blank == size("406x508 mm")
    assert made.frame.rabbet == size("409.4x511 mm")


def test_without_a_rail_nobody_knows_the_outside() -> None:
    made = solved(frame=frame("40x50 cm", rail=None), apertures=(window(image="250x300 mm"),))
    assert made.frame.outer is None
    assert made.frame.long_edges is None


# --- frame + image ---------------------------------------------------------------------------------------------------


def test_frame_and_image_centre_the_opening_the_odd_step_right_and_below() -> None:
    made = solved(frame=frame("40x50 cm"), apertures=(window(image="251x301 mm"),))
    (shown,) = made.apertures
    assert shown.opening == Box(
        mm(77), mm(102), mm(245), mm(295)
    )  # 251 − 6; (400 − 245)/2 = 77.5 down; (500 − 295)/2 = 102.5 down
    assert shown.cut == sides(102, 78, 103, 77)
    assert shown.visible == sides("97.5", "73.5", "98.5", "72.5")  # cut − 4.5
    assert shown.overlap == sides(3, 3, 3, 3)


def test_an_image_off_the_step_reports_its_true_overlap() -> None:
    made = solved(frame=frame("40x50 cm"), apertures=(window(image="250 mm wide", aspect="3:2"),))
    (shown,) = made.apertures
    assert shown.opening.size == size("244x160 mm")  # 166.667 − 6 = 160.667 down
    assert shown.overlap == Sides(
        top=Fraction(10, 3), bottom=Fraction(10, 3), left=mm(3), right=mm(3)
    )  # (166.667 − 160) / 2


def test_weight_as_a_length_lowers_the_top() -> None:
    made = solved(frame=frame("40x50 cm"), weight=AddedWeight(extra=mm(12)), apertures=(window(image="256x306 mm"),))
    cut = made.apertures[0].cut
    assert (cut.top, cut.bottom) == (mm(94), mm(106))  # L = 200; (200 − 12)/2


def test_weight_as_a_ratio_speaks_of_visible_borders() -> None:
    made = solved(
        frame=frame("40x50 cm"), weight=RatioWeight(ratio=Fraction(6, 5)), apertures=(window(image="256x306 mm"),)
    )
    shown = made.apertures[0]
    assert shown.cut.top == mm(91)  # (200 − 9)/2.2 + 4.5 = 91.318 down
    assert shown.visible.bottom == Fraction("104.5")


def test_weight_of_cut_borders_leaves_the_strip_out() -> None:
    made = solved(
        frame=frame("40x50 cm"),
        weight=RatioWeight(ratio=Fraction(6, 5)),
        border_at=BorderAt.CUT,
        apertures=(window(image="256x306 mm"),),
    )
    shown = made.apertures[0]
    assert shown.cut.top == mm(90)  # 200/2.2 = 90.909 down
    assert shown.visible.top == Fraction("85.5")  # what is reported is always cut − strip


def test_optical_weight_measures_on_the_sight() -> None:
    made = solved(frame=frame("40x50 cm"), weight=OpticalWeight(), apertures=(window(image="256x306 mm"),))
    # sight 391 × 491, opening 250 × 300: (491 − 300)(391 + 250)/(4 × 391) + 4.5 = 82.78 down
    assert made.apertures[0].cut.top == mm(82)


def test_a_margin_shows_white_paper_round_the_image() -> None:
    made = solved(
        frame=frame("40x50 cm"), apertures=(window(image="200.5 x 150 mm", show=Show.MARGIN, reveal=mm(10), paper=RAG),)
    )
    (shown,) = made.apertures
    assert shown.opening.size == size("220x170 mm")  # 200.5 + 20 = 220.5 down
    assert shown.reveal == sides(10, "9.75", 10, "9.75")
    assert shown.overlap is None
    assert shown.gap is None


def test_a_floated_sheet_shows_its_whole_paper() -> None:
    made = solved(
        frame=frame("50x70 cm"), apertures=(window(image="200x300 mm", show=Show.SHEET, gap=mm("6.3"), paper=RAG),)
    )
    (shown,) = made.apertures
    assert shown.opening.size == size("342x496 mm")  # 329 + 12.6 = 341.6 up; 483 + 12.6 = 495.6 up
    assert shown.gap == sides("6.5", "6.5", "6.5", "6.5")


def test_a_floated_work_without_paper_is_a_sheet_cut_to_the_image() -> None:
    made = solved(frame=frame("50x70 cm"), apertures=(window(image="200x300 mm", show=Show.SHEET, gap=mm(6)),))
    (shown,) = made.apertures
    assert shown.opening.size == size("212x312 mm")
    assert shown.print is not None
    assert shown.print.size == size("200x300 mm")


# --- frame + border --------------------------------------------------------------------------------------------------


def test_frame_and_border_give_the_largest_image() -> None:
    made = solved(frame=frame("40x50 cm"), border=border("60 mm"), apertures=(window(aspect="2:3"),))
    (shown,) = made.apertures
    # least cut border 60 + 4.5 = 64.5 up = 65; A = 270 × 370; the image is ≤ 276 × 376: 376 high, 250.667 wide
    assert shown.image.size == Size(Fraction(752, 3), mm(376))
    assert shown.opening.size == size("244x370 mm")  # 250.667 − 6 = 244.667 down
    assert shown.cut == sides(65, 78, 65, 78)


def test_what_is_left_over_is_shared_with_the_weight_kept() -> None:
    made = solved(
        frame=frame("40x50 cm"),
        border=border("60 mm"),
        weight=AddedWeight(extra=mm(12)),
        apertures=(window(aspect="3:2"),),
    )
    # A: 270 × (500 − 65 − 77 = 358); image 276 wide, 184 high; opening 270 × 178; L = 322; top (322 − 12)/2 = 155
    cut = made.apertures[0].cut
    assert cut == sides(155, 65, 167, 65)


def test_sides_named_one_by_one_share_what_is_left_over_by_halves() -> None:
    made = solved(
        frame=frame("40x50 cm"),
        border=border(top="50 mm", right="60 mm", bottom="90 mm", left="70 mm"),
        apertures=(window(aspect="1:1"),),
    )
    # least cut 55, 65, 95, 75; A = 260 × 350; image 266 square; opening 260; down: 350 − 260 = 90 over, 45 to each side
    assert made.apertures[0].cut == sides(100, 65, 140, 75)


def test_the_odd_step_goes_below_and_right() -> None:
    made = solved(
        frame=frame("40x50 cm"),
        border=border(top="50 mm", right="60 mm", bottom="91 mm", left="70 mm"),
        apertures=(window(aspect="1:1"),),
    )
    assert made.apertures[0].cut == sides(99, 65, 141, 75)  # 89 over: 44 above, 45 below


def test_borders_to_the_front_layer_count_its_opening() -> None:
    made = solved(
        frame=frame("40x50 cm"),
        border=border("60 mm"),
        border_to=BorderTo.FRONT_LAYER,
        mat=double_mat(),
        apertures=(window(aspect="2:3"),),
    )
    front, back = (layer.openings[0].back.box for layer in made.layers)
    assert front.height == mm(370)  # blank 500 − 2 × 65
    assert back == front.grown(-mm(6))
    assert made.apertures[0].opening == back


def test_optical_weight_keeps_the_least_borders() -> None:
    made = solved(
        frame=frame("40x50 cm"), border=border("60 mm"), weight=OpticalWeight(), apertures=(window(aspect="2:3"),)
    )
    assert made.apertures[0].cut.least >= mm(65)


# --- image + border --------------------------------------------------------------------------------------------------


def test_image_and_border_make_the_blank_and_the_rabbet() -> None:
    made = solved(border=border("60 mm"), weight=AddedWeight(extra=mm(12)), apertures=(window(image="206x306 mm"),))
    # strip 6 − 3/2 = 4.5; cut 64.5 up = 65, bottom 76.5 up = 77; blank 200 + 130, 300 + 65 + 77
    assert made.blank == size("330x442 mm")
    assert made.frame.rabbet == size("333x445 mm")
    assert made.apertures[0].cut == sides(65, 65, 77, 65)
    assert made.apertures[0].visible == sides("60.5", "60.5", "72.5", "60.5")


def test_optical_weight_on_a_blank_made_to_measure() -> None:
    made = solved(border=border("60 mm"), weight=OpticalWeight(), apertures=(window(image="206x306 mm"),))
    # sight width 200 + 120 = 320; bottom 60 × (3 × 320 − 200)/(320 + 200) = 87.69 + 4.5 = 92.19 up
    assert made.apertures[0].cut == sides(65, 65, 93, 65)


# --- all three -------------------------------------------------------------------------------------------------------


def test_all_three_that_agree_are_solved() -> None:
    made = solved(frame=frame("40x50 cm"), border=border("60 mm"), apertures=(window(image="256x306 mm"),))
    assert made.apertures[0].cut == sides(100, 75, 100, 75)


def test_all_three_that_do_not_agree_say_by_how_much() -> None:
    with pytest.raises(Unsolvable, match=r"width by 10 mm and in height by 30 mm"):
        solved(frame=frame("40x50 cm"), border=border("60 mm"), apertures=(window(image="286x406 mm"),))
    # opening 280 × 400 and twice 65: 410 of 400, 530 of 500


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"frame": frame("40x50 cm")}, "add an image or a border"),
        ({"border": border("60 mm"), "apertures": (window(aspect="3:2"),)}, "add another"),
        ({"apertures": (window(image="200x300 mm"),)}, "add another"),
        (
            {"frame": frame("40x50 cm"), "apertures": (window(image="392x300 mm", overlap=mm(0)),)},
            "left by 0.5 mm, right by 0.5 mm",
        ),
        ({"frame": frame("40x50 cm"), "apertures": (window(image="500x300 mm"),)}, "reaches under the lip"),
        (
            {"frame": frame("40x50 cm"), "border": border("200 mm"), "apertures": (window(aspect="3:2"),)},
            "leave no opening",
        ),
        ({"frame": frame("40x50 cm"), "border": border("60 mm"), "apertures": (window(),)}, "no aspect is known"),
        ({"frame": frame("40x50 cm"), "apertures": (window(image="5x5 mm"),)}, "covers the whole image"),
        ({"frame": frame(rabbet="2x2 mm"), "apertures": (window(image="5x5 mm"),)}, "leaves no blank"),
    ],
)
def test_what_cannot_be_solved_says_why(changes: dict[str, Any], says: str) -> None:
    with pytest.raises(Unsolvable, match=says):
        solved(**changes)


# --- layers ----------------------------------------------------------------------------------------------------------


def test_each_layer_in_front_is_larger_by_the_reveals_behind_it() -> None:
    mat = (
        LayerAsk(board=WHITE, reveal=mm(0)),
        LayerAsk(board=CHARCOAL, reveal=mm("6.5 mm")),
        LayerAsk(board=WHITE, reveal=mm("3.2 mm")),
    )
    made = solved(frame=frame("40x50 cm"), mat=mat, apertures=(window(image="206x306 mm"),))
    backs = [layer.openings[0].back.box for layer in made.layers]
    assert backs[2] == made.apertures[0].opening
    assert backs[1] == backs[2].grown(mm(3))  # 3.2 to the nearest step
    assert backs[0] == backs[1].grown(mm(7))  # 6.5, ties up


@pytest.mark.parametrize(("cut", "grows"), [(Cut.BEVEL, "1.4"), (Cut.STRAIGHT, "0"), (Cut.REVERSE, "-1.4")])
def test_the_face_follows_the_cut(cut: Cut, grows: str) -> None:
    made = solved(
        frame=frame("40x50 cm"),
        mat=(LayerAsk(board=WHITE, reveal=mm(0), cut=cut),),
        apertures=(window(image="206x306 mm"),),
    )
    opening = made.layers[0].openings[0]
    assert opening.face.box == opening.back.box.grown(Fraction(grows))


def test_a_reverse_bevel_that_closes_the_opening_is_refused() -> None:
    with pytest.raises(Unsolvable, match="reverse bevel"):
        solved(
            frame=frame("40x50 cm"),
            mat=(LayerAsk(board=WHITE, reveal=mm(0), cut=Cut.REVERSE),),
            apertures=(window(image="6.1x6.1 mm"),),
        )


def test_openings_of_the_front_layer_that_meet_are_refused() -> None:
    two: dict[str, Any] = {
        "apertures": (window("a", image="100x100 mm"), window("b", image="100x100 mm")),
        "rows": ((0, 1),),
    }
    with pytest.raises(Unsolvable, match=r"openings of layer 1 run into one another by 2 mm"):
        solved(frame=frame("40x50 cm"), gutter=mm(10), mat=double_mat("6 mm"), **two)
    assert solved(frame=frame("40x50 cm"), gutter=mm(20), mat=double_mat("6 mm"), **two).web == Fraction(
        "5.2"
    )  # 20 − 12 − 2 × 1.4


def test_the_over_cut_is_the_boards_thickness_and_the_cutters_setback() -> None:
    from matplan.lengths import Printer, Step, Units
    from matplan.mats.solve import solve
    from tests.making import piece

    ask = piece(frame=frame("40x50 cm"), apertures=(window(image="206x306 mm"),))
    made = solve(ask, printer=Printer(Units.MM, Step(Fraction(1))), setback=mm(3))
    assert made.layers[0].overcut == Fraction("4.4")


# --- no mat ----------------------------------------------------------------------------------------------------------


def test_without_a_mat_a_frame_alone_is_filled_by_the_image() -> None:
    made = solved(frame=frame("40x50 cm"), mat=(), apertures=(window(photo=photo(4000, 6000)),))
    (shown,) = made.apertures
    assert made.layers == ()
    assert shown.image == Box.of(made.blank)
    assert shown.print is not None
    assert shown.print.margins == sides(0, 0, 0, 0)
    assert shown.crop is not None
    assert shown.crop.height == Fraction(5, 6)  # 400 × 600 cropped to 400 × 500
    assert [f.code for f in made.findings if f.code == "lip-covers-work"]


def test_without_a_mat_borders_are_white_margins_inside_the_sight() -> None:
    made = solved(frame=frame("40x50 cm"), mat=(), border=border("50 mm"), apertures=(window(aspect="1:1"),))
    (shown,) = made.apertures
    assert shown.image.width == mm(290)  # 400 − 2 × 55
    assert shown.visible.left == Fraction("50.5")
    assert shown.print is not None
    assert shown.print.margins == shown.cut


# --- photo, print and pixels -----------------------------------------------------------------------------------------


def test_a_photo_of_another_aspect_is_cropped_about_its_centre_with_a_warning() -> None:
    made = solved(frame=frame("40x50 cm"), apertures=(window(image="200x200 mm", photo=photo(6000, 4000)),))
    (shown,) = made.apertures
    assert shown.crop == Box(Fraction(1, 6), Fraction(0), Fraction(2, 3), Fraction(1))
    assert shown.pixels.have == (6000, 4000)
    assert shown.pixels.used == (4000, 4000)
    (warning,) = [f for f in made.findings if f.code == "photo-cropped"]
    assert "33.3 %" in warning.text


def test_a_photo_within_a_step_of_the_image_is_not_cropped() -> None:
    made = solved(frame=frame("40x50 cm"), apertures=(window(image="250x167 mm", photo=photo(6000, 4000)),))
    assert made.apertures[0].crop is None


def test_pixels_wanted_come_from_the_papers_density() -> None:
    made = solved(frame=frame("40x50 cm"), apertures=(window(image="240 mm wide", photo=photo(3000, 2000), paper=RAG),))
    pixels = made.apertures[0].pixels
    assert pixels.want == (3024, 2016)  # 240/25.4 × 320, 160/25.4 × 320
    assert pixels.ppi == Fraction(3000) / (240 / Fraction("25.4"))
    assert "low-resolution" in {f.code for f in made.findings}


# --- findings --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"apertures": (window(image="200x300 mm", photo=photo(1000, 1500)),)}, "low-resolution"),
        ({"apertures": (window(image="200x300 mm", photo=photo(200, 300)),)}, "soft-at-distance"),
        ({"apertures": (window(image="325x480 mm", paper=RAG),), "frame": frame("50x70 cm")}, "printer-margin"),
        ({"apertures": (window(image="390x490 mm", overlap=mm(6)),)}, "thin-web"),
        ({"apertures": (window(image="360x300 mm"),)}, "narrow-border"),
        ({"frame": frame("40x50 cm", depth=mm(8))}, "stack-too-deep"),
        ({"frame": frame("40x50 cm", depth=mm("13.5"))}, "rabbet-deep"),  # 5.1 deeper than 2 + 1.4 + 5
        ({"frame": frame("40x50 cm", lip=mm(1))}, "blank-not-held"),
        ({"apertures": (window(image="300x200 mm"),)}, "turn-frame"),
        ({"frame": frame(rabbet="2100x2100 mm")}, "heavy"),
    ],
)
def test_findings(changes: dict[str, Any], code: str) -> None:
    given: dict[str, Any] = {"frame": frame("40x50 cm", depth=mm("13.4")), "apertures": (window(image="200x300 mm"),)}
    assert code not in {f.code for f in solved(**given).findings}
    assert code in {f.code for f in solved(**(given | changes)).findings}


def thin_web(**changes: Any) -> str:
    (found,) = (one.text for one in solved(**changes).findings if one.code == "thin-web")
    return found


def test_a_thin_web_at_the_edge_is_told_no_gutter() -> None:
    """Sight 391 wide, face 376 + 2.8: 6.1 mm are left, 3.9 less than 10."""
    held = frame("40x50 cm")
    edge = thin_web(frame=held, apertures=(window(image="382x400 mm"),))
    assert edge == (
        "the narrowest web of the front layer is 6.1 mm, 3.9 mm less than the 10 mm under which it tears easily; a "
        "wider border or a smaller image mends it"
    )
    pair = (window("left", image="100x100 mm"), window("right", image="100x100 mm"))
    between = thin_web(frame=held, apertures=pair, rows=((0, 1),), gutter=mm("8 mm"))
    assert between.endswith(
        'is 5.2 mm, 4.8 mm less than the 10 mm under which it tears easily; gutter = "13 mm" mends it'
    )


def turn_of(made: SolvedPiece) -> Finding:
    (found,) = [finding for finding in made.findings if finding.code == "turn-frame"]
    return found


def test_a_picture_across_its_frame_is_told_what_a_turn_gives() -> None:
    """Sight 391 × 491, opening 294 × 194: 48.5 and 148.5; turned 98.5 and 98.5."""
    found = turn_of(solved(frame=frame("40x50 cm"), apertures=(window(image="300x200 mm"),)))
    assert (
        "borders of 48.5 mm at the sides and 148.5 mm above and below; turn = true makes them 98.5 mm and" in found.text
    )
    turned = frame("50x40 cm", turned=True)
    found = turn_of(solved(frame=turned, apertures=(window(image="200x300 mm"),)))
    assert "a portrait picture in a landscape frame" in found.text
    assert "leaving out turn makes them" in found.text


@pytest.mark.parametrize("takes", ["40x40 cm", "50x40 cm"])
def test_a_picture_that_lies_as_its_frame_is_told_of_no_turn(takes: str) -> None:
    made = solved(frame=frame(takes), apertures=(window(image="300x200 mm"),))
    assert "turn-frame" not in {f.code for f in made.findings}


def test_a_frame_too_narrow_for_a_picture_that_it_holds_when_turned_says_so() -> None:
    with pytest.raises(Unsolvable, match=r"the frame larger, or turn the frame: turn = true$"):
        solved(frame=frame("30x60 cm"), apertures=(window(image="400x200 mm"),))
    with pytest.raises(Unsolvable, match=r"the frame larger$"):
        solved(frame=frame("30x60 cm"), apertures=(window(image="400x300 mm"),))


def test_a_sheet_larger_than_the_blank_must_be_trimmed() -> None:
    small = solved(frame=frame("30x40 cm"), apertures=(window(image="150x200 mm", paper=RAG),))
    large = solved(frame=frame("40x50 cm"), apertures=(window(image="150x200 mm", paper=RAG),))
    assert "sheet-over-blank" in {f.code for f in small.findings}  # A3+ is 329 × 483
    assert "sheet-over-blank" not in {f.code for f in large.findings}


def test_the_papers_own_tolerance_may_show_an_edge() -> None:
    """ISO 216: ±2 mm up to 600 mm; an A4 print to its edge under 1.5 mm of mat may end inside the opening."""
    from matplan.job.records import Paper

    a4 = Paper(name="A4", size=size("210x297 mm"))
    near = solved(frame=frame("40x50 cm"), apertures=(window(image="210x297 mm", overlap=mm("1.5"), paper=a4),))
    safe = solved(frame=frame("40x50 cm"), apertures=(window(image="210x297 mm", overlap=mm(3), paper=a4),))
    letter = Paper(name="Letter", size=size("8.5x11 in"))  # ISO 216 says nothing of its tolerance
    other = solved(frame=frame("40x50 cm"), apertures=(window(image="8.5x11 in", overlap=mm("1.5"), paper=letter),))
    assert "edge-may-show" in {f.code for f in near.findings}
    assert "edge-may-show" not in {f.code for f in safe.findings}
    assert "edge-may-show" not in {f.code for f in other.findings}


def test_acrylic_moves_more_than_its_play_in_a_large_frame() -> None:
    """7.2e-5 /K and 0.2 % at 60 % RH (common practice): 1000 × (0.00144 + 0.002) = 3.44 mm of 3."""
    from dataclasses import replace

    from tests.making import ACRYLIC_EIGHTH

    acrylic = replace(ACRYLIC_EIGHTH, thickness=mm(3))
    large = solved(frame=frame("70x100 cm"), glazing=acrylic, apertures=(window(image="400x600 mm"),))
    small = solved(frame=frame("40x50 cm"), glazing=acrylic, apertures=(window(image="200x300 mm"),))
    (movement,) = [finding for finding in large.findings if finding.code == "movement"]
    assert "grows by up to 3.4 mm" in movement.text
    assert "3 mm of play" in movement.text
    assert "movement" not in {f.code for f in small.findings}


def test_acrylic_moves_no_more_than_its_play_up_to_a_length() -> None:
    """3 mm ÷ (20 × 7.2e-5 + 0.002) = 872.1 mm: a blank of 872 mm has room to grow, one of 873 mm has not."""
    from dataclasses import replace

    from tests.making import ACRYLIC_EIGHTH

    acrylic = replace(ACRYLIC_EIGHTH, thickness=mm(3))
    codes = [
        {f.code for f in solved(frame=frame(takes), glazing=acrylic, apertures=(window(image="400x600 mm"),)).findings}
        for takes in ("600x872 mm", "600x873 mm")
    ]
    assert ["movement" in found for found in codes] == [False, True]
