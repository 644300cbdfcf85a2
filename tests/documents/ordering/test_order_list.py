"""The order list: rows no spreadsheet runs, and sheets whose figures are the order's."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matplan.documents.ordering.order_list import HEADER, guarded, order_rows, order_sheet, total
from matplan.drawing import clashes
from matplan.job.records import Cut, LayerAsk
from matplan.lengths import Units, parse_length
from matplan.planning import Plan
from tests.making import FOAM, GLASS, WHITE, border, double_mat, frame, piece, planned, window

ASH = frame("40 x 50 cm", price=Decimal("34.00"))
PRICED_GLASS = replace(GLASS, price_per_m2=Decimal("40"))


def slipway(**changes: Any) -> Plan:
    given_: dict[str, Any] = {
        "apertures": (window(image="250 x 167"),),
        "frame": ASH,
        "glazing": PRICED_GLASS,
        "quantity": 2,
    }
    return planned(piece(**given_ | changes))


def words(plan: Plan) -> list[str]:
    return [text.text for sheet in order_sheet(plan) for text in sheet.texts()]


def test_the_columns_begin_as_agreed() -> None:
    header, *rows = order_rows(slipway())
    assert header == HEADER
    assert header[:8] == ("item", "material", "width", "height", "quantity", "for", "unit_price", "price")
    assert rows[0][:8] == ("frame", "ash", "400", "500", "2", "Slipway", "34.00", "68.00")
    assert all(len(row) == len(header) for row in rows)


def test_every_line_of_the_order_has_a_row() -> None:
    plan = slipway(mat=double_mat())
    rows = order_rows(plan)[1:]
    assert [row[0] for row in rows] == [line.item for line in plan.order]
    assert [row[4] for row in rows] == [str(line.quantity) for line in plan.order]


def test_a_mats_openings_stand_in_its_row() -> None:
    (row,) = (r for r in order_rows(slipway()) if r[0] == "mat")
    # opening 244 × 161 in a blank of 400 × 500: left 78, top 169
    assert row[HEADER.index("openings")] == "78 169 244 161"


def test_sizes_read_back_in_the_units_beside_them() -> None:
    plan = planned(piece(apertures=(window(image="10 x 8 in"),), border=border("2 in"), frame=frame()), units=Units.IN)
    for row, line in zip(order_rows(plan)[1:], plan.order, strict=True):
        if line.size is not None:
            assert row[HEADER.index("units")] == "in"
            step = plan.job.step.size
            assert abs(parse_length(row[2], Units.IN) - line.size.width) <= step / 2


def test_pieces_are_joined_by_semicolons() -> None:
    asks = [piece(name, apertures=(window(name, image="250 x 167"),), frame=ASH) for name in ("Slipway", "Gull")]
    assert order_rows(planned(*asks))[1][5] == "Slipway; Gull"


@pytest.mark.parametrize("name", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "  =1", "＝1"])
def test_cells_that_begin_like_a_formula_are_guarded(name: str) -> None:
    plan = slipway(frame=replace(ASH, name=name))
    assert order_rows(plan)[1][1] == f"'{name}"


@given(st.text(max_size=20))
def test_no_cell_is_a_formula(text: str) -> None:
    cell = guarded(text)
    assert cell in (text, f"'{text}")
    assert not cell.lstrip().startswith(("=", "+", "-", "@"))
    if text.isalnum():
        assert cell == text


def test_the_total_is_that_of_the_priced_lines() -> None:
    plan = slipway()
    # 2 frames at 34.00 and 2 sheets of 0.4 × 0.5 m at 40 a square metre
    assert total(plan.order) == Decimal("84.00")
    assert any("total 84.00 EUR" in text for text in words(plan))


def test_without_prices_there_is_no_total_and_no_price_column() -> None:
    plan = slipway(frame=frame("40 x 50 cm"), glazing=GLASS)
    assert total(plan.order) is None
    assert not {"Each", "Total"} & set(words(plan))


def test_a_supplier_reads_opening_and_borders() -> None:
    found = words(slipway())
    for text in ("400 × 500 mm", "244 × 161 mm", "169", "78", "170"):
        assert text in found


def test_a_frame_with_nothing_in_it_is_ordered_alone() -> None:
    plan = planned(
        piece(apertures=(window(aspect="3:2"),), frame=frame("60 x 40 cm"), mat=(), glazing=None, backing=None)
    )
    headings = {"Frames", "Mats, cut to size", "Glazing, cut to size", "Backing, cut to size"}
    assert headings & {word.split(": ")[-1].capitalize() for word in words(plan)} == {"Frames"}


@settings(max_examples=15, deadline=None)
@given(
    st.integers(1, 40),
    st.lists(st.text(min_size=1, max_size=120).filter(str.strip), min_size=3, max_size=3),
    st.sampled_from(list(Units)),
)
def test_sheets_are_clear_whatever_the_job(count: int, names: list[str], units: Units) -> None:
    glass = replace(PRICED_GLASS, name=names[0])
    foam = replace(FOAM, name=names[1])
    asks = [
        piece(
            f"{names[2]} {n}",
            apertures=(window("a", image=f"{200 + n} x 167"), window("b", image="90 x 60")),
            rows=((0, 1),),
            gutter=Fraction(20),
            border=border("50"),
            frame=frame(),
            glazing=glass,
            backing=foam,
            mat=double_mat(),
            quantity=n + 1,
        )
        for n in range(count)
    ]
    plan = planned(*asks, units=units)
    sheets = order_sheet(plan)
    assert len({sheet.name for sheet in sheets}) == len(sheets)
    for sheet in sheets:
        assert clashes.check(sheet) == ()


def test_a_bought_mat_shows_what_one_sees() -> None:
    """Behind a reverse cut the face is seen: 1.4 mm smaller on each side than the back."""
    reverse = (LayerAsk(board=WHITE, reveal=Fraction(0), cut=Cut.REVERSE),)
    plan = slipway(mat=reverse)
    opening = plan.pieces[0].layers[0].openings[0]
    assert opening.face.box == opening.back.box.grown(Fraction("-1.4"))
    seen = plan.job.printer.size(opening.face.box.size)
    assert seen in words(plan)
    assert plan.job.printer.size(opening.back.box.size) not in words(plan)
    (line,) = (line for line in plan.order if line.openings)
    assert (line.openings, line.seen) == ((opening.back.box,), (opening.face.box,))


def test_what_is_bought_by_its_length_stands_in_metres_or_feet() -> None:
    metric, inches = slipway(), planned(*slipway().job.pieces, units=Units.IN)
    # 2 × 2 × (400 + 500) = 3600 mm; 4 × (15 11/16 + 19 5/8) in = 141 1/4 in = 11.77 ft
    assert "3.6 m" in words(metric)
    assert "11.8 ft" in words(inches)
    assert [row[4] for row in order_rows(inches) if row[1] == "backing tape"] == ["11.8"]
    assert [row[-2:] for row in order_rows(inches) if row[1] == "backing tape"] == [("feet", "hardware")]
