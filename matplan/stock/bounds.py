"""Proven lower bounds by our own means: dual feasible functions, and a small covering problem over the kinds of sheet.

A dual feasible function f changes lengths so that parts side by side in a length L come to at most f(L); changing
widths by one and heights by another leaves a packing that still fits, so areas may be compared there (Fekete and
Schepers, *A general framework for bounds for higher-dimensional orthogonal packing problems*, 2004; the families after
Carlier, Clautiaux and Moukrim, *New reduction procedures and lower bounds for the two-dimensional bin packing problem*,
2007; both cited from memory). All functions here are superadditive and never fall, so the same one holds for sheets of
every size. Any packing obeys these bounds, guillotine or not.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from matplan.stock.steps import Pile, Shape, Task

type Change = Callable[[int], int]

MOST_NODES = 20_000
"""Of the covering problem's search; beyond them its relaxation is the bound."""
_MOST_MARKS = 24
_MOST_WORK = 4_000_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """The sheets together must come to `demand`, each sheet of pile i to `worth[i]`."""

    demand: int
    worth: tuple[int, ...]


def changes(length: int, sides: Iterable[int], most: int = _MOST_MARKS) -> list[Change]:
    """Functions for lengths up to that one; their thresholds come from the sides of the parts."""
    sides = tuple(sides)
    short, long = (
        (side for side in sides if 0 < 2 * side <= length),
        (side for side in sides if length < 2 * side <= 2 * length),
    )
    marks = sorted({*short, *(length - side + 1 for side in long)})
    marks = [mark for mark in marks if 0 < 2 * mark <= length]
    if len(marks) > most:
        marks = [marks[number * (len(marks) - 1) // (most - 1)] for number in range(most)]
    found: list[Change] = [lambda x: x]
    for mark in marks:
        found.append(_threshold(length, mark))
        found.append(_rounded(length, mark))
    found.extend(_stepped(length, steps) for steps in range(1, 6))
    return found


def _threshold(length: int, mark: int) -> Change:
    """Small parts count nothing, very long ones the whole."""
    return lambda x: 0 if x < mark else length + (x - length) * (x > length) if x > length - mark else x


def _rounded(length: int, mark: int) -> Change:
    """Multiples of the mark, counted from the nearer end."""
    whole = length // mark

    def change(x: int) -> int:
        if 2 * x < length:
            return 2 * (x // mark)
        if 2 * x == length:
            return whole
        return 2 * whole - 2 * ((length - x) // mark)

    return change


def _stepped(length: int, steps: int) -> Change:
    """Whole parts of the length's (steps + 1)th, counted as parts of its steps-th."""
    return lambda x: x * steps if x * (steps + 1) % length == 0 else x * (steps + 1) // length * length


def covers(task: Task) -> list[Cover]:
    """Return every useful inequality that the sheets of an answer must obey."""
    shapes, piles = _turned(task)
    width, height = max(pile.width for pile in piles), max(pile.height for pile in piles)
    fitting = [
        [way for way in shape.ways if any(way[0] <= p.width and way[1] <= p.height for p in piles)] for shape in shapes
    ]
    sides = [side for shape in shapes for side in (shape.width, shape.height)]
    most = max(2, min(_MOST_MARKS, int((_MOST_WORK / (8 * len(shapes) + 1)) ** 0.5) // 2))
    across, down = changes(width, sides, most), changes(height, sides, most)
    wide = [[[f(w) for w, _, _ in ways] for ways in fitting] for f in across]
    high = [[[g(h) for _, h, _ in ways] for ways in fitting] for g in down]
    counts = [shape.count for shape in shapes]
    found: dict[tuple[int, ...], int] = {}
    for f, ws in zip(across, wide, strict=True):
        for g, hs in zip(down, high, strict=True):
            demand = sum(
                count * min(a * b for a, b in zip(w, h, strict=True))
                for count, w, h in zip(counts, ws, hs, strict=True)
            )
            worth = tuple(f(pile.width) * g(pile.height) for pile in piles)
            if demand > 0:
                found[worth] = max(demand, found.get(worth, 0))
    return [Cover(demand=demand, worth=worth) for worth, demand in found.items()]


def _turned(task: Task) -> tuple[Sequence[Shape], Sequence[Pile]]:
    """Return all sheets upright where every part may be turned, which makes the functions sharper."""
    if any(not shape.turn and shape.width != shape.height for shape in task.shapes):
        return task.shapes, task.piles
    upright = [
        Pile(kind=p.kind, width=min(p.width, p.height), height=max(p.width, p.height), weight=p.weight, count=p.count)
        for p in task.piles
    ]
    return task.shapes, upright


def covering_bound(task: Task, found: Sequence[Cover]) -> Fraction:
    """Return the least weight of sheets that obey all the inequalities."""
    strongest = sorted(found, key=lambda cover: _relaxed(task.piles, cover), reverse=True)[:12]
    best = max((_relaxed(task.piles, cover) for cover in strongest), default=Fraction(0))
    weighty = [number for number, pile in enumerate(task.piles) if pile.weight]
    if len(weighty) == 1:
        return max((_single(task.piles, weighty[0], cover) for cover in strongest), default=Fraction(0))
    return max(best, _Covering(task.piles, strongest).least())


def _relaxed(piles: Sequence[Pile], cover: Cover) -> Fraction:
    """Return the least weight where sheets may be used in part."""
    left, weight = Fraction(cover.demand), Fraction(0)
    for pile, worth in sorted(
        ((pile, worth) for pile, worth in zip(piles, cover.worth, strict=True) if worth),
        key=lambda pair: pair[0].weight / pair[1],
    ):
        if left <= 0:
            break
        count = left / worth if pile.count is None else min(left / worth, Fraction(pile.count))
        left -= count * worth
        weight += count * pile.weight
    return weight


def _single(piles: Sequence[Pile], number: int, cover: Cover) -> Fraction:
    """Return the least weight where only one pile weighs anything: all that is free is used first."""
    free = sum(worth * (pile.count or 0) for pile, worth in zip(piles, cover.worth, strict=True) if not pile.weight)
    if any(not pile.weight and pile.count is None for pile in piles) or not cover.worth[number]:
        return Fraction(0)
    return -(-max(0, cover.demand - free) // cover.worth[number]) * piles[number].weight


class _Covering:
    """The covering problem in whole sheets, by depth-first search with the relaxations as bounds."""

    def __init__(self, piles: Sequence[Pile], found: Sequence[Cover]) -> None:
        self._weighty = sorted(
            (n for n, pile in enumerate(piles) if pile.weight), key=lambda n: piles[n].weight, reverse=True
        )
        self._piles, self._found = piles, found
        self._nodes = 0
        self._best: Fraction | None = None
        self._endless = any(not pile.weight and pile.count is None for pile in piles)

    def least(self) -> Fraction:
        if self._endless or not self._found or not self._weighty:
            return Fraction(0)
        left = [
            cover.demand
            - sum(w * (p.count or 0) for p, w in zip(self._piles, cover.worth, strict=True) if not p.weight)
            for cover in self._found
        ]
        self._best = None
        self._search(0, left, Fraction(0))
        if self._nodes > MOST_NODES or self._best is None:
            return Fraction(0)
        return self._best

    def _search(self, depth: int, left: list[int], weight: Fraction) -> None:
        self._nodes += 1
        if self._nodes > MOST_NODES or (self._best is not None and weight + self._rest(depth, left) >= self._best):
            return
        if all(value <= 0 for value in left):
            self._best = weight
            return
        if depth == len(self._weighty):
            return
        number = self._weighty[depth]
        pile = self._piles[number]
        worth = [cover.worth[number] for cover in self._found]
        need = max((-(-value // w) for value, w in zip(left, worth, strict=True) if value > 0 and w), default=0)
        most = need if pile.count is None else min(need, pile.count)
        last = depth + 1 == len(self._weighty)
        for count in range(most, -1, -1) if not last else (most,):
            self._search(
                depth + 1, [v - count * w for v, w in zip(left, worth, strict=True)], weight + count * pile.weight
            )

    def _rest(self, depth: int, left: list[int]) -> Fraction:
        """Return what the remaining piles weigh at least."""
        found = Fraction(0)
        for cover, value in zip(self._found, left, strict=True):
            if value > 0:
                rates = [
                    Fraction(cover.worth[n]) / self._piles[n].weight for n in self._weighty[depth:] if cover.worth[n]
                ]
                if not rates:
                    continue
                found = max(found, value / max(rates))
        return found
