"""The clean view has what the eye sees and no figure; the file for those who hang has the view and a box a hook; what
`--only` of a wall gives.
"""

from __future__ import annotations

import json
import re
from fractions import Fraction
from pathlib import Path

import pytest

from matplan.documents.parts.folio import Folio
from matplan.documents.wall import clean_view, for_hanging
from matplan.documents.wall.view import wall_view
from matplan.drawing import clashes, pdf, svg
from matplan.drawing.book import book_of
from matplan.job import parse_job
from matplan.lengths import Units
from matplan.pack import make, pack_files
from matplan.pack.choice import choice
from matplan.planning import Plan, plan
from matplan.walls.work import marks
from tests.documents.wall.test_wall_view import near, on_paper, planned, rounded
from tests.photographs import halves
from tests.readback import Bundle, read_pdf, read_svg
from tests.walls.building import furniture, keep
from tests.walls.test_labels import FRAME, HALL


def folio(made: Plan) -> Folio:
    return Folio(job=made.job, pieces=made.pieces, walls=made.walls, plan=made)


@pytest.mark.parametrize("count", [3, 12, 40])
def test_the_clean_view_has_frames_and_furniture_in_their_places_and_no_figure(count: int) -> None:
    sofa, switch = furniture("sofa", 900, 1800, 450), keep("light switch", 200, 1050, 80, 80, margin=50)
    made = planned(
        count=count, size="9000x2800 mm", arrange="grid", columns=13, furniture=(sofa,), keep_clear=(switch,)
    )
    (wall,) = made.walls
    (sheet,) = clean_view.drawn(folio(made), wall)
    assert clashes.check(sheet) == ()
    reading = read_svg(svg.render(sheet))
    hung = [part for part in reading.named("hung") if isinstance(part, Bundle)]
    assert len(hung) == count
    for one, part in zip(wall.frames, hung, strict=True):
        assert part.box == rounded(one.spot.left, one.spot.bottom, one.spot.width, one.spot.height)
        (outer,) = (shape for shape in part.parts if "frame-outer" in shape.classes)
        assert near(outer.bounds, on_paper(one.spot, reading, wall.ask))  # type: ignore[union-attr]
    assert len(reading.named("furniture")) == len(reading.named("keep-clear")) == 1
    for figured in ("hook", "dimension", "frame-number", "running", "eye-line", "zone", "margin"):
        assert not reading.named(figured)
    whole = next(iter(reading.named("wall")))
    low = whole.bounds[1] + whole.bounds[3]  # type: ignore[union-attr]
    assert not [text.text for text in reading.texts if text.at[1] < low + 1]  # words stand in the title block alone


@pytest.mark.parametrize(
    ("size", "scale", "paper"),
    [
        ("3600x2400 mm", "1:10", (420, 297)),
        ("6500x2900 mm", "1:20", (420, 297)),
        ("11x3 m", "1:50", (297, 210)),
        ("90x4 m", "1:50", (420, 297)),
    ],
)
def test_the_clean_view_is_as_large_as_a_paper_shows_it(size: str, scale: str, paper: tuple[float, float]) -> None:
    made = planned(size=size)
    reading = read_svg(svg.render(clean_view.drawn(folio(made), made.walls[0])[0]))
    assert (reading.scale, reading.size) == (scale, paper)


def test_the_largest_wall_of_an_inch_job_is_drawn_on_a_larger_paper() -> None:
    made = planned(units=Units.IN, size="100x100 m")
    (sheet,) = clean_view.drawn(folio(made), made.walls[0])  # no division makes it less high
    assert sheet.scale == wall_view(made.job, made.walls[0], {})[0].scale == Fraction(1, 384)
    # 100 m : 384 = 260 mm, more than the frame of 11 × 17 in leaves


def two_walls(*names: str) -> Plan:
    piece = FRAME + '[[piece]]\nname = "Gull"\nquantity = 9\nframe = "a"\naspect = "3:2"\nborder = "20 mm"\n'
    walls = "".join(HALL.replace("Hall", name) + 'pieces = ["Gull"]\n' for name in names)
    return plan(parse_job(piece + walls, Path()))


def test_a_clean_view_has_a_name_that_no_wall_has() -> None:
    made = two_walls("Hall", "Hall clean", "Hall clean 2")
    assert [wall.ask.file for wall in made.walls] == ["hall", "hall-clean-wall", "hall-clean-2"]
    files = [name for name, _ in pack_files(made, choice(made.job, "wall"))]
    assert len(set(files)) == len(files)
    assert {"wall/hall-clean.svg", "wall/hall-clean-wall.svg", "wall/hall-clean-wall-clean.svg"} <= set(files)


def test_the_file_for_those_who_hang_has_the_view_and_a_box_for_each_hook() -> None:
    made = planned(count=12, size="6000x2400 mm", arrange="grid")
    sheets = for_hanging.drawn(folio(made), made.walls[0])
    assert {block for sheet in sheets for block in ("Wall view", "Hanging list") if _says(sheet, block)} == {
        "Wall view",
        "Hanging list",
    }
    ticks = [item for sheet in sheets for item in sheet.flat() if "tick" in item.classes]
    assert len(ticks) == len(marks(made.walls[0])) == 12
    assert len(read_pdf(pdf.render(book_of(sheets, "wall"))).pages) == len(sheets)


def _says(sheet: object, words: str) -> bool:
    return any(words in text.text for text in sheet.texts())  # type: ignore[attr-defined]


def test_only_a_wall_gives_its_drawings_and_the_templates_of_its_hooks(tmp_path: Path) -> None:
    job = parse_job(
        FRAME
        + "".join(
            f'[[piece]]\nname = "{name}"\nframe = "a"\naspect = "3:2"\nborder = "20 mm"\n' for name in ("Gull", "Coil")
        )
        + HALL
        + 'pieces = ["Gull"]\n'
        + HALL.replace("Hall", "Stair")
        + 'pieces = ["Coil"]\n',
        Path(),
    )
    make(plan(job), tmp_path / "pack", only="Hall")
    files = json.loads((tmp_path / "pack" / "pack.json").read_text())["files"]
    assert sorted(files) == [
        "pack.json",
        "plan.json",
        "template/hang-gull.pdf",
        "wall/hall-clean.svg",
        "wall/hall.pdf",
        "wall/hall.svg",
    ]


def test_only_a_wall_has_its_photographs(tmp_path: Path) -> None:
    halves(1500, 1000).save(tmp_path / "gull.jpg")
    piece = '[[piece]]\nname = "Gull"\nframe = "a"\nphoto = "gull.jpg"\nborder = "20 mm"\n'
    job = parse_job(FRAME + piece + HALL, tmp_path)
    make(plan(job), tmp_path / "pack", only="Hall")
    for name in ("hall", "hall-clean"):
        assert re.search(r"<image", (tmp_path / "pack" / "wall" / f"{name}.svg").read_text())
