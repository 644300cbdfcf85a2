"""Cutting a list of parts from sheets: what is called from outside.

`cut_sheets(parts, kinds, kerf=…)` returns a `Layout` that the independent checker has cut up and counted.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Final

from matplan.faults import StockError
from matplan.lengths import ZERO
from matplan.stock.checker import check_layout
from matplan.stock.naming import KEEP, Names, laid_sheets
from matplan.stock.records import Layout, Measure, Part, StockKind, Unplaced
from matplan.stock.search import Budget, Found, Progress, search
from matplan.stock.steps import Task, measure_of, task_of


def cut_sheets(
    parts: Sequence[Part],
    kinds: Sequence[StockKind],
    *,
    kerf: Fraction = ZERO,
    keep: Fraction = KEEP,
    budget: Budget | None = None,
    progress: Progress | None = None,
) -> Layout:
    """Return how the parts are cut from the sheets: the cheapest that was found, and how good it is proven to be.

    Cost counts where every kind has a price, else the number of sheets where there is one kind, else the area bought.
    Parts that no sheet holds, or that no sheet is left for, are `unplaced`; then as much area as possible is cut.
    Offcuts are listed from `keep` on, both sides. Ctrl-C gives the best answer so far. Raises `StockError` where the
    checker refuses the answer.
    """
    budget = budget or Budget()
    held = [part for part in parts if any(kind.holds(part) for kind in kinds)]
    unplaced = [Unplaced(name=p.name, quantity=p.quantity, reason=too_large(p, kinds)) for p in parts if p not in held]
    useful = [kind for kind in kinds if kind.most != 0 and any(kind.holds(part) for part in held)]
    none = [part for part in held if not any(kind.holds(part) for kind in useful)]
    unplaced += [Unplaced(name=p.name, quantity=p.quantity, reason=NONE_LEFT) for p in none]
    held = [part for part in held if part not in none]
    measure = measure_of(kinds)
    if held:
        task = task_of(held, useful, kerf, measure)
        try:
            layout = _layout(task, useful, search(task, budget, progress), keep, unplaced)
        except RecursionError:
            raise StockError(
                "one sheet would hold thousands of parts, cut after cut, which is more than can be worked out; cut "
                "from smaller sheets, or a part of the list at a time"
            ) from None
    else:
        nothing = Decimal(0) if measure is Measure.COST else None
        layout = Layout(sheets=(), measure=measure, lower_bound=ZERO, cost=nothing, unplaced=tuple(unplaced))
    check_layout(layout, parts, kinds, kerf)
    return layout


def too_large(part: Part, kinds: Sequence[StockKind]) -> str:
    """Return why no sheet holds the part."""
    if not kinds:
        return "there is no sheet to cut it from"
    way = "" if part.turn else ", which must not be turned,"
    return f"it is larger than every sheet after its trim{way} {plural(len(kinds))}".strip()


def plural(kinds: int) -> str:
    """`(1 size)`, `(3 sizes)`."""
    return f"({kinds} size{'' if kinds == 1 else 's'})"


NONE_LEFT: Final = "no sheet is left for it"


def _layout(task: Task, kinds: Sequence[StockKind], found: Found, keep: Fraction, unplaced: list[Unplaced]) -> Layout:
    """Return the search's answer with names, cuts and sums."""
    names = Names(task)
    sheets = laid_sheets(task, kinds, found.answer, names, keep)
    left = Counter({part.name: 0 for owners in task.owners for part in owners})
    for part, count in names.rest():
        left[part.name] += count
    missing = [Unplaced(name=name, quantity=count, reason=NONE_LEFT) for name, count in left.items() if count]
    layout = Layout(sheets=sheets, measure=task.measure, lower_bound=found.bound, unplaced=(*unplaced, *missing))
    if task.measure is not Measure.COST:
        return layout
    cost = sum((kind.price * layout.bought(kind) for kind in kinds if kind.price is not None), Decimal(0))
    return replace(layout, cost=cost)
