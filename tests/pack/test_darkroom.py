"""A darkroom makes each picture once, and again if the photo was saved anew."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

import matplan
from matplan.documents.parts.pictures import Picture
from matplan.job.records import Photo
from matplan.lengths import Box
from matplan.pack import darkroom
from matplan.pack.pictures import picture
from tests.planning.jobs import HEAD, piece


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """Return the photos that pictures are made of, as they are made."""
    seen: list[Path] = []

    def counted(photo: Photo, crop: Box | None, wanted: tuple[int, int]) -> Picture:
        seen.append(photo.path)
        return picture(photo, crop, wanted)

    monkeypatch.setattr(darkroom, "picture", counted)
    return seen


def drawn(folder: Path, room: matplan.Darkroom, width: int) -> dict[str, str]:
    """Return the drawings of a piece whose image is so wide."""
    text = HEAD + piece("Gull", width=width).replace('aspect = "4:3"', 'photo = "gull.png"')
    workshop = matplan.Workshop()
    job = workshop.parse(text, folder).whole()
    return matplan.drawings(job, workshop.solve(job, job.pieces[0]), room)


def test_one_picture_serves_for_an_image_that_grows_a_little(tmp_path: Path, made: list[Path]) -> None:
    Image.new("RGB", (1200, 900), "teal").save(tmp_path / "gull.png")
    room = matplan.Darkroom()
    first, second = drawn(tmp_path, room, 280), drawn(tmp_path, room, 281)
    assert len(made) == 1
    assert first["front/gull.svg"] != second["front/gull.svg"]
    assert list(first) == ["front/gull.svg", "cut/gull-layer1.svg"]
    drawn(tmp_path, matplan.Darkroom(), 280)
    assert len(made) == 2


def test_a_photo_that_was_saved_anew_is_made_anew(tmp_path: Path, made: list[Path]) -> None:
    room = matplan.Darkroom()
    Image.new("RGB", (1200, 900), "teal").save(tmp_path / "gull.png")
    teal = drawn(tmp_path, room, 280)
    Image.new("RGB", (1200, 900), "navy").save(tmp_path / "gull.png", compress_level=1)
    navy = drawn(tmp_path, room, 280)
    assert len(made) == 2
    assert teal["front/gull.svg"] != navy["front/gull.svg"]
    assert teal["cut/gull-layer1.svg"] == navy["cut/gull-layer1.svg"]


def test_a_photo_that_cannot_be_decoded_is_told_at_its_line_as_it_is_now(tmp_path: Path) -> None:
    photo = tmp_path / "gull.png"
    Image.effect_noise((400, 300), 90).save(photo)
    data = bytearray(photo.read_bytes())
    data[2000:2400] = bytes(400)
    photo.write_bytes(data)
    with pytest.raises(matplan.JobError, match=r"^job\.toml:14: piece\[1\]\.photo: Gull: .*cannot be decoded"):
        drawn(tmp_path, matplan.Darkroom(), 280)
