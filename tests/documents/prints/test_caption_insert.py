"""A caption window's slip: full size, its words inside, marks at its corners."""

from __future__ import annotations

from pathlib import Path

import pytest

import matplan
from matplan.documents.prints.caption_insert import caption_insert
from matplan.drawing import clashes, svg
from tests.documents.reading import bounds_of
from tests.making import RAG, frame, piece, planned, window
from tests.readback import read_pdf, read_svg

WORDS = "Ferry week, seven days of rain and one of sun"


@pytest.mark.parametrize("words", ["Tide", WORDS, "Ж" * 60, "Fährwoche — 水の週"])
@pytest.mark.parametrize("size", ["120x20 mm", "60x12 mm", "300x40 mm"])
def test_the_slip_is_as_large_as_it_is_and_its_words_lie_in_it(words: str, size: str) -> None:
    ask = piece(frame=frame("50x70 cm"), apertures=(window("title", image=size, text=words),))
    plan = planned(ask)
    (solved,) = plan.pieces
    sheet = caption_insert(plan.job, solved, solved.apertures[0])
    assert clashes.check(sheet) == ()
    reading = read_svg(svg.render(sheet))
    (slip,) = reading.named("image")
    assert reading.scale == "1:1"
    width, height = float(solved.apertures[0].image.width), float(solved.apertures[0].image.height)
    _, _, wide, high = bounds_of(slip)
    assert wide == pytest.approx(width, abs=0.01)
    assert high == pytest.approx(height, abs=0.01)
    assert len(reading.named("cut-mark")) == 8


def test_the_pack_has_the_slip_as_drawing_and_as_pdf(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text(
        '[[piece]]\nname = "Week"\nframe = "40x50 cm"\n'
        '[[piece.aperture]]\nname = "day"\nimage = "200x150 mm"\n'
        f'[[piece.aperture]]\nname = "title"\nimage = "160x24 mm"\ntext = "{WORDS}"\n',
        encoding="utf-8",
    )
    matplan.make(matplan.plan(matplan.read_job(job)), tmp_path / "pack", only=["print"])
    (page,) = read_pdf((tmp_path / "pack/print/week-title.pdf").read_bytes()).pages
    assert "Ferry week" in " ".join(text.text for text in page.texts)
    assert (tmp_path / "pack/print/week-title.svg").exists()


def test_a_slip_too_long_for_the_job_s_paper_lies_on_the_sheet_that_the_plan_prints_it_on() -> None:
    strip = window("title", image="320x20 mm", text=WORDS, paper=RAG)
    plan = planned(piece(frame=frame("50x70 cm"), apertures=(strip,)))
    (solved,) = plan.pieces
    printed = solved.apertures[0].print
    assert printed is not None
    assert printed.turned
    assert caption_insert(plan.job, solved, solved.apertures[0]).size == (483.0, 329.0)


def test_a_slip_that_the_job_s_paper_holds_stays_on_it() -> None:
    plan = planned(
        piece(frame=frame("50x70 cm"), apertures=(window("title", image="120x20 mm", text=WORDS, paper=RAG),))
    )
    (solved,) = plan.pieces
    assert caption_insert(plan.job, solved, solved.apertures[0]).size == (210.0, 297.0)
