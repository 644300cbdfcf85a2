"""A wall's photograph with the frames in it: every frame lies where a camera sees it, true to half a pixel."""

from __future__ import annotations

import base64
import io
from pathlib import Path

import numpy as np
import pytest
from lxml import etree
from PIL import Image

import matplan
from matplan.faults import JobError
from matplan.pack import choice, pack_files
from matplan.planning import Plan
from tests.photographs import ORIENTATION

SVG = "{http://www.w3.org/2000/svg}"
LINK = "{http://www.w3.org/1999/xlink}href"
HEAD = """[board.chalk]
ply = 4
colour = "#f4efe2"
[frame.ash]
takes = "30x40 cm"
rail = "20 mm"
colour = "#c49a66"
[[piece]]
name = "Gull"
quantity = 2
frame = "ash"
photo = "gull.png"
image = { width = "180 mm" }
mat = ["chalk"]
[[piece]]
name = "Words"
frame = "ash"
mat = ["chalk"]
rows = [["Picture"], ["Title"]]
[[piece.aperture]]
name = "Picture"
image = "150 x 150 mm"
shape = "oval"
[[piece.aperture]]
name = "Title"
opening = "120 x 30 mm"
text = "Low tide"
"""
WALL = """[[wall]]
name = "Hall"
size = "3600 x 2400 mm"
pieces = ["Gull", "Words", "Gull"]
"""
PIXELS = (2800, 2000)
EYE, AIM, FOCAL = np.array((600.0, 1500.0, 3900.0)), np.array((1700.0, 1150.0, 0.0)), 2000.0


def seen(x: float, y: float) -> tuple[float, float]:
    """Return the pixel where a camera sees a point of the wall: the line through its lens (school geometry)."""
    ahead = (AIM - EYE) / np.linalg.norm(AIM - EYE)
    right = np.cross(ahead, (0, 1, 0)) / np.linalg.norm(np.cross(ahead, (0, 1, 0)))
    way = np.array((x, y, 0.0)) - EYE
    depth = way @ ahead
    return (
        float(PIXELS[0] / 2 + FOCAL * (way @ right) / depth),
        float(PIXELS[1] / 2 - FOCAL * (way @ np.cross(right, ahead)) / depth),
    )


def planned(
    folder: Path, *, turned: int = 1, wall: str = WALL, shift: float = 0, pixels: tuple[int, int] = PIXELS
) -> Plan:
    """Return the plan of a wall whose photograph shows the door, 1400 mm wide from 700 and 1900 mm high from 100."""
    size = pixels[::-1] if turned in (6, 8) else pixels
    exif = Image.Exif()
    exif[ORIENTATION] = turned
    Image.new("RGB", size, "#9fb0a8").save(folder / "wall.jpg", exif=exif, quality=60)
    Image.new("RGB", (360, 240), "#3060c0").save(folder / "gull.png")
    corners = [seen(x, y) for x, y in ((700, 2000), (2100, 2000), (2100, 100), (700, 100))]
    places = ", ".join(f"[{x + shift:.4f}, {y:.4f}]" for x, y in corners)
    of = 'of = { left = "700 mm", bottom = "100 mm", width = "1400 mm", height = "1900 mm" }'
    text = f'{HEAD}{wall}photo = {{ file = "wall.jpg", corners = [{places}], {of} }}\n'
    return matplan.plan(matplan.parse_job(text, folder))


def drawing(plan: Plan, name: str = "wall/hall-photo.svg") -> etree._Element:
    files = dict(pack_files(plan, choice(plan.job, "wall")))
    return etree.fromstring(files[name])


def points(element: etree._Element) -> list[tuple[float, float]]:
    return [tuple(map(float, pair.split(","))) for pair in element.get("points", "").split()]  # type: ignore[misc]


@pytest.mark.parametrize("turned", [1, 6])
def test_each_frame_has_four_corners_where_a_camera_sees_them(tmp_path: Path, turned: int) -> None:
    plan = planned(tmp_path, turned=turned)
    root = drawing(plan)
    assert root.get("viewBox") == f"0 0 {PIXELS[0]} {PIXELS[1]}"
    assert float(root.get("width", "")[:-2]) / float(root.get("height", "")[:-2]) == pytest.approx(1.4, abs=1e-4)
    outers = [one for one in root.iter(f"{SVG}polygon") if "frame-outer" in one.get("class", "").split()]
    assert len(outers) == 3
    for outer, hung in zip(outers, plan.walls[0].frames, strict=True):
        left, bottom, width, height = (float(part) for part in outer.get("data-box", "").split())
        spot = hung.spot
        assert (left, bottom, width, height) == tuple(map(float, (spot.left, spot.bottom, spot.width, spot.height)))
        corners = ((left, bottom + height), (left + width, bottom + height), (left + width, bottom), (left, bottom))
        assert np.array(points(outer)) == pytest.approx(np.array([seen(*corner) for corner in corners]), abs=0.01)


def test_photograph_and_prints_are_previews_in_their_places(tmp_path: Path) -> None:
    root = drawing(planned(tmp_path, pixels=(5600, 4000)))
    ground, *prints = root.iter(f"{SVG}image")
    assert (ground.get("class"), ground.get("width"), ground.get("height")) == ("photograph", "5600", "4000")
    pictures = [
        Image.open(io.BytesIO(base64.b64decode(one.get(LINK, "").partition(",")[2]))) for one in (ground, *prints)
    ]
    assert pictures[0].size == (2000, 1429)
    assert len(prints) == 2
    for picture, one in zip(pictures[1:], prints, strict=True):
        red, green, blue = picture.convert("RGB").getpixel((picture.width // 2, picture.height // 2))  # type: ignore[misc]
        assert (red, green, blue) == pytest.approx((0x30, 0x60, 0xC0), abs=4)
        assert float(one.get("width", "")) * 2000 / 5600 == pytest.approx(picture.width, abs=1)


def test_rails_mats_and_words_are_drawn_too(tmp_path: Path) -> None:
    root = drawing(planned(tmp_path))
    assert sum(len(points(one)) == 4 and bool(one.get("fill")) for one in root.iter(f"{SVG}polygon")) >= 12  # rails
    assert len([one for one in root.iter(f"{SVG}line") if one.get("class") == "mitre"]) == 12
    assert "#f4efe2" in {one.get("fill") for one in root.iter(f"{SVG}path")}
    (words,) = (one for one in root.iter(f"{SVG}path") if one.get("data-text") == "Low tide")
    assert words.get("d", "").count("Z") >= len("Lowtide")
    assert not list(root.iter(f"{SVG}text"))


def test_a_frame_outside_the_photograph_is_told_and_left_out(tmp_path: Path) -> None:
    edge = PIXELS[0] - max(seen(2100, 2000)[0], seen(2100, 100)[0]) - 0.001
    plan = planned(tmp_path, shift=edge, wall=WALL + 'zone = { left = "2150 mm" }\ngap = "20 mm"\n')
    (finding,) = (one for one in plan.walls[0].findings if one.code == "off-photo")
    assert finding.where == "photo"
    assert finding.text.startswith(
        'the photograph does not show the place of "Gull" (copy 1), "Words" and "Gull" (copy 2); '
    )
    assert not [one for one in drawing(plan).iter(f"{SVG}polygon") if "frame-outer" in one.get("class", "").split()]


def test_a_wall_without_a_photograph_has_no_such_file_and_no_walls_file_has_its_name(tmp_path: Path) -> None:
    other = WALL.replace('"Hall"', '"Hall photo"').replace('["Gull", "Words", "Gull"]', '["Words"]')
    first = WALL.replace('["Gull", "Words", "Gull"]', '["Gull"]')
    plan = planned(tmp_path, wall=other + first)
    names = [name for name, _ in pack_files(plan, choice(plan.job, "wall")) if name.startswith("wall/")]
    assert {name for name in names if "photo" in name and name.endswith(".svg") and "clean" not in name} == {
        "wall/hall-photo.svg",
        "wall/hall-photo-wall.svg",
    }
    assert len(set(names)) == len(names)


def test_a_photograph_that_cannot_be_decoded_is_refused_by_its_place(tmp_path: Path) -> None:
    plan = planned(tmp_path)
    content = bytearray((tmp_path / "wall.jpg").read_bytes())
    start = content.index(b"\xff\xc4")  # the tables of codes
    content[start + 5 : start + 40] = bytes(35)
    (tmp_path / "wall.jpg").write_bytes(content)
    with pytest.raises(JobError, match=r"wall\[1\]\.photo\.file: Hall: the photo .* cannot be decoded"):
        pack_files(plan, choice(plan.job, "wall"))
