"""The ring round a board: the numbers of its cuts and the gauge's settings, outside the board on thin leaders.

Each reading stands on a side of the board as it lies. Its numbers stand in cells, the nearest to the board first; the
setting, where the reading has one, is a running dimension from the board's edge and stands outside the cells. All
figures have one size. Readings that would meet are pushed apart along their side and led to their cuts by slanting
lines.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import radians, tan
from typing import Final

from matplan.documents.parts.spreading import spread
from matplan.drawing import lettering
from matplan.drawing.dimensions import Side
from matplan.drawing.items import Anchor, Area, Ellipse, Group, Item, Level, ModelBox, Point, Polyline, Size, Text
from matplan.drawing.pens import PAPER, SECONDARY, Pen
from matplan.drawing.views import View

FIGURES: Final = Size.NORMAL
"""Height of every figure of the ring."""
CELL: Final = 5.6
"""Height of a number's cell, and its least width."""
_PAD: Final = 0.9
"""Between a number and the sides of its cell."""
_BETWEEN: Final = 0.8
"""Between two readings along a side."""
_STUB: Final = 1.0
"""A leader runs straight so far from the board."""
_SLANT: Final = 2.6
"""Then a leader slants so far to its reading, or further where a reading of its side is pushed far along the side."""
_FURTHEST: Final = 9.0
"""A leader slants no further: readings that would lie further off have no room."""
_RISE: Final = tan(radians(25))
"""A leader rises from the board by no less for each mm along it, so that the eye can follow it."""
_OFF: Final = 0.9
"""Between the cells and the setting, and outside the ring."""
_DOT: Final = 0.55


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """The numbers of cuts that one leader leads to, and the setting that they share.

    `at` is the model's coordinate along the side; `feet` are those across it where the leader ends, the nearest to the
    board's edge first. `dotted` readings mark each foot with a dot. `box` is what the setting measures.
    """

    side: Side
    at: Fraction
    feet: tuple[Fraction, ...]
    numbers: tuple[int, ...]
    dotted: bool = False
    setting: str = ""
    box: ModelBox | None = None

    @property
    def cell(self) -> float:
        """The width of each number's cell."""
        widest = max(lettering.width(str(number), FIGURES, True) for number in self.numbers)
        return max(CELL, widest + 2 * _PAD)

    @property
    def width(self) -> float:
        """What the reading takes along its side, with the gap to the next."""
        return (self.cell if self.side.across else CELL) + _BETWEEN

    @property
    def depth(self) -> float:
        """What the reading's figures take away from the board."""
        each = CELL if self.side.across else self.cell
        setting = lettering.width(self.setting, FIGURES, True) + _OFF if self.setting else 0.0
        return len(self.numbers) * each + setting + _OFF


type Depths = tuple[float, float, float, float]
"""What a ring takes at the left of a board, above, at the right and below it, in mm of paper."""


def depths(readings: Sequence[Reading], view: View) -> Depths:
    """Return what the ring of these readings takes in that view, in which they have room."""

    def on(side: Side) -> float:
        placed = _placed(readings, side, view)
        return _STUB + _slant(placed, view) + max(reading.depth for reading, _ in placed) if placed else 0.0

    return on(Side.LEFT), on(Side.ABOVE), on(Side.RIGHT), on(Side.BELOW)


def has_room(readings: Sequence[Reading], view: View) -> bool:
    """Return whether the readings stand beside one another on each side of the board in that view, none too far from
    its cuts.
    """
    placed = (_placed(readings, side, view) for side in Side)
    return all(own is not None and _slant(own, view) <= _FURTHEST for own in placed)


def _slant(placed: Sequence[tuple[Reading, float]], view: View) -> float:
    """Return how far the leaders of a side slant, so that the flattest rises enough."""
    return max([_SLANT, *(abs(place - _along(reading, view)) * _RISE for reading, place in placed)])


def ring(readings: Sequence[Reading], view: View, *, mark: float) -> Iterator[Item]:
    """Yield the ring's items. Leaders end `mark` mm before their feet, so that start and stop marks stay clear."""
    for side in Side:
        placed = _placed(readings, side, view) or ()
        for reading, place in placed:
            yield _drawn(reading, place, _STUB + _slant(placed, view), view, mark)


def gap_above(readings: Sequence[Reading], view: View) -> tuple[float, float]:
    """Return from where to where the widest part of the board's top edge runs above which no reading stands."""
    taken = [
        (min(_along(reading, view), place - reading.width / 2), max(_along(reading, view), place + reading.width / 2))
        for reading, place in _placed(readings, Side.ABOVE, view) or ()
    ]
    stops = [view.whole.x, *(end for pair in taken for end in pair), view.whole.right]
    middle = view.whole.centre[0]
    gaps = zip(stops[::2], stops[1::2], strict=True)
    return max(gaps, key=lambda gap: (round(gap[1] - gap[0], 6), -abs(sum(gap) / 2 - middle)))


def _placed(readings: Sequence[Reading], side: Side, view: View) -> list[tuple[Reading, float]] | None:
    """Return a side's readings in their order along it, each with its place; `None` where there is no room for all."""
    own = sorted((r for r in readings if r.side is side), key=lambda r: (_along(r, view), r.numbers))
    area = view.whole
    low, high = (area.x, area.right) if side.across else (area.y, area.bottom)
    places = spread([_along(r, view) for r in own], [r.width for r in own], low, high)
    return None if places is None else list(zip(own, places, strict=True))


def _along(reading: Reading, view: View) -> float:
    """Return the paper coordinate along the side at which a reading's leader begins."""
    return _foot(reading, reading.feet[0], view)[0 if reading.side.across else 1]


def _foot(reading: Reading, foot: Fraction, view: View) -> Point:
    return view.point(reading.at, foot) if reading.side.across else view.point(foot, reading.at)


def _drawn(reading: Reading, place: float, start: float, view: View, mark: float) -> Group:
    """Return one reading at its place along the side, `start` mm from the board."""
    side, whole = reading.side, view.whole
    edge = {Side.ABOVE: whole.y, Side.BELOW: whole.bottom, Side.LEFT: whole.x, Side.RIGHT: whole.right}[side]

    def point(along: float, away: float) -> Point:
        across = edge + side.outward * away
        return (along, across) if side.across else (across, along)

    at = _along(reading, view)
    last = _foot(reading, reading.feet[-1 if reading.dotted else 0], view)
    inner = (edge - last[1 if side.across else 0]) * side.outward - (0.0 if reading.dotted else mark)
    line = Polyline(
        points=(point(at, -max(inner, -_STUB / 2)), point(at, _STUB), point(place, start)), pen=Pen.DIMENSION
    )
    dots = tuple(
        Ellipse(centre=_foot(reading, foot, view), rx=_DOT, ry=_DOT, fill=SECONDARY)
        for foot in (reading.feet if reading.dotted else ())
    )
    each = CELL if side.across else reading.cell
    cells = (
        _cell(number, point(place, start + (n + 0.5) * each), reading.cell) for n, number in enumerate(reading.numbers)
    )
    end = start + len(reading.numbers) * each + _OFF
    return Group(classes=("reading",), items=(line, *dots, *cells, *_setting(reading, point(place, end))))


def _cell(number: int, at: Point, width: float) -> Group:
    """Return a cut's number in its cell."""
    box = Area.about(at, width, CELL)
    text = Text(at=at, text=str(number), size=FIGURES, anchor=Anchor.MIDDLE, level=Level.MIDDLE, bold=True)
    return Group(
        classes=("cut-number",), items=(box.rect(pen=Pen.EDGE, fill=PAPER), text), data=(("number", str(number)),)
    )


def _setting(reading: Reading, at: Point) -> Iterator[Item]:
    """Return the setting, which reads away from the board on level sides and across on upright ones."""
    if not reading.setting:
        return
    first = reading.side in (Side.ABOVE, Side.RIGHT)
    text = Text(
        at=at,
        text=reading.setting,
        size=FIGURES,
        anchor=Anchor.START if first else Anchor.END,
        level=Level.MIDDLE,
        turn=-90.0 if reading.side.across else 0.0,
        bold=True,
    )
    yield Group(classes=("running", "gauge"), items=(text,), box=reading.box)
