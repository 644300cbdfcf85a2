"""Sheet layouts: what is drawn equals the layout at its scale; every number and key of the lists is on the drawing."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from random import Random
from typing import Any

import pytest

import matplan
from matplan.documents.stock.keys import keyed
from matplan.documents.stock.sheet_layout import sheet_layout
from matplan.drawing import clashes, svg
from matplan.drawing.items import Group, Text
from matplan.drawing.sheet import Sheet
from matplan.job.records import Material, MaterialKind
from matplan.lengths import Size, Units
from matplan.stock.records import Layout, Part, Piece, StockKind
from matplan.stock.search import Budget
from matplan.stock.solver import cut_sheets
from tests.documents.reading import bounds_of, scale_of
from tests.making import job, mm
from tests.readback import read_svg

KIND = StockKind(name="815 x 1120 mm", size=Size(mm(815), mm(1120)), price=Decimal(14), trim=mm(3))


def parts(count: int) -> list[Part]:
    return [
        Part(
            name=f"Piece number {n} with a long name",
            size=Size(mm(60 + 37 * n % 300), mm(50 + 53 * n % 260)),
            quantity=1 + n % 3,
        )
        for n in range(count)
    ]


def cut(asked: list[Part], kind: StockKind = KIND) -> Layout:
    return cut_sheets(asked, [kind], kerf=Fraction(1), budget=Budget(seconds=0.2))


def crowd(count: int, seed: int) -> list[Part]:
    """So many parts of sizes at random, the smallest no wider than a blade's waste."""
    chance = Random(seed)
    return [
        Part(name=f"Part {n}", size=Size(mm(chance.randint(12, 230)), mm(chance.randint(12, 230))))
        for n in range(count)
    ]


def groups(items: tuple[Any, ...], name: str) -> Iterator[Group]:
    """The groups of that class, the outermost."""
    for item in items:
        if isinstance(item, Group):
            yield from (item,) if name in item.classes else groups(item.items, name)


def labels(sheet: Sheet, name: str) -> list[Text]:
    """The bold text of each label of that class."""
    return [next(t for t in group.items if isinstance(t, Text) and t.bold) for group in groups(sheet.items, name)]


def column(pages: tuple[Sheet, ...], head: str) -> list[str]:
    """The cells below every head of that name, over all pages."""
    found: list[str] = []
    for page in pages:
        for table in groups(page.items, "list"):
            texts = [item for item in table.items if isinstance(item, Text)]
            tops = [text for text in texts if text.text == head]
            found += [t.text for top in tops for t in texts if t.at[0] == top.at[0] and t.at[1] > top.at[1]]
    return found


@pytest.mark.parametrize("units", [Units.MM, Units.IN])
@pytest.mark.parametrize("count", [1, 5, 20])
def test_pieces_and_cuts_are_drawn_where_they_lie(count: int, units: Units) -> None:
    layout = cut(parts(count))
    for number, sheet in enumerate(layout.sheets, 1):
        drawing, *_ = sheet_layout(job(units=units), sheet, number=number, of=len(layout.sheets), title="white")
        reading = read_svg(svg.render(drawing))
        scale = float(scale_of(reading))
        (whole,) = reading.named("stock")
        x, y, width, _ = bounds_of(whole)
        assert width == pytest.approx(815 * scale, abs=0.01)
        drawn = [bounds_of(part) for part in reading.named("piece")]
        expected = [
            (x + float(p.x) * scale, y + float(p.y) * scale, float(p.width) * scale, float(p.height) * scale)
            for p in sheet.pieces
        ]
        assert drawn == [pytest.approx(box, abs=0.01) for box in expected]
        assert len(reading.named("cut")) == len(sheet.cuts)


@pytest.mark.parametrize("units", [Units.MM, Units.IN])
@pytest.mark.parametrize(("count", "seed"), [(3, 1), (12, 2), (30, 3), (60, 4), (60, 5)])
def test_every_number_and_key_of_the_lists_is_on_the_drawing_once_and_at_one_size(
    count: int, seed: int, units: Units
) -> None:
    layout = cut(crowd(count, seed))
    for number, sheet in enumerate(layout.sheets, 1):
        pages = sheet_layout(job(units=units), sheet, number=number, of=len(layout.sheets), title="white")
        numbers, keys = labels(pages[0], "cut-number"), labels(pages[0], "part-key")
        assert sorted(int(text.text) for text in numbers) == list(range(1, len(sheet.cuts) + 1))
        assert sorted(text.text for text in keys) == sorted(keyed(sheet.pieces)[0])
        assert len({text.size for text in numbers}) <= 1
        assert len({text.size for text in keys}) == 1
        assert sum(int(cell) for cell in column(pages, "Quantity")) == len(sheet.pieces)
        runs = [cell.partition("–") for cell in column(pages, "Cuts")]
        assert [n for a, _, b in runs for n in range(int(a), int(b or a) + 1)] == list(range(1, len(sheet.cuts) + 1))
        for page in pages:
            assert clashes.check(page) == ()
            assert min(text.size for text in page.texts()) >= 1.8
            assert not any("…" in text.text for text in page.texts())


def test_a_key_counts_parts_that_are_alike() -> None:
    size = Size(mm(100), mm(50))

    def lying(name: str, x: int, *, turned: bool = False) -> Piece:
        size_ = size.turned if turned else size
        return Piece(name=name, x=mm(x), y=mm(0), width=size_.width, height=size_.height, turned=turned)

    keys, kinds = keyed((lying("Gull", 0), lying("Slipway", 100), lying("Gull", 200, turned=True)))
    assert keys == ("A1", "B", "A2")
    assert [(kind.called, kind.name, kind.size, kind.count) for kind in kinds] == [
        ("A1–A2", "Gull", size, 2),
        ("B", "Slipway", size, 1),
    ]


def test_large_parts_carry_their_names_and_sizes() -> None:
    (sheet,) = cut([Part(name="Slipway", size=Size(mm(400), mm(500)))]).sheets
    (page,) = sheet_layout(job(), sheet, number=1, of=1, title="white")
    assert {"A", "Slipway", "400 × 500 mm"} <= {text.text for text in page.texts()}


def test_lists_that_find_no_room_beside_the_drawing_go_on_on_the_next_page() -> None:
    layout = cut(crowd(60, 4))
    pages = sheet_layout(job(), layout.sheets[0], number=1, of=1, title="white")
    assert len(pages) > 1
    assert [page.name for page in pages][:2] == ["sheet 815 x 1120 mm 1", "sheet 815 x 1120 mm 1 2"]
    assert {page.size for page in pages} == {pages[0].size}


@pytest.mark.parametrize(
    ("kind", "substance", "says", "silent"),
    [
        (MaterialKind.BOARD, "board", "Blades:", "Glass:"),
        (MaterialKind.GLAZING, "glass", "Glass:", "Blades:"),
        (MaterialKind.GLAZING, "acrylic", "Acrylic:", "Glass:"),
        (MaterialKind.GLAZING, "", "Glass:", "Blades:"),
        (MaterialKind.BACKING, "foam", "Blades:", "Wood-fibre"),
        (MaterialKind.BACKING, "wood", "Wood-fibre board:", "Blades:"),
        (MaterialKind.BACKING, "", "Blades:", "Glass:"),
    ],
)
def test_the_caution_is_for_what_the_sheet_is_made_of(
    kind: MaterialKind, substance: str, says: str, silent: str
) -> None:
    (sheet,) = cut(parts(1)).sheets
    material = Material(kind=kind, name="stock", thickness=mm(3), substance=substance)
    (page,) = sheet_layout(job(), sheet, material=material, number=1, of=1, title="stock")
    text = " ".join(t.text for t in page.texts())
    assert says in text
    assert silent not in text


def test_the_head_names_a_sheet_that_is_named_by_more_than_its_size() -> None:
    named = StockKind(name="half sheet", size=Size(mm(500), mm(700)), price=Decimal(5))
    (sheet,) = cut(parts(1), named).sheets
    (page,) = sheet_layout(job(), sheet, number=1, of=1, title="white")
    assert "half sheet: 500 × 700 mm" in {text.text for text in page.texts()}
    (sheet,) = cut(parts(1)).sheets
    (page,) = sheet_layout(job(), sheet, number=1, of=1, title="white")
    assert "815 × 1120 mm; dashed: trim 3 mm off every edge first" in {text.text for text in page.texts()}


def test_the_pack_has_a_drawing_for_each_sheet(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(
        '[board.white]\nply = 4\nsheets = [{ size = "815 x 1120 mm", price = 14.5 }]\n'
        '[[piece]]\nname = "Slipway"\nquantity = 4\nframe = "40x50 cm"\naspect = "3:2"\nimage = { width = "30 cm" }\n'
        '[[piece]]\nname = "Gull"\nquantity = 4\nframe = "13x18 cm"\naspect = "2:3"\nimage = { width = "8 cm" }\n',
        encoding="utf-8",
    )
    plan = matplan.plan(matplan.read_job(path))
    matplan.make(plan, tmp_path / "pack", only=["sheets", "order"])
    (cutting,) = plan.cuttings
    names = sorted(file.name for file in (tmp_path / "pack/sheets").iterdir())
    sheets = [name for name in names if name.count("-") == 1]
    assert sheets == [f"white-{number}.svg" for number in range(1, len(cutting.layout.sheets) + 1)]
    assert any(sheet.stock.falls_from == "Slipway layer 1" for sheet in cutting.layout.sheets)
    assert {line.item.value for line in plan.order} >= {"sheet", "frame"}
    assert "mat" not in {line.item.value for line in plan.order}
