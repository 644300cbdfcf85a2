"""Wishes for pairs in a cluster: granted as far as a compact cluster can, and a finding where not."""

from __future__ import annotations

from itertools import combinations
from typing import Any

import pytest

from matplan.job.records import Pin
from matplan.walls.cluster import arranged, plain_shelves
from matplan.walls.records import SolvedWall
from matplan.walls.room import Obstacle, Room, Wish, area
from matplan.walls.wishes import broken, granted, strain
from tests.making import mm
from tests.walls.building import codes, hung, piece

SIZES = ["431x531 mm", "531x431 mm", "321x421 mm", "421x321 mm", "260x310 mm", "310x260 mm", "300x300 mm", "351x251 mm"]
FRAMES = [piece(f"P{n}", size) for n, size in enumerate(SIZES)]
PAIRS = [(f"P{n}", f"P{m}") for n, m in combinations(range(len(SIZES)), 2)]
ROOM = Room(box=(0, 0, 1000, 1000), middle=(500, 500), gap=10)


def beside(made: SolvedWall, pair: tuple[str, str]) -> bool:
    one, other = (next(hung.spot for hung in made.frames if hung.name == name) for name in pair)
    return granted(*one.beside(other), made.ask.gap, beside=True)


def cluster(**wishes: Any) -> SolvedWall:
    return hung(FRAMES, arrange="cluster", **wishes)


def test_without_a_wish_some_pairs_hang_together_and_some_do_not() -> None:
    made = cluster()
    together = [beside(made, pair) for pair in PAIRS]
    assert 8 < sum(together) < len(PAIRS) - 8


@pytest.mark.parametrize("pair", PAIRS[::4])
def test_a_pair_hangs_as_wished(pair: tuple[str, str]) -> None:
    near, apart = cluster(near=(pair,)), cluster(apart=(pair,))
    assert beside(near, pair)
    assert not beside(apart, pair)
    assert codes(near) == codes(apart) == []


def test_several_wishes_are_granted_together_and_the_cluster_stays_compact() -> None:
    near, apart = (("P0", "P6"), ("P1", "P4")), (("P0", "P1"), ("P2", "P3"))
    made = cluster(near=near, apart=apart)
    assert [beside(made, pair) for pair in (*near, *apart)] == [True, True, False, False]
    assert made == cluster(near=near, apart=apart)
    sizes = [(int(hung.spot.width), int(hung.spot.height)) for hung in made.frames]
    room = Room(box=(0, 0, 3600, 1900), middle=(1800, 950), gap=60)
    around = [
        (int(2 * h.spot.left), int(2 * h.spot.bottom), int(2 * h.spot.right), int(2 * h.spot.top)) for h in made.frames
    ]
    assert area(around) <= 4 * plain_shelves(sizes, room)[0].area


def test_a_frame_hangs_beside_a_pinned_one() -> None:
    pins = (("P0", Pin(left=mm(1600), bottom=mm(1200))),)
    assert not beside(cluster(at=pins), ("P0", "P6"))
    made = cluster(at=pins, near=(("P0", "P6"),))
    assert beside(made, ("P0", "P6"))
    assert made.frames[0].spot.left == 1600
    assert codes(made) == []


def test_a_wish_that_cannot_be_granted_is_a_finding() -> None:
    two = hung(FRAMES[:2], arrange="cluster", apart=(("P0", "P1"),))
    (finding,) = (found for found in two.findings if found.code == "wish-not-granted")
    assert finding.text.startswith('"P0" and "P1" hang beside each other, against the wish apart')
    others = tuple(("P0", f"P{n}") for n in range(1, 8))
    made = cluster(near=others)  # seven frames round one
    kept = [pair for pair in others if beside(made, pair)]
    assert len(kept) >= 4
    assert codes(made).count("wish-not-granted") == 7 - len(kept)


def test_of_several_copies_one_is_near_and_all_are_apart() -> None:
    near = Wish(beside=True, one=(0, 1), other=(2,))
    apart = Wish(beside=False, one=(0, 1), other=(2,))
    frames = [(0, 0, 50, 50), (200, 0, 250, 50), (60, 0, 110, 50)]
    for wish, count in ((near, 0), (apart, 1)):
        room = Room(box=ROOM.box, middle=ROOM.middle, gap=10, wishes=(wish,))
        assert broken(frames, room) == count
    pinned = Obstacle(box=(60, 0, 110, 50), margin=10, neighbour=True)
    room = Room(box=ROOM.box, middle=ROOM.middle, gap=10, obstacles=(pinned,), wishes=(near,))
    assert broken(frames[:2], room) == 0


def test_apart_is_further_than_two_gaps_or_corner_to_corner() -> None:
    assert not granted(10, -5, 10, beside=False)
    assert not granted(20, -5, 10, beside=False)
    assert granted(21, -5, 10, beside=False)
    assert granted(10, 10, 10, beside=False)
    assert granted(10, -5, 10, beside=True)
    assert not granted(11, -5, 10, beside=True)
    assert not granted(10, 0, 10, beside=True)


def test_a_pair_further_apart_strains_more() -> None:
    room = Room(box=ROOM.box, middle=ROOM.middle, gap=10, wishes=(Wish(beside=True, one=(0,), other=(1,)),))
    row = [(0, 0, 50, 50), (60, 0, 110, 50), (120, 0, 170, 50), (180, 0, 230, 50)]
    near, far = row, [row[0], row[2], row[1], row[3]]
    assert strain(near, room) == 0
    assert 1 < strain(far, room) < strain([row[0], row[3], row[1], row[2]], room) <= 2


def test_wishes_take_part_in_every_answer() -> None:
    sizes = [(64 * (20 + 3 * n), 64 * (50 - 4 * n)) for n in range(8)]
    wish = Wish(beside=True, one=(0,), other=(7,))
    room = Room(box=(0, 0, 64000, 64000), middle=(32000, 32000), gap=640, wishes=(wish,))
    counts = [broken(arranged(sizes, room, variant) or [], room) for variant in range(1, 5)]
    assert counts[0] == 0
