"""What a photo file tells of itself without being decoded: its pixels as seen, its turn, its colour profile's name, its
format.

Pillow reads the header alone. How large the picture is does not matter here, so its guard against huge ones, which is
meant for decoding, is off while a header is read; whoever decodes sets it again on purpose.
"""

from __future__ import annotations

import os
import stat
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import cache
from importlib import import_module
from itertools import islice
from pathlib import Path
from threading import RLock
from typing import Any

from matplan.faults import MatplanError, printable
from matplan.job.file.wrong import got, nearest, quoted
from matplan.job.read.whole import is_cut_short, is_decoded_in_parts, opened, parts_of_tiff
from matplan.job.records import Photo

FORMATS = ("JPEG", "PNG", "TIFF", "WEBP", "GIF", "BMP", "JPEG2000", "PPM")
"""The formats of photos, as Pillow names them (its JPEG opens MPO too). Others (PDF, PostScript …) are drawings, or run
a program.
"""

_READABLE = "JPEG, PNG, TIFF and WebP can be read"
ORIENTATION = 0x0112
"""Exif tag (Exif 2.32)."""
_BITS = 258
"""TIFF tag BitsPerSample (TIFF 6.0, section 8)."""
_FROM = "paths start from the job's folder"
MOST_MEGAPIXELS, MOST_OF_OTHERS = 65, 40
"""Of a photo that is decoded whole, in less than 500 MB (own limits): in eight bits without transparency, and else."""
_ROOM = 400.0
"""MB of the 500 for a picture while it is decoded; the rest is the program."""
_BYTES_EACH = {"WEBP": 21.0, "JPEG2000": 24.0}
"""That their decoders hold for each pixel (own measurements, rounded up)."""
_PLAIN = frozenset({"1", "L", "P", "RGB", "CMYK", "YCbCr"})
_MOST_FILES = 10_000
"""Of a folder, when a near name is sought."""
_QUARTER_TURNS = frozenset({5, 6, 7, 8})
_LOCK = RLock()


class PhotoFault(MatplanError, ValueError):
    """A photo that cannot be used; the text says why, and what would be right."""


type Header = Callable[[Path, str], Photo]
"""Reads a photo file's header, as `read_photo` does."""


@dataclass(slots=True)
class Photos:
    """The photos of one job, each file read once. `confined`: photos outside the folder, by a link too, are refused."""

    folder: Path
    confined: bool
    header: Header
    _read: dict[str, Photo | str]

    @classmethod
    def of(cls, folder: Path, *, confined: bool = False, header: Header | None = None) -> Photos:
        """Return the photos of a job in `folder`; `header` reads a file's header in place of `read_photo`."""
        return cls(folder, confined, header or read_photo, {})

    def photo(self, written: str) -> Photo:
        """Return the photo that the job calls so. Raises `PhotoFault`."""
        if written not in self._read:
            try:
                self._read[written] = self._photo(written)
            except PhotoFault as fault:
                self._read[written] = str(fault)
        found = self._read[written]
        if isinstance(found, str):
            raise PhotoFault(found)
        return found

    def _photo(self, written: str) -> Photo:
        path = self.folder / written
        if self.confined:
            try:
                path = path.resolve()
                inside = path.is_relative_to(self.folder.resolve())
            except (OSError, RuntimeError, ValueError):  # a link that leads to itself
                inside = False
            if not inside:
                raise PhotoFault(f"{got(written)}, which is not in the job's folder; put the photo there")
        if missing := _missing(path, written):
            raise PhotoFault(missing)
        return replace(self.header(path, got(written)), written=written)


def _missing(path: Path, written: str) -> str:
    """Return what to say of a file that is not there: the folder looked in and the nearest name; "" where it is."""
    try:
        if os.path.lexists(path) or not path.parent.is_dir():
            return ""
        near = nearest(path.name, sorted(entry.name for entry in islice(path.parent.iterdir(), _MOST_FILES)), 1)
    except (OSError, ValueError):
        return ""
    folder = printable(str(path.parent.absolute()), 200)
    right = f"did you mean {quoted((Path(written).parent / near[0]).as_posix())}?" if near else _FROM
    return f"{got(written)}, but there is no such file in {folder}; {right}"


def read_photo(path: Path, called: str) -> Photo:
    """Return what a file's header tells. Raises `PhotoFault`, which begins with `called`, if it is no photo to use."""
    _check_file(path, called)
    from PIL import Image, UnidentifiedImageError

    _know_formats()
    with without_size_guard():
        try:
            with opened(path, FORMATS) as image:
                if is_cut_short(path, image):
                    raise PhotoFault(f"{called}, which is cut short: the file ends before its picture; copy it anew")
                if too_large := _too_large(path, image):
                    raise PhotoFault(f"{called}, {too_large}")
                turn = Image.Image.getexif(image).get(ORIENTATION, 1)  # a PNG's own getexif decodes the picture
                orientation = turn if isinstance(turn, int) and 1 <= turn <= 8 else 1
                width, height = image.size
                turned = (
                    orientation in _QUARTER_TURNS and image.format != "TIFF"
                )  # Pillow's TIFF size is the turned one
                profile = _profile_name(image.info.get("icc_profile"))
                return Photo(
                    written=path.name,
                    path=path,
                    pixels=(height, width) if turned else (width, height),
                    orientation=orientation,
                    profile=profile or None,
                    profile_broken=profile is None and "icc_profile" in image.info,
                    format=image.format or "",
                )
        except PhotoFault:
            raise
        except PermissionError:
            raise PhotoFault(f"{called}, which may not be read; change its permissions") from None
        except UnidentifiedImageError:
            raise PhotoFault(f"{called}, which is no photo that can be read, or a broken one; {_READABLE}") from None
        except Exception as error:  # a broken header can raise nearly anything in a reader of some format
            reason = printable(str(error) or type(error).__name__, 80)
            raise PhotoFault(f"{called}, which is a broken photo ({reason}); save it anew") from None


def _too_large(path: Path, image: Any) -> str:
    """Return why a picture takes too much memory to be decoded, "" where it does not: a JPEG that is not progressive is
    decoded at the scale that is asked for, and may have any number of pixels.
    """
    pixels = image.width * image.height
    if image.format in ("JPEG", "MPO") and is_decoded_in_parts(path):
        return ""
    most = most_megapixels(image)
    if pixels <= most * 1_000_000:
        return ""
    return (
        f"which has {pixels // 1_000_000} megapixels; one of this kind is decoded whole and may have {most}: "
        "save it smaller, or as a baseline JPEG, which may have any number"
    )


def most_megapixels(image: Any) -> int:
    """Return how many megapixels a picture of that kind may have: its decoder holds a WebP several times over, the
    coefficients of a progressive JPEG, and a packed strip of a TIFF beside the picture.
    """
    most = MOST_MEGAPIXELS if image.mode in _PLAIN and "transparency" not in image.info else MOST_OF_OTHERS
    each = _BYTES_EACH.get(image.format, _ROOM / most)
    if image.format in ("JPEG", "MPO"):
        each = max(each, 2.0 * len(image.getbands()))
    elif image.format == "TIFF" and image.info.get("compression") != "raw":
        bits = image.tag_v2.get(_BITS, (8,))
        each += 2 * sum(bits) / 8 / parts_of_tiff(image)
    return int(_ROOM / each)


@cache
def _know_formats() -> None:
    """Pillow knows a format once its reader is imported."""
    for reader in ("Jpeg", "Png", "Tiff", "WebP", "Gif", "Bmp", "Jpeg2K", "Ppm"):
        import_module(f"PIL.{reader}ImagePlugin")


def _check_file(path: Path, called: str) -> None:
    """Raise `PhotoFault` if the path is no plain file with something in it."""
    try:
        about = path.stat()
    except (FileNotFoundError, NotADirectoryError):
        raise PhotoFault(f"{called}, but there is no such file; {_FROM}") from None
    except PermissionError:
        raise PhotoFault(f"{called}, which may not be read; change its permissions") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise PhotoFault(f"{called}, which cannot be read: {printable(reason, 80)}") from None
    if stat.S_ISDIR(about.st_mode):
        raise PhotoFault(f"{called}, which is a folder; name the photo in it")
    if not stat.S_ISREG(about.st_mode):
        raise PhotoFault(f"{called}, which is no plain file; {_READABLE}")
    if not about.st_size:
        raise PhotoFault(f"{called}, which is an empty file; save the photo anew")


@contextmanager
def without_size_guard() -> Iterator[None]:
    """Pillow without its guard against huge pictures, and silent on doubtful headers; as before when it ends.

    A large photo is a photo, no attack on its own owner. One thread at a time.
    """
    from PIL import Image

    with _LOCK, warnings.catch_warnings():
        warnings.simplefilter("ignore")
        most, Image.MAX_IMAGE_PIXELS = Image.MAX_IMAGE_PIXELS, None
        try:
            yield
        finally:
            Image.MAX_IMAGE_PIXELS = most


def _profile_name(profile: Any) -> str | None:
    """Return the colour profile's own name, `None` without one or with one that cannot be read."""
    if not isinstance(profile, bytes) or not profile:
        return None
    from io import BytesIO

    from PIL import ImageCms

    try:
        name = ImageCms.getProfileDescription(ImageCms.ImageCmsProfile(BytesIO(profile)))
    except (OSError, ValueError, TypeError, ImageCms.PyCMSError):
        return None
    return printable(name.strip(), 120)
