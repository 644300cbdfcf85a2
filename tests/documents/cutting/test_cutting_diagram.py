"""The cutting diagram: what is drawn equals the model, mirrored, at its scale; what is set on the cutter is large,
exact and clear.
"""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import Phase, assume, given, settings
from hypothesis import strategies as st

from matplan.documents.cutting.diagram import cutting_diagram
from matplan.documents.parts.cautions import Work, cautions
from matplan.documents.parts.page import further_scales
from matplan.drawing import clashes, lettering, pdf, svg
from matplan.drawing.items import Size as Height
from matplan.drawing.sheet import Sheet
from matplan.faults import JobError
from matplan.job.records import Cut, LayerAsk, MatSupply, Piece, Shape
from matplan.lengths import Box, Units, parse_length
from matplan.mats.gauge import gauge_cuts
from matplan.mats.records import Layer
from matplan.planning import Plan
from tests.documents.reading import Bounds, bounds_of, boxed, check_dimensions, dimensions, near, scale_of
from tests.laws.strategies import pieces
from tests.making import WHITE, border, double_mat, frame, piece, planned, window
from tests.readback import Bundle, Lettering, Reading, read_pdf, read_svg
from tests.readback import Shape as Drawn

LOPSIDED = piece(
    apertures=(window(image="206 x 306"),),
    border=border(top="50 mm", right="40 mm", bottom="70 mm", left="60 mm"),
    quantity=3,
)
"""Cut borders 55, 45, 75 and 65 (4.5 mm under the lip, up to a step); blank 310 × 430."""


def sheet_of(plan: Plan, layer: int = 1) -> Sheet:
    solved = plan.pieces[0]
    return cutting_diagram(plan.job, solved, solved.layers[layer - 1])


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
    for name in ("blank", "back-opening", "face-opening", "cut"):
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
    at = texts.index("circle, 200 across")
    assert texts[at - 1 : at + 2] == ["1", "circle, 200 across", "200 · 250"]
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


def table(reading: Reading) -> list[str]:
    """The gauge table's texts, in the order of reading."""
    (part,) = reading.named("gauge-table")
    assert isinstance(part, Bundle)
    return text_of(part)


def test_the_table_groups_the_cuts_by_setting() -> None:
    words = table(read(planned(LOPSIDED)))
    assert words[:3] == ["Set to, mm", "Cut", "Edge (framed)"]
    body = words[5:] if "Start" in words else words[3:]
    assert body[:3] == ["45", "1", "left (right)"]
    equal = table(read(planned(piece(apertures=(window(image="300 x 200"),), border=border("60 mm")))))
    assert equal.count("65") == 1
    assert [word for word in equal if word in ("top", "left (right)", "bottom", "right (left)")] == [
        "top",
        "left (right)",
        "bottom",
        "right (left)",
    ]


def test_start_and_stop_are_given_from_the_boards_edges() -> None:
    words = table(read(planned(piece(apertures=(window(image="250 x 167"),), frame=frame("40 x 50 cm")))))
    head = words.index("Stop")
    # opening 244 × 161 in 400 × 500: sides 78, top 169, bottom 170; over-cut 1.4
    assert words[head + 1 : head + 6] == ["78", "1", "left (right)", "167.6", "168.6"]


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
    assert "3 1/8" in table(reading)


def test_what_is_set_is_at_least_three_and_a_half_mm_high() -> None:
    plan = planned(LOPSIDED)
    sheet = sheet_of(plan)
    capital = Height.NORMAL / lettering.em(Height.NORMAL)
    reading = read_svg(svg.render(sheet))
    (settings_table,) = reading.named("gauge-table")
    assert isinstance(settings_table, Bundle)
    texts = [p for part in dimensions(reading) for p in part.parts if isinstance(p, Lettering)]
    head = ("Set to, mm", "Cut", "Edge (framed)", "Start", "Stop")
    texts += [p for p in settings_table.parts if isinstance(p, Lettering) and p.text not in head]
    assert len(texts) >= 8 + 4 + 4 * 2
    assert min(text.em for text in texts) * capital >= Height.NORMAL - 1e-3
    assert max(text.em for text in texts) * capital == pytest.approx(5.0, abs=1e-3)


# --- words -----------------------------------------------------------------------------------------------------------


def test_the_sheet_says_how_the_board_lies_and_which_it_is() -> None:
    plan = planned(replace(LOPSIDED, mat=double_mat()))
    reading = read(plan, 2)
    for words in (
        "Cut face down · seen from the back",
        "top edge, as framed",
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


def test_a_small_window_still_says_that_it_is_waste() -> None:
    """150 mm at 1:5 are 30 mm on paper: the numbers' rings give way to name and words."""
    reading = read(planned(piece(apertures=(window(image="156 x 156"),), frame=frame("30 x 30 cm"))))
    assert reading.scale == "1:5"
    assert {"waste", "Slipway", "1", "2", "3", "4"} <= {text.text for text in reading.texts}


@pytest.mark.parametrize("image", ["178x180 mm", "190x180 mm", "178x196 mm"])
def test_a_window_among_several_has_its_letter_before_large_numbers(image: str) -> None:
    """The gauge table speaks of windows by their letters."""
    names = ("harbour", "crossing", "moor", "hills")
    apertures = tuple(window(name, image=image) for name in names)
    reading = read(
        planned(piece(frame=frame("60x80 cm"), apertures=apertures, rows=((0, 1), (2, 3)), gutter=Fraction(16)))
    )
    boxes = [bounds_of(shape) for shape in reading.named("back-opening")]
    assert len(boxes) == 4
    for x, y, width, height in boxes:
        inside = [text.text for text in reading.texts if x < text.at[0] < x + width and y < text.at[1] < y + height]
        assert any(re.match(r"[A-D](  |$)", text) for text in inside), inside


def test_cautions_stand_on_the_sheet() -> None:
    words = " ".join(text.text for text in read(planned(LOPSIDED)).texts)
    assert all(line in words for line in cautions(Work.CUTTING))


def test_the_drop_out_is_kept_where_mats_are_cut_from_sheets() -> None:
    assert not read(planned(LOPSIDED)).says("Keep a drop-out")
    assert read(planned(replace(LOPSIDED, mat_supply=MatSupply.SHEETS))).says("Keep a drop-out")


@pytest.mark.parametrize(
    ("cut", "words", "leans"),
    [(Cut.BEVEL, "bevel, 45°", 1), (Cut.REVERSE, "reverse bevel, 45°", -1), (Cut.STRAIGHT, "straight, 90°", 0)],
)
def test_the_section_shows_which_way_the_blade_leans(cut: Cut, words: str, leans: int) -> None:
    """The board that stays is at the left, its back up: a bevel's blade comes from the window's side, leaning over the
    waste.
    """
    reading = read(planned(replace(LOPSIDED, mat=(LayerAsk(board=WHITE, reveal=Fraction(0), cut=cut),))))
    assert reading.says(words)
    (section,) = reading.named("section")
    assert isinstance(section, Bundle)
    (blade,) = (p for p in section.parts if isinstance(p, Drawn) and p.tag == "line" and p.stroke == "#b3261e")
    (above, below) = sorted(blade.points, key=lambda point: point[1])
    assert (above[0] > below[0] + 0.1) - (above[0] < below[0] - 0.1) == leans


def test_windows_have_letters_names_and_sizes() -> None:
    asks = tuple(window(name, image="86 x 66") for name in ("Slipway", "Gull", "Rope"))
    plan = planned(piece(apertures=asks, rows=((0, 1, 2),), gutter=Fraction(20), frame=frame("40 x 50 cm")))
    reading = read(plan)
    (listed,) = reading.named("windows")
    assert isinstance(listed, Bundle)
    # from the left as it lies: the last one of the row first
    assert text_of(listed)[1:] == ["A", "Rope", "80 × 60 mm", "B", "Gull", "80 × 60 mm", "C", "Slipway", "80 × 60 mm"]
    assert [part.data["aperture"] for part in reading.named("back-opening")] == ["Slipway", "Gull", "Rope"]
    assert "1 left A   ·   2 right C" in table(reading)


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


@pytest.mark.parametrize("units", [Units.MM, Units.IN])
@pytest.mark.parametrize("case", list(CASES))
def test_nothing_clashes_and_everything_measures(case: str, units: Units) -> None:
    plan = planned(CASES[case], units=units)
    sheet = sheet_of(plan)
    assert clashes.check(sheet) == ()
    reading = read_svg(svg.render(sheet))
    check_drawn(reading, plan.pieces[0].layers[0], Box.of(plan.pieces[0].blank))
    check_chains(reading, plan)
    check_dimensions(reading, plan.job.printer)


@pytest.mark.parametrize(
    ("size", "scale"),
    [
        ("18 x 24 cm", "1:2"),
        ("30 x 40 cm", "1:5"),
        ("40 x 50 cm", "1:5"),
        ("50 x 60 cm", "1:5"),
        ("50 x 70 cm", "1:5"),
        ("70 x 100 cm", "1:10"),
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
    try:
        plan = planned(ask, units=units)
    except JobError:
        assume(False)
    solved = plan.pieces[0]
    for layer in solved.layers:
        sheet = cutting_diagram(plan.job, solved, layer)
        if not run_together(layer):
            assert clashes.check(sheet) == ()
        assert sheet.scale in further_scales(units)
        reading = read_svg(svg.render(sheet))
        check_drawn(reading, layer, Box.of(solved.blank))
        check_chains(reading, plan)
        check_dimensions(reading, plan.job.printer)
        assert len(reading.named("cut")) == 4 * len(layer.openings)
        settings_shown = {cut.setting for cut in gauge_cuts(layer, solved.blank, ask.rows)}
        assert {plan.job.printer.number(setting) for setting in settings_shown} <= set(table(reading))
