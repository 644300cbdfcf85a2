"""How a board is cut: settings, order, direction and over-cut of every cut, by hand and as laws."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from matplan.job.records import Cut, Cutter, Hand, LayerAsk, Piece, Shape
from matplan.lengths import Units
from matplan.mats.gauge import By, Edge, GaugeCut, gauge_cuts, reading_order
from matplan.mats.outline_cuts import outline_cuts
from matplan.mats.records import SolvedPiece
from tests.laws.strategies import pieces, plan_of
from tests.making import WHITE, border, double_mat, frame, solved, window

LOPSIDED = solved(
    apertures=(window(image="206 x 306"),), border=border(top="50 mm", right="40 mm", bottom="70 mm", left="60 mm")
)
"""Cut borders: the least visible ones and the 4.5 mm under the lip, up to a step: 55, 45, 75 and 65; blank 310 × 430.
"""


def mm(*values: int | str) -> list[Fraction]:
    return [Fraction(value) for value in values]


def cuts_of(piece: SolvedPiece, layer: int = 1) -> tuple[GaugeCut, ...]:
    return gauge_cuts(piece.layers[layer - 1], piece.blank, piece.ask.rows)


def test_left_and_right_change_sides_on_the_cutter() -> None:
    found = {cut.edge: cut.setting for cut in cuts_of(LOPSIDED)}
    assert LOPSIDED.apertures[0].cut.left == 65
    assert found == {Edge.TOP: 55, Edge.LEFT: 45, Edge.BOTTOM: 75, Edge.RIGHT: 65}
    assert {edge: edge.framed for edge in Edge} == {
        Edge.TOP: Edge.TOP,
        Edge.BOTTOM: Edge.BOTTOM,
        Edge.LEFT: Edge.RIGHT,
        Edge.RIGHT: Edge.LEFT,
    }


def test_the_gauge_goes_from_the_smallest_setting_to_the_largest() -> None:
    found = cuts_of(LOPSIDED)
    assert [cut.number for cut in found] == [1, 2, 3, 4]
    assert [cut.edge for cut in found] == [Edge.LEFT, Edge.TOP, Edge.RIGHT, Edge.BOTTOM]
    assert [cut.setting for cut in found] == mm(45, 55, 65, 75)


def test_equal_borders_are_one_setting_and_four_quarter_turns() -> None:
    found = cuts_of(solved(apertures=(window(image="300 x 200"),), border=border("60 mm")))
    assert {cut.setting for cut in found} == {65}  # 60 visible + 4.5 under the lip, up to a step of 1 mm
    assert [cut.edge for cut in found] == [Edge.TOP, Edge.LEFT, Edge.BOTTOM, Edge.RIGHT]


def test_the_blade_runs_the_overcut_past_each_marked_corner() -> None:
    (left, top, *_) = cuts_of(LOPSIDED)
    # back opening 65, 55, 200 × 300, board 1.4 mm thick: over-cut 1.4 at both ends
    assert [*top.start, *top.stop] == mm("63.6", 55, "266.4", 55)
    assert [*top.box] == mm("63.6", 55, "202.8", 0)
    assert [*left.start, *left.stop] == mm(265, "53.6", 265, "356.4")  # the plan's right edge
    assert [top.near, top.far] == mm("63.6", "43.6")  # from the right and to the left as it lies


def test_a_head_with_the_window_on_its_right_travels_the_other_way() -> None:
    """The setting, the marks and the order stay; start and stop change places, and so do near and far edge."""
    layer, blank, rows = LOPSIDED.layers[0], LOPSIDED.blank, LOPSIDED.ask.rows
    left = gauge_cuts(layer, blank, rows)
    right = gauge_cuts(layer, blank, rows, Cutter(window_side=Hand.RIGHT))
    for one, other in zip(left, right, strict=True):
        assert (other.number, other.edge, other.setting, other.box) == (one.number, one.edge, one.setting, one.box)
        assert (other.start, other.stop, other.near, other.far) == (one.stop, one.start, one.far, one.near)


def test_what_the_cutter_does_not_reach_is_cut_by_hand() -> None:
    """Settings 45, 55, 65 and 75; the upright cuts are 300 + 2 × 1.4 long, the level ones 200 + 2 × 1.4."""
    layer, blank, rows = LOPSIDED.layers[0], LOPSIDED.blank, LOPSIDED.ask.rows

    def by_hand(cutter: Cutter) -> list[Edge]:
        return [cut.edge for cut in gauge_cuts(layer, blank, rows, cutter) if cut.by is By.HAND]

    assert by_hand(Cutter()) == []
    assert by_hand(Cutter(widest_border=Fraction(65))) == [Edge.BOTTOM]
    assert by_hand(Cutter(widest_border=Fraction(64))) == [Edge.RIGHT, Edge.BOTTOM]
    assert by_hand(Cutter(longest_cut=Fraction("302.8"))) == []
    assert by_hand(Cutter(longest_cut=Fraction("302.7"))) == [Edge.LEFT, Edge.RIGHT]


def test_slopes_of_a_straight_cut_need_no_thickness() -> None:
    """Derived: a bevel's over-cut at an octagon's corners is t · tan(22.5°); an upright blade needs the set-back."""
    ask = window(image="206 x 206", shape=Shape.OCTAGON)
    for cut in (Cut.STRAIGHT, Cut.REVERSE):
        piece = solved(
            apertures=(ask,), border=border("60 mm"), mat=(LayerAsk(board=WHITE, reveal=Fraction(0), cut=cut),)
        )
        layer = piece.layers[0]
        over = layer.overcut
        for slope in outline_cuts(layer, (0,), 4):
            assert slope.round is None
            (x1, y1), (x2, y2) = slope.marks[0], slope.start
            assert abs(float((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5 - float(over)) < 1e-6


def test_windows_are_read_from_the_left_as_the_board_lies() -> None:
    assert reading_order(((0, 1), (2, 3, 4))) == (1, 0, 4, 3, 2)


def test_cuts_of_one_edge_at_one_setting_stand_together() -> None:
    windows = tuple(window(name, image="86 x 66") for name in "abcd")
    piece = solved(apertures=windows, rows=((0, 1), (2, 3)), gutter=Fraction(20), frame=frame("40 x 50 cm"))
    found = cuts_of(piece)
    # openings 80 × 60 in a block of 180 × 140, in the middle of 400 × 500: 110 at the sides, 180 above and below
    assert [(c.number, c.edge.value, c.window) for c in found[:4]] == [
        (1, "left", 1),
        (2, "left", 3),
        (3, "right", 0),
        (4, "right", 2),
    ]
    assert Counter(cut.setting for cut in found) == {110: 4, 180: 4, 210: 4, 260: 4}


def test_a_shaped_opening_is_one_cut_numbered_after_the_straight_ones() -> None:
    windows = (window("round", image="86 x 86", shape=Shape.CIRCLE), window("straight", image="86 x 66"))
    piece = solved(apertures=windows, rows=((0, 1),), gutter=Fraction(20), frame=frame("40 x 50 cm"))
    straight = cuts_of(piece)
    assert {cut.window for cut in straight} == {1}
    (cut,) = outline_cuts(piece.layers[0], reading_order(piece.ask.rows), len(straight))
    assert (cut.number, cut.window) == (5, 0)
    back = piece.layers[0].openings[0].back.box
    assert cut.start == (back.centre[0], back.y)


def test_an_under_mat_has_settings_of_its_own() -> None:
    piece = solved(apertures=(window(image="206 x 306"),), frame=frame("40 x 50 cm"), mat=double_mat("6 mm"))
    front, under = ({cut.edge: cut.setting for cut in cuts_of(piece, n)} for n in (1, 2))
    assert {edge: under[edge] - front[edge] for edge in Edge} == dict.fromkeys(Edge, 6)


@settings(max_examples=60, deadline=None)
@given(pieces(4), st.sampled_from([Units.MM, Units.IN]))
def test_cuts_obey_their_laws(ask: Piece, units: Units) -> None:
    """Every edge of every opening is cut once, at its own distance from the board's edge, its window on the left as the
    board lies.
    """
    piece = plan_of(ask, units=units).pieces[0]
    for layer in piece.layers:
        cuts = gauge_cuts(layer, piece.blank, piece.ask.rows)
        assert [cut.number for cut in cuts] == list(range(1, len(cuts) + 1))
        assert sorted((cut.window, cut.edge) for cut in cuts) == sorted(
            (n, e) for n in range(len(layer.openings)) for e in Edge
        )
        assert all(one.setting <= other.setting for one, other in pairwise(cuts))
        for cut in cuts:
            back = layer.openings[cut.window].back.box
            (x1, y1), (x2, y2) = cut.start, cut.stop
            # as it lies x runs the other way: the window's middle is to the left of the travel as it lies, to its right
            # as framed
            cx, cy = back.centre
            assert (x2 - x1) * (cy - y1) - (y2 - y1) * (cx - x1) > 0
            assert max(abs(x2 - x1), abs(y2 - y1)) == (back.width if y1 == y2 else back.height) + 2 * layer.overcut
            assert min(abs(x2 - x1), abs(y2 - y1)) == 0
        by_edge = {(cut.window, cut.edge): cut.setting for cut in cuts}
        for n, opening in enumerate(layer.openings):
            assert by_edge[n, Edge.LEFT] + opening.back.box.width + by_edge[n, Edge.RIGHT] == piece.blank.width
            assert by_edge[n, Edge.TOP] + opening.back.box.height + by_edge[n, Edge.BOTTOM] == piece.blank.height
            assert by_edge[n, Edge.RIGHT] == opening.back.box.x
