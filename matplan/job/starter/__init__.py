"""The starter job: a commented job file with its schema and invented pictures, or one piece for each photo of a folder."""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from matplan.catalogue import USUAL_PPI
from matplan.faults import PackError, printable
from matplan.job.file.written import read_name, read_text
from matplan.job.read.photos import PhotoFault, read_photo
from matplan.job.records import Photo
from matplan.lengths import Units

if TYPE_CHECKING:
    from PIL.Image import Image

JOB = "job.toml"
SCHEMA = "job.schema.json"
PHOTOS = "photos"

_LONG_SIDE = 300
"""Millimetres that a print's long side gets, where the photo's pixels suffice for 300 a inch."""
_LEAST_SIDE = 40
_LONGEST_SIDE = 2000

_USUAL = ((1, 1), (5, 4), (4, 3), (7, 5), (3, 2), (16, 10), (16, 9), (2, 1), (5, 2), (3, 1))
"""Aspects that photos are grouped by, where they are within one per cent of one; long side first."""


def starter(folder: Path, photos: Path | None = None) -> tuple[str, ...]:
    """Writes a starter job into that folder, with a piece for each photo in `photos` where one is named; nothing is
    overwritten.

    Returns what was written, and which photos were left out and why, one line each. Raises `PackError` where the folder
    has a job already or cannot be written, or where no photo can be read.
    """
    skipped: list[str] = []
    files: dict[str, Callable[[], bytes]] = {}
    if photos is None:
        from matplan.job.starter.pictures import INVENTED, jpeg

        files |= {f"{PHOTOS}/{name}": partial(_drawn, draw, jpeg) for name, draw in INVENTED.items()}
        text = Path(__file__).with_name("starter.toml").read_text(encoding="utf-8")
    else:
        found = _photos_in(photos, skipped)
        text = _job_of(found, photos, folder, skipped)
    files[SCHEMA] = _schema
    files[JOB] = lambda: text.encode("utf-8")  # the last: a folder with a job has all of it
    return (*_write(folder, files), *skipped)


def _drawn(draw: Callable[[], Image], save: Callable[[Image], bytes]) -> bytes:
    return save(draw())


def _schema() -> bytes:
    from matplan.job.schema import schema_text

    return schema_text().encode("utf-8")


def _write(folder: Path, files: dict[str, Callable[[], bytes]]) -> list[str]:
    """Writes each file that is not there yet; all or none of them."""
    for name in reversed(files):
        if os.path.lexists(folder / name):
            has = "has a job already" if name == JOB else f"has a file {name} already"
            raise PackError(f"{printable(str(folder))} {has}, and nothing is overwritten; name another folder")
    written: list[Path] = []
    try:
        for name, content in files.items():
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            with path.open("xb") as stream:
                written.append(path)
                stream.write(content())
    except OSError as error:
        for path in written:
            path.unlink(missing_ok=True)
        raise PackError(f"{printable(str(folder))} cannot be written: {error.strerror or error}") from None
    return [f"wrote {printable(str(path))}" for path in reversed(written)]


# --- a job from a folder of photos -----------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Picture:
    """A photo found, and the print that is asked of it."""

    photo: Photo
    name: str
    aspect: tuple[int, int]
    """As grouped, long side first."""
    lying: bool
    long_side: int
    """Of the print, in mm."""


def _natural(name: str) -> tuple[tuple[bool, int, str], ...]:
    """What names are sorted by: numbers in them by their value."""
    return tuple(
        (part.isdecimal(), int(part) if part.isdecimal() else 0, part.casefold()) for part in re.split(r"(\d+)", name)
    )


def _photos_in(folder: Path, skipped: list[str]) -> list[Photo]:
    """The photos in that folder by name; a line in `skipped` for each file that is none."""
    shown = printable(str(folder))
    try:
        paths = sorted(
            (path for path in folder.iterdir() if not path.name.startswith(".")),
            key=lambda path: (_natural(path.name), path.name),
        )
    except (FileNotFoundError, NotADirectoryError):
        raise PackError(f"there is no folder {shown}; name the one that holds the photos") from None
    except OSError as error:
        raise PackError(f"the folder {shown} cannot be read: {error.strerror or error}") from None
    found: list[Photo] = []
    for path in paths:
        if path.is_dir():
            continue
        try:
            _check_name(path.name)
            found.append(read_photo(path, "a file"))
        except PhotoFault as fault:
            skipped.append(
                f"left out {printable(path.name)}: {str(fault).removeprefix('a file, which ').removeprefix('a file, ')}"
            )
    if not found:
        raise PackError("\n".join((f"{shown} holds no photo that can be read; JPEG, PNG, TIFF and WebP can", *skipped)))
    return found


def _check_name(name: str) -> None:
    """Raises `PhotoFault` where a job file cannot hold that file's name."""
    try:
        read_text(name, Units.MM)
    except ValueError:
        raise PhotoFault("its name cannot stand in a job file; rename it") from None


def _aspect(pixels: tuple[int, int]) -> tuple[int, int]:
    """The usual aspect that these pixels have, else their own to a hundredth; long side first."""
    ratio = Fraction(max(pixels), min(pixels))
    for long, short in _USUAL:
        if abs(ratio / Fraction(long, short) - 1) <= Fraction(1, 100):
            return long, short
    return round(ratio * 100), 100


def _picture(photo: Photo, name: str) -> _Picture | None:
    """The print asked of that photo, None where it is too long and thin for one."""
    width, height = photo.pixels
    enough = max(photo.pixels) * Fraction(254, 10) / USUAL_PPI
    long_side = min(Fraction(_LONG_SIDE), enough) // 10 * 10
    least = -(-_LEAST_SIDE * max(photo.pixels) // min(photo.pixels))
    long_side = max(int(long_side), -(-least // 10) * 10)
    if long_side > _LONGEST_SIDE:
        return None
    return _Picture(photo=photo, name=name, aspect=_aspect(photo.pixels), lying=width >= height, long_side=long_side)


def _names(photos: Sequence[Photo]) -> Iterable[str]:
    """A piece's name for each photo: its file's without the ending, once each."""
    taken: set[str] = set()
    for photo in photos:
        name = printable(Path(photo.written).stem, 120)
        try:
            read_name(name, Units.MM)
        except ValueError:
            name = "Photo"
        unique, number = name, 2
        while unique in taken:
            unique, number = f"{name} {number}", number + 1
        taken.add(unique)
        yield unique


def _job_of(photos: list[Photo], photos_folder: Path, folder: Path, skipped: list[str]) -> str:
    """The text of a job with a piece for each photo, grouped by aspect."""
    pictures: list[_Picture] = []
    for photo, name in zip(photos, _names(photos), strict=True):
        picture = _picture(photo, name)
        if picture is None:
            width, height = photo.pixels
            skipped.append(
                f"left out {printable(photo.written)}: at {width} × {height} pixels it is too long and thin for a print"
            )
        else:
            pictures.append(picture)
    if not pictures:
        raise PackError("\n".join((f"{printable(str(photos_folder))} holds no photo that suits a print", *skipped)))
    groups: dict[tuple[bool, Fraction], list[_Picture]] = {}
    for picture in pictures:
        long, short = picture.aspect
        groups.setdefault((picture.lying, Fraction(long, short)), []).append(picture)
    parts = [_HEAD]
    for (lying, _), group in sorted(groups.items(), key=lambda entry: (not entry[0][0], entry[0][1])):
        parts.append(_group_head(lying, group))
        parts.extend(_piece(picture, photos_folder, folder) for picture in group)
    return "\n".join(parts)


_HEAD = """\
#:schema ./job.schema.json
# A job for matplan: one piece for each photo found, to change as you like.
#
#   matplan check job.toml              every size, and what to mind
#   matplan make job.toml --out pack    drawings to cut by, lists to order by
#
# Of frame, image and border any two settle the third: here image and border are given, so each frame is made to
# measure. For a frame that you have, write frame = "40x50 cm" and leave image or border out.

units = "mm"
step = "1 mm"
"""


def _group_head(lying: bool, group: Sequence[_Picture]) -> str:
    long, short = group[0].aspect
    shown = f"{long / 100:g}:1" if short == 100 else f"{long}:{short}" if lying else f"{short}:{long}"
    if short == 100 and not lying:
        shown = f"1:{long / 100:g}"
    way = "square" if long == short else "lying" if lying else "standing"
    many = "1 photo" if len(group) == 1 else f"{len(group)} photos"
    return f"# --- {shown}, {way}: {many} ".ljust(78, "-") + "\n"


def _piece(picture: _Picture, photos_folder: Path, folder: Path) -> str:
    from tomlkit import item

    width, height = picture.photo.pixels
    path = photos_folder / picture.photo.written
    try:
        written = Path(os.path.relpath(path, folder)).as_posix()
    except ValueError:  # on another drive
        written = path.absolute().as_posix()
    side = "width" if picture.lying else "height"
    return (
        "[[piece]]\n"
        f"name = {item(picture.name).as_string()}\n"
        f"photo = {item(written).as_string()}    # {width} × {height} pixels\n"
        f'image = {{ {side} = "{picture.long_side // 10} cm" }}\n'
        'border = "60 mm"\n'
    )
