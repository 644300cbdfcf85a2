"""A tape along a side of a drawing: how far each mark lies from the tape's zero, all from the same end.

Figures that would meet are pushed apart and led to their marks by slanting lines. Where there is no room for all, there
is no tape.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from matplan.documents.parts.spreading import spread
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


def tape(
    readings: Sequence[Reading], side: float, low: float, high: float, *, upright: bool
) -> tuple[Item, ...] | None:
    """Return the tape's figures with their leaders, along the line at `side`: below a drawing, or `upright` at its
    left. None without room.
    """
    ordered = sorted(readings, key=lambda reading: reading.at)
    half, pitches = _PITCH / 2, [_PITCH] * len(ordered)
    places = spread([reading.at for reading in ordered], pitches, low - half, high + half)
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
