"""The measuring sheet: what to measure on a frame, its mat, a picture and a wall, and how, with lines to fill in.

Each line bears the key that the figure has in a job file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from matplan.documents.measuring import sketches
from matplan.documents.parts.page import paper
from matplan.documents.parts.wording import UNITS
from matplan.drawing import lettering
from matplan.drawing.blocks import TICK, paragraph
from matplan.drawing.frame import TitleBlock, drawing_area, frame
from matplan.drawing.items import Anchor, Area, Group, Item, Level, Line, Rect, Size, Text
from matplan.drawing.pens import INK, SECONDARY, Pen
from matplan.drawing.sheet import Sheet
from matplan.lengths import Units

_BLANK: Final = 49.0
"""What is left to write in, in mm."""
_BETWEEN: Final = 4.0
_TAG: Final = 6.0
_ROW: Final = 11.5
"""A line is as high at the least, so that a pencil has room."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A figure to fill in: its letter on the sketch, its key in a job file, how it is measured.

    A `size` has two lengths; `names` stand before as many. What is `counted` has no unit, `choices` are ticked.
    """

    key: str
    how: str
    letter: str = ""
    size: bool = False
    names: tuple[str, ...] = ()
    counted: bool = False
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """What is measured: its title, the table of the job file that takes its figures, its sketch and its figures."""

    title: str
    table: str
    sketch: Callable[[float, float], Group]
    asked: tuple[Asked, ...]


FRAME: Final = (
    Thing(
        title="The frame from the front",
        table="[frame.…]",
        sketch=sketches.front,
        asked=(
            Asked(letter="A", key="sight", size=True, how="What one sees between the inner edges, width × height."),
            Asked(letter="B", key="rail", how="How wide one side looks from the front, to its inner edge."),
            Asked(key="takes", size=True, how="The size on its label or in the shop: the sheet that it is sold for."),
        ),
    ),
    Thing(
        title="The frame from behind, emptied",
        table="[frame.…]",
        sketch=sketches.behind,
        asked=(
            Asked(letter="C", key="rabbet", size=True, how="From wall to wall of the step that the glass lies in."),
            Asked(
                key="includes",
                how="What it comes with.",
                choices=("glazing", "mat", "backing", "hangers"),
            ),
            Asked(key="have", counted=True, how="How many frames of this kind are there."),
        ),
    ),
    Thing(
        title="The frame in section",
        table="[frame.…]",
        sketch=sketches.section,
        asked=(
            Asked(letter="D", key="lip", how="How far the front edge reaches over the glass, on one side."),
            Asked(letter="E", key="depth", how="With a rule in the empty step: from the lip to the frame's back."),
            Asked(letter="F", key="height", how="The frame lies on a table: from the table to its highest point."),
        ),
    ),
)
REST: Final = (
    Thing(
        title="A mat that is there",
        table="[frame.…] or [[piece]]",
        sketch=sketches.mat,
        asked=(
            Asked(letter="G", key="mat_opening", size=True, how="What one sees through it, between the inner edges."),
            Asked(
                letter="H", key="border", names=("top", "bottom"), how="Above and below the opening, if they differ."
            ),
            Asked(letter="J", key="takes", size=True, how="The mat's whole size, if the frame's is not known."),
        ),
    ),
    Thing(
        title="A picture on its sheet",
        table="[[piece]] and [paper.…]",
        sketch=sketches.picture,
        asked=(
            Asked(letter="K", key="image", size=True, how="The printed picture without the white paper round it."),
            Asked(letter="L", key="size", size=True, how="The whole sheet of paper."),
            Asked(letter="M", key="printer_margin", how="What the printer leaves white at the edge; 0 if nothing."),
        ),
    ),
    Thing(
        title="A wall",
        table="[[wall]]",
        sketch=sketches.wall,
        asked=(
            Asked(letter="N", key="size", size=True, how="The whole wall, from corner to corner and floor to ceiling."),
            Asked(letter="P", key="eye", how="From the floor to the height that pictures have their middle at."),
        ),
    ),
)
_THINGS: Final = (("What it is", ""), ("left", "1"), ("bottom", "2"), ("width", "3"), ("height", ""))
"""Of a thing on the wall or before it: the keys of its lengths, each with its number on the sketch."""
_LINE: Final = 6.6
"""From one line of the table to the next."""


def measuring_sheets(units: Units) -> tuple[Sheet, ...]:
    """Return the pages: the frame, then mat, picture and wall."""
    size = paper(units).portrait
    pages = (("A frame", FRAME), ("Mat, picture and wall", REST))
    made = []
    for number, (title, things) in enumerate(pages, 1):
        block = TitleBlock(
            title=title,
            document="To measure",
            view="fill in with a pencil; the words in bold are the job file's keys",
            units=UNITS[units],
            sheet=(number, len(pages)),
        )
        items = (*frame(size, block).items, *_page(things, units, drawing_area(size)))
        made.append(Sheet(name=f"measure {number}", title=title, size=size, items=items))
    return tuple(made)


def _page(things: Sequence[Thing], units: Units, area: Area) -> Iterator[Item]:
    each = area.height / 3
    for number, thing in enumerate(things):
        place = Area(x=area.x, y=area.y + number * each, width=area.width, height=each)
        yield from _thing(thing, units, place)


def _thing(thing: Thing, units: Units, area: Area) -> Iterator[Item]:
    """Yield a heading, the sketch at the left and the figures at its right."""
    yield Text(at=(area.x, area.y), text=thing.title, size=Size.NORMAL, level=Level.TOP, bold=True)
    yield Text(
        at=(area.right, area.y + 1), text=thing.table, size=Size.SMALL, level=Level.TOP, anchor=Anchor.END,
        colour=SECONDARY,
    )  # fmt: skip
    top = area.y + Size.NORMAL + 2.2
    yield Line(start=(area.x, top), end=(area.right, top), pen=Pen.EDGE)
    yield thing.sketch(area.x, top + 4)
    left, y = area.x + sketches.WIDTH + 6, top + 4
    for asked in thing.asked:
        items, y = _figure(asked, units, Area(x=left, y=y, width=area.right - left, height=0))
        yield from items
    if thing.sketch is sketches.wall:
        yield from _on_the_wall(Area(x=left, y=y + 1, width=area.right - left, height=area.bottom - y - 1))


def _figure(asked: Asked, units: Units, area: Area) -> tuple[list[Item], float]:
    """Return the line of a figure, and where the next one begins."""
    text = area.x + _TAG
    items: list[Item] = [
        Text(at=(area.x, area.y), text=asked.letter, size=Size.SMALL, level=Level.TOP, bold=True),
        Text(at=(text, area.y), text=asked.key, size=Size.SMALL, level=Level.TOP, bold=True, classes=("key",)),
    ]
    wide = area.width - _TAG - (_BLANK + _BETWEEN) * (not asked.choices)
    how = paragraph(asked.how, x=text, y=area.y + 4.2, width=wide, colour=SECONDARY)
    items.extend(how.items)
    low = max(how.bottom, area.y + _ROW - 3)
    if asked.choices:
        items.extend(_choices(asked.choices, text + lettering.width(f"{asked.how}   ", Size.SMALL), area.y + 4.2))
    else:
        items.extend(_blanks(asked, units, area.right, low))
    return [Group(classes=("figure",), items=tuple(items))], low + 4.4


def _blanks(asked: Asked, units: Units, right: float, y: float) -> Iterator[Item]:
    """Yield what is written on: one line or two with a times sign between them, and the unit."""
    left, unit = right - _BLANK, "" if asked.counted else units.value
    end = right - (lettering.width(unit, Size.SMALL) + 1.2 if unit else 0.0)
    starts, each = [left], end - left
    if asked.size or asked.names:
        half = 2.6 if asked.size else 0.8  # what a times sign needs, and what two names need
        starts, each = [left, (left + end) / 2 + half], (end - left) / 2 - half
    for start, name in zip(starts, asked.names or ("",) * len(starts), strict=True):
        named = lettering.width(f"{name} ", Size.CAPTION) if name else 0.0
        if name:
            yield Text(at=(start, y - 0.6), text=name, size=Size.CAPTION, colour=SECONDARY)
        yield Line(start=(start + named, y), end=(start + each, y), pen=Pen.EDGE, classes=("blank",))
    if asked.size:
        yield Text(at=((left + end) / 2, y - 0.6), text="×", size=Size.SMALL, anchor=Anchor.MIDDLE)
    if unit:
        yield Text(at=(right, y - 0.6), text=unit, size=Size.SMALL, anchor=Anchor.END, colour=SECONDARY)


def _choices(choices: Sequence[str], x: float, y: float) -> Iterator[Item]:
    for name in choices:
        yield Rect(x=x, y=y + (Size.SMALL - TICK) / 2, width=TICK, height=TICK, pen=Pen.EDGE, classes=("tick",))
        yield Text(at=(x + TICK + 1.4, y), text=name, size=Size.SMALL, level=Level.TOP, colour=INK)
        x += TICK + 1.4 + lettering.width(name, Size.SMALL) + 3.4


def _on_the_wall(area: Area) -> Iterator[Item]:
    """Yield a small table to fill in: what stays clear on the wall, and the furniture before it."""
    how = "keep_clear: sockets, doors … · furniture before the wall has no bottom"
    told = paragraph(how, x=area.x + _TAG, y=area.y, width=area.width - _TAG, colour=SECONDARY)
    yield from told.items
    left, top = area.x + _TAG, told.bottom + 2.2
    first = 34.0
    each = (area.right - left - first) / (len(_THINGS) - 1)
    starts = [left, *(left + first + number * each for number in range(len(_THINGS) - 1))]
    for start, (name, number) in zip(starts, _THINGS, strict=True):
        tag = f"{number} {name}" if number else name
        yield Text(at=(start, top), text=tag, size=Size.SMALL, level=Level.TOP, bold=True, classes=("key",))
    for row in range(1, int((area.bottom - top - Size.SMALL) / _LINE) + 1):
        y = top + Size.SMALL + _LINE * row
        for start, stop in zip(starts, [*starts[1:], area.right + 2.5], strict=True):
            yield Line(start=(start, y), end=(stop - 2.5, y), pen=Pen.EDGE, classes=("blank",))
