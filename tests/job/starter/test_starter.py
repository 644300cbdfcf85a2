"""The starter job: complete, sound, never over anything, and one piece for each photo found."""

from __future__ import annotations

from functools import cache
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image

from matplan.faults import PackError
from matplan.job import read_job
from matplan.job.starter import starter
from matplan.job.starter.sizes import Sizes
from matplan.lengths import Units
from matplan.planning import plan


def contents(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.mark.parametrize("units", Units)
def test_starter_job_is_written_whole_and_solves_without_a_warning(units: Units, tmp_path: Path) -> None:
    told = starter(tmp_path / "new" / "ferry", units=units)
    written = contents(tmp_path / "new" / "ferry")
    assert set(written) == {
        "job.toml",
        "job.schema.json",
        "photos/ferry-morning.jpg",
        "photos/harbour-light.jpg",
        "photos/pebbles.jpg",
    }
    assert len(told) == len(written)
    assert written["job.toml"].startswith(b"#:schema ./job.schema.json\n")
    solved = plan(read_job(tmp_path / "new" / "ferry" / "job.toml"))
    assert [piece.name for piece in solved.pieces] == ["Ferry morning", "Harbour light", "Pebbles"]
    assert [f.text for piece in solved.pieces for f in piece.findings if f.level == "warning"] == []
    assert [f.text for f in solved.findings if f.level == "warning"] == []
    assert solved.job.units is units
    assert not any(aperture.ask.paper and aperture.ask.paper.margin_assumed for aperture in solved.pieces[0].apertures)


def test_starter_job_is_the_same_every_time(tmp_path: Path) -> None:
    starter(tmp_path / "a")
    starter(tmp_path / "b")
    assert contents(tmp_path / "a") == contents(tmp_path / "b")


@pytest.mark.parametrize("name", ["job.toml", "job.schema.json", "photos/pebbles.jpg"])
def test_nothing_is_overwritten(name: str, tmp_path: Path) -> None:
    (tmp_path / "photos").mkdir()
    (tmp_path / name).write_text("mine")
    (tmp_path / "other.txt").write_text("mine too")
    before = contents(tmp_path)
    with pytest.raises(PackError, match="already"):
        starter(tmp_path)
    assert contents(tmp_path) == before


def test_other_files_in_the_folder_stay(tmp_path: Path) -> None:
    (tmp_path / "other.txt").write_text("mine")
    starter(tmp_path)
    assert (tmp_path / "other.txt").read_text() == "mine"


def test_folder_that_is_a_file_is_an_error_and_leaves_nothing(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    with pytest.raises(PackError, match="cannot be written"):
        starter(tmp_path / "file")
    (tmp_path / "photos").write_text("mine")  # where the photos would go
    with pytest.raises(PackError, match="cannot be written"):
        starter(tmp_path)
    assert sorted(contents(tmp_path)) == ["file", "photos"]


def picture(path: Path, width: int, height: int) -> None:
    Image.new("RGB", (width, height), (120, 130, 140)).save(path)


@pytest.mark.parametrize("units", Units)
def test_each_photo_becomes_a_piece_grouped_by_aspect(units: Units, tmp_path: Path) -> None:
    photos = tmp_path / "photos taken"
    photos.mkdir()
    for name, width, height in (
        ("IMG_10.jpg", 6000, 4000), ("IMG_9.jpg", 3000, 2000), ("IMG_2.png", 2000, 3000), ('odd "name".jpg', 900, 601),
        ("back\\slash.jpg", 500, 500), ("Möwe.webp", 800, 600), ("pano.jpg", 13000, 1000),
    ):  # fmt: skip
        picture(photos / name, width, height)
    told = starter(tmp_path / "job", photos, units)
    text = (tmp_path / "job" / "job.toml").read_text(encoding="utf-8")
    read = read_job(tmp_path / "job" / "job.toml")
    assert [piece.name for piece in read.pieces] == [
        "Möwe", "IMG_9", "IMG_10", 'odd "name"', "pano", "back\\slash", "IMG_2",
    ]  # fmt: skip
    assert [line.strip("#- ") for line in text.splitlines() if line.startswith("# ---")] == [
        "4:3, landscape: 1 photo", "3:2, landscape: 3 photos", "13:1, landscape: 1 photo", "1:1, square: 1 photo",
        "2:3, portrait: 1 photo", "The wall",
    ]  # fmt: skip
    assert {piece.name for piece in read.pieces if piece.frame.turned} == {"Möwe", "IMG_9", "IMG_10", 'odd "name"'}
    assert read.units is units
    solved = plan(read)
    assert [finding for piece in solved.pieces for finding in piece.findings if finding.level == "warning"] == []
    sizes = Sizes.of(units)
    for made in solved.pieces:
        frame = made.ask.frame
        assert frame.has_size == (made.name not in ("pano", "back\\slash"))
        assert made.apertures[0].visible.least >= sizes.least_border - frame.lip
        paper = made.apertures[0].ask.paper
        assert (paper is not None) == (made.name != "pano")
        assert paper is None or not paper.margin_assumed
    assert len(told) == 3
    assert "outside the job's folder" in told[-1]  # which the page does not read
    assert set(contents(tmp_path / "job")) == {"job.toml", "job.schema.json"}


@cache
def blank(size: tuple[int, int]) -> bytes:
    """The bytes of a grey picture."""
    stream = BytesIO()
    Image.new("L", size, 120).save(stream, "PNG")
    return stream.getvalue()


SHAPES = {"portrait": (2000, 3000), "landscape": (3000, 2000), "square": (2400, 2400), "panorama": (6000, 1500),
          "tall": (900, 4000)}  # fmt: skip


@pytest.mark.parametrize("units", Units)
@pytest.mark.parametrize(
    ("many", "shape"), [*((1, shape) for shape in SHAPES), *((many, "all of them") for many in (3, 12, 40))]
)
def test_job_of_photos_is_whole_and_has_nothing_to_warn_of(many: int, shape: str, units: Units, tmp_path: Path) -> None:
    (tmp_path / "photos").mkdir()
    for number in range(many):
        asked = list(SHAPES)[number % len(SHAPES)] if shape == "all of them" else shape
        (tmp_path / "photos" / f"{number}.png").write_bytes(blank(SHAPES[asked]))
    starter(tmp_path / "job", tmp_path / "photos", units)
    solved = plan(read_job(tmp_path / "job" / "job.toml"))
    everything = [*solved.findings, *(f for piece in solved.pieces for f in piece.findings)]
    (wall,) = solved.walls
    everything += wall.findings
    assert [finding.text for finding in everything if finding.level == "warning"] == []
    assert len(wall.frames) == len(solved.pieces) == many
    for made in solved.pieces:
        wide, high = made.apertures[0].ask.photo.pixels if made.apertures[0].ask.photo else (0, 0)
        ready = made.ask.frame.has_size
        assert ready == (wide != high and max(wide, high) <= 2 * min(wide, high))
        assert made.ask.frame.turned == (ready and wide > high)
        assert {str(part) for part in made.ask.frame.includes} == ({"glazing", "backing"} if ready else set())
        assert [layer.board.name for layer in made.layers] == ["white"]


@pytest.mark.parametrize("units", Units)
def test_every_table_of_a_job_of_photos_has_a_comment(units: Units, tmp_path: Path) -> None:
    for name, pixels in SHAPES.items():
        picture(tmp_path / f"{name}.png", *pixels)
    starter(tmp_path / "job", tmp_path, units)
    text = (tmp_path / "job" / "job.toml").read_text(encoding="utf-8")
    tables = text.split("\n[")[1:]
    assert {"paper.own", "board.white", "frame.moulding", "[piece", "[wall"} <= {t.split("]")[0] for t in tables}
    assert [table for table in tables if "#" not in table] == []
    assert all(len(line) <= 120 for line in text.splitlines())


def test_files_that_are_no_photos_are_left_out_and_said(tmp_path: Path) -> None:
    photos = tmp_path / "photos"
    photos.mkdir()
    picture(photos / "good.jpg", 300, 200)
    picture(photos / "thin.jpg", 6000, 20)
    picture(photos / "line\nbreak.jpg", 30, 20)
    (photos / "empty.jpg").write_bytes(b"")
    (photos / "note.txt").write_text("no photo")
    (photos / ".hidden").write_text("no photo")
    (photos / "folder").mkdir()
    told = [line for line in starter(photos, photos) if line.startswith("left out")]
    assert [line.split(":")[0] for line in told] == [
        "left out empty.jpg", "left out line\\nbreak.jpg", "left out note.txt", "left out thin.jpg",
    ]  # fmt: skip
    assert [piece.name for piece in read_job(photos / "job.toml").pieces] == ["good"]


def test_pieces_of_one_file_name_get_names_of_their_own(tmp_path: Path) -> None:
    for name in ("a.jpg", "a.png", "a 2.jpg"):
        picture(tmp_path / name, 300, 200)
    starter(tmp_path / "job", tmp_path)
    assert sorted(piece.name for piece in read_job(tmp_path / "job" / "job.toml").pieces) == ["a", "a 2", "a 3"]


@pytest.mark.parametrize("prepare", ["nothing", "empty", "no photos", "a file"])
def test_folder_without_photos_is_an_error(prepare: str, tmp_path: Path) -> None:
    photos = tmp_path / "photos"
    if prepare == "a file":
        photos.write_text("x")
    elif prepare != "nothing":
        photos.mkdir()
        if prepare == "no photos":
            (photos / "note.txt").write_text("x")
    with pytest.raises(PackError, match="photo"):
        starter(tmp_path / "job", photos)
    assert not (tmp_path / "job").exists()
