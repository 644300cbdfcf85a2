"""Laws that hold for every wall, proved with shapely: an independent plane geometry (floats, so within a millionth of a
millimetre).
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely import Polygon, box
from shapely.affinity import scale as scaled

from matplan.job.records import Arrange, ByWire, KeepClear, Wall, Zone
from matplan.lengths import Size
from matplan.walls.hang import hang_wall
from matplan.walls.limits import kept_clear
from matplan.walls.records import SolvedWall, Spot, Unhangable
from tests.walls.building import METRIC, piece, pin, wall

NEAR = 1e-6
SIZES = ["200x260 mm", "260x200 mm", "310x410.5 mm", "301x301 mm", "150x240 mm", "8x10 in"]
PIECES = [piece(f"P{n}", size) for n, size in enumerate(SIZES)]
LENGTHS = st.integers(0, 600).map(lambda half: Fraction(half, 2))
MANY = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
FEW = settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def rectangle(spot: Spot) -> Polygon:
    return box(float(spot.left), float(spot.bottom), float(spot.right), float(spot.top))


@st.composite
def walls(draw: st.DrawFn, arrangements: tuple[str, ...] = tuple(Arrange)) -> Wall:
    """A wall with some frames, a zone, things to keep clear, maybe a pin and a slope; many of them cannot be hung."""
    count = draw(st.integers(1, 7))
    chosen = draw(st.lists(st.integers(0, len(PIECES) - 1), min_size=count, max_size=count))
    hung = tuple((index, chosen[:n].count(index) + 1) for n, index in enumerate(chosen))
    arrange = draw(st.sampled_from(arrangements))
    things = tuple(
        KeepClear(
            name=f"thing {n}",
            left=draw(LENGTHS) * 10,
            bottom=draw(LENGTHS) * 7,
            width=Fraction(80),
            height=Fraction(90),
            margin=margin,
        )
        for n, margin in enumerate(
            draw(st.lists(st.sampled_from([Fraction(0), Fraction(25), Fraction(101, 2)]), max_size=2))
        )
    )
    pinned: tuple[int, ...] = tuple(range(count)) if arrange == "placed" else draw(st.sampled_from([(), (), (0,)]))
    at = tuple(
        pin(PIECES[chosen[n]].name, 60 + (n % 4) * 620 + draw(LENGTHS), 300 + n // 4 * 900 + draw(LENGTHS))
        for n in pinned
    )
    at = tuple(sorted(at, key=lambda named: named[0]))
    slope = draw(st.sampled_from([(), (), ((0, 2600), (3000, 1500)), ((0, 1400), (900, 2600), (3000, 2600))]))
    zone = draw(st.sampled_from([{}, {}, {"left": 300, "right": 2901, "bottom": 400, "top": 2500}]))
    return wall(
        PIECES,
        size="3000x2600 mm",
        arrange=arrange,
        hung=hung,
        at=at,
        gap=draw(st.sampled_from([60, 0, "25.5", "2 1/2 in"])),
        eye=draw(st.sampled_from([1450, "1300.5", "57 in"])),
        zone=zone,
        rise=draw(st.sampled_from([40, "12.5"])),
        columns=draw(st.sampled_from([None, 1, 2, 3])),
        keep_clear=things,
        outline=tuple((Fraction(x), Fraction(y)) for x, y in slope),
        hang=ByWire(),
        variant=draw(st.integers(1, 5)),
    )


def tried(asked: Wall) -> SolvedWall | None:
    try:
        return hang_wall(asked, PIECES, METRIC)
    except Unhangable:
        return None


def check(made: SolvedWall) -> None:
    """No frame overlaps another, leaves the zone or the outline, or touches what is kept clear."""
    ask = made.ask
    zone = box(float(ask.zone.left), float(ask.zone.bottom), float(ask.zone.right), float(ask.zone.top))
    outline = ask.outline or ((Fraction(0), ask.size.height), (ask.size.width, ask.size.height))
    allowed = Polygon([(0, 0), *((float(x), float(y)) for x, y in outline), (float(ask.size.width), 0)])
    frames = [rectangle(hung.spot) for hung in made.frames]
    for frame in frames:
        assert zone.buffer(NEAR).covers(frame)
        assert allowed.buffer(NEAR).covers(frame)
        for thing in ask.keep_clear:
            assert frame.intersection(rectangle(kept_clear(thing))).area < NEAR
            bare = rectangle(kept_clear(replace(thing, margin=Fraction(0))))
            assert not frame.intersects(bare.buffer(-NEAR) if thing.margin else bare.buffer(NEAR))
    for one, other in combinations(frames, 2):
        assert one.intersection(other).area < NEAR
    for hung, frame in zip(made.frames, frames, strict=True):
        for hook in hung.hooks:
            assert frame.contains(
                box(float(hook.left), float(hook.height), float(hook.left), float(hook.height)).centroid
            )


@MANY
@given(walls(tuple(a for a in Arrange if a is not Arrange.CLUSTER)))
def test_nothing_overlaps_leaves_the_wall_or_touches_what_is_kept_clear(asked: Wall) -> None:
    made = tried(asked)
    if made is not None:
        check(made)


@FEW
@given(walls(("cluster",)))
def test_a_cluster_keeps_the_same_law_and_its_neighbours_the_gap_exactly(asked: Wall) -> None:
    made = tried(asked)
    if made is None:
        return
    check(made)
    gap = float(asked.gap)
    frames = [rectangle(hung.spot) for hung in made.frames]
    for one, other in combinations(frames, 2):
        assert one.distance(other) >= gap - NEAR
    for hung, frame in zip(made.frames, frames, strict=True):
        distances = [frame.distance(other) for other in frames if other is not frame]
        if sum(not other.pinned for other in made.frames) > 1 and not hung.pinned:
            assert min(distances) == pytest.approx(gap, abs=NEAR)


@MANY
@given(walls(("centre-line", "flush-top", "flush-base", "stepped", "grid")))
def test_the_least_distance_in_a_row_is_the_gap(asked: Wall) -> None:
    made = tried(replace(asked, at=()))
    if made is None or len(made.frames) < 2:
        return
    frames = [rectangle(hung.spot) for hung in made.frames]
    least = min(one.distance(other) for one, other in combinations(frames, 2))
    assert least >= float(asked.gap) - NEAR
    if asked.arrange is not Arrange.GRID:  # in a grid frames may be smaller than their cells
        assert least == pytest.approx(float(asked.gap), abs=NEAR)


@MANY
@given(walls(("centre-line", "flush-top", "flush-base", "grid")))
def test_a_mirrored_wall_hangs_the_mirrored_way(asked: Wall) -> None:
    """Zone, things and outline mirrored and the frames in the other order: every frame comes to hang in its own
    reflection.
    """
    count = len(asked.hung)
    if asked.arrange is Arrange.GRID and count % min(asked.columns or 1, count):
        return  # a short last row begins at the left
    if asked.arrange is Arrange.GRID and (asked.columns is None or count > asked.columns):
        return  # the other order is the mirrored one for a single row only
    plain = replace(asked, at=())
    made, mirrored = tried(plain), tried(_mirrored(plain))
    assert (made is None) == (mirrored is None)
    if made is None or mirrored is None:
        return
    width = float(asked.size.width)
    for hung, other in zip(made.frames, reversed(mirrored.frames), strict=True):
        reflected = scaled(rectangle(hung.spot), xfact=-1, origin=(width / 2, 0))
        assert reflected.symmetric_difference(rectangle(other.spot)).area < NEAR
        assert [h.height for h in hung.hooks] == [h.height for h in other.hooks]


def _mirrored(asked: Wall) -> Wall:
    width, zone = asked.size.width, asked.zone
    return replace(
        asked,
        hung=tuple(reversed(asked.hung)),
        zone=Zone(left=width - zone.right, right=width - zone.left, bottom=zone.bottom, top=zone.top),
        keep_clear=tuple(replace(t, left=width - t.left - t.width) for t in asked.keep_clear),
        outline=tuple((width - x, y) for x, y in reversed(asked.outline)),
    )


@MANY
@given(walls(("placed",)), st.integers(0, 3))
def test_the_least_shift_of_a_refused_frame_mends_it(asked: Wall, number: int) -> None:
    """A frame over one thing that is kept clear hangs free of it once it moves as the message says."""
    thing = KeepClear(
        name="t",
        left=Fraction(900 + number),
        bottom=Fraction(900),
        width=Fraction(90),
        height=Fraction(70),
        margin=Fraction(10),
    )
    spot = Spot(left=Fraction(700), bottom=Fraction(850), width=Fraction(260), height=Fraction(200))
    bare = replace(
        asked, hung=((1, 1),), at=(pin("P1", 700, 850),), keep_clear=(thing,), outline=(), zone=_whole(asked.size)
    )
    with pytest.raises(Unhangable) as caught:
        hang_wall(bare, PIECES, METRIC)
    (problem,) = caught.value.problems
    amount, way = problem.text.rsplit(" is ", 1)[1].split(" mm ")
    dx, dy = {"to the left": (-1, 0), "to the right": (1, 0), "up": (0, 1), "down": (0, -1)}[way]
    moved = spot.moved(dx * Fraction(amount), dy * Fraction(amount))
    assert tried(replace(bare, at=(pin("P1", moved.left, moved.bottom),))) is not None
    almost = spot.moved(dx * (Fraction(amount) - 1), dy * (Fraction(amount) - 1))
    assert tried(replace(bare, at=(pin("P1", almost.left, almost.bottom),))) is None


def _whole(size: Size) -> Zone:
    return Zone(left=Fraction(0), right=size.width, bottom=Fraction(0), top=size.height)
