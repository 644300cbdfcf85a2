"""What is drawn on the board of a cutting diagram: its edges, openings, cuts with their numbers and marks, and the waste."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from typing import Final

from matplan.documents.cut_sketches import MARK, start_mark, stop_mark
from matplan.documents.framed import model_box, traced
from matplan.documents.gauge import Edge, GaugeCut, OutlineCut
from matplan.drawing import lettering
from matplan.drawing.items import Anchor, Area, Ellipse, Group, Item, Level, Line, Polyline, Rect, Size, Text
from matplan.drawing.items import Outline as Drawn
from matplan.drawing.pens import INK, PAPER, SECONDARY, Pen
from matplan.drawing.views import View
from matplan.lengths import plain_decimal
from matplan.mats.outlines import Outline
from matplan.mats.records import Layer, LayerOpening

TOP_MARK: Final = 8.2
"""What the mark of the top edge takes above the board, in mm of paper."""
_RING: Final = 3.4
"""Radius of the ring round a cut's number."""
_SMALL_RING: Final = 2.5
_OFF: Final = 1.4
"""From a cut to the ring of its number."""


def outline_items(line: Outline, view: View, pen: Pen, classes: tuple[str, ...], data: tuple[tuple[str, str], ...]) -> Drawn:
    """An opening's outline on paper in that pen, with its bounds as the model box."""
    return replace(traced(line, view), pen=pen, classes=classes, box=model_box(line.box), data=data)


def board_items(
    view: View, layer: Layer, cuts: Sequence[GaugeCut], outline_cuts: Sequence[OutlineCut], letters: Sequence[str]
) -> Iterator[Item]:
    """The board as it lies; `letters` name its windows, "" where there is but one."""
    whole = view.whole
    yield Rect(
        x=whole.x,
        y=whole.y,
        width=whole.width,
        height=whole.height,
        pen=Pen.OUTLINE,
        id="blank",
        classes=("blank",),
        box=view.model,
    )
    for window, (opening, letter) in enumerate(zip(layer.openings, letters, strict=True)):
        numbers = {cut.edge: cut.number for cut in cuts if cut.window == window}
        rounds = [cut.number for cut in outline_cuts if cut.window == window]
        yield from _window(view, opening, letter, numbers or dict.fromkeys((Edge.TOP,), rounds[0]))
    size = _mark_size(view, layer)
    for cut in cuts:
        yield from _cut(view, cut, layer.openings[cut.window].aperture, size)
    for round_cut in outline_cuts:
        yield from _outline_cut(view, round_cut, layer.openings[round_cut.window], size)


def top_mark(room: Area) -> Group:
    """A filled triangle that points at the top edge and its words, or as much of them as the room's width holds.

    `room` is the strip above the board that the mark may take.
    """
    half, gap = 1.7, 1.6
    y = room.bottom - 2.9  # clear of marks that reach over a narrow border
    words = next(
        (words for words in ("top edge, as framed", "top edge", "top") if lettering.width(words, Size.NORMAL, True) <= room.width - 6.0), ""
    )
    width = lettering.width(words, Size.NORMAL, True) + gap if words else 0.0
    left = room.centre[0] - (width + 2 * half) / 2
    triangle = Polyline(points=((left, y), (left + half, y - Size.NORMAL), (left + 2 * half, y)), closed=True, fill=INK)
    if not words:
        return Group(classes=("top-edge",), items=(triangle,))
    text = Text(at=(left + 2 * half + gap, y), text=words, size=Size.NORMAL, bold=True, classes=("top-words",))
    return Group(classes=("top-edge",), items=(triangle, text))


def _window(view: View, opening: LayerOpening, letter: str, numbers: Mapping[Edge, int]) -> Iterator[Item]:
    """One opening; `numbers` are those of the cuts along its edges, of a shaped one the single cut's at the top."""
    facts = (("aperture", opening.aperture),)
    area = view.area(model_box(opening.back.box))
    yield Group(
        classes=("waste",),
        items=(
            Line(start=(area.x, area.y), end=(area.right, area.bottom), pen=Pen.WASTE),
            Line(start=(area.right, area.y), end=(area.x, area.bottom), pen=Pen.WASTE),
        ),
        clip=None if opening.back.upright else traced(opening.back, view),
    )
    yield outline_items(opening.face, view, Pen.HIDDEN, ("face-opening",), facts)
    yield outline_items(opening.back, view, Pen.SCORE, ("back-opening",), facts)
    yield from _inscribed(area, opening, letter, numbers)


def _outline_cut(view: View, cut: OutlineCut, opening: LayerOpening, size: float) -> Iterator[Item]:
    """The line round a shaped opening, and its start."""
    facts = (
        ("number", str(cut.number)),
        ("aperture", opening.aperture),
        ("start", _point(cut.start)),
        ("stop", _point(cut.start)),
    )
    start, ahead = view.point(*cut.start), view.point(*cut.ahead)
    reach = math.dist(start, ahead)
    along = ((ahead[0] - start[0]) / reach, (ahead[1] - start[1]) / reach)
    drawn = outline_items(opening.back, view, Pen.CUT, ("cut",), facts)
    yield replace(drawn, id=f"cut-{cut.number}")
    yield Group(classes=("start-mark",), items=(start_mark(start, along, size),))


def _mark_size(view: View, layer: Layer) -> float:
    """How long start and stop marks are: smaller where openings stand close together, so that they do not meet."""
    boxes = [opening.back.box for opening in layer.openings]
    gaps = [max(a.x - b.right, b.x - a.right, a.y - b.bottom, b.y - a.bottom) - 2 * layer.overcut for a, b in combinations(boxes, 2)]
    room = view.length(min(gaps)) if gaps else MARK * 2
    return min(MARK, max(0.8, room / 2))


def _cut(view: View, cut: GaugeCut, aperture: str, size: float) -> Iterator[Item]:
    """The line that the blade follows, from start to stop, and the marks at its ends."""
    start, stop = view.point(*cut.start), view.point(*cut.stop)
    along = ((stop[0] > start[0]) - (stop[0] < start[0]), (stop[1] > start[1]) - (stop[1] < start[1]))
    facts = (
        ("number", str(cut.number)),
        ("aperture", aperture),
        ("edge", cut.edge.value),
        ("setting", plain_decimal(cut.setting)),
        ("start", _point(cut.start)),
        ("stop", _point(cut.stop)),
    )
    yield Line(start=start, end=stop, pen=Pen.CUT, id=f"cut-{cut.number}", classes=("cut",), box=cut.box, data=facts)
    yield Group(classes=("start-mark",), items=(start_mark(start, along, size),))
    yield Group(classes=("stop-mark",), items=(stop_mark(stop, along, size),))


def _point(point: tuple[Fraction, Fraction]) -> str:
    return " ".join(map(plain_decimal, point))


def _inscribed(area: Area, opening: LayerOpening, letter: str, numbers: Mapping[Edge, int]) -> Iterator[Item]:
    """What stands in a window: the numbers of its cuts along its edges, and in the middle its name and that it is waste."""
    room = area if opening.back.upright else area.inset(*_shaped_inset(area))
    ring = next((r for r in (_RING, _SMALL_RING) if min(room.width, room.height) >= 4 * r + 2 * _OFF + 3.0), None)
    rooms = [room.inset(1.2, 1.2, 1.2, 1.2)]
    if ring is not None:
        for edge, number in numbers.items():
            yield _number(number, edge, room, ring)
        strip = 2 * ring + _OFF + 1.5
        middle = strip if opening.back.upright else 1.2  # nothing stands at the sides of a shaped one
        rooms = [room.inset(middle, strip, middle, strip), room.inset(1.2, strip, 1.2, room.height / 2 + ring + 1.0)]
    name = opening.aperture if not letter else f"{letter}  {opening.aperture}"
    yield from _named(rooms, letter, name)


def _shaped_inset(area: Area) -> tuple[float, float, float, float]:
    """What to leave free in the bounds of a shaped opening so that what stands there stands inside: an oval's square within."""
    x, y = area.width * 0.15, area.height * 0.15
    return (x, y, x, y)


def _number(number: int, edge: Edge, area: Area, ring: float) -> Group:
    """The cut's number in a ring, on the waste's side of its middle."""
    (x, y), off = area.centre, _OFF + ring
    at = {
        Edge.TOP: (x, area.y + off),
        Edge.LEFT: (area.x + off, y),
        Edge.BOTTOM: (x, area.bottom - off),
        Edge.RIGHT: (area.right - off, y),
    }[edge]
    text = str(number)
    size = ring * (1.03, 0.82, 0.64)[min(len(text), 3) - 1]  # so that its corners stay clear of the ring
    return Group(
        classes=("cut-number",),
        items=(
            Ellipse(centre=at, rx=ring, ry=ring, pen=Pen.EDGE, fill=PAPER),
            Text(at=at, text=text, size=size, anchor=Anchor.MIDDLE, level=Level.MIDDLE, bold=True),
        ),
    )


def _named(rooms: Sequence[Area], letter: str, name: str) -> Iterator[Text]:
    """The window's name over the word that it is waste, or as much of it as one of the rooms holds."""
    for words in ("drop-out: waste", "waste"):
        for room in rooms:
            if room.height >= 9.5 and lettering.width(words, Size.SMALL) <= room.width:
                x, y = room.centre
                yield _label(x, y - 0.8, name, Size.NORMAL, Level.BASELINE, room.width)
                yield replace(_label(x, y + 2.2, words, Size.SMALL, Level.TOP, room.width), bold=False, colour=SECONDARY)
                return
    room = rooms[0]
    if room.height >= 4.5 and room.width >= 12:
        yield _label(*room.centre, name, Size.SMALL, Level.MIDDLE, room.width)
    elif letter and room.height >= 3.5 and room.width >= lettering.width(letter, Size.SMALL, True):
        yield _label(*room.centre, letter, Size.SMALL, Level.MIDDLE, room.width)


def _label(x: float, y: float, text: str, size: float, level: Level, width: float) -> Text:
    return Text(at=(x, y), text=text, size=size, anchor=Anchor.MIDDLE, level=level, bold=True, max_width=width, halo=True)
