"""The adaptor to packingsolver: a task in whole steps out, guillotine trees back.

The solver runs in a process of its own (see `worker`), so that a time budget is kept whatever it is doing. Trims, kerf,
names and prices are not its business; what it proves is not believed either: it only knows layouts of a few stages.
"""

from __future__ import annotations

import contextlib
import json
import queue
import subprocess
import sys
import threading
import time
from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import gcd
from pathlib import Path
from typing import Any, Final

from matplan.faults import StockError
from matplan.stock.naming import Answer
from matplan.stock.steps import Task
from matplan.stock.trees import Leaf, Placed, strip, tree_of

MOST_STEPS: Final = 20_000
"""Sheets are never longer for the solver, whose memory grows with them; finer tasks are rounded, parts up and sheets
down.
"""
MEGABYTES: Final = 3_000
_QUANTUM: Final = 0.05
"""How often, in seconds, the time is looked at while waiting."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Phase:
    """One run of the solver: an algorithm with its width of search. `stages` None lets cuts alternate as often as they
    like.
    """

    algorithm: str
    width: int = 0
    rounds: int = 0
    stages: int | None = 3

    @property
    def settings(self) -> dict[str, Any]:
        """The solver's own parameters."""
        name = self.algorithm
        found: dict[str, Any] = {f"use_{name}": True}
        prefix = {
            "sequential_single_knapsack": "not_anytime_sequential_single_knapsack_subproblem_tree_search",
            "sequential_value_correction": "sequential_value_correction_subproblem_tree_search",
            "tree_search": "not_anytime_tree_search",
            "column_generation": "column_generation_subproblem_tree_search",
            "dichotomic_search": "not_anytime_dichotomic_search_subproblem_tree_search",
        }[name]
        found[f"{prefix}_queue_size"] = self.width
        if self.rounds:
            found["not_anytime_sequential_value_correction_number_of_iterations"] = self.rounds
        return found


def knapsacks(width: int) -> Phase:
    """Return runs that fill sheet after sheet, each filled as well as a search of the width can."""
    return Phase(algorithm="sequential_single_knapsack", width=width)


def corrections(width: int, rounds: int) -> Phase:
    """Return repeated runs: parts that were hard to place count more each time."""
    return Phase(algorithm="sequential_value_correction", width=width, rounds=rounds)


def trees(width: int, stages: int | None = 3) -> Phase:
    """Return all sheets at once by tree search."""
    return Phase(algorithm="tree_search", width=width, stages=stages)


def columns(width: int) -> Phase:
    """Patterns priced against one another."""
    return Phase(algorithm="column_generation", width=width)


def halvings(width: int) -> Phase:
    """Return runs for several kinds of sheet: halving finds how many of each."""
    return Phase(algorithm="dichotomic_search", width=width)


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """What the solver is asked: a task, the phases in turn, when to stop. `knapsack` places as much as it can on
    limited sheets.
    """

    task: Task
    phases: tuple[Phase, ...]
    enough: Fraction | None
    """Weights that are proven best: the search ends where they are met."""
    knapsack: bool = False


def answers(run: Run, until: float) -> Generator[Answer]:
    """Better and better answers, until the phases are done or the clock (`time.monotonic`) says `until`.

    Closing the iterator ends the solver. An answer that is no guillotine layout raises `StockError`.
    """
    scaled = _scaled(run.task)
    left = until - time.monotonic()
    if left <= 4 * _QUANTUM or not run.phases:
        return
    lines = _Process(_document(run, scaled, left - 2 * _QUANTUM), until)
    try:
        for line in lines:
            if "sheets" in line:
                yield _answer(run.task, scaled, line["sheets"])
    finally:
        lines.close()


# --- whole steps for the solver --------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Scaled:
    """Widths and heights for the solver: parts no smaller and sheets no larger than they are."""

    shapes: list[tuple[int, int]] = field(default_factory=list)
    piles: list[tuple[int, int]] = field(default_factory=list)


def _scaled(task: Task) -> _Scaled:
    sides = [side for shape in task.shapes for side in (shape.width, shape.height)]
    sides += [side for pile in task.piles for side in (pile.width, pile.height)]
    unit = gcd(*sides)
    longest = max(sides)
    if longest // unit > MOST_STEPS:
        unit = -(-longest // MOST_STEPS)
    return _Scaled(
        shapes=[(-(-shape.width // unit), -(-shape.height // unit)) for shape in task.shapes],
        piles=[(pile.width // unit, pile.height // unit) for pile in task.piles],
    )


def _document(run: Run, scaled: _Scaled, seconds: float) -> dict[str, Any]:
    task = run.task
    heavy = [pile.weight for pile in task.piles if pile.weight]
    least = min(heavy, default=Fraction(1))
    largest = max(pile.area for pile in task.piles)
    free = sum(pile.count or task.pieces for pile in task.piles if not pile.weight)
    tiny = min(
        1e-3, 0.1 / (free + 1)
    )  # free sheets need some cost, so little that all of them weigh less than one that is bought
    single = len(task.piles) == 1
    return {
        "objective": "Knapsack" if run.knapsack else "BinPacking" if single else "VariableSizedBinPacking",
        "shapes": [
            (width, height, shape.turn, shape.count)
            for (width, height), shape in zip(scaled.shapes, task.shapes, strict=True)
        ],
        "piles": [
            (
                width,
                height,
                float(pile.weight / least) + tiny * (pile.area / largest),
                task.pieces if pile.count is None else min(pile.count, task.pieces),
            )
            for (width, height), pile in zip(scaled.piles, task.piles, strict=True)
        ],
        "weights": [float(pile.weight / least) for pile in task.piles],
        "enough": None if run.enough is None else float(run.enough / least),
        "phases": [{"stages": phase.stages, "set": phase.settings} for phase in run.phases],
        "seconds": seconds,
        "megabytes": MEGABYTES,
    }


def _answer(task: Task, scaled: _Scaled, sheets: Sequence[Any]) -> Answer:
    """Return the solver's rectangles as trees of the task's own sizes."""
    found = []
    for pile, count, placed in sheets:
        if not placed:
            continue
        boxes: list[Placed] = []
        for shape, x, y, turned in placed:
            width, height = scaled.shapes[shape]
            boxes.append((x, y, Leaf(shape, turned, height, width) if turned else Leaf(shape, turned, width, height)))
        tree = _own_sizes(task, tree_of(boxes))
        if tree.width > task.piles[pile].width or tree.height > task.piles[pile].height:
            raise StockError(f"the sheet solver put {len(placed)} parts on a sheet that does not hold them")
        found.append((pile, tree, count))
    return tuple(found)


def _own_sizes(task: Task, tree: Any) -> Any:
    if isinstance(tree, Leaf):
        shape = task.shapes[tree.shape]
        width, height = (shape.height, shape.width) if tree.turned else (shape.width, shape.height)
        return Leaf(tree.shape, tree.turned, width, height)
    return strip(tree.across, [_own_sizes(task, part) for part in tree.parts])


# --- the process -----------------------------------------------------------------------------------------------------


class _Process:
    """The solver's lines as they come, until it ends or the clock says `until`."""

    def __init__(self, document: dict[str, Any], until: float) -> None:
        self._until = until
        self._lines: queue.SimpleQueue[dict[str, Any] | None] = queue.SimpleQueue()
        worker = Path(__file__).with_name("worker.py")
        self._process = subprocess.Popen(
            [sys.executable, "-I", str(worker)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            encoding="utf-8",
            start_new_session=True,  # Ctrl-C is for us: what was found so far is still wanted
        )
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()
        with contextlib.suppress(BrokenPipeError):
            if self._process.stdin is not None:
                json.dump(document, self._process.stdin)
                self._process.stdin.close()

    def _read(self) -> None:
        if self._process.stdout is not None:
            for line in self._process.stdout:
                with contextlib.suppress(ValueError):
                    self._lines.put(json.loads(line))
        self._lines.put(None)

    def __iter__(self) -> Iterator[dict[str, Any]]:
        while (left := self._until - time.monotonic()) > 0:
            try:
                line = self._lines.get(timeout=min(left, _QUANTUM))
            except queue.Empty:
                continue
            if line is None:
                return
            yield line

    def close(self) -> None:
        """Ends the process, whatever it is doing."""
        self._process.kill()
        self._process.wait()
        self._reader.join(timeout=1)
        for stream in (self._process.stdin, self._process.stdout):
            if stream is not None:
                with contextlib.suppress(OSError):
                    stream.close()
