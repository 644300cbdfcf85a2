"""A photo as a PDF carries it: the file's own pixels, passed on as they are wherever the format allows.

A JPEG goes in as it is, a PNG as its own compressed rows; anything else, and a PNG with transparency or in two passes,
is decoded, laid on white where it is transparent, and packed without loss. The colour profile goes with it where it
fits the picture's colours.
"""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO, Final

from matplan.job.read.photos import without_size_guard
from matplan.job.read.whole import opened as open_photo
from matplan.job.records import Photo
from matplan.pack.pdf_stream import Name, Packed, Source, Span, Value
from matplan.pack.pictures import flat, turn_as_read
from matplan.pack.profiles import COLOURS, kept_mode, profile_fits

if TYPE_CHECKING:
    from PIL import Image

_DEVICE: Final = {1: Name("DeviceGray"), 3: Name("DeviceRGB"), 4: Name("DeviceCMYK")}
_PNG: Final = b"\x89PNG\r\n\x1a\n"
_BITS: Final = {"1": 1, "I;16": 16}
_ROWS: Final = 64
"""Of a strip that is packed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Embedded:
    """A picture for a PDF: its pixels as stored, the stream that holds them, and its turn (Exif 2.32, tag 0x0112) from
    there.

    `about` is what its dictionary says of the stream; `palette` the colours that its pixels name; `profile` None where
    it has none to keep.
    """

    pixels: tuple[int, int]
    colours: int
    bits: int
    stream: tuple[Source, ...]
    about: dict[str, Value]
    palette: bytes | None = None
    profile: bytes | None = None
    orientation: int = 1

    @property
    def device(self) -> Name:
        """The colour space without a profile."""
        return _DEVICE[self.colours]


def embedded(photo: Photo) -> Embedded:
    """The photo made ready; its file is read when the stream is written. Raises `OSError` and what Pillow raises for a
    broken file.
    """
    with without_size_guard(), open_photo(photo.path) as image:
        profile = image.info.get("icc_profile")
        if image.format in ("JPEG", "MPO"):
            made = _jpeg(photo, image)
        elif image.format == "PNG" and "transparency" not in image.info:
            made = _png(_chunks_of(photo.path), photo.orientation)
        else:
            made = None
        made = made or _decoded(image, photo)
    return _with_profile(made, profile)


def _with_profile(made: Embedded, profile: object) -> Embedded:
    if isinstance(profile, bytes) and profile_fits(profile, made.colours):
        return replace(made, profile=profile)
    return made


# --- JPEG ------------------------------------------------------------------------------------------------------------

_FRAMES: Final = frozenset({0xC0, 0xC1, 0xC2})
"""Baseline, extended and progressive, all of Huffman's code: what DCTDecode takes (ISO 32000-1, 7.4.8)."""
_OTHER_FRAMES: Final = frozenset({0xC3, *range(0xC5, 0xC8), *range(0xC9, 0xCC), *range(0xCD, 0xD0)})
_BLOCK: Final = 1 << 16
_ALONE: Final = frozenset({0x01, *range(0xD0, 0xD9)})
"""Markers without a length."""


def _jpeg(photo: Photo, image: Image.Image) -> Embedded | None:
    """The file as it is, without what some cameras append; None where it is of a kind that no PDF takes."""
    colours = COLOURS.get(image.mode)
    length = _jpeg_length(photo.path)
    if colours is None or length is None:
        return None
    about: dict[str, Value] = {"Filter": Name("DCTDecode")}
    if colours == 4:  # stored inverted, as everybody who writes CMYK into a JPEG has done since the first
        about["Decode"] = [1, 0] * 4
    return Embedded(
        pixels=image.size,
        colours=colours,
        bits=8,
        stream=(Span(path=photo.path, start=0, length=length),),
        about=about,
        orientation=photo.orientation,
    )


def _jpeg_length(path: Path) -> int | None:
    """How many bytes the first picture of a JPEG takes, its end marker included (ITU-T T.81, B.1); None where it is not
    to be passed on.
    """
    with path.open("rb") as stream:
        stream.seek(2)
        while len(head := stream.read(2)) == 2:
            if head[0] != 0xFF:  # what stands between segments is passed over, as decoders do
                stream.seek(-1, io.SEEK_CUR)
                continue
            marker = head[1]
            if marker == 0xFF:  # filling
                stream.seek(-1, io.SEEK_CUR)
            elif marker == 0xD9:
                return stream.tell()
            elif marker not in _ALONE:
                segment = stream.read(3)
                if len(segment) < 3 or marker in _OTHER_FRAMES or (marker in _FRAMES and segment[2] != 8):
                    return None
                stream.seek(int.from_bytes(segment[:2], "big") - 3, io.SEEK_CUR)
                if marker == 0xDA:
                    _pass_scan(stream)
        stream.seek(0)
        return (
            stream.read().rfind(b"\xff\xd9") + 2 or None
        )  # segments that lead beyond the file: all up to its last end


def _pass_scan(stream: BinaryIO) -> None:
    """Leaves the stream at the first marker after a scan's data; restarts and stuffed bytes belong to the data."""
    while len(block := stream.read(_BLOCK)) > 1:
        at = 0
        while (at := block.find(b"\xff", at)) >= 0:
            if at + 1 == len(block):
                stream.seek(-1, io.SEEK_CUR)
                break
            after = block[at + 1]
            if after and not 0xD0 <= after <= 0xD7 and after != 0xFF:
                stream.seek(at - len(block), io.SEEK_CUR)
                return
            at += 1 if after == 0xFF else 2


# --- PNG -------------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Chunk:
    kind: bytes
    content: Source


def _chunks_of(path: Path) -> Iterator[_Chunk]:
    """The chunks of a PNG file; picture data stay where they are."""
    with path.open("rb") as stream:
        stream.seek(len(_PNG))
        while len(head := stream.read(8)) == 8:
            length, kind = struct.unpack(">I4s", head)
            if kind == b"IDAT":
                yield _Chunk(kind=kind, content=Span(path=path, start=stream.tell(), length=length))
                stream.seek(length, io.SEEK_CUR)
            else:
                yield _Chunk(kind=kind, content=stream.read(length))
            stream.seek(4, io.SEEK_CUR)


def _png(chunks: Iterator[_Chunk], orientation: int) -> Embedded | None:
    """The rows of a PNG as they are packed (ISO 32000-1, 7.4.4.4: predictor 15); None with transparency or in two
    passes.
    """
    palette: bytes | None = None
    header = b""
    rows: list[Source] = []
    for chunk in chunks:
        match chunk:
            case _Chunk(kind=b"IHDR", content=bytes() as content):
                header = content
            case _Chunk(kind=b"PLTE", content=bytes() as content):
                palette = content
            case _Chunk(kind=b"tRNS"):
                return None
            case _Chunk(kind=b"IDAT"):
                rows.append(chunk.content)
    width, height, bits, kind, _packing, _filter, passes = struct.unpack(">IIBBBBB", header)
    channels = {0: 1, 2: 3, 3: 1}.get(kind)
    if channels is None or passes or (kind == 3 and palette is None):
        return None
    parameters: Value = {"Predictor": 15, "Colors": channels, "BitsPerComponent": bits, "Columns": width}
    return Embedded(
        pixels=(width, height),
        colours=3 if kind == 3 else channels,
        bits=bits,
        stream=tuple(rows),
        about={"Filter": Name("FlateDecode"), "DecodeParms": parameters},
        palette=palette if kind == 3 else None,
        orientation=orientation,
    )


# --- anything else ---------------------------------------------------------------------------------------------------


def _decoded(image: Image.Image, photo: Photo) -> Embedded:
    """The picture upright, in the colours it has, packed without loss as it is written."""
    image.load()
    turn_as_read(image, photo)
    upright = _opaque(image)
    colours, bits = COLOURS[upright.mode], _BITS.get(upright.mode, 8)
    about: dict[str, Value] = {"Filter": Name("FlateDecode")}
    if bits == 8:
        about["DecodeParms"] = {"Predictor": 2, "Colors": colours, "Columns": upright.width}
    packed = Packed(partial(_packed, upright))
    return Embedded(pixels=upright.size, colours=colours, bits=bits, stream=(packed,), about=about)


def _packed(image: Image.Image) -> Iterator[bytes]:
    """The picture's rows a strip at a time, so that it is never there twice. Of eight bits each pixel is told by what
    it has more than the one on its left (ISO 32000-1, 7.4.4.4: predictor 2).
    """
    from PIL import Image, ImageChops

    packing = zlib.compressobj(6)
    for top in range(0, image.height, _ROWS):
        strip = image.crop((0, top, image.width, min(top + _ROWS, image.height)))
        if image.mode == "I;16":
            yield packing.compress(strip.tobytes("raw", "I;16B"))
            continue
        if image.mode != "1":
            left = Image.new(strip.mode, strip.size, (0,) * len(strip.getbands()) if len(strip.getbands()) > 1 else 0)
            left.paste(strip, (1, 0))
            strip = ImageChops.subtract_modulo(strip, left)
        yield packing.compress(strip.tobytes())
    yield packing.flush()


def _opaque(image: Image.Image) -> Image.Image:
    """The picture in its kept mode, on white where it is transparent; 32 bits become eight."""
    from PIL import Image

    mode = kept_mode(image)
    if image.mode == mode and "transparency" not in image.info:
        return image
    if image.mode == "LA":
        ground = Image.new("L", image.size, "white")
        ground.paste(image.getchannel("L"), mask=image.getchannel("A"))
        return ground
    if mode == "I;16":
        return image.convert(mode)
    even = flat(image)
    return even if even.mode == mode else even.convert(mode)
