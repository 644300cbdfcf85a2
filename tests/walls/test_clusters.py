"""Clusters: compact, round what is kept clear, balanced, and the same each time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matplan.walls.cluster import arranged, cost_of, plain_shelves
from matplan.walls.grouping import Measure, alike, side_by_side
from matplan.walls.records import SolvedWall, Spot, Unhangable, around
from matplan.walls.room import Box, Mirror, Obstacle, Pair, Room, area, facing, is_centred, meet, off_middle, round_all
from matplan.walls.settling import aside, joined, loose, settled
from matplan.walls.shelves import boxes, every, shelves
from matplan.walls.skyline import stacked
from matplan.walls.wishes import granted
from tests.making import mm
from tests.walls.building import INCHES, centre, codes, hung, keep, piece, pin

FRAMES = [
    piece(f"P{n}", size)
    for n, size in enumerate(
        ["431x531 mm", "531x431 mm", "321x421 mm", "421x321 mm", "260x310 mm", "310x260 mm", "300x300 mm"]
    )
]


def check(made: SolvedWall) -> Spot:
    """That frames keep their distances exactly; returns the box round those that are not pinned."""
    gap = made.ask.gap
    for one, other in combinations(made.frames, 2):
        across, up = one.spot.beside(other.spot)
        assert max(across, up) >= gap
    for one in (frame for frame in made.frames if not frame.pinned):
        assert any(granted(*one.spot.beside(other.spot), gap, beside=True) for other in made.frames if other is not one)
    return around([one.spot for one in made.frames if not one.pinned])


def test_a_cluster_hangs_in_the_zone_s_middle_on_the_eye_line() -> None:
    made = hung(FRAMES, arrange="cluster", zone={"left": 201, "right": 3000})
    assert centre(check(made)) == (Fraction(3201, 2), 1450)
    assert codes(made) == []


def test_one_frame_is_a_cluster_too() -> None:
    (only,) = hung(FRAMES[:1], arrange="cluster").frames
    assert centre(only.spot) == (1800, 1450)


def test_the_same_wall_gives_the_same_cluster_and_a_variant_another() -> None:
    def made(variant: int) -> list[Spot]:
        return [f.spot for f in hung(FRAMES, arrange="cluster", variant=variant).frames]

    assert made(1) == made(1)
    found = [made(variant) for variant in (1, 2, 3, 4, 5)]
    assert all(one != other for one, other in combinations(found, 2))
    for spots in found:
        assert centre(around(spots)) == (1800, 1450)


def test_inches_and_odd_lengths_keep_the_gap_exactly() -> None:
    frames = [
        piece(f"I{n}", size)
        for n, size in enumerate(["16 1/16x20 in", "11x14 3/8 in", "8x10 in", "333.3x250.7 mm", "9 1/32x12 in"])
    ]
    made = hung(frames, arrange="cluster", gap="2 1/2 in", size="12x8 ft", eye="57 in", printer=INCHES)
    assert centre(check(made)) == (mm("72 in"), mm("57 in"))


def test_a_cluster_goes_round_what_is_kept_clear_and_stays_in_the_middle() -> None:
    switch = keep("plate", 1790, 1400, 80, 80, margin=50)
    made = hung(FRAMES, arrange="cluster", keep_clear=(switch,))
    assert centre(check(made)) == (1800, 1450)
    taken = Spot(left=mm(1740), bottom=mm(1350), width=mm(180), height=mm(180))
    assert not any(f.spot.overlaps(taken) for f in made.frames)


def test_a_thing_without_a_margin_is_not_even_touched() -> None:
    plate = keep("plate", 1790, 1400, 80, 80)
    made = hung(FRAMES, arrange="cluster", keep_clear=(plate,))
    bare = Spot(left=plate.left, bottom=plate.bottom, width=plate.width, height=plate.height)
    assert min(max(f.spot.beside(bare)) for f in made.frames) > 0


def test_a_cluster_goes_round_a_pinned_frame_at_the_gap() -> None:
    made = hung(FRAMES, arrange="cluster", at=(pin("P0", 1600, 1200),))
    assert made.frames[0].spot.left == 1600
    check(made)
    assert "close-frames" not in codes(made)


def test_a_cluster_hangs_below_a_sloping_edge() -> None:
    slope = ((mm(0), mm(2400)), (mm(1500), mm(2400)), (mm(3600), mm(1500)))
    made = hung(FRAMES, arrange="cluster", outline=slope)  # raises where a frame is above it
    check(made)


def test_a_cluster_that_must_move_aside_says_so() -> None:
    made = hung(FRAMES[:1], arrange="cluster", keep_clear=(keep("pillar", 1800, 0, 100, 2400),))
    assert made.frames[0].spot.right == 1799  # a step from the pillar
    (finding,) = (f for f in made.findings if f.code == "off-centre")
    assert "216.5 mm left of the zone's middle, because" in finding.text  # 1800 − (1799 − 431/2)


def test_a_cluster_without_room_says_how_much_is_missing() -> None:
    with pytest.raises(Unhangable) as caught:
        hung(FRAMES[:1], arrange="cluster", zone={"left": 0, "right": 400, "bottom": 1200, "top": 1650})
    (problem,) = caught.value.problems
    assert problem.text == (
        "the cluster finds no room for its frame: closely packed they take 431 mm × 531 mm, and round the eye "
        "line at 1450 mm "
        "the zone has 400 mm × 400 mm: 31 mm too narrow and 131 mm too low; take a larger zone, a smaller gap or "
        "fewer frames"
    )


# --- compactness -----------------------------------------------------------------------------------------------------

SCALE = 64


def some(count: int, seed: int) -> list[Pair]:
    chance = Random(seed)
    return [(SCALE * chance.randrange(200, 601), SCALE * chance.randrange(200, 601)) for _ in range(count)]


def open_wall(gap: int = 60) -> Room:
    return Room(box=(0, 0, 9000 * SCALE, 6000 * SCALE), middle=(4500 * SCALE, 3000 * SCALE), gap=gap * SCALE)


def best_shelves(sizes: Sequence[Pair], gap: int, wide: int, high: int) -> int:
    """The least area of shelves, first fit by falling height, over every width: a sum of its own, from the sums of
    frames' widths that a row may come to.
    """
    falling = sorted(sizes, key=lambda size: -size[1])
    widest = max(width for width, _ in sizes)
    areas, width = [], wide
    while width >= widest:
        rows: list[list[Pair]] = []
        for frame in falling:
            for row in rows:
                if sum(w + gap for w, _ in row) + frame[0] <= width:
                    row.append(frame)
                    break
            else:
                rows.append([frame])
        across = max(sum(w + gap for w, _ in row) - gap for row in rows)
        up = sum(max(h for _, h in row) + gap for row in rows) - gap
        if up <= high:
            areas.append(across * up)
        width = across - 1
    return min(areas)


TURNS = [Mirror(middle=open_wall().middle, across=across, up=up) for across in (False, True) for up in (False, True)]


@pytest.mark.parametrize(("count", "seed"), [(3, 0), (4, 77), (5, 192), (8, 2), (13, 3), (19, 29), (27, 4), (40, 5)])
def test_no_cluster_is_larger_than_the_best_plain_shelves(count: int, seed: int) -> None:
    sizes, room = some(count, seed), open_wall()
    found = arranged(sizes, room)
    assert found is not None
    assert area(found) <= best_shelves(sizes, room.gap, *room.most)


@settings(max_examples=25, deadline=None, derandomize=True)
@given(
    st.lists(st.tuples(st.integers(20, 60), st.integers(20, 60)), min_size=3, max_size=9),
    st.integers(0, 10),
    st.integers(60, 400),
    st.integers(60, 200),
    st.integers(1, 6),
)
def test_no_answer_in_any_zone_is_larger_than_plain_shelves(
    sizes: list[Pair], gap: int, wide: int, high: int, variant: int
) -> None:
    sizes = [(64 * w, 64 * h) for w, h in sizes]
    room = Room(box=(0, 0, 64 * wide, 64 * high), middle=(32 * wide, 32 * high), gap=64 * gap)
    if not plain_shelves(sizes, room):
        return
    found = arranged(sizes, room, variant)
    assert found is not None
    assert all(map(room.takes, found))
    assert not loose(found, room)
    assert area(found) <= best_shelves(sizes, room.gap, *room.most)


def test_a_cluster_round_a_thing_is_no_larger_than_shelves_that_clear_it() -> None:
    """The thing stands in the gap between two shelves of equal frames: a single row or column would hang on it."""
    thing = Obstacle(box=(150, 98, 160, 102), margin=0)
    room = Room(box=(0, 0, 450, 200), middle=(225, 100), gap=10, obstacles=(thing,))
    sizes = [(100, 60)] * 8
    found = arranged(sizes, room)
    assert found is not None
    assert all(map(room.takes, found))
    assert area(found) == 430 * 130
    assert area(arranged(sizes, replace(room, obstacles=(), box=(-400, 0, 900, 200))) or []) == 870 * 60


def test_variants_differ_by_more_than_equal_frames_that_change_places_and_get_no_better() -> None:
    sizes, room = [*some(5, 8), *some(3, 8)], open_wall()
    found = [arranged(sizes, room, variant) or [] for variant in range(1, 9)]
    assert len({tuple(sorted(boxes)) for boxes in found}) == len(found)
    measure = Measure(sizes, room, plain_shelves(sizes, room)[0].area)
    unturned = [min(tuple(sorted(m.box(box) for box in boxes)) for m in TURNS) for boxes in found]
    assert len(set(unturned)) == len(found)  # the first are no mirror images
    costs = [cost_of(boxes, room, measure) for boxes in found]
    assert costs == sorted(costs)


def test_variants_begin_again_where_there_are_no_more() -> None:
    sizes, room = [(400 * SCALE, 300 * SCALE)] * 3, open_wall()
    found = [arranged(sizes, room, variant) or [] for variant in (1, 2, 3, 4)]
    row, column = (1320 * 300, 400 * 1020)
    assert [area(boxes) // SCALE**2 for boxes in found] == [row] * 4  # a column takes more than a row
    assert column > row
    assert found[0] == found[1] == found[3]


def test_equal_frames_are_kept_apart_where_that_costs_nothing() -> None:
    sizes = [
        (400 * SCALE, 400 * SCALE),
        (400 * SCALE, 400 * SCALE),
        (400 * SCALE, 370 * SCALE),
        (400 * SCALE, 370 * SCALE),
    ]
    found = arranged(sizes, open_wall())
    assert found is not None
    assert not facing(found[0], found[1], 60 * SCALE)
    assert not facing(found[2], found[3], 60 * SCALE)


def test_a_cluster_s_weight_is_near_its_middle() -> None:
    for seed in range(4):
        found = arranged(some(12, seed), open_wall())
        assert found is not None
        left, bottom, right, top = round_all(found)
        areas = [(c - a) * (d - b) for a, b, c, d in found]
        x = sum(k * (a + c) / 2 for k, (a, _, c, _) in zip(areas, found, strict=True)) / sum(areas)
        y = sum(k * (b + d) / 2 for k, (_, b, _, d) in zip(areas, found, strict=True)) / sum(areas)
        assert abs(x - (left + right) / 2) < 0.06 * (right - left)
        assert abs(y - (bottom + top) / 2) < 0.06 * (top - bottom)


# --- the parts of the search -----------------------------------------------------------------------------------------


def test_shelves_fill_up_to_the_width_by_falling_height() -> None:
    early = shelves([(6, 9), (8, 8), (3, 7)], 1, 10)
    assert early.rows == ((0, 2), (1,))  # the first shelf that has room, not the last
    made = shelves([(4, 3), (5, 9), (3, 9), (2, 5)], 1, 10)
    assert made.rows == ((1, 2), (3, 0))
    assert (made.width, made.height) == (9, 15)  # 5 + 1 + 3; 9 + 1 + 5
    assert boxes(made, [(4, 3), (5, 9), (3, 9), (2, 5)], 1)[1:3] == [(0, 0, 5, 9), (6, 0, 9, 9)]


def test_every_width_of_shelves_comes_once() -> None:
    # all in one row; 5 + 1 + 3 over 4; 3 + 1 + 4 under 5; one above the other
    assert [made.width for made in every([(4, 3), (5, 9), (3, 9)], 1, 100)] == [14, 9, 8, 5]


def test_a_stack_takes_the_lowest_place_from_the_left() -> None:
    room = Room(box=(0, 0, 100, 100), middle=(50, 50), gap=1)
    found = stacked([0, 1, 2], [(4, 6), (5, 2), (3, 3)], room, 0, 0, 10)
    assert found == [(0, 0, 4, 6), (5, 0, 10, 2), (5, 3, 8, 6)]


def test_a_stack_goes_above_what_is_kept_clear_or_to_its_right() -> None:
    thing = Obstacle(box=(2, 0, 4, 3), margin=1)
    room = Room(box=(0, 0, 100, 100), middle=(50, 50), gap=1, obstacles=(thing,))
    assert stacked([0], [(4, 6)], room, 0, 0, 10) == [(5, 0, 9, 6)]
    assert stacked([0], [(6, 6)], room, 0, 0, 10) == [(0, 4, 6, 10)]


def test_a_stack_that_is_too_narrow_has_no_place() -> None:
    assert stacked([0], [(11, 6)], Room(box=(0, 0, 100, 100), middle=(50, 50), gap=1), 0, 0, 10) is None


def test_settling_draws_frames_to_the_gap_and_never_outwards() -> None:
    room = Room(box=(0, 0, 1000, 1000), middle=(500, 500), gap=10)
    start: list[Box] = [
        (0, 0, 100, 100),
        (300, 0, 400, 100),
        (0, 300, 100, 400),
        (300, 300, 400, 400),
        (150, 150, 250, 250),
    ]
    found = settled(start, room)
    assert not any(meet(one, (a - 10, b - 10, c + 10, d + 10)) for one, (a, b, c, d) in combinations(found, 2))
    left, bottom, right, top = round_all(found)
    assert (right - left) * (top - bottom) < 400 * 400


def test_settling_stops_at_what_is_kept_clear() -> None:
    thing = Obstacle(box=(120, 0, 130, 1000), margin=5)
    room = Room(box=(0, 0, 1000, 1000), middle=(500, 500), gap=10, obstacles=(thing,))
    assert settled([(0, 0, 100, 100), (400, 0, 500, 100)], room) == [(15, 0, 115, 100), (200, 0, 300, 100)]


def test_equal_neighbours_weight_off_the_middle_and_slender_shapes_cost() -> None:
    room = Room(box=(0, 0, 9000, 9000), middle=(4500, 4500), gap=10)
    sizes = [(100, 100), (100, 100), (100, 90), (100, 90)]
    measure = Measure(sizes, room)
    apart: list[Box] = [(0, 0, 100, 100), (110, 100, 210, 200), (110, 0, 210, 90), (0, 110, 100, 200)]
    beside: list[Box] = [(0, 0, 100, 100), (110, 0, 210, 100), (0, 110, 100, 200), (110, 110, 210, 200)]
    assert side_by_side(apart, measure.groups, 10) == 0
    assert side_by_side(beside, measure.groups, 10) == 2
    unlike = Measure([(100, 100), (100, 101), (100, 90), (100, 91)], room)
    assert unlike.cost(beside) < 0.99 * measure.cost(beside)
    assert unlike.cost(apart) == pytest.approx(measure.cost(apart), rel=0.01)
    even = Measure([(100, 300), (100, 100), (100, 101)], room)
    middle: list[Box] = [(110, 0, 210, 300), (0, 100, 100, 200), (220, 100, 320, 200)]
    lopsided: list[Box] = [(0, 0, 100, 300), (110, 100, 210, 200), (220, 100, 320, 200)]
    assert even.cost(middle) < even.cost(lopsided)
    row = Measure([(100, 100)] * 3, room)
    stack: list[Box] = [(0, 0, 100, 100), (0, 110, 100, 210), (0, 220, 100, 320)]
    assert row.cost([(b, a, d, c) for a, b, c, d in stack]) < row.cost(stack)  # lying before upright
    assert alike([(1, 1)] * 3) == ()  # nothing can be avoided


def test_a_loose_frame_joins_the_others() -> None:
    room = Room(box=(0, 0, 1000, 1000), middle=(500, 500), gap=10)
    start: list[Box] = [(0, 0, 100, 100), (110, 0, 210, 100), (150, 300, 180, 330)]
    assert loose(start, room) == [2]
    found = joined(start, room)
    assert found is not None
    assert found[2] == (150, 110, 180, 140)


def test_a_cluster_moves_aside_by_as_little_as_may_be() -> None:
    thing = Obstacle(box=(480, 400, 500, 600), margin=0)
    room = Room(box=(0, 0, 1000, 1000), middle=(500, 500), gap=10, obstacles=(thing,))
    assert aside([(450, 450, 550, 550)], room) == [(500, 450, 600, 550)]
    low = Room(box=(0, 0, 540, 1000), middle=(500, 500), gap=10, obstacles=(thing,))
    assert aside([(450, 450, 540, 550)], low) == [(390, 450, 480, 550)]
    full = Obstacle(box=(0, 0, 1000, 1000), margin=0)
    assert (
        aside([(450, 450, 540, 550)], Room(box=(0, 0, 1000, 1000), middle=(500, 500), gap=10, obstacles=(full,)))
        is None
    )


def test_a_mirror_changes_sides_about_the_middle() -> None:
    room = Room(box=(0, 0, 100, 200), middle=(40, 90), gap=1)
    turn = Mirror(middle=room.middle, across=True, up=False)
    assert turn.box((10, 20, 30, 45)) == (50, 20, 70, 45)
    assert turn.box(turn.box((10, 20, 30, 45))) == (10, 20, 30, 45)
    assert Mirror(middle=room.middle, across=False, up=True).box((10, 20, 30, 45)) == (10, 135, 30, 160)
    assert is_centred([(30, 80, 50, 100)], room)
    assert off_middle([(30, 80, 60, 100)], room) == (5, 0)
