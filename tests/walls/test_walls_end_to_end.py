"""A wall from the job file to plan.json, the terminal and the pack."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

import matplan
from matplan.cli.explained import sums_document, sums_text
from matplan.cli.tables import plan_text
from matplan.faults import JobError
from matplan.pack import OnlyError, choice, pack_files
from matplan.planning import Plan, plan_json
from matplan.walls.sums import wall_sums
from tests.readback import read_pdf, read_svg

HEAD = """title = "Ferry steps"
[frame.ash]
takes = "40x50 cm"
rail = "20 mm"
[frame.bare]
takes = "30x40 cm"
[[piece]]
name = "Slipway"
quantity = 2
frame = "ash"
image = "250 x 300 mm"
[[piece]]
name = "Gull"
frame = "ash"
image = "200 x 300 mm"
"""
WALL = """[[wall]]
name = "Stair landing"
size = "3600 x 2400 mm"
hang = { by = "wire", anchors = "1/3", drop = "60 mm" }
"""


def planned(folder: Path, text: str) -> Plan:
    path = folder / "job.toml"
    path.write_text(text)
    return matplan.plan(matplan.read_job(path))


def refused(folder: Path, text: str) -> list[str]:
    with pytest.raises(JobError) as caught:
        planned(folder, text)
    return [fault.shown("job.toml") for fault in caught.value.faults]


def test_plan_json_has_the_wall_with_its_frames_and_hooks(tmp_path: Path) -> None:
    made = planned(tmp_path, HEAD + WALL)
    document: Any = json.loads(json.dumps(plan_json(made)))
    (wall,) = document["walls"]
    assert {key: wall[key] for key in ("name", "file", "size", "eye")} == {
        "name": "Stair landing",
        "file": "stair-landing",
        "size": [3600, 2400],
        "eye": 1450,
    }
    assert [(f["piece"], f["copy"]) for f in wall["frames"]] == [("Slipway", 1), ("Slipway", 2), ("Gull", 1)]
    first = wall["frames"][0]
    # 3 × 431 + 2 × 60 = 1413; (3600 − 1413) / 2 = 1093.5; 1450 − 531 / 2 = 1184.5
    assert (first["left"], first["bottom"], first["width"], first["height"]) == (1093.5, 1184.5, 431, 531)
    mass = document["pieces"][0]["mass_kg"]
    (hook,) = first["hooks"]
    assert (hook["left"], hook["height"]) == (1309, 1655.5)  # 1715.5 − 60
    assert hook["load_kg"] == pytest.approx(mass)
    # rise 531 / 3 − 60 = 117, run (431 − 20) / 2 = 205.5: 29.655°; T = m g √(117² + 205.5²) / (2 × 117)
    assert first["wire"]["angle_deg"] == pytest.approx(math.degrees(math.atan2(117, 205.5)))
    assert first["wire"]["tension_n"] == pytest.approx(mass * 9.80665 * (117**2 + 205.5**2) ** 0.5 / 234)
    assert {finding["code"] for finding in wall["findings"]} == {"light", "loads-incomplete"}


def test_other_ways_of_hanging_have_no_wire(tmp_path: Path) -> None:
    made = planned(
        tmp_path,
        HEAD
        + WALL.replace(
            'by = "wire", anchors = "1/3", drop = "60 mm"', 'by = "two hooks", in = "40 mm", down = "30 mm"'
        ),
    )
    document: Any = plan_json(made)
    first = document["walls"][0]["frames"][0]
    assert first["wire"] is None
    assert [(hook["left"], hook["height"]) for hook in first["hooks"]] == [(1133.5, 1685.5), (1484.5, 1685.5)]


def test_several_walls_and_their_problems_come_at_once_with_their_lines(tmp_path: Path) -> None:
    second = WALL.replace("Stair landing", "Hall").replace("3600 x 2400", "1000 x 2400")
    found = refused(tmp_path, HEAD + WALL.replace('"60 mm" }', '"177 mm" }') + second)
    assert found == [
        'job.toml:19: wall[1].hang.drop: Stair landing: the wire of "Slipway" (copy 1) is to be tightened to 177 mm '
        "below the top, but it is anchored 177 mm below it and must rise from its anchors; "
        "write a drop of less than 177 mm",
        'job.toml:20: wall[2]: Hall: "Slipway" (copy 1) reaches 206.5 mm past the wall\'s left edge '
        'and "Gull" reaches 206.5 mm past the wall\'s right edge: '
        "the frames together are 1413 mm wide and the zone 1000 mm, 413 mm too narrow; take a wider zone, a "
        "smaller gap or fewer frames",
    ]


def test_a_piece_that_cannot_be_solved_hides_no_other_wall_s_problem(tmp_path: Path) -> None:
    broken = '[[piece]]\nname = "Broken"\nframe = "ash"\nimage = "900 x 300 mm"\n'
    walls = WALL.replace("[[wall]]", '[[wall]]\npieces = ["Gull"]').replace('"60 mm" }', '"200 mm" }')
    found = refused(tmp_path, HEAD + broken + walls)
    assert len(found) == 2
    assert "wall[1].hang.drop" in found[1]
    # its own wall is left alone: one fault, one message
    assert len(refused(tmp_path, HEAD + broken + WALL.replace("[[wall]]", '[[wall]]\npieces = ["Broken"]'))) == 1


def test_a_frame_without_a_rail_asks_for_it(tmp_path: Path) -> None:
    (found,) = refused(tmp_path, HEAD + '[[piece]]\nname = "Coil"\nframe = "bare"\nimage = "150 x 200 mm"\n' + WALL)
    assert 'write rail = "20 mm" (the face width) in [frame.bare]' in found


def test_check_prints_every_frame_and_hook(tmp_path: Path) -> None:
    text = plan_text(planned(tmp_path, HEAD + WALL))
    assert "Stair landing\n  wall       3600 × 2400 mm, centre-line, eye line at 1450 mm, gap 60 mm" in text
    assert "Slipway 2  431 × 531 mm: left 1584.5, bottom 1184.5; hook 1800 from the left, 1655.5 up," in text
    assert "wire 29.7°" in text


def test_a_cluster_aside_of_the_thing_that_it_hangs_over_names_it(tmp_path: Path) -> None:
    things = (
        'pieces = ["Slipway"]\narrange = "cluster"\nover = "bench"\n'
        'furniture = [{ name = "bench", left = "2000 mm", width = "600 mm", height = "450 mm" }]\n'
        'keep_clear = [{ name = "pillar", left = "2300 mm", width = "100 mm", height = "2400 mm", bottom = "0 mm" }]\n'
    )
    (wall,) = planned(tmp_path, HEAD + WALL + things).walls
    (found,) = (one.text for one in wall.findings if one.code == "off-centre")
    assert 'left of the middle of "bench", because' in found


def test_check_tells_how_each_group_of_a_wall_hangs(tmp_path: Path) -> None:
    groups = (
        '[[wall.group]]\npieces = ["Slipway"]\nbase = "1200 mm"\nzone = { right = "1500 mm" }\n'
        '[[wall.group]]\npieces = ["Slipway"]\narrange = "flush-top"\ngap = "40 mm"\nzone = { left = "1500 mm" }\n'
    )
    text = plan_text(planned(tmp_path, HEAD + WALL + groups))
    assert (
        "Stair landing\n"
        "  wall       3600 × 2400 mm\n"
        "  group[1]   centre-line, lower edge at 1200 mm, gap 60 mm\n"
        "  group[2]   flush-top, eye line at 1450 mm, gap 40 mm\n"
    ) in text


def test_the_pack_has_the_wall_s_documents(tmp_path: Path) -> None:
    made = planned(tmp_path, HEAD + WALL)
    files = dict(pack_files(made, choice(made.job, None)))
    assert read_svg(files["wall/stair-landing.svg"]).scale == "1:20"
    assert {"template/hang-slipway.pdf", "template/hang-gull.pdf"} <= set(files)
    titles = [title for _, title, _ in read_pdf(files["workshop.pdf"]).bookmarks]
    assert titles[-3:] == ["Walls", "Stair landing: wall view", "Stair landing: hanging list"]
    assert "Slipway: hang template" not in titles  # printed at full size, listed on the contents page alone
    contents = read_pdf(files["workshop.pdf"]).pages[0]
    assert any("template/hang-slipway.pdf" in text.text for text in contents.texts)


def test_only_chooses_walls(tmp_path: Path) -> None:
    made = planned(
        tmp_path, HEAD + WALL + WALL.replace("Stair landing", "Hall").replace("[[wall]]", '[[wall]]\npieces = ["Gull"]')
    )

    def names(only: str) -> set[str]:
        return {name for name, _ in pack_files(made, choice(made.job, only)) if name.startswith("wall/")}

    hall = {"wall/hall.svg", "wall/hall-clean.svg", "wall/hall.pdf"}
    assert names("wall") == {*hall, *(name.replace("hall", "stair-landing") for name in hall)}
    assert names("Hall") == names("wall,hall") == names("Gull") == hall
    assert names("cut,Gull") == set()
    assert choice(made.job, "Hall").parts == {"wall"}
    with pytest.raises(OnlyError, match="the walls Stair landing, Hall"):
        choice(made.job, "Cellar")


def test_without_walls_nothing_is_said_of_them(tmp_path: Path) -> None:
    made = planned(tmp_path, HEAD)
    files = dict(pack_files(made, choice(made.job, None)))
    assert not [name for name in files if name.startswith(("wall/", "template/hang"))]
    document: Any = plan_json(made)
    assert document["walls"] == []


def test_problems_have_the_lines_of_their_keys(tmp_path: Path) -> None:
    text = WALL.replace('drop = "60 mm" }', "}") + "at = { Gull = { left = 3300, bottom = 100 } }\nkeep_clear = [\n"
    for name, left in (("lamp", 1), ("plug", 1900)):
        text += f'{{ name = "{name}", left = {left}, bottom = 1450, width = 9, height = 9 }},\n'
    text += "]\n"
    found = refused(tmp_path, HEAD + text.replace('anchors = "1/3", }', 'anchors = "1/3" }'))
    assert [line.split(": ")[:2] for line in found] == [
        ["job.toml:20", "wall[1].at.Gull"],
        ["job.toml:23", "wall[1].keep_clear[2]"],
    ]


HANGS = [
    'by = "wire"',
    'by = "wire", anchors = "1/4", drop = "33.3 mm"',
    'by = "two hooks", in = "40 mm", down = "30 mm"',
    'by = "sawtooth", down = "12 mm"',
    'by = "cleat", down = "30 mm"',
    'by = "cleat", down = "30 mm", width = "301 mm"',
]


@pytest.mark.parametrize("hang", HANGS)
def test_every_hook_is_explained_by_a_sum_that_comes_out(tmp_path: Path, hang: str) -> None:
    made = planned(tmp_path, HEAD + WALL.replace('by = "wire", anchors = "1/3", drop = "60 mm"', hang))
    (wall,) = made.walls
    sums = list(wall_sums(wall))
    for explained in sums:
        assert explained.tree.value == explained.value, explained
    values = [explained.value for explained in sums if explained.what.startswith("hook")]
    assert values == [v for f in wall.frames for v in (f.hooks[0].height, *(hook.left for hook in f.hooks))]


def test_explain_tells_of_walls_where_all_pieces_are_explained(tmp_path: Path) -> None:
    made = planned(tmp_path, HEAD + WALL)
    assert "  Gull: hook up 1655.5 mm = centre 1450 + height 531 ÷ 2 − drop 60" in sums_text(made, made.pieces)
    assert "hook up" not in sums_text(made, made.pieces[:1])
    document: Any = sums_document(made, made.pieces)
    assert document["walls"][0]["sums"][0]["what"] == "Slipway 1: centre across"
