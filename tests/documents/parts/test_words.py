"""The words at a page's foot: every word of the trade that a beginner's page uses has its sentence on that page."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from matplan.catalogue.words import words, words_in
from matplan.documents.front.view import front_view
from matplan.documents.parts.words import explained, words_block
from matplan.documents.prints.print_sheet import is_printed, print_sheet
from matplan.drawing import clashes, lettering
from matplan.drawing.items import Size
from matplan.drawing.sheet import Sheet
from matplan.planning import Plan, Workshop

JOBS = sorted(Path(__file__).parents[3].glob("gallery/*/job.toml"))


def pages(plan: Plan) -> Iterator[Sheet]:
    for piece in plan.pieces:
        yield from front_view(plan.job, piece, {})
        for aperture in piece.apertures:
            if is_printed(aperture):
                yield print_sheet(plan.job, piece, aperture, {})


@pytest.mark.parametrize("job", JOBS, ids=lambda path: path.parent.name)
def test_front_views_and_print_sheets_explain_each_word_that_they_use(job: Path) -> None:
    workshop = Workshop()
    for page in pages(workshop.plan(workshop.read(str(job)))):
        texts = [text.text for text in page.texts()]
        told = {text.removesuffix(":").casefold() for text in texts if text.endswith(":")}
        # a word of several words that a line's end parts is told whole
        missing = [one.name for one in words_in(texts) if not any(one.name in name for name in told)]
        assert missing == [], page.name


def test_sentences_explain_their_own_words_too() -> None:
    assert [one.name for one in explained(["Sight"])] == ["lip", "sight"]
    assert explained(["Border 40 mm"]) == ()


@pytest.mark.parametrize("width", [60.0, 74.0, 119.0, 120.0, 186.0, 273.0])
@pytest.mark.parametrize("many", [1, 3, len(words())])
def test_the_words_stay_within_their_area_and_no_text_meets_another(width: float, many: int) -> None:
    block = words_block(words()[:many], x=12, y=12, width=width)
    sheet = Sheet(name="words", title="Words", size=(297, 420), items=block.items)
    assert clashes.check(sheet) == ()
    for text in sheet.texts():
        assert text.size >= Size.LEAST
        for x, y in lettering.setting(text).corners():
            assert 12 <= x <= 12 + width
            assert 11.9 <= y <= block.bottom
    drawn = " ".join(text.text for text in sheet.texts() if text.text != "Words")
    assert sorted(drawn.split()) == sorted(" ".join(one.told for one in words()[:many]).split())
