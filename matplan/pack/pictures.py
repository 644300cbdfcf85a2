"""Photos made ready for the drawings: turned as Exif says, cropped, converted to sRGB through their own profile, scaled
down.

A JPEG is decoded at the smallest scale that still serves, so that memory follows the drawing and not the photo.
"""

from __future__ import annotations

import io
from dataclasses import replace
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING

from matplan.documents.parts.pictures import Picture
from matplan.faults import MatplanError, printable
from matplan.job.read.photos import ORIENTATION, without_size_guard
from matplan.job.read.whole import opened as open_photo
from matplan.job.records import Photo
from matplan.lengths import Box
from matplan.pack.profiles import keeps_profile

if TYPE_CHECKING:
    from PIL import Image

PER_MM = 200 / 25.4
"""Pixels in one mm of a drawing: 200 ppi, what an office printer shows."""
QUALITY = 85
_STRIP = 256
"""Rows."""
_REDUCED = frozenset({"L", "RGB", "CMYK"})
"""The modes whose pixels can be averaged as they are."""
TURNED_MODES = frozenset({5, 6, 7, 8})
"""Exif orientations that swap width and height (Exif 2.32, tag 0x0112)."""


class Undecodable(MatplanError, ValueError):
    """A photo whose header can be read and whose picture cannot."""


def picture(photo: Photo, crop: Box | None, wanted: tuple[int, int]) -> Picture:
    """That part of the photo as a JPEG of at most `wanted` pixels; never larger than the photo itself. Raises
    `Undecodable`.
    """
    from PIL import Image

    try:
        with without_size_guard(), open_photo(photo.path) as opened:
            whole = _as_large_as(wanted, crop)
            if photo.orientation in TURNED_MODES:
                whole = whole[::-1]
            opened.draft("RGB", whole)
            profile = opened.info.get("icc_profile")
            lost = bool(profile) and not keeps_profile(opened, profile)
            image = _upright(opened, whole, photo)
    except (OSError, ValueError, SyntaxError, EOFError, IndexError, MemoryError, Image.DecompressionBombError) as error:
        raise Undecodable(
            f'the photo "{printable(photo.written, 80)}" cannot be decoded '
            f"({printable(str(error) or type(error).__name__, 80)}); "
            "export it again from your camera or editor"
        ) from error
    if crop is not None:
        width, height = image.size
        left, right = _pixels(crop.x, crop.width, width)
        top, bottom = _pixels(crop.y, crop.height, height)
        image = image.crop((left, top, right, bottom))
    if image.width > wanted[0] or image.height > wanted[1]:
        image = flat(image)
        image = image.resize(
            (min(wanted[0], image.width), min(wanted[1], image.height)), Image.Resampling.LANCZOS, reducing_gap=3.0
        )
    image = _in_srgb(flat(image), profile)
    out = io.BytesIO()
    image.save(out, "JPEG", quality=QUALITY, subsampling=0, icc_profile=None, exif=b"")
    return Picture(data=out.getvalue(), media="image/jpeg", pixels=image.size, profile_lost=lost)


def _pixels(start: Fraction, length: Fraction, side: int) -> tuple[int, int]:
    """Return where a part of a side begins and ends in its pixels; one pixel at least.

    >>> _pixels(Fraction(1, 4), Fraction(1, 2), 1000), _pixels(Fraction(2, 5), Fraction(1, 5), 1)
    ((250, 750), (0, 1))
    """
    at = float(start) * side
    first = min(round(at), side - 1)
    return first, max(first + 1, round(at + float(length) * side))


def _upright(opened: Image.Image, whole: tuple[int, int], photo: Photo) -> Image.Image:
    """Return the picture as it is seen, without transparency. One that is much larger than it is shown is made smaller
    before it is turned, to no less than four times what is `whole`.
    """
    opened.load()
    image = flat(opened) if "A" in opened.mode else opened
    factor = min(image.width // (4 * whole[0]), image.height // (4 * whole[1]))
    if factor >= 2 and image.mode in _REDUCED and "transparency" not in image.info:
        image = image.reduce(factor)
    turn_as_read(image, photo)
    return image


def turn_as_read(image: Image.Image, photo: Photo) -> None:
    """Turns a decoded picture in place, without a second copy of one that stands upright. The header's turn counts, as
    for the plan; Pillow turns a TIFF itself as it decodes it.
    """
    from PIL import ImageOps

    if photo.format != "TIFF":
        image.getexif()[ORIENTATION] = photo.orientation
        ImageOps.exif_transpose(image, in_place=True)


def smaller(shown: Picture, size: tuple[float, float]) -> Picture:
    """A prepared picture for a drawing that shows it no larger than that, in mm of paper."""
    from PIL import Image

    wanted = tuple(max(1, ceil(side * PER_MM)) for side in size)
    if shown.pixels[0] <= wanted[0] and shown.pixels[1] <= wanted[1]:
        return shown
    with Image.open(io.BytesIO(shown.data)) as opened:
        image = opened.resize(
            (min(wanted[0], opened.width), min(wanted[1], opened.height)), Image.Resampling.LANCZOS, reducing_gap=3.0
        )
    out = io.BytesIO()
    image.save(out, "JPEG", quality=QUALITY, subsampling=0)
    return replace(shown, data=out.getvalue(), media="image/jpeg", pixels=image.size)


def turned(shown: Picture) -> Picture:
    """The same picture turned a quarter to the left."""
    from PIL import Image

    with Image.open(io.BytesIO(shown.data)) as image:
        out = io.BytesIO()
        image.transpose(Image.Transpose.ROTATE_90).save(out, "JPEG", quality=QUALITY, subsampling=0)
    return replace(shown, data=out.getvalue(), pixels=shown.pixels[::-1])


def _as_large_as(wanted: tuple[int, int], crop: Box | None) -> tuple[int, int]:
    """The size of a whole photo whose crop has `wanted` pixels."""
    if crop is None:
        return wanted
    return ceil(wanted[0] / float(crop.width)), ceil(wanted[1] / float(crop.height))


def flat(image: Image.Image) -> Image.Image:
    """The same in eight bits a channel, without transparency (on white), in a mode that a JPEG and a profile take."""
    from PIL import Image

    if image.mode.startswith("I;16"):
        return image.convert("I").point(lambda value: value * (1 / 256)).convert("L")
    if image.mode in ("I", "F"):
        _low, high = image.getextrema()
        top = 65535 if isinstance(high, int | float) and high > 255 else 255
        return image.point(lambda value: value * (255 / top)).convert("L")
    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        ground = Image.new("RGB", image.size, "white")
        for top in range(0, image.height, _STRIP):  # in strips, so that a large photo is never there three times
            strip = image.crop((0, top, image.width, min(top + _STRIP, image.height))).convert("RGBA")
            ground.paste(strip, (0, top), strip.getchannel("A"))
        return ground
    return image if image.mode in ("RGB", "L", "CMYK") else image.convert("RGB")


def _in_srgb(image: Image.Image, profile: object) -> Image.Image:
    """Converted from its own colour profile, perceptually; a profile that does not fit the picture is passed over."""
    from PIL import ImageCms

    if isinstance(profile, bytes) and profile:
        try:
            source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            target = ImageCms.createProfile("sRGB")
            turned = ImageCms.profileToProfile(image, source, target, outputMode="RGB")
            if turned is not None:
                return turned
        except (ImageCms.PyCMSError, OSError, ValueError):
            pass
    return image if image.mode == "L" else image.convert("RGB")
