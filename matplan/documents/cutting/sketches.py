"""Two small enlarged sketches for the person at the cutter: the section through a cut, and a corner where two cuts
pass.

They carry no model boxes: their scale is their own, named in their captions, and nothing is measured from them.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from matplan.documents.cutting.marks import start_mark, stop_mark
from matplan.documents.parts.page import printed
from matplan.documents.parts.wording import CUTS
from matplan.drawing.blocks import Block
from matplan.drawing.items import Anchor, Area, Group, Item, Level, Line, Point, Polyline, Rect, Size, Text
from matplan.drawing.pens import SECONDARY, TINT, Pen
from matplan.drawing.views import scale_name
from matplan.habits import habits_of
from matplan.job.records import Cut
from matplan.lengths import Printer, Units
from matplan.mats.records import Layer

WIDTH: Final = 38.0
"""What a sketch needs, in mm of paper."""
HEIGHT: Final = 28.0
SECTION_WIDTH: Final = 56.0
"""A section is drawn no wider."""
_LARGEST: Final = 8
"""No enlarged length is drawn longer."""


def sketch_scale(length: Fraction, units: Units) -> Fraction:
    """Return the largest scale (ISO 5455, or the inch series, continued upwards) at which a short length is small."""
    habits = habits_of(units)
    scales = (*habits.enlargements, *habits.scales)
    return next((scale for scale in scales if length * scale <= _LARGEST), scales[-1])


def section(layer: Layer, printer: Printer, *, x: float, y: float, width: float) -> Block:
    """Return a section through the board as it lies, face down, at a cut: which way the blade leans."""
    thickness = layer.board.thickness
    scale = sketch_scale(thickness, printer.units)
    t = float(thickness * scale)
    shift = {Cut.BEVEL: -t, Cut.REVERSE: t, Cut.STRAIGHT: 0.0}[layer.cut]
    left, right = x, x + width - 14
    top = y + 12.0
    low, at, gap = top + t, left + (right - left) * (0.42 if layer.cut is Cut.REVERSE else 0.54), 0.9
    lean = shift / t  # the blade goes on upwards from the back
    stays: tuple[Point, ...] = ((left, top), (at, top), (at + shift, low), (left, low))
    falls: tuple[Point, ...] = ((right, top), (at + gap, top), (at + gap + shift, low), (right, low))
    items: list[Item] = [
        _caption(f"{CUTS[layer.cut].capitalize()}, {scale_name(scale)}", x, y),
        Polyline(points=stays, closed=True, fill=TINT),
        *_strip(layer, left, at + shift, low),
        *_strip(layer, at + gap + shift, right, low),
        Line(start=falls[0], end=falls[2], pen=Pen.WASTE),
        Line(start=falls[3], end=falls[1], pen=Pen.WASTE),
        Polyline(points=(stays[0], stays[1], stays[2], stays[3]), pen=Pen.OUTLINE),
        Polyline(points=falls, pen=Pen.EDGE),
        Line(start=(at + gap / 2 - lean * 4.5, top - 4.5), end=(at + gap / 2 + shift, low), pen=Pen.CUT),
        *_upright(right + 2.5, top, low, printer.fine(thickness)),
    ]
    back = Text(at=(left, top - 1.4), text="back, up", size=Size.SMALL)
    if layer.cut is Cut.REVERSE:  # the blade stands over the border
        back = replace(back, at=(right, top - 1.4), anchor=Anchor.END)
    items.append(back)
    items.append(Text(at=(left, low + 2.0), text="face, down", size=Size.SMALL, level=Level.TOP))
    if t >= 4.5 and right - left >= 2 * t + 26:
        middle = (top + low) / 2
        edge = min(at, at + shift)
        items.append(
            Text(
                at=((left + edge) / 2, middle), text="border", size=Size.SMALL, anchor=Anchor.MIDDLE, level=Level.MIDDLE
            )
        )
        edge = max(at, at + shift) + gap
        items.append(
            Text(
                at=((edge + right) / 2, middle),
                text="waste",
                size=Size.SMALL,
                anchor=Anchor.MIDDLE,
                level=Level.MIDDLE,
                colour=SECONDARY,
            )
        )
    return _block("section", items, x, y, width)


def _strip(layer: Layer, left: float, right: float, low: float) -> Iterator[Item]:
    """Yield the coloured paper on the board's face."""
    if layer.board.colour is not None:
        yield Rect(x=left, y=low, width=right - left, height=0.9, fill=layer.board.colour)


def _upright(x: float, top: float, low: float, label: str) -> Iterator[Item]:
    """Yield a thickness at the right of what it measures."""
    yield Line(start=(x - 1.5, top), end=(x + 1, top), pen=Pen.DIMENSION)
    yield Line(start=(x - 1.5, low), end=(x + 1, low), pen=Pen.DIMENSION)
    yield Line(start=(x, top), end=(x, low), pen=Pen.DIMENSION)
    for y in (top, low):
        yield Line(start=(x - 0.7, y + 0.7), end=(x + 0.7, y - 0.7), pen=Pen.EDGE)
    yield Text(at=(x + 1.6, (top + low) / 2), text=label, size=Size.SMALL, level=Level.MIDDLE)


def corner(layer: Layer, printer: Printer, *, x: float, y: float, width: float) -> Block:
    """Return the window's top left corner as it lies: how far past the crossing one cut stops and the next starts."""
    scale = sketch_scale(layer.overcut, printer.units)
    over = float(layer.overcut * scale)
    cx, cy = x + 14 + over, y + 8.5 + over
    right, low = x + width - 2, y + HEIGHT - 1
    stop, start = (cx - over, cy), (cx, cy - over)
    items: list[Item] = [
        _caption(f"Corner, {scale_name(scale)}", x, y),
        Line(start=(cx, cy), end=(right, low), pen=Pen.WASTE),
        Line(start=(right, cy), end=stop, pen=Pen.CUT),
        Line(start=start, end=(cx, low), pen=Pen.CUT),
        start_mark(start, (0.0, 1.0)),
        stop_mark(stop, (-1.0, 0.0)),
        Text(at=(cx + 2.0, min(start[1], cy - 2.2)), text="start", size=Size.SMALL, level=Level.MIDDLE),
        Text(at=(stop[0] - 2.6, cy), text="stop", size=Size.SMALL, anchor=Anchor.END, level=Level.MIDDLE),
        Text(
            at=((cx + right) / 2, cy + 2.0),
            text="window",
            size=Size.SMALL,
            anchor=Anchor.MIDDLE,
            level=Level.TOP,
            colour=SECONDARY,
        ),
        *(_across(stop[0], cx, cy + 5.5, printed(layer.overcut, printer)) if over else ()),
    ]
    return _block("corner", items, x, y, width)


def _across(left: float, right: float, y: float, label: str) -> Iterator[Item]:
    """Yield how far the stop lies past the crossing, below it."""
    yield Line(start=(left, y - 4.5), end=(left, y + 1), pen=Pen.DIMENSION)
    yield Line(start=(left, y), end=(right, y), pen=Pen.DIMENSION)
    for x in (left, right):
        yield Line(start=(x - 0.7, y + 0.7), end=(x + 0.7, y - 0.7), pen=Pen.EDGE)
    yield Text(at=(right - 1.2, y + 2.2), text=label, size=Size.SMALL, anchor=Anchor.END, level=Level.TOP)


def _caption(text: str, x: float, y: float) -> Text:
    return Text(at=(x, y), text=text, size=Size.SMALL, level=Level.TOP, bold=True)


def _block(name: str, items: Sequence[Item], x: float, y: float, width: float) -> Block:
    return Block(
        items=(Group(classes=("sketch", name), items=tuple(items)),), area=Area(x=x, y=y, width=width, height=HEIGHT)
    )
