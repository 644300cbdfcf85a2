"""The bench card: once for the pack, what holds for every board of the job, and nothing that no board needs."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from matplan.documents.cutting.bench_card import bench_card
from matplan.documents.parts.cautions import Work, cautions
from matplan.drawing import clashes, svg
from matplan.drawing.pens import STROKES, Pen
from matplan.job.records import Cut, Cutter, Hand, LayerAsk, Piece, Shape
from matplan.lengths import Units
from tests.making import WHITE, border, double_mat, frame, piece, planned, window
from tests.readback import Bundle, Lettering, Reading, read_svg
from tests.readback import Shape as Drawn

CUT_COLOUR = STROKES[Pen.CUT].colour
PLAIN = piece(apertures=(window(image="206 x 306"),), border=border("60 mm"))


def read(*asks: Piece, units: Units = Units.MM, cutter: Cutter | None = None) -> Reading:
    plan = planned(*asks, units=units)
    job = plan.job if cutter is None else replace(plan.job, cutter=cutter)
    (sheet,) = bench_card(job, plan.pieces)
    assert clashes.check(sheet) == ()
    return read_svg(svg.render(sheet))


def words(reading: Reading) -> str:
    return " ".join(text.text for text in reading.texts)


def cut(kind: Cut) -> Piece:
    return replace(PLAIN, name=kind.value, file=kind.value, mat=(LayerAsk(board=WHITE, reveal=Fraction(0), cut=kind),))


@pytest.mark.parametrize("units", [Units.MM, Units.IN])
def test_all_cautions_of_the_cutter_stand_on_it(units: Units) -> None:
    assert all(line in words(read(PLAIN, units=units)) for line in cautions(Work.CUTTING, units=units))


def test_only_what_a_board_needs_is_told() -> None:
    plain, rounds = (
        read(PLAIN),
        read(piece(frame=frame("40x50 cm"), apertures=(window(image="2x3 cm", shape=Shape.OVAL),))),
    )
    assert plain.says("Straight cuts")
    assert not plain.says("Rounds")
    assert not plain.says("Under mats")
    assert rounds.says("Rounds")
    assert not rounds.says("Straight cuts")
    assert read(replace(PLAIN, mat=double_mat())).says("Under mats")


def test_the_over_cut_is_told_by_the_kind_of_cut() -> None:
    reading = read(cut(Cut.BEVEL), cut(Cut.STRAIGHT), cutter=Cutter())
    assert reading.says("Past a marked corner a bevel runs 1.4 mm; start and stop in the tables include it.")
    assert reading.says("A straight cut ends on its marked corners.")


def test_the_window_lies_on_the_heads_side() -> None:
    assert "The window lies on the left of the travel." in words(read(PLAIN))
    assert "The window lies on the right of the travel." in words(read(PLAIN, cutter=Cutter(window_side=Hand.RIGHT)))


@pytest.mark.parametrize(("kind", "leans"), [(Cut.BEVEL, 1), (Cut.REVERSE, -1), (Cut.STRAIGHT, 0)])
def test_the_section_shows_which_way_the_blade_leans(kind: Cut, leans: int) -> None:
    """The board that stays is at the left, its back up: a bevel's blade comes from the window's side, leaning over the
    waste.
    """
    (section,) = read(cut(kind)).named("section")
    assert isinstance(section, Bundle)
    (blade,) = (p for p in section.parts if isinstance(p, Drawn) and p.tag == "line" and p.stroke == CUT_COLOUR)
    (above, below) = sorted(blade.points, key=lambda point: point[1])
    assert (above[0] > below[0] + 0.1) - (above[0] < below[0] - 0.1) == leans


def test_every_kind_of_cut_has_one_section() -> None:
    reading = read(cut(Cut.BEVEL), cut(Cut.STRAIGHT), replace(cut(Cut.BEVEL), name="other", file="other"))
    sections = [part for part in reading.named("section") if isinstance(part, Bundle)]
    captions = [part.parts[0].text for part in sections if isinstance(part.parts[0], Lettering)]
    assert captions == ["Bevel, 5:1", "Straight cut, 5:1"]


def test_a_job_without_boards_has_no_card() -> None:
    plan = planned(piece(mat=(), apertures=(window(aspect="2:3"),), frame=frame("40x50 cm")))
    assert bench_card(plan.job, plan.pieces) == ()
