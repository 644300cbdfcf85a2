"""Sketches of what is measured: a frame from the front, from behind and in section, a mat, a picture, a wall.

A sketch has no scale; each of its letters stands at a dimension and in the list beside the sketch.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from matplan.drawing.items import Anchor, Area, Group, Item, Level, Line, Polyline, Size, Text
from matplan.drawing.pens import FAINT, PAPER, SECONDARY, TINT, Pen

WIDTH: Final = 62.0
HEIGHT: Final = 52.0
_TICK: Final = 0.8
_ROOM: Final = 2.6
"""What a dimension's line keeps free on each side of its letter's middle."""


def front(x: float, y: float) -> Group:
    """Return the frame from the front: `A` is the sight, `B` the rail."""
    outer = Area(x=x + 4, y=y + 2, width=52, height=40)
    sight = outer.inset(7, 7, 7, 7)
    items = [
        outer.rect(pen=Pen.OUTLINE, fill=TINT),
        sight.rect(pen=Pen.OUTLINE, fill=PAPER),
        *_mitres(outer, sight),
        *_both("A", sight),
        *_extended_down(outer.x, sight.x, outer.bottom, outer.bottom + 4),
        *_outside(outer.x, sight.x, outer.bottom + 3, "B"),
    ]
    return Group(classes=("sketch", "front"), items=tuple(items))


def behind(x: float, y: float) -> Group:
    """Return the frame from behind, empty: `C` is the rabbet."""
    outer = Area(x=x + 4, y=y + 2, width=52, height=40)
    rabbet, sight = outer.inset(4, 4, 4, 4), outer.inset(7, 7, 7, 7)
    lip = Text(at=(sight.x + 4, sight.bottom - 3), text="lip, from behind", size=Size.CAPTION, colour=SECONDARY)
    items = [
        outer.rect(pen=Pen.OUTLINE, fill=TINT),
        rabbet.rect(pen=Pen.OUTLINE, fill=FAINT),
        sight.rect(pen=Pen.EDGE, fill=PAPER),
        *_mitres(outer, rabbet),
        *_both("C", rabbet),
        lip,
        Line(start=(sight.x + 3.4, sight.bottom - 2.6), end=(sight.x - 1.5, sight.bottom + 1.0), pen=Pen.DIMENSION),
    ]
    return Group(classes=("sketch", "behind"), items=tuple(items))


def section(x: float, y: float) -> Group:
    """Return the moulding in section with what lies in it: `B` rail, `D` lip, `E` depth, `F` height."""
    left, top, rail, lip, thick, high = x + 10, y + 14, 18.0, 7.0, 4.0, 26.0
    right, inner, low = left + rail, left + rail - lip, top + high
    outline = ((left, top), (right, top), (right, top + thick), (inner, top + thick), (inner, low), (left, low))
    stack = Area(x=inner + 0.8, y=top + thick, width=24, height=11.4)
    items: list[Item] = [Polyline(points=outline, closed=True, pen=Pen.OUTLINE, fill=TINT)]
    for number, name in enumerate(("glass", "mat", "print, backing")):
        layer = Area(x=stack.x, y=stack.y + 3.8 * number, width=stack.width, height=3.8)
        items.append(layer.rect(pen=Pen.EDGE))
        at = (layer.right - 1.6, layer.centre[1])
        items.append(Text(at=at, text=name, size=Size.CAPTION, anchor=Anchor.END, level=Level.MIDDLE, colour=SECONDARY))
    items += [
        *_extended_up(left, top, top - 10.5),
        *_extended_up(inner, top, top - 5),
        *_extended_up(right, top, top - 10.5),
        *_across(left, right, top - 9.5, "B"),
        *_across(inner, right, top - 4, "D", aside=True),
        Line(start=(left - 1, top), end=(left - 6, top), pen=Pen.DIMENSION),
        Line(start=(left - 1, low), end=(left - 6, low), pen=Pen.DIMENSION),
        *_down(left - 5, top, low, "F"),
        Line(start=(stack.right + 1, stack.y), end=(stack.right + 6, stack.y), pen=Pen.DIMENSION),
        Line(start=(inner + 1, low), end=(stack.right + 6, low), pen=Pen.DIMENSION),
        *_down(stack.right + 5, stack.y, low, "E"),
    ]
    return Group(classes=("sketch", "section"), items=tuple(items))


def mat(x: float, y: float) -> Group:
    """Return a mat: `G` is its opening, `H` its borders, `J` its whole size."""
    outer = Area(x=x + 4, y=y + 2, width=52, height=37)
    opening = outer.inset(11, 8, 11, 10)
    items = [
        outer.rect(pen=Pen.OUTLINE, fill=TINT),
        opening.inset(-0.8, -0.8, -0.8, -0.8).rect(pen=Pen.EDGE),
        opening.rect(pen=Pen.OUTLINE, fill=PAPER),
        *_both("G", opening),
        *_down(opening.x + 8, outer.y, opening.y - 0.8, "H", aside=True),
        *_down(opening.x + 8, opening.bottom + 0.8, outer.bottom, "H", aside=True),
        *_extended_down(outer.x, outer.right, outer.bottom, outer.bottom + 7),
        *_across(outer.x, outer.right, outer.bottom + 6, "J"),
    ]
    return Group(classes=("sketch", "mat"), items=tuple(items))


def picture(x: float, y: float) -> Group:
    """Return a print: `K` is its image, `L` its sheet, `M` what the printer leaves."""
    sheet = Area(x=x + 4, y=y + 2, width=52, height=37)
    image, reach = sheet.inset(9, 7, 9, 7), sheet.inset(3.2, 3.2, 3.2, 3.2)
    items = [
        sheet.rect(pen=Pen.OUTLINE, fill=PAPER),
        reach.rect(pen=Pen.HIDDEN),
        image.rect(pen=Pen.EDGE, fill=TINT),
        *_both("K", image),
        *_extended_down(sheet.x, reach.x, sheet.bottom, sheet.bottom + 4),
        *_outside(sheet.x, reach.x, sheet.bottom + 3, "M"),
        *_extended_down(sheet.x, sheet.right, sheet.bottom + 4, sheet.bottom + 9),
        *_across(sheet.x, sheet.right, sheet.bottom + 8, "L"),
    ]
    return Group(classes=("sketch", "picture"), items=tuple(items))


def wall(x: float, y: float) -> Group:
    """Return a wall with a switch and a bench: `N` its size, `P` the eye line, `1` to `4` where a thing is."""
    whole = Area(x=x + 7, y=y + 2, width=52, height=37)
    switch = Area(x=whole.x + 12, y=whole.y + 15, width=7, height=7)
    bench = Area(x=whole.right - 24, y=whole.bottom - 8, width=20, height=8)
    eye = whole.y + 11.0
    items = [
        whole.rect(pen=Pen.OUTLINE, fill=PAPER),
        Line(start=(whole.x, eye), end=(whole.right, eye), pen=Pen.CENTRE),
        switch.rect(pen=Pen.EDGE, fill=TINT),
        bench.rect(pen=Pen.EDGE, fill=TINT),
        *_down(whole.right - 28, eye, whole.bottom, "P"),
        *_across(whole.x, switch.x, switch.y + 3.5, "1"),
        *_down(switch.x + 3.5, switch.bottom, whole.bottom, "2"),
        *_extended_up(switch.x, switch.y, switch.y - 1.5),
        *_extended_down(whole.x, whole.right, whole.bottom, whole.bottom + 7),
        *_across(whole.x, whole.right, whole.bottom + 6, "N"),
        Line(start=(whole.x - 1, whole.y), end=(whole.x - 5, whole.y), pen=Pen.DIMENSION),
        Line(start=(whole.x - 1, whole.bottom), end=(whole.x - 5, whole.bottom), pen=Pen.DIMENSION),
        *_down(whole.x - 4, whole.y, whole.bottom, "N"),
        *_across(bench.x, bench.right, bench.y + 4, "3"),
    ]
    return Group(classes=("sketch", "wall"), items=tuple(items))


# --- dimensions ------------------------------------------------------------------------------------------------------


def _both(letter: str, area: Area) -> Iterator[Item]:
    """Yield an area's width and height under one letter."""
    x, y = area.x + area.width * 0.62, area.y + area.height * 0.4
    yield from _across(area.x, area.right, y, letter, at=0.3)
    yield from _down(x + area.width * 0.16, area.y, area.bottom, letter, at=0.74)


def _across(
    left: float, right: float, y: float, letter: str, *, at: float = 0.5, aside: bool = False
) -> Iterator[Item]:
    """Yield a dimension sideways, its letter in a gap of its line, or behind its end where it is short."""
    middle = right + _ROOM + 0.6 if aside else left + (right - left) * at
    yield from _stroke((left, y), (right, y), None if aside else middle)
    for x in (left, right):
        yield Line(start=(x - _TICK, y + _TICK), end=(x + _TICK, y - _TICK), pen=Pen.EDGE)
    yield _letter(letter, middle, y)


def _down(x: float, top: float, low: float, letter: str, *, at: float = 0.5, aside: bool = False) -> Iterator[Item]:
    """Yield an upright dimension, its letter in a gap of its line, or beside it where it is short."""
    middle = top + (low - top) * at
    yield from _stroke((x, top), (x, low), None if aside else middle)
    for y in (top, low):
        yield Line(start=(x - _TICK, y + _TICK), end=(x + _TICK, y - _TICK), pen=Pen.EDGE)
    yield _letter(letter, x + _ROOM if aside else x, middle)


def _outside(left: float, right: float, y: float, letter: str) -> Iterator[Item]:
    """Yield a short dimension sideways with its letter at the right."""
    yield from _across(left, right, y, letter, aside=True)


def _stroke(start: tuple[float, float], end: tuple[float, float], middle: float | None) -> Iterator[Item]:
    """Yield the dimension's line, parted where its letter stands."""
    if middle is None:
        yield Line(start=start, end=end, pen=Pen.DIMENSION)
        return
    if start[1] == end[1]:
        yield Line(start=start, end=(middle - _ROOM, start[1]), pen=Pen.DIMENSION)
        yield Line(start=(middle + _ROOM, start[1]), end=end, pen=Pen.DIMENSION)
    else:
        yield Line(start=start, end=(start[0], middle - _ROOM), pen=Pen.DIMENSION)
        yield Line(start=(start[0], middle + _ROOM), end=end, pen=Pen.DIMENSION)


def _letter(letter: str, x: float, y: float) -> Text:
    return Text(
        at=(x, y), text=letter, size=Size.SMALL, anchor=Anchor.MIDDLE, level=Level.MIDDLE, bold=True,
        classes=("letter",),
    )  # fmt: skip


def _mitres(outer: Area, inner: Area) -> Iterator[Line]:
    for a, b in (
        ((outer.x, outer.y), (inner.x, inner.y)),
        ((outer.right, outer.y), (inner.right, inner.y)),
        ((outer.x, outer.bottom), (inner.x, inner.bottom)),
        ((outer.right, outer.bottom), (inner.right, inner.bottom)),
    ):
        yield Line(start=a, end=b, pen=Pen.RULE)


def _extended_down(left: float, right: float, start: float, end: float) -> Iterator[Line]:
    for x in (left, right):
        yield Line(start=(x, start + 1), end=(x, end), pen=Pen.DIMENSION)


def _extended_up(x: float, start: float, end: float) -> Iterator[Line]:
    yield Line(start=(x, start - 1), end=(x, end), pen=Pen.DIMENSION)
