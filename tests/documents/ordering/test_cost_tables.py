"""The tables behind the order list: costs, sticks and drop-outs, with figures worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

from matplan.documents.ordering.costs import saved_by_drop_outs
from matplan.documents.ordering.order_list import order_sheet
from matplan.job.records import BorderAt, LayerAsk, MatSupply, Rates, Stick, StockSheet
from matplan.lengths import Units
from matplan.planning import Plan
from tests.making import FREE, SMALL, WHITE, border, frame, mm, piece, planned, size, window

READY_MADE = frame("40x50 cm", price=Decimal("34.00"))
ASH = frame(sticks=(Stick(length=mm("3 m"), price=Decimal("21.00")),), kerf=mm("3 mm"), spare=mm("10 mm"))


def words(plan: Plan) -> list[str]:
    return [text.text for sheet in order_sheet(plan) for text in sheet.texts()]


def row_of(plan: Plan, first: str) -> list[str]:
    """The texts that stand on a line with `first`, from left to right."""
    for sheet in order_sheet(plan):
        texts = list(sheet.texts())
        for one in texts:
            if one.text == first:
                return [t.text for t in sorted(texts, key=lambda t: t.at[0]) if abs(t.at[1] - one.at[1]) < 0.01]
    raise AssertionError(f"no text {first}")


def test_a_piece_stands_with_its_shares_one_copy_all_and_its_selling_price() -> None:
    rates = Rates(markup=Fraction(5, 2), labour_per_hour=Decimal("30"), **SMALL)
    ask = piece(apertures=(window(image="250x160 mm"),), frame=READY_MADE, quantity=2, minutes=Fraction(45), **FREE)
    plan = planned(ask, rates=rates)
    # 68.00 + 45.00 = 113.00; one copy 56.50; 56.50 × 2.5 = 141.25
    assert row_of(plan, "Slipway × 2") == ["Slipway × 2", "frame ash 68.00 · work 45.00", "56.50", "113.00", "141.25"]
    assert row_of(plan, "Cost breakdown") == ["Piece", "Cost breakdown", "Each", "Total", "Selling price, each"]
    assert row_of(plan, "Job total") == ["Job total", "113.00"]
    assert "Costs, EUR" in words(plan)


def test_a_piece_without_a_selling_price_says_why() -> None:
    rates = Rates(markup=Fraction(2), **SMALL)
    made = planned(piece(apertures=(window(image="250x160 mm"),), **FREE | {"frame": frame("40x50 cm")}), rates=rates)
    assert row_of(made, "Job total") == ["Job total", "priced items only", "0.00"]
    why = '"Slipway" has no selling price, because frame ash has no price in the job'
    assert why in " ".join(words(made))
    assert "Selling price, each" not in words(made)


def test_without_a_mark_up_there_is_no_column_of_selling_prices() -> None:
    plan = planned(piece(apertures=(window(image="250x160 mm"),), frame=READY_MADE))
    assert row_of(plan, "Cost breakdown") == ["Piece", "Cost breakdown", "Each", "Total"]


def test_a_job_without_prices_has_no_table_of_costs() -> None:
    assert "Cost breakdown" not in words(
        planned(piece(apertures=(window(image="250x160 mm"),), frame=frame("40x50 cm")))
    )


def wide(**changes: Any) -> Plan:
    """A frame of moulding: blank 504 × 304, rabbet 507 × 307, rails 507 + 2 × (20 − 6) = 535 and 335."""
    return planned(piece(frame=ASH, border=border("50 mm"), apertures=(window(image="400x200 mm"),), **changes))


def _rows(plan: Plan) -> list[list[str]]:
    rows: dict[tuple[str, int], list[tuple[float, str]]] = {}
    for sheet in order_sheet(plan):
        for text in sheet.texts():
            rows.setdefault((sheet.name, round(text.at[1] * 100)), []).append((text.at[0], text.text))
    return [[text for _, text in sorted(row)] for row in rows.values()]


def test_an_offcut_is_never_less_than_nothing() -> None:
    (rack,) = wide().racks
    (stick,) = rack.sticks.sticks
    assert rack.offcut(replace(stick, rails=(mm("2980"),))) == 0  # the last kerf overruns the stick


def test_the_quick_rule_stands_beside_what_the_rails_take() -> None:
    text = " ".join(words(wide(quantity=2)))
    # 2 × (2 × (507 + 307) + 8 × 20) = 3576; 2 × 2 × (535 + 335) = 3480; 2 × 8 × 6 = 96
    for figure in ("3576 mm", "3480 mm", "96 mm too much"):
        assert figure in text


def drop_outs(units: Units = Units.MM) -> Plan:
    """A mat of 20 × 25 cm that comes out of the window of one of 40 × 50 cm."""
    sheet = StockSheet(written="41x51 cm", size=size("410x510 mm"), price=Decimal("10"))
    mat = (LayerAsk(board=replace(WHITE, sheets=(sheet,)), reveal=Fraction(0)),)
    given: dict[str, Any] = {"mat": mat, "mat_supply": MatSupply.SHEETS}
    large = piece("Large", frame=frame("40x50 cm"), apertures=(window(image="300x400 mm"),), **given)
    small = piece("Small", frame=frame("20x25 cm"), apertures=(window(image="100x100 mm"),), **given)
    return planned(large, small, units=units, step=mm("1 mm"))


def test_what_drop_outs_save_is_said_in_the_jobs_units() -> None:
    # 200 × 250 mm = 0.05 m²; 50 000 ÷ 304.8² = 0.538 square feet
    assert list(saved_by_drop_outs(drop_outs())) == ["white: 1 part cut from 1 drop-out, 0.05 m² of board saved."]
    assert list(saved_by_drop_outs(drop_outs(Units.IN))) == [
        "white: 1 part cut from 1 drop-out, 0.54 sq ft of board saved."
    ]


def test_sticks_are_ordered_by_their_length_and_face_width() -> None:
    rows = _rows(wide())
    place = rows.index(["Frame shop: moulding, in sticks"])
    assert rows[place + 1] == ["Quantity", "Item", "Lengths, face", "For", "Each", "Total"]
    assert rows[place + 2] == ["1", "ash", "1 × 3 m = 3 m, face 20 mm", "Slipway", "21.00", "21.00"]


def test_a_piece_that_costs_nothing_known_has_no_row() -> None:
    paid = piece("Paid", apertures=(window(image="250x160 mm"),), frame=READY_MADE)
    free = piece("Free", apertures=(window(image="250x160 mm"),), frame=frame("30x40 cm", name="old"))
    rows = _rows(planned(paid, free))
    costs = rows[rows.index(["Costs, EUR"]) :]
    assert [row[0] for row in costs[1:]] == ["Piece", "Paid", "Job total"]


def test_a_supplier_reads_each_border_under_its_side() -> None:
    ask = piece(frame=frame(), border=border(top="40", right="50", bottom="70", left="60"), border_at=BorderAt.CUT,
                apertures=(window(image="206x306 mm"),))  # fmt: skip
    rows = _rows(planned(ask))
    head = next(row for row in rows if "Clear opening" in row)
    row = rows[rows.index(head) + 1]
    found = dict(zip(head, row, strict=True))
    assert [found[side] for side in ("Top", "Right", "Bottom", "Left")] == ["40", "50", "70", "60"]


def test_a_price_stands_for_one_and_for_all_of_its_line() -> None:
    rows = _rows(planned(piece(apertures=(window(image="250x160 mm"),), frame=READY_MADE, quantity=3)))
    assert next(row for row in rows if "ash" in row)[-2:] == ["34.00", "102.00"]


def test_what_every_piece_needs_is_for_all_pieces() -> None:
    asks = [piece(name, apertures=(window(image="250x160 mm"),), frame=READY_MADE) for name in ("A", "B", "C")]
    tall = piece("D", apertures=(window(image="160x250 mm"),), frame=frame("30x40 cm", name="oak"))
    assert "all 3 pieces" in words(planned(*asks))
    assert "all 3 pieces" not in words(planned(*asks, tall))
    assert "A, B, C" in words(planned(*asks, tall))
