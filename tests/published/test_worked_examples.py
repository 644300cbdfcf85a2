"""Worked examples. A published source is named beside its example; the others are derived: their sum stands there."""

from __future__ import annotations

from fractions import Fraction

import pytest

from matplan.job.records import AddedWeight, BorderAsk, BorderAt, BorderTo, LayerAsk, OpticalWeight, RatioWeight, Show
from matplan.lengths import Box, Size, Units
from matplan.orders.moulding import quick_rule, rails_length
from matplan.walls.hanging import hook_height
from tests.making import ACRYLIC_EIGHTH, FOAM_3_16, WHITE, WHITE_SIXTEENTH, frame, mm, size, solved, window

NOTHING = Fraction(0)


def test_picture_8x10_in_an_11x14_mat() -> None:
    """Derived: 8 − 2 × 1/4 = 7 1/2 and 10 − 2 × 1/4 = 9 1/2; (11 − 7 1/2) / 2 = 1 3/4 and (14 − 9 1/2) / 2 = 2 1/4."""
    made = solved(
        units=Units.IN,
        frame=frame("11x14 in"),
        apertures=(window(image="8x10 in", overlap=mm("1/4 in")),),
    )
    (shown,) = made.apertures
    assert shown.opening.size == size("7 1/2 x 9 1/2 in")
    assert shown.cut.left == shown.cut.right == mm("1 3/4 in")
    assert shown.cut.top == shown.cut.bottom == mm("2 1/4 in")


def test_window_11x14_in_a_mat_20_wide_and_24_high() -> None:
    """Derived: (20 − 11) / 2 = 4 1/2 and (24 − 14) / 2 = 5."""
    made = solved(units=Units.IN, frame=frame("20x24 in"), apertures=(window(image="11x14 in", overlap=NOTHING),))
    cut = made.apertures[0].cut
    assert cut.left == cut.right == mm("4 1/2 in")
    assert cut.top == cut.bottom == mm("5 in")


def test_window_raised_a_quarter_inch() -> None:
    """Derived: (8 − 4) / 2 = 2; (10 − 6 1/2) / 2 = 1 3/4, less and more 1/4: 1 1/2 and 2."""
    made = solved(
        units=Units.IN,
        frame=frame("8x10 in"),
        weight=AddedWeight(extra=2 * mm("1/4 in")),
        apertures=(window(image="4 x 6 1/2 in", overlap=NOTHING),),
    )
    cut = made.apertures[0].cut
    assert (cut.left, cut.right) == (mm("2 in"), mm("2 in"))
    assert (cut.top, cut.bottom) == (mm("1 1/2 in"), mm("2 in"))


def test_opening_raised_two_millimetres() -> None:
    """Derived: 160 + 2 × 60 = 280, 240 + 2 × 60 = 360; 60 − 2 = 58 and 60 + 2 = 62."""
    made = solved(
        frame=frame(takes="280x360 mm"),
        weight=AddedWeight(extra=mm(4)),
        apertures=(window(image="160x240 mm", overlap=NOTHING),),
    )
    assert made.apertures[0].opening == Box(mm(60), mm(58), mm(160), mm(240))
    assert made.apertures[0].cut.bottom == mm(62)
    to_measure = solved(
        border=BorderAsk(top=mm(58), right=mm(60), bottom=None, left=mm(60)),
        border_at=BorderAt.CUT,
        weight=AddedWeight(extra=mm(4)),
        apertures=(window(image="160x240 mm", overlap=NOTHING),),
    )
    assert to_measure.blank == size("280x360 mm")


def test_triple_mat() -> None:
    """Derived: a top border of 2 in, 2 + 1/8 = 2 1/8 and 2 1/8 + 1/4 = 2 3/8."""
    made = solved(
        units=Units.IN,
        border=BorderAsk(top=mm("2 in"), right=mm("2 in"), bottom=None, left=mm("2 in")),
        border_at=BorderAt.CUT,
        border_to=BorderTo.FRONT_LAYER,
        mat=tuple(LayerAsk(board=WHITE, reveal=mm(reveal)) for reveal in (0, "1/8 in", "1/4 in")),
        apertures=(window(image="8x10 in", overlap=mm("1/4 in")),),
    )
    tops = [layer.openings[0].back.box.y for layer in made.layers]
    assert tops == [mm("2 in"), mm("2 1/8 in"), mm("2 3/8 in")]


def test_quick_rule_for_moulding() -> None:
    """Derived: 2 × (16 + 20) + 8 × 2 + 1/4 = 88 1/4."""
    assert quick_rule(size("16x20 in"), mm("2 in"), mm("1/4 in")) == mm("88 1/4 in")


def test_the_quick_rule_orders_eight_lips_too_much() -> None:
    """Derived: rails = opening + 2 × (face − lip) each."""
    made = solved(
        units=Units.IN,
        frame=frame(rabbet="16x20 in", rail=mm("2 in"), lip=mm("1/4 in")),
        apertures=(window(image="8x10 in"),),
    )
    assert made.frame.long_edges is not None
    assert quick_rule(size("16x20 in"), mm("2 in")) - rails_length(made.frame.long_edges) == 8 * mm("1/4 in")


def test_rail_for_an_eight_inch_picture() -> None:
    """Derived: 8 + 2 × (2 − 1/8) = 11 3/4."""
    made = solved(
        units=Units.IN,
        frame=frame(rabbet="8x8 in", rail=mm("2 in"), lip=mm("1/8 in"), clearance=NOTHING),
        apertures=(window(image="5x5 in"),),
    )
    assert made.frame.long_edges == size("11 3/4 x 11 3/4 in")


def test_rabbet_for_acrylic_mat_and_foam_board() -> None:
    """Derived: acrylic 1/8 + mat 1/16 + foam board 3/16 = 3/8 in of rabbet."""
    made = solved(
        units=Units.IN,
        frame=frame("8x10 in", depth=mm("3/8 in")),
        glazing=ACRYLIC_EIGHTH,
        backing=FOAM_3_16,
        mat=(LayerAsk(board=WHITE_SIXTEENTH, reveal=NOTHING),),
        apertures=(window(image="5x7 in"),),
    )
    assert made.stack.thickness == mm("3/8 in")
    assert made.stack.fits


@pytest.mark.parametrize(("centre", "height", "drop", "hook"), [(57, 30, 1, 71), (57, 20, 2, 65)])
def test_hook_height(centre: int, height: int, drop: int, hook: int) -> None:
    """Derived: 57 + 30 / 2 − 1 = 71 and 57 + 20 / 2 − 2 = 65 in."""
    assert hook_height(Fraction(centre), Fraction(height), Fraction(drop)) == hook


def test_sight_of_an_11x14_frame() -> None:
    """Derived: 11 − 2 × 1/4 = 10 1/2 and 14 − 2 × 1/4 = 13 1/2."""
    made = solved(
        units=Units.IN,
        frame=frame("11x14 in", lip=mm("1/4 in"), clearance=NOTHING),
        apertures=(window(image="8x10 in"),),
    )
    assert made.frame.sight == size("10 1/2 x 13 1/2 in")


def test_bottom_three_to_four() -> None:
    """US Navy training manual 14066, p. 2-32: top and sides 3 in, ratio 3 : 4 → bottom 4 in."""
    made = solved(
        units=Units.IN,
        border=BorderAsk(top=mm("3 in"), right=mm("3 in"), bottom=None, left=mm("3 in")),
        border_at=BorderAt.CUT,
        weight=RatioWeight(ratio=Fraction(4, 3)),
        apertures=(window(image="8x10 in"),),
    )
    cut = made.apertures[0].cut
    assert (cut.top, cut.left, cut.bottom) == (mm("3 in"), mm("3 in"), mm("4 in"))


def test_bottom_a_fifth_more_than_the_others() -> None:
    """Wikibooks, How to Frame a Picture, "Calculate the sizes": bottom = the others + 20 %."""
    made = solved(
        border=BorderAsk(top=mm(50), right=mm(50), bottom=None, left=mm(50)),
        border_at=BorderAt.CUT,
        weight=RatioWeight(ratio=Fraction(6, 5)),
        apertures=(window(image="200x300 mm"),),
    )
    assert made.apertures[0].cut.bottom == mm(60)


@pytest.mark.parametrize(("others", "bottom"), [(50, 65), (65, 75), (75, 90)])
def test_margin_sets_named_side_by_side(others: int, bottom: int) -> None:
    """Wikibooks, the same chapter: margin sets 50/65, 65/75 and 75/90 mm."""
    made = solved(
        border=BorderAsk(top=mm(others), right=mm(others), bottom=mm(bottom), left=mm(others)),
        border_at=BorderAt.CUT,
        apertures=(window(image="206x306 mm"),),
    )
    assert made.blank == Size(mm(200 + 2 * others), mm(300 + others + bottom))


@pytest.mark.parametrize(
    ("blank", "opening", "step", "side", "top", "bottom"),
    [
        ("16x20 in", "8x10 in", "1/4 in", "4 in", "3 3/4 in", "6 1/4 in"),
        ("11x14 in", "8x10 in", "0.01 mm", "1 1/2 in", None, None),
    ],
)
def test_optical_centre_construction(
    blank: str, opening: str, step: str, side: str, top: str | None, bottom: str | None
) -> None:
    """Derived, top = (H − h)(W + w) / 4W: 16×20 with 8×10 → 4, 3.75, 6.25; 11×14 with 8×10 → 1.5, 1.7273, 2.2727."""
    made = solved(
        units=Units.IN,
        step=mm(step),
        frame=frame(blank, clearance=NOTHING),
        border_at=BorderAt.CUT,
        weight=OpticalWeight(),
        apertures=(window(image=opening, overlap=NOTHING),),
    )
    cut = made.apertures[0].cut
    assert cut.left == mm(side)
    if top is not None and bottom is not None:
        assert (cut.top, cut.bottom) == (mm(top), mm(bottom))
    else:
        assert abs(cut.top / mm("1 in") - Fraction("1.7273")) < Fraction(1, 1000)
        assert abs(cut.bottom / mm("1 in") - Fraction("2.2727")) < Fraction(1, 1000)


def test_bevel_at_45_degrees_grows_the_opening_by_twice_the_board() -> None:
    """Derived: face opening = back opening + 2 t."""
    opening = solved(frame=frame("40x50 cm"), apertures=(window(image="200x300 mm"),)).layers[0].openings[0]
    assert opening.face.box.width == opening.back.box.width + 2 * WHITE.thickness


def test_double_mat_line_three_sixteenths_from_the_scored_edge() -> None:
    """Common practice, agrees with the geometry: 1/4 in lip of under mat in 1/16 in board → 3/16 from the upper cut's
    score.

    The score on the upper board's face lies a thickness outside its back: 1/4 in between the backs leaves 3/16 to the
    face's edge.
    """
    made = solved(
        units=Units.IN,
        frame=frame("16x20 in"),
        mat=(LayerAsk(board=WHITE_SIXTEENTH, reveal=NOTHING), LayerAsk(board=WHITE_SIXTEENTH, reveal=mm("1/4 in"))),
        apertures=(window(image="8x10 in"),),
    )
    upper, lower = (layer.openings[0] for layer in made.layers)
    assert lower.face.box.x - upper.back.box.x == mm("3/16 in")


def test_pixels_of_30_cm_at_320_ppi() -> None:
    """Derived: 300 mm / 25.4 × 320 = 3779.5, to the next whole pixel 3780."""
    from tests.making import RAG

    made = solved(frame=frame("40x50 cm"), apertures=(window(image="300x250 mm", paper=RAG, show=Show.IMAGE),))
    assert made.apertures[0].pixels.want[0] == 3780


def test_glass_weighs_two_and_a_half_kilograms_a_square_metre_and_millimetre() -> None:
    """EN 572-1 as quoted by glass makers: 2500 kg/m³."""
    made = solved(frame=frame("50x60 cm"), apertures=(window(image="200x300 mm"),))
    assert made.stack.parts[0].mass == Fraction(5, 2) * 2 * Fraction(3, 10)
