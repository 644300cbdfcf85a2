"""A beginner with four ready-made frames, two of them with a mat: from the job to the pack, at the command line."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from tests.cli.test_commands import run

JOB = """title = "Kitchen wall"
[paper.matt]
size = "A4"
[frame.with_mat]
takes = "30x40 cm"
sight = "288 x 388 mm"
have = 2
includes = ["glazing", "backing", "mat", "hangers"]
mat_opening = "190 x 277 mm"
[frame.bare]
takes = "A4"
have = 2
includes = ["glazing", "backing", "hangers"]
[[piece]]
name = "Gull"
frame = "with_mat"
photo = "gull.jpg"
paper = "matt"
[[piece]]
name = "Tern"
frame = "with_mat"
turn = true
photo = "tern.jpg"
paper = "matt"
[[piece]]
name = "Coil"
frame = "bare"
photo = "gull.jpg"
mat = []
[[piece]]
name = "Skiff"
frame = "bare"
photo = "gull.jpg"
mat = []
"""
BOUGHT = {"frame", "moulding", "mat", "ready-cut mat", "glazing", "backing", "sheet"}


@pytest.fixture
def job(tmp_path: Path) -> Path:
    Image.new("RGB", (2400, 3400), "#8899aa").save(tmp_path / "gull.jpg")
    Image.new("RGB", (3400, 2400), "#aa9988").save(tmp_path / "tern.jpg")
    path = tmp_path / "job.toml"
    path.write_text(JOB, encoding="utf-8")
    return path


def made(job: Path) -> tuple[dict[str, Any], set[str]]:
    """Return the pack's plan and its files."""
    pack = job.parent / "pack"
    done = run("make", job, "--out", pack, "--force")
    assert done.returncode == 0, done.stderr
    files = {str(path.relative_to(pack)) for path in pack.rglob("*") if path.is_file()}
    return json.loads((pack / "plan.json").read_text(encoding="utf-8")), files


def test_nothing_that_is_owned_is_ordered_cut_or_drawn_to_cut(job: Path) -> None:
    plan, files = made(job)
    assert not BOUGHT & {line["item"] for line in plan["order"]}
    assert "strap hangers" not in {line["material"] for line in plan["order"]}
    assert plan["cutting"] == plan["sticks"] == []
    assert not [name for name in files if name.startswith(("cut/", "template/", "sheets/"))]
    rows = list(csv.DictReader((job.parent / "pack" / "order.csv").read_text(encoding="utf-8-sig").splitlines()))
    assert len(rows) == len(plan["order"])


def test_what_is_owned_is_known_whole(job: Path) -> None:
    """Rabbet 303 × 403 (A 3 mm clearance), sight 288 × 388: a lip of 7.5; the mat's 190 × 277 shows 196 × 283."""
    plan, files = made(job)
    gull, tern, coil, _ = plan["pieces"]
    assert gull["frame"]["lip"] == 7.5
    assert gull["mat_supply"] == tern["mat_supply"] == "own"
    (window,), (turned,) = gull["apertures"], tern["apertures"]
    assert window["image"] == [196, 283]
    assert turned["opening"][2:] == [277, 190]
    assert [part["part"] for part in gull["stack"]["parts"]] == ["glazing", "mat", "backing"]
    assert [part["part"] for part in coil["stack"]["parts"]] == ["glazing", "backing"]
    assert gull["mass_kg"] > 0
    assert {piece["frame"]["at_hand"] for piece in plan["pieces"]} == {1}
    assert {"front/gull.svg", "print/gull.svg"} <= files


def test_a_fifth_picture_wants_one_frame_more_with_all_that_it_comes_with(job: Path) -> None:
    job.write_text(JOB + "quantity = 2\n", encoding="utf-8")
    plan, _ = made(job)
    bought = [(line["item"], line["material"], line["quantity"]) for line in plan["order"] if line["item"] in BOUGHT]
    assert bought == [("frame", "bare", 1)]
    assert plan["pieces"][3]["frame"]["at_hand"] == 1


def test_check_says_what_is_at_hand(job: Path) -> None:
    said = run("check", job).stdout
    assert said.count("; 1 of 1 at hand") == 4
    assert said.count("the frame's own") == 2
