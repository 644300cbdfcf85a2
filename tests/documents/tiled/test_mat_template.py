"""The template: its sheets, joined by their own marks, are the mat at full size, measured on the lines of the PDF
itself.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path as Folder
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, MultiLineString, Point, Polygon, box, union_all

import matplan
from matplan.documents.parts.windowed import Window, runs
from matplan.documents.tiled.lines import LAYER_PENS, WORK_PEN, template_lines
from matplan.documents.tiled.mat_template import template
from matplan.drawing import clashes, pdf
from matplan.drawing.arcs import chords
from matplan.drawing.items import ArcTo, Path, To
from matplan.drawing.pens import Pen
from matplan.job.records import LayerAsk, Piece, Shape, Show
from matplan.lengths import Box, Units
from matplan.mats.letters import letter_of
from matplan.mats.outlines import Outline, outline
from matplan.mats.records import SolvedPiece
from matplan.planning import Plan
from tests.documents.full_size import Printed, assembled, joined, printed
from tests.laws.strategies import pieces, plan_of
from tests.making import CHARCOAL, border, double_mat, frame, mm, piece, planned, window
from tests.readback import read_pdf

TENTH = 0.1
"""How far a line may lie from where the plan has it, in mm, over all sheets."""
SHAPES = (Shape.OVAL, Shape.ARCH, Shape.OCTAGON, Shape.RECTANGLE, Shape.CIRCLE, Shape.POLYGON)
TRIPLE = (*double_mat(), LayerAsk(board=CHARCOAL, reveal=Fraction(5)))


def one(takes: str, image: str, units: Units = Units.MM, shape: Shape = Shape.RECTANGLE, **changes: Any) -> Plan:
    return planned(
        piece(frame=frame(takes=takes), apertures=(window(image=image, shape=shape),), **changes), units=units
    )


def many() -> Plan:
    """Six windows of every shape, in two rows."""
    points = ((Fraction(1, 2), Fraction(0)), (Fraction(1), Fraction(1)), (Fraction(0), Fraction(1)))
    asks = tuple(
        window(f"w{n}", image="150 x 150", shape=shape, points=points if shape is Shape.POLYGON else ())
        for n, shape in enumerate(SHAPES)
    )
    return planned(
        piece(apertures=asks, rows=((0, 1, 2), (3, 4, 5)), gutter=mm("25"), border=border("55"), mat=double_mat())
    )


def sheets_of(plan: Plan) -> tuple[Printed, ...]:
    return printed(pdf.render(template(plan.job, plan.pieces[0])))


PLANS = {
    "40 x 50 cm": lambda: one("400 x 500 mm", "250 x 300 mm"),
    "three layers": lambda: one("400 x 500 mm", "250 x 300 mm", mat=TRIPLE),
    "oval": lambda: one("400 x 500 mm", "250 x 300 mm", mat=double_mat(), shape=Shape.OVAL),
    "arch": lambda: one("300 x 400 mm", "200 x 270 mm", shape=Shape.ARCH),
    "one sheet": lambda: one("150 x 200 mm", "100 x 120 mm"),
    "with waste": lambda: one("1000 x 1500 mm", "700 x 1100 mm"),
    "round, with waste": lambda: one("1000 x 1000 mm", "900 x 900 mm", shape=Shape.CIRCLE),
    "inches": lambda: one("16 x 20 in", "10 x 12 in", units=Units.IN),
    "every shape": many,
}


@pytest.fixture(params=PLANS)
def plan(request: pytest.FixtureRequest) -> Plan:
    made = PLANS[request.param]()
    assert isinstance(made, Plan)
    return made


def model(piece: SolvedPiece) -> dict[Pen, list[LineString]]:
    """The lines of the plan by the pen that draws them."""

    def line(of: Outline) -> LineString:
        points = [(float(x), float(y)) for x, y in of.points()]
        return LineString([*points, points[0]])

    blank = Outline(shape=Shape.RECTANGLE, box=Box.of(piece.blank))
    layers = {
        LAYER_PENS[layer.number - 1]: [line(opening.back) for opening in layer.openings] for layer in piece.layers
    }
    return {Pen.OUTLINE: [line(blank)], **layers}


def shown(sheet: Printed, move: tuple[float, float]) -> Polygon:
    """What a joined sheet shows of the plan: all but 10 mm along its edges and the strip of 18 mm at its foot."""
    (x, y), (width, height) = move, sheet.reading.size
    return box(x + 10, y + 10, x + width - 10, y + height - 28)


# --- at full size -----------------------------------------------------------------------------------------------------


def test_the_joined_sheets_are_the_mat_at_full_size(plan: Plan) -> None:
    solved, sheets = plan.pieces[0], sheets_of(plan)
    corner = MultiLineString(assembled(sheets, Pen.OUTLINE)).bounds[:2]
    for pen, lines in model(solved).items():
        drawn = [[(x - corner[0], y - corner[1]) for x, y in points] for points in assembled(sheets, pen)]
        wanted, found = MultiLineString(lines), MultiLineString(drawn)
        # nothing is missing, and nothing is drawn that the plan has not
        samples = [wanted.interpolate(n, normalized=True) for n in [k / 2000 for k in range(2001)]]
        assert max(found.distance(at) for at in samples) <= TENTH
        assert max(wanted.distance(Point(at)) for points in drawn for at in points) <= TENTH


def test_the_halves_of_every_mark_meet(plan: Plan) -> None:
    moves, gap = joined(sheets_of(plan))
    assert gap <= 0.02
    assert len(set(moves)) == len(moves)


def test_every_two_neighbours_share_two_marks_and_ten_millimetres(plan: Plan) -> None:
    sheets = sheets_of(plan)
    moves, _ = joined(sheets)
    windows = [shown(sheet, move) for sheet, move in zip(sheets, moves, strict=True)]
    for first, one_window in enumerate(windows):
        for second in range(first + 1, len(windows)):
            common = one_window.intersection(windows[second])
            if common.is_empty:
                continue
            left, top, right, bottom = common.bounds
            if max(right - left, bottom - top) > 11:  # not only a corner
                assert min(right - left, bottom - top) >= 9.99
                assert len(sheets[first].marks.keys() & sheets[second].marks.keys()) == 2
    assert all(sheet.marks or len(sheets) == 1 for sheet in sheets)


def test_nothing_is_drawn_outside_what_a_printer_reaches(plan: Plan) -> None:
    for sheet in sheets_of(plan):
        width, height = sheet.reading.size
        for stroke in sheet.strokes:
            assert all(9.99 <= x <= width - 9.99 and 9.99 <= y <= height - 9.99 for x, y in stroke.points)


def test_the_ruler_is_as_long_as_it_says(plan: Plan) -> None:
    """An inch is 25.4 mm exactly (international yard and pound, 1959)."""
    long, label = (101.6, "4 in") if plan.job.units is Units.IN else (100.0, "100 mm")
    for sheet in sheets_of(plan):
        assert sheet.reading.says(f"Check: {label} from end to end. Print at 100 %, no fitting.")
        low = sheet.reading.size[1] - 10.4
        ends = [stroke.points for stroke in sheet.of(Pen.EDGE) if all(abs(y - low) < 0.01 for _, y in stroke.points)]
        assert [round(abs(a[0] - b[0]), 3) for a, b in ends] == [long]
        ticks = [
            x for stroke in sheet.strokes if len(stroke.points) > 2 for x, y in stroke.points if abs(y - low) < 0.01
        ]
        assert max(ticks) - min(ticks) == pytest.approx(long, abs=0.001)


# --- which sheets -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("takes", "image", "units", "count", "lying"),
    [
        # A4 shows 190 × 259 mm upright; two rows 508, three columns 550
        ("400 x 500 mm", "250 x 300 mm", Units.MM, 6, False),
        ("300 x 400 mm", "200 x 250 mm", Units.MM, 4, False),
        # A4 lying shows 277 × 172 mm
        ("240 x 160 mm", "180 x 100 mm", Units.MM, 1, True),
        ("180 x 240 mm", "120 x 160 mm", Units.MM, 1, False),
        # Letter lying shows 10.2 × 7.0 in; upright it would take nine
        ("16 x 20 in", "10 x 12 in", Units.IN, 6, True),
    ],
)
def test_the_fewest_sheets_upright_or_lying(takes: str, image: str, units: Units, count: int, lying: bool) -> None:
    sheets = sheets_of(one(takes, image, units))
    assert len(sheets) == count
    paper = (215.9, 279.4) if units is Units.IN else (210.0, 297.0)
    assert {tuple(round(side, 2) for side in sheet.reading.size) for sheet in sheets} == {
        paper[::-1] if lying else paper
    }


def test_every_sheet_prints_its_row_and_column(plan: Plan) -> None:
    sheets = sheets_of(plan)
    places = [text.text for sheet in sheets for text in sheet.reading.texts if text.text.startswith("row ")]
    assert len(places) == len(set(places)) == len(sheets)
    (last,) = {place.split(" of ")[2] for place in places}
    (rows,) = {place.split(" of ")[1].split(",")[0] for place in places}
    assert f"row {rows} of {rows}, column {last} of {last}" in places
    assert all(sheet.reading.says("top edge") and sheet.reading.says("seen from the front") for sheet in sheets)


def test_only_sheets_of_waste_are_left_out() -> None:
    plan = one("1000 x 1500 mm", "700 x 1100 mm")
    sheets = sheets_of(plan)
    moves, _ = joined(sheets)
    blank = MultiLineString(assembled(sheets, Pen.OUTLINE)).bounds
    windows = union_all([shown(sheet, move) for sheet, move in zip(sheets, moves, strict=True)])
    (opening,) = plan.pieces[0].layers[0].openings
    left, top, wide, high = (
        float(v) for v in (opening.back.box.x, opening.back.box.y, opening.back.box.width, opening.back.box.height)
    )
    waste = box(blank[0] + left, blank[1] + top, blank[0] + left + wide, blank[1] + top + high)
    board = box(*blank).difference(waste)
    assert board.difference(windows.buffer(0.01)).is_empty
    # 6 × 6 sheets, of which 3 × 4 lie in the opening
    assert len(sheets) == 24
    assert all(sheet.reading.says("12 of waste, not") and sheet.reading.says("printed") for sheet in sheets)


def test_without_waste_nothing_is_said_of_it() -> None:
    assert not any(sheet.reading.says("not printed") for sheet in sheets_of(one("400 x 500 mm", "250 x 300 mm")))


def test_a_blank_that_nobody_would_join_is_told_so() -> None:
    plan = one("20 x 30 m", "5000 x 5000 mm")
    (sheet,) = sheets_of(plan)
    # 20 m: (20004 − 10) / 180 → 112 columns; 30 m: (30004 − 10) / 249 → 121 rows
    assert sheet.reading.says("13552 sheets")


# --- words ------------------------------------------------------------------------------------------------------------


def test_windows_and_layers_are_named() -> None:
    sheets = sheets_of(many())
    for number in range(6):
        assert any(sheet.reading.says(f"w{number}") for sheet in sheets)
    for layer in ("layer 1, white", "layer 2, charcoal"):
        assert all(sheet.reading.says(layer) for sheet in sheets)
    assert any(sheet.reading.says("layer 2: 144 × 144 mm") for sheet in sheets)


def test_a_long_name_is_wrapped_and_many_layers_are_numbered() -> None:
    layers = (*TRIPLE, *TRIPLE[1:])
    plan = planned(
        piece(frame=frame(takes="170 x 210 mm"), apertures=(window("Gull " * 12, image="80 x 90"),), mat=layers)
    )
    (sheet,) = sheets_of(plan)
    assert sum(text.text.count("Gull") for text in sheet.reading.texts) == 12
    for number in range(1, 6):
        # in the key, and in the opening, where the sizes have no room beside the centre line
        assert [text.text for text in sheet.reading.texts].count(f"layer {number}") == 2


def test_letters_go_on_after_z() -> None:
    assert [letter_of(n) for n in (0, 25, 26, 51, 52, 701, 702)] == ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]


def test_no_word_stands_on_a_line(plan: Plan) -> None:
    for sheet in template(plan.job, plan.pieces[0]):
        assert clashes.check(sheet) == ()


@settings(max_examples=40, deadline=None)
@given(pieces(4), st.sampled_from(list(Units)))
def test_any_template_is_clear_and_complete(ask: Piece, units: Units) -> None:
    plan = plan_of(ask, units=units)
    sheets = template(plan.job, plan.pieces[0])
    assert len({sheet.name for sheet in sheets}) == len(sheets)
    for sheet in sheets:
        assert clashes.check(sheet) == ()
    blank = plan.pieces[0].blank
    # every side of the blank is on paper: with what two sheets both show, its edge is as long as the blank's at least
    edge = 0.0
    for item in (item for sheet in sheets for item in sheet.flat()):
        if isinstance(item, Path) and "blank" in item.classes:
            points = [item.start, *(step.end for step in item.steps)]
            edge += LineString([*points, *points[:1]] if item.closed else points).length
    assert edge >= float(2 * (blank.width + blank.height)) - 0.01


# --- what a window shows ----------------------------------------------------------------------------------------------


@settings(max_examples=100, deadline=None)
@given(
    st.sampled_from([shape for shape in SHAPES if shape is not Shape.POLYGON]),
    st.tuples(*(st.integers(-300, 300) for _ in range(2)), *(st.integers(10, 400) for _ in range(2))),
)
def test_a_window_shows_what_lies_within_it(shape: Shape, at: tuple[int, int, int, int]) -> None:
    """Source: GEOS through shapely (a general-purpose library) on the outline's own chords."""
    line = outline(
        shape, Box(Fraction(0), Fraction(0), Fraction(260), Fraction(190 if shape is not Shape.CIRCLE else 260))
    )
    whole = [(float(x), float(y)) for x, y in line.points(Fraction(1, 1000))]
    x, y, width, height = at
    wanted = LineString([*whole, whole[0]]).intersection(box(x, y, x + width, y + height))
    found = runs(line.segments, Window.on(Box(*map(Fraction, at))))
    assert sum(_length(run.start, run.steps) for run in found) == pytest.approx(wanted.length, abs=0.05)
    for run in found:
        for px, py in (run.start, *(step.end for step in run.steps)):
            assert -1e-6 <= px <= width + 1e-6
            assert -1e-6 <= py <= height + 1e-6


def _length(start: tuple[float, float], steps: tuple[To | ArcTo, ...]) -> float:
    points = [start]
    for step in steps:
        points.extend(chords(points[-1], step, 400) if isinstance(step, ArcTo) else [step.end])
    return LineString(points).length


# --- in the pack ------------------------------------------------------------------------------------------------------

JOB = """
title = "Ferry steps"
[[piece]]
name = "Slipway"
frame = "40x50 cm"
aspect = "3:2"
image = { width = "24 cm" }
"""


def test_the_pack_has_a_template_for_each_piece_and_the_workbook_lists_it(tmp_path: Folder) -> None:
    (tmp_path / "job.toml").write_text(JOB)
    plan = matplan.plan(matplan.read_job(tmp_path / "job.toml"))
    matplan.make(plan, tmp_path / "pack", only=["template", "workshop"])
    files = sorted(path.relative_to(tmp_path / "pack").as_posix() for path in (tmp_path / "pack").rglob("*.pdf"))
    assert files == ["template/slipway.pdf", "workshop.pdf"]
    alone = read_pdf((tmp_path / "pack/template/slipway.pdf").read_bytes())
    bound = read_pdf((tmp_path / "pack/workshop.pdf").read_bytes())
    assert [title for _, title, _ in alone.bookmarks[1:]] == [
        f"Row {row}, column {column}" for row in (1, 2) for column in (1, 2, 3)
    ]
    assert len(alone.pages) == 6
    assert not [page for page in bound.pages if page.says("Print at 100 %, no fitting")]
    assert any("template/slipway.pdf" in text.text for text in bound.pages[0].texts)


def test_a_work_that_floats_is_marked_on_its_mount() -> None:
    """200 × 300 in the middle of 400 × 500, with a line style of its own in the key."""
    asked = window(image="200 x 300", show=Show.SHEET)
    plan = planned(piece(frame=frame("40 x 50 cm"), apertures=(asked,), mat=(), mount=CHARCOAL))
    (work,) = [line for line in template_lines(plan.pieces[0]) if line.name == "work"]
    assert work.box == Box(mm(100), mm(100), mm(200), mm(300))
    assert work.pen is WORK_PEN
    for sheet in template(plan.job, plan.pieces[0]):
        assert clashes.check(sheet) == ()
    bare = planned(piece(frame=frame("40 x 50 cm"), mat=()))
    assert not [line for line in template_lines(bare.pieces[0]) if line.name == "work"]
