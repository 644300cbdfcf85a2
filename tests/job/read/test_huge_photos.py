"""Photos of very many pixels in a small file: refused before they are decoded, and those that are not take less than
500 MB.
"""

from __future__ import annotations

import struct
import subprocess
import sys
import zlib
from pathlib import Path

import pytest
from PIL import Image

from matplan.job.read.photos import MOST_MEGAPIXELS, MOST_OF_OTHERS, PhotoFault, most_megapixels, read_photo

JOB = """
[board.white]
colour = "#f6f2e8"
[paper.rag]
size = "A3+"
[[piece]]
name = "Huge"
photo = "huge.png"
paper = "rag"
image = "300 x 300 mm"
border = "60 mm"
mat = ["white"]
"""
CHANNELS = {"RGB": (2, 3), "RGBA": (6, 4)}


def png(path: Path, side: int, mode: str) -> Path:
    """A grey square by the PNG specification (W3C PNG, section 5), row by row."""
    kind, channels = CHANNELS[mode]
    packed = zlib.compressobj(9)
    row = b"\0" + b"\x80" * (side * channels)
    data = b"".join([*(packed.compress(row) for _ in range(side)), packed.flush()])
    head = struct.pack(">IIBBBBB", side, side, 8, kind, 0, 0, 0)
    with path.open("wb") as file:
        file.write(b"\x89PNG\r\n\x1a\n")
        for name, content in ((b"IHDR", head), (b"IDAT", data), (b"IEND", b"")):
            file.write(struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content)))
    return path


@pytest.mark.parametrize(("mode", "most"), [("RGB", MOST_MEGAPIXELS), ("RGBA", MOST_OF_OTHERS)])
def test_a_photo_of_too_many_pixels_is_refused_by_its_header(mode: str, most: int, tmp_path: Path) -> None:
    side = int((most * 1_000_000) ** 0.5) + 80
    with pytest.raises(
        PhotoFault, match=rf"which has {side * side // 1_000_000} megapixels; .*may have {most}: save it"
    ):
        read_photo(png(tmp_path / "huge.png", side, mode), "x")
    assert read_photo(png(tmp_path / "large.png", side - 100, mode), "x").pixels == (side - 100, side - 100)


def test_a_baseline_jpeg_may_have_any_number_of_pixels(tmp_path: Path) -> None:
    Image.new("L", (12000, 9000), 128).save(tmp_path / "large.jpg", quality=30)
    assert read_photo(tmp_path / "large.jpg", "x").pixels == (12000, 9000)
    Image.new("L", (12000, 9000), 128).save(tmp_path / "steps.jpg", quality=30, progressive=True)
    with pytest.raises(PhotoFault, match="108 megapixels"):
        read_photo(tmp_path / "steps.jpg", "x")


@pytest.mark.parametrize("frame", [0xC3, 0xC9, 0xCB])
def test_a_jpeg_that_no_pdf_takes_is_decoded_whole_and_has_its_limit(frame: int, tmp_path: Path) -> None:
    """Lossless, and in arithmetic code (ITU-T T.81, table B.1)."""
    Image.new("L", (12000, 9000), 128).save(tmp_path / "a.jpg", quality=30)
    data = (tmp_path / "a.jpg").read_bytes().replace(b"\xff\xc0\x00", bytes([0xFF, frame, 0]), 1)
    (tmp_path / "a.jpg").write_bytes(data)
    with pytest.raises(PhotoFault, match="108 megapixels"):
        read_photo(tmp_path / "a.jpg", "x")


WEBP, JP2 = 19, 16
"""Megapixels: their decoders hold 21 and 24 bytes for each."""
KINDS: dict[tuple[str, str, str], int] = {
    ("RGB", "PNG", ""): MOST_MEGAPIXELS,
    ("RGBA", "PNG", ""): MOST_OF_OTHERS,
    ("RGB", "WEBP", ""): WEBP,
    ("RGBA", "WEBP", ""): WEBP,
    ("RGB", "JPEG2000", ""): JP2,
    ("L", "JPEG", "progressive"): MOST_MEGAPIXELS,
    ("RGB", "JPEG", "progressive"): MOST_MEGAPIXELS,
    ("CMYK", "JPEG", "progressive"): 50,
    ("RGB", "TIFF", "raw"): MOST_MEGAPIXELS,
    ("RGB", "TIFF", "tiff_lzw"): 32,  # in one strip
    ("RGBA", "TIFF", "tiff_lzw"): 22,
    ("L", "TIFF", "tiff_lzw"): 49,
}


@pytest.mark.parametrize(("mode", "kind", "how"), KINDS, ids=" ".join)
def test_each_kind_has_its_limit(mode: str, kind: str, how: str, tmp_path: Path) -> None:
    """Measured with 25 megapixels of noise: the bytes that a whole `make` held for each pixel, the program's own left
    out: WebP 18 to 21, JPEG 2000 23, a progressive JPEG 5 (CMYK 7), a TIFF 5, with transparency 9, in one packed strip
    11.
    """
    options = {"progressive": True} if kind == "JPEG" else {"compression": how} if how else {}
    Image.new(mode, (64, 48)).save(tmp_path / "a", kind, **options)
    with Image.open(tmp_path / "a") as image:
        assert most_megapixels(image) == KINDS[mode, kind, how]


def test_a_tiff_in_many_strips_may_be_larger(tmp_path: Path) -> None:
    Image.new("RGB", (64, 480)).save(tmp_path / "a.tif", compression="tiff_lzw", strip_size=64 * 3 * 8)
    with Image.open(tmp_path / "a.tif") as image:
        assert most_megapixels(image) >= 60


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="only Linux tells a process's own peak of memory")
@pytest.mark.parametrize(("mode", "most"), [("RGB", MOST_MEGAPIXELS), ("RGBA", MOST_OF_OTHERS)])
def test_a_pack_with_the_largest_photo_takes_less_than_500_mb(mode: str, most: int, tmp_path: Path) -> None:
    png(tmp_path / "huge.png", int((most * 1_000_000) ** 0.5), mode)
    (tmp_path / "job.toml").write_text(JOB)
    code = (
        "import sys; from matplan.start import main; sys.argv[1:] = ['make', 'job.toml', '--out', 'pack'];\n"
        "try: main()\n"
        "except SystemExit as end: assert not end.code, end.code\n"
        "print(next(line.split()[1] for line in open('/proc/self/status') if line.startswith('VmHWM')))"
    )
    run = subprocess.run([sys.executable, "-c", code], cwd=tmp_path, capture_output=True, text=True, check=True)
    assert int(run.stdout.split()[-1]) < 500_000  # kB; getrusage would count the parent's memory too
