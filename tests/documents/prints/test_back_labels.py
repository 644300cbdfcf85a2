"""Labels for the backs: one a copy, at full size, with what a later owner asks."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest

from matplan.documents.parts.folio import Folio
from matplan.documents.prints import back_labels
from matplan.documents.prints.back_labels import MOST_COPIES
from matplan.drawing import clashes, pdf
from matplan.drawing.book import book_of
from matplan.drawing.items import Rect
from matplan.drawing.sheet import Sheet
from matplan.job.records import Edition, Included, Show
from matplan.lengths import Units
from matplan.planning import Plan
from tests.making import ACRYLIC_EIGHTH, RAG, WHITE, double_mat, frame, mm, piece, planned, window
from tests.readback import Shape, read_pdf

LONG = "Slipway below the old customs house, seen from the ferry at six in the morning, in November"
ARABIC = "مرسى العبّارة القديم عند الفجر"
NUMBERED = Edition(written="3/25", first=3, of=25)


def plain(name: str = "Gull", **changes: Any) -> Any:
    given = {"apertures": (window(name, image="250x170 mm", paper=RAG),), "frame": frame("40x50 cm", rail=mm("20 mm"))}
    return piece(name, file=name, **given | changes)


EIGHT = piece(
    "Eight",
    apertures=tuple(window(f"w{n}", image=f"{90 + n % 2}x60 mm", paper=RAG) for n in range(8)),
    rows=((0, 1), (2, 3), (4, 5), (6, 7)),
    gutter=mm("20"),
    frame=frame("50x70 cm"),
    mat=double_mat(),
)
PLANS = {
    "copies": planned(plain(quantity=5, edition=NUMBERED), maker="Ida Wren"),
    "long": planned(plain(LONG), plain(ARABIC), EIGHT, maker=LONG),
    "inches": planned(plain(quantity=3), units=Units.IN),
    "many": planned(plain(quantity=MOST_COPIES + 1, edition=Edition(written="1/99", first=1, of=99))),
}


def sheets_of(plan: Plan) -> tuple[Sheet, ...]:
    return back_labels.drawn(Folio(job=plan.job, pieces=plan.pieces, plan=plan), plan)


def words(plan: Plan) -> list[str]:
    return [text.text for sheet in sheets_of(plan) for text in sheet.texts()]


@pytest.mark.parametrize("plan", PLANS.values(), ids=PLANS)
def test_nothing_clashes_and_labels_lie_apart_within_the_page(plan: Plan) -> None:
    for sheet in sheets_of(plan):
        assert clashes.check(sheet) == ()
        labels = [item for item in sheet.flat() if isinstance(item, Rect) and "label" in item.classes]
        for one in labels:
            assert one.x >= 6
            assert one.y >= 6
            assert one.x + one.width <= sheet.size[0] - 6
            assert one.y + one.height <= sheet.size[1] - 6
        boxes = [(one.x, one.y, one.x + one.width, one.y + one.height) for one in labels]
        assert not any(
            a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
            for n, a in enumerate(boxes)
            for b in boxes[n + 1 :]
        )


def test_each_copy_has_its_number_in_the_edition() -> None:
    told = words(PLANS["copies"])
    assert [text for text in told if "dition" in text] == [f"Ida Wren · edition {n} / 25" for n in range(3, 8)]
    assert told.count("Gull") == 5
    alike = words(planned(plain(quantity=2, edition=Edition(written="artist's proof"))))
    assert alike.count("Edition artist's proof") == 2


def test_of_very_many_copies_one_label_leaves_the_number_to_the_hand() -> None:
    told = words(PLANS["many"])
    assert told.count("Gull") == 1
    assert {"Edition ______ / 99", f"{MOST_COPIES + 1} of this label"} <= set(told)


def test_labels_are_read_back_at_full_size_with_sizes_and_materials() -> None:
    plan = PLANS["copies"]
    (page,) = read_pdf(pdf.render(book_of(sheets_of(plan), "labels"))).pages
    (made,) = plan.pieces
    printer = plan.job.printer
    told = {text.text for text in page.texts}
    assert made.frame.outer is not None
    sheet = made.apertures[0].print
    assert sheet is not None
    wanted = {
        printer.size(made.apertures[0].image.size),
        f"ash, outside {printer.size(made.frame.outer)}",
        f"rag, {printer.size(sheet.size)}",
        "glass-2mm",
        "white, bevel",
        "foam-5mm",
    }
    assert wanted <= told
    marks = [part for part in page.marks if isinstance(part, Shape) and len(part.points) == 2]
    uprights = sorted({round(part.points[0][0], 2) for part in marks if part.points[0][0] == part.points[1][0]})
    assert [b - a for a, b in pairwise(uprights)] == pytest.approx([90, 8, 90], abs=0.02)


def test_how_it_comes_apart_follows_from_what_it_is_made_of() -> None:
    def told(**changes: Any) -> str:
        plan = planned(plain(**changes))
        return " ".join(back_labels.steps(plan.pieces[0]))

    assert "hangs from the mat by paper hinges" in told()
    assert "glass: lift it out last, with gloves on" in told()
    assert "gloves" not in told(glazing=ACRYLIC_EIGHTH)
    assert "glazing" not in told(glazing=None)
    assert "Open the clips" in told(frame=frame("40x50 cm", includes=(Included.BACKING,)))
    assert "dust cover" not in told(frame=frame("40x50 cm", includes=(Included.BACKING,)))
    floated = told(mat=(), mount=WHITE, apertures=(window("Gull", image="250x170 mm", show=Show.SHEET),))
    assert "hangs from the mount" in floated
    loose = told(mat=(), apertures=(window("Gull", image="250x170 mm", paper=None),))
    assert "lies loose" in loose
