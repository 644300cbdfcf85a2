"""Frames lined up in every way that is no cluster, with the sum beside each expected number."""

from __future__ import annotations

from fractions import Fraction

import pytest

from matplan.lengths import Size
from matplan.walls.outline import lowest, sideways, stretches
from matplan.walls.records import Unhangable
from tests.making import mm
from tests.walls.building import INCHES, hung, keep, piece, pin, spots

A, B, C = piece("A", "400x500 mm"), piece("B", "300x400 mm"), piece("C", "501x301 mm")


def test_the_builder_makes_frames_of_the_size_asked_for() -> None:
    outer = C.frame.outer
    assert outer is not None
    assert outer == Size(mm(501), mm(301))


def test_centre_line_puts_every_centre_at_the_eye_line_and_the_row_in_the_zone_s_middle() -> None:
    made = hung([A, B, C])
    # 400 + 60 + 300 + 60 + 501 = 1321; (3600 − 1321) / 2 = 1139.5
    assert spots(made) == [
        (Fraction("1139.5"), mm(1200)),  # 1450 − 250
        (Fraction("1599.5"), mm(1250)),  # 1139.5 + 460; 1450 − 200
        (Fraction("1959.5"), Fraction("1299.5")),  # 1599.5 + 360; 1450 − 150.5
    ]


def test_a_zone_moves_the_row_and_not_the_eye_line() -> None:
    made = hung([A], zone={"left": 600, "right": 3000})
    assert spots(made) == [(mm(1600), mm(1200))]  # (600 + 3000) / 2 − 200


def test_flush_top_centres_the_group_s_box_on_the_eye_line() -> None:
    assert [bottom for _, bottom in spots(hung([A, B, C], arrange="flush-top"))] == [1200, 1300, 1399]  # top 1450 + 250


def test_flush_base_centres_the_group_s_box_on_the_eye_line() -> None:
    assert [bottom for _, bottom in spots(hung([A, B, C], arrange="flush-base"))] == [1200, 1200, 1200]


def test_stepped_raises_each_base_and_centres_the_whole() -> None:
    made = hung([B, B, A], arrange="stepped", rise="180 mm", hung=((0, 1), (0, 2), (2, 1)))
    # bases 0, 180, 360; the box reaches up to 360 + 500 = 860, so it begins at 1450 − 430
    assert [bottom for _, bottom in spots(made)] == [1020, 1200, 1380]
    assert [left for left, _ in spots(made)] == [
        1240,
        1600,
        1960,
    ]  # 300 + 60 + 300 + 60 + 400 = 1120; (3600 − 1120) / 2


def test_a_grid_has_cells_as_large_as_the_largest_frame_and_a_short_last_row_from_the_left() -> None:
    made = hung([A, B, A], arrange="grid", hung=((0, 1), (1, 1), (2, 1)))
    # ⌈√3⌉ = 2 columns of 400 × 500: the box is 860 × 1060, from 1370 and 1450 − 530 = 920
    assert spots(made) == [(1370, 1480), (1880, 1530), (1370, 920)]  # B in the middle of its cell: 1830 + 50, 1480 + 50


@pytest.mark.parametrize(("count", "columns"), [(1, 1), (4, 2), (5, 3), (9, 3), (10, 4)])
def test_a_grid_is_as_wide_as_the_root_of_its_frames_up(count: int, columns: int) -> None:
    made = hung([piece("S", "200x200 mm")], arrange="grid", hung=tuple((0, n) for n in range(1, count + 1)))
    assert len({left for left, _ in spots(made)}) == columns


def test_columns_set_the_grid_s_width_and_a_row_that_is_not_full_is_centred() -> None:
    small = piece("S", "200x200 mm")
    four = tuple((0, n) for n in range(1, 5))
    assert [left for left, _ in spots(hung([small], arrange="grid", columns=3, hung=four))] == [1440, 1700, 1960, 1440]
    assert [left for left, _ in spots(hung([small], arrange="grid", columns=6, hung=four))] == [1310, 1570, 1830, 2090]


def test_placed_frames_hang_where_they_are_put() -> None:
    made = hung([A, B], arrange="placed", at=(pin("B", 1200, 1100), pin("A", "12.5 mm", 900)))
    assert spots(made) == [(Fraction("12.5"), 900), (1200, 1100)]
    assert all(frame.pinned for frame in made.frames)


def test_a_pinned_frame_leaves_its_arrangement() -> None:
    made = hung([A, B, C], at=(pin("B", 100, 100),))
    assert spots(made)[1] == (100, 100)
    # 400 + 60 + 501 = 961; (3600 − 961) / 2 = 1319.5
    assert [left for left, _ in spots(made)] == [Fraction("1319.5"), 100, Fraction("1779.5")]


def test_pins_go_to_the_copies_of_a_piece_in_order() -> None:
    made = hung([B], hung=((0, 1), (0, 2), (0, 3)), at=(pin("B", 0, 0), pin("B", 500, 0)))
    assert spots(made) == [(0, 0), (500, 0), (1650, 1250)]
    assert [frame.copy for frame in made.frames] == [1, 2, 3]


def test_frames_in_inches_stay_exact() -> None:
    made = hung([piece("I", "16x20 in")], size="12x8 ft", eye="57 in")
    assert spots(made) == [(mm("64 in"), mm("47 in"))]


# --- what the wall forbids -------------------------------------------------------------------------------------------


def refused(*pieces: object, **changes: object) -> list[tuple[str, str]]:
    with pytest.raises(Unhangable) as caught:
        hung(list(pieces), **changes)  # type: ignore[arg-type]
    return [(problem.where, problem.text) for problem in caught.value.problems]


def test_a_row_wider_than_its_zone_says_by_how_much_once() -> None:
    assert refused(A, B, C, zone={"left": 600, "right": 1800}) == [
        (
            "",
            '"A" reaches 60.5 mm past the zone\'s left edge and "C" reaches 60.5 mm past the zone\'s right edge: '
            "the frames together are 1321 mm wide "
            "and the zone 1200 mm, 121 mm too narrow; take a wider zone, a smaller gap or fewer frames",
        )
    ]


def test_a_row_above_its_zone_says_how_far_the_eye_line_must_come_down() -> None:
    assert refused(A, B, zone={"top": 1670}) == [
        ("", '"A" reaches 30 mm past the zone\'s top edge; put the eye line 30 mm lower, or change the zone')
    ]


def test_a_row_hung_by_its_top_or_base_is_told_that_key() -> None:
    (_, told), *_ = refused(A, arrange="flush-top", zone={"top": 1600}, top=mm(1700))
    assert told == '"A" reaches 100 mm past the zone\'s top edge; put top 100 mm lower, or change the zone'
    (_, told), *_ = refused(A, arrange="flush-base", zone={"bottom": 1200}, base=mm(1100))
    assert told == '"A" reaches 100 mm past the zone\'s bottom edge; put base 100 mm higher, or change the zone'


def test_a_pinned_frame_outside_the_wall_says_where_and_how_far() -> None:
    assert refused(A, at=(pin("A", 3300, 2000),)) == [
        ("at.A", '"A" reaches 100 mm past the wall\'s right edge; move it 100 mm to the left'),
        ("at.A", '"A" reaches 100 mm past the wall\'s top edge; move it 100 mm down'),
    ]


def test_a_frame_over_what_is_kept_clear_names_it_and_the_least_shift() -> None:
    """A hangs from 1600 to 2000 and from 1200 to 1700; the switch with its margin from 1920 to 2100 and from 1000 to
    1180 + 50.
    """
    switch = keep("light switch", 1970, 1100, 80, 80, margin=50)
    assert refused(A, keep_clear=(switch,)) == [
        (
            "keep_clear[1]",
            '"A" hangs over "light switch" and its margin of 50 mm, which is kept clear; '
            "the least shift that clears it is 30 mm up",
        )
    ]


@pytest.mark.parametrize(
    ("left", "bottom", "least"),
    [
        (1600, 1300, "20 mm to the right"),  # its right side at 1610 + margin 10, the frame's left at 1600
        (1980, 1300, "30 mm to the left"),  # 2000 − (1980 − 10)
        (1790, 1193, "23 mm up"),  # 1193 + 20 + 10 − 1200
        (1790, 1680, "30 mm down"),  # 1700 − (1680 − 10)
    ],
)
def test_the_least_shift_goes_the_shortest_way(left: int, bottom: int, least: str) -> None:
    thing = keep("plug", left, bottom, 10 if left == 1600 else 20, 20, margin=10)
    ((_, text),) = refused(A, keep_clear=(thing,))
    assert text.endswith(f"is {least}")


def test_a_margin_may_be_used_up_but_a_thing_without_one_not_touched() -> None:
    assert spots(hung([A], keep_clear=(keep("plug", 2050, 1300, 20, 20, margin=50),))) == [(1600, 1200)]
    assert refused(A, keep_clear=(keep("plug", 2000, 1300, 20, 20),)) == [
        ("keep_clear[1]", '"A" touches "plug", which is kept clear; move it 1 mm away')
    ]


def test_frames_that_overlap_name_each_other_and_the_least_shift() -> None:
    assert refused(A, B, arrange="placed", at=(pin("A", 1000, 1000), pin("B", 1370, 1050))) == [
        ("at.A", '"A" and "B" overlap; the least shift that parts them is 30 mm, "A" to the left')  # 1000 + 400 − 1370
    ]


def test_an_arrangement_may_not_touch_what_is_pinned() -> None:
    ((where, text),) = refused(A, B, at=(pin("B", 2000, 1300),))
    assert (where, text) == ("at.B", '"B", which is pinned, touches "A"; move it 1 mm away')
    assert spots(hung([A, B], at=(pin("B", 2001, 1300),)))[0] == (1600, 1200)


def test_every_problem_of_a_wall_comes_at_once() -> None:
    found = refused(A, B, C, zone={"top": 1690}, at=(pin("C", 0, 0),), keep_clear=(keep("plug", 10, 10, 20, 20),))
    assert [where for where, _ in found] == ["", "at.C"]


def test_copies_are_told_apart_by_name() -> None:
    ((_, text),) = refused(A, hung=((0, 1), (0, 2)), arrange="placed", at=(pin("A", 0, 0), pin("A", 300, 100)))
    assert text.startswith('"A" (copy 1) and "A" (copy 2) overlap; the least shift that parts them is 100 mm')


def test_a_piece_of_unknown_outer_size_asks_for_its_rail() -> None:
    bare = piece("Bare", "400x500 mm", rail=None)
    assert refused(bare, A, bare, hung=((0, 1), (1, 1), (0, 2))) == [
        (
            "",
            '"Bare" cannot hang: the rail of its frame "ash" is not given, and so its outside is not known; '
            'write rail = "20 mm" (the face width) in [frame.ash]',
        )
    ]


# --- a sloping top edge ----------------------------------------------------------------------------------------------

SLOPE = ((mm(0), mm(2400)), (mm(1600), mm(2400)), (mm(3600), mm(1400)))  # falls by 1 in 2 from 1600 on


def test_a_frame_under_a_slope_may_touch_it() -> None:
    # the edge is 2400 − (2400 − 1600) / 2 = 2000 high at 2400
    assert spots(hung([A], arrange="placed", at=(pin("A", 2000, 1500),), outline=SLOPE)) == [(2000, 1500)]


def test_a_frame_above_the_slope_says_the_least_shift_down_or_sideways() -> None:
    ((where, text),) = refused(A, arrange="placed", at=(pin("A", 2000, 1540),), outline=SLOPE)
    assert where == "at.A"
    assert text == '"A" reaches 40 mm above the wall\'s top edge; the least shift that brings it below is 40 mm down'


def test_a_steep_edge_is_cleared_sideways() -> None:
    steep = ((mm(0), mm(1000)), (mm(100), mm(1000)), (mm(200), mm(2400)), (mm(3600), mm(2400)))
    ((_, text),) = refused(A, arrange="placed", at=(pin("A", 130, 1200),), outline=steep)
    # the edge is 1700 high at 100 + 100 × 700 / 1400 = 150
    assert text.endswith("the least shift that brings it below is 20 mm to the right")


@pytest.mark.parametrize("arrange", ["centre-line", "flush-top", "flush-base", "stepped", "grid", "cluster"])
def test_all_frames_may_be_pinned_in_any_arrangement(arrange: str) -> None:
    assert spots(hung([A], arrange=arrange, rise=100, at=(pin("A", 10, 20),))) == [(10, 20)]


RIDGE = ((mm(0), mm(1000)), (mm(100), mm(2000)), (mm(200), mm(1000)), (mm(200), mm(500)), (mm(300), mm(500)))


@pytest.mark.parametrize(
    ("left", "right", "height"),
    [
        (0, 100, 1000),  # from end to vertex
        (100, 150, 1500),  # from vertex down
        (50, 150, 1500),  # over the ridge
        (100, 200, 1000),  # up to the upright part, which belongs to the next stretch
        (150, 201, 500),  # just past it
        (200, 300, 500),  # beyond it
    ],
)
def test_the_top_edge_over_a_stretch_is_its_lowest_there(left: int, right: int, height: int) -> None:
    assert lowest(RIDGE, mm(left), mm(right)) == height


def test_a_top_edge_is_high_enough_in_stretches() -> None:
    assert stretches(RIDGE, mm(1500)) == ((mm(50), mm(150)),)
    assert stretches(RIDGE, mm(500)) == ((mm(0), mm(300)),)
    assert stretches(RIDGE, mm(2001)) == ()
    assert sideways(RIDGE, mm(0), mm(60), mm(1500)) == 50
    assert sideways(RIDGE, mm(140), mm(60), mm(1500)) == -50  # to 90 … 150
    assert sideways(RIDGE, mm(0), mm(101), mm(1500)) is None
    valley = ((mm(0), mm(900)), (mm(100), mm(100)), (mm(200), mm(900)), (mm(300), mm(900)))
    assert sideways(valley, mm(100), mm(10), mm(500)) == 50  # to 150 … 160, and not to 40 … 50
    assert sideways(valley, mm(85), mm(10), mm(500)) == -45


def test_an_inch_job_is_asked_for_a_rail_in_inches() -> None:
    bare = piece("P", "16x20 in", rail=None)
    with pytest.raises(Unhangable) as caught:
        hung([bare], size="12x8 ft", eye="57 in", printer=INCHES)
    (problem,) = caught.value.problems
    assert 'rail = "3/4 in"' in problem.text
