"""What there is to cut: drop-outs that serve again, and the sheets of a material."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest

from matplan.job.records import Cut, LayerAsk, Shape, StockSheet
from matplan.lengths import Size
from matplan.orders.cutting import drop_outs, kinds_of
from tests.making import WHITE, frame, mm, size, solved, window


@pytest.mark.parametrize(
    ("cut", "trim", "left"),
    [
        (Cut.BEVEL, None, "191.2 x 291.2 mm"),  # the back, 194 × 294, less 1.4 on each side
        (Cut.STRAIGHT, None, "191.2 x 291.2 mm"),
        (Cut.REVERSE, None, "190.4 x 290.4 mm"),  # the back goes to 196 × 296: the face, 193.2 × 293.2, less 2.8
        (Cut.BEVEL, "5 mm", "184 x 284 mm"),
        (Cut.BEVEL, "0 mm", "194 x 294 mm"),
    ],
)
def test_a_drop_out_is_the_smaller_of_back_and_face_less_its_trim(cut: Cut, trim: str | None, left: str) -> None:
    mat = (LayerAsk(board=WHITE, reveal=Fraction(0), cut=cut),)
    made = solved(frame=frame("40x50 cm"), apertures=(window(image="200x300 mm"),), mat=mat)
    assert list(drop_outs(made.layers[0], None if trim is None else mm(trim))) == [size(left)]


def test_the_boards_own_trim_goes_before_the_jobs() -> None:
    mat = (LayerAsk(board=replace(WHITE, dropout_trim=mm("2 mm")), reveal=Fraction(0)),)
    made = solved(frame=frame("40x50 cm"), apertures=(window(image="200x300 mm"),), mat=mat)
    assert list(drop_outs(made.layers[0], mm("5 mm"))) == [size("190 x 290 mm")]


def test_a_window_that_is_no_rectangle_leaves_no_stock() -> None:
    made = solved(frame=frame("40x50 cm"), apertures=(window(image="200x300 mm", shape=Shape.OVAL),))
    assert list(drop_outs(made.layers[0], None)) == []


def test_a_drop_out_thinner_than_its_trim_is_none() -> None:
    made = solved(frame=frame("40x50 cm"), apertures=(window(image="8x300 mm"),))  # 2 − 2.8
    assert list(drop_outs(made.layers[0], None)) == []


def sheets(*prices: str | None) -> list[tuple[Decimal | None, int | None]]:
    """The price and the limit of each kind, for sheets of those prices."""
    stock = tuple(
        StockSheet(
            written=f"{n}", size=Size(mm(800), mm(1000)), price=None if price is None else Decimal(price), have=1
        )
        for n, price in enumerate(prices)
    )
    return [(kind.price, kind.limit) for kind in kinds_of(replace(WHITE, sheets=stock))]


def test_a_sheet_without_a_price_beside_a_priced_one_is_not_bought() -> None:
    assert sheets("18", None) == [(Decimal("18"), None), (Decimal(0), 0)]


def test_where_no_sheet_has_a_price_any_number_is_bought() -> None:
    assert sheets(None, None) == [(None, None), (None, None)]
