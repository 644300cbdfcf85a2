"""Where the windows' letters stand on a front view: over no edge, no figure and no other letter.

A letter stands in its window where the window holds it, else on the board beside the window, else on the board or
outside the frame at the end of a thin leader.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import hypot
from typing import Final

from matplan.documents.parts.framed import extent, framed, model_box, traced
from matplan.documents.parts.free_places import Taken, within
from matplan.documents.parts.side_lines import Lined
from matplan.drawing import lettering
from matplan.drawing.clashes import chain
from matplan.drawing.items import Area, Item, Line, Outline, Point, Polyline, Size, Text
from matplan.drawing.pens import Pen
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import View
from matplan.job.records import Show
from matplan.lengths import Box
from matplan.mats.gauge import window_letters
from matplan.mats.records import SolvedPiece

_OFF: Final = 0.5
"""Between a letter's paper and an edge."""
_CROSSING: Final = 6.0
"""A leader may be so much longer to cross one line less."""
_STEPS: Final = 48
"""A leader's letter is sought on a grid with so many places each way."""


def letters_of(piece: SolvedPiece, drawn: Lined, room: Area) -> tuple[Item, ...] | None:
    """Return the windows' letters with their leaders, all of one size; `None` where one finds no place in the room.

    A smaller letter is preferred to a leader.
    """
    names = window_letters(piece.ask.rows)
    if len(names) == 1:
        return ()
    windows = [_Window(piece, number, drawn.view) for number in range(len(names))]
    ways = [(size, led) for led in (False, True) for size in (Size.SMALL, Size.LEAST)]
    found = (_placed(piece, names, windows, drawn, room, size, led=led) for size, led in ways)
    return next((items for items in found if items is not None), None)


class _Window:
    """A window on paper: the `edges` that the drawing shows of it, and the boxes of its least and its widest edge."""

    def __init__(self, piece: SolvedPiece, number: int, view: View) -> None:
        self.aperture = aperture = piece.apertures[number]
        cut = [layer.openings[number] for layer in piece.layers]
        outlines = [outline for opening in cut for outline in (opening.face, opening.back)]
        if aperture.show is not Show.IMAGE or not outlines:
            outlines.append(aperture.work)
        self.edges: list[Outline] = [traced(outline, view) for outline in outlines]
        boxes = sorted((outline.box for outline in outlines), key=lambda box: box.width)
        self.inner, self.outer = (view.area(model_box(box)) for box in (boxes[0], boxes[-1]))


def _placed(
    piece: SolvedPiece,
    names: Sequence[str],
    windows: Sequence[_Window],
    drawn: Lined,
    room: Area,
    size: float,
    *,
    led: bool,
) -> tuple[Item, ...] | None:
    """Return the letters in that size, those without a place in or beside their window at the end of a leader."""
    lines, words = _taken(piece, windows, drawn)
    inside = Taken(lines=lines, areas=words)
    fields = [window.outer for window in windows]
    found: dict[int, Area] = {}
    beside: list[int] = []
    for number, (name, window) in enumerate(zip(names, windows, strict=True)):
        place = inside.first_free(_inside(window.inner, _paper(name, size)))
        if place is None:
            beside.append(number)
        else:
            found[number] = place
    outside = Taken(lines=lines, areas=[*inside.areas, *fields, *_rails(piece, drawn.view)])
    leaders: list[Item] = []
    for number in beside:
        window, paper = windows[number], _paper(names[number], size)
        place = outside.first_free(_beside(window.outer, paper))
        if place is None and led:
            place = _led(window.outer, paper, outside, [*words, *found.values()], room)
            if place is not None:
                outside.areas.append(place)
                leaders.append(Line(start=place.nearest(window.outer.centre), end=_foot(window, place), pen=Pen.RULE))
        if place is None:
            return None
        found[number] = place
    return (*leaders, *(_letter(names[n], windows[n], found[n], size) for n in range(len(names))))


def _taken(
    piece: SolvedPiece, windows: Sequence[_Window], drawn: Lined
) -> tuple[list[tuple[Point, Point]], list[Area]]:
    """Return all lines of the drawing on which no letter may stand, and what its words take."""
    edges = [edge for window in windows for edge in window.edges]
    edges += [drawn.view.rect(model_box(box)) for box in (Box.of(piece.blank), piece.sight_box)]
    figures = _sheet(drawn.items)
    edges += [item for item in figures.flat() if isinstance(item, Polyline)]
    lines = [(item.start, item.end) for item in figures.flat() if isinstance(item, Line)]
    lines += [pair for edge in edges for pair in pairwise(chain(edge))]
    words = [*figures.texts(), *_sheet(framed(piece, {}, drawn.view)).texts()]
    return lines, [_around(text) for text in words]


def _sheet(items: tuple[Item, ...]) -> Sheet:
    return Sheet(name="", title="", size=(1.0, 1.0), items=items)


def _rails(piece: SolvedPiece, view: View) -> Iterator[Area]:
    """Yield the four sides of all that lies round the sight edge."""
    whole, sight = view.area(model_box(extent(piece))), view.area(model_box(piece.sight_box))
    yield whole.inset(0, 0, 0, whole.bottom - sight.y)
    yield whole.inset(0, sight.bottom - whole.y, 0, 0)
    yield whole.inset(0, 0, whole.right - sight.x, 0)
    yield whole.inset(sight.right - whole.x, 0, 0, 0)


# --- places ----------------------------------------------------------------------------------------------------------


def _inside(window: Area, paper: Area) -> Iterator[Area]:
    """Yield the places in a window: in its corners, at its foot and its head, in its middle."""
    wide, high = window.width - paper.width, window.height - paper.height
    if wide < 2 * _OFF or high < 2 * _OFF:
        return
    left, middle, right = window.x + _OFF, window.x + wide / 2, window.x + wide - _OFF
    top, bottom = window.y + _OFF, window.y + high - _OFF
    for x, y in ((left, top), (right, bottom), (middle, bottom), (middle, top), (middle, window.y + high / 2)):
        yield Area(x=x, y=y, width=paper.width, height=paper.height)


def _beside(window: Area, paper: Area) -> Iterator[Area]:
    """Yield the places round a window: below, at its right, at its left, above."""
    x, y = window.centre[0] - paper.width / 2, window.centre[1] - paper.height / 2
    for left, top in (
        (x, window.bottom + _OFF),
        (window.right + _OFF, y),
        (window.x - _OFF - paper.width, y),
        (x, window.y - _OFF - paper.height),
    ):
        yield Area(x=left, y=top, width=paper.width, height=paper.height)


def _led(window: Area, paper: Area, taken: Taken, words: Sequence[Area], room: Area) -> Area | None:
    """Return the free place in the room whose leader is short and crosses few lines and no words."""
    centre = window.centre
    places = sorted(
        within(room, paper.width, paper.height, steps=_STEPS),
        key=lambda area: hypot(area.centre[0] - centre[0], area.centre[1] - centre[1]),
    )
    best: tuple[float, Area] | None = None
    for place in places:
        length = hypot(place.centre[0] - centre[0], place.centre[1] - centre[1])
        if best is not None and length >= best[0]:
            break
        if not taken.is_free(place):
            continue
        leader = Taken(lines=[(place.nearest(centre), centre)])
        if any(not leader.is_free(area) for area in words):
            continue
        cost = length + _CROSSING * sum(not leader.is_free(area) for area in taken.areas)
        if best is None or cost < best[0]:
            best = (cost, place)
    return None if best is None else best[1]


def _foot(window: _Window, place: Area) -> Point:
    """Return where a leader ends: a little inside the window."""
    x, y = window.inner.nearest(place.centre)
    (cx, cy), part = window.inner.centre, 0.25
    return x + (cx - x) * part, y + (cy - y) * part


# --- letters ---------------------------------------------------------------------------------------------------------


def _letter(name: str, window: _Window, place: Area, size: float) -> Text:
    """Return a letter whose paper fills a place."""
    paper = _paper(name, size)
    return Text(
        at=(place.x - paper.x, place.y - paper.y),
        text=name,
        size=size,
        bold=True,
        halo=True,
        classes=("window-letter",),
        data=(("aperture", window.aperture.name),),
    )


def _paper(name: str, size: float) -> Area:
    """Return the white paper behind a letter that stands at the origin."""
    return _around(Text(at=(0.0, 0.0), text=name, size=size, bold=True, halo=True))


def _around(text: Text) -> Area:
    """Return what a text takes with the paper behind it."""
    xs, ys = zip(*lettering.setting(text).corners(lettering.HALO_MM), strict=True)
    return Area(x=min(xs), y=min(ys), width=max(xs) - min(xs), height=max(ys) - min(ys))
