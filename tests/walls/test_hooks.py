"""Hooks, wires and loads by every way of hanging."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import pytest

from matplan.job.records import ByCleat, BySawtooth, ByTwoHooks, ByWire, Hang
from matplan.walls.records import HungFrame, Unhangable
from tests.making import mm
from tests.walls.building import Pair, hung, piece

A = piece("A", "400x600 mm", height=Fraction(30), density=Fraction(700))


def one(hang: Hang) -> HungFrame:
    (frame,) = hung([A], hang=hang).frames
    return frame


def places(frame: HungFrame) -> list[Pair]:
    return [(hook.left, hook.height) for hook in frame.hooks]


def test_a_wire_hangs_on_one_hook_in_the_middle() -> None:
    frame = one(ByWire(anchors=Fraction(1, 3), drop=mm(60)))
    # the frame hangs from 1600 and from 1150: its middle at 1800, its top at 1750
    assert places(frame) == [(1800, 1690)]
    wire = frame.wire
    assert wire is not None
    assert (wire.rise, wire.run) == (mm(140), mm(190))  # 600/3 − 60; (400 − 20) / 2
    assert wire.angle_deg == pytest.approx(math.degrees(math.atan(140 / 190)), abs=1e-12)
    weight = float(frame.frame.mass) * 9.80665
    assert wire.tension_n == pytest.approx(weight / (2 * math.sin(math.radians(wire.angle_deg))), rel=1e-12)
    assert wire.taut == pytest.approx(2 * math.hypot(140, 190))


def test_the_usual_drop_is_half_the_anchors_depth() -> None:
    assert places(one(ByWire(anchors=Fraction(1, 4)))) == [(1800, 1675)]  # 1750 − 600/4/2


def test_the_hook_carries_the_whole_frame_and_two_hooks_share_it() -> None:
    mass = A.mass + (A.frame_mass or 0)
    assert A.frame_mass is not None
    assert [hook.load for hook in one(ByWire()).hooks] == [mass]
    assert [hook.load for hook in one(ByTwoHooks(inset=mm(40), down=mm(30))).hooks] == [mass / 2, mass / 2]


def test_two_hooks_are_set_in_from_the_sides() -> None:
    frame = one(ByTwoHooks(inset=mm(40), down=mm(30)))
    assert places(frame) == [(1640, 1720), (1960, 1720)]
    assert frame.wire is None


def test_a_sawtooth_hangs_on_one_hook() -> None:
    assert places(one(BySawtooth(down=mm(25)))) == [(1800, 1725)]


def test_a_cleat_is_screwed_at_its_ends() -> None:
    assert places(one(ByCleat(down=mm(50), width=mm(300)))) == [(1650, 1700), (1950, 1700)]
    assert places(one(ByCleat(down=mm(50)))) == [(1620, 1700), (1980, 1700)]  # between the rails: 400 − 2 × 20


@pytest.mark.parametrize(
    ("hang", "where", "said"),
    [
        (ByWire(drop=mm(200)), "hang.drop", "write a drop of less than 200 mm"),  # 600 / 3: at the anchors
        (ByWire(drop=mm(201)), "hang.drop", "tightened to 201 mm below the top, but it is anchored 200 mm below it"),
        (ByTwoHooks(inset=mm(200), down=mm(30)), "hang.in", "it is 400 mm wide; write less than half"),
        (ByTwoHooks(inset=mm(10), down=mm(600)), "hang.down", "which is 600 mm high; write less"),
        (BySawtooth(down=mm(700)), "hang.down", '700 mm below the top is below "A"'),
        (ByCleat(down=mm(30), width=mm(401)), "hang.width", "the cleat of 401 mm is longer than"),
    ],
)
def test_what_cannot_hold_is_refused(hang: Hang, where: str, said: str) -> None:
    with pytest.raises(Unhangable) as caught:
        hung([A], hang=hang)
    (problem,) = caught.value.problems
    assert problem.where == where
    assert said in problem.text


def test_a_drop_just_above_the_anchors_is_taken() -> None:
    assert one(ByWire(drop=mm(199))).wire is not None


def test_frames_of_one_size_are_refused_once() -> None:
    with pytest.raises(Unhangable) as caught:
        hung([A, A, piece("B", "300x300 mm")], hung=((0, 1), (0, 2), (2, 1)), hang=ByWire(drop=mm(300)))
    assert ['"A"' in p.text for p in caught.value.problems] == [True, False]


def test_a_wall_of_weightless_frames_has_no_tension() -> None:
    bare = replace(A, mass=Fraction(0), frame_mass=None)
    (frame,) = hung([bare]).frames
    assert frame.wire is not None
    assert frame.wire.tension_n == 0
