"""What is drawn on the board of a cutting diagram: its edges, openings, cuts with their numbers and marks, and the
waste.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from typing import Final

from matplan.documents.cutting.shaped_lines import axes, free_room, outline_cut_items, rings, way_on_paper
from matplan.documents.cutting.sketches import MARK, start_mark, stop_mark
from matplan.documents.parts.framed import model_box, traced
from matplan.drawing import lettering
from matplan.drawing.items import Anchor, Area, Ellipse, Group, Item, Level, Line, Point, Polyline, Rect, Size, Text
from matplan.drawing.items import Outline as Drawn
from matplan.drawing.pens import INK, PAPER, SECONDARY, Pen
from matplan.drawing.views import View
from matplan.lengths import plain_decimal
from matplan.mats.gauge import GaugeCut
from matplan.mats.outline_cuts import OutlineCut, inwards, way_at
from matplan.mats.outlines import Outline
from matplan.mats.records import Layer, LayerOpening
from matplan.mats.shapes.segments import Straight

TOP_MARK: Final = 8.2
"""What the mark of the top edge takes above the board, in mm of paper."""
_RING: Final = 3.4
"""Radius of the ring round a cut's number."""
_SMALL_RING: Final = 2.5
_LEAST_RING: Final = 1.9
_OFF: Final = 1.4
"""From a cut to the ring of its number."""


def outline_items(
    line: Outline, view: View, pen: Pen, classes: tuple[str, ...], data: tuple[tuple[str, str], ...]
) -> Drawn:
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
        straight = [cut for cut in cuts if cut.window == window]
        shaped = [cut for cut in outline_cuts if cut.window == window]
        yield from _window(view, opening, letter, straight, shaped)
    size = _mark_size(view, layer)
    for cut in cuts:
        yield from _cut(view, cut, layer.openings[cut.window].aperture, size)
    for round_cut in outline_cuts:
        yield from outline_cut_items(view, round_cut, layer.openings[round_cut.window], size)


def top_mark(room: Area) -> Group:
    """A filled triangle that points at the top edge and its words, or as much of them as the room's width holds.

    `room` is the strip above the board that the mark may take.
    """
    half, gap = 1.7, 1.6
    y = room.bottom - 2.9  # clear of marks that reach over a narrow border
    words = next(
        (
            words
            for words in ("top edge, as framed", "top edge", "top")
            if lettering.width(words, Size.NORMAL, True) <= room.width - 6.0
        ),
        "",
    )
    width = lettering.width(words, Size.NORMAL, True) + gap if words else 0.0
    left = room.centre[0] - (width + 2 * half) / 2
    triangle = Polyline(points=((left, y), (left + half, y - Size.NORMAL), (left + 2 * half, y)), closed=True, fill=INK)
    if not words:
        return Group(classes=("top-edge",), items=(triangle,))
    text = Text(at=(left + 2 * half + gap, y), text=words, size=Size.NORMAL, bold=True, classes=("top-words",))
    return Group(classes=("top-edge",), items=(triangle, text))


def _window(
    view: View, opening: LayerOpening, letter: str, straight: Sequence[GaugeCut], shaped: Sequence[OutlineCut]
) -> Iterator[Item]:
    """One opening with the numbers of its cuts."""
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
    for cut in shaped:
        yield from axes(view, cut)
    # a shaped opening's side that is shorter than a ring goes without: it is the only one at its setting
    long = [cut for cut in straight if opening.back.upright or view.length(max(cut.box[2:])) >= 2 * _LEAST_RING]
    crosses = [view.point(*cut.round.centre) for cut in shaped if cut.round is not None and not cut.whole]
    middles = {cut.number: _middle(view, cut, crosses) for cut in long}
    for cut in shaped:
        at, way = cut.middle
        middles[cut.number] = (view.point(*at), way_on_paper(view, way))
    yield from _inscribed(view, area, opening, letter, middles)


def _middle(view: View, cut: GaugeCut, crosses: Sequence[Point]) -> tuple[Point, Point]:
    """The middle of a cut between its corners on paper, and the direction from there into the window.

    A quarter of its way where an arc's centre stands near the middle.
    """
    (x1, y1), (x2, y2) = cut.corners
    way = inwards(way_at(Straight(start=cut.corners[0], end=cut.corners[1]), cut.corners[0]))
    middle = view.point((x1 + x2) / 2, (y1 + y2) / 2)
    if any(math.dist(middle, cross) < 2 * _RING + _OFF + 3.5 for cross in crosses):
        middle = view.point(x1 + (x2 - x1) / 4, y1 + (y2 - y1) / 4)
    return middle, way_on_paper(view, way)


def _mark_size(view: View, layer: Layer) -> float:
    """How long start and stop marks are: smaller where openings stand close together, so that they do not meet."""
    boxes = [opening.back.box for opening in layer.openings]
    gaps = [
        max(a.x - b.right, b.x - a.right, a.y - b.bottom, b.y - a.bottom) - 2 * layer.overcut
        for a, b in combinations(boxes, 2)
    ]
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


def _inscribed(
    view: View, area: Area, opening: LayerOpening, letter: str, middles: Mapping[int, tuple[Point, Point]]
) -> Iterator[Item]:
    """What stands in a window: the numbers of its cuts beside their middles, and in the middle its name and that it is
    waste.
    """
    rooms = [area.inset(1.2, 1.2, 1.2, 1.2)]
    if opening.back.upright:
        possible = [
            r for r in (_RING, _SMALL_RING, _LEAST_RING) if min(area.width, area.height) >= 4 * r + 2 * _OFF + 3.0
        ]
        worded = [r for r in possible if _worded(_between(area, r))]
        lettered = [r for r in possible if any(_letter_fits(room, letter) for room in _between(area, r))]
        ring = next(iter((*worded, *lettered, *possible)), 0.0)
        reach = ring + _OFF
        centres = [(x + dx * reach, y + dy * reach) for (x, y), (dx, dy) in middles.values()] if ring else []
        if ring:
            rooms = _between(area, ring)
    else:
        ring, centres = rings(
            opening.back, view, tuple(middles.values()), (_RING, _SMALL_RING, _LEAST_RING), _OFF, alone=not letter
        )
        rooms = [free_room(opening.back, view, centres, ring)]
    for number, centre in zip(middles, centres, strict=bool(centres)):
        yield _number(number, centre, ring)
    name = opening.aperture if not letter else f"{letter}  {opening.aperture}"
    yield from _named(rooms, letter, name)


def _number(number: int, at: Point, ring: float) -> Group:
    """The cut's number in a ring."""
    text = str(number)
    size = ring * (1.03, 0.82, 0.64)[min(len(text), 3) - 1]  # so that its corners stay clear of the ring
    return Group(
        classes=("cut-number",),
        items=(
            Ellipse(centre=at, rx=ring, ry=ring, pen=Pen.EDGE, fill=PAPER),
            Text(at=at, text=text, size=size, anchor=Anchor.MIDDLE, level=Level.MIDDLE, bold=True),
        ),
    )


def _between(area: Area, ring: float) -> list[Area]:
    """The rooms for words among a rectangular window's four rings: in its middle, over the side ones, left of the
    middle ones.
    """
    strip = 2 * ring + _OFF + 1.5
    return [
        area.inset(strip, strip, strip, strip),
        area.inset(1.2, strip, 1.2, area.height / 2 + ring + 1.0),
        area.inset(strip, 1.2, area.width / 2 + ring + 1.0, 1.2),
    ]


def _worded(rooms: Sequence[Area]) -> tuple[Area, str] | None:
    """The first room that holds a name over the words that it is waste, and those words."""
    for words in ("drop-out: waste", "waste"):
        for room in rooms:
            if room.height >= 9.5 and lettering.width(words, Size.SMALL) <= room.width:
                return room, words
    return None


def _letter_fits(room: Area, letter: str) -> bool:
    """Whether the window has a letter and the room holds at least that."""
    return letter != "" and room.height >= 3.5 and room.width >= lettering.width(letter, Size.SMALL, True)


def _named(rooms: Sequence[Area], letter: str, name: str) -> Iterator[Text]:
    """The window's name over the words that it is waste, or as much of it as one of the rooms holds."""
    worded = _worded(rooms)
    if worded is not None:
        room, words = worded
        x, y = room.centre
        size = Size.NORMAL if lettering.width(name, Size.NORMAL, True) <= room.width else Size.SMALL
        yield _label(x, y - 0.8, name, size, Level.BASELINE, room.width)
        yield replace(_label(x, y + 2.2, words, Size.SMALL, Level.TOP, room.width), bold=False, colour=SECONDARY)
        return
    for room in rooms:
        if room.height >= 4.5 and room.width >= 12:
            yield _label(*room.centre, name, Size.SMALL, Level.MIDDLE, room.width)
            return
    for room in rooms:
        if _letter_fits(room, letter):
            yield _label(*room.centre, letter, Size.SMALL, Level.MIDDLE, room.width)
            return


def _label(x: float, y: float, text: str, size: float, level: Level, width: float) -> Text:
    return Text(
        at=(x, y), text=text, size=size, anchor=Anchor.MIDDLE, level=level, bold=True, max_width=width, halo=True
    )
