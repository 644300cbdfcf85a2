"""The checker over a finished sheet: what a reader would stumble over.

It looks at the items alone, so it holds whatever made them. A label on its `halo` may stand on a line.
"""

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from typing import Final, assert_never

from matplan.drawing import lettering
from matplan.drawing.arcs import chords
from matplan.drawing.items import (
    ArcTo,
    Compound,
    Ellipse,
    Group,
    Image,
    Item,
    Line,
    Link,
    Outline,
    Path,
    Point,
    Polyline,
    Rect,
    Text,
    To,
)
from matplan.drawing.pens import Pen
from matplan.drawing.sheet import Sheet

QUIET: Final = frozenset({Pen.WASTE, Pen.RULE})
"""Pens whose lines may pass under a text."""
EDGE_MM: Final = 5.0
"""What printers cannot reach along the edge of the paper."""
_CHORDS: Final = 32
_SLACK: Final = 0.02

type Quad = tuple[Point, Point, Point, Point]
type Quadruple = tuple[float, float, float, float]


class Kind(StrEnum):
    """What is wrong."""

    TEXT_ON_TEXT = "text on text"
    TEXT_ON_LINE = "text on a line"
    TEXT_COVERED = "text covered"
    TEXT_OFF_PAGE = "text off the page"
    ID_TWICE = "id used twice"


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """One fault: its kind, what it is about and what it meets, and where on the paper."""

    kind: Kind
    what: str
    meets: str
    at: Point

    def __str__(self) -> str:
        return f"{self.kind}: {self.what!r} and {self.meets} at {self.at[0]:.1f}, {self.at[1]:.1f} mm"


def check(sheet: Sheet, *, edge: float = EDGE_MM) -> tuple[Clash, ...]:
    """Return every clash on the sheet, in the order of drawing."""
    items = list(_clipped(sheet.items, ()))
    texts = [
        (n, item, lettering.setting(item).corners())
        for n, (item, _) in enumerate(items)
        if isinstance(item, Text) and item.text.strip()
    ]
    return (
        *_pairs(texts),
        *_on_lines(texts, items),
        *_covered(texts, list(enumerate(items))),
        *_off_page(texts, sheet.size, edge),
        *_ids(sheet.items),
    )


def _pairs(texts: Sequence[tuple[int, Text, Quad]]) -> Iterator[Clash]:
    extents = [_extent(box) for _, _, box in texts]
    for index, (_, first, box) in enumerate(texts):
        for further, (_, second, other) in enumerate(texts[index + 1 :], index + 1):
            if not _near(extents[index], extents[further]) or _apart(box, other):
                continue
            yield Clash(kind=Kind.TEXT_ON_TEXT, what=first.text, meets=repr(second.text), at=box[0])


def _on_lines(
    texts: Sequence[tuple[int, Text, Quad]], items: Sequence[tuple[Item, tuple[Outline, ...]]]
) -> Iterator[Clash]:
    lines = [
        (pen, a, b, _extent((a, b)), clips)
        for item, clips in items
        for pen, points in _strokes(item)
        for a, b in pairwise(points)
    ]
    for _, text, box in texts:
        if text.halo:
            continue
        extent = _extent(box)
        for pen, a, b, reach, clips in lines:
            if _near(extent, reach) and not any(_apart(box, shape) for shape in ((a, b), *map(_bounds, clips))):
                yield Clash(kind=Kind.TEXT_ON_LINE, what=text.text, meets=f"a line of pen {pen.value}", at=box[0])


def _clipped(items: Sequence[Item], clips: tuple[Outline, ...]) -> Iterator[tuple[Item, tuple[Outline, ...]]]:
    """Yield every item that is no group with the outlines that it is cut to, in the order of drawing."""
    for item in items:
        if isinstance(item, Group):
            yield from _clipped(item.items, clips if item.clip is None else (*clips, item.clip))
        elif isinstance(item, Image) and item.clip is not None:
            yield item, (*clips, item.clip)
        else:
            yield item, clips


def _covered(
    texts: Sequence[tuple[int, Text, Quad]], items: Sequence[tuple[int, tuple[Item, tuple[Outline, ...]]]]
) -> Iterator[Clash]:
    covers = [
        (number, (_rectangle(item.x, item.y, item.width, item.height), *map(_bounds, clips)))
        for number, (item, clips) in items
        if isinstance(item, Image) or (isinstance(item, Rect) and item.fill is not None)
    ]
    for number, text, box in texts:
        for later, shapes in covers:
            if later > number and not any(_apart(box, shape) for shape in shapes):
                yield Clash(kind=Kind.TEXT_COVERED, what=text.text, meets="what is drawn over it", at=box[0])


def _bounds(outline: Outline) -> Quad:
    xs, ys = zip(*chain(outline), strict=True)
    return _rectangle(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


def _off_page(texts: Sequence[tuple[int, Text, Quad]], size: tuple[float, float], edge: float) -> Iterator[Clash]:
    width, height = size
    for _, text, box in texts:
        if any(not (edge <= x <= width - edge and edge <= y <= height - edge) for x, y in box):
            yield Clash(
                kind=Kind.TEXT_OFF_PAGE, what=text.text, meets=f"the edge of {width:g} × {height:g} mm", at=box[0]
            )


def _ids(items: Sequence[Item]) -> Iterator[Clash]:
    for name, times in Counter(_every_id(items)).items():
        if times > 1:
            yield Clash(kind=Kind.ID_TWICE, what=name, meets=f"{times - 1} more", at=(0.0, 0.0))


def _every_id(items: Sequence[Item]) -> Iterator[str]:
    for item in items:
        if item.id is not None:
            yield item.id
        if isinstance(item, Group):
            yield from _every_id(item.items)


def _strokes(item: Item) -> Iterator[tuple[Pen, Sequence[Point]]]:
    """Yield the drawn lines of an item as chains of points, arcs as chords."""
    match item:
        case Line():
            if item.pen not in QUIET:
                yield item.pen, (item.start, item.end)
        case Polyline() | Rect() | Ellipse() | Path():
            if item.pen is not None and item.pen not in QUIET:
                yield item.pen, chain(item)
        case Compound():
            if item.pen is not None and item.pen not in QUIET:
                for outline in item.outlines:
                    yield item.pen, chain(outline)
        case Text() | Image() | Group() | Link():
            return
        case _:
            assert_never(item)


def chain(outline: Outline) -> Sequence[Point]:
    """Return the points of an outline, arcs as chords."""
    match outline:
        case Polyline():
            return (*outline.points, outline.points[0]) if outline.closed else outline.points
        case Rect():
            corners = _rectangle(outline.x, outline.y, outline.width, outline.height)
            return (*corners, corners[0])
        case Ellipse():
            return list(_path(outline.path))
        case Path():
            return list(_path(outline))
        case _:
            assert_never(outline)


def _path(path: Path) -> Iterator[Point]:
    here = path.start
    yield here
    for step in path.steps:
        match step:
            case To():
                yield step.end
            case ArcTo():
                yield from chords(here, step, _CHORDS)
            case _:
                assert_never(step)
        here = step.end
    if path.closed:
        yield path.start


def _rectangle(x: float, y: float, width: float, height: float) -> Quad:
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def _extent(points: Sequence[Point]) -> Quadruple:
    """Return left, top, right and bottom of some points."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _near(first: Quadruple, second: Quadruple) -> bool:
    """Return whether two upright rectangles meet, which tells cheaply what cannot clash."""
    return first[0] <= second[2] and second[0] <= first[2] and first[1] <= second[3] and second[1] <= first[3]


def _apart(first: Sequence[Point], second: Sequence[Point]) -> bool:
    """Return whether a line separates two convex shapes: the normals of their sides are all that need be tried."""
    for shape in (first, second):
        for (x1, y1), (x2, y2) in zip(shape, (*shape[1:], shape[0]), strict=True):
            length = math.hypot(x2 - x1, y2 - y1)
            if not length:
                continue
            nx, ny = (y2 - y1) / length, (x1 - x2) / length
            a = [x * nx + y * ny for x, y in first]
            b = [x * nx + y * ny for x, y in second]
            if max(a) <= min(b) + _SLACK or max(b) <= min(a) + _SLACK:
                return True
    return False
