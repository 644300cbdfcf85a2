"""Hinges, tape and what hangs a frame: counted by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from matplan.job.file.written import AtHand
from matplan.job.records import ByCleat, BySawtooth, ByTwoHooks, ByWire, Hang, Hardware, Rates
from matplan.lengths import INCH, Units
from matplan.orders.hardware import Need, hinges, needs
from matplan.orders.lines import own_lines, shopping
from matplan.orders.records import Item, OrderLine
from matplan.orders.store import Store, less_at_hand, sold_length
from tests.making import frame, mm, solved, window

HANGING = {
    "strap hangers",
    "sawtooth hangers",
    "French cleat (split batten)",
    "wall hooks",
    "wall fixings",
    "hanger screws",
}
RATES = Rates(
    hinge=Decimal("0.10"), tape_per_m=Decimal("0.30"), hanger=Decimal("1.10"), wire_per_m=Decimal("0.70"),
    hook=Decimal("2.50"),
)  # fmt: skip


def bought(
    hang: Hang | None = None, rates: Rates = RATES, units: Units = Units.MM, **changes: Any
) -> dict[str, tuple[int | Decimal, Decimal | None]]:
    """How many, and the price of one, of each thing for three frames that take 40 × 50 cm."""
    given: dict[str, Any] = {"frame": frame("40x50 cm"), "apertures": (window(image="200x300 mm"),), "quantity": 3}
    made, store = solved(**given | changes), Store(units=units, rates=rates)
    lines = [store.line(need, made.ask.quantity, made.name) for need in needs(made, hang, units)]
    assert all(line.item is Item.HARDWARE for line in lines)
    assert len({line.material for line in lines}) == len(lines)
    return {line.material: (line.quantity, line.unit_price) for line in lines}


@pytest.mark.parametrize(
    ("width", "count"),
    [(mm("50"), 2), (24 * INCH, 2), (24 * INCH + Fraction(1, 10), 3), (36 * INCH, 3), (mm("1000"), 4)],
)
def test_hinges_stand_no_farther_apart_than_a_foot_and_are_two_at_least(width: Fraction, count: int) -> None:
    """One hinge every 10 to 15 in on large work, at least two (common practice)."""
    assert hinges(width) == count


def test_a_frame_that_no_wall_names_hangs_on_a_wire() -> None:
    assert bought() == {
        "T-hinges": (6, Decimal("0.10")),  # two for each print
        "backing tape": (Decimal("5.4"), Decimal("0.30")),  # 3 × 2 × (400 + 500) = 5.4 m
        "points": (42, None),  # 403 ÷ 150 up to 3, 503 up to 4: 2 × (3 + 4) a frame
        "dust-cover paper": (Decimal("1.3"), None),  # 3 × 403 = 1.209 m, up to a tenth
        "double-sided tape": (Decimal("5.5"), None),  # 3 × 2 × (403 + 503) = 5.436 m
        "strap hangers": (6, Decimal("1.10")),
        "hanger screws": (12, None),
        "hanging wire": (Decimal("2.2"), Decimal("0.70")),  # 3 × (403 + 300) = 2.109 m, up to a tenth
        "wall hooks": (3, Decimal("2.50")),
        "bumpers": (6, None),
        "filler strips": (Decimal("5.5"), None),  # 18 of rabbet, 8.4 of stack
    }
    assert bought(ByWire()) == bought()


def test_wire_has_three_hundred_millimetres_for_its_knots() -> None:
    """5 × (600 + 300) = 4.5 m; 5 × (601 + 300) = 4.505 m takes another tenth; a foot in an inch job."""
    assert bought(frame=frame("597x500 mm"), quantity=5)["hanging wire"][0] == Decimal("4.5")
    assert bought(frame=frame("598x500 mm"), quantity=5)["hanging wire"][0] == Decimal("4.6")
    # 12 × (24 in + 12 in) = 36 ft
    wide = frame(rabbet="24 x 20 in")
    assert bought(frame=wide, quantity=12, units=Units.IN)["hanging wire"][0] == 36


def test_strips_of_several_heights_are_one_line_with_the_greatest() -> None:
    store = Store(units=Units.MM, rates=RATES)
    image = (window(image="200x300 mm"),)
    made = [
        solved(frame=frame("40x50 cm", depth=mm(f"{depth} mm")), apertures=image) for depth in (18, 21, 19)
    ]  # the stack is 8.4 mm
    (line,) = (one for one in shopping(own_lines(made, store=store), store=store).order if one.thing == "filler")
    assert line.note == "up to 12.6 mm high, behind the backing"


def test_tape_goes_once_round_the_blank() -> None:
    """5 × 2 × (400 + 500) = 9 m; 5 × 2 × (400 + 501) = 9.01 m takes another tenth."""
    assert bought(quantity=5)["backing tape"][0] == 9
    assert bought(frame=frame("400x501 mm"), quantity=5)["backing tape"][0] == Decimal("9.1")


@pytest.mark.parametrize(
    ("hang", "counts"),
    [
        (
            ByTwoHooks(inset=mm("40"), down=mm("30")),
            {"strap hangers": (6, "1.10"), "wall hooks": (6, "2.50"), "hanger screws": (12, None)},
        ),
        (BySawtooth(down=mm("10")), {"sawtooth hangers": (3, "1.10"), "wall hooks": (3, "2.50")}),
        (ByCleat(down=mm("30")), {"French cleat (split batten)": (3, "1.10"), "wall fixings": (6, "2.50")}),
    ],
)
def test_each_way_of_hanging_takes_its_own_hardware(hang: Hang, counts: dict[str, tuple[int, str | None]]) -> None:
    found = bought(hang)
    assert "hanging wire" not in found
    for name in (
        "T-hinges",
        "backing tape",
        "points",
        "dust-cover paper",
        "double-sided tape",
        "bumpers",
        "filler strips",
    ):
        del found[name]
    assert found == {name: (count, price and Decimal(price)) for name, (count, price) in counts.items()}


def test_each_window_has_its_own_hinges() -> None:
    two = (window("a", image="100x300 mm"), window("b", image="100x300 mm"))
    assert bought(apertures=two, rows=((0, 1),), gutter=mm("20"))["T-hinges"][0] == 12  # 3 × 2 × 2


def test_without_a_mat_nothing_is_hinged() -> None:
    assert "T-hinges" not in bought(mat=())


def test_without_rates_nothing_has_a_price() -> None:
    assert {price for _, price in bought(rates=Rates()).values()} == {None}


def test_an_inch_job_buys_by_the_foot() -> None:
    """3 × 2 × (400 + 500) = 5400 mm = 17.72 ft; 0.30 a metre is 0.09144 a foot, and 17.8 ft of it 1.63."""
    made = solved(frame=frame("40x50 cm"), apertures=(window(image="200x300 mm"),), quantity=3)
    lines = own_lines([made], store=Store(units=Units.IN, rates=RATES))
    (line,) = (line for line in lines if line.material == "backing tape")
    assert (line.quantity, line.unit, line.unit_price, line.price) == (
        Decimal("17.8"), "ft", Decimal("0.09144"), Decimal("1.63"),
    )  # fmt: skip


# --- as sold, less what lies ready -----------------------------------------------------------------------------------


def sold(name: str, **changes: Any) -> Hardware:
    return Hardware(name=name, **changes)


def order_of(*known: Hardware, quantity: int = 17, units: Units = Units.MM) -> dict[str, OrderLine]:
    store = Store(units=units, hardware={each.name: each for each in known})
    made = solved(frame=frame("40x50 cm"), apertures=(window(image="200x300 mm"),), quantity=quantity)
    ready = {each.name: store.ready(each.name) for each in known}
    found = shopping(own_lines([made], store=store), store=store, ready=ready)
    return {line.material: line for line in (*found.order, *found.at_hand) if line.item is Item.HARDWARE}


def test_a_pack_is_bought_whole_and_what_lies_ready_goes_first() -> None:
    """17 frames take 34 hangers: with 12 at hand 22 are left, a pack of 20 is too small by two."""
    pack = sold("hanger", price=Decimal("12.50"), pack=20)
    line = order_of(pack)["strap hangers"]
    assert (line.quantity, line.unit_price, line.price) == (2, Decimal("12.50"), Decimal("25.00"))
    assert line.note.startswith("pack of 20, 34 needed")
    store = Store(hardware={"hanger": replace(pack, have=AtHand(14, mm(0)))})
    made = solved(frame=frame("40x50 cm"), apertures=(window(image="200x300 mm"),), quantity=17)
    found = shopping(own_lines([made], store=store), store=store, ready={"hanger": Decimal(14)})
    (line,) = (line for line in found.order if line.material == "strap hangers")
    assert (line.quantity, line.note) == (Decimal(1), "pack of 20, 20 needed")
    (ready,) = found.at_hand
    assert (ready.quantity, ready.price, ready.note) == (14, Decimal(0), "lies ready")
    (own,) = (line for line in found.own if line.material == "strap hangers")
    assert (own.quantity, own.unit_price, own.price) == (20, Decimal("0.625"), Decimal("12.500"))  # 12.50 ÷ 20


def test_a_roll_is_bought_whole_and_charged_by_the_metre() -> None:
    """17 × 2 × (400 + 500) = 30.6 m: two rolls of 25 m; a piece pays 30.6 ÷ 25 of one."""
    line = order_of(sold("backing-tape", price=Decimal("5"), roll=mm(25_000)))["backing tape"]
    assert (line.quantity, line.unit, line.price, line.note) == (2, "", Decimal(10), "roll of 25 m, 30.6 m needed")
    made = solved(frame=frame("40x50 cm"), apertures=(window(image="200x300 mm"),), quantity=17)
    store = Store(hardware={"backing-tape": sold("backing-tape", price=Decimal("5"), roll=mm(25_000))})
    (own,) = (line for line in own_lines([made], store=store) if line.material == "backing tape")
    assert own.price == Decimal("6.12")


def test_what_lies_ready_whole_is_not_ordered() -> None:
    assert order_of(sold("bumper", have=AtHand(100, mm(0))))["bumpers"].unit_price == 0
    assert sold_length(96 * INCH, Units.IN) == "8 ft"


@given(st.lists(st.integers(1, 60), min_size=1, max_size=6), st.integers(1, 50), st.integers(0, 120))
def test_packs_hold_what_is_needed_and_none_is_idle(needed: list[int], size: int, have: int) -> None:
    """packs × size ≥ need − have > (packs − 1) × size."""
    store = Store(hardware={"bumper": sold("bumper", pack=size)})
    lines = [store.line(Need(name="bumper", amount=Fraction(count)), 1, f"P{n}") for n, count in enumerate(needed)]
    left, taken = less_at_hand(lines, {"bumper": Decimal(have)})
    assert sum(line.quantity for line in left) + sum(line.quantity for line in taken) == sum(needed)
    packs = sum(line.quantity for line in shopping(lines, store=store, ready={"bumper": Decimal(have)}).order)
    rest = max(0, sum(needed) - have)
    assert packs * size >= rest
    assert rest == packs == 0 or rest > (packs - 1) * size
