"""The print as a PDF: the page is the sheet, the photo lies exactly at its place, and its pixels and colours are the
file's own.
"""

from __future__ import annotations

import ctypes
import io
import re
import struct
import tracemalloc
import warnings
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

import pypdfium2
import pytest
from PIL import Image, ImageChops, ImageOps
from pypdfium2 import raw

import matplan
from matplan.documents.prints.photo_pages import pages_of
from matplan.documents.prints.print_sheet import print_sheet
from matplan.drawing import svg
from matplan.job.read.photos import read_photo
from matplan.job.records import ApertureAsk, Paper, Shape, Show
from matplan.lengths import Sides, Size
from matplan.mats.records import SolvedPiece
from matplan.pack.embedding import embedded
from matplan.pack.pdf_stream import Packed, Span
from matplan.pack.pictures import picture
from matplan.pack.print_pdf import print_pdf
from matplan.planning import Plan
from tests.making import RAG, border, piece, planned, size, window
from tests.photographs import halves, png_with_alpha, sixteen_bit_tiff, turned_jpeg, wide_gamut_profile
from tests.readback import MM, read_svg

WHITE = (255, 255, 255)


def one(photo: Path, *, image: str = "150 x 100", paper: Paper | None = RAG, **changes: Any) -> Plan:
    ask = window(image=image, photo=read_photo(photo, "photo"), paper=paper, **changes)
    return planned(piece(apertures=(ask,), border=border("60")))


def content(solved: SolvedPiece) -> bytes:
    return b"".join(print_pdf("prints", pages_of(solved)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A picture on a page: its corners' box in mm from the page's top left corner, its stored bytes, its profile's."""

    box: tuple[float, float, float, float]
    stored: bytes
    filters: tuple[str, ...]
    profile: bytes


def pictures_on(data: bytes, page: int = 0) -> tuple[Placed, ...]:
    document = pypdfium2.PdfDocument(data)
    sheet = document[page]
    height = sheet.get_height()
    found = []
    for thing in sheet.get_objects():
        if thing.type != raw.FPDF_PAGEOBJ_IMAGE:
            continue
        left, low, right, high = thing.get_bounds()
        found.append(
            Placed(
                box=(left * MM, (height - high) * MM, (right - left) * MM, (high - low) * MM),
                stored=bytes(thing.get_data(decode_simple=False)),
                filters=tuple(thing.get_filters()),
                profile=_profile(thing.raw, sheet.raw),
            )
        )
    sheet.close()
    document.close()
    return tuple(found)


def _profile(pointer: Any, page: Any) -> bytes:
    length = ctypes.c_size_t()
    raw.FPDFImageObj_GetIccProfileDataDecoded(pointer, page, None, 0, length)
    buffer = (ctypes.c_uint8 * length.value)()
    raw.FPDFImageObj_GetIccProfileDataDecoded(pointer, page, buffer, length.value, length)
    return bytes(buffer)


def rendered(data: bytes, page: int = 0, scale: float = 1.0) -> Image.Image:
    document = pypdfium2.PdfDocument(data)
    shown: Image.Image = document[page].render(scale=scale).to_pil().convert("RGB")
    document.close()
    return shown


def at(shown: Image.Image, page: tuple[float, float], x: float, y: float) -> tuple[int, ...]:
    """The colour at a point of the page, in mm from its top left corner."""
    pixel = shown.getpixel((int(x / page[0] * shown.width), int(y / page[1] * shown.height)))
    assert isinstance(pixel, tuple)
    return pixel


def page_size(data: bytes, page: int = 0) -> tuple[float, float]:
    document = pypdfium2.PdfDocument(data)
    width, height = document[page].get_size()
    document.close()
    return width * MM, height * MM


# --- where it lies ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("paper", ["329 x 483 mm", "8 1/2 x 11 in", "210 x 297 mm", "333.3 x 444.4 mm"])
def test_the_page_is_the_sheet_and_the_photo_lies_where_the_margins_say(tmp_path: Path, paper: str) -> None:
    halves(900, 600).save(tmp_path / "a.jpg")
    (aperture,) = (solved := one(tmp_path / "a.jpg", paper=Paper(name="rag", size=size(paper))).pieces[0]).apertures
    made = aperture.print
    assert made is not None
    data = content(solved)
    assert page_size(data) == pytest.approx((float(made.size.width), float(made.size.height)), abs=0.001)
    (placed,) = pictures_on(data)
    wanted = tuple(map(float, (made.margins.left, made.margins.top, aperture.image.width, aperture.image.height)))
    assert placed.box == pytest.approx(wanted, abs=0.001)


def test_a_sheet_fed_turned_is_a_lying_page(tmp_path: Path) -> None:
    halves(900, 600).save(tmp_path / "a.jpg")
    assert page_size(content(one(tmp_path / "a.jpg", image="450 x 300").pieces[0])) == pytest.approx(
        (483, 329), abs=0.001
    )


def test_a_crop_is_a_clip_and_the_photo_keeps_its_size(tmp_path: Path) -> None:
    """300 × 200 px on 100 × 100 mm: the photo is 150 mm wide, 25 mm of it off on either side."""
    halves(1200, 800).save(tmp_path / "a.png")
    (aperture,) = (solved := one(tmp_path / "a.png", image="100 x 100").pieces[0]).apertures
    assert aperture.print is not None
    data = content(solved)
    left, top = float(aperture.print.margins.left), float(aperture.print.margins.top)
    (placed,) = pictures_on(data)
    assert placed.box == pytest.approx((left - 25, top, 150, 100), abs=0.001)
    shown, page = rendered(data, scale=2), page_size(data)
    assert at(shown, page, left - 1, top + 20) == WHITE
    assert at(shown, page, left + 101, top + 20) == WHITE
    assert at(shown, page, left + 1, top + 3) == (
        200,
        30,
        30,
    )  # the green corner, 150 px wide, is 18.75 mm: cropped away
    assert at(shown, page, left + 50, top + 75) == (30, 30, 200)


@pytest.mark.parametrize("turn", range(1, 9))
def test_every_turn_of_the_camera_is_honoured(tmp_path: Path, turn: int) -> None:
    """Source: Pillow's ImageOps.exif_transpose (a general-purpose library) on the same file."""
    photo = turned_jpeg(tmp_path / "a.jpg", 600, 400, turn)
    with Image.open(photo) as stored:
        seen = ImageOps.exif_transpose(stored).convert("RGB")
    width, height = seen.size
    solved = one(photo, image=f"{width / 4:g} x {height / 4:g}").pieces[0]
    (aperture,) = solved.apertures
    assert aperture.print is not None
    data = content(solved)
    shown, page = rendered(data, scale=2), page_size(data)
    left, top = float(aperture.print.margins.left), float(aperture.print.margins.top)
    for across, down in ((0.04, 0.04), (0.96, 0.04), (0.04, 0.96), (0.96, 0.96), (0.3, 0.4), (0.4, 0.7)):
        wanted = seen.getpixel((int(across * width), int(down * height)))
        assert isinstance(wanted, tuple)
        found = at(shown, page, left + across * width / 4, top + down * height / 4)
        assert found.index(max(found)) == wanted.index(max(wanted))  # the same of red, green and blue
    (placed,) = pictures_on(data)
    assert placed.box[2:] == pytest.approx((width / 4, height / 4), abs=0.001)


def test_a_round_print_is_round(tmp_path: Path) -> None:
    Image.new("RGB", (600, 600), (10, 120, 10)).save(tmp_path / "a.png")
    solved = one(tmp_path / "a.png", image="100 x 100", show=Show.MARGIN, shape=Shape.CIRCLE).pieces[0]
    (aperture,) = solved.apertures
    assert aperture.print is not None
    data = content(solved)
    shown, page = rendered(data, scale=3), page_size(data)
    left, top = float(aperture.print.margins.left), float(aperture.print.margins.top)
    # on the diagonal the circle's edge is 50 × (1 − 1/√2) = 14.6 mm from the corner
    for off, colour in ((13.9, WHITE), (15.4, (10, 120, 10))):
        for x in (left + off, left + 100 - off):
            for y in (top + off, top + 100 - off):
                assert at(shown, page, x, y) == colour


# --- its own pixels ---------------------------------------------------------------------------------------------------


def test_a_jpeg_passes_through_byte_for_byte(tmp_path: Path) -> None:
    photo = turned_jpeg(tmp_path / "a.jpg")
    (placed,) = pictures_on(content(one(photo, image="100 x 150").pieces[0]))
    assert placed.filters == ("DCTDecode",)
    assert placed.stored == photo.read_bytes()


def test_what_a_camera_appends_is_left_out(tmp_path: Path) -> None:
    halves(900, 600).save(tmp_path / "plain.jpg", quality=95)
    halves(900, 600).save(tmp_path / "a.jpg", "MPO", quality=95, save_all=True, append_images=[halves(90, 60)])
    with Image.open(tmp_path / "a.jpg") as several:
        assert several.format == "MPO"
    (placed,) = pictures_on(content(one(tmp_path / "a.jpg").pieces[0]))
    whole = (tmp_path / "a.jpg").read_bytes()
    assert whole.startswith(placed.stored)
    assert placed.stored.endswith(b"\xff\xd9")
    assert len(placed.stored) < len(whole) - 600
    with Image.open(io.BytesIO(placed.stored)) as first, Image.open(tmp_path / "plain.jpg") as plain:
        assert ImageChops.difference(first, plain).getbbox() is None


def test_a_png_passes_through_row_for_row(tmp_path: Path) -> None:
    halves(900, 600).save(tmp_path / "a.png")
    data = (tmp_path / "a.png").read_bytes()
    rows = b"".join(part for kind, part in _chunks(data) if kind == b"IDAT")
    (placed,) = pictures_on(content(one(tmp_path / "a.png").pieces[0]))
    assert placed.stored == rows
    assert len(zlib.decompress(placed.stored)) == 600 * (900 * 3 + 1)


def _chunks(data: bytes) -> list[tuple[bytes, bytes]]:
    found, here = [], 8
    while here < len(data):
        length = int.from_bytes(data[here : here + 4], "big")
        found.append((data[here + 4 : here + 8], data[here + 8 : here + 8 + length]))
        here += 12 + length
    return found


def _cmyk(path: Path) -> None:
    halves(300, 200).convert("CMYK").save(path, "JPEG", quality=95)


WRITERS: dict[str, Callable[[Path], object]] = {
    "grey.jpg": lambda path: halves(300, 200).convert("L").save(path, quality=95),
    "progressive.jpg": lambda path: halves(300, 200).save(path, quality=95, progressive=True),
    "restarts.jpg": lambda path: halves(300, 200).save(path, quality=95, restart_marker_rows=1),
    "cmyk.jpg": _cmyk,
    "palette.png": lambda path: halves(300, 200).quantize(16).save(path),
    "bilevel.png": lambda path: halves(300, 200).convert("1", dither=Image.Dither.NONE).save(path),
    "grey.png": lambda path: halves(300, 200).convert("L").save(path),
    "alpha.png": lambda path: png_with_alpha(path, 300, 200),
    "grey-alpha.png": lambda path: Image.merge(
        "LA", [halves(300, 200).convert("L"), Image.new("L", (300, 200), 128)]
    ).save(path),
    "deep.tif": lambda path: sixteen_bit_tiff(path, 300, 200),
    "cmyk.tif": lambda path: halves(300, 200).convert("CMYK").save(path),
    "packed.tif": lambda path: halves(300, 200).save(path, compression="tiff_lzw"),
    "photo.webp": lambda path: halves(300, 200).save(path, lossless=True),
    "photo.gif": lambda path: halves(300, 200).save(path),
    "photo.bmp": lambda path: halves(300, 200).save(path),
}


@pytest.mark.parametrize("name", WRITERS)
def test_every_format_keeps_its_pixels(tmp_path: Path, name: str) -> None:
    """Source: the same file through Pillow (a general-purpose library), transparency on white."""
    path = tmp_path / name
    WRITERS[name](path)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        with Image.open(path) as image:
            width, height = image.size
            wanted = _as_seen(image)
    made = embedded(read_photo(path, "photo"))
    assert made.pixels == (width, height)
    point = f"{width * 25.4 / 72:.9f} x {height * 25.4 / 72:.9f}"  # one pixel a point
    solved = one(path, image=point, paper=Paper(name="roll", size=size("2000 x 2000"))).pieces[0]
    (aperture,) = solved.apertures
    assert aperture.print is not None
    shown = rendered(content(solved))
    left, top = (round(float(v) * 72 / 25.4) for v in (aperture.print.margins.left, aperture.print.margins.top))
    for across in (0.04, 0.3, 0.5, 0.96):
        for down in (0.04, 0.3, 0.8):
            x, y = int(across * width), int(down * height)
            found, want = shown.getpixel((left + x, top + y)), wanted.getpixel((x, y))
            assert isinstance(found, tuple)
            assert isinstance(want, tuple)
            if "cmyk" in name:  # without a profile it has no one rendering; the strongest colour is the same
                assert found.index(max(found)) == want.index(max(want))
            else:
                assert all(abs(a - b) <= 6 for a, b in zip(found, want, strict=True)), (found, want)


def _as_seen(image: Image.Image) -> Image.Image:
    if image.mode.startswith("I;16"):
        return image.convert("I").point(lambda value: value * (1 / 256)).convert("L").convert("RGB")
    if image.mode in ("RGBA", "LA"):
        ground = Image.new("RGB", image.size, "white")
        ground.paste(image.convert("RGB"), mask=image.getchannel("A"))
        return ground
    return image.convert("RGB")


def test_a_png_in_passes_is_packed_anew(tmp_path: Path) -> None:
    """Adam7 (PNG, third edition, 8.2); of a picture of one pixel the first pass holds all."""
    head = struct.pack(">IIBBBBB", 1, 1, 8, 2, 0, 0, 1)
    parts = [(b"IHDR", head), (b"IDAT", zlib.compress(b"\0\x0a\x78\x0b")), (b"IEND", b"")]
    chunks = [
        struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body)) for kind, body in parts
    ]
    (tmp_path / "a.png").write_bytes(b"\x89PNG\r\n\x1a\n" + b"".join(chunks))
    (stored,) = embedded(read_photo(tmp_path / "a.png", "photo")).stream
    assert isinstance(stored, Packed)
    assert zlib.decompress(b"".join(stored.read())) == b"\x0a\x78\x0b"


def test_sixteen_bits_stay_sixteen(tmp_path: Path) -> None:
    assert embedded(read_photo(sixteen_bit_tiff(tmp_path / "a.tif"), "photo")).bits == 16


# --- its own colours --------------------------------------------------------------------------------------------------


def test_the_colour_profile_goes_with_the_photo(tmp_path: Path) -> None:
    (placed,) = pictures_on(content(one(turned_jpeg(tmp_path / "a.jpg"), image="100 x 150").pieces[0]))
    assert placed.profile == wide_gamut_profile()


def test_a_png_and_a_tiff_keep_theirs(tmp_path: Path) -> None:
    for name in ("a.png", "a.tif", "a.webp"):
        halves(300, 200).save(tmp_path / name, icc_profile=wide_gamut_profile())
        (placed,) = pictures_on(content(one(tmp_path / name).pieces[0]))
        assert placed.profile == wide_gamut_profile()


def test_a_profile_of_other_colours_is_lost_and_the_print_sheet_says_so(tmp_path: Path) -> None:
    halves(300, 200).convert("L").save(tmp_path / "grey.jpg", icc_profile=wide_gamut_profile())
    turned_jpeg(tmp_path / "fits.jpg", turn=1)
    for name, words in (
        ("grey.jpg", "but without its colour profile"),
        ("fits.jpg", "with its own pixels and its colour profile."),
    ):
        plan = one(tmp_path / name)
        (solved,) = plan.pieces
        (aperture,) = solved.apertures
        photo = aperture.ask.photo
        assert photo is not None
        shown = picture(photo, aperture.crop, (100, 100))
        assert shown.profile_lost == (name == "grey.jpg")
        sheet = read_svg(svg.render(print_sheet(plan.job, solved, aperture, {(solved.ask.file, aperture.name): shown})))
        notes = " ".join(text.text for text in sheet.texts)
        assert words in notes
        assert "print/slipway.pdf has the photo" in notes
        (placed,) = pictures_on(content(solved))
        assert bool(placed.profile) == (name == "fits.jpg")


# --- crop marks -------------------------------------------------------------------------------------------------------


def _marks(solved: SolvedPiece) -> tuple[tuple[float, float, float, float], ...]:
    (page,) = pages_of(solved)
    return tuple(tuple(map(float, (*start, *end))) for placed in page.prints for start, end in placed.marks)  # type: ignore[misc]


def test_crop_marks_carry_on_the_images_edges_in_the_white(tmp_path: Path) -> None:
    halves(900, 600).save(tmp_path / "a.jpg")
    (aperture,) = (solved := one(tmp_path / "a.jpg").pieces[0]).apertures
    assert aperture.print is not None
    left, top = float(aperture.print.margins.left), float(aperture.print.margins.top)
    marks = _marks(solved)
    assert len(marks) == 8
    for x1, y1, x2, y2 in marks:
        if x1 == x2:
            assert x1 in (left, left + 150)
            assert max(y1, y2) <= top - 2 or min(y1, y2) >= top + 102
        else:
            assert y1 == y2
            assert y1 in (top, top + 100)
            assert max(x1, x2) <= left - 2 or min(x1, x2) >= left + 152
        assert 5 <= min(x1, x2) <= max(x1, x2) <= 324  # what the printer reaches
        assert 5 <= min(y1, y2) <= max(y1, y2) <= 478


def test_marks_stay_out_of_what_the_mat_shows(tmp_path: Path) -> None:
    """With a margin of 10 mm they begin 12 mm from the image, behind the mat."""
    halves(900, 600).save(tmp_path / "a.jpg")
    (aperture,) = (solved := one(tmp_path / "a.jpg", show=Show.MARGIN).pieces[0]).apertures
    assert aperture.print is not None
    top = float(aperture.print.margins.top)
    above = [max(y1, y2) for x1, y1, x2, y2 in _marks(solved) if x1 == x2 and y1 < top]
    assert above == [top - 12, top - 12]


def test_a_sheet_in_full_view_has_no_marks(tmp_path: Path) -> None:
    halves(900, 600).save(tmp_path / "a.jpg")
    assert not _marks(one(tmp_path / "a.jpg", show=Show.SHEET).pieces[0])


def test_no_marks_where_the_image_reaches_the_edge(tmp_path: Path) -> None:
    halves(900, 600).save(tmp_path / "a.jpg")
    full = Paper(name="full", size=Size(Fraction(150), Fraction(100)))
    assert not _marks(one(tmp_path / "a.jpg", paper=full).pieces[0])
    tight = Paper(name="tight", size=Size(Fraction(170), Fraction(106)), printer_margin=Sides.all(Fraction(3)))
    assert all(y1 == y2 for _, y1, _, y2 in _marks(one(tmp_path / "a.jpg", paper=tight).pieces[0]))


# --- the file ---------------------------------------------------------------------------------------------------------


def test_several_windows_are_several_pages_and_a_photo_is_stored_once(tmp_path: Path) -> None:
    halves(900, 600).save(tmp_path / "a.jpg", quality=100)
    photo = read_photo(tmp_path / "a.jpg", "photo")
    a5 = Paper(name="a5", size=size("148 x 210"))
    asks: tuple[ApertureAsk, ...] = (
        window("left", image="150 x 100", photo=photo, paper=RAG),
        window("words", image="90 x 30", text="Ferry steps"),
        window("right", image="120 x 80", photo=photo, paper=a5),
        window("plain", image="120 x 80", aspect="3:2", paper=a5),
    )
    plan = planned(piece(apertures=asks, rows=((0, 1), (2, 3)), border=border("60"), gutter=Fraction(20)))
    data = content(plan.pieces[0])
    assert page_size(data, 0) == pytest.approx((329, 483), abs=0.001)
    assert page_size(data, 1) == pytest.approx((148, 210), abs=0.001)
    assert len(pypdfium2.PdfDocument(data)) == 2
    assert data.count(b"/Subtype /Image") == 1
    for page in (0, 1):
        (placed,) = pictures_on(data, page)
        assert placed.stored == photo.path.read_bytes()


def test_the_table_leads_to_every_object(tmp_path: Path) -> None:
    data = content(one(turned_jpeg(tmp_path / "a.jpg"), image="100 x 150").pieces[0])
    start = int(data.rsplit(b"startxref\n", 1)[1].split()[0])
    rows = re.findall(rb"(\d{10}) (\d{5}) ([nf]) \n", data[start:])
    assert len(rows) == int(data[start:].split()[2])
    for count, (place, _, kind) in enumerate(rows):
        if kind == b"n":
            assert data[int(place) :].startswith(f"{count} 0 obj\n".encode())
    assert b"/PrintScaling /None" in data
    assert data == content(one(tmp_path / "a.jpg", image="100 x 150").pieces[0])


def test_a_large_photo_is_never_held_in_memory(tmp_path: Path) -> None:
    noise = Image.effect_noise((2600, 2000), 90)
    noise.save(tmp_path / "large.jpg", quality=98)
    length = (tmp_path / "large.jpg").stat().st_size
    pages = pages_of(one(tmp_path / "large.jpg", image="260 x 200").pieces[0])
    assert length > 4_000_000
    (whole,) = embedded(pages[0].prints[0].photo).stream  # and Pillow's plugins are loaded
    assert whole == Span(path=tmp_path / "large.jpg", start=0, length=length)
    tracemalloc.start()
    written = sum(len(part) for part in print_pdf("prints", pages))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert written > length
    assert peak < 2_500_000


def test_a_jpeg_with_odd_bytes_between_its_segments_is_passed_on_all_the_same(tmp_path: Path) -> None:
    halves(300, 200).save(tmp_path / "a.jpg")
    data = (tmp_path / "a.jpg").read_bytes()
    table = data.index(b"\xff\xdb")
    odd = (data[:table] + b"\0\1" + data[table:], data[:-2] + b"\xff\xe9\xff\xf0" + data[-2:])
    for each in odd:
        (tmp_path / "a.jpg").write_bytes(each)
        (whole,) = embedded(read_photo(tmp_path / "a.jpg", "photo")).stream
        assert whole == Span(path=tmp_path / "a.jpg", start=0, length=len(each))


def test_a_photo_that_is_decoded_is_never_there_twice(tmp_path: Path) -> None:
    """What Python holds; the picture itself is Pillow's."""
    Image.effect_noise((2600, 2000), 90).convert("RGB").save(tmp_path / "large.tif")
    pages = pages_of(one(tmp_path / "large.tif", image="260 x 200").pieces[0])
    embedded(pages[0].prints[0].photo)  # and Pillow's plugins are loaded
    tracemalloc.start()
    written = sum(len(part) for part in print_pdf("prints", pages))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert written > 4_000_000
    assert peak < 3_500_000


JOB = """
title = "Ferry steps"
[paper.rag]
size = "A4"
[[piece]]
name = "Slipway"
frame = "40x50 cm"
photo = "a.jpg"
image = { width = "15 cm" }
paper = "rag"
[[piece]]
name = "Bare"
frame = "40x50 cm"
aspect = "3:2"
image = { width = "15 cm" }
paper = "rag"
"""


def test_the_pack_has_one_for_each_piece_with_a_photo(tmp_path: Path) -> None:
    halves(900, 600).save(tmp_path / "a.jpg")
    (tmp_path / "job.toml").write_text(JOB)
    plan = matplan.plan(matplan.read_job(tmp_path / "job.toml"))
    matplan.make(plan, tmp_path / "pack", only=["print"])
    files = sorted(path.name for path in (tmp_path / "pack/print").iterdir() if not path.name.startswith("gang-"))
    assert files == ["bare.svg", "slipway.pdf", "slipway.svg"]
    (placed,) = pictures_on((tmp_path / "pack/print/slipway.pdf").read_bytes())
    assert placed.stored == (tmp_path / "a.jpg").read_bytes()
    assert placed.box[2:] == pytest.approx((150, 100), abs=0.001)
