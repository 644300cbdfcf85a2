"""The hanging list and the hang template: in the order of work, from the corner and the floor, at full size."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from matplan.documents.tiled.hang_template import hang_template
from matplan.documents.wall.hanging_list import hanging_list
from matplan.drawing import clashes, svg
from matplan.job.records import ByCleat, BySawtooth, ByTwoHooks, ByWire
from matplan.lengths import Units
from matplan.planning import Plan
from matplan.walls.hanging import wire_to_cut
from matplan.walls.records import Wire
from matplan.walls.work import in_order, marks
from tests.documents.wall.test_wall_view import planned
from tests.making import mm
from tests.readback import Bundle, Reading, Shape, read_svg
from tests.walls.building import pin


def listed(made: Plan) -> tuple[Reading, ...]:
    sheets = hanging_list(made.job, made.walls[0])
    assert not [clash for sheet in sheets for clash in clashes.check(sheet)]
    return tuple(read_svg(svg.render(sheet)) for sheet in sheets)


def words(made: Plan) -> list[str]:
    return [text.text for reading in listed(made) for text in reading.texts]


def test_work_goes_from_left_to_right_and_from_the_top_down() -> None:
    at = (pin("Slipway", 1000, 1600), pin("Gull", 1055, 900), pin("Coil", 100, 900))
    made = planned(arrange="placed", at=at)
    assert [hung.name for hung in in_order(made.walls[0])] == ["Coil", "Slipway", "Gull"]  # 1000 + 431/2 = 1055 + 321/2


def test_every_hook_is_measured_anew_from_corner_and_floor() -> None:
    made = planned()
    wall = made.walls[0]
    found = marks(wall)
    for before, mark in zip([None, *found], found, strict=False):
        assert mark.hook.left + mark.from_right == wall.ask.size.width
        if before is None:
            assert (mark.across, mark.up) == (None, None)
        else:
            assert (mark.across, mark.up) == (mark.hook.left - before.hook.left, mark.hook.height - before.hook.height)
    said = words(made)
    # hooks at 1055, 1376 + … on a wall of 3600: figures are those of a tape, to the nearest step, and close on the wall
    for mark in found:
        left, height = round(mark.hook.left), math.floor(mark.hook.height + Fraction(1, 2))
        assert {str(left), str(height), str(3600 - left)} <= set(said)


def test_drops_and_anchors_are_those_of_a_tape() -> None:
    said = words(planned())
    # of the outer heights 531, 421 and 251: a third 177, 140 1/3, 83 2/3; half of it 88 1/2, 70 1/6, 41 5/6
    assert {"177", "140", "84", "89", "70", "42"} <= set(said)
    assert not {"140.3", "83.7", "88.5", "70.2", "41.8"} & set(said)
    inset = words(planned(hang=ByTwoHooks(inset=mm("40.4"), down=mm("30.6"))))
    assert {"40", "31"} <= set(inset)
    assert not {"40.4", "30.6"} & set(inset)


def test_on_a_stair_hooks_and_frames_count_from_the_floor_below() -> None:
    made = planned(floor=((mm(0), mm(0)), (mm(3600), mm(900))), size="3600x3000 mm")
    said, tape = set(words(made)), made.job.printer.tape
    assert "Measure each height straight up from the step or floor below its hook." in said
    for hung in made.walls[0].frames:
        floor = (hung.spot.left + hung.spot.width / 2) / 4
        assert {tape(hung.spot.bottom - floor), tape(hung.spot.top - floor)} <= said
        assert not {tape(hung.spot.bottom), tape(hung.spot.top), tape(hung.hooks[0].height)} & said


def test_a_long_name_stands_whole_at_its_hook_and_by_its_number_among_the_frames() -> None:
    name = "Το πλοίο που περιμένει κάτω από τον φάρο μέχρι να σηκωθεί η τελευταία ομίχλη από το νερό"
    made = planned()
    wall = made.walls[0]
    first, *others = wall.frames
    piece = replace(first.frame.piece, ask=replace(first.frame.piece.ask, name=name))
    long = replace(first, frame=replace(first.frame, piece=piece))
    said = " ".join(words(replace(made, walls=(replace(wall, frames=(long, *others)),))))
    assert said.count(name[:20]) == 1
    assert all(word in said for word in name.split())
    assert "…" not in said


def test_two_hooks_of_a_frame_have_letters() -> None:
    made = planned(hang=ByTwoHooks(inset=mm(40), down=mm(30)))
    assert [mark.number for mark in marks(made.walls[0])] == ["1a", "1b", "2a", "2b", "3a", "3b"]


@pytest.mark.parametrize(
    ("hang", "said"),
    [
        (ByWire(), "Wire length"),
        (
            ByTwoHooks(inset=mm(40), down=mm(30)),
            "Set both hooks of a frame level with each other before the frame goes up.",
        ),
        (BySawtooth(down=mm(30)), "The height is that of the hook under the hanger's teeth."),
        (ByCleat(down=mm(30)), "Cleat"),
    ],
)
def test_each_way_of_hanging_has_its_own_words_and_columns(hang: Any, said: str) -> None:
    assert said in words(planned(hang=hang))


def test_findings_and_cautions_stand_on_the_list() -> None:
    said = " ".join(words(planned()))
    assert "50 lx" in said
    assert "Before you drill, look for cables and pipes with a detector" in said
    assert "by their maker's rating" in said
    assert "local codes and a licensed installer decide" in said
    assert "two people" not in said


def test_inches_are_printed_in_inches_and_pounds() -> None:
    said = words(planned(units=Units.IN, size="12x8 ft", eye="57 in", gap="2 1/2 in"))
    assert any(text.endswith(" lb") for text in said)
    assert any(text.endswith(" lbf") for text in said)
    assert "Hooks, inches" in said


def test_a_long_list_runs_over_with_its_head() -> None:
    readings = listed(planned(count=60, size="9x6 m", arrange="grid", eye="3 m"))
    assert len(readings) > 2
    assert all(reading.says("Hook") or reading.says("Frame") for reading in readings[:2])


def test_wire_to_cut_has_its_two_knots() -> None:
    wire = Wire(rise=Fraction(30), run=Fraction(200), mass=Fraction(1))  # tight: 2 × √(30² + 200²) = 404.5
    assert wire_to_cut(wire, Units.MM) == 710  # 404.5 + 300, up to a centimetre
    assert wire_to_cut(wire, Units.IN) == math.ceil((2 * math.hypot(30, 200) + 12 * 25.4) / 12.7) * Fraction(127, 10)


# --- the template ----------------------------------------------------------------------------------------------------


def strips(made: Plan, index: int = 0) -> tuple[Reading, ...]:
    sheets = hang_template(made.job, made.pieces[index], made.walls)
    assert not [clash for sheet in sheets for clash in clashes.check(sheet)]
    return tuple(read_svg(svg.render(sheet)) for sheet in sheets)


def test_a_strip_shows_the_frame_s_upper_edge_and_its_hook_at_full_size() -> None:
    made = planned()
    readings = strips(made, 2)  # Coil: 191 × 251 mm outside fits on one sheet
    (reading,) = readings
    assert reading.scale == "1:1"
    hung = made.walls[0].frames[2]
    (edge,) = (part for part in reading.named("frame-edge") if isinstance(part, Shape))
    assert edge.bounds[2] == pytest.approx(float(hung.spot.width), abs=0.01)
    (hook,) = (part for part in reading.named("hook") if isinstance(part, Bundle))
    ring = next(part for part in hook.parts if isinstance(part, Shape) and part.tag == "ellipse")
    x, y = ring.bounds[0] + ring.bounds[2] / 2, ring.bounds[1] + ring.bounds[3] / 2
    assert x - edge.bounds[0] == pytest.approx(float(hung.spot.width) / 2, abs=0.01)
    drop = hung.spot.top - hung.hooks[0].height
    assert y - edge.bounds[1] == pytest.approx(float(drop), abs=0.01)
    assert hook.box == (hung.spot.width / 2, round(drop, 6), mm(0), mm(0))
    left, height = (made.job.printer.tape(length) for length in (hung.hooks[0].left, hung.hooks[0].height))
    assert reading.says(f"Landing: cross {left} from the left, {height} above floor")
    assert reading.says("Before you drill, look for cables and pipes with a detector; they may be anywhere.")


def test_a_wide_strip_is_joined_from_several_sheets_and_shows_every_hook() -> None:
    readings = strips(planned(hang=ByTwoHooks(inset=mm(40), down=mm(30))))
    assert len(readings) == 2
    assert sum(len(reading.named("hook")) for reading in readings) == 2
    assert all(reading.named("check-ruler") for reading in readings)


@pytest.mark.parametrize("inset", [20, 60, 120, 140, 150, 160, 170, 180, 190, 200, 210])
def test_every_sheet_shows_a_hook_and_no_hook_lies_on_a_join(inset: int) -> None:
    """The strip of 431 mm takes two sheets of 277 mm: whatever the hooks, no join comes within 5 mm of one."""
    made = planned(hung=((0, 1),), hang=ByTwoHooks(inset=mm(inset), down=mm(30)))
    readings = strips(made)
    assert len([hook for reading in readings for hook in reading.named("hook")]) == 2  # each on one sheet alone
    assert all(reading.named("hook") for reading in readings)


def test_a_sheet_without_a_hook_is_left_out() -> None:
    (reading,) = strips(planned(), 0)  # 431 mm of frame, its one hook in the middle
    assert len(reading.named("hook")) == 1
    told = " ".join(text.text for text in reversed(reading.texts) if "left-out" in text.classes)
    assert told == "1 without a hook, not printed"


def test_every_copy_has_its_place_on_the_strip() -> None:
    made = planned(count=24, size="9x3 m", arrange="grid", columns=12)
    (reading,) = strips(made, 2)
    hung = [hung for hung in made.walls[0].frames if hung.name == "Coil"]
    assert len(hung) == 8
    for one in hung:
        left, height = (made.job.printer.tape(length) for length in (one.hooks[0].left, one.hooks[0].height))
        assert reading.says(f"Landing {one.copy}: cross {left} from the left, {height} above floor")


def test_on_a_stair_the_strip_s_height_is_that_above_the_step_below() -> None:
    made = planned(floor=((mm(0), mm(0)), (mm(3600), mm(900))), size="3600x3000 mm")
    wall = made.walls[0]
    for index, hung in enumerate(wall.frames):
        (hook,) = hung.hooks
        left, above = round(hook.left), made.job.printer.tape(hook.height - hook.left / 4)
        says = f"Landing: cross {left} from the left, {above} above floor"
        assert any(reading.says(says) for reading in strips(made, index))


def test_copies_that_hang_alike_share_a_strip_and_others_have_their_own() -> None:
    made = planned(count=6)
    assert len(strips(made, 2)) == 1
    two = replace(made, walls=(*made.walls, *planned(hang=BySawtooth(down=mm(12))).walls))
    assert len(strips(two, 2)) == 2


def test_a_piece_that_hangs_nowhere_has_no_strip() -> None:
    assert hang_template(planned(count=1).job, planned().pieces[2], planned(count=1).walls) == ()
