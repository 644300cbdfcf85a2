"""The outline of an opening: its bounds and, where it is no rectangle, its line piece by piece.

Rectangles and squares are their box. Circles and ovals are the ellipse in the box. An arch is half-round where the
height allows (rise = half the width), else an arc over its whole height; a rise that is named makes it segmental. An
octagon is the box with its corners cut at 45°, each leg the shorter side × (1 − 1/√2), to a step: regular in a square.
A polygon's corners are its fractions of the box, each to the nearest step; where they do not reach the box's edges its
bounds are smaller.

Two ways to make an outline larger. `enlarged`, for the opening of a board in front: the tool is set to larger whole
steps, so that an oval stays an oval (both axes longer by twice as much), an octagon's legs are whole steps and a
polygon's corners stand on steps. `grown`, for what a bevel leaves on the other face: every point along the normal,
mitred at corners; an oval becomes the parallel curve of an ellipse, which is no ellipse. Everything is exact but
what `shapes.roots` says.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from matplan.job.records import Shape
from matplan.lengths import ZERO, Box, Step
from matplan.mats.shapes import oval, polygon
from matplan.mats.shapes.arch import Arch
from matplan.mats.shapes.roots import Point, near
from matplan.mats.shapes.segments import FINE, Arc, Segment, shear


@dataclass(frozen=True, slots=True, kw_only=True)
class Outline:
    """The edge of an opening: `box` is its bounds, `line` its pieces clockwise as seen, empty where the box is the
    outline.
    """

    shape: Shape
    box: Box
    line: tuple[Segment, ...] = ()

    @property
    def upright(self) -> bool:
        """Whether the outline is its box: four straight cuts."""
        return self.shape in (Shape.RECTANGLE, Shape.SQUARE)

    @property
    def segments(self) -> tuple[Segment, ...]:
        """The pieces, clockwise as seen from the top left; of a rectangle its four sides."""
        return self.line or polygon.segments(_corners(self.box))

    @property
    def ellipse(self) -> bool:
        """Whether the outline is one whole circle or ellipse, filling its box."""
        return len(self.line) == 4 and all(isinstance(piece, Arc) for piece in self.line)

    @property
    def straight(self) -> bool:
        """Whether the outline has straight sides only."""
        return self.shape not in (Shape.CIRCLE, Shape.OVAL, Shape.ARCH)

    def points(self, tolerance: Fraction = FINE) -> tuple[Point, ...]:
        """Return points clockwise from the top left, so close that no chord is further than `tolerance` from the
        outline.
        """
        if not self.line:
            return _corners(self.box)
        return tuple(point for piece in self.line for point in (piece.start, *piece.inner(tolerance)))

    @property
    def area(self) -> Fraction:
        """The area inside, in mm²; with curves to 1e-9."""
        if not self.line:
            return self.box.size.area
        within = sum((shear(piece.start, piece.end) for piece in self.line), ZERO) / 2
        return near(within + near(sum(piece.bulge for piece in self.line)))


def _corners(b: Box) -> tuple[Point, ...]:
    return (b.x, b.y), (b.right, b.y), (b.right, b.bottom), (b.x, b.bottom)


def outline(
    shape: Shape, box: Box, *, points: Sequence[Point] = (), rise: Fraction | None = None, step: Step | None = None
) -> Outline:
    """Return the outline of a shape in a nominal opening.

    `points` are a polygon's, `rise` is an arch's, no more than `most_rise`.

    Raises ValueError where the step leaves no simple polygon.
    """
    match shape:
        case Shape.RECTANGLE | Shape.SQUARE:
            return Outline(shape=shape, box=box)
        case Shape.CIRCLE | Shape.OVAL:
            return Outline(shape=shape, box=box, line=oval.ellipse(box))
        case Shape.ARCH:
            usual = most_rise(box)
            arch = Arch.of(
                box, usual if rise is None else min(usual, rise if step is None else max(step.size, step.nearest(rise)))
            )
            return Outline(shape=shape, box=box, line=arch.segments)
        case Shape.OCTAGON:
            return _octagon(box, polygon.usual_leg(box, step))
        case Shape.POLYGON:
            corners = polygon.placed(points, box, step)
            if not polygon.is_simple(corners):
                raise ValueError("no simple polygon")
            return _polygon(corners)


def most_rise(box: Box) -> Fraction:
    """Return the highest rise of an arch in `box`: half-round where the height allows, else the height."""
    return min(box.width / 2, box.height)


def _octagon(box: Box, leg: Fraction) -> Outline:
    return Outline(shape=Shape.OCTAGON, box=box, line=polygon.segments(polygon.octagon(box, leg)))


def _polygon(corners: Sequence[Point], shape: Shape = Shape.POLYGON) -> Outline:
    return Outline(shape=shape, box=polygon.bounds(corners), line=polygon.segments(corners))


def enlarged(line: Outline, by: Fraction, step: Step | None = None) -> Outline | None:
    """Return the opening of a board in front: of one kind with `line`, larger by `by` on every side.

    It is in whole steps where the step is known. A polygon's sides move outwards by `by`, its corners then to the
    nearest step. Return `None` if no simple polygon is left.
    """
    match line.shape:
        case Shape.RECTANGLE | Shape.SQUARE:
            return Outline(shape=line.shape, box=line.box.grown(by))
        case Shape.CIRCLE | Shape.OVAL:
            box = line.box.grown(by)
            return Outline(shape=line.shape, box=box, line=oval.ellipse(box))
        case Shape.ARCH:
            return Outline(shape=line.shape, box=line.box.grown(by), line=_arch(line).enlarged(by).segments)
        case Shape.OCTAGON:
            leg = polygon.grown_leg(polygon.leg_of(polygon.corners_of(line.line)), by)
            return _octagon(line.box.grown(by), near(leg) if step is None else step.nearest(leg))
        case Shape.POLYGON:
            corners = polygon.parallel(polygon.corners_of(line.line), by)
            if corners is not None and step is not None:
                corners = polygon.ordered([(step.nearest(x), step.nearest(y)) for x, y in corners])
            return None if corners is None or not polygon.is_simple(corners) else _polygon(corners)


def grown(line: Outline, by: Fraction) -> Outline | None:
    """Return the outline moved outwards by `by` along the normal, mitred at corners; inwards where `by` is negative.

    Return `None` if nothing is left, or if the outline falls into parts.
    """
    box = line.box.grown(by)
    if min(box.width, box.height) <= 0 and line.shape is not Shape.POLYGON:
        return None
    match line.shape:
        case Shape.RECTANGLE | Shape.SQUARE:
            return Outline(shape=line.shape, box=box)
        case Shape.CIRCLE | Shape.OVAL:
            moved = oval.parallel(line.line, by)
            return None if moved is None else Outline(shape=line.shape, box=oval.bounds(moved), line=moved)
        case Shape.ARCH:
            arch = _arch(line).grown(by)
            return None if arch is None else Outline(shape=line.shape, box=arch.box, line=arch.segments)
        case Shape.OCTAGON | Shape.POLYGON:
            corners = polygon.corners_of(line.line)
            leg = polygon.grown_leg(polygon.leg_of(corners), by) if line.shape is Shape.OCTAGON else ZERO
            if line.shape is Shape.OCTAGON and 0 < 2 * leg < min(box.width, box.height):
                return _octagon(box, near(leg))
            moved_corners = polygon.parallel(corners, by)
            return None if moved_corners is None else _polygon(moved_corners, line.shape)


def _arch(line: Outline) -> Arch:
    """Return the limits of an arch, read off its line."""
    arc = line.line[0]
    if not isinstance(arc, Arc):
        raise ValueError("an arch begins with its arc")
    sides = len(line.line) == 4 or arc.start[1] == arc.centre[1]
    half = (arc.end[0] - arc.start[0]) / 2 if sides else None
    return Arch(x=arc.centre[0], y=arc.centre[1], radius=arc.rx, base=line.box.bottom, half=half)
