"""Sheets and time of our cutting beside packingsolver alone and rectpack's guillotine rules, on published lists and on
mats.

Run with `--benchmark-enable --benchmark-only --benchmark-group-by=group`; `extra_info` holds the sheets used and the
proven bound.
"""

from __future__ import annotations

import csv
import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from matplan.lengths import Size
from matplan.stock.dropouts import cut_mats
from matplan.stock.records import Part, StockKind
from matplan.stock.search import Budget
from matplan.stock.solver import cut_sheets

HERE = Path(__file__).parents[1] / "published" / "sheets"
LISTS: list[dict[str, Any]] = json.loads((HERE / "index.json").read_text(encoding="utf-8"))
SECONDS = 10.0


def rows_of(known: dict[str, Any]) -> list[tuple[str, int, int, int]]:
    with (HERE / known["file"]).open(encoding="utf-8") as stream:
        return [
            (row["name"], int(row["width"]), int(row["height"]), int(row["quantity"])) for row in csv.DictReader(stream)
        ]


@pytest.fixture
def only_when_asked(request: pytest.FixtureRequest) -> None:
    if not request.config.getoption("--benchmark-enable"):
        pytest.skip("a benchmark of many seconds; --benchmark-enable runs it")


@pytest.mark.parametrize("known", LISTS, ids=lambda known: str(known["name"]))
@pytest.mark.usefixtures("only_when_asked")
class TestPublishedLists:
    def test_ours(self, benchmark: Any, known: dict[str, Any]) -> None:
        benchmark.group = known["name"]
        parts = [Part(name=n, size=Size(Fraction(w), Fraction(h)), quantity=q) for n, w, h, q in rows_of(known)]
        kind = StockKind(name="s", size=Size(*map(Fraction, known["sheet"])))
        made = benchmark.pedantic(
            lambda: cut_sheets(parts, [kind], budget=Budget(seconds=SECONDS, thorough=True)), rounds=1
        )
        benchmark.extra_info |= {
            "sheets": sum(made.used.values()),
            "bound": int(made.lower_bound),
            "best": known["best"],
        }

    def test_packingsolver_alone(self, benchmark: Any, known: dict[str, Any]) -> None:
        import packingsolver.rectangleguillotine as solver

        benchmark.group = known["name"]

        def alone() -> int:
            build = solver.InstanceBuilder()
            build.set_objective(solver.Objective.BinPacking)
            build.set_number_of_stages(3)
            build.set_first_stage_orientation(solver.CutOrientation.Any)
            rows = rows_of(known)
            for _, width, height, quantity in rows:
                build.add_item_type(width, height, oriented=False, copies=quantity)
            build.add_bin_type(*known["sheet"], cost=1, copies=sum(row[3] for row in rows))
            asked = solver.OptimizeParameters()
            asked.optimization_mode = solver.OptimizationMode.NotAnytimeDeterministic
            asked.verbosity_level = 0
            asked.messages_to_stdout = False
            asked.time_limit = SECONDS
            solution = solver.optimize(build.build(), asked).solution
            return int(solution.number_of_bins())

        benchmark.extra_info["sheets"] = benchmark.pedantic(alone, rounds=1)

    def test_rectpack(self, benchmark: Any, known: dict[str, Any]) -> None:
        import rectpack

        benchmark.group = known["name"]

        def packed() -> int:
            best = 10**9
            for rule in (rectpack.GuillotineBssfSas, rectpack.GuillotineBafSlas, rectpack.GuillotineBlsfMaxas):
                packer = rectpack.newPacker(pack_algo=rule, rotation=True)
                for _, width, height, quantity in rows_of(known):
                    for _ in range(quantity):
                        packer.add_rect(width, height)
                packer.add_bin(*known["sheet"], count=float("inf"))
                packer.pack()
                best = min(best, len(packer))
            return best

        benchmark.extra_info["sheets"] = benchmark.pedantic(packed, rounds=1)


def mats(count: int) -> list[Part]:
    """A job of so many mats in five sizes, each with its drop-out."""
    sizes = (
        (400, 500, 244, 364),
        (300, 400, 200, 280),
        (240, 300, 140, 190),
        (500, 700, 344, 494),
        (180, 240, 100, 150),
    )
    return [
        Part(
            name=f"mat {n}",
            size=Size(Fraction(w), Fraction(h)),
            quantity=count // 5,
            drops=(Size(Fraction(a) - Fraction("2.8"), Fraction(b) - Fraction("2.8")),),
        )
        for n, (w, h, a, b) in enumerate(sizes)
    ]


BOARD = StockKind(name="815 x 1120 mm", size=Size(Fraction(815), Fraction(1120)), trim=Fraction(3))


@pytest.mark.benchmark(group="sixty mats")
@pytest.mark.usefixtures("only_when_asked")
@pytest.mark.parametrize("drop_outs", [False, True])
def test_sixty_mats(benchmark: Any, drop_outs: bool) -> None:
    cut = cut_mats if drop_outs else cut_sheets
    made = benchmark.pedantic(lambda: cut(mats(60), [BOARD], budget=Budget(seconds=SECONDS)), rounds=1)
    benchmark.extra_info |= {"sheets": sum(made.used.values()), "bound": int(made.lower_bound), "proven": made.optimal}


@pytest.mark.benchmark(group="parts")
@pytest.mark.usefixtures("only_when_asked")
@pytest.mark.parametrize("count", [10, 100, 1000])
def test_many_parts(benchmark: Any, count: int) -> None:
    made = benchmark.pedantic(lambda: cut_sheets(mats(count), [BOARD], budget=Budget(seconds=SECONDS)), rounds=1)
    benchmark.extra_info |= {"sheets": sum(made.used.values()), "bound": int(made.lower_bound)}
