"""Polygons: corners in whole steps, parallels mitred at the corners, and what makes one that no board can be cut to.

Corners go clockwise as seen, from the one nearest the box's top left. A parallel is worked out exactly from line to
line, and proven with shapely's `buffer`: where that finds other corners, sides have vanished, and its answer holds.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import hypot, sqrt
from typing import TYPE_CHECKING, Final

from matplan.lengths import Box, Step
from matplan.mats.shapes.roots import ROOT_2, Point, near, root
from matplan.mats.shapes.segments import Segment, Straight, shear

if TYPE_CHECKING:
    from shapely import Polygon

BLUNT: Final = Fraction(1, 10)
"""Half the tangent's angle of the sharpest corner that can be cut, as its tangent: about 11.4° in all. Below it the
opening, or the board between two sides, stays thinner than the board is thick for more than five thicknesses (own rule;
no published figure).
"""


def segments(corners: Sequence[Point]) -> tuple[Segment, ...]:
    """Return the sides from corner to corner."""
    return tuple(Straight(start=a, end=b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True))


def corners_of(sides: Sequence[Segment]) -> tuple[Point, ...]:
    """Return the corners that the sides start from."""
    return tuple(side.start for side in sides)


def placed(points: Sequence[Point], box: Box, step: Step | None) -> tuple[Point, ...]:
    """Return the corners at fractions of a box, each to the nearest step from the box's top left corner."""

    snapped = near if step is None else step.nearest

    return ordered([(box.x + snapped(x * box.width), box.y + snapped(y * box.height)) for x, y in points])


def ordered(points: Sequence[Point]) -> tuple[Point, ...]:
    """Return the corners clockwise from the top left, without doubles and without corners on a straight side."""
    kept = [point for number, point in enumerate(points) if point != points[number - 1]]
    kept = [p for n, p in enumerate(kept) if _turn(kept[n - 1], p, kept[(n + 1) % len(kept)]) != 0]
    if len(kept) < 3:
        return tuple(kept)
    if area(kept) < 0:
        kept.reverse()
    first = min(range(len(kept)), key=lambda n: (kept[n][0] + kept[n][1], kept[n][1]))
    return tuple(kept[first:] + kept[:first])


def bounds(corners: Sequence[Point]) -> Box:
    """Return the upright rectangle round the corners."""
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return Box(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


def area(corners: Sequence[Point]) -> Fraction:
    """Return the area inside the corners, in mm²; negative where they go counter-clockwise."""
    return sum((shear(corners[n - 1], corners[n]) for n in range(len(corners))), Fraction(0)) / 2


def _turn(before: Point, corner: Point, behind: Point) -> Fraction:
    """Return a positive number where the way turns clockwise at the corner."""
    return (corner[0] - before[0]) * (behind[1] - corner[1]) - (corner[1] - before[1]) * (behind[0] - corner[0])


# --- octagons --------------------------------------------------------------------------------------------------------


def octagon(box: Box, leg: Fraction) -> tuple[Point, ...]:
    """Return a box with its corners cut off at 45°; `leg` is what each cut takes off a side."""
    x, y, right, low = box.x, box.y, box.right, box.bottom
    found = (
        ((x, y + leg), (x + leg, y), (right - leg, y), (right, y + leg)),
        ((right, low - leg), (right - leg, low), (x + leg, low), (x, low - leg)),
    )
    return ordered([point for half in found for point in half])


def usual_leg(box: Box, step: Step | None) -> Fraction:
    """Return the leg that makes a square's octagon regular, shorter side × (1 − 1/√2), to the nearest step."""
    leg = min(box.width, box.height) * (1 - ROOT_2 / 2)
    return near(leg) if step is None else step.nearest(leg)


def leg_of(corners: Sequence[Point]) -> Fraction:
    """Return the leg of an octagon's corners: the distance of the topmost corner from the left edge."""
    box = bounds(corners)
    return min(x for x, y in corners if y == box.y) - box.x


def grown_leg(leg: Fraction, by: Fraction) -> Fraction:
    """Return the leg after all eight sides have moved outwards by `by`.

    A corner's cut goes on by √2 where the corner goes on by 2.
    """
    return leg + by * (2 - ROOT_2)


# --- parallels -------------------------------------------------------------------------------------------------------


def parallel(corners: Sequence[Point], by: Fraction) -> tuple[Point, ...] | None:
    """Return the corners after every side has moved outwards by `by`, mitred; inwards where `by` is negative.

    Return `None` if nothing is left, or more than one part, or a hole.
    """
    moved = ordered(
        tuple(_mitre(corners[n - 1], corners[n], corners[(n + 1) % len(corners)], by) for n in range(len(corners)))
    )
    proof = _buffered(corners, by)
    if proof is None:
        return None
    if len(moved) == len(corners) and _same(moved, proof, by):
        return moved
    return ordered([(near(x), near(y)) for x, y in proof.exterior.coords[:-1]])


def _mitre(before: Point, corner: Point, behind: Point, by: Fraction) -> Point:
    """Return where the two sides of a corner meet after both have moved outwards.

    Outwards is to the left of the way clockwise as seen.
    """
    (ax, ay), (bx, by_) = _outwards(before, corner), _outwards(corner, behind)
    part = by / (1 + ax * bx + ay * by_)
    return near(corner[0] + part * (ax + bx)), near(corner[1] + part * (ay + by_))


def _outwards(start: Point, end: Point) -> Point:
    """Return the unit normal of a side, pointing out of the opening."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = root(dx**2 + dy**2)
    return dy / length, -dx / length


def _shape(corners: Sequence[Point]) -> Polygon:
    from shapely import Polygon

    return Polygon([(float(x), float(y)) for x, y in corners])


def _buffered(corners: Sequence[Point], by: Fraction) -> Polygon | None:
    """Return shapely's parallel with every corner mitred, or `None` unless it is one part without a hole."""
    from shapely import Polygon

    found = _shape(corners).buffer(float(by), join_style="mitre", mitre_limit=1.01 / sharpness(corners))
    return found if isinstance(found, Polygon) and not found.is_empty and not found.interiors else None


def sharpness(corners: Sequence[Point]) -> float:
    """Return the sine of half the sharpest corner's angle, reflex corners by the board's angle."""
    halves = []
    for n in range(len(corners)):
        (ax, ay), (x, y), (bx, by) = corners[n - 1], corners[n], corners[(n + 1) % len(corners)]
        first, second = (float(ax - x), float(ay - y)), (float(bx - x), float(by - y))
        cosine = (first[0] * second[0] + first[1] * second[1]) / (hypot(*first) * hypot(*second))
        halves.append(sqrt(max(0.0, (1 - cosine) / 2)))
    return max(min(halves), 1e-6)


def _same(corners: Sequence[Point], proof: Polygon, by: Fraction) -> bool:
    """Return whether both lines are equal within shapely's own thinning of shallow corners, a hundredth of the
    distance.
    """
    own = _shape(corners)
    return own.is_valid and own.exterior.hausdorff_distance(proof.exterior) <= abs(float(by)) * 0.02 + 1e-6


# --- faults ----------------------------------------------------------------------------------------------------------


def thin_corner(corners: Sequence[Point]) -> Point | None:
    """Return the first corner that is a spike, of the opening or of the board, or `None`."""
    for before, corner, behind in zip([corners[-1], *corners], corners, [*corners[1:], corners[0]], strict=False):
        ax, ay, bx, by = before[0] - corner[0], before[1] - corner[1], behind[0] - corner[0], behind[1] - corner[1]
        level, cross = ax * bx + ay * by, abs(ax * by - ay * bx)
        # tan(α/2) = sin α ÷ (1 + cos α)
        if level > 0 and cross < BLUNT * (root((ax**2 + ay**2) * (bx**2 + by**2)) + level):
            return corner
    return None


def thin_part(corners: Sequence[Point], thickness: Fraction) -> str | None:
    """Return which part is thinner than the board is thick, "opening" or "board", or `None` if neither is."""
    from shapely import Polygon

    line, half, limit = _shape(corners), float(thickness) / 2, 1.01 / sharpness(corners)
    for what, way in (("opening", -half), ("board", half)):
        there = line.buffer(way, join_style="mitre", mitre_limit=limit)
        if not isinstance(there, Polygon) or there.is_empty or there.interiors:
            return what
        back = there.buffer(-way, join_style="mitre", mitre_limit=limit)
        if back.symmetric_difference(line).area > half * half * 0.5:
            return what
    return None


def is_simple(corners: Sequence[Point]) -> bool:
    """Return whether the line neither crosses nor touches itself."""
    return len(corners) >= 3 and _shape(corners).is_valid
