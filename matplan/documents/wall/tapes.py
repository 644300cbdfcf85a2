"""A tape along a side of a drawing: how far each mark lies from the tape's zero, all from the same end.

Figures that would meet are pushed apart and led to their marks by slanting lines. Where there is no room for all, there
is no tape.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from matplan.drawing import lettering
from matplan.drawing.items import Anchor, Group, Item, Level, Line, ModelBox, Point, Text
from matplan.drawing.pens import INK, Pen

SIZE: Final = 2.2
_PITCH: Final = SIZE * 1.45
"""From figure to figure along the tape."""
_STRAIGHT: Final = 1.6
_SLANT: Final = 2.8
_REST: Final = 0.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A mark on the tape: where it lies on paper along it, its label, and what is measured."""

    at: float
    label: str
    box: ModelBox


def depth(labels: Sequence[str]) -> float:
    """Return how much paper a tape with the figures takes, away from its drawing."""
    if not labels:
        return 0.0
    return _STRAIGHT + _SLANT + _REST + max(lettering.width(label, SIZE) for label in labels) + 1.0


def spread(wanted: Sequence[float], low: float, high: float, pitch: float = _PITCH) -> list[float] | None:
    """Places in that order no nearer than `pitch`, between low and high and as near as may be to those wanted; None
    without room.

    >>> spread([1.0, 1.5, 9.0], 0.0, 10.0, 1.0)
    [0.75, 1.75, 9.0]
    """
    if pitch * (len(wanted) - 1) > high - low:
        return None
    groups: list[
        tuple[float, list[float]]
    ] = []  # each group's first place, and what its members want less their offset
    for place in wanted:
        members = [place]
        first = min(max(place, low), high)
        while groups and groups[-1][0] + pitch * len(groups[-1][1]) > first + 1e-9:
            before = groups.pop()[1]
            members = before + [m - pitch * len(before) for m in members]
            first = min(max(sum(members) / len(members), low), high - pitch * (len(members) - 1))
        groups.append((first, members))
    return [first + pitch * n for first, members in groups for n in range(len(members))]


def tape(
    readings: Sequence[Reading], side: float, low: float, high: float, *, upright: bool
) -> tuple[Item, ...] | None:
    """Return the tape's figures with their leaders, along the line at `side`: below a drawing, or `upright` at its
    left. None without room.
    """
    ordered = sorted(readings, key=lambda reading: reading.at)
    places = spread([reading.at for reading in ordered], low, high)
    if places is None:
        return None
    return tuple(_figure(reading, place, side, upright) for reading, place in zip(ordered, places, strict=True))


def _figure(reading: Reading, place: float, side: float, upright: bool) -> Group:
    def point(along: float, away: float) -> Point:
        return (side - away, along) if upright else (along, side + away)

    stops = (
        point(reading.at, 0.6),
        point(reading.at, _STRAIGHT),
        point(place, _STRAIGHT + _SLANT),
        point(place, _STRAIGHT + _SLANT + _REST),
    )
    lines = [Line(start=a, end=b, pen=Pen.DIMENSION) for a, b in pairwise(stops)]
    text = Text(
        at=point(place, _STRAIGHT + _SLANT + _REST + 0.8),
        text=reading.label,
        size=SIZE,
        anchor=Anchor.END,
        level=Level.MIDDLE,
        turn=0.0 if upright else -90.0,
        colour=INK,
    )
    return Group(classes=("running",), items=(*lines, text), box=reading.box)
