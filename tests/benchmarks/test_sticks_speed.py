"""How long rails from sticks take, and how near to the proven bound they come: many alike, and all different."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from random import Random
from typing import Any

import pytest

from matplan.stock.sticks import StickKind, cut_sticks

KINDS = [
    StickKind(length=Fraction(length), price=Decimal(price)) for length, price in ((3000, 17), (2400, 15), (2000, 12))
]


@pytest.fixture(autouse=True)
def timed_only(pytestconfig: pytest.Config) -> None:
    """These take seconds: they run where somebody asks for times."""
    if not pytestconfig.getoption("benchmark_enable"):
        pytest.skip("--benchmark-enable runs it")


def frames(count: int, copies: int) -> list[Fraction]:
    """Return the rails of so many frames of 250 to 1000 mm each way, in tenths of a millimetre."""
    chance = Random(count)
    sides = [Fraction(chance.randrange(2500, 10001), 10) for _ in range(2 * count)]
    return sides * 2 * copies


@pytest.mark.benchmark(group="sticks")
@pytest.mark.parametrize(("count", "copies"), [(60, 1), (60, 25), (200, 1), (500, 1), (1500, 1)])
@pytest.mark.parametrize("kerf", [0, 3])
def test_sticks(benchmark: Any, count: int, copies: int, kerf: int) -> None:
    made = benchmark.pedantic(lambda: cut_sticks(frames(count, copies), KINDS, Fraction(kerf)), rounds=1)
    benchmark.extra_info |= {
        "sticks": len(made.sticks),
        "bought": float(made.value),
        "bound": float(made.lower_bound),
        "over": round(float(made.value / made.lower_bound) - 1, 4),
    }
    assert made.value <= made.lower_bound * Fraction(102, 100)
