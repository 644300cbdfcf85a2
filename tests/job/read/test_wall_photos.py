"""A wall's photograph in a job file: what is read of it, and one clear message for each fault."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from matplan.faults import JobError
from matplan.job import parse_job
from matplan.job.records import Job, Patch
from tests.photographs import ORIENTATION

CORNERS = "[[40, 30], [360, 36], [350, 270], [44, 262]]"
WALL = """[[piece]]
name = "Gull"
frame = "40x50 cm"
image = "300 x 200 mm"
[[wall]]
name = "Hall"
size = "3600 x 2400 mm"
photo = {{ file = "{file}", corners = {corners}{more} }}
"""


def read(folder: Path, *, corners: str = CORNERS, more: str = "", file: str = "wall.jpg", turned: int = 1) -> Job:
    """Return the job of a wall with a photograph of 400 × 300 pixels, which is saved as `turned` says."""
    image = Image.new("RGB", (400, 300), "#cfd4cc")
    exif = Image.Exif()
    exif[ORIENTATION] = turned
    image.save(folder / "wall.jpg", exif=exif)
    return parse_job(WALL.format(file=file, corners=corners, more=more), folder)


def told(folder: Path, **changes: Any) -> str:
    """Return what is said of a faulty photograph: one fault alone."""
    with pytest.raises(JobError) as caught:
        read(folder, **changes)
    (fault,) = caught.value.faults
    assert fault.line == 8
    return f"{fault.where}: {fault.text}"


def test_corners_and_the_whole_wall_are_read(tmp_path: Path) -> None:
    (wall,) = read(tmp_path).walls
    assert wall.photo is not None
    assert wall.photo.corners[2] == (Fraction(350), Fraction(270))
    assert wall.photo.of == Patch(left=Fraction(0), bottom=Fraction(0), width=Fraction(3600), height=Fraction(2400))
    assert wall.photo.file.pixels == (400, 300)


def test_a_side_of_the_rectangle_that_is_left_out_is_the_walls(tmp_path: Path) -> None:
    (wall,) = read(tmp_path, more=', of = { left = "600 mm", height = "2 m" }').walls
    assert wall.photo is not None
    assert wall.photo.of == Patch(left=Fraction(600), bottom=Fraction(0), width=Fraction(3000), height=Fraction(2000))


def test_corners_are_in_the_photograph_as_it_is_seen(tmp_path: Path) -> None:
    (wall,) = read(tmp_path, corners="[[20, 20], [280, 20], [280, 390], [20, 390]]", turned=6).walls
    assert wall.photo is not None
    assert wall.photo.file.pixels == (300, 400)
    with pytest.raises(JobError, match="300 × 400 pixels as it is seen"):
        read(tmp_path, corners="[[20, 20], [390, 20], [390, 280], [20, 280]]", turned=6)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        (
            {"corners": "[[40, 30], [350, 270], [360, 36], [44, 262]]"},
            "corners: the sides between the corners cross; write them clockwise from the upper left",
        ),
        (
            {"corners": "[[44, 262], [350, 270], [360, 36], [40, 30]]"},
            "corners: the corners run the other way round; write them clockwise from the upper left",
        ),
        (
            {"corners": "[[360, 36], [350, 270], [44, 262], [40, 30]]"},
            "corners: [360, 36] is not the upper left corner in the photograph as it is seen; write them clockwise",
        ),
        (
            {"corners": "[[40, 30], [200, 30], [360, 30], [44, 262]]"},
            "corners: [40, 30], [200, 30] and [360, 30] lie in a line; write the four corners of a rectangle",
        ),
        (
            {"corners": "[[40, 30], [360, 36], [360, 36], [44, 262]]"},
            "corners: [40, 30], [360, 36] and [360, 36] lie in a line; write the four corners of a rectangle",
        ),
        (
            {"corners": "[[40, 30], [360, 36], [80, 60], [44, 262]]"},
            "corners: [80, 60] lies within the three others, so they are no rectangle seen from before; write its "
            "corners",
        ),
        (
            {"corners": "[[40, 30], [401, 36], [350, 270], [44, 262]]"},
            "corners: corner 2 is [401, 36], which is outside the photograph, 400 × 300 pixels as it is seen; write a "
            "place in it",
        ),
        (
            {"corners": "[[40, 30], [360, 36], [350, 270]]"},
            "corners: got a list of 3; write four corners clockwise from the upper left, like [[412, 300], ",
        ),
        (
            {"corners": "[[40, 30], [360, 36], [350, 270], [44]]"},
            "corners[4]: got a list of 1; write two numbers like ",
        ),
        ({"corners": '[[40, 30], [360, "x"], [350, 270], [44, 262]]'}, 'corners[2][2]: got "x"; write a place in the '),
        ({"corners": "[[40, 30], [360, -6], [350, 270], [44, 262]]"}, "corners[2][2]: got -6; write a place in the "),
        ({"file": "walk.jpg"}, 'file: got "walk.jpg", but there is no such file in '),
        (
            {"more": ', of = { left = "1 m", width = "3 m" }'},
            "of.width: left + width is 4000 mm, which is outside the wall, 3600 mm wide; write less",
        ),
        (
            {"more": ', of = { bottom = "2.4 m" }'},
            "of.bottom: bottom is 2400 mm, which leaves nothing on the wall, 2400 mm high; write less",
        ),
        ({"more": ', of = { width = "0 mm" }'}, 'of.width: got "0 mm"; it must be longer than 0'),
        ({"more": ', of = "all"'}, 'of: got "all"; write a table'),
        ({"more": ", corner = 3"}, 'corner: there is no key "corner" here; did you mean "corners"?'),
    ],
)
def test_a_faulty_photograph_is_told_in_these_words(tmp_path: Path, changes: dict[str, str], words: str) -> None:
    assert told(tmp_path, **changes).startswith(f"wall[1].photo.{words}")


def test_a_photograph_without_its_corners_asks_for_them(tmp_path: Path) -> None:
    text = WALL.replace(", corners = {corners}{more}", "").format(file="wall.jpg")
    Image.new("RGB", (400, 300)).save(tmp_path / "wall.jpg")
    with pytest.raises(JobError, match=r"photo\.corners: corners is missing; write it like corners = \[\[412, 300\]"):
        parse_job(text, tmp_path)
    with pytest.raises(JobError, match=r'photo: got "wall\.jpg"; write a table.* photo = \{ file = "wall\.jpg"'):
        parse_job(text.replace('{ file = "wall.jpg" }', '"wall.jpg"'), tmp_path)
