"""Outlines of every shape: their lines, bounds and areas, and what reveals and bevels make of them, with the sum beside
each number.

Formulas: circle π r², ellipse π a b, circular segment r² (θ − sin θ) / 2, chord and rise r = (c²/4 + h²) / 2h, radius
of curvature at an ellipse's ends b²/a, regular octagon 2 (√2 − 1) s² with s across flats (school geometry); Steiner's
formula A + p t + π t² for the area of a parallel (published: J. Steiner, Über parallele Flächen, 1840, as every text on
convex bodies quotes it; from memory); Ramanujan's second approximation of an ellipse's perimeter (1914; from memory),
within 1e-9 for the flatness used here.
"""

from __future__ import annotations

import subprocess
import sys
from fractions import Fraction
from math import asin, hypot, isclose, pi, sin, sqrt
from typing import Any

import pytest

from matplan.job.records import Cut, LayerAsk, Shape, Show
from matplan.lengths import Box, Printer, Sides, Size, Step, Units
from matplan.mats.outlines import Outline, enlarged, grown, outline
from matplan.mats.shapes.roots import Point
from matplan.mats.shapes.segments import Arc, Parallel, Straight
from matplan.mats.windows import Unsolvable
from tests.making import WHITE, border, double_mat, frame, mm, solved, window

STEP = Step(Fraction(1))
T = Fraction(7, 5)
GABLE = (
    (Fraction(1, 2), Fraction(0)),
    (Fraction(1), Fraction(1, 2)),
    (Fraction(1), Fraction(1)),
    (Fraction(0), Fraction(1)),
    (Fraction(0), Fraction(1, 2)),
)
TRIANGLE = ((Fraction(1, 2), Fraction(0)), (Fraction(1), Fraction(1)), (Fraction(0), Fraction(1)))


def box(x: object, y: object, width: object, height: object) -> Box:
    return Box(*(Fraction(str(length)) for length in (x, y, width, height)))


def way(*points: tuple[Fraction | int, Fraction | int]) -> tuple[Point, ...]:
    return tuple((Fraction(x), Fraction(y)) for x, y in points)


def moved(line: Outline, by: Fraction) -> Outline:
    found = grown(line, by)
    assert found is not None
    return found


def larger(line: Outline, by: object) -> Outline:
    found = enlarged(line, mm(by), STEP)
    assert found is not None
    return found


# --- rectangles, circles, ovals --------------------------------------------------------------------------------------


def test_a_rectangle_is_its_box_clockwise_from_the_top_left() -> None:
    line = outline(Shape.RECTANGLE, box(10, 20, 30, 40))
    assert line.upright
    assert line.points() == way((10, 20), (40, 20), (40, 60), (10, 60))
    assert line.area == 1200
    assert moved(line, T).box == box("8.6", "18.6", "32.8", "42.8")  # grown by 1.4 on every side


def test_rectangles_never_import_shapely() -> None:
    code = (
        "import sys; from tests.making import *; from matplan.mats.solve import solve;"
        "solved(frame=frame('40x50 cm'), mat=double_mat(), apertures=(window(image='250x300 mm'),)); "
        "print('shapely' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "False\n"


def test_a_circle_is_four_quarter_arcs_from_its_leftmost_point() -> None:
    line = outline(Shape.CIRCLE, box(10, 20, 200, 200))
    assert [type(piece) for piece in line.line] == [Arc] * 4
    assert tuple(piece.start for piece in line.line) == way((10, 120), (110, 20), (210, 120), (110, 220))
    assert isclose(line.area, pi * 100**2, abs_tol=1e-6)


def test_points_lie_on_the_circle_and_their_chords_within_the_tolerance() -> None:
    points = outline(Shape.CIRCLE, box(0, 0, 200, 200)).points()
    for (x, y), (u, v) in zip(points, [*points[1:], points[0]], strict=True):
        assert isclose(hypot(x - 100, y - 100), 100, abs_tol=1e-8)
        assert 100 - hypot((x + u) / 2 - 100, (y + v) / 2 - 100) <= 0.01
    assert len(points) == 224  # 4 × ⌈(π/2) / (2 arccos(1 − 0.01/100))⌉ = 4 × ⌈1.5708 / 0.028285⌉ = 4 × 56


def test_a_bevel_makes_a_larger_circle_of_a_circle() -> None:
    face = moved(outline(Shape.CIRCLE, box(10, 20, 200, 200)), T)
    assert face.ellipse
    assert face.box == box("8.6", "18.6", "202.8", "202.8")  # r = 100 + 1.4


def test_an_oval_in_front_has_both_axes_longer_by_two_reveals() -> None:
    front = larger(outline(Shape.OVAL, box(10, 20, 200, 300)), 6)
    assert front.ellipse
    assert front.box == box(4, 14, 212, 312)
    assert isclose(front.area, pi * 106 * 156, abs_tol=1e-6)


def test_a_bevel_makes_the_parallel_of_an_ellipse_and_that_is_none() -> None:
    """Steiner: area = A + p t + π t². Perimeter by Ramanujan: π (a + b) (1 + 3 h / (10 + √(4 − 3 h))), h = (a − b)² /
    (a + b)².
    """
    line = outline(Shape.OVAL, box(0, 0, 200, 300))
    face = moved(line, T)
    assert all(isinstance(piece, Parallel) for piece in face.line)
    assert face.box == box("-1.4", "-1.4", "202.8", "302.8")
    h = (150 - 100) ** 2 / (150 + 100) ** 2  # 0.04
    perimeter = pi * 250 * (1 + 3 * h / (10 + sqrt(4 - 3 * h)))  # 793.272
    assert isclose(face.area, pi * 100 * 150 + perimeter * 1.4 + pi * 1.4**2, abs_tol=1e-4)
    assert not isclose(
        face.area, pi * 101.4 * 151.4, abs_tol=5
    )  # 48233.6 and 48229.6 … the ellipse of the box is smaller


def test_a_parallels_points_are_the_thickness_away_from_the_ellipse() -> None:
    from shapely import LinearRing, Point

    line = outline(Shape.OVAL, box(0, 0, 60, 200))
    back = LinearRing([(float(x), float(y)) for x, y in line.points(Fraction(1, 10000))])
    for by in (T, -T):
        assert all(abs(back.distance(Point(float(x), float(y))) - 1.4) < 2e-4 for x, y in moved(line, by).points())


def test_a_reverse_bevel_on_a_narrow_oval_ends_in_two_corners_on_the_long_axis() -> None:
    """At the ends the radius of curvature is b²/a = 10²/100 = 1, less than 1.4: the quarters meet on the axis before
    its end.
    """
    line = outline(Shape.OVAL, box(0, 0, 200, 20))
    face = moved(line, -T)
    sines = (1.4**2 * 100**2 / 10**2 - 10**2) / (100**2 - 10**2)  # (196 − 100) / 9900
    end = 100 * sqrt(1 - sines) - 1.4 * 10 * sqrt(1 - sines) / sqrt(
        10**2 * (1 - sines) + 100**2 * sines
    )  # = 99.514 − 0.995
    assert isclose(face.box.width, 2 * end, abs_tol=1e-6)
    assert face.box.y == mm("1.4")
    lying, upright = face, moved(outline(Shape.OVAL, box(0, 0, 20, 200)), -T)
    assert isclose(lying.box.width, upright.box.height, abs_tol=1e-8)
    assert isclose(lying.area, upright.area, abs_tol=1e-3)


def test_a_reverse_bevel_closes_an_oval_that_is_no_wider_than_two_boards() -> None:
    assert grown(outline(Shape.OVAL, Box(Fraction(0), Fraction(0), Fraction(100), 2 * T)), -T) is None


# --- arches ----------------------------------------------------------------------------------------------------------


def test_an_arch_is_half_round_where_the_height_allows() -> None:
    line = outline(Shape.ARCH, box(0, 0, 200, 300), step=STEP)
    arc, right, base, left = line.line
    assert isinstance(arc, Arc)
    assert arc.rx == arc.ry == 100  # rise = 200 / 2
    assert (arc.centre, arc.start, arc.end) == way((100, 100), (0, 100), (200, 100))
    assert (right, base, left) == (
        Straight(start=(mm(200), mm(100)), end=(mm(200), mm(300))),
        Straight(start=(mm(200), mm(300)), end=(mm(0), mm(300))),
        Straight(start=(mm(0), mm(300)), end=(mm(0), mm(100))),
    )
    assert isclose(line.area, 200 * 200 + pi * 100**2 / 2, abs_tol=1e-6)


def test_a_segmental_arch_has_the_radius_of_its_chord_and_rise() -> None:
    line = outline(Shape.ARCH, box(0, 0, 240, 300), rise=mm(50), step=STEP)
    arc = line.line[0]
    assert isinstance(arc, Arc)
    assert arc.rx == Fraction(169)  # (120² + 50²) / (2 × 50) = 16900 / 100
    assert (arc.centre, arc.start) == way((120, 169), (0, 50))
    angle = 2 * asin(120 / 169)
    assert isclose(line.area, 240 * 250 + 169**2 * (angle - sin(angle)) / 2, abs_tol=1e-6)


def test_a_rise_is_cut_to_the_nearest_step() -> None:
    arc = outline(Shape.ARCH, box(0, 0, 240, 300), rise=mm("49.6"), step=STEP).line[0]
    assert (arc.start,) == way((0, 50))


def test_a_low_opening_gets_an_arc_over_its_whole_height() -> None:
    line = outline(Shape.ARCH, box(0, 0, 200, 60), step=STEP)
    arc, base = line.line
    assert isinstance(arc, Arc)
    assert arc.rx == Fraction(100**2 + 60**2, 120)
    assert base == Straight(start=(mm(200), mm(60)), end=(mm(0), mm(60)))


def test_an_arch_grows_by_radius_sides_and_base_and_its_springing_follows() -> None:
    face = moved(outline(Shape.ARCH, box(0, 0, 240, 300), rise=mm(50), step=STEP), T)
    arc = face.line[0]
    assert isinstance(arc, Arc)
    assert face.box == box("-1.4", "-1.4", "242.8", "302.8")
    assert arc.rx == 169 + T
    assert (arc.centre,) == way((120, 169))
    assert isclose(arc.start[1], 169 - sqrt(170.4**2 - 121.4**2), abs_tol=1e-8)  # 49.42: where the arc meets the side
    front = larger(outline(Shape.ARCH, box(0, 0, 240, 300), rise=mm(50), step=STEP), 6)
    assert front.box == box(-6, -6, 252, 312)


def test_a_half_round_arch_stays_half_round() -> None:
    for line in (
        moved(outline(Shape.ARCH, box(0, 0, 200, 300)), T),
        larger(outline(Shape.ARCH, box(0, 0, 200, 300)), 6),
    ):
        arc = line.line[0]
        assert isinstance(arc, Arc)
        assert arc.rx == line.box.width / 2
        assert (arc.start,) == way((line.box.x, 100))


def test_the_corners_of_an_arch_without_sides_are_mitred() -> None:
    """The arc goes on to the level of the new base: half width √(R² − (y − base)²)."""
    line = outline(Shape.ARCH, box(0, 0, 200, 60), step=STEP)
    radius = Fraction(100**2 + 60**2, 120)  # 113.33, centre 53.33 below the base
    half = sqrt((radius + T) ** 2 - (radius - 60 - T) ** 2)
    assert isclose(moved(line, T).box.width, 2 * half, abs_tol=1e-8)
    assert larger(line, 6).box == box(-6, -6, 212, 72)


def test_a_lunette_gets_short_sides() -> None:
    line = outline(Shape.ARCH, box(0, 0, 200, 100))
    assert len(line.line) == 2
    assert moved(line, T).box == box("-1.4", "-1.4", "202.8", "102.8")
    assert len(moved(line, T).line) == 4


@pytest.mark.parametrize(("width", "height", "rise"), [("2.8", 100, None), (100, "2.8", None), (300, "2.9", "2.9")])
def test_a_reverse_bevel_may_close_an_arch(width: object, height: object, rise: object) -> None:
    line = outline(Shape.ARCH, box(0, 0, width, height), rise=None if rise is None else mm(rise))
    face = grown(line, -T)
    assert face is None or face.box.height > 0


# --- octagons --------------------------------------------------------------------------------------------------------


def test_a_squares_octagon_is_regular() -> None:
    line = outline(Shape.OCTAGON, box(0, 0, 200, 200))
    assert len(line.line) == 8
    assert isclose(line.area, 2 * (sqrt(2) - 1) * 200**2, abs_tol=1e-5)
    sides = [hypot(p.end[0] - p.start[0], p.end[1] - p.start[1]) for p in line.line]
    assert isclose(min(sides), max(sides), abs_tol=1e-8)
    assert isclose(sides[0], 200 / (1 + sqrt(2)), abs_tol=1e-8)


def test_an_octagons_corners_are_cut_at_45_degrees_by_whole_steps() -> None:
    line = outline(Shape.OCTAGON, box(10, 20, 240, 300), step=STEP)
    leg = 70  # 240 × (1 − 0.70711) = 70.29, to the nearest step
    upper = (10 + leg, 20), (250 - leg, 20), (250, 20 + leg), (250, 320 - leg)
    assert line.points() == way(*upper, (250 - leg, 320), (10 + leg, 320), (10, 320 - leg), (10, 20 + leg))
    assert line.area == 240 * 300 - 2 * leg**2


def test_an_octagon_in_front_keeps_its_corners_at_45_degrees() -> None:
    front = larger(outline(Shape.OCTAGON, box(10, 20, 240, 300), step=STEP), 6)
    assert front.box == box(4, 14, 252, 312)
    assert front.points()[:1] == way((4 + 74, 14))  # 70 + 6 × (2 − √2) = 73.51, to the nearest step


def test_an_octagon_grows_by_the_same_along_every_normal() -> None:
    face = moved(outline(Shape.OCTAGON, box(10, 20, 240, 300), step=STEP), T)
    (x, y), *_ = face.points()
    assert face.box == box("8.6", "18.6", "242.8", "302.8")
    assert isclose(x - face.box.x, 70 + 1.4 * (2 - sqrt(2)), abs_tol=1e-8)
    # the corner's line x + y is √2 × 1.4 nearer to the corner
    assert isclose((80 + 20) - (x + y), 1.4 * sqrt(2), abs_tol=1e-8)


# --- polygons --------------------------------------------------------------------------------------------------------


def test_a_polygons_corners_are_fractions_of_its_opening() -> None:
    line = outline(Shape.POLYGON, box(10, 20, 240, 300), points=GABLE, step=STEP)
    assert line.points() == way((130, 20), (250, 170), (250, 320), (10, 320), (10, 170))
    assert line.area == 240 * 300 - 120 * 150  # two triangles of 120 × 150 / 2


def test_corners_stand_on_steps() -> None:
    line = outline(
        Shape.POLYGON,
        box(0, 0, 201, 151),
        points=((Fraction(1, 3), Fraction(0)), (Fraction(1), Fraction(1)), (Fraction(0), Fraction(1))),
        step=STEP,
    )
    assert line.points() == way((67, 0), (201, 151), (0, 151))


def test_a_polygon_that_does_not_reach_its_box_has_smaller_bounds() -> None:
    points = tuple((Fraction(1, 4) + x / 2, y) for x, y in TRIANGLE)
    assert outline(Shape.POLYGON, box(0, 0, 200, 100), points=points, step=STEP).box == box(50, 0, 100, 100)


def test_points_the_other_way_round_make_the_same_opening() -> None:
    one, other = (outline(Shape.POLYGON, box(0, 0, 200, 100), points=p, step=STEP) for p in (TRIANGLE, TRIANGLE[::-1]))
    assert one == other


def test_points_on_a_straight_line_are_no_corners() -> None:
    points = (
        (Fraction(1, 2), Fraction(0)),
        (Fraction(1), Fraction(1)),
        (Fraction(1, 2), Fraction(1)),
        (Fraction(0), Fraction(1)),
    )
    assert len(outline(Shape.POLYGON, box(0, 0, 200, 100), points=points, step=STEP).line) == 3


def test_a_triangles_corners_are_mitred() -> None:
    """Legs 300 and 400, hypotenuse 500: a parallel at t is similar, the inradius (300 + 400 − 500) / 2 = 100 grown to
    101.4.
    """
    points = ((Fraction(0), Fraction(0)), (Fraction(1), Fraction(1)), (Fraction(0), Fraction(1)))
    face = moved(outline(Shape.POLYGON, box(0, 0, 400, 300), points=points, step=STEP), T)
    assert isclose(face.box.width, 400 * 1.014, abs_tol=1e-8)
    assert isclose(face.box.height, 300 * 1.014, abs_tol=1e-8)
    assert face.box.x == -T
    assert face.box.bottom == 300 + T


def test_a_bevel_into_a_notch_shortens_the_boards_tongue_by_its_thickness() -> None:
    """An L: the reflex corner moves inwards on both axes, all others outwards."""
    points = tuple(
        (Fraction(x), Fraction(y)) for x, y in ((0, 0), ("1/2", 0), ("1/2", "1/2"), (1, "1/2"), (1, 1), (0, 1))
    )
    face = moved(outline(Shape.POLYGON, box(0, 0, 200, 100), points=points, step=STEP), T)
    assert face.points() == (
        (-T, -T),
        (100 + T, -T),
        (100 + T, 50 - T),
        (200 + T, 50 - T),
        (200 + T, 100 + T),
        (-T, 100 + T),
    )


# --- in a piece ------------------------------------------------------------------------------------------------------


def shaped(shape: Shape, image: str = "246 x 306 mm", **changes: Any) -> dict[str, Any]:
    return {"frame": frame("40x50 cm"), "apertures": (window(image=image, shape=shape, **changes),)}


def test_every_layer_follows_the_shape() -> None:
    made = solved(**shaped(Shape.OVAL), mat=double_mat())
    front, clear = (layer.openings[0] for layer in made.layers)
    assert clear.back.box == box(80, 100, 240, 300)  # 246 − 6, 306 − 6; (400 − 240)/2, (500 − 300)/2
    assert front.back.box == box(74, 94, 252, 312)
    assert front.back.ellipse
    assert isinstance(front.face.line[0], Parallel)


def test_a_polygons_borders_run_from_its_bounds() -> None:
    points = tuple((Fraction(1, 4) + x / 2, y) for x, y in TRIANGLE)
    made = solved(**shaped(Shape.POLYGON, points=points))
    (shown,) = made.apertures
    assert shown.opening == box(140, 100, 120, 300)  # a quarter of 240 in from 80 on both sides
    assert shown.cut == Sides(top=mm(100), right=mm(140), bottom=mm(100), left=mm(140))
    assert shown.overlap == Sides(top=mm(3), right=mm(63), bottom=mm(3), left=mm(63))  # 3 + 60


def test_the_mats_mass_leaves_out_the_true_opening() -> None:
    made = solved(**shaped(Shape.CIRCLE, image="206 x 206 mm"))
    mat = next(part for part in made.stack.parts if part.part == "mat")
    assert mat.mass is not None
    assert isclose(mat.mass, (400 * 500 - pi * 100**2) * 1.4e-9 * 654, abs_tol=1e-9)


def test_the_web_between_circles_is_the_board_that_is_left_between_them() -> None:
    """Centres 200 + 30 apart, radii 100 + 1.4: 230 − 202.8 = 27.2; diagonal neighbours are further apart."""
    made = solved(
        apertures=tuple(window(name, image="206 x 206 mm", shape=Shape.CIRCLE) for name in "abcd"),
        rows=((0, 1), (2, 3)),
        gutter=mm(30),
        border=border("60 mm"),
    )
    assert made.web == mm("27.2")


def test_the_web_between_an_arch_and_a_window_above_it_is_measured_along_the_normal() -> None:
    """Between a circle and a square of 100 with a gutter of 10 side by side: the circle's side touches its box, 10 − 2
    × 1.4.
    """
    made = solved(
        apertures=(
            window("a", image="106 x 106 mm", shape=Shape.CIRCLE),
            window("b", image="106 x 106 mm", shape=Shape.SQUARE),
        ),
        rows=((0, 1),),
        gutter=mm(10),
        border=border("60 mm"),
    )
    assert made.web == mm("7.2")
    assert [f.code for f in made.findings if f.code == "thin-web"] == ["thin-web"]
    triangles = solved(
        apertures=tuple(
            window(n, image="106 x 106 mm", shape=Shape.POLYGON, points=TRIANGLE[:: -1 if n == "b" else 1])
            for n in "ab"
        ),
        rows=((0, 1),),
        gutter=mm(10),
        border=border("60 mm"),
    )
    # the slanted sides' corners reach 1.4 × (1 + √5) / 2 = 2.2652 beyond the base's ends (normal (2, −1)/√5, mitred):
    # 10 − 4.5305
    assert triangles.web is not None
    assert isclose(triangles.web, 10 - 1.4 * (1 + sqrt(5)), abs_tol=1e-6)


def test_a_floated_round_work_is_cut_round() -> None:
    made = solved(**shaped(Shape.CIRCLE, image="200 x 200 mm", show=Show.SHEET, gap=mm(8)))
    (shown,) = made.apertures
    assert shown.opening.size == Size(mm(216), mm(216))  # 200 + 2 × 8
    assert shown.work.shape is Shape.CIRCLE
    assert shown.work.box == shown.opening.grown(Fraction(-8))
    assert shown.gap == Sides.all(mm(8))


def test_a_margin_follows_the_shape() -> None:
    made = solved(**shaped(Shape.OCTAGON, image="200 x 240 mm", show=Show.MARGIN, reveal=mm(10)))
    (shown,) = made.apertures
    assert shown.work.shape is Shape.OCTAGON
    assert shown.work.box == shown.image
    assert shown.reveal == Sides.all(mm(10))


def test_a_square_window_floats_a_square_sheet() -> None:
    made = solved(**shaped(Shape.SQUARE, image="200 x 150 mm", show=Show.SHEET, gap=mm(5)))
    (shown,) = made.apertures
    assert shown.opening.size == Size(mm(160), mm(160))  # the shorter side 150 + 2 × 5
    assert shown.gap == Sides.all(mm(5))


def test_behind_a_covering_mat_the_work_is_the_whole_image() -> None:
    (shown,) = solved(**shaped(Shape.CIRCLE, image="206 x 206 mm")).apertures
    assert shown.work == Outline(shape=Shape.RECTANGLE, box=shown.image)


def told(shape: Shape, units: Units = Units.MM, **changes: Any) -> list[str]:
    made = solved(units=units, **shaped(shape, **changes))
    return [line.in_words(Printer(units, Step.usual(units))) for line in made.sums]


def test_an_archs_radius_and_an_octagons_leg_are_explained() -> None:
    assert "arch's radius and rise 120 mm = opening 240 ÷ 2" in told(Shape.ARCH)
    assert "arch's radius 169 mm = (half width 120 × half width 120 + rise 50 × rise 50) ÷ (2 × rise 50)" in told(
        Shape.ARCH, rise=mm(50)
    )
    inches = told(Shape.ARCH, Units.IN, image="6 1/4 x 8 1/4 in", overlap=mm("1/8 in"), rise=mm("2 in"))
    assert "arch's radius 3 1/4 in = (half width 3 × half width 3 + rise 2 × rise 2) ÷ (2 × rise 2)" in inches  # 13 / 4
    leg = (
        "leg of the corners 70 mm = shorter side 240 × a regular octagon's part about 0.2929 = about "
        "70.294, to the nearest step"
    )
    assert leg in told(Shape.OCTAGON)


# --- what cannot be cut ----------------------------------------------------------------------------------------------


def refused(where: str, words: str, **changes: Any) -> None:
    with pytest.raises(Unsolvable) as fault:
        solved(**changes)
    assert fault.value.where == where
    assert words in fault.value.text


def joined(low: Fraction, high: Fraction) -> tuple[Point, ...]:
    """Two halves joined by a slot between two heights."""
    a, b, zero, one = Fraction(2, 5), Fraction(3, 5), Fraction(0), Fraction(1)
    upper = ((zero, zero), (a, zero), (a, low), (b, low), (b, zero), (one, zero))
    lower = ((one, one), (b, one), (b, high), (a, high), (a, one), (zero, one))
    return upper + lower


def test_an_arch_rises_no_higher_than_half_its_width() -> None:
    words = "the arch rises 121 mm; in an opening of 240 × 300 mm it is at most half its width, 120 mm"
    refused("rise", words, **shaped(Shape.ARCH, rise=mm(121)))


def test_an_arch_rises_no_higher_than_its_opening() -> None:
    refused("rise", "it is at most its height, 50 mm", **shaped(Shape.ARCH, image="246 x 56 mm", rise=mm(51)))


def test_a_spike_is_refused() -> None:
    """tan(α/2) = 10 / 300 at the apex, below 1/10."""
    points = tuple((Fraction(x), Fraction(y)) for x, y in (("1/2", 0), ("13/24", 1), ("11/24", 1)))
    refused("points", "a corner too sharp to cut", **shaped(Shape.POLYGON, points=points))


def test_a_corner_as_blunt_as_allowed_is_cut() -> None:
    """tan(α/2) = 30 / 300 = 1/10 exactly."""
    points = tuple((Fraction(x), Fraction(y)) for x, y in (("1/2", 0), ("5/8", 1), ("3/8", 1)))
    assert solved(**shaped(Shape.POLYGON, points=points)).layers


def test_a_neck_thinner_than_the_board_is_refused() -> None:
    """Two squares joined by a slot of 1 mm where the board is 1.4 mm thick."""
    low, high = Fraction("199/400"), Fraction("201/400")
    points = joined(low, high)
    refused(
        "points",
        "is in places narrower than the board is thick",
        **shaped(Shape.POLYGON, image="206 x 206 mm", points=points),
    )


def test_a_tongue_of_board_thinner_than_the_board_is_refused() -> None:
    """A slit of board 1 mm wide between two halves."""
    low, high = Fraction("199/400"), Fraction("201/400")
    points = tuple(
        (Fraction(x), Fraction(y))
        for x, y in ((0, 0), (low, 0), (low, "4/5"), (high, "4/5"), (high, 0), (1, 0), (1, 1), (0, 1))
    )
    refused(
        "points",
        "leaves board that is narrower than the board is thick",
        **shaped(Shape.POLYGON, image="206 x 206 mm", points=points),
    )


def test_a_reverse_bevel_that_splits_a_polygon_is_refused() -> None:
    """A neck of 2 mm: thicker than the board of 1.4 mm, but closed by 2 × 1.4."""
    low, high = Fraction(99, 200), Fraction(101, 200)
    points = joined(low, high)
    mat = (LayerAsk(board=WHITE, reveal=Fraction(0), cut=Cut.REVERSE),)
    refused(
        "mat",
        "a reverse bevel closes or splits the opening",
        mat=mat,
        **shaped(Shape.POLYGON, image="206 x 206 mm", points=points),
    )


def test_corners_that_fall_on_one_step_are_refused() -> None:
    points = tuple((Fraction(x), Fraction(y)) for x, y in ((0, 0), ("1/1000", 0), (0, "1/1000")))
    refused("points", "points fall together on steps of 1 mm", **shaped(Shape.POLYGON, points=points))


def test_a_sharp_corner_that_reaches_under_the_lip_is_refused() -> None:
    """The front layer's corners go further than its reveal: here sideways by 30 × (1 + √2) and more."""
    refused(
        "frame",
        "reaches under the lip",
        mat=double_mat("60 mm"),
        **shaped(Shape.POLYGON, image="226 x 126 mm", points=TRIANGLE),
    )


def test_a_reveal_that_leaves_only_parts_of_the_image_is_refused() -> None:
    """Two squares of 160 joined by a neck of 40 in an opening of 400: 30 on each side close it."""
    low, high = Fraction(9, 20), Fraction(11, 20)
    points = joined(low, high)
    asked = shaped(Shape.POLYGON, image="240 x 240 mm", show=Show.MARGIN, reveal=mm(30), points=points)
    refused("reveal", "the reveal leaves nothing of the polygon, or only parts of it", **asked)
