"""Laws of outlines: shapely's parallels agree, windows cover what they shall and show what they shall, in every shape
and show mode.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from math import sqrt

from hypothesis import HealthCheck, assume, example, given, reject, settings
from hypothesis import strategies as st
from shapely import LinearRing, Polygon

from matplan.job.read.polygon import fault_of_polygon
from matplan.job.records import Piece, Shape, Show
from matplan.lengths import Box, Printer, Step, Units
from matplan.mats.outlines import Outline, enlarged, grown, most_rise, outline
from matplan.mats.records import SolvedPiece
from matplan.mats.shapes import polygon
from matplan.mats.shapes.roots import Point
from matplan.mats.solve import solve
from matplan.mats.windows import Unsolvable
from tests.laws.strategies import STEPS, pieces

relaxed = settings(
    max_examples=60, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow], deadline=None
)
FINEST = Fraction(1, 2000)
NEAR = 0.002
"""How near drawn chords come to the true line, in mm, with room for shapely's own thinning."""


@st.composite
def corners(draw: st.DrawFn) -> tuple[Point, ...]:
    """Points round a middle, near and far in turns or at random: simple, convex or not."""
    count = draw(st.integers(3, 8))
    around = ((0, -1), (3, -3), (1, 0), (3, 3), (0, 1), (-3, 3), (-1, 0), (-3, -3))
    found = []
    for number in range(count):
        dx, dy = around[number * 8 // count]
        reach = Fraction(draw(st.integers(20, 50)), 100) / (1 if 0 in (dx, dy) else 3)
        found.append((Fraction(1, 2) + dx * reach, Fraction(1, 2) + dy * reach))
    assume(fault_of_polygon(found) is None)
    return tuple(found)


@st.composite
def asked(draw: st.DrawFn, ask: Piece) -> Piece:
    """The piece with a shape for each window."""
    windows = []
    for window in ask.apertures:
        shape = draw(st.sampled_from(list(Shape)))
        points = draw(corners()) if shape is Shape.POLYGON else ()
        rise = draw(st.none() | st.integers(4, 60).map(Fraction)) if shape is Shape.ARCH else None
        windows.append(replace(window, shape=shape, points=points, rise=rise))
    return replace(ask, apertures=tuple(windows))


shaped_pieces = pieces(most=3).flatmap(asked)


@st.composite
def outlines(draw: st.DrawFn) -> Outline:
    """An outline of any shape in whole millimetres."""
    x, y = draw(st.integers(0, 300)), draw(st.integers(0, 300))
    width = draw(st.integers(30, 500))
    shape = draw(st.sampled_from(list(Shape)))
    height = width if shape in (Shape.SQUARE, Shape.CIRCLE) else draw(st.integers(30, 500))
    box = Box(Fraction(x), Fraction(y), Fraction(width), Fraction(height))
    rise = draw(st.none() | st.integers(5, max(5, int(most_rise(box)))).map(Fraction)) if shape is Shape.ARCH else None
    points = draw(corners()) if shape is Shape.POLYGON else ()
    found = outline(shape, box, points=points, rise=rise, step=Step(Fraction(1)))
    if shape is Shape.POLYGON:
        assume(polygon.thin_corner(polygon.corners_of(found.line)) is None)
    return found


def drawn(line: Outline, tolerance: Fraction = FINEST) -> Polygon:
    return Polygon([(float(x), float(y)) for x, y in line.points(tolerance)])


def solved_or_not(ask: Piece, step: Fraction) -> SolvedPiece:
    try:
        return solve(ask, printer=Printer(Units.MM, Step(step)))
    except Unsolvable:
        reject()


@given(line=outlines())
@relaxed
def test_an_outline_is_one_simple_line_that_fills_its_bounds(line: Outline) -> None:
    """Pieces follow one another clockwise as seen and close; the bounds touch the line."""
    for one, other in pairwise([*line.segments, line.segments[0]]):
        assert one.end == other.start
    shape = drawn(line)
    assert shape.is_valid
    left, top, right, bottom = shape.bounds
    box = line.box
    assert (left, top, right, bottom) == tuple(map(float, (box.x, box.y, box.right, box.bottom)))
    assert abs(shape.area - float(line.area)) <= shape.length * float(FINEST)
    assert polygon.area(line.points()) > 0


@given(line=outlines(), tolerance=st.sampled_from([Fraction(1, 10), Fraction(1, 100)]))
@relaxed
def test_points_lie_on_the_line_within_their_tolerance(line: Outline, tolerance: Fraction) -> None:
    coarse, fine = (
        LinearRing(drawn(line, tolerance).exterior.coords),
        LinearRing(drawn(line, tolerance / 50).exterior.coords),
    )
    assert coarse.hausdorff_distance(fine) <= float(tolerance) * 1.03
    assert line.points(tolerance) == line.points(tolerance)


@given(line=outlines(), by=st.sampled_from([Fraction(7, 5), Fraction(14, 5), Fraction(-7, 5), Fraction(1, 2)]))
@relaxed
def test_a_bevel_is_the_mitred_parallel(line: Outline, by: Fraction) -> None:
    """Shapely's buffer of the finely drawn line, but where an arc is mitred: there the arc goes on, and shapely its
    tangent.
    """
    face = grown(line, by)
    limit = 1.01 / polygon.sharpness(polygon.corners_of(line.segments)) if line.straight else 12
    other = drawn(line).buffer(float(by), join_style="mitre", mitre_limit=limit)
    if face is None:
        assert not isinstance(other, Polygon) or other.is_empty or other.interiors
        return
    mitred = abs(float(by)) ** 2 / 10 if line.shape is Shape.ARCH and by > 0 else 0.0
    shallow = abs(float(by)) * 0.02 if line.shape is Shape.POLYGON else 0.0
    assert drawn(face).exterior.hausdorff_distance(other.exterior) <= NEAR + mitred + shallow


def between_ovals(inner: Box) -> float:
    """The least strip between an ellipse and one whose half axes a, b are longer by one: 2√(ab) / (a + b) (derived).

    The distance is that of parallel tangents, h(a + 1, b + 1) − h(a, b) with h = √(a² cos² + b² sin²), which is convex
    in a and b: it is at least (a cos² + b sin²) / h, and that is least where tan² = a / b.
    """
    a, b = float(inner.width), float(inner.height)
    return 2 * sqrt(a * b) / (a + b)


@given(line=outlines(), by=st.sampled_from([Fraction(3), Fraction(6), Fraction(10)]))
@relaxed
def test_a_board_in_front_leaves_the_opening_free(line: Outline, by: Fraction) -> None:
    """Its opening holds the one behind, with a strip between them as wide as the reveal, within what steps and an
    oval's axes do to it.
    """
    front = enlarged(line, by, Step(Fraction(1)))
    if front is None:
        assert line.shape is Shape.POLYGON
        return
    assert drawn(front).contains(drawn(line))
    strip = drawn(front).exterior.distance(drawn(line).exterior)
    assert strip <= float(by) + 1e-6
    match line.shape:
        case Shape.RECTANGLE | Shape.SQUARE | Shape.CIRCLE:
            assert abs(strip - float(by)) <= NEAR
        case Shape.OCTAGON | Shape.POLYGON:
            assert strip >= float(by) - 1.0  # a corner on its step is up to half a diagonal off
        case Shape.OVAL:
            assert strip >= float(by) * between_ovals(line.box) - NEAR
        case Shape.ARCH:
            assert strip >= float(by) * 0.7
    if line.shape is not Shape.POLYGON:
        assert front.box == line.box.grown(by)


@given(ask=shaped_pieces, step=STEPS)
@relaxed
def test_a_covering_mat_covers_the_images_edge_along_the_normal(ask: Piece, step: Fraction) -> None:
    """show = image: every point of what the eye sees is at least `overlap` inside the image."""
    made = solved_or_not(ask, step)
    for shown in made.apertures:
        if shown.show is Show.IMAGE:
            image = drawn(Outline(shape=Shape.RECTANGLE, box=shown.image))
            opening = drawn(shown.seen)
            assert image.contains(opening)
            assert image.exterior.distance(opening) >= float(shown.ask.overlap) - 1e-6


@given(ask=shaped_pieces, step=STEPS)
@relaxed
def test_what_floats_is_never_covered_and_lies_on_its_paper(ask: Piece, step: Fraction) -> None:
    """show = sheet and margin: the work lies in the opening, no nearer than asked for along the normal, and in the
    image or paper.

    An oval is measured on its axes, as its cutter is set (`between_ovals`). A margin gives up less than half a step.
    """
    made = solved_or_not(ask, step)
    for shown in made.apertures:
        if shown.show is Show.IMAGE:
            continue
        work, opening = drawn(shown.work), drawn(shown.outline)
        asked_for = shown.ask.gap if shown.show is Show.SHEET else shown.ask.reveal
        least = float(asked_for) if shown.show is Show.SHEET else float(asked_for - step / 2)
        strip = opening.exterior.distance(work)
        assert opening.buffer(1e-6).contains(work)
        if shown.outline.shape is Shape.OVAL:
            assert strip >= least * between_ovals(shown.work.box) - NEAR
        else:
            assert strip >= least - NEAR - (0.02 * least if shown.outline.shape is Shape.POLYGON else 0)
        if shown.show is Show.MARGIN:
            assert shown.work.box.within(shown.image)
        elif shown.print is not None:
            assert shown.work.box.width <= shown.print.size.width
            assert shown.work.box.height <= shown.print.size.height


@given(ask=shaped_pieces, step=STEPS)
@relaxed
def test_shaped_openings_are_cut_in_whole_steps(ask: Piece, step: Fraction) -> None:
    """Bounds of every back opening, and all corners of rectangles, octagons and polygons."""
    made = solved_or_not(ask, step)
    whole = Step(step).is_whole
    for layer in made.layers:
        for opening in layer.openings:
            box = opening.back.box
            assert all(whole(length) for length in (box.x, box.y, box.width, box.height))
            if opening.back.straight:
                assert all(whole(x) and whole(y) for x, y in opening.back.points())
            if opening.back.shape in (Shape.SQUARE, Shape.CIRCLE):
                assert box.width == box.height


@given(ask=shaped_pieces, step=STEPS)
@relaxed
def test_chains_close_over_shaped_openings(ask: Piece, step: Fraction) -> None:
    made = solved_or_not(ask, step)
    for shown in made.apertures:
        assert shown.opening == shown.outline.box
        assert shown.cut.left + shown.opening.width + shown.cut.right == made.blank.width
        assert shown.cut.top + shown.opening.height + shown.cut.bottom == made.blank.height


@given(ask=shaped_pieces, step=STEPS)
@relaxed
def test_the_web_is_the_least_distance_between_faces_and_to_the_sight(ask: Piece, step: Fraction) -> None:
    """Against shapely over every pair. Where all windows are upright only neighbours count, those that stand beside or
    over each other.
    """
    made = solved_or_not(ask, step)
    if not made.layers or made.web is None:
        return
    faces = [opening.face for opening in made.layers[0].openings]
    edges = min(float(face.box.inset_in(made.sight_box).least) for face in faces)
    if all(face.upright for face in faces):
        return
    shapes = [drawn(face) for face in faces]
    pairs = [one.distance(other) for n, one in enumerate(shapes) for other in shapes[:n]]
    assert abs(float(made.web) - min([edges, *pairs])) <= 0.021


@given(ask=shaped_pieces, step=STEPS)
@relaxed
def test_every_shapes_explained_size_is_the_result_of_its_own_sum(ask: Piece, step: Fraction) -> None:
    for explained in solved_or_not(ask, step).sums:
        assert explained.tree.value == explained.value, explained


@given(line=outlines())
@example(line=outline(Shape.OVAL, Box(Fraction(0), Fraction(0), Fraction(60), Fraction(200))))
@relaxed
def test_a_reverse_bevel_is_a_bevel_the_other_way(line: Outline) -> None:
    """Grown and shrunk again by the same, an outline comes back; a polygon's narrow notches would not."""
    assume(line.shape is not Shape.POLYGON)
    there = grown(line, Fraction(7, 5))
    assert there is not None
    back = grown(there, Fraction(-7, 5))
    assert back is not None
    assert drawn(back).exterior.hausdorff_distance(drawn(line).exterior) <= NEAR
