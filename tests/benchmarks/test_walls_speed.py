"""How long a cluster takes, and how compact it comes out against plain shelves."""

from __future__ import annotations

from random import Random
from statistics import median
from typing import Any

import pytest

from matplan.walls.cluster import arranged
from matplan.walls.room import Obstacle, Pair, Room, round_all
from matplan.walls.shelves import every, shelves

SCALE = 64
GAP = 60 * SCALE


def some(count: int, seed: int) -> list[Pair]:
    """Frames of 200 to 600 mm each way."""
    chance = Random(seed)
    return [(SCALE * chance.randrange(200, 601), SCALE * chance.randrange(200, 601)) for _ in range(count)]


@pytest.fixture(autouse=True)
def timed_only(pytestconfig: pytest.Config) -> None:
    """These take seconds: they run where somebody asks for times."""
    if not pytestconfig.getoption("benchmark_enable"):
        pytest.skip("--benchmark-enable runs it")


def room(*obstacles: Obstacle) -> Room:
    return Room(
        box=(0, 0, 9000 * SCALE, 6000 * SCALE), middle=(4500 * SCALE, 3000 * SCALE), gap=GAP, obstacles=obstacles
    )


@pytest.mark.benchmark(group="cluster")
@pytest.mark.parametrize("count", [10, 30, 100])
def test_cluster(benchmark: Any, count: int) -> None:
    sizes = some(count, 1)
    assert benchmark.pedantic(arranged, args=(sizes, room()), rounds=1) is not None


@pytest.mark.benchmark(group="cluster round a switch")
@pytest.mark.parametrize("count", [10, 30, 100])
def test_cluster_round_a_switch(benchmark: Any, count: int) -> None:
    switch = Obstacle(box=(4500 * SCALE, 2950 * SCALE, 4580 * SCALE, 3030 * SCALE), margin=50 * SCALE)
    assert benchmark.pedantic(arranged, args=(some(count, 1), room(switch)), rounds=1) is not None


@pytest.mark.benchmark(group="cluster against shelves")
def test_compactness_on_two_hundred_sets(benchmark: Any) -> None:
    """The area of the cluster's box over that of the best plain shelves of every width, and of those as wide as a
    square asks.

    The ratios stand in the benchmark's `extra_info` (`--benchmark-json`).
    """

    def ratios() -> tuple[list[float], list[float]]:
        best, round_ones = [], []
        for seed in range(200):
            sizes = some(3 + seed % 38, seed)
            found = arranged(sizes, room())
            assert found is not None
            left, bottom, right, top = round_all(found)
            area = (right - left) * (top - bottom)
            wide = int(sum((w + GAP) * (h + GAP) for w, h in sizes) ** 0.5)
            best.append(area / min(s.area for s in every(sizes, GAP, 9000 * SCALE) if s.height <= 6000 * SCALE))
            round_ones.append(area / shelves(sizes, GAP, wide).area)
        return best, round_ones

    best, round_ones = benchmark.pedantic(ratios, rounds=1)
    benchmark.extra_info |= {
        "against the best shelves, median": round(median(best), 3),
        "against the best shelves, worst": round(max(best), 3),
        "against shelves of a square, median": round(median(round_ones), 3),
        "against shelves of a square, worst": round(max(round_ones), 3),
    }
    assert max(best) <= 1
