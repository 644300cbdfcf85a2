"""The strip below a tile's window: check ruler, key of the line styles, the sheet's place and a map of all sheets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from matplan.documents.tiled.tiling import Tile, Tiling
from matplan.drawing import lettering
from matplan.drawing.blocks import levelled, set_lines
from matplan.drawing.items import Anchor, Area, Compound, Group, Item, Level, Line, Polyline, Rect, Size, Text
from matplan.drawing.pens import INK, SECONDARY, Pen
from matplan.habits import Ruler, habits_of
from matplan.lengths import Box, Units

_MAP_WIDTH: Final = 26.0
_GAP: Final = 5.0
_SAMPLE: Final = 9.0
_MAPPED: Final = 9
"""Openings beyond which the map would be too small to show them."""
_PITCH: Final = Size.CAPTION * 1.5
"""From line to line below the map."""
_LARGE_TICK, _MIDDLE_TICK, _SMALL_TICK = 3.2, 2.3, 1.4


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """What the strip says of the template: two lines, the key of its line styles, what is left out."""

    title: str
    about: str
    key: Sequence[tuple[Pen, str]]
    left_out: str = "of waste"


def strip_items(
    area: Area, tiling: Tiling, tile: Tile, words: Words, units: Units, blank: Box, openings: Sequence[Box]
) -> Group:
    """The strip in its area."""
    rule = habits_of(units).ruler
    long = float(rule.length)
    left = area.inset(0, 0, _MAP_WIDTH + _GAP, 0)
    beside = left.inset(long + _GAP, 5.6, 0, 0)
    items: list[Item] = [
        *_key(left, words.key),
        _ruler(Area(x=left.x, y=left.y + 6.0, width=long, height=left.height - 6.4), rule),
        *_words(beside, tiling, tile, words),
        _map(
            Area(x=area.right - _MAP_WIDTH, y=area.y, width=_MAP_WIDTH, height=area.height),
            tiling,
            tile,
            blank,
            openings,
            words.left_out,
        ),
    ]
    return Group(classes=("title-block",), items=tuple(items))


def _key(area: Area, key: Sequence[tuple[Pen, str]]) -> Iterator[Item]:
    """A sample of each line style and what it stands for, as wide as the area at most."""
    fixed, between = _SAMPLE + 1.5, 4.0
    widths = [lettering.width(text, Size.SMALL) for _, text in key]
    spare = area.width - len(key) * fixed - (len(key) - 1) * between
    widths = [max(wide, 1.0) for wide in levelled(widths, spare)]
    x, y = area.x, area.y + Size.SMALL / 2
    for (pen, text), width in zip(key, widths, strict=True):
        yield Line(start=(x, y), end=(x + _SAMPLE, y), pen=pen, classes=("key",))
        found = lettering.held(text, width, Size.SMALL, Size.SMALL)
        yield from set_lines(found, x + fixed, y - found.height / 2)
        x += fixed + width + between


@lru_cache(maxsize=8)
def _ruler(area: Area, rule: Ruler) -> Group:
    """The ruler on the area's lower edge, exactly as long as it says, its words above."""
    base = area.bottom
    long = float(rule.length)
    ticks: dict[Pen, list[Polyline]] = {Pen.EDGE: [], Pen.RULE: []}
    for part in range(rule.parts + 1):
        tick = _LARGE_TICK if part % rule.large == 0 else _MIDDLE_TICK if part % rule.middle == 0 else _SMALL_TICK
        x = area.x + float(rule.length * part / rule.parts)
        ticks[Pen.EDGE if part % rule.middle == 0 else Pen.RULE].append(Polyline(points=((x, base), (x, base - tick))))
    items: list[Item] = [Line(start=(area.x, base), end=(area.x + long, base), pen=Pen.EDGE, classes=("check-ruler",))]
    items.extend(Compound(outlines=tuple(lines), pen=pen, classes=("ticks",)) for pen, lines in ticks.items())
    text = f"Check: {rule.label} from end to end. Print at 100 %, no fitting."
    at = (area.x, base - _LARGE_TICK - 1.4)
    size = max(min(Size.SMALL, Size.SMALL * long / lettering.width(text, Size.SMALL)), Size.LEAST)
    items.append(Text(at=at, text=text, size=size, classes=("ruler-words",)))
    return Group(classes=("ruler",), items=tuple(items), data=(("length", rule.label),))


def _words(area: Area, tiling: Tiling, tile: Tile, words: Words) -> Iterator[Text]:
    place = f"row {tile.row} of {tiling.rows}, column {tile.column} of {tiling.columns}"
    title = lettering.held(words.title, area.width, Size.SMALL, Size.SMALL)
    about = lettering.held(words.about, area.width, Size.CAPTION, Size.CAPTION)
    yield Text(at=(area.x, area.y), text=place, size=Size.SMALL, bold=True, level=Level.TOP, classes=("words",))
    if len(title.lines) == len(about.lines) == 1:
        pitch = (area.height - Size.CAPTION) / 2 - 0.3
        tops = (area.y + pitch, area.y + 2 * pitch)
    else:
        first = area.y + Size.SMALL + 0.8
        tops = (first, first + title.height + about.step - about.size)
    yield from set_lines(title, area.x, tops[0], classes=("words",))
    yield from set_lines(about, area.x, tops[1], colour=SECONDARY, classes=("words",))


def _map(area: Area, tiling: Tiling, tile: Tile, blank: Box, openings: Sequence[Box], left_out: str) -> Group:
    """All sheets of the grid, this one filled, those that are not printed left out, under an arrow to the top edge."""
    text = f"{tiling.left_out} {left_out}, not printed" if tiling.left_out else ""
    told = lettering.wrapped(text, area.width, Size.CAPTION) if text else ()
    head, foot = 3.2, 2.8 + (len(told) - 1) * _PITCH if told else 0.0
    first, last = tiling.windows[0][0], tiling.windows[-1][-1]
    whole = Box(first.x, first.y, last.right - first.x, last.bottom - first.y)
    room = area.inset(0, head, 0, foot)
    scale = min(room.width / float(whole.width), room.height / float(whole.height))
    x0 = room.right - float(whole.width) * scale

    def placed(box: Box) -> Area:
        x, y = x0 + float(box.x - whole.x) * scale, room.y + float(box.y - whole.y) * scale
        return Area(x=x, y=y, width=float(box.width) * scale, height=float(box.height) * scale)

    printed = {(other.row, other.column) for other in tiling.tiles}
    wide, high = float(whole.width) * scale / tiling.columns, float(whole.height) * scale / tiling.rows
    items: list[Item] = []
    for row, column in sorted(printed):
        here = (row, column) == (tile.row, tile.column) and len(printed) > 1
        x, y = x0 + (column - 1) * wide, room.y + (row - 1) * high
        items.append(
            Rect(
                x=x,
                y=y,
                width=wide,
                height=high,
                pen=Pen.RULE,
                fill=SECONDARY if here else None,
                classes=("here",) if here else (),
            )
        )
    shown = openings if len(openings) <= _MAPPED else ()
    items.extend(placed(box).rect(pen=Pen.EDGE if box is blank else Pen.RULE) for box in (blank, *shown))
    for number, line in enumerate(reversed(told)):
        at = (area.right, area.bottom - number * _PITCH)
        items.append(Text(at=at, text=line, size=Size.CAPTION, anchor=Anchor.END, classes=("left-out",)))
    items.extend(_top_arrow(Area(x=x0, y=area.y, width=area.right - x0, height=head)))
    return Group(classes=("map",), items=tuple(items))


def _top_arrow(area: Area) -> Iterator[Item]:
    """A filled triangle that points to the top edge, and the word."""
    word, half, high = "top edge", 1.1, 2.0
    width = lettering.width(word, Size.CAPTION)
    right = area.right - width - 1.2
    y = area.y + high
    yield Polyline(
        points=((right - 2 * half, y), (right - half, y - high), (right, y)),
        closed=True,
        fill=INK,
        classes=("top-edge",),
    )
    yield Text(at=(area.right, y), text=word, size=Size.CAPTION, anchor=Anchor.END, classes=("top-words",))
