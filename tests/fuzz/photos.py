"""Broken photos, photos of odd kinds, and what is no photo at all, under any ending."""

from __future__ import annotations

import io
import os
import random
import shutil
import struct
import zlib
from collections.abc import Callable
from functools import cache
from pathlib import Path
from random import Random
from typing import Any, Final

from PIL import Image

from tests.fuzz.jobs import mutated, pack_breach
from tests.fuzz.law import asked, breach
from tests.fuzz.trial import Tried
from tests.photographs import ORIENTATION, halves, wide_gamut_profile

ENDINGS: Final = (".jpg", ".png", ".tif", ".webp", ".gif", ".bmp", ".jp2", ".ppm", ".heic", ".JPG", "", ".svg", ".pdf")
_SNIPPETS: Final = (
    b"\xff\xd8", b"\xff\xd9", b"\xff\xda", b"\xff\xe1\xff\xff", b"\xff\xc0", b"\xff\xff", b"\x00" * 64, b"IDAT",
    b"IEND", b"iCCP",
    b"Exif\0\0", b"MM\0*", b"II*\0", b"\xff" * 64, b"ICC_PROFILE\0", b"acTL", b"tRNS", b"PLTE",
)  # fmt: skip
JOB: Final = """[board.white]
colour = "#f6f2e8"
[paper.rag]
size = "A4"
test_strip = "A6"
[frame.own]
rail = "20 mm"
[[piece]]
name = "Odd"
frame = "own"
photo = "{photo}"
{aspect}
paper = "rag"
image = {{ width = "150 mm" }}
border = "40 mm"
mat = ["white"]
[[wall]]
name = "Hall"
size = "3000 x 2400 mm"
"""


def _saved(image: Image.Image, kind: str, **options: Any) -> bytes:
    out = io.BytesIO()
    image.copy().save(out, kind, **options)  # a saved picture remembers its encoder
    return out.getvalue()


@cache
def sound() -> dict[str, bytes]:
    """Return small sound pictures of many kinds, by what they are."""
    base = halves(120, 80)
    noise = Image.frombytes("RGB", (64, 48), random.Random(1).randbytes(64 * 48 * 3))
    exif = Image.Exif()
    exif[ORIENTATION] = 6
    icc = wide_gamut_profile()
    deep = Image.frombytes("I;16", (60, 40), bytes(range(240)) * 20)
    clear = base.convert("RGBA")
    clear.putalpha(Image.linear_gradient("L").resize(base.size))
    frames = [base, base.rotate(180), noise.resize(base.size)]
    palette = base.quantize(16)
    found = {
        "jpeg": _saved(base, "JPEG", exif=exif, icc_profile=icc),
        "jpeg progressive": _saved(noise, "JPEG", progressive=True, exif=exif),
        "jpeg grey": _saved(base.convert("L"), "JPEG"),
        "jpeg cmyk": _saved(base.convert("CMYK"), "JPEG", icc_profile=icc),
        "jpeg restarts": _saved(noise, "JPEG", restart_marker_blocks=2),
        "png": _saved(base, "PNG", icc_profile=icc, exif=exif),
        "png grey 16": _saved(deep, "PNG"),
        "png 1": _saved(base.convert("1"), "PNG"),
        "png clear": _saved(clear, "PNG"),
        "png la": _saved(clear.convert("LA"), "PNG"),
        "png palette": _saved(palette, "PNG", transparency=3),
        "apng": _saved(base, "PNG", save_all=True, append_images=[frame.copy() for frame in frames[1:]]),
        "gif": _saved(palette, "GIF"),
        "gif animated": _saved(
            base, "GIF", save_all=True, append_images=[frame.copy() for frame in frames[1:]], duration=50
        ),
        "webp": _saved(base, "WEBP", exif=exif, icc_profile=icc),
        "webp lossless": _saved(clear, "WEBP", lossless=True),
        "webp animated": _saved(
            base, "WEBP", save_all=True, append_images=[frame.copy() for frame in frames[1:]], duration=50
        ),
        "bmp": _saved(base, "BMP"),
        "bmp palette": _saved(palette, "BMP"),
        "ppm": _saved(base, "PPM"),
        "pgm": _saved(base.convert("L"), "PPM"),
        "jp2": _saved(base, "JPEG2000"),
        "jp2 clear": _saved(clear, "JPEG2000"),
        "mpo": _saved(base, "MPO", save_all=True, append_images=[frame.copy() for frame in frames[1:]]),
        "one pixel": _saved(Image.new("RGB", (1, 1)), "PNG"),
        "one row": _saved(Image.new("RGB", (5000, 1)), "PNG"),
        "one column": _saved(Image.new("L", (1, 5000)), "JPEG"),
        "ico": _saved(base.resize((32, 32)), "ICO"),
        "pdf": _saved(base, "PDF"),
        "svg": b'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><rect width="9" height="9"/></svg>',
        "eps": b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n%%EndComments\nshowpage\n",
        "empty": b"",
        "text": b"a letter, no picture\n",
        "png interlaced": _png(8, 8, 8, 2, b"\0" * 400, passes=1),
        "png rgb 16": _png(40, 30, 16, 2, (b"\0" + b"\x80\x01" * 120) * 30),
        "png without data": _png(40, 30, 8, 2, b""),
        "png too short": _png(40, 30, 8, 2, b"\0" * 50),
        "png palette missing": _png(40, 30, 8, 3, (b"\0" + b"\1" * 40) * 30),
    }
    for name in ("raw", "tiff_lzw", "tiff_adobe_deflate", "jpeg", "packbits", "group4"):
        source = base.convert("1") if name == "group4" else base
        found[f"tiff {name}"] = _saved(source, "TIFF", compression=name, exif=exif)
    for mode in ("L", "LA", "RGBA", "CMYK", "I;16", "I", "F", "P", "1", "LAB", "YCbCr"):
        source = deep.convert("I").convert(mode) if mode in ("I", "F") else deep if mode == "I;16" else _in(base, mode)
        found[f"tiff {mode}"] = _saved(source, "TIFF", icc_profile=icc)
    found["tiff pages"] = _saved(
        halves(120, 80), "TIFF", save_all=True, append_images=[frame.copy() for frame in frames[1:]]
    )
    return found


def _in(image: Image.Image, mode: str) -> Image.Image:
    if mode != "LAB":
        return image.convert(mode)
    return Image.frombytes("LAB", image.size, image.tobytes())


def _png(width: int, height: int, bits: int, kind: int, rows: bytes, *, passes: int = 0) -> bytes:
    """Return a PNG (W3C PNG, section 5) that says so, whatever its rows are."""
    head = struct.pack(">IIBBBBB", width, height, bits, kind, 0, 0, passes)
    parts = ((b"IHDR", head), (b"IDAT", zlib.compress(rows)), (b"IEND", b""))
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunk(name, content) for name, content in parts)


def chunk(name: bytes, content: bytes) -> bytes:
    """Return a chunk of a PNG with its checksum."""
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))


# --- headers that lie ------------------------------------------------------------------------------------------------


def _sized(data: bytes, kind: str, width: int, height: int) -> bytes:
    """Return a picture whose header tells another size."""
    out = bytearray(data)
    match kind.split()[0]:
        case "png" | "apng" if len(data) > 33:
            out[8:33] = chunk(b"IHDR", struct.pack(">II", width % 2**32, height % 2**32) + data[24:29])
        case "jpeg" | "mpo":
            at = next((at for mark in (0xC0, 0xC2) if (at := data.find(bytes([0xFF, mark, 0]))) > 0), -1)
            if at > 0:
                out[at + 5 : at + 9] = struct.pack(">HH", height % 65536, width % 65536)
        case "gif":
            out[6:10] = struct.pack("<HH", width % 65536, height % 65536)
        case "bmp":
            out[18:26] = struct.pack("<ii", width % 2**31, height % 2**31)
        case "ppm" | "pgm":
            return data[:3] + f"{width} {height}\n255\n".encode() + data[-64:]
        case "jp2":
            at = data.find(b"ihdr")
            out[at + 4 : at + 12] = struct.pack(">II", height % 2**32, width % 2**32)
            if (siz := data.find(b"\xff\x51")) > 0 and width % 2:
                out[siz + 6 : siz + 14] = struct.pack(">II", width % 2**32, height % 2**32)
        case "tiff":
            return _tiff_sized(data, width, height)
        case "webp":
            at = data.find(b"VP8X")
            if at > 0:
                out[at + 12 : at + 18] = (
                    struct.pack("<Q", width + 2**24 - 1)[:3] + struct.pack("<Q", height + 2**24 - 1)[:3]
                )
    return bytes(out)


def _tiff_sized(data: bytes, width: int, height: int) -> bytes:
    """Return a TIFF (TIFF 6.0, section 2, in Intel's order) with another width and height."""
    out = bytearray(data)
    if data[:2] != b"II":
        return data
    (at,) = struct.unpack("<I", data[4:8])
    (count,) = struct.unpack("<H", data[at : at + 2])
    for entry in range(at + 2, at + 2 + 12 * count, 12):
        (tag,) = struct.unpack("<H", data[entry : entry + 2])
        if tag in (256, 257):
            out[entry + 2 : entry + 12] = struct.pack("<HII", 4, 1, (width if tag == 256 else height) % 2**32)
    return bytes(out)


_SIDES: Final = (0, 1, 2, 3, 255, 8000, 8001, 16383, 30000, 65535, 65536, 2**31 - 1, 2**32 - 1)


# --- the kinds -------------------------------------------------------------------------------------------------------


def photos(chance: Random, folder: Path) -> Tried:
    """A picture of any kind, sound, broken, cut short or with another size in its header, under any ending."""
    kind = chance.choice(tuple(sound()))
    data = sound()[kind]
    draw = chance.random()
    if data and draw < 0.2:
        data = data[: chance.randrange(len(data))]
    elif data and draw < 0.6:
        data = mutated(chance, data, _SNIPPETS)
    elif draw < 0.8:
        data = _sized(data, kind, chance.choice(_SIDES), chance.choice(_SIDES))
    return ask(chance, folder, f"photo{chance.choice(ENDINGS)}", lambda path: path.write_bytes(data) and None, data)


def places(chance: Random, folder: Path) -> Tried:
    """Something that is no plain file of the job's folder stands at the photo's place."""
    kinds: dict[str, Callable[[Path], object]] = {
        "folder": Path.mkdir,
        "fifo": os.mkfifo,
        "device": lambda path: path.symlink_to("/dev/zero"),
        "null": lambda path: path.symlink_to("/dev/null"),
        "circle": lambda path: path.symlink_to(path),
        "nowhere": lambda path: path.symlink_to("nothing"),
        "folder's link": lambda path: path.symlink_to("."),
        "process": lambda path: path.symlink_to("/proc/self/mem"),
        "missing": lambda _path: None,
        "secret": _secret,
    }
    kind = chance.choice(tuple(kinds))
    return ask(chance, folder, f"there{chance.choice(ENDINGS)}", kinds[kind], kind.encode())


def _secret(path: Path) -> None:
    path.write_bytes(sound()["jpeg"])
    path.chmod(0)


def ask(chance: Random, folder: Path, name: str, lay: Callable[[Path], object], data: bytes) -> Tried:
    """Lay a photo into a new folder and ask one command about it."""
    room = folder / "room"
    shutil.rmtree(room, ignore_errors=True)
    room.mkdir()
    lay(room / name)
    (room / "job.toml").write_text(JOB.format(photo=name, aspect=chance.choice(("", 'aspect = "3:2"'))))
    job, pack = str(room / "job.toml"), str(room / "pack")
    command = {
        0: ["check", job],
        1: ["make", job, "--out", pack, "--only", "print,front,wall"],
        2: ["make", job, "--out", pack, "--only", "print"],
        3: ["fit", str(room / name)],
        4: ["fit", str(room), "--json"],
        5: ["new", str(room / "new"), "--photos", str(room)],
    }[chance.choice([0, 1, 1, 1, 2, 2, 3, 4, 5])]
    told = asked(*command)
    found = breach(told, codes=(0, 1), as_json="--json" in command, lines=24 if "job" in command[1] else 0)
    if not found and command[0] == "make":
        found = pack_breach(Path(pack)) if not told.code else _left(room, {name, "job.toml"})
    if not found and command[0] == "new" and told.code:
        found = _left(room, {name, "job.toml"})
    if not found and "cannot be written" in told.err:
        found = f"a photo's fault is told as the folder's: {told.err}"
    return Tried(input=data, command=command, breach=found, refused=told.code == 1)


def _left(room: Path, own: set[str]) -> str:
    left = {path.name for path in room.iterdir()} - own
    return f"refused, and leaves {left}" if left else ""
