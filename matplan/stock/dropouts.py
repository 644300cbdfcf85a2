"""Windows' drop-outs as stock: what falls out of one mat serves for smaller ones of the same board, at no cost.

A part that lies in a drop-out is smaller than the mat it falls from. So the mats are gone through from the largest
down, each drop-out is filled with what is still to be cut, and no drop-out is ever needed before it exists. What is
left is cut from sheets as always.
"""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from matplan.lengths import ZERO, Size
from matplan.stock.checker import check_layout
from matplan.stock.naming import KEEP, Names, laid_sheets
from matplan.stock.records import LaidSheet, Layout, Part, StockKind
from matplan.stock.search import Budget, Progress, search
from matplan.stock.solver import cut_sheets
from matplan.stock.steps import task_of

SHARE: Final = 0.3
"""Of the budget for filling drop-outs."""
_EACH: Final = 0.1
"""Seconds for one drop-out: quick rules only."""


def cut_mats(
    parts: Sequence[Part],
    kinds: Sequence[StockKind],
    *,
    kerf: Fraction = ZERO,
    keep: Fraction = KEEP,
    budget: Budget | None = None,
    progress: Progress | None = None,
) -> Layout:
    """Return the layout of `cut_sheets`, with the parts' drop-outs as further stock where they save something.

    The bound is that of the parts that fit into no drop-out at all. Raises `StockError` where the checker refuses the
    answer.
    """
    budget = budget or Budget()
    small = [part for part in parts if any(_holds(drop, part) for other in parts for drop in other.drops)]
    filled = _gathered(_filled(parts, kerf, keep, time.monotonic() + SHARE * budget.seconds)) if small else ()
    if not filled:
        return cut_sheets(parts, kinds, kerf=kerf, keep=keep, budget=budget, progress=progress)
    rest = _without(parts, filled)
    cut = cut_sheets(rest, kinds, kerf=kerf, keep=keep, budget=budget, progress=progress)
    large = [part for part in parts if part not in small]
    bound = cut_sheets(large, kinds, kerf=kerf, budget=Budget(seconds=0)).lower_bound
    made = replace(cut, sheets=(*cut.sheets, *filled), lower_bound=min(bound, cut.value))
    check_layout(made, parts, kinds, kerf)
    if made.optimal:
        return made
    plain = cut_sheets(parts, kinds, kerf=kerf, keep=keep, budget=budget, progress=progress)
    if (_area_left(made), made.value, made.area_used) < (_area_left(plain), plain.value, plain.area_used):
        return made
    return replace(plain, lower_bound=min(bound, plain.value))


def _area_left(layout: Layout) -> int:
    return sum(lost.quantity for lost in layout.unplaced)


def _gathered(sheets: Iterable[LaidSheet]) -> tuple[LaidSheet, ...]:
    """Return equal drop-outs that follow one another, counted together."""
    found: list[LaidSheet] = []
    for sheet in sheets:
        if found and replace(found[-1], count=1) == sheet:
            found[-1] = replace(sheet, count=found[-1].count + 1)
        else:
            found.append(sheet)
    return tuple(found)


def _holds(drop: Size, part: Part) -> bool:
    return drop.holds(part.size) or (part.turn and drop.holds(part.size.turned))


def _filled(parts: Sequence[Part], kerf: Fraction, keep: Fraction, ends: float) -> Iterator[LaidSheet]:
    """Return the drop-outs with what is cut from them, each after the mat that it falls from."""
    left = Counter({part.name: part.quantity for part in parts})
    by_name = {part.name: part for part in parts}
    for source in sorted(parts, key=lambda part: -part.size.area):
        for drop in sorted(source.drops, key=lambda size: -size.area):
            for _ in range(source.quantity):
                fitting = [
                    replace(by_name[name], quantity=count)
                    for name, count in left.items()
                    if count and _holds(drop, by_name[name])
                ]
                if not fitting or time.monotonic() > ends:
                    break
                laid = _one(source, drop, fitting, kerf, keep)
                if laid is None:
                    break
                left.subtract(piece.name for piece in laid.pieces)
                yield laid


def _one(source: Part, drop: Size, parts: Sequence[Part], kerf: Fraction, keep: Fraction) -> LaidSheet | None:
    """Return one drop-out with as much as goes into it."""
    kind = StockKind(name=f"drop-out of {source.name}", size=drop, have=1, limit=0, falls_from=source.name)
    task = task_of(parts, [kind], kerf)
    found = search(task, Budget(seconds=_EACH))
    laid = laid_sheets(task, [kind], found.answer, Names(task), keep)
    return laid[0] if laid else None


def _without(parts: Sequence[Part], filled: Sequence[LaidSheet]) -> list[Part]:
    """Return what is left to cut from sheets."""
    taken = Counter(piece.name for sheet in filled for piece in sheet.pieces for _ in range(sheet.count))
    return [
        replace(part, quantity=part.quantity - taken[part.name]) for part in parts if part.quantity > taken[part.name]
    ]
