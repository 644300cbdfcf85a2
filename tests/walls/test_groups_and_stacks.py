"""Stacks in rows, groups on one wall, things to hang over, heights of tops and bases, pins of one coordinate, stairs:
each with the sum beside its number.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import box

from matplan.faults import JobError
from matplan.job import parse_job
from matplan.planning import Plan, plan

FRAMES = """[frame.a]
rabbet = "372 x 472 mm"
lip = "6 mm"
rail = "20 mm"
[frame.b]
rabbet = "272 x 172 mm"
lip = "6 mm"
rail = "20 mm"
"""
"""Frames of 400 × 500 and 300 × 200 mm outside: rabbet + 2 × (20 − 6)."""


def planned(wall: str, *names: str) -> Plan:
    pieces = "".join(
        f'[[piece]]\nname = "{name}"\nframe = "{name[0].lower()}"\naspect = "3:2"\nborder = "20 mm"\n' for name in names
    )
    return plan(parse_job(FRAMES + pieces + wall, Path()))


def spots(made: Plan) -> dict[str, tuple[Any, ...]]:
    """Left, bottom, width and height of each frame by its piece."""
    return {
        hung.name: (hung.spot.left, hung.spot.bottom, hung.spot.width, hung.spot.height)
        for wall in made.walls
        for hung in wall.frames
    }


HALL = '[[wall]]\nname = "Hall"\nsize = "3000 x 2400 mm"\n'


def test_two_lying_frames_one_above_the_other_stand_beside_an_upright_one() -> None:
    found = spots(planned(HALL + 'pieces = ["A", ["B1", "B2"]]\n', "A", "B1", "B2"))
    # 400 + 60 + 300 = 760 wide: from 1120; the stack is 200 + 60 + 200 = 460 high about 1450
    assert found["A"] == (1120, 1200, 400, 500)
    assert found["B1"] == (1580, 1480, 300, 200)  # upper first: 1450 + 230 − 200
    assert found["B2"] == (1580, 1220, 300, 200)


def test_a_row_within_a_stack_is_centred_in_height_and_on_the_frame_below() -> None:
    found = spots(planned(HALL + 'pieces = [[["A1", "B"], "A2"]]\n', "A1", "B", "A2"))
    # the inner row is 400 + 60 + 300 = 760 wide and 500 high; 500 + 60 + 500 = 1060 from 1450 − 530 = 920
    assert found["A1"] == (1120, 1480, 400, 500)
    assert found["B"] == (1580, 1630, 300, 200)  # 1480 + (500 − 200) / 2
    assert found["A2"] == (1300, 920, 400, 500)  # 1120 + (760 − 400) / 2


@pytest.mark.parametrize(
    ("key", "bottom"), [('top = "1900 mm"', 1400), ('base = "1300 mm"', 1300), ('eye = "1500 mm"', 1250)]
)
def test_top_base_or_centre_may_be_given(key: str, bottom: int) -> None:
    assert spots(planned(HALL + key + "\n", "A"))["A"][1] == bottom


def test_groups_have_zone_arrangement_and_gap_of_their_own() -> None:
    made = planned(
        HALL
        + 'gap = "50 mm"\nfurniture = [{ name = "bench", left = "1800 mm", width = "800 mm", height = "450 mm" }]\n'
        + '[[wall.group]]\npieces = ["A1", "A2"]\nzone = { right = "1200 mm" }\n'
        + '[[wall.group]]\npieces = ["B1", "B2"]\narrange = "flush-base"\nbase = "1000 mm"\ngap = "100 mm"\n'
        + 'over = "bench"\n',
        "A1", "A2", "B1", "B2",
    )  # fmt: skip
    found = spots(made)
    assert (found["A1"][0], found["A2"][0]) == (175, 625)  # (1200 − 850) / 2 and 400 + 50 more
    assert found["B1"][:2] == (1850, 1000)  # the bench's middle is 2200; 2200 − (300 + 100 + 300) / 2
    assert [group.gap for group in made.walls[0].ask.groups] == [50, 100]


def test_groups_that_overlap_are_an_error_and_near_ones_a_finding() -> None:
    two = '[[wall.group]]\npieces = ["A"]\nzone = { right = "1500 mm" }\n[[wall.group]]\npieces = ["B"]\n'
    with pytest.raises(JobError, match='"A" and "B" overlap; the least shift that parts them is 50 mm'):
        planned(HALL + two + 'zone = { right = "2100 mm" }\n', "A", "B")
    near = planned(HALL + two + 'zone = { right = "2260 mm" }\n', "A", "B")
    assert [finding.code for finding in near.walls[0].findings if finding.code == "close-frames"] == ["close-frames"]


def test_a_row_goes_on_round_a_frame_with_one_coordinate() -> None:
    row = HALL + 'pieces = ["A1", "A2", "A3"]\nat = { A2 = { left = "2000 mm" } }\n'
    found = spots(planned(row, "A1", "A2", "A3"))
    assert [found[name][0] for name in ("A1", "A2", "A3")] == [1540, 2000, 2460]
    assert {spot[1] for spot in found.values()} == {1200}
    both = row.replace("at = { ", 'at = { A1 = { left = "100 mm" }, A3 = { left = "2500 mm", bottom = "1000 mm" }, ')
    found = spots(planned(both.replace("A2 = { left", "A2 = { bottom").replace("2000", "1250"), "A1", "A2", "A3"))
    assert found["A1"][:2] == (100, 1200)
    assert found["A3"][:2] == (2500, 1000)  # pinned whole: it leaves the row
    assert found["A2"][:2] == (560, 1250)  # 100 + 400 + 60


def test_between_two_pins_the_row_is_centred() -> None:
    wall = HALL + 'pieces = ["A1", "B", "A2"]\nat = { A1 = { left = "100 mm" }, A2 = { left = "2000 mm" } }\n'
    assert spots(planned(wall, "A1", "B", "A2"))["B"][0] == 1100  # (500 + 2000 − 300) / 2


@pytest.mark.parametrize("wall", ['arrange = "grid"\n', 'arrange = "cluster"\n', 'pieces = [["A", "B"]]\n'])
def test_elsewhere_a_pin_needs_both(wall: str) -> None:
    with pytest.raises(JobError, match="names one coordinate alone"):
        planned(HALL + wall + 'at = { A = { left = "100 mm" } }\n', "A", "B")


STAIR = HALL + 'arrange = "stepped"\nfloor = [["0 mm", "0 mm"], ["3000 mm", "600 mm"]]\neye = "1400 mm"\n'


def test_a_stair_carries_its_frames() -> None:
    made = planned(STAIR, "A1", "A2")
    found = spots(made)
    # 400 + 60 + 400 = 860 from 1070; centres at 1270 and 1730: floor 254 and 346
    assert found["A1"][:2] == (1070, 1404)  # 254 + 1400 − 250
    assert found["A2"][:2] == (1530, 1496)
    wall = made.walls[0]
    assert [wall.above_floor(hung.spot.centre[0], hung.spot.centre[1]) for hung in wall.frames] == [1400, 1400]


def test_other_rows_take_the_floor_under_their_middle_and_none_hangs_below_it() -> None:
    level = STAIR.replace('arrange = "stepped"\n', "")
    assert spots(planned(level, "A1"))["A1"][1] == 1450  # floor 300 at 1500; 300 + 1400 − 250
    steep = level.replace('"600 mm"]', '"2400 mm"]').replace('eye = "1400 mm"', 'base = "10 mm"')
    with pytest.raises(JobError, match="reaches 150 mm below the floor"):  # 1360 at 1700; 1210 below
        planned(steep, "A1")


SIZES = st.lists(st.sampled_from(["A", "B"]), min_size=1, max_size=7)


def nested(names: list[str], draw: Any) -> list[Any]:
    """The names, some in stacks, some of these with rows."""
    found: list[Any] = []
    rest = list(names)
    while rest:
        many = draw(st.integers(1, 3))
        part, rest = rest[:many], rest[many:]
        found.append(
            part[0] if len(part) == 1 else nested(part, draw) if draw(st.booleans()) and many < len(names) else part
        )
    return found


@given(st.data())
def test_frames_of_nested_rows_keep_their_gap(data: st.DataObject) -> None:
    """By shapely: no two are nearer than the gap, and all together hang in the middle."""
    kinds = data.draw(SIZES)
    names = [f"{kind}{number}" for number, kind in enumerate(kinds)]
    tree = nested(names, data.draw)
    wall = HALL.replace("3000 x 2400", "9000 x 9000") + f'eye = "4500 mm"\npieces = {tree!r}\n'
    found = spots(planned(wall, *names))
    boxes = {name: box(float(x), float(y), float(x + w), float(y + h)) for name, (x, y, w, h) in found.items()}
    for name, one in boxes.items():
        far = [one.distance(other) for key, other in boxes.items() if key != name]
        assert not far or min(far) >= 60 - 1e-6
    around = [min(x for x, *_ in found.values()), max(x + w for x, _, w, _ in found.values())]
    assert sum(around) == 9000
    assert Fraction(sum(h for *_, h in found.values())) > 0
