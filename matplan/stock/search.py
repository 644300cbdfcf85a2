"""The search for a good answer within a budget: quick rules first, then the solver, until a proven bound is met.

The runs and their order follow from the task alone, and each ends by itself; so the same task has the same answer
wherever the budget does not cut a run off.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from matplan.stock.bounds import covering_bound, covers
from matplan.stock.cuts import sawn
from matplan.stock.filling import areas, quick_answers, weights
from matplan.stock.naming import Answer
from matplan.stock.runs import Phase, Run, answers, columns, corrections, halvings, knapsacks, trees
from matplan.stock.steps import Task
from matplan.stock.trees import Leaf, Tree

type Progress = Callable[[Fraction, Fraction], None]
"""Called with what the best answer so far comes to, and the proven bound."""

QUICK_SHARE: Final = 0.25
"""Of the budget for the quick rules."""
_SEARCHED: Final = 400
"""Pieces up to which the solver takes the whole task at once."""
_FEW_SHAPES: Final = 40
"""Shapes up to which it takes more, each many times: then it thinks in whole sheets."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Budget:
    """Seconds that a search may take. A thorough one uses them; any other ends after the runs that a task of its size
    is worth.
    """

    seconds: float = 2.5
    thorough: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """The best answer and the proven bound on its value."""

    answer: Answer
    bound: Fraction


def search(task: Task, budget: Budget, progress: Progress | None = None) -> Found:
    """Return the best answer found for the task; it places all parts, or as much of their area as was
    found possible.
    """
    return _Search(task, budget, progress or (lambda _value, _bound: None)).run()


class _Search:
    def __init__(self, task: Task, budget: Budget, progress: Progress) -> None:
        self._task, self._budget, self._progress = task, budget, progress
        now = time.monotonic()
        finishing = 0.05 * budget.seconds + 2e-5 * task.pieces  # naming, cutting and checking want their share
        self._ends = now + max(0.0, budget.seconds - finishing)
        self._quick_ends = now + QUICK_SHARE * budget.seconds
        self._bound = Fraction(0)
        self._best: Answer | None = None
        self._rank: tuple[object, ...] = ()

    def run(self) -> Found:
        try:
            self._quick()
            self._solver()
        except KeyboardInterrupt:
            if self._best is None:
                raise
        return Found(answer=self._best or (), bound=self._task.value(self._bound))

    @property
    def _met(self) -> bool:
        return self._best is not None and not self._rank[0] and weights(self._task, self._best) <= self._bound

    def _take(self, answer: Answer) -> None:
        rank = _rank(self._task, answer)
        if self._best is None or rank < self._rank:
            better = True
        else:
            better = rank == self._rank and settings(self._task, answer) < settings(self._task, self._best)
        if better:
            self._best, self._rank = answer, rank
            self._progress(self._task.value(weights(self._task, answer)), self._task.value(self._bound))

    def _quick(self) -> None:
        for number, answer in enumerate(quick_answers(self._task, lambda: time.monotonic() < self._quick_ends)):
            self._take(answer)
            if not number:
                self._bound = covering_bound(self._task, covers(self._task))

    def _solver(self) -> None:
        phases = self._phases()
        if self._met or not phases:
            return
        for knapsack in (False, True):
            if knapsack and not self._rank[0]:
                return
            run = Run(task=self._task, phases=phases, enough=self._bound, knapsack=knapsack)
            with closing(answers(run, self._ends)) as found:
                for answer in found:
                    self._take(answer)
                    if self._met:
                        return

    def _phases(self) -> tuple[Phase, ...]:
        """Return the runs that a task of this size is worth."""
        pieces = self._task.pieces
        several = len(self._task.piles) > 1
        runs: list[tuple[int, Phase]] = [
            (_SEARCHED, knapsacks(16)),
            *([(_SEARCHED, halvings(16))] if several else []),
            (200, corrections(16, 8)),
            *([] if several else [(150, trees(64))]),
            (150, knapsacks(128)),
            (100, columns(32)),
        ]
        more: list[tuple[int, Phase]] = [
            (150, corrections(128, 32)),
            (150, trees(512)),
            (_SEARCHED, trees(64, None)),
            (_SEARCHED, corrections(512, 64)),
            (_SEARCHED, trees(4096)),
        ]
        if pieces > _SEARCHED:
            return (corrections(16, 8), columns(32)) if len(self._task.shapes) <= _FEW_SHAPES else ()
        return tuple(phase for most, phase in (*runs, *(more if self._budget.thorough else ())) if pieces <= most)


def _rank(task: Task, answer: Answer) -> tuple[object, ...]:
    """Return what orders answers: area left over, what the sheets come to, their area."""
    placed = sum(_area(tree) * count for _, tree, count in answer)
    whole = sum(shape.area * shape.count for shape in task.shapes)
    return (whole - placed, task.value(weights(task, answer)), areas(task, answer))


def _area(tree: Tree) -> int:
    return tree.width * tree.height if isinstance(tree, Leaf) else sum(_area(part) for part in tree.parts)


def settings(task: Task, answer: Answer) -> int:
    """Return how often the fence is set for all sheets of an answer."""
    total = 0
    for pile, tree, count in answer:
        marks = [cut[4] for cut in sawn(tree, task.piles[pile].width, task.piles[pile].height, task.kerf).cuts]
        total += count * sum(mark != before for mark, before in zip(marks, [None, *marks], strict=False))
    return total
