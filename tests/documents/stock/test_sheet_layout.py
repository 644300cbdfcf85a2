"""Sheet layouts: what is drawn equals the layout at its scale, no text meets another or a line."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

import matplan
from matplan.documents.stock.sheet_layout import sheet_layout
from matplan.drawing import clashes, svg
from matplan.lengths import Size, Units
from matplan.stock.records import Part, StockKind
from matplan.stock.search import Budget
from matplan.stock.solver import cut_sheets
from tests.documents.reading import bounds_of, scale_of
from tests.making import job, mm
from tests.readback import read_svg


def parts(count: int) -> list[Part]:
    return [
        Part(
            name=f"Piece number {n} with a long name",
            size=Size(mm(60 + 37 * n % 300), mm(50 + 53 * n % 260)),
            quantity=1 + n % 3,
        )
        for n in range(count)
    ]


@pytest.mark.parametrize("units", [Units.MM, Units.IN])
@pytest.mark.parametrize("count", [1, 5, 20])
def test_pieces_and_cuts_are_drawn_where_they_lie(count: int, units: Units) -> None:
    kind = StockKind(name="815 x 1120 mm", size=Size(mm(815), mm(1120)), price=Decimal(14), trim=mm(3))
    layout = cut_sheets(parts(count), [kind], kerf=Fraction(1), budget=Budget(seconds=0.2))
    for number, sheet in enumerate(layout.sheets, 1):
        drawing = sheet_layout(
            job(units=units), sheet, material="white", number=number, of=len(layout.sheets), title="white"
        )
        assert clashes.check(drawing) == ()
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
    assert names == [f"white-{number}.svg" for number in range(1, len(cutting.layout.sheets) + 1)]
    assert any(sheet.stock.falls_from == "Slipway layer 1" for sheet in cutting.layout.sheets)
    assert {line.item.value for line in plan.order} >= {"sheet", "frame"}
    assert "mat" not in {line.item.value for line in plan.order}
