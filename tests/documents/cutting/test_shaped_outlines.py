"""Shaped openings on paper: every drawn line lies on the model's outline within 0.02 mm of the model, in SVG and in
PDF, framed and cut.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from math import hypot, isclose, sqrt, tan

import pytest
from shapely import LineString

from matplan.documents.cutting.diagram import cutting_diagram
from matplan.documents.front.view import front_view
from matplan.drawing import clashes, pdf, svg
from matplan.drawing.sheet import Sheet
from matplan.job.records import Cut, LayerAsk, Piece, Shape, Show
from matplan.lengths import Units
from matplan.mats.gauge import gauge_cuts, reading_order
from matplan.mats.outline_cuts import OutlineCut, outline_cuts, overrun
from matplan.mats.outlines import Outline
from matplan.mats.records import Layer, SolvedPiece
from matplan.mats.shapes.segments import Straight
from tests.documents.flattened import Point, drawn_lines, pdf_lines
from tests.documents.reading import scale_of
from tests.making import WHITE, border, double_mat, frame, mm, piece, planned, window
from tests.readback import Reading, read_svg
from tests.readback import Shape as Drawn

NEAR = 0.02
"""In mm of the model: what a drawn line may leave its outline."""


def corners(*pairs: tuple[object, object]) -> tuple[tuple[Fraction, Fraction], ...]:
    return tuple((Fraction(str(x)), Fraction(str(y))) for x, y in pairs)


GABLE = corners((".5", 0), (1, ".3"), (1, 1), (0, 1), (0, ".3"))
STAR = corners(
    (".5", 0),
    (".65", ".35"),
    (1, ".4"),
    (".73", ".62"),
    (".8", 1),
    (".5", ".8"),
    (".2", 1),
    (".27", ".62"),
    (0, ".4"),
    (".35", ".35"),
)
ELL = corners((0, 0), (".5", 0), (".5", ".5"), (1, ".5"), (1, 1), (0, 1))


def shaped(
    shape: Shape, image: str = "246 x 306 mm", mat: tuple[LayerAsk, ...] | None = None, **changes: object
) -> Piece:
    given: dict[str, object] = {"shape": shape, **changes}
    ask = window(image=image, **given)  # type: ignore[arg-type]
    return piece(frame=frame("40 x 50 cm"), apertures=(ask,), mat=mat or double_mat())


CASES = {
    "circle": shaped(Shape.CIRCLE, "246 x 246 mm"),
    "oval": shaped(Shape.OVAL),
    "long oval": shaped(Shape.OVAL, "106 x 406 mm"),
    "half-round arch": shaped(Shape.ARCH),
    "segmental arch": shaped(Shape.ARCH, rise=mm(50)),
    "low arch": shaped(Shape.ARCH, "246 x 86 mm"),
    "octagon": shaped(Shape.OCTAGON),
    "gable": shaped(Shape.POLYGON, points=GABLE),
    "star": shaped(Shape.POLYGON, "306 x 306 mm", points=STAR),
    "ell": shaped(Shape.POLYGON, points=ELL),
    "reverse oval": shaped(Shape.OVAL, mat=(LayerAsk(board=WHITE, reveal=Fraction(0), cut=Cut.REVERSE),)),
    "floated round": shaped(Shape.CIRCLE, "200 x 200 mm", show=Show.SHEET, gap=mm(8)),
    "oval in a margin": shaped(Shape.OVAL, "200 x 260 mm", show=Show.MARGIN, reveal=mm(10)),
    "many": piece(
        frame=frame("50 x 70 cm"),
        apertures=tuple(
            window(name, image="126 x 126 mm", shape=shape, points=GABLE if shape is Shape.POLYGON else ())
            for name, shape in zip("abcdef", list(Shape)[1:], strict=True)
        ),
        rows=((0, 1, 2), (3, 4, 5)),
        gutter=mm(30),
    ),
}
each_case = pytest.mark.parametrize("case", CASES)


def in_model(points: Iterable[Point], reading: Reading, *, mirrored: bool) -> LineString:
    """Points of paper in the plan's frame of reference, by the blank's place and the scale."""
    (blank,) = (p for p in reading.named("blank") if isinstance(p, Drawn))
    left, top, width, _ = blank.bounds
    scale = float(scale_of(reading))
    return LineString([((left + width - x if mirrored else x - left) / scale, (y - top) / scale) for x, y in points])


def line_of(outline: Outline) -> LineString:
    points = [(float(x), float(y)) for x, y in outline.points(Fraction(1, 2000))]
    return LineString([*points, points[0]])


def check_lines(sheet: Sheet, outlines: dict[str, tuple[str, Outline]], *, mirrored: bool, seen: bool = True) -> None:
    """Every named outline is drawn where it lies, in the SVG by its name, in the PDF by one of the paths if `seen`."""
    content = svg.render(sheet)
    reading = read_svg(content)
    paths = [in_model(points, reading, mirrored=mirrored) for points in pdf_lines(pdf.render(sheet)) if len(points) > 2]
    for key, (name, outline) in outlines.items():
        true = line_of(outline)
        drawn = in_model(drawn_lines(content, name)[key], reading, mirrored=mirrored)
        assert drawn.hausdorff_distance(true) <= NEAR, (name, key)
        assert not seen or min(path.hausdorff_distance(true) for path in paths) <= NEAR, (name, key)


@each_case
def test_the_front_view_draws_the_models_outlines(case: str) -> None:
    plan = planned(CASES[case])
    (solved,) = plan.pieces
    outlines = {}
    for layer in solved.layers:
        for opening in layer.openings:
            outlines[f"{opening.aperture} {layer.number}"] = ("face-opening", opening.face)
    check_lines(front_view(plan.job, solved, {})[0], outlines, mirrored=False)


@each_case
def test_the_cutting_diagram_draws_the_models_outlines(case: str) -> None:
    plan = planned(CASES[case])
    (solved,) = plan.pieces
    for layer in solved.layers:
        sheet = cutting_diagram(plan.job, solved, layer)[0]
        for name in ("back-opening", "face-opening"):
            outlines = {o.aperture: (name, o.back if name == "back-opening" else o.face) for o in layer.openings}
            # a face 1.4 mm from the cut has no line of its own at 1:5 and 1:10
            check_lines(sheet, outlines, mirrored=True, seen=name == "back-opening")


@each_case
@pytest.mark.parametrize("units", [Units.MM, Units.IN])
def test_nothing_clashes(case: str, units: Units) -> None:
    plan = planned(CASES[case], units=units)
    (solved,) = plan.pieces
    assert clashes.check(front_view(plan.job, solved, {})[0]) == ()
    for layer in solved.layers:
        assert {clashes.check(sheet) for sheet in cutting_diagram(plan.job, solved, layer)} == {()}


def test_an_arc_is_drawn_as_an_arc_and_an_ovals_bevel_as_its_parallel() -> None:
    plan = planned(CASES["half-round arch"])
    text = svg.render(cutting_diagram(plan.job, plan.pieces[0], plan.pieces[0].layers[1])[0]).decode()
    (path,) = [line for line in text.replace("<", "\n<").splitlines() if 'class="back-opening"' in line]
    assert " d=" in path
    assert "A24 24 0 0 " in path  # radius 120 at 1:5


@each_case
def test_a_floated_or_margined_work_has_its_windows_shape(case: str) -> None:
    plan = planned(CASES[case])
    (solved,) = plan.pieces
    content = svg.render(front_view(plan.job, solved, {})[0])
    if solved.apertures[0].show is Show.SHEET:
        check_lines(
            front_view(plan.job, solved, {})[0], {"Slipway": ("paper", solved.apertures[0].work)}, mirrored=False
        )
    assert (b"clip" in content) or solved.apertures[0].outline.upright


# --- cuts ------------------------------------------------------------------------------------------------------------


def cuts_of(solved: SolvedPiece, layer: Layer) -> tuple[list[LineString], tuple[OutlineCut, ...]]:
    """Every cut between its marks, and the shaped ones."""
    straight = gauge_cuts(layer, solved.blank, solved.ask.rows)
    shaped = outline_cuts(layer, reading_order(solved.ask.rows), len(straight))
    lines = [LineString([(float(x), float(y)) for x, y in cut.corners]) for cut in straight]
    for cut in shaped:
        points = [p for piece in cut.pieces for p in (piece.start, *piece.inner(Fraction(1, 2000)), piece.end)]
        lines.append(LineString([(float(x), float(y)) for x, y in points]))
    assert [*(cut.number for cut in straight), *(cut.number for cut in shaped)] == list(range(1, len(lines) + 1))
    return lines, shaped


@each_case
def test_the_cuts_between_their_marks_make_up_every_outline(case: str) -> None:
    """Together they are as long as the outlines of the backs, and each lies on one of them."""
    (solved,) = planned(CASES[case]).pieces
    for layer in solved.layers:
        lines, _ = cuts_of(solved, layer)
        backs = [line_of(opening.back) for opening in layer.openings]
        assert isclose(sum(line.length for line in lines), sum(back.length for back in backs), rel_tol=1e-6)
        for line in lines:
            assert any(back.buffer(1e-3).contains(line) for back in backs)


@each_case
def test_every_cut_is_drawn_from_start_to_stop(case: str) -> None:
    plan = planned(CASES[case])
    (solved,) = plan.pieces
    for layer in solved.layers:
        content = svg.render(cutting_diagram(plan.job, solved, layer)[0])
        reading = read_svg(content)
        drawn = drawn_lines(content, "cut")
        _, shaped = cuts_of(solved, layer)
        for cut in shaped:
            line = in_model(drawn[f"{layer.openings[cut.window].aperture} {cut.number}"], reading, mirrored=True)
            (part,) = (p for p in reading.named("cut") if isinstance(p, Drawn) and p.data["number"] == str(cut.number))
            assert part.box is not None
            assert [float(v) for v in part.box[:2]] == pytest.approx(line.bounds[:2], abs=0.12)
            for point, end in ((cut.start, line.coords[0]), (cut.stop, line.coords[-1])):
                if not cut.whole:
                    assert hypot(float(point[0]) - end[0], float(point[1]) - end[1]) <= NEAR


def test_an_octagon_has_four_gauge_cuts_and_four_slopes() -> None:
    (solved,) = planned(CASES["octagon"]).pieces
    layer = solved.layers[1]
    straight = gauge_cuts(layer, solved.blank, solved.ask.rows)
    # opening 240 × 300 in 400 × 500: 80 at the sides, 100 above and below; legs 70
    assert sorted((cut.edge.value, cut.setting) for cut in straight) == [
        (e, Fraction(s)) for e, s in (("bottom", 100), ("left", 80), ("right", 80), ("top", 100))
    ]
    top = next(cut for cut in straight if cut.edge.value == "top")
    assert [x for x, _ in top.corners] == [150, 250]
    # at 135° the blade runs on by t × cot(67.5°) = 1.4 × (√2 − 1)
    assert isclose(top.corners[0][0] - top.start[0], 1.4 * (sqrt(2) - 1), abs_tol=1e-8)
    assert isclose(top.near, 150 - 1.4 * (sqrt(2) - 1), abs_tol=1e-8)
    _, shaped = cuts_of(solved, layer)
    assert [cut.round for cut in shaped] == [None] * 4
    assert shaped[0].marks == corners((250, 100), (320, 170))


def test_the_blade_runs_on_by_the_cotangent_of_half_the_corner() -> None:
    """At the face the cuts meet in the mitred corner, which lies t cot(α/2) further along each side: 90° → t, 60° → t
    √3.
    """
    (solved,) = planned(CASES["ell"]).pieces
    layer = solved.layers[1]
    sides = layer.openings[0].back.segments
    found = [overrun(sides[n - 1], sides[n], layer) for n in range(len(sides))]
    assert sorted(found) == [0, *[Fraction(7, 5)] * 5]  # the reflex corner stops on its mark
    flat = [Straight(start=corners((0, 0))[0], end=corners((2, 0))[0])]
    for degrees in (60, 120):
        slope = (Fraction(2 + (1 if degrees > 90 else -1)), Fraction(round(sqrt(3) * 10**12), 10**12))
        run = overrun(flat[0], Straight(start=corners((2, 0))[0], end=slope), layer)
        assert isclose(run, 1.4 / tan(degrees * 3.141592653589793 / 360), abs_tol=1e-8)


def test_the_cutter_is_set_to_axes_radius_and_centre_as_the_board_lies() -> None:
    plan = planned(
        piece(
            apertures=(window(image="206 x 306", shape=Shape.OVAL),),
            border=border(top="50", right="40", bottom="70", left="60"),
        )
    )
    (solved,) = plan.pieces
    texts = [t.text for t in read_svg(svg.render(cutting_diagram(plan.job, solved, solved.layers[0])[0])).texts]
    # both axes and their difference, at the back and, a bevel's thickness of 1.4 further out all round, at the face
    at = texts.index("200 × 300 (100) back")
    assert texts[at + 1] == "202.8 × 302.8 (100) face"
    # cut borders 55, 45, 75, 65: the plan's right border 45 is at the left as it lies: 45 + 200/2, 55 + 300/2
    assert texts[at + 2] == "145 · 205"
    arch = planned(CASES["segmental arch"])
    texts = [
        t.text
        for t in read_svg(svg.render(cutting_diagram(arch.job, arch.pieces[0], arch.pieces[0].layers[1])[0])).texts
    ]
    at = texts.index("arc, radius 169 back")  # (120² + 50²) / (2 × 50)
    assert texts[at + 1 : at + 3] == ["radius 170.4 face", "200 · 269"]  # 100 + 169


def test_slopes_are_set_out_from_the_left_and_the_top() -> None:
    plan = planned(CASES["gable"])
    (solved,) = plan.pieces
    texts = [t.text for t in read_svg(svg.render(cutting_diagram(plan.job, solved, solved.layers[1])[0])).texts]
    at = texts.index("200 · 100")  # the ridge: 80 + 120 from either side, 100 from the top
    assert texts[at - 1 : at + 2] == ["320 · 190", "200 · 100", "5"] or texts[at + 1] == "80 · 190"
    assert {"80 · 190", "320 · 190", "200 · 100"} <= set(texts)  # the eaves: 100 + 0.3 × 300
