"""Heights on a stair: from the floor's line straight up to each hook, as the person who stands there measures.

The lines run behind what hangs before them. Hooks above one another have theirs side by side, with short feet at the
floor.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from matplan.documents.parts.free_places import Taken
from matplan.documents.wall.tapes import SIZE
from matplan.drawing import lettering
from matplan.drawing.items import Anchor, Area, Group, Level, Line, Point, Text
from matplan.drawing.pens import INK, Pen
from matplan.drawing.views import View
from matplan.lengths import ZERO, Printer
from matplan.walls.records import SolvedWall
from matplan.walls.work import Mark

_HIGH: Final = SIZE * 1.3
"""What a figure takes across its line."""
_OFF: Final = 0.65
"""From a line to its figure."""
_FREE: Final = 0.3
"""Left free at both ends of a figure, and beside a line."""
_PITCH: Final = _HIGH + 2 * _OFF + 0.1
"""From line to line at least."""
_ARROW: Final = 1.8
_STEPS: Final = 40
"""So many places are tried along a line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Heights:
    """The heights of a wall's hooks, drawn, with the lines and the figures that they take; none without a stair."""

    items: tuple[Group, ...] = ()
    lines: tuple[tuple[Point, Point], ...] = ()
    areas: tuple[Area, ...] = ()


def heights(wall: SolvedWall, hooks: Sequence[Mark], view: View, printer: Printer, taken: Taken) -> Heights | None:
    """Return the height of each hook above the floor below it, or `None` where a figure finds no room."""
    shafts, lines = _shafts(wall, hooks, view), lines_of(wall, hooks, view)
    board = Taken(lines=[*taken.lines, *lines], areas=list(taken.areas))
    found: list[Group] = []
    for mark, shaft in zip(hooks, shafts, strict=True):
        label = printer.tape(wall.above_floor(mark.hook.left, mark.hook.height))
        area = board.first_free(_places(shaft, lettering.width(label, SIZE), view.whole))
        if area is None:
            return None
        floor = mark.hook.height - wall.above_floor(mark.hook.left, mark.hook.height)
        drawn = (Line(start=start, end=end, pen=Pen.DIMENSION) for start, end in _drawn(mark, shaft, view))
        text = Text(
            at=area.centre, text=label, size=SIZE, anchor=Anchor.MIDDLE, level=Level.MIDDLE, turn=-90.0, colour=INK
        )
        box = (mark.hook.left, floor, ZERO, mark.hook.height - floor)
        data = (("number", mark.number),)
        found.append(
            Group(
                classes=("running", "above-floor"),
                items=(*drawn, text),
                box=box,
                data=data,
            )
        )
    return Heights(items=tuple(found), lines=tuple(_doubled(lines)), areas=tuple(board.areas[len(taken.areas) :]))


def _doubled(lines: Sequence[tuple[Point, Point]]) -> Iterator[tuple[Point, Point]]:
    """Yield the edges of what each line keeps free."""
    for (x1, y1), (x2, y2) in lines:
        for off in (-_FREE, _FREE):
            yield (x1 + off, y1 + off), (x2 + off, y2 + off)


def lines_of(wall: SolvedWall, hooks: Sequence[Mark], view: View) -> list[tuple[Point, Point]]:
    """Return every line that the heights take."""
    shafts = _shafts(wall, hooks, view)
    return [line for mark, shaft in zip(hooks, shafts, strict=True) for line in _drawn(mark, shaft, view)]


def _shafts(wall: SolvedWall, hooks: Sequence[Mark], view: View) -> list[tuple[Point, Point]]:
    """Return each hook's line, from the floor up."""
    lines = [_line(wall, mark, view) for mark in hooks]
    xs = _apart([foot[0] for foot, _ in lines])
    return [((x, foot[1]), (x, head[1])) for (foot, head), x in zip(lines, xs, strict=True)]


def _line(wall: SolvedWall, mark: Mark, view: View) -> tuple[Point, Point]:
    """Return the floor's point below a hook, and the hook's."""
    hook = mark.hook
    floor = hook.height - wall.above_floor(hook.left, hook.height)
    return view.point(hook.left, floor), view.point(hook.left, hook.height)


def _apart(feet: Sequence[float]) -> list[float]:
    """Return where each line stands across: above its foot, or beside those that leave no room for its figure."""
    found: list[float] = []
    for foot in feet:
        tries = [foot, *(x + way * _PITCH for x in found for way in (1, -1))]
        free = (x for x in tries if all(abs(x - other) >= _PITCH - 1e-6 for other in found))
        found.append(min(free, key=lambda x: abs(x - foot)))
    return found


def _places(shaft: tuple[Point, Point], wide: float, whole: Area) -> Iterator[Area]:
    """Yield where a figure may stand beside its line: from its middle on, at its left, else at its right; else
    below its foot, where the floor is high.
    """
    (x, low), (_, high) = shaft
    middle, reach = (low + high) / 2, max((low - high - wide) / 2 - _ARROW, 0.0)
    for step in range(_STEPS + 1):
        for along in dict.fromkeys((middle + reach * step / _STEPS, middle - reach * step / _STEPS)):
            for across in (x - _OFF - _HIGH / 2, x + _OFF + _HIGH / 2):
                area = Area.about((across, along), _HIGH + _FREE, wide + 2 * _FREE)
                if whole.x <= area.x and area.right <= whole.right:
                    yield area
    below = Area.about((x, low + 2 * _OFF + _FREE + wide / 2), _HIGH, wide + 2 * _FREE)
    if below.bottom <= whole.bottom - _OFF:
        yield below


def _drawn(mark: Mark, shaft: tuple[Point, Point], view: View) -> Iterator[tuple[Point, Point]]:
    """Yield a line with an arrow at each end, and what leads to it from its hook and the floor."""
    yield shaft
    (x, low), (_, high) = shaft
    for tip, back in ((low, low - _ARROW), (high, high + _ARROW)):
        for wing in (x - _ARROW / 4, x + _ARROW / 4):
            yield (wing, back), (x, tip)
    own, _ = view.point(mark.hook.left, mark.hook.height)
    if abs(x - own) > 1e-6:
        yield from (((own, level), (x, level)) for level in (low, high))
