"""What the things on and before a wall are called, written where nothing else stands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Final

from matplan.documents.parts import wording
from matplan.documents.parts.free_places import Taken
from matplan.documents.parts.labels import Spot as Labelled
from matplan.documents.wall.hung_frames import spot_box
from matplan.drawing import lettering
from matplan.drawing.items import Anchor, Area, Level, Text
from matplan.drawing.pens import SECONDARY
from matplan.drawing.views import View
from matplan.job.records import Wall
from matplan.walls.limits import kept_clear
from matplan.walls.records import HungFrame, Spot, levels_of, place_of

SIZE: Final = 2.0
_FREE: Final = 1.2
"""From a thing to its name."""


def taken_of(wall: Wall, frames: Sequence[HungFrame], view: View, numbers: Sequence[Labelled] = ()) -> Taken:
    """Return what stands on the wall already."""
    taken = Taken()
    taken.areas.extend(view.area(spot_box(hung.spot)) for hung in frames)
    taken.areas.extend(view.area(spot_box(hung.label)) for hung in frames if hung.label is not None)
    for number in numbers:
        taken.areas.append(number.area)
        taken.lines.extend(pairwise(number.leader))
    levels = [view.point(Fraction(0), level) for level in levels_of(wall)]
    taken.lines.extend(
        (level, view.point(wall.size.width, height)) for level, height in zip(levels, levels_of(wall), strict=True)
    )
    taken.lines.extend(pairwise(view.point(x, y) for x, y in wall.floor))
    taken.lines.extend(pairwise(view.point(x, y) for x, y in wall.outline))
    for zone in wall.zones:
        taken.lines.extend(view.area((zone.left, zone.bottom, zone.right - zone.left, zone.top - zone.bottom)).sides)
    for _, _, whole in _things(wall):
        taken.lines.extend(view.area(spot_box(whole)).sides)
    return taken


def _things(wall: Wall) -> Iterator[tuple[str, Spot, Spot]]:
    """Yield the name of each thing, its place, and that with its margin."""
    for one in wall.furniture:
        yield one.name, place_of(one), place_of(one)
    for kept in wall.keep_clear:
        yield kept.name, place_of(kept), kept_clear(kept)


def thing_names(wall: Wall, view: View, taken: Taken) -> Iterator[Text]:
    """Yield the names of furniture and of what is kept clear, and the eye line's, where nothing is `taken`.

    A name that finds no place is left out.
    """
    for name, bare, whole in _things(wall):
        seen = [_seen(view.area(spot_box(spot)), view.whole) for spot in (bare, whole)]
        if min(seen[0].width, seen[0].height) > 0:
            yield from _name(wording.short(name), seen[0], seen[1], view.whole, taken)
    for level in levels_of(wall):
        yield from _eye_line(view.point(Fraction(0), level)[1], view.whole, taken)


def _seen(area: Area, whole: Area) -> Area:
    """Return the part of an area that lies within another."""
    x, y = max(area.x, whole.x), max(area.y, whole.y)
    return Area(x=x, y=y, width=min(area.right, whole.right) - x, height=min(area.bottom, whole.bottom) - y)


def _name(text: str, bare: Area, whole: Area, wall: Area, taken: Taken) -> Iterator[Text]:
    """Inside the thing, along it or up it; else at its right, at its left, above or below it."""
    width, height = lettering.width(text, SIZE), SIZE * 1.3
    x, y = bare.centre
    for across, up, turn in ((width, height, 0.0), (height, width, -90.0)):
        area = Area(x=x - across / 2 - 0.4, y=y - up / 2 - 0.4, width=across + 0.8, height=up + 0.8)
        if across + 1.6 <= bare.width and up + 1.6 <= bare.height and taken.first_free([area]) is not None:
            yield Text(
                at=(x, y), text=text, size=SIZE, anchor=Anchor.MIDDLE, level=Level.MIDDLE, turn=turn, colour=SECONDARY
            )
            return
    corners = (
        (whole.right + _FREE, y - height / 2),
        (whole.x - _FREE - width, y - height / 2),
        (x - width / 2, whole.y - _FREE - height),
        (x - width / 2, whole.bottom + _FREE),
        *(
            (left, top)
            for top in (whole.y - _FREE - height, whole.bottom + _FREE)
            for left in (whole.x, whole.right - width)
        ),
    )
    areas = [Area(x=left, y=top, width=width, height=height) for left, top in corners]
    spot = taken.first_free(
        area
        for area in areas
        if wall.x + 0.5 <= area.x
        and area.right <= wall.right - 0.5
        and wall.y + 0.5 <= area.y
        and area.bottom <= wall.bottom - 0.5
    )
    if spot is not None:
        yield Text(at=(spot.x, spot.y + 0.3), text=text, size=SIZE, level=Level.TOP, colour=SECONDARY, halo=True)


def _eye_line(level: float, wall: Area, taken: Taken) -> Iterator[Text]:
    """Above the line, at its right end or at its left."""
    wide = lettering.width("eye line", SIZE)
    ends = (
        Area(x=x, y=level - SIZE - 1.6, width=wide, height=SIZE + 1.0) for x in (wall.right - wide - 1.5, wall.x + 1.5)
    )
    spot = taken.first_free(ends)
    if spot is not None:
        yield Text(at=(spot.x, level - 1.0), text="eye line", size=SIZE, colour=SECONDARY, halo=True)
