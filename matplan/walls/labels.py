"""The labels of works: where each hangs beside or below its frame, and what is wrong with its place.

A label needs room as a frame does: it overlaps no frame, no other label and nothing kept clear, and stays in the zone.
It moves no frame.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from matplan.job.file.lines import place_text
from matplan.job.records import Labels, LabelSide, Wall
from matplan.lengths import Printer
from matplan.walls.limits import Standing, kept_clear, listed, mending, shift
from matplan.walls.outline import highest, lowest
from matplan.walls.records import Problem, Spot, ToHang

_WHERE = "labels"


def label_of(frame: ToHang, spot: Spot, labels: Labels | None) -> Spot | None:
    """Return where the label of a frame hangs; `None` where the wall has no labels or the piece no words for one.

    Below a frame it is flush with the frame's left side.
    """
    if labels is None or not frame.piece.ask.label:
        return None
    width, height = labels.size.width, labels.size.height
    match labels.side:
        case LabelSide.RIGHT:
            left, bottom = spot.right + labels.gap, spot.bottom + labels.up
        case LabelSide.LEFT:
            left, bottom = spot.left - labels.gap - width, spot.bottom + labels.up
        case LabelSide.BELOW:
            left, bottom = spot.left, spot.bottom - labels.gap - height
    return Spot(left=left, bottom=bottom, width=width, height=height)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Label:
    """A label where it would hang, beside `of`."""

    of: Standing
    spot: Spot

    @property
    def called(self) -> str:
        return f"the label of {self.of.frame.called}"


def problems(standing: Sequence[Standing], wall: Wall, printer: Printer) -> tuple[Problem, ...]:
    """Return everything that is wrong with the places of a wall's labels."""
    if wall.labels is None:
        return ()
    found = [
        _Label(of=one, spot=spot)
        for one in standing
        if (spot := label_of(one.frame, one.spot, wall.labels)) is not None
    ]
    check = _Check(wall, wall.labels, printer)
    texts = (
        *check.narrow(found, standing),
        *check.frames(found, standing),
        *check.each_other(found),
        *(text for label in found for text in check.alone(label)),
    )
    return tuple(Problem(where=where, text=text) for where, text in texts)


type _Told = Iterator[tuple[str, str]]


class _Check:
    def __init__(self, wall: Wall, labels: Labels, printer: Printer) -> None:
        self.wall, self.labels, self.printer = wall, labels, printer

    def _length(self, length: Fraction) -> str:
        return mending(length, self.printer)

    def _room(self, label: _Label, other: Standing) -> Fraction | None:
        """Return the free wall from a label's frame to another on the label's side; `None` where it is not there."""
        one, there = label.of.spot, other.spot
        across, up = one.beside(there)
        match self.labels.side:
            case LabelSide.RIGHT:
                return across if up < 0 and there.left >= one.right else None
            case LabelSide.LEFT:
                return across if up < 0 and there.right <= one.left else None
            case LabelSide.BELOW:
                return up if across < 0 and there.top <= one.bottom else None

    def narrow(self, labels: Sequence[_Label], standing: Sequence[Standing]) -> _Told:
        """Yield the labels wider than the gap to the next frame, together."""
        below = self.labels.side is LabelSide.BELOW
        extent = self.labels.size.height if below else self.labels.size.width
        rooms = [
            (room, label)
            for label in labels
            for other in standing
            if label.spot.overlaps(other.spot) and (room := self._room(label, other)) is not None
        ]
        if not rooms:
            return
        need, least = extent + self.labels.gap, min(room for room, _ in rooms)
        called = list(dict.fromkeys(label.of.frame.called for _, label in rooms))
        size = f"{self._length(extent)} {'high' if below else 'wide'}"
        instead = "at a side" if below else "below"
        text = (
            f"the label{'s' if len(called) > 1 else ''} of {listed(called)}, {size} and "
            f"{self._length(self.labels.gap)} from the frame, {'find' if len(called) > 1 else 'finds'} no room in the "
            f"gap of {self._length(least)} to the next frame: {self._length(need - least)} too little; take a gap "
            f"between frames of {self._length(need)} or more, a smaller label, or hang labels {instead}"
        )
        yield _WHERE, text

    def frames(self, labels: Sequence[_Label], standing: Sequence[Standing]) -> _Told:
        """Yield the labels over frames that are not the next on their side."""
        for label in labels:
            for other in standing:
                if label.spot.overlaps(other.spot) and self._room(label, other) is None:
                    yield _WHERE, self._over(label, other.spot, other.frame.called)

    def each_other(self, labels: Sequence[_Label]) -> _Told:
        """Yield the labels over one another."""
        for one, other in combinations(labels, 2):
            if one.spot.overlaps(other.spot):
                yield _WHERE, self._over(one, other.spot, other.called)

    def _over(self, label: _Label, spot: Spot, called: str) -> str:
        least, way = shift(label.spot, spot)
        return f"{label.called} overlaps {called}; the least shift that parts them is {self._length(least)} {way}"

    def alone(self, label: _Label) -> _Told:
        """Yield where a label meets a thing kept clear, or leaves its zone, the wall's top edge or its floor."""
        spot, zone, wall = label.spot, label.of.group.zone, self.wall
        for number, thing in enumerate(wall.keep_clear):
            taken = kept_clear(thing)
            if spot.overlaps(taken):
                least, way = shift(spot, taken)
                margin = f" and its margin of {self.printer.length(thing.margin)}" if thing.margin else ""
                text = (
                    f'{label.called} hangs over "{thing.name}"{margin}, which is kept clear; '
                    f"the least shift that clears it is {self._length(least)} {way}"
                )
                yield place_text(("keep_clear", number)), text
        past = [
            (zone.left - spot.left, "left edge", "to the right", zone.left == 0),
            (spot.right - zone.right, "right edge", "to the left", zone.right == wall.size.width),
            (zone.bottom - spot.bottom, "bottom edge", "up", zone.bottom == 0),
            (spot.top - zone.top, "top edge", "down", zone.top == wall.size.height),
        ]
        for over, edge, way, end in past:
            if over > 0:
                yield _WHERE, self._beyond(label, over, f"past the {'wall' if end else 'zone'}'s {edge}", way)
        left, right = max(spot.left, Fraction(0)), min(spot.right, wall.size.width)
        if left >= right:
            return
        if wall.outline and (over := spot.top - lowest(wall.outline, left, right)) > 0:
            yield _WHERE, self._beyond(label, over, "above the wall's top edge", "down")
        if wall.floor and (over := highest(wall.floor, left, right) - spot.bottom) > 0:
            yield _WHERE, self._beyond(label, over, "below the floor", "up")

    def _beyond(self, label: _Label, over: Fraction, where: str, way: str) -> str:
        length = self._length(over)
        return f"{label.called} reaches {length} {where}; the least shift that mends it is {length} {way}"
