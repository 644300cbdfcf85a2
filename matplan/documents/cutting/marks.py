"""The marks at the ends of a cut: a filled triangle where the blade starts, an open ring where it stops."""

from __future__ import annotations

from typing import Final

from matplan.drawing.items import Ellipse, Point, Polyline
from matplan.drawing.pens import ACCENT, PAPER, Pen

MARK: Final = 2.0
"""Length of a start or stop mark on paper."""


def start_mark(at: Point, along: Point, size: float = MARK) -> Polyline:
    """Return a filled triangle behind the start, its tip on it, pointing `along` the travel (a unit vector)."""
    (x, y), (dx, dy) = at, along
    bx, by, half = x - dx * size, y - dy * size, size * 0.42
    return Polyline(
        points=(at, (bx - dy * half, by + dx * half), (bx + dy * half, by - dx * half)), closed=True, fill=ACCENT
    )


def stop_mark(at: Point, along: Point, size: float = MARK) -> Ellipse:
    """Return an open ring beyond the stop, touching it."""
    r = size * 0.42
    return Ellipse(centre=(at[0] + along[0] * r, at[1] + along[1] * r), rx=r, ry=r, pen=Pen.SCORE, fill=PAPER)
