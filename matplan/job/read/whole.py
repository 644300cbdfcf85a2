"""Whether a photo's file is whole, and how it is opened where only its colour profile is broken.

A file is cut short where it ends before its picture does: by JPEG's end-of-image marker (ITU-T T.81, annex B), PNG's
IEND chunk (W3C PNG, section 5), TIFF's strips and tiles (TIFF 6.0, section 8). Pillow sees it in a WebP by itself.
Nothing is decoded.
"""

from __future__ import annotations

import io
import mmap
import struct
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO, TYPE_CHECKING, Any

if TYPE_CHECKING:
    from PIL.Image import Image

_PNG = b"\x89PNG\r\n\x1a\n"
_SCAN, _END = 0xDA, b"\xff\xd9"
_SEQUENTIAL = frozenset({0xC0, 0xC1})
_OTHER_FRAMES = frozenset({0xC2, 0xC3, *range(0xC5, 0xC8), *range(0xC9, 0xCC), *range(0xCD, 0xD0)})
_OFFSETS, _COUNTS = (273, 324), (279, 325)


def is_cut_short(path: Path, image: Image) -> bool:
    """Return whether the file ends before the picture that was opened from it."""
    with path.open("rb") as stream:
        match image.format:
            case "JPEG" | "MPO":
                return _jpeg_is_cut(stream)
            case "PNG":
                return all(kind != b"IEND" for kind, _, _ in _chunks(stream))
            case "TIFF":
                return _tiff_end(image) > path.stat().st_size
    return False


def _jpeg_is_cut(stream: IO[bytes]) -> bool:
    """Return whether no end-of-image marker follows the first scan; one in an embedded preview does not count."""
    with mmap.mmap(stream.fileno(), 0, access=mmap.ACCESS_READ) as data:
        at = 2
        while at + 4 <= len(data) and data[at] == 0xFF and data[at + 1] != _SCAN:
            if data[at + 1] == 0xFF:  # a fill byte
                at += 1
            else:
                at += 2 + int.from_bytes(data[at + 2 : at + 4])
        return data.rfind(_END, min(at, len(data))) < 0


def is_decoded_in_parts(path: Path) -> bool:
    """Return whether a JPEG's frame is of the sequential kind in Huffman's code (ITU-T T.81, table B.1), which can be
    decoded smaller than it is, and goes into a PDF as it is.
    """
    with path.open("rb") as stream, mmap.mmap(stream.fileno(), 0, access=mmap.ACCESS_READ) as data:
        at = 2
        while (at := data.find(b"\xff", at)) >= 0 and at + 4 <= len(data):
            marker = data[at + 1]
            if marker in _SEQUENTIAL:
                return True
            if marker == _SCAN or marker in _OTHER_FRAMES:
                return False
            at += 1 if marker in (0x00, 0xFF) else 2 + int.from_bytes(data[at + 2 : at + 4])
    return False


def _chunks(stream: IO[bytes]) -> Iterator[tuple[bytes, int, int]]:
    """Yield each whole chunk of a PNG: its kind, where it begins, and its length with head and checksum."""
    size = stream.seek(0, io.SEEK_END)
    at = len(_PNG)
    while at + 12 <= size:
        stream.seek(at)
        length, kind = struct.unpack(">I4s", stream.read(8))
        if at + 12 + length > size:
            return
        yield kind, at, 12 + length
        at += 12 + length


def _tiff_end(image: Any) -> int:
    """Return where the last strip or tile of a TIFF ends."""
    tags = image.tag_v2
    pairs = ((tags.get(offset, ()), tags.get(count, ())) for offset, count in zip(_OFFSETS, _COUNTS, strict=True))
    return max(
        (offset + count for offsets, counts in pairs for offset, count in zip(offsets, counts, strict=False)), default=0
    )


def parts_of_tiff(image: Any) -> int:
    """Return into how many strips or tiles a TIFF is divided, 1 at least: each is unpacked whole."""
    return max(1, *(len(image.tag_v2.get(tag, ())) for tag in _OFFSETS))


# --- a picture whose colour profile alone is broken ------------------------------------------------------------------


@contextmanager
def opened(path: Path, formats: tuple[str, ...] | None = None) -> Iterator[Image]:
    """Open a photo; a PNG that cannot be opened for the sake of its colour profile is opened without it."""
    from PIL import Image

    with path.open("rb") as stream:
        try:
            image = Image.open(stream, formats=formats)
        except (OSError, SyntaxError, ValueError):
            without = _without_profile(stream)
            if without is None:
                raise
            image = Image.open(without, formats=formats)
            image.info["icc_profile"] = None
        with image:
            yield image


def _without_profile(stream: IO[bytes]) -> io.BytesIO | None:
    """Return a PNG's bytes without the chunk that holds a colour profile; `None` where there is no such chunk."""
    stream.seek(0)
    if stream.read(len(_PNG)) != _PNG:
        return None
    profile = next(((at, length) for kind, at, length in _chunks(stream) if kind == b"iCCP"), None)
    if profile is None:
        return None
    at, length = profile
    stream.seek(0)
    head = stream.read(at)
    stream.seek(at + length)
    return io.BytesIO(head + stream.read())
