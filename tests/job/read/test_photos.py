"""Photos by their headers: turned, wide-gamut, 16-bit, huge, broken."""

from __future__ import annotations

import io
import os
import struct
import warnings
import zlib
from contextlib import suppress
from pathlib import Path
from typing import Any

import pytest
from PIL import Image, ImageCms

from matplan.job.read.photos import PhotoFault, Photos, read_photo
from matplan.job.read.whole import opened
from matplan.job.records import Photo

SIZE = (30, 20)
ORIENTATION = 0x0112


def saved(path: Path, mode: str = "RGB", size: tuple[int, int] = SIZE, **options: Any) -> Photo:
    """What is read of a picture saved with those options."""
    Image.new(mode, size).save(path, **options)
    return read_photo(path, "got it")


@pytest.mark.parametrize(
    ("name", "mode", "kind"),
    [
        ("a.jpg", "RGB", "JPEG"), ("a.jpg", "CMYK", "JPEG"), ("a.jpg", "L", "JPEG"), ("a.png", "RGBA", "PNG"),
        ("a.png", "I;16", "PNG"),
        ("a.tif", "RGB", "TIFF"), ("a.tif", "I;16", "TIFF"), ("a.webp", "RGB", "WEBP"), ("a.gif", "P", "GIF"),
        ("a.bmp", "RGB", "BMP"), ("a.ppm", "RGB", "PPM"), ("a.jp2", "RGB", "JPEG2000"),
    ],
)  # fmt: skip
def test_every_photo_format_is_read(name: str, mode: str, kind: str, tmp_path: Path) -> None:
    photo = saved(tmp_path / name, mode)
    assert (photo.pixels, photo.format, photo.orientation, photo.profile) == (SIZE, kind, 1, None)


def test_picture_of_several_frames_counts_as_its_first(tmp_path: Path) -> None:
    photo = saved(tmp_path / "a.mpo", save_all=True, append_images=[Image.new("RGB", (6, 4))])
    assert (photo.pixels, photo.format) == (SIZE, "MPO")


@pytest.mark.parametrize("turn", range(1, 9))
@pytest.mark.parametrize("name", ["a.jpg", "a.tif", "a.png", "a.webp"])
def test_turn_of_the_camera_is_honoured(name: str, turn: int, tmp_path: Path) -> None:
    """Orientations 5 to 8 turn by a quarter: Exif 2.3 (CIPA DC-008), tag 274. Pillow's own turning is the check."""
    from PIL import ImageOps

    exif = Image.Exif()
    exif[ORIENTATION] = turn
    photo = saved(tmp_path / name, exif=exif.tobytes())
    with Image.open(tmp_path / name) as image:
        assert photo.pixels == ImageOps.exif_transpose(image).size
    assert photo.pixels == (SIZE if turn < 5 else SIZE[::-1])
    assert photo.orientation == turn


@pytest.mark.parametrize("turn", [0, 9, 77])
def test_turn_that_is_none_is_no_turn(turn: int, tmp_path: Path) -> None:
    exif = Image.Exif()
    exif[ORIENTATION] = turn
    assert saved(tmp_path / "a.jpg", exif=exif.tobytes()).orientation == 1


def wide_profile() -> bytes:
    """An sRGB profile whose description is changed to another of the same length, as a wide-gamut profile's stands
    there.
    """
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    name = ImageCms.getProfileDescription(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))).strip()
    wide = "Wide gamut test RGB".ljust(len(name))[: len(name)]
    for encoding in ("utf-16-be", "ascii"):
        profile = profile.replace(name.encode(encoding), wide.encode(encoding))
    return profile


@pytest.mark.parametrize("name", ["a.jpg", "a.tif", "a.png", "a.webp"])
def test_profile_is_called_by_its_own_name(name: str, tmp_path: Path) -> None:
    photo = saved(tmp_path / name, icc_profile=wide_profile())
    assert photo.profile is not None
    assert photo.profile.startswith("Wide")


@pytest.mark.parametrize("name", ["a.jpg", "a.tif", "a.png", "a.webp"])
def test_profile_that_cannot_be_read_is_no_fault_and_is_told(name: str, tmp_path: Path) -> None:
    broken = saved(tmp_path / name, icc_profile=b"no profile at all")
    assert (broken.profile, broken.profile_broken) == (None, True)
    assert not saved(tmp_path / name).profile_broken


def test_png_whose_profile_hinders_its_opening_is_opened_without_it(tmp_path: Path) -> None:
    """Compression methods other than 0 are not defined: W3C PNG, section 11.3.2.3."""
    path = tmp_path / "a.png"
    Image.effect_noise(SIZE, 60).save(path)
    body = b"iCCPgull\x00\x07" + zlib.compress(wide_profile())
    chunk = struct.pack(">I", len(body) - 4) + body + struct.pack(">I", zlib.crc32(body))
    whole = path.read_bytes()
    path.write_bytes(whole[:33] + chunk + whole[33:])  # behind the signature and IHDR
    photo = read_photo(path, "got it")
    assert (photo.pixels, photo.profile, photo.profile_broken) == (SIZE, None, True)
    with opened(path) as image, Image.open(io.BytesIO(whole)) as plain:
        assert image.tobytes() == plain.tobytes()


@pytest.mark.parametrize("name", ["a.jpg", "a.png", "a.tif", "a.webp"])
def test_file_that_ends_before_its_picture_is_cut_short(name: str, tmp_path: Path) -> None:
    path = tmp_path / name
    exif = Image.Exif()
    exif[0x010E] = "a preview within, \xff\xd9, is no end"
    Image.effect_noise((300, 200), 80).save(path, exif=exif.tobytes())
    whole = path.read_bytes()
    assert read_photo(path, "got it").pixels == (300, 200)
    for kept in (len(whole) - 40, len(whole) * 2 // 3):
        path.write_bytes(whole[:kept])
        with pytest.raises(
            PhotoFault, match=r"^got it, which is (cut short: the file ends before its picture|a broken)"
        ):
            read_photo(path, "got it")


def test_jpeg_with_a_preview_within_and_more_behind_it(tmp_path: Path) -> None:
    """An end marker in a segment before the scan is a preview's own (ITU-T T.81, annex B); what follows a picture's
    end is no fault."""
    Image.effect_noise((300, 200), 80).save(tmp_path / "a.jpg")
    whole = (tmp_path / "a.jpg").read_bytes()
    preview = b"\xff\xe2\x00\x10" + b"preview\xff\xd8\xff\xd9end"
    path = tmp_path / "b.jpg"
    path.write_bytes(whole[:2] + preview + whole[2:] + bytes(70_000))
    assert read_photo(path, "got it").pixels == (300, 200)
    path.write_bytes(whole[:2] + preview + whole[2:-2])
    with pytest.raises(PhotoFault, match="cut short"):
        read_photo(path, "got it")


def test_missing_photo_is_told_with_the_folder_and_the_near_file(tmp_path: Path) -> None:
    (tmp_path / "photos").mkdir()
    Image.new("RGB", SIZE).save(tmp_path / "photos" / "Slipway.jpg")
    with pytest.raises(PhotoFault) as caught:
        Photos.of(tmp_path).photo("photos/slipwya.jpeg")
    assert str(caught.value) == (
        f'got "photos/slipwya.jpeg", but there is no such file in {tmp_path / "photos"};'
        ' did you mean "photos/Slipway.jpg"?'
    )


def png_header(width: int, height: int) -> bytes:
    """A PNG without a picture behind its header."""
    body = b"IHDR" + struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    parts = (body, b"IDAT" + zlib.compress(b""), b"IEND")
    chunks = (struct.pack(">I", len(part) - 4) + part + struct.pack(">I", zlib.crc32(part)) for part in parts)
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunks)


def test_huge_picture_is_refused_neither_decoded_nor_warned_about(tmp_path: Path) -> None:
    path = tmp_path / "huge.png"
    path.write_bytes(png_header(60_000, 40_000))
    most = Image.MAX_IMAGE_PIXELS
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        with pytest.raises(PhotoFault, match="2400 megapixels"):
            read_photo(path, "got it")
    assert most == Image.MAX_IMAGE_PIXELS


def test_broken_files_are_told_apart(tmp_path: Path) -> None:
    Image.new("RGB", SIZE).save(tmp_path / "whole.jpg")
    whole = (tmp_path / "whole.jpg").read_bytes()
    (tmp_path / "cut.jpg").write_bytes(whole[:100])
    (tmp_path / "empty.jpg").write_bytes(b"")
    (tmp_path / "text.jpg").write_text("no photo")
    (tmp_path / "folder.jpg").mkdir()
    (tmp_path / "drawing.eps").write_text("%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 30 20\n%%EndComments\n")
    (tmp_path / "loop.jpg").symlink_to("loop.jpg")
    os.mkfifo(tmp_path / "pipe.jpg")
    for name, words in {
        "cut.jpg": "which is a broken photo",
        "empty.jpg": "which is an empty file",
        "text.jpg": "which is no photo that can be read",
        "folder.jpg": "which is a folder",
        "drawing.eps": "which is no photo that can be read",
        "none.jpg": "but there is no such file",
        "whole.jpg/none.jpg": "but there is no such file",
        "loop.jpg": "which cannot be read",
        "pipe.jpg": "which is no plain file",
        "x" * 300: "which cannot be read",
    }.items():
        with pytest.raises(PhotoFault, match=rf"^got it, {words}"):
            read_photo(tmp_path / name, "got it")


def test_header_cut_anywhere_is_a_fault_or_a_photo(tmp_path: Path) -> None:
    path = tmp_path / "a"
    for name in ("whole.jpg", "whole.tif", "whole.png", "whole.webp"):
        Image.new("RGB", SIZE).save(tmp_path / name, icc_profile=wide_profile())
        whole = (tmp_path / name).read_bytes()
        for end in range(1, min(len(whole), 400), 7):
            path.write_bytes(whole[:end])
            with suppress(PhotoFault):
                assert read_photo(path, "got it").pixels == SIZE


def test_photo_of_many_pieces_is_read_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    Image.new("RGB", SIZE).save(tmp_path / "a.jpg")
    photos = Photos.of(tmp_path)
    first = photos.photo("a.jpg")
    monkeypatch.setattr(Image, "open", None)
    assert photos.photo("a.jpg") is first
    assert (first.written, first.path) == ("a.jpg", tmp_path / "a.jpg")


def test_confined_photos_come_from_the_folder_alone(tmp_path: Path) -> None:
    inside = tmp_path / "job"
    (inside / "photos").mkdir(parents=True)
    Image.new("RGB", SIZE).save(tmp_path / "out.jpg")
    Image.new("RGB", SIZE).save(inside / "photos" / "in.jpg")
    (inside / "link.jpg").symlink_to(tmp_path / "out.jpg")
    (inside / "within.jpg").symlink_to("photos/in.jpg")
    (inside / "way").symlink_to(tmp_path)
    for written in ("photos/in.jpg", "within.jpg", "photos/../photos/in.jpg"):
        assert Photos.of(inside, confined=True).photo(written).pixels == SIZE
    for written in ("../out.jpg", "link.jpg", "way/out.jpg", str(tmp_path / "out.jpg"), "../none.jpg"):
        with pytest.raises(PhotoFault, match="not in the job's folder"):
            Photos.of(inside, confined=True).photo(written)
    assert Photos.of(inside).photo("../out.jpg").pixels == SIZE


def test_job_without_a_photo_needs_no_picture_library() -> None:
    import subprocess
    import sys

    code = """
import sys, pathlib, matplan.job
matplan.job.parse_job("[[piece]]\\nname = 'a'\\nimage = '300 x 200 mm'\\nborder = 60", pathlib.Path())
print([name for name in ("PIL", "pint", "shapely", "numpy") if name in sys.modules])
"""
    assert (
        subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.strip() == "[]"
    )
