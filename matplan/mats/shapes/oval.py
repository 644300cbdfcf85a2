"""Circles and ovals: four quarter arcs of an upright ellipse, and the parallel curve that a bevel makes of them."""

from __future__ import annotations

from fractions import Fraction

from matplan.lengths import Box
from matplan.mats.shapes.roots import Point, near, root
from matplan.mats.shapes.segments import Arc, Parallel, Segment


def ellipse(box: Box) -> tuple[Segment, ...]:
    """Return the ellipse in `box`, quarter by quarter, clockwise from its leftmost point."""
    x, y = box.centre
    ends = ((box.x, y), (x, box.y), (box.right, y), (x, box.bottom))
    rx, ry = box.width / 2, box.height / 2
    return tuple(Arc(centre=(x, y), rx=rx, ry=ry, start=ends[n], end=ends[(n + 1) % 4]) for n in range(4))


def parallel(quarters: tuple[Segment, ...], by: Fraction) -> tuple[Segment, ...] | None:
    """Return the curve at a distance from the ellipse, or `None` if nothing is left inside.

    It is an ellipse only round a circle. Inwards by more than the least radius of curvature the quarters would cross on
    the long axis; they end there, in a corner.
    """
    arcs = [arc for arc in quarters if isinstance(arc, Arc)]
    if len(arcs) != len(quarters):
        return tuple(Parallel(arc=q.arc, by=q.by + by) for q in quarters if isinstance(q, Parallel))
    rx, ry = arcs[0].rx, arcs[0].ry
    if min(rx, ry) + by <= 0:
        return None
    (x, y) = arcs[0].centre
    if rx == ry:
        return ellipse(Box(x - rx - by, y - ry - by, 2 * (rx + by), 2 * (ry + by)))
    if by < 0 and min(rx, ry) ** 2 < -by * max(rx, ry):
        arcs = [_trimmed(arc, -by) for arc in arcs]
    return tuple(Parallel(arc=arc, by=by) for arc in arcs)


def _trimmed(arc: Arc, by: Fraction) -> Arc:
    """Return the quarter without the end whose inner parallel would lie beyond the long axis.

    Where the parallel meets that axis: b = by·a ÷ √(b² cos² + a² sin²), with a and b the half axes, so that
    sin² = (by²·a²/b² − b²) ÷ (a² − b²).
    """
    lying = arc.rx > arc.ry
    a, b = (arc.rx, arc.ry) if lying else (arc.ry, arc.rx)
    squared = (by**2 * a**2 / b**2 - b**2) / (a**2 - b**2)
    along, off = a * root(1 - squared), b * root(squared)
    ends = []
    for mine, other in ((arc.start, arc.end), (arc.end, arc.start)):
        on_long = mine[1] == arc.centre[1] if lying else mine[0] == arc.centre[0]
        ends.append(_beside(arc.centre, mine, other, along, off, lying=lying) if on_long else mine)
    return Arc(centre=arc.centre, rx=arc.rx, ry=arc.ry, start=ends[0], end=ends[1])


def _beside(centre: Point, mine: Point, other: Point, along: Fraction, off: Fraction, *, lying: bool) -> Point:
    """Return the point `along` the long axis towards `mine` and `off` it towards `other`, from the centre."""
    (x, y), one, two = centre, (mine, other) if lying else (other, mine), (along, off) if lying else (off, along)
    right, below = one[0][0] > x, one[1][1] > y
    return near(x + (two[0] if right else -two[0])), near(y + (two[1] if below else -two[1]))


def bounds(segments: tuple[Segment, ...]) -> Box:
    """Return the bounds of four quarters: their ends are the outermost points."""
    xs, ys = [s.start[0] for s in segments], [s.start[1] for s in segments]
    xs += [s.end[0] for s in segments]
    ys += [s.end[1] for s in segments]
    return Box(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))
