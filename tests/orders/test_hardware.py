"""Hinges, tape and what hangs a frame: counted by hand."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest

from matplan.job.records import ByCleat, BySawtooth, ByTwoHooks, ByWire, Hang, Rates
from matplan.lengths import INCH, Units
from matplan.orders.hardware import hardware, hinges
from matplan.orders.records import Item
from tests.making import frame, mm, solved, window

RATES = Rates(
    hinge=Decimal("0.10"), tape_per_m=Decimal("0.30"), hanger=Decimal("1.10"), wire_per_m=Decimal("0.70"),
    hook=Decimal("2.50"),
)  # fmt: skip


def bought(
    hang: Hang | None = None, rates: Rates = RATES, units: Units = Units.MM, **changes: Any
) -> dict[str, tuple[int | Decimal, Decimal | None]]:
    """How many, and the price of one, of each thing for three frames that take 40 × 50 cm."""
    given: dict[str, Any] = {"frame": frame("40x50 cm"), "apertures": (window(image="200x300 mm"),), "quantity": 3}
    lines = list(hardware(solved(**given | changes), rates, hang, units))
    assert all(line.item is Item.HARDWARE for line in lines)
    assert len({line.material for line in lines}) == len(lines)
    return {line.material: (line.quantity, line.unit_price) for line in lines}


@pytest.mark.parametrize(
    ("width", "count"),
    [(mm("50"), 2), (24 * INCH, 2), (24 * INCH + Fraction(1, 10), 3), (36 * INCH, 3), (mm("1000"), 4)],
)
def test_hinges_stand_no_farther_apart_than_a_foot_and_are_two_at_least(width: Fraction, count: int) -> None:
    """One hinge every 10 to 15 in on large work, at least two (published: a museum's exhibition manual)."""
    assert hinges(width) == count


def test_a_frame_that_no_wall_names_hangs_on_a_wire() -> None:
    assert bought() == {
        "T-hinges": (6, Decimal("0.10")),  # two for each print
        "backing tape": (Decimal("5.4"), Decimal("0.30")),  # 3 × 2 × (400 + 500) = 5.4 m
        "strap hangers": (6, Decimal("1.10")),
        "hanging wire": (Decimal("1.9"), Decimal("0.70")),  # 3 × (403 + 200) = 1.809 m, up to a tenth
        "wall hooks": (3, Decimal("2.50")),
    }
    assert bought(ByWire()) == bought()


def test_wire_has_two_hundred_millimetres_for_its_knots() -> None:
    """5 × (600 + 200) = 4 m; 5 × (601 + 200) = 4.005 m takes another tenth."""
    assert bought(frame=frame("597x500 mm"), quantity=5)["hanging wire"][0] == 4
    assert bought(frame=frame("598x500 mm"), quantity=5)["hanging wire"][0] == Decimal("4.1")


def test_tape_goes_once_round_the_blank() -> None:
    """5 × 2 × (400 + 500) = 9 m; 5 × 2 × (400 + 501) = 9.01 m takes another tenth."""
    assert bought(quantity=5)["backing tape"][0] == 9
    assert bought(frame=frame("400x501 mm"), quantity=5)["backing tape"][0] == Decimal("9.1")


@pytest.mark.parametrize(
    ("hang", "counts"),
    [
        (ByTwoHooks(inset=mm("40"), down=mm("30")), {"strap hangers": (6, "1.10"), "wall hooks": (6, "2.50")}),
        (BySawtooth(down=mm("10")), {"sawtooth hangers": (3, "1.10"), "wall hooks": (3, "2.50")}),
        (ByCleat(down=mm("30")), {"French cleat (split batten)": (3, "1.10"), "wall fixings": (6, "2.50")}),
    ],
)
def test_each_way_of_hanging_takes_its_own_hardware(hang: Hang, counts: dict[str, tuple[int, str]]) -> None:
    found = bought(hang)
    assert "hanging wire" not in found
    del found["T-hinges"], found["backing tape"]
    assert found == {name: (count, Decimal(price)) for name, (count, price) in counts.items()}


def test_each_window_has_its_own_hinges() -> None:
    two = (window("a", image="100x300 mm"), window("b", image="100x300 mm"))
    assert bought(apertures=two, rows=((0, 1),), gutter=mm("20"))["T-hinges"][0] == 12  # 3 × 2 × 2


def test_without_a_mat_nothing_is_hinged() -> None:
    assert "T-hinges" not in bought(mat=())


def test_without_rates_nothing_has_a_price() -> None:
    assert {price for _, price in bought(rates=Rates()).values()} == {None}


def test_an_inch_job_buys_by_the_foot() -> None:
    """3 × 2 × (400 + 500) = 5400 mm = 17.72 ft; 0.30 a metre is 0.09144 a foot, and 17.8 ft of it 1.63."""
    (line,) = (line for line in hardware(solved(frame=frame("40x50 cm"), apertures=(window(image="200x300 mm"),),
               quantity=3), RATES, None, Units.IN) if line.material == "backing tape")  # fmt: skip
    assert (line.quantity, line.unit, line.unit_price, line.price) == (
        Decimal("17.8"), "ft", Decimal("0.09144"), Decimal("1.63"),
    )  # fmt: skip
