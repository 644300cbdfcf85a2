"""What a job costs, by sums worked out by hand beside each check."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from matplan.job.records import LayerAsk, MatSupply, Paper, Rates, Stick, StockSheet
from matplan.orders.costs import Costs, shared
from matplan.orders.money import Currency
from matplan.planning import Plan
from tests.making import FOAM, FREE, GLASS, RAG, SMALL, WHITE, border, frame, mm, piece, planned, size, window

NO_PRICE = Rates()


def slipway(**changes: Any) -> dict[str, Any]:
    """A print of 250 × 160 mm in a ready-made frame for 40 × 50 cm at 34.00."""
    given: dict[str, Any] = {
        "apertures": (window(image="250x160 mm"),),
        "frame": frame("40x50 cm", price=Decimal("34.00")),
    }
    return given | changes


def cost_of(rates: Rates = NO_PRICE, **changes: Any) -> Costs:
    return planned(piece(**slipway(**changes)), rates=rates).costs


def shares(costs: Costs, number: int = 0) -> dict[str, str]:
    return {share.what: f"{share.amount:.2f}" for share in costs.pieces[number].shares}


@pytest.mark.parametrize(
    ("amount", "to_the_cent"),
    [("1/200", "0.01"), ("1/201", "0.00"), ("3/200", "0.02"), ("2/3", "0.67"), ("1/3", "0.33"), ("12", "12.00")],
)
def test_an_amount_is_rounded_to_the_cent_with_halves_up(amount: str, to_the_cent: str) -> None:
    assert str(Currency.of("EUR").rounded(Fraction(amount))) == to_the_cent


@pytest.mark.parametrize(
    ("code", "third", "written"), [("JPY", "33", "1200"), ("KWD", "33.333", "1200.000"), ("tokens", "33.33", "1200.00")]
)
def test_each_currency_has_its_own_decimals(code: str, third: str, written: str) -> None:
    money = Currency.of(code)
    assert str(money.rounded(Fraction(100, 3))) == third
    assert money.written(Decimal(1200)) == written
    assert money.written(Decimal("1.2345")) == "1.2345"  # a finer amount loses nothing


def test_shares_add_up_to_what_was_paid() -> None:
    # running sums 3.33 1/3 and 6.66 2/3 become 3.33 and 6.67, the last share is what is left of 10.00
    assert shared(Decimal("10.00"), [Fraction(1)] * 3) == (Decimal("3.33"), Decimal("3.34"), Decimal("3.33"))
    assert shared(Decimal("18.00"), [Fraction(200), Fraction(50)]) == (Decimal("14.40"), Decimal("3.60"))
    # a price in tenths of a cent: half of 1.005 is 0.5025, to the cent 0.50, and the last share takes the rest
    assert shared(Decimal("1.005"), [Fraction(1), Fraction(1)]) == (Decimal("0.50"), Decimal("0.505"))


def test_a_frame_costs_its_price_for_each_copy() -> None:
    costs = cost_of(quantity=2)
    assert shares(costs) == {"frame ash": "68.00"}  # 2 × 34.00
    assert (costs.total, costs.ordered) == (Decimal("68.00"), Decimal("68.00"))
    assert costs.pieces[0].each == Decimal("34.00")


def test_glazing_and_backing_sold_by_area_cost_their_area() -> None:
    glass = replace(GLASS, price_per_m2=Decimal("40"))
    foam = replace(FOAM, price_per_m2=Decimal("9.99"))
    costs = cost_of(glazing=glass, backing=foam, quantity=3)
    # 0.4 × 0.5 m = 0.2 m²: 0.2 × 40 = 8.00 and 0.2 × 9.99 = 1.998, to the cent 2.00; three of each
    assert shares(costs) == {"frame ash": "102.00", "glazing glass-2mm": "24.00", "backing foam-5mm": "6.00"}


def test_ink_goes_by_the_area_of_the_image_and_work_by_the_minute() -> None:
    rates = Rates(ink_per_m2=Decimal("12"), labour_per_hour=Decimal("30"))
    costs = cost_of(rates, minutes=Fraction(45), quantity=2)
    # 0.25 × 0.16 m = 0.04 m²: 0.04 × 12 × 2 = 0.96; 30 × 45 ÷ 60 × 2 = 45.00
    assert shares(costs) == {"frame ash": "68.00", "ink": "0.96", "work": "45.00"}


def test_each_window_takes_a_sheet_of_its_paper() -> None:
    rag = replace(RAG, price=Decimal("1.20"))
    two: dict[str, Any] = {
        "apertures": (window("a", image="90x60 mm", paper=rag), window("b", image="90x60 mm", paper=rag)),
        "rows": ((0, 1),),
        "gutter": mm("20"),
    }
    (only,) = cost_of(**two, quantity=5).pieces
    papers = [share.amount for share in only.shares if share.what == "paper rag"]
    assert papers == [Decimal("12.00")]  # 5 × 1.20 for each of two windows


def test_a_piece_sells_for_one_copys_cost_times_the_mark_up() -> None:
    small = SMALL | {"hinge": Decimal("0.10")}
    rates = Rates(markup=Fraction(5, 2), ink_per_m2=Decimal("12"), labour_per_hour=Decimal("30"), **small)
    (made,) = cost_of(rates, minutes=Fraction(45), quantity=2, **FREE).pieces
    # 68.00 + 0.96 + 45.00 + 4 hinges at 0.10 = 114.36; one copy 57.18; 57.18 × 2.5 = 142.95
    assert (made.total, made.each, made.selling) == (Decimal("114.36"), Decimal("57.18"), Decimal("142.95"))


def test_the_mark_up_is_taken_before_rounding() -> None:
    (made,) = cost_of(Rates(markup=Fraction(3), ink_per_m2=Decimal("1"), **SMALL), quantity=3, **FREE).pieces
    # 102.00 + 0.12 = 102.12; one copy 34.04, three times 102.12
    assert made.selling == Decimal("102.12")
    rates = Rates(markup=Fraction(3), labour_per_hour=Decimal("1"), **SMALL | {"hook": Decimal("0.01")})
    (made,) = cost_of(rates, quantity=3, minutes=Fraction(1, 3), **FREE).pieces
    # 102.00 + 3 × 0.01 + 1 × 1/3 ÷ 60 × 3 = 1/60, to the cent 0.02: 102.05; 102.05 ÷ 3 × 3 = 102.05, not 3 × 34.02
    assert (made.each, made.selling) == (Decimal("34.02"), Decimal("102.05"))


def test_without_a_mark_up_nothing_has_a_selling_price() -> None:
    assert cost_of().pieces[0].selling is None


@pytest.mark.parametrize(
    ("changes", "lacks"),
    [
        ({}, ()),
        ({"frame": frame("40x50 cm")}, ("frame ash",)),
        ({"glazing": GLASS, "backing": FOAM}, ("glazing glass-2mm", "backing foam-5mm")),
        ({"mat": (LayerAsk(board=WHITE, reveal=Fraction(0)),)}, ("mat white",)),
        ({"apertures": (window(image="250x160 mm", paper=RAG),)}, ("paper rag",)),
        ({"glazing": replace(GLASS, sheets=(StockSheet(written="1 m", size=size("1000x1000 mm")),))},
         ("sheets of glass-2mm",)),
        ({"glazing": replace(GLASS, sheets=(StockSheet(written="1 m", size=size("1000x1000 mm"), have=1),))}, ()),
        ({"apertures": (window(image="250x160 mm"),), "frame": frame(sticks=(Stick(length=mm("3 m")),)),
          "border": border("60 mm")}, ("sticks of ash",)),
    ],
)  # fmt: skip
def test_a_piece_with_a_part_that_has_no_price_has_no_selling_price(
    changes: dict[str, Any], lacks: tuple[str, ...]
) -> None:
    costs = cost_of(Rates(markup=Fraction(2), **SMALL), **FREE | changes)
    assert costs.pieces[0].unpriced == lacks
    assert (costs.pieces[0].selling is None) is bool(lacks)


def test_a_piece_without_any_price_costs_nothing_that_is_known() -> None:
    costs = cost_of(Rates(markup=Fraction(2)), frame=frame("40x50 cm"))
    assert (costs.total, costs.ordered, costs.pieces[0].shares, costs.pieces[0].selling) == (None, None, (), None)
    assert {"frame ash", "mat white", "glazing glass-2mm", "backing foam-5mm"} <= set(costs.unpriced)


def test_what_is_ordered_without_a_price_is_named_once() -> None:
    one, other = piece("One", **slipway()), piece("Other", **slipway(quantity=2))
    costs = planned(one, other).costs
    assert "frame ash" not in costs.unpriced
    assert [name for name in costs.unpriced if name.startswith("mat")] == ["mat white"]


# --- what pieces share -----------------------------------------------------------------------------------------------


def two_mats(have: int = 0, copies: int = 1) -> Plan:
    """Mats of 40 × 50 and 20 × 25 cm from sheets of 43 × 80 cm at 18.00; neither fits into the other's drop-out."""
    sheet = StockSheet(written="43x80 cm", size=size("430x800 mm"), price=Decimal("18.00"), have=have)
    mat = (LayerAsk(board=replace(WHITE, sheets=(sheet,)), reveal=Fraction(0)),)
    large = piece(
        "Large", frame=frame("40x50 cm"), apertures=(window(image="100x100 mm"),), mat=mat, mat_supply=MatSupply.SHEETS
    )
    small = piece(
        "Small",
        frame=frame("20x25 cm"),
        apertures=(window(image="100x100 mm"),),
        mat=mat,
        mat_supply=MatSupply.SHEETS,
        quantity=copies,
    )
    return planned(large, small)


def test_a_sheet_is_shared_by_the_area_that_each_piece_takes() -> None:
    costs = two_mats().costs
    # 400 × 500 : 200 × 250 = 4 : 1; 18.00 × 4/5 = 14.40
    assert (shares(costs, 0), shares(costs, 1)) == ({"sheets of white": "14.40"}, {"sheets of white": "3.60"})
    assert costs.total == costs.ordered == Decimal("18.00")
    # two small ones: 4 : 2
    costs = two_mats(copies=2).costs
    assert (shares(costs, 0), shares(costs, 1)) == ({"sheets of white": "12.00"}, {"sheets of white": "6.00"})


def test_a_sheet_that_lies_ready_costs_nothing() -> None:
    plan = two_mats(have=1)
    assert not any(cost.shares for cost in plan.costs.pieces)
    assert not any(line.material == "white" for line in plan.order)


def test_sticks_are_shared_by_the_length_of_the_rails() -> None:
    ash = frame(sticks=(Stick(length=mm("3 m"), price=Decimal("21.00")),))
    wide = piece("Wide", frame=ash, border=border("50 mm"), apertures=(window(image="400x200 mm"),), quantity=2)
    tall = piece("Tall", frame=ash, border=border("50 mm"), apertures=(window(image="100x200 mm"),))
    plan = planned(wide, tall)
    # opening 394 × 194; cut border 50 + 6 − 1.5 up to 55; blank 504 × 304, rabbet 507 × 307, long edges 535 × 335
    assert [w.frame.long_edges for w in plan.pieces] == [
        size("535x335 mm"),
        size("235x335 mm"),
    ]
    # rails 2 × 2 × (535 + 335) = 3480 and 2 × (235 + 335) = 1140: 4620 mm on two sticks, 42.00 × 3480/4620 = 31.636…
    assert (shares(plan.costs, 0), shares(plan.costs, 1)) == (
        {"sticks of ash": "31.64"},
        {"sticks of ash": "10.36"},
    )


def test_a_price_of_paper_alone_makes_the_job_cost_something() -> None:
    paper = Paper(name="rag", size=size("329x483 mm"), price=Decimal("1.20"))
    costs = cost_of(frame=frame("40x50 cm"), apertures=(window(image="250x160 mm", paper=paper),))
    assert (costs.total, costs.ordered) == (Decimal("1.20"), Decimal("1.20"))


def test_a_frame_that_no_wall_names_pays_for_two_hangers_and_one_hook() -> None:
    rates = Rates(hook=Decimal("2.50"), hanger=Decimal("1.10"))
    assert shares(cost_of(rates)) == {
        "frame ash": "34.00",
        "strap hangers": "2.20",
        "wall hooks": "2.50",
    }


SOLD: dict[str, Any] = {
    "markup": Fraction("2.2"), "commission": Fraction("0.4"), "tax": Fraction("0.19"), "labour_per_hour": Decimal(30)
}  # fmt: skip


def sold(quantity: int = 1, **rates: Any) -> Costs:
    """A frame at 34.00 and 45 minutes of work at 30.00 an hour, 22.50: one costs 56.50."""
    return cost_of(Rates(**rates, **SMALL), minutes=Fraction(45), quantity=quantity, **FREE | {"frame": FRAMED})


FRAMED = frame("40x50 cm", price=Decimal("34.00"))


@pytest.mark.parametrize(
    ("rates", "price"),
    [
        ({"markup": Fraction(2)}, "113.00"),  # 56.50 × 2
        ({"commission": Fraction("0.4")}, "94.17"),  # 56.50 ÷ 0.6 = 94.1666…
        ({"tax": Fraction("0.19")}, "67.24"),  # 56.50 × 1.19 = 67.235, halves up
        ({"round_to": Decimal(5)}, "60"),
        ({"markup": Fraction(2), "round_to": Decimal("0.50")}, "113"),  # a multiple already stays
        ({"markup": Fraction(2), "round_to": Decimal("0.05"), "tax": Fraction("0.07")}, "120.95"),  # 120.91
        (SOLD, "246.53"),  # 56.50 × 2.2 = 124.30, ÷ 0.6 = 207.1666…, × 1.19 = 246.5283…
        (SOLD | {"round_to": Decimal(5)}, "250"),
    ],
)
def test_a_selling_price_bears_mark_up_commission_and_tax_and_goes_up_to_a_multiple(
    rates: dict[str, Any], price: str
) -> None:
    one, three = (sold(n, **{"labour_per_hour": Decimal(30)} | rates).pieces[0] for n in (1, 3))
    assert one.selling == three.selling == Decimal(price)
    assert one.sold is not None
    assert one.sold.value == one.sold.tree.value


def test_a_selling_price_is_exact_where_binary_fractions_are_not() -> None:
    # 56.50 ÷ (1 − 0.9) × 1.1 ÷ … : 1 − 0.9 in binary is 0.09999…, and the next multiple of 565 would be 1130
    assert sold(labour_per_hour=Decimal(30), commission=Fraction("0.9"), round_to=Decimal(565)).pieces[0].selling == 565


def test_the_sum_of_a_selling_price_says_every_step() -> None:
    cost = sold(2, **SOLD, round_to=Decimal(5)).pieces[0]
    assert cost.sold is not None
    assert cost.sold.in_words(Currency.of("EUR")) == (
        "selling price 250.00 EUR = cost 113.00 ÷ 2 × mark-up 2.2 ÷ (1 − commission 0.4) × (1 + tax 0.19)"
        " = about 246.5283, up to a multiple of 5.00"
    )


def test_what_is_left_of_a_budget_is_the_budget_less_the_cost() -> None:
    assert sold(labour_per_hour=Decimal(30), budget=Decimal(60)).left == Decimal("3.50")
    assert sold(labour_per_hour=Decimal(30), budget=Decimal("56.49")).left == Decimal("-0.01")
    assert sold(labour_per_hour=Decimal(30)).left is None
