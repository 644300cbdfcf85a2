"""Every finding of a wall, absent and present, at its threshold."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

import pytest

from matplan.job.records import ByTwoHooks, ByWire
from matplan.mats.records import Level
from matplan.walls.cables import is_wired, zones
from matplan.walls.records import Spot
from tests.making import mm
from tests.walls.building import INCHES, codes, furniture, hung, keep, piece, pin, wall

A, B = piece("A", "400x500 mm"), piece("B", "300x400 mm")


def test_every_wall_gets_its_advice_on_light_and_on_what_the_loads_leave_out() -> None:
    found = hung([A, B]).findings
    assert [(f.code, f.level) for f in found] == [("light", Level.NOTE), ("loads-incomplete", Level.NOTE)]
    assert "50 lx" in found[0].text
    assert '"A" and "B"' in found[1].text
    whole = piece("W", "400x500 mm", height=Fraction(30), density=Fraction(700))
    assert [f.code for f in hung([whole]).findings] == ["light"]


def test_frames_placed_nearer_than_the_gap() -> None:
    def made(left: int, bottom: int) -> list[str]:
        return codes(hung([A, B], arrange="placed", at=(pin("A", 1000, 1000), pin("B", left, bottom))))

    assert made(1460, 1000) == []
    assert made(1459, 1000) == ["close-frames"]
    assert made(1400, 1000) == ["close-frames"]  # edge to edge
    assert made(1000, 1560) == []
    assert made(1441, 1541) == ["close-frames"]  # 41 and 41 apart, 58 the shortest way
    assert made(1443, 1543) == []  # 43 and 43: 60.8


def test_a_pinned_frame_near_its_arrangement() -> None:
    assert codes(hung([A, B], at=(pin("B", 2050, 1300),))) == ["close-frames"]
    assert codes(hung([A, B], at=(pin("B", 2060, 1300),))) == []


def test_a_frame_behind_furniture() -> None:
    def made(high: int) -> list[str]:
        return [
            c for c in codes(hung([A], furniture=(furniture("bench", 1700, 600, high),))) if c == "behind-furniture"
        ]

    assert made(1200) == []
    assert made(1201) == ["behind-furniture"]
    (finding,) = (
        f for f in hung([A], furniture=(furniture("bench", 1700, 600, 1250),)).findings if f.code == "behind-furniture"
    )
    assert finding.text == '"A" hangs behind "bench": 50 mm of it are hidden; eye = "1650 mm" hangs it above'
    assert codes(hung([A], furniture=(furniture("bench", 1700, 600, 1250),), eye=mm(1650))) == []


@pytest.mark.parametrize(("over", "found"), [(149, True), (150, False), (200, False), (201, True)])
def test_the_usual_distance_above_a_seat(over: int, found: bool) -> None:
    """6 to 8 in above a sofa (common practice), 150 to 200 mm in a metric job; the frame's base is at 1200."""
    made = hung([A], furniture=(furniture("sofa", 1500, 600, 1200 - over),))
    assert ("above-furniture" in codes(made)) is found


@pytest.mark.parametrize("over", [20, 149, 201, 450])
def test_the_eye_line_that_is_told_brings_the_group_to_the_usual_distance(over: int) -> None:
    sofa = furniture("sofa", 1500, 600, 1200 - over)
    (found,) = (f for f in hung([A], furniture=(sofa,)).findings if f.code == "above-furniture")
    told = re.search(r'eye = "(\d+) mm"', found.text)
    assert told is not None
    assert "above-furniture" not in codes(hung([A], furniture=(sofa,), eye=mm(told[1])))


def test_no_eye_line_is_told_where_frames_could_not_follow_it() -> None:
    sofa = furniture("sofa", 1500, 600, 900)
    kept = keep("switch", 100, 1000, 80, 80)
    (found,) = (f for f in hung([A], furniture=(sofa,), keep_clear=(kept,)).findings if f.code == "above-furniture")
    assert "eye =" not in found.text


@pytest.mark.parametrize("key", ["top", "base"])
def test_a_wall_lined_up_by_its_top_or_base_is_told_that_key(key: str) -> None:
    """`eye` would change nothing on such a wall."""
    bench = furniture("bench", 1500, 600, 1250)
    level: dict[str, Any] = {key: mm(1300)}
    (found,) = (f for f in hung([A], furniture=(bench,), **level).findings if f.code.endswith("furniture"))
    told = re.search(r"(\w+) = \"(\d+) mm\"", found.text)
    assert told is not None
    assert told[1] == key
    level = {key: mm(told[2])}
    assert codes(hung([A], furniture=(bench,), **level)) == []


def test_groups_with_levels_of_their_own_are_told_no_key_of_the_wall() -> None:
    bench = furniture("bench", 1500, 600, 1250)
    (own,) = wall([A], furniture=(bench,), eye=1400).flows
    made = hung([A], furniture=(bench,), groups=(own,))
    assert codes(made) == ["behind-furniture"]
    assert " = " not in made.findings[0].text
    (follows,) = wall([A], furniture=(bench,)).flows
    assert 'eye = "' in hung([A], furniture=(bench,), groups=(follows,)).findings[0].text


def test_furniture_that_reaches_past_the_wall() -> None:
    size = hung([A]).ask.size
    ends = furniture("sofa", size.width - 600, 600, 400)
    assert "furniture-beyond" not in codes(hung([A], furniture=(ends,)))
    (found,) = (
        f
        for f in hung([A], furniture=(furniture("sofa", size.width - 599, 600, 400),)).findings
        if f.code == "furniture-beyond"
    )
    assert (
        found.text == f'"sofa" reaches 1 mm past the wall\'s right edge; write left = "{size.width - 600} mm" or less'
    )
    assert "furniture-beyond" in codes(hung([A], furniture=(furniture("shelf", 0, 600, size.height + 1),)))


@pytest.mark.parametrize(("wide", "found"), [(480, False), (479, True), (800, False), (801, True)])
def test_a_group_about_two_thirds_of_the_furniture(wide: int, found: bool) -> None:
    """Common practice; noted below 1/2 and above 5/6: 400 / 480 = 5/6, 400 / 800 = 1/2."""
    made = hung([A], furniture=(furniture("sofa", 1800 - Fraction(wide, 2), wide, 1025),))
    assert ("group-width" in codes(made)) is found


def test_furniture_that_stands_elsewhere_is_no_matter() -> None:
    assert codes(hung([A], furniture=(furniture("sofa", 0, 600, 400),))) == []


def test_a_flat_wire_says_how_hard_it_pulls() -> None:
    """tan 10° = 0.1763: over a run of 190 mm a rise of 33.5 mm."""
    steep = hung([A], hang=ByWire(anchors=Fraction(1, 5), drop=mm(66)))  # 100 − 66 = 34
    flat = hung([A], hang=ByWire(anchors=Fraction(1, 5), drop=mm(67)))
    assert codes(steep) == []
    assert codes(flat) == ["flat-wire"]
    text = next(f.text for f in flat.findings if f.code == "flat-wire")
    assert "pulls with 2.9 times the weight" in text
    assert text.endswith('take a smaller drop: drop = "66 mm" or less')  # the steep one of above


def test_a_hook_beyond_its_rating() -> None:
    mass = A.mass
    assert codes(hung([A], hang=ByWire(rating=mass))) == []
    assert codes(hung([A], hang=ByWire(rating=mass - Fraction(1, 1000)))) == ["rating-exceeded"]
    assert codes(hung([A], hang=ByTwoHooks(inset=mm(40), down=mm(30), rating=mass / 2))) == []


def test_a_frame_too_heavy_for_one_person() -> None:
    """23 kg in ideal conditions: NIOSH lifting equation (published)."""
    heavy = piece("H", "1700x2200 mm", height=Fraction(40), density=Fraction(700))
    assert heavy.mass + (heavy.frame_mass or 0) > 23
    assert "heavy" in codes(hung([heavy], size="3600x3000 mm"))
    assert "heavy" not in codes(hung([A]))


def test_a_hook_in_a_cable_s_way() -> None:
    """A's hook hangs at 1800 and at 1700 − 500/3/2 = 1616.7."""
    above = keep("light switch", 1790, 400, 20, 80)
    beside = keep("socket", 100, 1600, 80, 80)
    assert codes(hung([A], keep_clear=(above,))) == ["cable-zone"]
    assert codes(hung([A], keep_clear=(beside,))) == ["cable-zone"]
    assert codes(hung([A], keep_clear=(keep("light switch", 1700, 400, 80, 80),))) == []
    assert codes(hung([A], keep_clear=(keep("radiator", 1790, 400, 20, 80),))) == []
    assert codes(hung([A], keep_clear=(keep("radiator", 1790, 400, 20, 80, kind="fitting"),))) == ["cable-zone"]


def test_cable_zones_are_as_wide_and_as_high_as_the_fitting_over_the_whole_wall() -> None:
    """UK prescribed zones (published in secondary sources)."""
    thing = keep("Socket", 200, 300, 150, 90)
    assert is_wired(thing)
    upright, level = zones(wall([A]), thing)
    assert upright == Spot(left=mm(200), bottom=mm(0), width=mm(150), height=mm(2400))
    assert level == Spot(left=mm(0), bottom=mm(300), width=mm(3600), height=mm(90))
    assert zones(wall([A]), keep("door", 0, 0, 900, 2000)) == ()


def test_what_stands_out_into_a_path() -> None:
    """At most 4 in between 27 and 80 in above the floor: 2010 ADA Standards 307.2 (published)."""
    deep = piece("D", "400x500 mm", height=mm("4 in") + 1)
    just = piece("J", "400x500 mm", height=mm("4 in"))
    assert codes(hung([deep])) == []
    assert codes(hung([deep], path=True)) == ["protrudes"]
    assert codes(hung([just], path=True)) == []
    high: dict[str, Any] = {"arrange": "placed", "size": "3600x3000 mm"}
    assert codes(hung([deep], path=True, at=(pin("D", 0, "80 in"),), **high)) == []
    assert codes(hung([deep], path=True, at=(pin("D", 0, "79 in"),), **high)) == ["protrudes"]
    assert codes(hung([deep], path=True, at=(pin("D", 0, 0),), **high)) == []  # 500 mm is below 27 in
    stair = ((mm(0), mm(0)), (mm(3600), mm(3600)))
    beside: dict[str, Any] = {"arrange": "placed", "size": "3600x7000 mm", "floor": stair, "path": True}
    assert codes(hung([deep], at=(pin("D", 3200, 5631),), **beside)) == ["protrudes"]  # 2031 above the highest step
    assert codes(hung([deep], at=(pin("D", 3200, 5632),), **beside)) == []  # 80 in are 2032
    unknown = piece("U", "400x500 mm", depth=None)
    (finding,) = (f for f in hung([unknown], path=True).findings if f.code == "protrudes")
    assert finding.level is Level.NOTE


def test_inch_jobs_read_inches() -> None:
    made = hung([A], printer=INCHES, furniture=(furniture("sofa", 1500, 600, 600),))
    assert "6 in to 8 in are usual" in next(f.text for f in made.findings if f.code == "above-furniture")
