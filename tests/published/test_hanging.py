"""Hook heights, wires and what stands out into a path, against published figures and by their own sums."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest

from matplan.job.records import ByWire
from matplan.lengths import INCH
from matplan.mats.findings import LIFTING_LIMIT_KG
from matplan.walls.findings import PROTRUDING, PROTRUDING_FROM, PROTRUDING_TO
from matplan.walls.hanging import hook_height
from matplan.walls.records import GRAVITY, Wire
from tests.making import mm
from tests.walls.building import INCHES, hung, piece


def with_angle(degrees: float, mass: Fraction = Fraction(1)) -> Wire:
    """A wire at that angle, its rise to a millionth of a millimetre over a metre."""
    return Wire(rise=Fraction(round(math.tan(math.radians(degrees)) * 10**9), 10**6), run=Fraction(1000), mass=mass)


@pytest.mark.parametrize(("centre", "height", "drop", "hook"), [(57, 30, 1, 71), (57, 20, 2, 65)])
def test_hook_heights(centre: int, height: int, drop: int, hook: int) -> None:
    """Derived: 57 + 30 / 2 − 1 = 71 in and 57 + 20 / 2 − 2 = 65 in."""
    assert hook_height(Fraction(centre), Fraction(height), Fraction(drop)) == hook


@pytest.mark.parametrize(("height", "drop", "hook"), [(30, 1, 71), (20, 2, 65)])
def test_hook_heights_on_a_wall(height: int, drop: int, hook: int) -> None:
    """The same two through the whole wall in an inch job, whose eye line is at 57 in."""
    made = hung(
        [piece("P", f"16x{height} in")], size="12x8 ft", eye="57 in", hang=ByWire(drop=mm(f"{drop} in")), printer=INCHES
    )
    ((only,),) = (frame.hooks for frame in made.frames)
    assert only.height == hook * INCH


def test_two_wires_at_three_quarters_of_the_weight() -> None:
    """Derived, as in a physics exercise: two wires, T = 0.75 W each → 48.19° from the vertical, which is
    acos(1 / 1.5).
    """
    wire = with_angle(90 - 48.19)
    assert wire.tension_n / float(wire.weight) == pytest.approx(0.75, abs=5e-5)
    exact = math.degrees(math.acos(1 / (2 * 0.75)))
    assert exact == pytest.approx(48.19, abs=0.005)
    assert with_angle(90 - exact).tension_n / float(wire.weight) == pytest.approx(0.75, rel=1e-8)


@pytest.mark.parametrize(
    ("degrees", "times"), [(10, 2.879), (15, 1.932), (20, 1.462), (30, 1.000), (45, 0.707), (60, 0.577)]
)
def test_tension_by_angle(degrees: float, times: float) -> None:
    """Derived, T = W / (2 sin a): 10° 2.879 W, 15° 1.932, 20° 1.462, 30° 1.000, 45° 0.707, 60° 0.577 (to
    three places).
    """
    wire = with_angle(degrees, Fraction(37, 10))
    assert wire.angle_deg == pytest.approx(degrees, abs=1e-6)
    assert wire.tension_n / float(wire.weight) == pytest.approx(times, abs=6e-4)


def test_tension_agrees_with_the_balance_of_forces() -> None:
    """The two halves' upward parts carry the weight: 2 T sin a = W (statics)."""
    wire = with_angle(23.5, Fraction(11, 4))
    assert 2 * wire.tension_n * math.sin(math.radians(wire.angle_deg)) == pytest.approx(2.75 * 9.80665, rel=1e-12)


def test_standard_gravity() -> None:
    """9.80665 m/s², 3rd General Conference on Weights and Measures, 1901 (published)."""
    assert Fraction("9.80665") == GRAVITY


def test_protruding_objects() -> None:
    """2010 ADA Standards for Accessible Design 307.2 (published): 27 to 80 in (685 to 2030 mm), 4 in (100 mm)."""
    assert (round(PROTRUDING_FROM), round(PROTRUDING_TO), round(PROTRUDING)) == (686, 2032, 102)


def test_lifting_limit() -> None:
    """NIOSH, revised lifting equation: 23 kg, 51 lb (published)."""
    assert LIFTING_LIMIT_KG == 23
    assert LIFTING_LIMIT_KG / Fraction("0.45359237") == pytest.approx(51, abs=0.5)
