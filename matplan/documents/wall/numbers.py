"""The frames' numbers: beside their frames, all on one side where that has room, else on leaders."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from matplan.documents.parts.labels import Board, Spot, Wanted
from matplan.documents.wall.hung_frames import MARK, spot_box
from matplan.documents.wall.stairs import lines_of
from matplan.drawing import lettering
from matplan.drawing.items import Anchor, Area, Group, Level, Point, Size, Text
from matplan.drawing.views import View
from matplan.walls.limits import kept_clear
from matplan.walls.records import HungFrame, SolvedWall, levels_of, place_of
from matplan.walls.work import in_order, marks

SIZES: Final = (Size.SMALL, 2.0, Size.CAPTION)
"""Heights that numbers may have: the first at which all find room."""
INSIDE: Final = (Size.NORMAL, Size.SMALL, Size.CAPTION)
"""Heights of numbers within frames that are drawn without their pictures."""
_LINE: Final = 1.3
"""What a figure takes, in heights of its capitals."""
_OFF: Final = 0.35
"""From a frame to its number."""
_GAP: Final = 0.25
_LED: Final = 0.34
"""No more than this part of the numbers stands on leaders."""
_DOT: Final = 0.45
_STEPS: Final = 16
"""So many level pieces stand for a sloping line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Numbers:
    """Where the numbers stand, in the order of work, and their height. `inside`: within frames without pictures."""

    spots: tuple[Spot, ...]
    size: float
    inside: bool = False
    first: int = 1


def beside(wall: SolvedWall, view: View, first: int = 1) -> Numbers | None:
    """Return the numbers beside their frames, or `None` where they have no room."""
    frames = [view.area(spot_box(hung.spot)) for hung in in_order(wall)]
    labels = [None if hung.label is None else view.area(spot_box(hung.label)) for hung in in_order(wall)]
    for size in SIZES:
        best: list[Spot | None] = []
        for side in _SIDES:
            board = _board(wall, frames, labels, view)
            found = [
                _within(number, None if wall.ask.floor else label, size) or _at(side, number, area, size, board)
                for number, (area, label) in enumerate(zip(frames, labels, strict=True), first)
            ]
            if sum(spot is None for spot in found) < (best.count(None) if best else len(frames) + 1):
                best = found
        led = best.count(None)
        if led and size != SIZES[-1]:
            continue
        if led > _LED * len(frames):
            return None
        board = _board(wall, frames, labels, view)
        for spot in best:
            if spot is not None:
                board.take(spot.area)
        spots = [
            spot or board.near(_wanted(number, area, size))
            for number, (spot, area) in enumerate(zip(best, frames, strict=True), first)
        ]
        full = tuple(spot for spot in spots if spot is not None)
        return Numbers(spots=full, size=size, first=first) if len(full) == len(frames) else None
    return None


def inside(wall: SolvedWall, view: View, *, least: bool = False, first: int = 1) -> Numbers | None:
    """Return the numbers within their frames, below the hooks, at one height, or `None` where they have no room.

    With `least` they always have one, however small the frames.
    """
    rooms = [_below_hooks(hung, view) for hung in in_order(wall)]
    for size in INSIDE:
        fits = all(
            lettering.width(str(number), size, True) + 0.6 <= room.width and size * _LINE + 0.6 <= room.height
            for number, room in enumerate(rooms, first)
        )
        if fits or (least and size == INSIDE[-1]):
            spots = tuple(Spot(area=_about(room.centre, number, size)) for number, room in enumerate(rooms, first))
            return Numbers(spots=spots, size=size, inside=True, first=first)
    return None


def _below_hooks(hung: HungFrame, view: View) -> Area:
    """Return what a frame has below the marks of its hooks."""
    area = view.area(spot_box(hung.spot))
    low = max(view.point(hook.left, hook.height)[1] for hook in hung.hooks) + MARK * 1.7
    return Area(x=area.x, y=low, width=area.width, height=max(area.bottom - low, 0.0))


def drawn(wall: SolvedWall, numbers: Numbers) -> Iterator[Group]:
    """Yield each frame's number with its leader."""
    for number, (hung, spot) in enumerate(zip(in_order(wall), numbers.spots, strict=True), numbers.first):
        area = spot.area
        text = Text(
            at=(area.centre[0], area.y + numbers.size / 2),
            text=str(number),
            size=numbers.size,
            anchor=Anchor.MIDDLE,
            level=Level.MIDDLE,
            bold=True,
            halo=numbers.inside,
        )
        data = (("number", str(number)), ("piece", hung.name), ("copy", str(hung.copy)))
        yield Group(classes=("frame-number",), items=(*spot.drawn(_DOT), text), data=data)


# --- places ----------------------------------------------------------------------------------------------------------

type _Side = Callable[[Area, float, float, float], Point]
"""The middle of a label of a width and height at a part of a frame's side."""

_SIDES: Final[tuple[_Side, ...]] = (
    lambda frame, wide, high, part: (_part(frame.x, frame.width, wide, part), frame.y - _OFF - high / 2),
    lambda frame, wide, high, part: (_part(frame.x, frame.width, wide, part), frame.bottom + _OFF + high / 2),
    lambda frame, wide, high, part: (frame.x - _OFF - wide / 2, _part(frame.y, frame.height, high, part)),
    lambda frame, wide, high, part: (frame.right + _OFF + wide / 2, _part(frame.y, frame.height, high, part)),
)
"""Above first: where a caption is looked for."""
_PARTS: Final = (0.0, 1.0, 0.5, 0.25, 0.75)


def _part(start: float, length: float, label: float, part: float) -> float:
    """Return the middle of a label on a side: at its start, its end or between."""
    return start + label / 2 + (length - label) * part


def _wanted(number: int, frame: Area, size: float) -> Wanted:
    width = lettering.width(str(number), size, True)
    return Wanted(width=width, height=size * _LINE, line=(frame.centre, frame.centre), thing=frame)


def _at(side: _Side, number: int, frame: Area, size: float, board: Board) -> Spot | None:
    """Return the number's place on that side of its frame, or `None` where it is taken."""
    wanted = _wanted(number, frame, size)
    for part in _PARTS:
        x, y = side(frame, wanted.width, wanted.height, part)
        area = Area.about((x, y), wanted.width, wanted.height)
        if board.holds(area) and board.is_free(area):
            board.take(area)
            return Spot(area=area)
    return None


def _within(number: int, label: Area | None, size: float) -> Spot | None:
    """Return the number's place in the box of its frame's label, or `None` where that does not hold it."""
    if label is None:
        return None
    fits = lettering.width(str(number), size, True) + 0.6 <= label.width and size + 0.6 <= label.height
    return Spot(area=_about(label.centre, number, size)) if fits else None


def _about(middle: Point, number: int, size: float) -> Area:
    width = lettering.width(str(number), size, True)
    return Area.about(middle, width, size * _LINE)


def _board(solved: SolvedWall, frames: Sequence[Area], labels: Sequence[Area | None], view: View) -> Board:
    """Return the wall with its lines, its frames and their labels."""
    board, wall = Board(whole=view.whole, gap=_GAP), solved.ask
    if wall.floor:
        for line in lines_of(solved, marks(solved), view):
            board.draw([line])
    for area in (*frames, *labels):
        if area is not None:
            board.take(area)
    for level in levels_of(wall):
        board.draw([(view.point(Fraction(0), level), view.point(wall.size.width, level))])
    boxes = [(zone.left, zone.bottom, zone.right - zone.left, zone.top - zone.bottom) for zone in wall.zones]
    for thing in wall.keep_clear:
        boxes.append(spot_box(kept_clear(thing)))
        boxes.append(spot_box(place_of(thing)))
    boxes.extend(spot_box(place_of(one)) for one in wall.furniture)
    for box in boxes:
        board.draw(view.area(box).sides)
    for edge in (wall.outline, wall.floor):
        for start, end in pairwise(view.point(x, y) for x, y in edge):
            board.draw(_stairs(start, end))
    return board


def _stairs(start: Point, end: Point) -> Iterator[tuple[Point, Point]]:
    """Yield the bounds of the parts of a sloping line, as their diagonals."""
    points = [
        (start[0] + (end[0] - start[0]) * n / _STEPS, start[1] + (end[1] - start[1]) * n / _STEPS)
        for n in range(_STEPS + 1)
    ]
    yield from pairwise(points)
