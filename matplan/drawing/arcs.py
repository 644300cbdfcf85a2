"""The geometry of an arc step: from end points to centre, to chords and to cubic curves.

The way from end points to a centre is that of SVG 1.1, appendix F.6.5; radii that are too small grow as F.6.6 says.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Self

from matplan.drawing.items import ArcTo, Point

_QUARTER_ERROR: Final = 2.73e-4
"""How far a quarter circle's cubic curve leaves it, in radii."""
_NEAR: Final = 0.005
"""How far a drawn curve may leave its arc, in mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc:
    """A piece of an upright ellipse; angles in radians, clockwise as seen, from the right."""

    centre: Point
    rx: float
    ry: float
    first: float
    sweep: float

    @classmethod
    def of(cls, start: Point, step: ArcTo) -> Self | None:
        """Return the arc that a step draws, None where it draws a straight line or nothing."""
        (x1, y1), (x2, y2) = start, step.end
        rx, ry = abs(step.rx), abs(step.ry)
        if start == step.end or not rx or not ry:
            return None
        dx, dy = (x1 - x2) / 2 / rx, (y1 - y2) / 2 / ry  # in units of the radii the ellipse is a circle
        half = math.hypot(dx, dy)
        if half > 1:
            rx, ry, dx, dy, half = rx * half, ry * half, dx / half, dy / half, 1.0
        rise = math.sqrt(max(0.0, 1 - half * half)) / half * (-1 if step.large == step.clockwise else 1)
        cx, cy = dy * rise, -dx * rise
        first, last = math.atan2(dy - cy, dx - cx), math.atan2(-dy - cy, -dx - cx)
        sweep = last - first
        if step.clockwise and sweep < 0:
            sweep += 2 * math.pi
        if not step.clockwise and sweep > 0:
            sweep -= 2 * math.pi
        centre = ((x1 + x2) / 2 + cx * rx, (y1 + y2) / 2 + cy * ry)
        return cls(centre=centre, rx=rx, ry=ry, first=first, sweep=sweep)

    def point(self, part: float) -> Point:
        """Return the point at that part (0 to 1) of the sweep."""
        angle = self.first + self.sweep * part
        return (self.centre[0] + self.rx * math.cos(angle), self.centre[1] + self.ry * math.sin(angle))


def chords(start: Point, step: ArcTo, count: int) -> Iterator[Point]:
    """Yield so many points along the arc after its start, the last one its end."""
    arc = Arc.of(start, step)
    if arc is not None:
        yield from (arc.point(n / count) for n in range(1, count))
    yield step.end


def beziers(start: Point, step: ArcTo) -> Iterator[tuple[Point, Point, Point]]:
    """Yield the arc as cubic curves (two controls, end) of at most a quarter turn, within 0.005 mm.

    A quarter's curve is within 0.0273 % of the radius, and a shorter one's error falls with the sixth power of its turn
    (school geometry).
    """
    arc = Arc.of(start, step)
    if arc is None:
        if start != step.end:
            yield start, step.end, step.end
        return
    (ox, oy), rx, ry = arc.centre, arc.rx, arc.ry
    parts = max(1, math.ceil((_QUARTER_ERROR * max(rx, ry) / _NEAR) ** (1 / 6)))
    pieces = max(1, math.ceil(abs(arc.sweep) / (math.pi / 2) - 1e-9)) * parts
    turn = arc.sweep / pieces
    pull = 4 / 3 * math.tan(turn / 4)
    for piece in range(pieces):
        a, b = arc.first + piece * turn, arc.first + (piece + 1) * turn
        ca, sa, cb, sb = math.cos(a), math.sin(a), math.cos(b), math.sin(b)
        yield (
            (ox + rx * (ca - pull * sa), oy + ry * (sa + pull * ca)),
            (ox + rx * (cb + pull * sb), oy + ry * (sb - pull * cb)),
            step.end if piece == pieces - 1 else (ox + rx * cb, oy + ry * sb),
        )
