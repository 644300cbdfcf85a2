"""A job with a piece for each photo of a folder: a print as large as its pixels suffice for, in a ready-made frame."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from matplan import catalogue
from matplan.catalogue import USUAL_PPI
from matplan.catalogue.records import Frame
from matplan.faults import printable
from matplan.job.file.texts import read_name
from matplan.job.file.written import read_size
from matplan.job.read.photo_folder import none_left, photos_in
from matplan.job.records import Photo
from matplan.job.starter.around import MOULDING, at_hand, commented, frame_name, wall_of
from matplan.job.starter.sizes import Sizes
from matplan.lengths import INCH, Size, Units

_LONGEST_SIDE = Fraction(2000)
"""A photo that is too long and thin for a print of this length gets none."""
_USUAL = ((1, 1), (5, 4), (4, 3), (7, 5), (3, 2), (16, 10), (16, 9), (2, 1), (5, 2), (3, 1))
"""Aspects that photos are grouped by, where they are within one per cent of one; long side first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Picture:
    """A photo found, and the print that is asked of it."""

    photo: Photo
    name: str
    aspect: tuple[int, int]
    """As grouped, long side first."""
    long_side: Fraction
    """Of the print."""

    @property
    def landscape(self) -> bool:
        return self.photo.pixels[0] > self.photo.pixels[1]

    @property
    def print(self) -> Size:
        """The print's exact size."""
        width, height = self.photo.pixels
        scale = self.long_side / max(width, height)
        return Size(width * scale, height * scale)


def job_of_photos(photos: Path, folder: Path, sizes: Sizes, skipped: list[str]) -> str:
    """Return the text of a job with a piece for each photo, grouped by aspect; what is left out joins `skipped`."""
    found = photos_in(photos, skipped)
    pictures: list[_Picture] = []
    for photo, name in zip(found, _names(found), strict=True):
        picture = _picture(photo, name, sizes)
        if picture is None:
            width, height = photo.pixels
            thin = f"at {width} × {height} pixels it is too long and thin for a print"
            skipped.append(f"left out {printable(photo.written)}: {thin}")
        else:
            pictures.append(picture)
    if not pictures:
        raise none_left(f"{printable(str(photos))} holds no photo that suits a print", skipped)
    groups: dict[tuple[bool, Fraction], list[_Picture]] = {}
    for picture in pictures:
        groups.setdefault((picture.landscape, Fraction(*picture.aspect)), []).append(picture)
    parts = [_head(sizes), *at_hand([_frame_for(picture, sizes) for picture in pictures], sizes)]
    for _, group in sorted(groups.items(), key=lambda entry: (not entry[0][0], entry[0][1])):
        parts.append(_group_head(group))
        parts.extend(_piece(picture, photos, folder, sizes) for picture in group)
    framed = [_outside(picture, _frame_for(picture, sizes), sizes) for picture in pictures]
    return "\n".join((*parts, wall_of(framed, sizes)))


def _aspect(pixels: tuple[int, int]) -> tuple[int, int]:
    """Return the usual aspect of the pixels, else their own to a hundredth; long side first."""
    ratio = Fraction(max(pixels), min(pixels))
    for long, short in _USUAL:
        if abs(ratio / Fraction(long, short) - 1) <= Fraction(1, 100):
            return long, short
    return round(ratio * 100), 100


def _picture(photo: Photo, name: str, sizes: Sizes) -> _Picture | None:
    """Return the print asked of the photo, `None` where it is too long and thin for one."""
    long, short = max(photo.pixels), min(photo.pixels)
    enough = long * INCH / USUAL_PPI
    long_side = min(sizes.long_side, enough) // sizes.grain * sizes.grain
    least = -(-sizes.least_side * long / short // sizes.grain) * sizes.grain
    long_side = max(long_side, least)
    if long_side > _LONGEST_SIDE:
        return None
    return _Picture(photo=photo, name=name, aspect=_aspect(photo.pixels), long_side=long_side)


def _names(photos: Sequence[Photo]) -> Iterable[str]:
    """Yield a name for each photo's piece: its file's without the ending, each once."""
    taken: set[str] = set()
    for photo in photos:
        name = printable(Path(photo.written).stem, 110)
        try:
            read_name(name, Units.MM)
        except ValueError:
            name = "Photo"
        unique, number = name, 2
        while unique in taken:
            unique, number = f"{name} {number}", number + 1
        taken.add(unique)
        yield unique


def _head(sizes: Sizes) -> str:
    words = sizes.words
    margin = f'printer_margin = "{words["margin"]}"'
    return f"""\
#:schema ./job.schema.json
# A job for matplan: one piece for each photo found, to change as you like.
#
#   matplan check job.toml              every size, and what to mind
#   matplan make job.toml --out pack    drawings to cut by, lists to order by
#
# Of frame, image and border any two settle the third: with frame and image the borders follow; with image and border
# the frame is made to measure. Frames are the next usual ones: write those that you have. "matplan measure" writes a
# sheet to measure them by, "matplan words" tells the words of the trade.

units = "{sizes.units}"
step = "{words["step"]}"

[paper.own]                       # what your printer takes
size = "{words["paper"]}"
{margin:<33} # what the printer cannot reach; 0 where it prints borderless
"""


def _group_head(group: Sequence[_Picture]) -> str:
    long, short = group[0].aspect
    landscape = group[0].landscape or long == short
    shown = f"{long}:{short}" if landscape else f"{short}:{long}"
    if short == 100:
        shown = f"{long / 100:g}:1" if landscape else f"1:{long / 100:g}"
    way = "square" if long == short else "landscape" if landscape else "portrait"
    many = "1 photo" if len(group) == 1 else f"{len(group)} photos"
    return f"# --- {shown}, {way}: {many} ".ljust(78, "-") + "\n"


def _frame_for(picture: _Picture, sizes: Sizes) -> Frame | None:
    """Return the smallest usual frame with a border round the print.

    `None` where none is large enough, and for pictures whose borders would be very unequal in one: squares, and those
    more than twice as long as wide. A frame is made to measure for these, because no usual one is square or so long.
    """
    long, short = picture.aspect
    if long == short or long > 2 * short:
        return None
    made, least = picture.print, 2 * sizes.least_border
    upright = made.turned if picture.landscape else made
    held = [
        frame
        for frame in catalogue.frames()
        if frame.series == sizes.series and frame.size.holds(Size(upright.width + least, upright.height + least))
    ]
    return min(held, key=lambda frame: frame.size.area, default=None)


def _outside(picture: _Picture, frame: Frame | None, sizes: Sizes) -> Size:
    """Return what the framed picture takes of a wall, at the most."""
    if frame is None:
        return picture.print.grown(sizes.read("border") + sizes.read("moulding_rail"))
    size = frame.size.turned if picture.landscape else frame.size
    return size.grown(sizes.read("rail"))


def _on_paper(made: Size, sizes: Sizes) -> bool:
    """Return whether the print fits within the printer's margin, either way up."""
    reach = read_size(sizes.words["paper"], sizes.units).grown(-sizes.read("margin"))
    return reach.holds_either_way(made)


def _piece(picture: _Picture, photos_folder: Path, folder: Path, sizes: Sizes) -> str:
    from tomlkit import item

    width, height = picture.photo.pixels
    path = photos_folder / picture.photo.written
    try:
        written = Path(os.path.relpath(path, folder)).as_posix()
    except ValueError:  # on another drive
        written = path.absolute().as_posix()
    side = "width" if width >= height else "height"
    frame = _frame_for(picture, sizes)
    lines = [
        ("[[piece]]", ""),
        (f"name = {item(picture.name).as_string()}", ""),
        (f"photo = {item(written).as_string()}", f"{width} × {height} pixels"),
        (f'image = {{ {side} = "{sizes.length(picture.long_side)}" }}', "the print; its other side follows"),
    ]
    if frame is None:
        long, short = picture.aspect
        why = "square" if long == short else "so long" if long > 2 * short else "so large"
        lines.append((f'frame = "{MOULDING}"', f"made to measure: no usual frame is {why}"))
        lines.append((f'border = "{sizes.words["border"]}"', "image and border are given: the frame follows"))
    else:
        lines.append((f'frame = "{frame_name(frame)}"', "frame and image are given: the borders follow"))
        if picture.landscape:
            lines.append(("turn = true", "the frame hangs landscape; nothing is turned unasked"))
    lines.append(('mat = ["white"]', "front to back"))
    if _on_paper(picture.print, sizes):
        lines.append(('paper = "own"', ""))
    else:
        lines.append(("# no paper: the print is larger than yours and is made elsewhere", ""))
    return "\n".join((*(commented(*line) for line in lines), ""))
