"""Photos made ready for the drawings: turned, cropped, in sRGB, no larger than drawn; and the main job on camera-like
and real files.
"""

from __future__ import annotations

import io
import json
import struct
import zlib
from fractions import Fraction
from pathlib import Path

import pytest
from PIL import Image, ImageCms

import matplan
from matplan.job.read.photos import read_photo
from matplan.lengths import Box
from matplan.pack.pictures import Undecodable, picture
from tests.photographs import (
    ORIENTATION,
    WIDE_GAMUT,
    halves,
    opened,
    png_with_alpha,
    sixteen_bit_tiff,
    turned_jpeg,
    wide_gamut_profile,
)

JOB = """
title = "Ferry steps"
[frame.ash]
takes = "40x50 cm"
rail = "20 mm"
"""


def job_of(folder: Path, **pieces: str) -> Path:
    text = JOB
    for name, photo in pieces.items():
        text += f'[[piece]]\nname = "{name}"\nframe = "ash"\nphoto = "{photo}"\nimage = {{ width = "20 cm" }}\n'
    path = folder / "job.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_turned_jpeg_is_shown_as_it_was_taken(tmp_path: Path) -> None:
    photo = read_photo(turned_jpeg(tmp_path / "upright.jpg"), "photo")
    assert photo.pixels == (1000, 1500)
    assert photo.profile == WIDE_GAMUT
    shown = opened(picture(photo, None, (200, 300)).data)
    assert shown.size == (200, 300)
    # orientation 6: the stored left edge is the top as seen; the stored upper (red) half lies right, the blue one left
    right, left = shown.getpixel((150, 200)), shown.getpixel((50, 200))
    assert isinstance(right, tuple)
    assert isinstance(left, tuple)
    assert right[0] > right[2]
    assert left[2] > left[0]


def test_the_colours_go_through_the_photos_own_profile(tmp_path: Path) -> None:
    """Source: lcms through Pillow's ImageCms (a general-purpose library) on one pixel of the same colour."""
    photo = read_photo(turned_jpeg(tmp_path / "upright.jpg", turn=1), "photo")
    shown = opened(picture(photo, None, (150, 100)).data).getpixel((75, 25))
    pixel = Image.new("RGB", (1, 1), (200, 30, 30))
    profile = ImageCms.ImageCmsProfile(io.BytesIO(wide_gamut_profile()))
    ImageCms.profileToProfile(pixel, profile, ImageCms.createProfile("sRGB"), inPlace=True)
    expected = pixel.getpixel((0, 0))
    assert isinstance(shown, tuple)
    assert isinstance(expected, tuple)
    assert all(abs(a - b) <= 6 for a, b in zip(shown, expected, strict=True))
    assert any(abs(a - b) > 15 for a, b in zip(expected, (200, 30, 30), strict=True))


def test_sixteen_bits_keep_their_tones(tmp_path: Path) -> None:
    photo = read_photo(sixteen_bit_tiff(tmp_path / "ramp.tif"), "photo")
    shown = opened(picture(photo, None, (300, 200)).data).convert("L")
    tones = [shown.getpixel((x, 100)) for x in (2, 75, 150, 225, 297)]
    assert all(
        isinstance(tone, int | float) and abs(tone - wanted) < 6
        for tone, wanted in zip(tones, (2, 64, 128, 191, 253), strict=True)
    )


def test_transparency_is_shown_on_white(tmp_path: Path) -> None:
    photo = read_photo(png_with_alpha(tmp_path / "cut-out.png"), "photo")
    shown = opened(picture(photo, None, (300, 200)).data).convert("RGB")
    assert min(shown.getpixel((280, 100))) > 250  # type: ignore[arg-type]


@pytest.mark.parametrize("width", [600, 6000])
def test_a_turned_picture_with_transparency_is_shown_as_it_was_taken(tmp_path: Path, width: int) -> None:
    """Its turn is not lost with its transparency, whether it is made smaller first or not."""
    exif = Image.Exif()
    exif[ORIENTATION] = 6
    opened(png_with_alpha(tmp_path / "stored.png", width, width * 2 // 3).read_bytes()).save(
        tmp_path / "turned.png", exif=exif
    )
    shown = picture(read_photo(tmp_path / "turned.png", "photo"), None, (200, 300))
    assert shown.pixels == (200, 300)
    # orientation 6: the stored right half, which is transparent, is the lower one as seen
    assert min(opened(shown.data).convert("RGB").getpixel((100, 280))) > 250  # type: ignore[arg-type]
    right, left = (opened(shown.data).convert("RGB").getpixel((x, 120)) for x in (180, 20))
    assert isinstance(right, tuple)
    assert isinstance(left, tuple)
    assert right[0] > right[2]
    assert left[2] > left[0]


def test_a_turn_that_stands_behind_the_picture_data_counts_nowhere(tmp_path: Path) -> None:
    """The plan has it from the header; a drawing that turned it would stretch it (W3C PNG, 11.3.3.4: `eXIf` may stand
    anywhere before `IEND`).
    """
    halves(300, 200).save(tmp_path / "plain.png")
    exif = Image.Exif()
    exif[ORIENTATION] = 6
    chunk = b"eXIf" + exif.tobytes().removeprefix(b"Exif\0\0")
    late = struct.pack(">I", len(chunk) - 4) + chunk + struct.pack(">I", zlib.crc32(chunk))
    whole = (tmp_path / "plain.png").read_bytes()
    (tmp_path / "late.png").write_bytes(whole[:-12] + late + whole[-12:])
    photo = read_photo(tmp_path / "late.png", "photo")
    assert photo.pixels == (300, 200)
    assert picture(photo, None, (300, 200)).pixels == (300, 200)
    assert opened((tmp_path / "late.png").read_bytes()).getexif()[ORIENTATION] == 6


def test_a_crop_is_cut_about_the_centre(tmp_path: Path) -> None:
    halves(1200, 800).save(tmp_path / "a.png")
    photo = read_photo(tmp_path / "a.png", "photo")
    shown = opened(picture(photo, Box(Fraction(1, 6), Fraction(0), Fraction(2, 3), Fraction(1)), (400, 400)).data)
    assert shown.size == (400, 400)
    corner = shown.getpixel((4, 4))
    assert isinstance(corner, tuple)
    assert corner[0] > 150  # the green corner is cropped away: 200 px of 1200 on each side, the corner is 150 wide


@pytest.mark.parametrize("size", [(1, 5000), (5000, 1), (1, 1)])
def test_a_crop_of_a_single_row_has_a_pixel(tmp_path: Path, size: tuple[int, int]) -> None:
    Image.new("RGB", size).save(tmp_path / "a.png")
    crop = Box(x=Fraction(1, 1000), y=Fraction(1, 1000), width=Fraction(1, 5000), height=Fraction(1, 5000))
    assert picture(read_photo(tmp_path / "a.png", "photo"), crop, (100, 100)).pixels == (1, 1)


def test_a_small_photo_is_not_enlarged(tmp_path: Path) -> None:
    halves(60, 40).save(tmp_path / "small.png")
    assert picture(read_photo(tmp_path / "small.png", "photo"), None, (600, 400)).pixels == (60, 40)


@pytest.mark.parametrize("at", [0.3, 0.8])
def test_a_photo_that_is_spoilt_within_is_refused_by_make_and_passed_by_check(tmp_path: Path, at: float) -> None:
    turned_jpeg(tmp_path / "whole.jpg")
    spoilt = bytearray(png_with_alpha(tmp_path / "spoilt.png").read_bytes())
    middle = int(len(spoilt) * at)
    spoilt[middle : middle + 8] = bytes(byte ^ 0xFF for byte in spoilt[middle : middle + 8])
    (tmp_path / "spoilt.png").write_bytes(spoilt)
    with pytest.raises(Undecodable, match=r"spoilt\.png.*cannot be decoded"):
        picture(read_photo(tmp_path / "spoilt.png", "photo"), None, (200, 300))
    jobs = job_of(tmp_path, Gull="spoilt.png", Slipway="whole.jpg", Ferry="spoilt.png")
    plan = matplan.plan(matplan.read_job(jobs))
    with pytest.raises(matplan.JobError) as refused:
        matplan.make(plan, tmp_path / "pack")
    assert [fault.where for fault in refused.value.faults] == ["piece[1].photo", "piece[3].photo"]
    assert not (tmp_path / "pack").exists()


def test_the_main_job_runs_on_camera_like_files(tmp_path: Path) -> None:
    turned_jpeg(tmp_path / "upright.jpg")
    sixteen_bit_tiff(tmp_path / "ramp.tif")
    png_with_alpha(tmp_path / "cut-out.png")
    job = job_of(tmp_path, Upright="upright.jpg", Ramp="ramp.tif", Lone="cut-out.png")
    matplan.make(matplan.plan(matplan.read_job(job)), tmp_path / "pack")
    plan = json.loads((tmp_path / "pack/plan.json").read_text())
    assert [piece["apertures"][0]["image"] for piece in plan["pieces"]] == [
        [200, 300],
        [200, pytest.approx(400 / 3)],
        [200, pytest.approx(400 / 3)],
    ]
    assert b"data:image/jpeg" in (tmp_path / "pack/front/upright.svg").read_bytes()


def test_the_main_job_runs_on_real_photographs(tmp_path: Path) -> None:
    """Open data: the two sample photographs that scikit-learn carries (427 × 640 pixels, CC BY)."""
    from sklearn.datasets import load_sample_images

    names = []
    for number, pixels in enumerate(load_sample_images().images):
        names.append(f"real{number}.jpg")
        Image.fromarray(pixels).save(tmp_path / names[-1], quality=95)
    job = job_of(tmp_path, One=names[0], Two=names[1])
    matplan.make(matplan.plan(matplan.read_job(job)), tmp_path / "pack")
    plan = json.loads((tmp_path / "pack/plan.json").read_text())
    for piece in plan["pieces"]:
        (shown,) = piece["apertures"]
        assert shown["pixels"]["have"] == [640, 427]
        assert shown["image"][1] == pytest.approx(200 * 427 / 640)
        assert "low-resolution" in {finding["code"] for finding in piece["findings"]}
