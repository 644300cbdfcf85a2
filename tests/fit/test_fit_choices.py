"""Which frame, paper and print suit: numbers with the sum beside each, and what the ranking prefers."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from matplan.fit.choices import answers, suiting_border
from matplan.fit.records import Option, Question, Subject
from matplan.fit.score import WEIGHTS, look_of, parts_of, score_of, usual_of
from matplan.fit.words import nothing, why
from matplan.job.records import AddedWeight, OpticalWeight
from matplan.lengths import Printer, Sides, Size, Step, Units
from tests.fit.questions import A3_PLUS, A4, METRIC, frame, question, sheet
from tests.making import mm, size


def cut_by_hand(asked: Question) -> list[Option]:
    """The answers without a ready-cut mat and without a standard size: frame and border alone."""
    return [option for option in answers(asked, 100) if option.mat is None and not option.standard]


# --- one answer, by hand ---------------------------------------------------------------------------------------------


def test_frame_and_border_settle_the_print() -> None:
    (upright, turned) = sorted(
        cut_by_hand(question(frame("40x50 cm"), border=mm(60))), key=lambda option: option.turned
    )
    assert upright.blank == size("400x500 mm")
    # A = 400 − 2 × (60 + 4.5 up to 65) = 270 wide; image ≤ 270 + 6 = 276; 276 ÷ 3 × 2 = 184
    assert upright.image == size("276x184 mm")
    assert upright.opening == size("270x178 mm")
    assert upright.cut == Sides(top=mm(161), right=mm(65), bottom=mm(161), left=mm(65))  # (500 − 178) / 2
    assert upright.visible.left == mm("60.5")  # 65 − 4.5
    assert turned.blank == size("500x400 mm")
    # A = 500 − 130 = 370 wide, 400 − 130 = 270 high; image ≤ 376 × 276, 376 ÷ 3 × 2 = 250.67
    assert turned.image == Size(mm(376), Fraction(752, 3))
    assert turned.opening == size("370x244 mm")  # 250.67 − 6 = 244.67 down


def test_the_paper_limits_the_print() -> None:
    for option in cut_by_hand(question(frame("50x70 cm"), sheets=(A4,), border=mm(60))):
        assert option.image == size("297x198 mm")  # 297 ÷ 3 × 2 = 198 on the sheet turned
        assert option.sheet_turned
        assert option.spare == 0


def test_what_the_printer_cannot_reach_is_left_free() -> None:
    (option, _) = cut_by_hand(question(frame("50x70 cm"), border=mm(60)))
    # A3+ turned: 483 − 10 = 473 wide, 329 − 10 = 319 high; 473 ÷ 3 × 2 = 315.33
    assert option.image == Size(mm(473), Fraction(946, 3))
    assert option.spare == mm(10)


def test_white_paper_round_the_image_needs_paper_behind_the_mat() -> None:
    (option, _) = cut_by_hand(question(frame("50x70 cm"), sheets=(A4,), border=mm(60), show="margin"))
    assert option.image == Size(mm(271), Fraction(542, 3))  # 297 − 2 × (10 + 3)
    assert option.opening == size("291x200 mm")  # 271 + 20, 180.67 + 20 down


def test_a_floated_sheet_is_seen_whole() -> None:
    (option,) = cut_by_hand(question(frame("40x50 cm"), sheets=(A4,), border=mm(60), show="sheet"))
    assert option.turned  # upright 309 + 2 × 65 is more than 400
    assert option.opening == size("309x222 mm")  # 297 + 12, 210 + 12
    assert option.image == size("297x198 mm")


def test_a_weight_lowers_the_top() -> None:
    for option in cut_by_hand(question(frame("40x50 cm"), border=mm(60), weight=AddedWeight(extra=mm(12)))):
        assert option.visible.bottom - option.visible.top in (12, 13)  # the odd step below
    optical = cut_by_hand(question(frame("40x50 cm"), border=mm(60), weight=OpticalWeight()))
    assert all(option.visible.top <= option.visible.bottom for option in optical)


def test_pixels_per_inch_of_the_print() -> None:
    asked = question(
        frame("40x50 cm"), border=mm(60), subject=Subject(aspect=(Fraction(3), Fraction(2)), pixels=(6000, 4000))
    )
    upright = next(option for option in cut_by_hand(asked) if not option.turned)
    assert upright.ppi == Fraction(6000) / (276 / Fraction("25.4"))  # 552.2
    assert dict(upright.parts)["resolution"] == 1


# --- the ready-cut mats of a frame -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("takes", "opening", "print_size"),
    [
        ("8x10 in", "4 1/2 x 6 1/2 in", "5x7 in"),
        ("11x14 in", "7 1/2 x 9 1/2 in", "8x10 in"),
        ("16x20 in", "10 1/2 x 13 1/2 in", "11x14 in"),
        ("20x24 in", "15 1/2 x 19 1/2 in", "16x20 in"),
        ("24x36 in", "19 1/2 x 29 1/2 in", "20x30 in"),
    ],
)
def test_the_mat_sold_for_a_frame_suits_the_print_it_is_sold_for(takes: str, opening: str, print_size: str) -> None:
    """Ready-cut openings against frames and print sizes: common practice."""
    inches = Printer(Units.IN, Step.usual(Units.IN))
    image = size(print_size)
    asked = question(
        frame(takes, clearance=mm("1/8 in"), lip=mm("1/4 in")),
        sheets=(sheet("30x40 in"),),
        printer=inches,
        image=image,
        overlap=mm("1/8 in"),
        subject=Subject(aspect=(image.width, image.height)),
    )
    mats = {option.mat.name: option for option in answers(asked, 20) if option.mat}
    found = mats[f"{takes} for {print_size}"]
    assert found.opening == size(opening)
    assert found.image == image
    assert all(found.score > option.score for option in answers(asked, 20) if option.mat is None)


def test_a_ready_cut_mat_settles_the_print() -> None:
    mats = {
        option.mat.name: option
        for option in answers(question(frame("30x40 cm"), aspect="2:3"), 20)
        if option.mat and not option.turned
    }
    assert set(mats) == {"30x40 cm for 20x30 cm", "30x40 cm for A4"}
    option = mats["30x40 cm for 20x30 cm"]
    assert option.opening == size("190x290 mm")
    assert option.image == size("196x296 mm")  # 190 + 2 × 3, 290 + 2 × 3
    assert option.kept == Fraction(196, 296) / Fraction(2, 3)


def test_a_weighted_mat_is_never_ready_cut() -> None:
    assert not any(option.mat for option in answers(question(frame("30x40 cm"), weight=AddedWeight(extra=mm(5))), 50))


# --- the question the other way round --------------------------------------------------------------------------------


def test_frames_that_leave_the_border_round_a_print() -> None:
    frames = (frame("30x40 cm"), frame("40x50 cm"), frame("50x70 cm"))
    found = answers(question(*frames, image=size("300x200 mm"), border=mm(60)), 20)
    # opening 294 × 194 needs 294 + 2 × 65 = 424 and 194 + 2 × 65 = 324: 40x50 cm turned, and 50x70 cm both ways
    assert {(option.frame.name, option.turned) for option in found} == {
        ("40x50 cm", True),
        ("50x70 cm", True),
        ("50x70 cm", False),
    }
    assert found[0].frame.name == "40x50 cm"  # 98.5 mm on every side: nearest to what was asked for
    assert found[0].visible == Sides.all(mm("98.5"))  # (500 − 294) / 2 − 4.5, (400 − 194) / 2 − 4.5


def test_without_a_border_narrow_frames_are_ranked_lower_and_not_left_out() -> None:
    found = answers(question(frame("24x30 cm"), frame("30x40 cm"), image=size("280x190 mm")), 20)
    by_hand = [(option.frame.name, option.turned, option.visible.least) for option in found if option.mat is None]
    # 24x30 cm turned: (300 − 274) / 2 − 4.5 = 8.5; 30x40 cm: (400 − 274) / 2 − 4.5 = 58.5, (300 − 184) / 2 − 4.5 = 53.5
    assert by_hand == [("30x40 cm", True, mm("53.5")), ("24x30 cm", True, mm("8.5")), ("30x40 cm", False, mm("8.5"))]


def test_a_print_larger_than_the_usual_papers_names_none() -> None:
    (first, *_) = answers(question(frame("70x100 cm"), sheets=(A4,), any_sheet=True, image=size("750x500 mm")), 5)
    assert first.sheet is None
    assert "have it printed" in why(first, METRIC)


# --- what is preferred -----------------------------------------------------------------------------------------------


def test_the_border_that_suits_follows_the_frame() -> None:
    asked = question()
    assert suiting_border(frame("40x50 cm"), size("400x500 mm"), asked) == 57  # 400 ÷ 7 = 57.14
    assert suiting_border(frame("13x18 cm"), size("130x180 mm"), asked) == 25  # 130 ÷ 7 is under an inch: 25.4
    assert suiting_border(frame("70x100 cm"), size("700x1000 mm"), asked) == 76  # 700 ÷ 7 is over three inches: 76.2
    assert (
        suiting_border(frame("40x50 cm", rail=mm(35)), size("400x500 mm"), asked) == 70
    )  # twice the face (common practice)


def test_the_weights_add_up_and_each_has_its_reason() -> None:
    assert sum(weight for _, weight, _ in WEIGHTS) == pytest.approx(1)
    assert all(reason for _, _, reason in WEIGHTS)


LOOK: dict[str, Any] = {
    "sight": (400, 300),
    "opening": (280, 200),
    "narrowest": 60,
    "across": 60,
    "upright": 60,
    "suiting": 50,
}
REST: dict[str, Any] = {"ppi": 1.0, "paper": 1.0, "shown": 1.0, "ready_cut": True, "standard": True, "usual": 1.0}


def parts_with(**changes: Any) -> tuple[float | None, ...]:
    """The parts of the best answer there is, but for the changes."""
    look = look_of(**(LOOK | {key: value for key, value in changes.items() if key in LOOK}))
    return parts_of(look, **(REST | {key: value for key, value in changes.items() if key in REST}))


@pytest.mark.parametrize(
    ("change", "name", "part"),
    [
        (
            {"narrowest": 37.5},
            "border",
            0.5,
        ),  # three quarters of what suits: halfway to the half that is good for nothing
        ({"narrowest": 25}, "border", 0.0),
        ({"narrowest": 150}, "border", 0.5),  # three times: halfway from two to four
        ({"opening": (135, 200)}, "picture", 0.5),  # 22.5 % of the sight, 45 are enough
        ({"upright": 120}, "evenness", 0.5),
        ({"ppi": 0.5}, "resolution", 0.5),
        ({"ppi": 4.0}, "resolution", 1.0),
        ({"paper": 0.6}, "paper", 0.6),
        ({"shown": 0.875}, "whole", 0.5),
        ({"shown": 0.5}, "whole", 0.0),
        ({"ready_cut": False}, "ready_cut", 0.0),
        ({"standard": False}, "print_size", 0.0),
        ({"usual": usual_of(True, False)}, "usual", 2 / 3),  # the frame counts twice
    ],
)
def test_each_part_of_the_score(change: dict[str, Any], name: str, part: float) -> None:
    assert score_of(parts_with()) == pytest.approx(1)
    parts = dict(zip((name for name, _, _ in WEIGHTS), parts_with(**change), strict=True))
    weight = next(weight for named, weight, _ in WEIGHTS if named == name)
    assert parts[name] == pytest.approx(part)
    assert score_of(parts_with(**change)) == pytest.approx(1 - weight * (1 - part))


def test_what_is_not_known_is_left_out_of_the_mean() -> None:
    assert score_of(parts_with(ppi=None, paper=None, usual=None)) == pytest.approx(1)
    worse = parts_with(ppi=None, paper=None, usual=None, ready_cut=False)
    assert score_of(worse) == pytest.approx(1 - 0.04 / 0.65)  # 1 − 0.10 − 0.09 − 0.16 of weight is left


def test_a_frame_that_follows_the_pictures_shape_comes_first() -> None:
    found = answers(question(frame("30x40 cm"), frame("35x35 cm")), 20)
    assert (found[0].frame.name, found[0].turned) == ("30x40 cm", True)
    assert answers(question(frame("30x40 cm"), frame("35x35 cm"), aspect="1:1"), 20)[0].frame.name == "35x35 cm"


def test_the_sharper_print_comes_first() -> None:
    few = question(
        frame("20x25 cm"), frame("50x70 cm"), subject=Subject(aspect=(Fraction(3), Fraction(2)), pixels=(1500, 1000))
    )
    assert answers(few, 20)[0].frame.name == "20x25 cm"


def test_only_the_best_paper_is_told_where_none_was_named() -> None:
    papers = (A4, A3_PLUS, sheet("297x420 mm"))
    named = answers(question(frame("40x50 cm"), sheets=papers), 50)
    free = answers(question(frame("40x50 cm"), sheets=papers, any_sheet=True), 50)
    assert {option.sheet and option.sheet.name for option in named} == {"A4", "A3+", "297x420 mm"}
    assert len({(option.turned, option.mat and option.mat.name, bool(option.standard)) for option in free}) == len(free)
    assert free[0].score == named[0].score


# --- in words --------------------------------------------------------------------------------------------------------


def test_the_reason_names_borders_paper_and_sharpness() -> None:
    asked = question(
        frame("40x50 cm"), border=mm(60), subject=Subject(aspect=(Fraction(3), Fraction(2)), pixels=(3600, 2400))
    )
    turned = next(option for option in cut_by_hand(asked) if option.turned)
    # paper A3+ turned 483 × 329, image 376 × 250.67: 107 and 78.3 are left; 3600 ÷ (376 ÷ 25.4) = 243.2
    assert why(turned, METRIC) == (
        "40x50 cm landscape leaves 60.5 mm at the sides, 73.5 mm above and below; "
        "prints on A3+ landscape with 78.3 mm to spare; "
        "243 ppi of the 300 wanted"
    )


def test_the_reason_warns_of_a_border_like_the_face() -> None:
    (option, *_) = cut_by_hand(question(frame("40x50 cm", rail=mm(40)), border=mm(60)))
    assert why(option, METRIC).endswith("the narrowest border is under twice the rail's face of 40 mm")


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (question(frame("40x50 cm"), border=mm(300)),
         "a border of 300 mm leaves no picture in any frame; in the roomiest, 40x50 cm, "
         "the borders are 210 mm wider than its blank of 400 × 500 mm"),  # 2 × (300 + 4.5 up to 305) − 400
        (question(frame("40x50 cm"), image=size("480x320 mm"), border=mm(60), sheets=(sheet("50x70 cm"),)),
         "no frame holds an image of 480 × 320 mm with 60 mm of border; "
         "the nearest, 40x50 cm landscape, is 104 mm too small"),  # 474 + 2 × 65 − 500
        (question(frame("40x50 cm"), image=size("300x200 mm"), sheets=(sheet("200x150 mm"),)),
         "no paper named takes an image of 300 × 200 mm; the largest of its aspect is 200 × 133 mm, on 200x150 mm"),
        (question(frame("20x25 cm"), sheets=(A4,), show="sheet", border=mm(0)),
         "no frame floats any of the papers whole with 6 mm round it; "
          "for A4 the nearest, 20x25 cm, is 69 mm too small"),  # 309 + 10 − 250
        (question(frame("20x25 cm", lip=mm(110))),
         "none of the frames shows anything: their lips cover them; name larger ones"),
        (question(frame("20x25 cm"), image=size("6x4 mm")),
         "the overlap of 3 mm covers an image of 6 × 4 mm; use a smaller overlap"),
    ],
)  # fmt: skip
def test_where_nothing_suits_the_nearest_miss_is_told(asked: Question, said: str) -> None:
    assert answers(asked, 10) == ()
    assert nothing(asked) == said
