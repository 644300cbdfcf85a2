"""The cutting diagram: what is drawn equals the model, mirrored, at its scale; what is set on the cutter is large,
exact and clear.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from matplan.documents.cutting.diagram import cutting_diagram
from matplan.documents.parts.page import further_scales
from matplan.drawing import clashes, lettering, pdf, svg
from matplan.drawing.items import Size as Height
from matplan.drawing.sheet import Sheet
from matplan.job.records import Cutter, Hand, LayerAsk, Piece, Shape
from matplan.lengths import Box, Size, Units, parse_length
from matplan.mats.gauge import Edge, gauge_cuts, reading_order, window_letters
from matplan.mats.outline_cuts import outline_cuts
from matplan.mats.records import Layer
from matplan.planning import Plan
from tests.documents.reading import Bounds, bounds_of, boxed, check_dimensions, dimensions, near, scale_of
from tests.laws.strategies import pieces, plan_of
from tests.making import WHITE, border, double_mat, frame, piece, planned, window
from tests.readback import Bundle, Lettering, Reading, read_pdf, read_svg
from tests.readback import Shape as Drawn

LOPSIDED = piece(
    apertures=(window(image="206 x 306"),),
    border=border(top="50 mm", right="40 mm", bottom="70 mm", left="60 mm"),
    quantity=3,
)
"""Cut borders 55, 45, 75 and 65 (4.5 mm under the lip, up to a step); blank 310 × 430."""


def sheets_of(plan: Plan, layer: int = 1) -> tuple[Sheet, ...]:
    solved = plan.pieces[0]
    return cutting_diagram(plan.job, solved, solved.layers[layer - 1])


def sheet_of(plan: Plan, layer: int = 1) -> Sheet:
    return sheets_of(plan, layer)[0]


def read(plan: Plan, layer: int = 1) -> Reading:
    return read_svg(svg.render(sheet_of(plan, layer)))


def mirrored(box: Box, reading: Reading) -> Bounds:
    """Where a model box lies on paper: the plan's x runs to the left from the blank's right edge."""
    (blank,) = (p for p in reading.named("blank") if isinstance(p, Drawn))
    x, y, width, _ = blank.bounds
    scale = scale_of(reading)
    return (
        x + width - float(box.right * scale),
        y + float(box.y * scale),
        float(box.width * scale),
        float(box.height * scale),
    )


def text_of(part: Bundle) -> list[str]:
    return [p.text for p in part.parts if isinstance(p, Lettering)]


# --- the model on paper ----------------------------------------------------------------------------------------------


def check_drawn(reading: Reading, layer: Layer, blank: Box) -> None:
    """Blank, openings and cuts carry the plan's boxes and lie mirrored at the scale."""
    expected: dict[str, list[Box]] = {
        "blank": [blank],
        "back-opening": [opening.back.box for opening in layer.openings],
        "face-opening": [opening.face.box for opening in layer.openings],
    }
    for name, boxes in expected.items():
        found = reading.named(name)
        assert [part.box for part in found] == [boxed(box) for box in boxes]
        assert all(near(bounds_of(part), mirrored(box, reading)) for part, box in zip(found, boxes, strict=True))


def test_openings_lie_mirrored_at_the_scale() -> None:
    plan = planned(LOPSIDED)
    reading = read(plan)
    check_drawn(reading, plan.pieces[0].layers[0], Box.of(plan.pieces[0].blank))
    (back,) = reading.named("back-opening")
    (blank,) = reading.named("blank")
    assert back.box == boxed(Box(*map(Fraction, (65, 55, 200, 300))))
    # as it lies the plan's right border, 45, is at the left
    assert bounds_of(back)[0] - bounds_of(blank)[0] == pytest.approx(45 * float(scale_of(reading)), abs=0.01)


def test_cuts_run_from_start_to_stop() -> None:
    plan = planned(LOPSIDED)
    reading = read(plan)
    cuts = gauge_cuts(plan.pieces[0].layers[0], plan.pieces[0].blank, plan.pieces[0].ask.rows)
    found = reading.named("cut")
    assert len(found) == len(cuts) == 4
    for part, cut in zip(found, cuts, strict=True):
        assert part.box == cut.box
        assert near(bounds_of(part), mirrored(Box(*cut.box), reading))
        assert tuple(map(Fraction, part.data["start"].split())) == cut.start
        assert tuple(map(Fraction, part.data["stop"].split())) == cut.stop
        assert isinstance(part, Drawn)
        start = mirrored(Box(*cut.start, Fraction(0), Fraction(0)), reading)[:2]
        assert part.points[0] == pytest.approx(start, abs=0.01)  # drawn in the direction of travel


def test_a_mark_stands_at_each_end_of_each_cut() -> None:
    reading = read(planned(LOPSIDED))
    ends = [part.points for part in reading.named("cut") if isinstance(part, Drawn)]
    starts = [part.parts[0] for part in reading.named("start-mark") if isinstance(part, Bundle)]
    stops = [part.parts[0] for part in reading.named("stop-mark") if isinstance(part, Bundle)]
    assert len(starts) == len(stops) == 4
    for (first, last), start, stop in zip(ends, starts, stops, strict=True):
        assert isinstance(start, Drawn)
        assert start.points[0] == pytest.approx(first, abs=0.01)  # the triangle's tip
        x, y, width, height = bounds_of(stop)
        assert max(abs(x + width / 2 - last[0]), abs(y + height / 2 - last[1])) == pytest.approx(width / 2, abs=0.01)


def test_the_pdf_draws_the_same() -> None:
    plan = planned(LOPSIDED)
    reading = read(plan)
    (page,) = read_pdf(pdf.render(sheet_of(plan))).pages
    drawn = [part.bounds for part in page.shapes]
    for name in ("blank", "back-opening", "cut"):
        for part in reading.named(name):
            assert any(near(bounds_of(part), bounds) for bounds in drawn), name
    assert {text.text for text in reading.texts} == {text.text for text in page.texts}


def test_a_round_opening_is_one_cut_along_its_outline() -> None:
    plan = planned(piece(apertures=(window(image="206 x 206", shape=Shape.CIRCLE),), frame=frame("40 x 50 cm")))
    reading = read(plan)
    (back,) = reading.named("back-opening")
    (cut,) = reading.named("cut")
    assert cut.box == back.box == boxed(Box(*map(Fraction, (100, 150, 200, 200))))
    assert near(bounds_of(cut), bounds_of(back))
    assert cut.data["start"] == cut.data["stop"] == "200 150"
    texts = [text.text for text in reading.texts]
    at = texts.index("circle 200 back")
    assert texts[at - 1 : at + 3] == ["1", "circle 200 back", "circle 202.8 face", "200 · 250"]
    assert not reading.named("gauge-table")


# --- figures ---------------------------------------------------------------------------------------------------------


def chains(reading: Reading) -> dict[str, list[Bundle]]:
    """The running dimensions on each side, by the side."""
    found: dict[str, list[Bundle]] = {}
    for part in dimensions(reading):
        match = re.fullmatch(r"(above|below|left|right)-\d+", part.id or "")
        if match:
            found.setdefault(match[1], []).append(part)
    return found


def check_chains(reading: Reading, plan: Plan) -> None:
    """Border, opening and border add up to the blank, as drawn and as written; each label is the exact length."""
    blank = plan.pieces[0].blank
    several = len(plan.pieces[0].apertures) > 1
    sloping = any(shape in (Shape.OCTAGON, Shape.POLYGON) for shape in (a.ask.shape for a in plan.pieces[0].apertures))
    assert list(chains(reading)) == ([] if several or sloping else ["below", "left"])
    for side, parts in chains(reading).items():
        whole = blank.width if side in ("above", "below") else blank.height
        boxes = [part.box for part in parts if part.box is not None]
        assert sum(max(box[2:]) for box in boxes) == whole
        written = [parse_length(text_of(part)[0], plan.job.units) for part in parts]
        assert sum(written) == whole
        assert [text_of(part)[0] for part in parts] == [plan.job.printer.number(max(box[2:])) for box in boxes]


def test_chains_close_on_the_blank() -> None:
    plan = planned(LOPSIDED)
    reading = read(plan)
    check_chains(reading, plan)
    assert check_dimensions(reading, plan.job.printer) == 8
    across = [text_of(part)[0] for part in chains(reading)["below"]]
    down = [text_of(part)[0] for part in chains(reading)["left"]]
    assert (across, down) == (["65", "200", "45"], ["55", "300", "75"])
    wholes = {part.id: text_of(part)[0] for part in dimensions(reading) if "whole" in part.classes}
    assert wholes == {"blank-width": "310", "blank-height": "430"}


def tables(reading: Reading, name: str = "gauge-table") -> list[list[str]]:
    """The texts of each of the tables of that name, in the order of reading."""
    return [text_of(part) for part in reading.named(name) if isinstance(part, Bundle)]


HEAD = ["Cut", "Gauge", "Edge as it lies", "(as framed)", "Start", "Stop"]
HEAD_OF_SEVERAL = ["Cut", "Gauge", "Edge as it lies", "(as framed)", "Win-", "dow", "Start", "Stop"]


def rows(readings: list[Reading], several: bool = False) -> list[tuple[str, ...]]:
    """The rows of the gauge's tables over all pages."""
    head = HEAD_OF_SEVERAL if several else HEAD
    found: list[tuple[str, ...]] = []
    for words in (words for reading in readings for words in tables(reading)):
        assert words[: len(head)] == head
        body, width = words[len(head) :], 6 if several else 5
        found += [tuple(body[at : at + width]) for at in range(0, len(body), width)]
    return found


def numbers(reading: Reading) -> list[int]:
    """The numbers of cuts round the board."""
    return [int(text_of(part)[0]) for part in reading.named("cut-number") if isinstance(part, Bundle)]


def measured(box: tuple[Fraction, ...], blank: Size) -> tuple[Edge, Fraction]:
    """From which edge of the board as it lies a setting of the ring measures, and how far."""
    x, y, width, height = box
    assert not (width and height)
    if width:
        assert x == 0 or x + width == blank.width
        return Edge.RIGHT if x == 0 else Edge.LEFT, width  # the plan's left is at the right as the board lies
    assert y == 0 or y + height == blank.height
    return Edge.TOP if y == 0 else Edge.BOTTOM, height


def running(reading: Reading, blank: Size) -> set[tuple[Edge, Fraction]]:
    """What the ring's settings measure."""
    return {measured(part.box, blank) for part in reading.named("running") if part.box is not None}


def check_running(reading: Reading, blank: Size, number: Callable[[Fraction], str]) -> None:
    """Each setting of the ring prints what it measures, and stands on the side of its edge, clear of the board."""
    (board,) = (bounds_of(part) for part in reading.named("blank"))
    x, y, width, height = board
    for part in reading.named("running"):
        assert isinstance(part, Bundle)
        assert part.box is not None
        edge, length = measured(part.box, blank)
        (text,) = (one for one in part.parts if isinstance(one, Lettering))
        assert text.text == number(length)
        across, down = text.at
        assert {
            Edge.LEFT: down < y,
            Edge.RIGHT: down > y + height,
            Edge.TOP: across < x,
            Edge.BOTTOM: across > x + width,
        }[edge]


def test_the_table_has_a_row_for_every_cut() -> None:
    """Borders as it lies: left 45, top 55, right 65, bottom 75; opening 200 × 300; over-cut 1.4."""
    assert rows([read(planned(LOPSIDED))]) == [
        ("1", "45", "left (right)", "53.6", "73.6"),
        ("2", "55", "top", "63.6", "43.6"),
        ("3", "65", "right (left)", "73.6", "53.6"),
        ("4", "75", "bottom", "43.6", "63.6"),
    ]


def test_every_number_stands_round_the_board_once() -> None:
    assert sorted(numbers(read(planned(LOPSIDED)))) == [1, 2, 3, 4]


def test_a_head_with_the_window_on_its_right_starts_at_the_other_end() -> None:
    plan = planned(LOPSIDED)
    job = replace(plan.job, cutter=Cutter(window_side=Hand.RIGHT))
    (sheet,) = cutting_diagram(job, plan.pieces[0], plan.pieces[0].layers[0])
    reading = read_svg(svg.render(sheet))
    assert rows([reading])[0] == ("1", "45", "left (right)", "73.6", "53.6")
    assert reading.says("window on its right")


def test_what_the_cutter_does_not_reach_is_said() -> None:
    """The bottom border of 75 is wider than the guide, the upright cuts of 302.8 longer than the track."""
    plan = planned(LOPSIDED)
    job = replace(plan.job, cutter=Cutter(widest_border=Fraction(70), longest_cut=Fraction(300)))
    (sheet,) = cutting_diagram(job, plan.pieces[0], plan.pieces[0].layers[0])
    reading = read_svg(svg.render(sheet))
    (words,) = [words for words in tables(reading) if "By" in words][:1] or [[]]
    assert "By" in words
    by = [cell for words in tables(reading) for cell in words if cell in ("guide", "hand")]
    assert by == ["hand", "guide", "hand", "hand"]
    assert reading.says("Cut 4: wider than the guide's 70 mm: mark and cut without the guide.")
    assert reading.says("Cuts 1, 3: longer than the cutter's 300 mm: cut these on the wall-mounted cutter.")
    assert not read(plan).says("without the guide")


def test_the_side_that_takes_the_odd_step_is_named() -> None:
    """A border of 60 with 4.5 mm under the lip; 275 of 400 leaves 125: 62 and 63."""
    plan = planned(piece(frame=frame("40 x 50 cm"), apertures=(window(image="281 x 366"),)))
    (opening,) = plan.pieces[0].layers[0].openings
    assert (opening.back.box.x, opening.back.box.width) == (Fraction(62), Fraction(275))
    assert read(plan).says("The left border as it lies takes the odd step: 63, right 62 mm.")
    assert not read(planned(LOPSIDED)).says("odd step")


def test_inch_jobs_have_fractions_and_letter_paper() -> None:
    ask = piece(
        apertures=(window(image="10 x 8 in", overlap=Fraction(254, 80)),),
        frame=frame("16x20 in", lip=Fraction(254, 40)),
    )
    plan = planned(ask, units=Units.IN)
    reading = read(plan)
    check_chains(reading, plan)
    assert [text_of(part)[0] for part in chains(reading)["below"]] == ["3 1/8", "9 3/4", "3 1/8"]
    assert sorted(reading.size) == [pytest.approx(215.9), pytest.approx(279.4)]
    assert reading.scale == "1:4"
    assert [row[1] for row in rows([reading])].count("3 1/8") == 2


@pytest.mark.parametrize("case", ["square", "rows", "many windows", "round and straight", "tiny opening"])
def test_all_figures_that_are_set_are_three_and_a_half_mm_high(case: str) -> None:
    """Dimensions, numbers, letters, settings and the tables' figures: one size, on every page."""
    plan = planned(CASES[case])
    capital = Height.NORMAL / lettering.em(Height.NORMAL)
    for sheet in sheets_of(plan):
        reading = read_svg(svg.render(sheet))
        parts = [*dimensions(reading), *reading.named("cut-number"), *reading.named("running")]
        texts = [p for part in parts if isinstance(part, Bundle) for p in part.parts if isinstance(p, Lettering)]
        for words in reading.named("gauge-table"):
            assert isinstance(words, Bundle)
            texts += [p for p in words.parts if isinstance(p, Lettering) and p.text not in HEAD_OF_SEVERAL]
        letters = window_letters(plan.pieces[0].ask.rows)
        texts += [text for text in reading.texts if text.text in letters and text.text]
        assert texts
        assert {round(text.em * capital, 3) for text in texts} == {Height.NORMAL}


# --- words -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("edge", ["12", "15", "30"])
def test_no_figure_meets_the_words_of_a_narrow_board_s_top_edge(edge: str) -> None:
    plan = planned(piece(apertures=(window(image="20 x 265"),), border=border(edge), frame=frame()), units=Units.IN)
    (solved,) = plan.pieces
    for sheet in cutting_diagram(plan.job, solved, solved.layers[0]):
        assert clashes.check(sheet) == ()


def test_the_sheet_says_how_the_board_lies_and_which_it_is() -> None:
    plan = planned(replace(LOPSIDED, mat=double_mat()))
    reading = read(plan, 2)
    for words in (
        "face down",
        "from the back, mirrored",
        "Second mat",
        "top edge",
        "charcoal",
        "4-ply, 1.4 mm",
        "bevel, 45°",
        "2 of 2",
        "3",
    ):
        assert reading.says(words), words
    assert {"drop-out: waste", "Slipway", "Ferry steps"} <= {text.text for text in reading.texts}
    assert reading.named("waste")
    assert (reading.title, reading.scale) == ("Slipway, cutting diagram of layer 2", "1:5")


def test_a_drop_out_says_what_becomes_of_it() -> None:
    plan = planned(LOPSIDED)
    solved = plan.pieces[0]
    assert read(plan).says("drop-out: waste")
    (sheet,) = cutting_diagram(plan.job, solved, solved.layers[0], {1: {"Slipway": "keep: Fog, small × 2"}})
    texts = [text.text for text in read_svg(svg.render(sheet)).texts]
    assert "keep: Fog, small × 2" in texts
    assert not any("waste" in text for text in texts)


@pytest.mark.parametrize("image", ["178x180 mm", "190x180 mm", "20x20 mm"])
def test_every_letter_of_the_tables_stands_on_the_board_once(image: str) -> None:
    """20 mm at 1:10 are 2 mm on paper: a letter of 3.5 mm stands beside its window."""
    names = ("harbour", "crossing", "moor", "hills")
    apertures = tuple(window(name, image=image) for name in names)
    reading = read(
        planned(piece(frame=frame("60x80 cm"), apertures=apertures, rows=((0, 1), (2, 3)), gutter=Fraction(60)))
    )
    (blank,) = (bounds_of(part) for part in reading.named("blank"))
    x, y, width, height = blank
    inside = [text.text for text in reading.texts if x < text.at[0] < x + width and y < text.at[1] < y + height]
    assert sorted(text for text in inside if text in "ABCD") == ["A", "B", "C", "D"]


def test_one_line_of_caution_stands_on_the_sheet() -> None:
    reading = read(planned(LOPSIDED))
    assert reading.says("Free hand out of the blade's path")
    assert reading.says("bench card")
    assert not reading.named("sketch")


def test_the_face_is_left_out_where_two_lines_would_look_like_one() -> None:
    """1.4 mm at 1:5 are 0.28 mm on paper, at 1:1 they are to be seen."""

    def faces(ask: Piece) -> set[str | None]:
        return {part.stroke for part in read(planned(ask)).named("face-opening") if isinstance(part, Drawn)}

    assert faces(LOPSIDED) == {None}
    assert len(faces(CASES["small"]) - {None}) == 1


def test_windows_have_letters_names_and_sizes() -> None:
    asks = tuple(window(name, image="86 x 66") for name in ("Slipway", "Gull", "Rope"))
    plan = planned(piece(apertures=asks, rows=((0, 1, 2),), gutter=Fraction(20), frame=frame("40 x 50 cm")))
    reading = read(plan)
    (listed,) = tables(reading, "windows")
    # from the left as it lies: the last one of the row first
    assert listed[5:] == [
        cell
        for letter, name in (("A", "Rope"), ("B", "Gull"), ("C", "Slipway"))
        for cell in (letter, name, "80 × 60 mm", "waste")
    ]
    assert [part.data["aperture"] for part in reading.named("back-opening")] == ["Slipway", "Gull", "Rope"]
    assert rows([reading], several=True)[:2] == [
        ("1", "60", "left (right)", "A", "218.6", "218.6"),
        ("2", "60", "right (left)", "C", "218.6", "218.6"),
    ]


@pytest.mark.parametrize("gutter", [16, 20, 26, 36, 46])
def test_letters_of_small_windows_never_touch(gutter: int) -> None:
    """Windows of 14 × 14 mm in a board of 60 × 80 cm: less than a letter at 1:5 and at 1:10."""
    apertures = tuple(window(f"{n}", image="20 x 20") for n in range(9))
    rows_of_three = tuple(tuple(range(at, at + 3)) for at in (0, 3, 6))
    plan = planned(piece(frame=frame("60x80 cm"), apertures=apertures, rows=rows_of_three, gutter=Fraction(gutter)))
    for sheet in sheets_of(plan):
        assert clashes.check(sheet) == ()
        letters = [text.text for text in sheet.texts() if text.text in "ABCDEFGHI" and text.size == Height.NORMAL]
        assert set(letters) == set("ABCDEFGHI")


# --- layout ----------------------------------------------------------------------------------------------------------

NAME = "A name that somebody wrote into a job file without a thought for the paper it would be printed on, ever"
CASES: dict[str, Piece] = {
    "square": piece(apertures=(window(image="156 x 156"),), frame=frame("30 x 30 cm")),
    "tiny opening": piece(apertures=(window(image="18 x 14"),), frame=frame("40 x 50 cm")),
    "large": piece(apertures=(window(image="806 x 506"),), frame=frame("100 x 70 cm")),
    "very large": piece(apertures=(window(image="6000 x 4000"),), border=border("90 mm")),
    "narrow borders": piece(apertures=(window(image="500 x 400"),), border=border("16 mm")),
    "small": piece(apertures=(window(image="30 x 20"),), border=border("10 mm")),
    "long and thin": piece(apertures=(window(image="900 x 40"),), border=border("20 mm")),
    "tall and thin": piece(apertures=(window(image="40 x 900"),), border=border("20 mm")),
    "long names": piece(NAME, apertures=(window(NAME, image="200 x 300"),), border=border("60 mm"))
    and replace(
        piece(NAME, apertures=(window(NAME, image="200 x 300"),), border=border("60 mm")),
        mat=(LayerAsk(board=replace(WHITE, name=NAME), reveal=Fraction(0)),),
    ),
    "rows": piece(
        apertures=tuple(window(f"window {n}", image="126 x 86") for n in range(5)),
        rows=((0, 1), (2, 3, 4)),
        gutter=Fraction(20),
        frame=frame("60 x 50 cm"),
    ),
    "many windows": piece(
        apertures=tuple(window(f"{n}", image="66 x 46") for n in range(42)),
        rows=tuple(tuple(range(at, at + 6)) for at in range(0, 42, 6)),
        gutter=Fraction(12),
        border=border("60 mm"),
    ),
    "round and straight": piece(
        apertures=(window("round", image="106 x 136", shape=Shape.OVAL), window("straight", image="156 x 136")),
        rows=((0, 1),),
        gutter=Fraction(25),
        frame=frame("40 x 50 cm"),
    ),
}


def check_sheets(plan: Plan, layer: int) -> None:
    """The drawing is right and clear, and every number of the tables stands round the board once, on whatever page."""
    solved = plan.pieces[0]
    board = solved.layers[layer - 1]
    cuts = gauge_cuts(board, solved.blank, solved.ask.rows)
    readings = []
    for sheet in sheets_of(plan, layer):
        if not run_together(board):
            assert clashes.check(sheet) == ()
        assert sheet.scale in further_scales(plan.job.units)
        readings.append(read_svg(svg.render(sheet)))
    drawn = [reading for reading in readings if reading.named("blank")]
    for reading in drawn:
        check_drawn(reading, board, Box.of(solved.blank))
        check_chains(reading, plan)
        check_dimensions(reading, plan.job.printer)
        assert len(reading.named("cut")) == 4 * sum(o.back.upright for o in board.openings) + sum(
            o.back.ellipse for o in board.openings
        )
    several = len(board.openings) > 1
    listed = rows(readings, several)
    assert [int(row[0]) for row in listed] == [cut.number for cut in cuts]
    number = plan.job.printer.number
    assert [(row[1], *row[-2:]) for row in listed] == [(number(c.setting), number(c.near), number(c.far)) for c in cuts]
    shaped = [cut.number for cut in outline_cuts(board, reading_order(solved.ask.rows), len(cuts))]
    assert sorted(n for reading in drawn for n in numbers(reading)) == [*(cut.number for cut in cuts), *shaped]
    if several:
        for reading in drawn:
            check_running(reading, solved.blank, number)
        told = {told for reading in drawn for told in running(reading, solved.blank)}
        assert told == {(cut.edge, cut.setting) for cut in cuts}


@pytest.mark.parametrize("units", [Units.MM, Units.IN])
@pytest.mark.parametrize("case", list(CASES))
def test_nothing_clashes_and_everything_measures(case: str, units: Units) -> None:
    check_sheets(planned(CASES[case], units=units), 1)


@pytest.mark.parametrize(
    ("size", "scale"),
    [
        ("18 x 24 cm", "1:2"),
        ("30 x 40 cm", "1:2"),
        ("40 x 50 cm", "1:5"),
        ("50 x 60 cm", "1:5"),
        ("50 x 70 cm", "1:5"),
        ("70 x 100 cm", "1:5"),
    ],
)
def test_usual_frames_fill_a_page_of_a4(size: str, scale: str) -> None:
    plan = planned(piece(frame=frame(size), border=border("50 mm"), apertures=(window(aspect="2:3"),)))
    reading = read(plan)
    assert (sorted(reading.size), reading.scale) == ([210, 297], scale)


def run_together(layer: Layer) -> bool:
    """Whether openings of a board overlap, which its maker is warned of; their drawings then meet as they do."""
    boxes = [opening.back.box for opening in layer.openings]
    return any(a.x < b.right and b.x < a.right and a.y < b.bottom and b.y < a.bottom for a, b in combinations(boxes, 2))


@settings(max_examples=60, deadline=None, phases=[phase for phase in Phase if phase is not Phase.shrink])
@given(pieces(4), st.sampled_from([Units.MM, Units.IN]))
def test_any_board_is_drawn_right_and_clear(ask: Piece, units: Units) -> None:
    plan = plan_of(ask, units=units)
    for layer in plan.pieces[0].layers:
        check_sheets(plan, layer.number)


def test_all_layers_have_one_paper_one_scale_and_one_place() -> None:
    apertures = tuple(window(f"{n}", image="106 x 86") for n in range(4))
    for ask in (
        piece(frame=frame("40 x 50 cm"), apertures=(window(image="206 x 306"),), mat=double_mat("9 mm")),
        piece(apertures=apertures, rows=((0, 1), (2, 3)), gutter=Fraction(30), border=border("60"), mat=double_mat()),
    ):
        plan = planned(ask)
        readings = [read(plan, layer) for layer in (1, 2)]
        assert len({(reading.size, reading.scale) for reading in readings}) == 1
        assert len({bounds_of(part) for reading in readings for part in reading.named("blank")}) == 1


def test_a_wide_board_lies_on_a_landscape_page() -> None:
    plan = planned(piece(frame=frame("50x40 cm"), apertures=(window(image="306 x 206"),)))
    assert read(plan).size == (297, 210)


def test_a_board_with_more_numbers_than_a_page_holds_goes_on() -> None:
    """60 windows: 240 cuts, whose numbers are divided over several drawings of the whole board."""
    apertures = tuple(window(f"{n}", image="46 x 36") for n in range(60))
    across = tuple(tuple(range(at, at + 20)) for at in range(0, 60, 20))
    plan = planned(piece(apertures=apertures, rows=across, gutter=Fraction(12), border=border("60 mm")))
    assert sum(bool(read_svg(svg.render(sheet)).named("blank")) for sheet in sheets_of(plan)) > 1
    check_sheets(plan, 1)
