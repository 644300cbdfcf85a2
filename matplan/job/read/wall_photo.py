"""A wall's photograph: four corners in it, and the rectangle of the wall that they belong to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import MISSING
from fractions import Fraction
from typing import Any

from matplan.job.file.table import Opened, Told
from matplan.job.records import Patch, Photo, WallPhoto
from matplan.lengths import Size, plain_decimal, turns

_ORDER = "write them clockwise from the upper left one of the rectangle"


def read_wall_photo(wall: Opened[Any], size: Size) -> WallPhoto | None:
    """Return the photograph of a wall of that size, `None` where it has none or a faulty one."""
    if not wall.says("photo"):
        return None
    try:
        table = wall.reader.open(WallPhoto, wall.table["photo"], (*wall.place, "photo"))
    except ValueError as error:
        wall.wrong("photo", text=f'{error}; write it like photo = {{ file = "wall.jpg", corners = [ … ] }}')
        return None
    patch = _patch(table, size)
    file, corners = table.value("file"), table.value("corners")
    if corners is not MISSING and (text := _fault(corners, file if isinstance(file, Photo) else None)):
        table.wrong("corners", text=text)
    try:
        made = table.make(of=patch)
    except Told:
        return None
    return made if table.sound else None


def _patch(photo: Opened[WallPhoto], size: Size) -> Patch | None:
    """Return the rectangle on the wall; a side that is not written is the wall's."""
    try:
        table = photo.reader.open(Patch, photo.table.get("of", {}), (*photo.place, "of"))
    except ValueError as error:
        photo.wrong("of", text=str(error))
        return None
    for start, length, most, what in (
        ("left", "width", size.width, "wide"),
        ("bottom", "height", size.height, "high"),
    ):
        first, long = table.value(start), table.value(length)
        if table.faulty(start, length):
            continue
        end = first if long is MISSING else first + long
        if end > most or (long is MISSING and end == most):
            shown = photo.reader.shown
            sum_of = f"{start} + {length}" if table.says(length) else start
            text = f"{sum_of} is {shown(end)}, which leaves nothing on the wall, {shown(most)} {what}; write less"
            if table.says(length):
                text = f"{sum_of} is {shown(end)}, which is outside the wall, {shown(most)} {what}; write less"
            table.wrong(length if table.says(length) else start, text=text, sized=True)
    if not table.sound:
        return None
    rest = {"width": size.width - table.value("left"), "height": size.height - table.value("bottom")}
    return table.make(**{key: length for key, length in rest.items() if not table.says(key)})


def _fault(corners: Sequence[tuple[Fraction, Fraction]], photo: Photo | None) -> str:
    """Return what is wrong with the corners of a rectangle in a photograph, "" where nothing is."""
    if photo is not None:
        width, height = photo.pixels
        for number, (x, y) in enumerate(corners, 1):
            if x > width or y > height:
                return (
                    f"corner {number} is {_pixel((x, y))}, which is outside the photograph, {width} × {height} pixels "
                    "as it is seen; write a place in it"
                )
    turned = turns(corners)
    if any(turn == 0 for turn in turned):
        number = turned.index(0)
        three = [_pixel(corners[(number + step) % 4]) for step in range(3)]
        return f"{', '.join(three[:2])} and {three[2]} lie in a line; write the four corners of a rectangle"
    clockwise = sum(turn > 0 for turn in turned)
    if clockwise == 2:
        return f"the sides between the corners cross; {_ORDER}"
    if clockwise in (1, 3):
        number = next(n for n, turn in enumerate(turned) if (turn > 0) == (clockwise == 1))
        inside = _pixel(corners[(number + 1) % 4])
        return f"{inside} lies within the three others, so they are no rectangle seen from before; write its corners"
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = corners
    if not clockwise:
        return f"the corners run the other way round; {_ORDER}"
    if y0 + y1 >= y2 + y3 or x0 + x3 >= x1 + x2:
        return f"{_pixel(corners[0])} is not the upper left corner in the photograph as it is seen; {_ORDER}"
    return ""


def _pixel(point: tuple[Fraction, Fraction]) -> str:
    return f"[{', '.join(plain_decimal(part) for part in point)}]"
