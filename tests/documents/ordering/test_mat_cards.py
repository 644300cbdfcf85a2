"""Cards and rows of the mats that are bought cut: they say what the order says, and find their room."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from matplan.documents.ordering import mat_cards, mat_rows
from matplan.documents.parts.folio import Folio
from matplan.drawing import clashes, pdf
from matplan.drawing.book import book_of
from matplan.drawing.items import Group, Item
from matplan.drawing.sheet import Sheet
from matplan.job.records import Cut, MatSupply, Shape, StockSheet
from matplan.lengths import Units
from matplan.orders.records import Item as Kind
from matplan.pack import choice, pack_files
from matplan.planning import Plan
from tests.making import WHITE, double_mat, frame, mm, piece, planned, size, window
from tests.readback import Lettering, Reading, read_pdf

LONG = "Slipway below the old customs house, seen from the ferry at six in the morning, in November"
ARABIC = "مرسى العبّارة القديم عند الفجر"
BIG = frame("50x70 cm")


def windows(count: int) -> dict[str, Any]:
    rows = tuple((n, n + 1) for n in range(0, count, 2))
    return {
        "apertures": tuple(window(f"w{n}", image="60x40 mm") for n in range(count)),
        "rows": rows,
        "gutter": mm("20"),
        "frame": BIG,
    }


def plain(name: str, **changes: Any) -> Any:
    given = {"apertures": (window(name, image="280x200 mm"),), "frame": frame("40x50 cm")}
    return piece(name, file=name, **given | changes)


PLANS = {
    "plain": planned(plain("Gull", quantity=2), plain("Coil")),
    "double, reverse, long": planned(
        plain(LONG, mat=(double_mat()[0], replace(double_mat()[1], cut=Cut.REVERSE))),
        plain(ARABIC, apertures=(window(ARABIC, image="200x280 mm", shape=Shape.ARCH),)),
    ),
    "eight": planned(piece("Eight", mat=double_mat(), **windows(8))),
    "fourteen": planned(piece("Fourteen", mat=double_mat(), **windows(14))),
    "inches": planned(plain("Tern", quantity=25), units=Units.IN),
    "ready-cut": planned(
        plain("Ready", apertures=(window("Ready", image="300x400 mm"),), mat_supply=MatSupply.READY_CUT)
    ),
    "shapes": planned(
        *(
            plain(shape, apertures=(window(shape, image="200x200 mm", shape=shape),))
            for shape in (Shape.CIRCLE, Shape.OCTAGON, Shape.OVAL)
        )
    ),
}


def sheets_of(plan: Plan) -> tuple[Sheet, ...]:
    return mat_cards.drawn(Folio(job=plan.job, pieces=plan.pieces, plan=plan), plan)


def rows_of(plan: Plan) -> list[dict[str, str]]:
    header, *rows = mat_rows.drawn(Folio(job=plan.job, pieces=plan.pieces, plan=plan), plan)
    return [dict(zip(header, row, strict=True)) for row in rows]


def cards(items: tuple[Item, ...]) -> Iterator[Group]:
    return (item for item in items if isinstance(item, Group) and "card" in item.classes)


@pytest.mark.parametrize("plan", PLANS.values(), ids=PLANS)
def test_nothing_clashes_and_no_card_leaves_its_quarter(plan: Plan) -> None:
    for sheet in sheets_of(plan):
        assert clashes.check(sheet) == ()
        assert 1 <= len(list(cards(sheet.items))) <= 4


@pytest.mark.parametrize("plan", PLANS.values(), ids=PLANS)
def test_rows_and_cards_say_what_the_order_says(plan: Plan) -> None:
    """The rows are compared with the order, and the words of the cards, read back from the PDF, with the rows."""
    printer, rows = plan.job.printer, rows_of(plan)
    lines = [line for line in plan.order if line.item in (Kind.MAT, Kind.READY_CUT)]
    assert len(rows) == sum(len(line.openings) for line in lines)
    wanted = []
    for line in lines:
        assert line.size is not None
        for box in line.seen or line.openings:
            across, down = line.size.width - box.right, line.size.height - box.bottom
            figures = (line.size.width, line.size.height, box.width, box.height, box.x, box.y, across, down)
            wanted.append((line.material, str(line.quantity), *map(printer.number, figures)))
    names = ["material", "quantity", "width", "height", "opening_width", "opening_height"]
    names += ["left", "top", "right", "bottom"]
    assert sorted(tuple(row[name] for name in names) for row in rows) == sorted(wanted)
    pages = read_pdf(pdf.render(book_of(sheets_of(plan), "mats"))).pages
    told = [line for page in pages for line in lines_of(page)]
    every = {text for line in told for text in line}
    for row in rows:
        edges = [row[name] for name in ("left", "top", "right", "bottom")]
        opening = f"{row['opening_width']} × {row['opening_height']}"
        assert [opening, *edges] in [line[-5:] for line in told]
        assert row["quantity"] in every
    assert {printer.size(line.size) for line in lines if line.size} <= every


def lines_of(page: Reading) -> Iterator[list[str]]:
    """Yield the texts of each line of each quarter of a page, from left to right."""
    found: dict[tuple[bool, float], list[Lettering]] = {}
    for text in page.texts:
        found.setdefault((text.at[0] > page.size[0] / 2, round(text.at[1], 1)), []).append(text)
    for texts in found.values():
        yield [text.text for text in sorted(texts, key=lambda text: text.at[0])]


@pytest.mark.parametrize("plan", PLANS.values(), ids=PLANS)
def test_the_distances_and_the_opening_of_a_row_add_up_to_the_outer_size(plan: Plan) -> None:
    if plan.job.units is Units.MM:
        for row in rows_of(plan):
            names = ("left", "opening_width", "right", "width", "top", "opening_height", "bottom", "height")
            n = {name: Fraction(row[name]) for name in names}
            assert n["left"] + n["opening_width"] + n["right"] == n["width"]
            assert n["top"] + n["opening_height"] + n["bottom"] == n["height"]


def test_openings_that_find_no_room_beside_the_sketch_stand_on_the_next_card() -> None:
    texts = [text.text for sheet in sheets_of(PLANS["eight"]) for text in sheet.texts()]
    assert texts.count("Mat 1 of 2") == texts.count("Mat 1 of 2, continued") == 1
    assert texts.count("Clear opening") == 2


def test_a_mat_with_one_opening_has_one_card() -> None:
    """A long name on two lines and a shape leave the sketch less room, not the table."""
    name = "Arch over a long valley in the early light of the first day"
    arch = window(name, image="9x11.25 in", shape=Shape.ARCH)
    for units in (Units.IN, Units.MM):
        plan = planned(plain(name, apertures=(arch,), mat=double_mat()), units=units)
        assert not [t.text for s in sheets_of(plan) for t in s.texts() if t.text.endswith("continued")]


def test_a_standard_mat_says_which_and_a_layer_which_of_how_many() -> None:
    assert "40x50 cm for 30x40 cm" in [t.text for s in sheets_of(PLANS["ready-cut"]) for t in s.texts()]
    words = [t.text for s in sheets_of(PLANS["double, reverse, long"]) for t in s.texts()]
    assert any(text.startswith("2 of 2; front to back: white") for text in words)


def test_no_file_where_no_mat_is_bought() -> None:
    sheets = (StockSheet(written="80x100 cm", size=size("80x100 cm")),)
    sheeted = replace(double_mat()[0], board=replace(WHITE, sheets=sheets))
    here = planned(plain("Gull", mat=(sheeted,), mat_supply=MatSupply.SHEETS))
    files = dict(pack_files(here, choice(here.job, ("mats",))))
    assert not [name for name in files if name.startswith("mats")]
    bought = dict(pack_files(PLANS["plain"], choice(PLANS["plain"].job, ("mats",))))
    assert {"mats.pdf", "mats.csv"} <= set(bought)
