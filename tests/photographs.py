"""Camera-like files for tests: JPEG with an Exif turn and a wide-gamut profile, 16-bit TIFF, PNG with transparency.

The wide-gamut profile is built here byte by byte (ICC.1:2001-04, version 2 matrix profile) with the primaries of ISO
22028-2 (ROMM RGB), so that converting it to sRGB must change every saturated colour.
"""

from __future__ import annotations

import io
import struct
from pathlib import Path

from PIL import Image

WIDE_GAMUT = "Invented wide gamut"
_COLUMNS = ((0.7977, 0.2880, 0.0000), (0.1352, 0.7119, 0.0000), (0.0313, 0.0001, 0.8249))
"""XYZ (D50) of red, green and blue: ISO 22028-2, ROMM RGB."""
_WHITE = (0.9642, 1.0, 0.8249)
ORIENTATION = 0x0112
"""Exif tag Orientation (Exif 2.32)."""


def _s15(value: float) -> bytes:
    return struct.pack(">i", round(value * 65536))


def _xyz(values: tuple[float, float, float]) -> bytes:
    return b"XYZ \0\0\0\0" + b"".join(_s15(value) for value in values)


def wide_gamut_profile() -> bytes:
    """The profile's bytes: gamma 1.8, ROMM primaries."""
    name = WIDE_GAMUT.encode() + b"\0"
    described = b"desc\0\0\0\0" + struct.pack(">I", len(name)) + name + b"\0" * (4 + 4 + 2 + 1 + 67)
    curve = b"curv\0\0\0\0" + struct.pack(">IH", 1, round(1.8 * 256))
    tags = {
        b"desc": described,
        b"cprt": b"text\0\0\0\0nobody's\0",
        b"wtpt": _xyz(_WHITE),
        **{tag: _xyz(column) for tag, column in zip((b"rXYZ", b"gXYZ", b"bXYZ"), _COLUMNS, strict=True)},
        **dict.fromkeys((b"rTRC", b"gTRC", b"bTRC"), curve),
    }
    table, body = struct.pack(">I", len(tags)), b""
    start = 128 + 4 + 12 * len(tags)
    for tag, data in tags.items():
        table += tag + struct.pack(">II", start + len(body), len(data))
        body += data + b"\0" * (-len(data) % 4)
    header = struct.pack(">I4sI4s4s4s", start + len(body), b"\0\0\0\0", 0x02100000, b"mntr", b"RGB ", b"XYZ ")
    header += (
        struct.pack(">6H4s", 2026, 1, 1, 0, 0, 0, b"acsp") + b"\0" * 28 + b"".join(_s15(value) for value in _WHITE)
    )
    return header.ljust(128, b"\0") + table + body


def halves(width: int, height: int) -> Image.Image:
    """A picture whose upper half is a strong red and lower half a strong blue, with a green corner at the top left."""
    image = Image.new("RGB", (width, height), (200, 30, 30))
    image.paste((30, 30, 200), (0, height // 2, width, height))
    image.paste((30, 200, 30), (0, 0, width // 8, height // 8))
    return image


def turned_jpeg(path: Path, width: int = 1500, height: int = 1000, turn: int = 6) -> Path:
    """As a camera held upright writes it: stored on its side, with an Exif turn and a wide-gamut profile. `width` is as
    stored.
    """
    exif = Image.Exif()
    exif[ORIENTATION] = turn
    halves(width, height).save(path, "JPEG", quality=92, exif=exif, icc_profile=wide_gamut_profile())
    return path


def sixteen_bit_tiff(path: Path, width: int = 900, height: int = 600) -> Path:
    """A grey ramp of 16 bits, black on the left and white on the right."""
    row = b"".join(struct.pack("<H", 65535 * x // (width - 1)) for x in range(width))
    Image.frombytes("I;16", (width, height), row * height).save(path, "TIFF")
    return path


def png_with_alpha(path: Path, width: int = 900, height: int = 600) -> Path:
    """A picture whose right half is transparent."""
    image = halves(width, height).convert("RGBA")
    image.paste((0, 0, 0, 0), (width // 2, 0, width, height))
    image.save(path, "PNG")
    return path


def opened(data: bytes) -> Image.Image:
    """An encoded picture, decoded."""
    image = Image.open(io.BytesIO(data))
    image.load()
    return image
