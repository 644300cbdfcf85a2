"""From shapes back to parts: which named piece each rectangle of a layout is, and equal sheets counted together."""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Iterable, Sequence
from fractions import Fraction

from matplan.lengths import Box
from matplan.stock.cuts import Rectangle, sawn
from matplan.stock.records import CutLine, LaidSheet, Part, Piece, StockKind
from matplan.stock.steps import Task
from matplan.stock.trees import Tree

type Answer = tuple[tuple[int, Tree, int], ...]
"""The number of a pile, a tree to cut from its sheets, and from how many of them."""

KEEP = Fraction(100)
"""Millimetres: an offcut is worth keeping where both its sides reach this (common practice; a setting)."""


class Names:
    """Gives out the parts of each shape in the order of the list."""

    def __init__(self, task: Task) -> None:
        self._left = [deque((part, part.quantity) for part in owners) for owners in task.owners]

    def take(self, shape: int) -> Part:
        """Return the next part of the shape."""
        queue = self._left[shape]
        part, count = queue.popleft()
        if count > 1:
            queue.appendleft((part, count - 1))
        return part

    def rest(self) -> Iterable[tuple[Part, int]]:
        """Return the parts that are left, with their number."""
        return ((part, count) for queue in self._left for part, count in queue)


def laid_sheets(
    task: Task, kinds: Sequence[StockKind], answer: Answer, names: Names, keep: Fraction = KEEP
) -> tuple[LaidSheet, ...]:
    """Return the sheets of an answer with their cuts, each piece named; equal ones are counted together."""
    return tuple(
        sheet for number, tree, count in answer for sheet in _sheets(task, kinds, (number, tree, count), names, keep)
    )


def _sheets(
    task: Task, kinds: Sequence[StockKind], laid: tuple[int, Tree, int], names: Names, keep: Fraction
) -> Iterable[LaidSheet]:
    number, tree, count = laid
    pile = task.piles[number]
    kind = kinds[pile.kind]
    unit, trim = task.unit, kind.trim
    cut = sawn(tree, pile.width, pile.height, task.kerf)

    def at(steps: int) -> Fraction:
        return steps * unit + trim

    cuts = tuple(
        CutLine(x1=at(x1), y1=at(y1), x2=at(x2), y2=at(y2), setting=s * unit) for x1, y1, x2, y2, s in cut.cuts
    )
    offcuts = [_box(offcut, unit, trim) for offcut in cut.offcuts]
    kept = sorted(
        (box for box in offcuts if min(box.width, box.height) >= keep), key=lambda box: (-box.size.area, box.x, box.y)
    )
    boxes = [_box((x, y, leaf.width - task.kerf, leaf.height - task.kerf), unit, trim) for x, y, leaf in cut.placed]
    named = Counter(tuple(names.take(leaf.shape) for _, _, leaf in cut.placed) for _ in range(count))
    for parts, times in named.items():
        pieces = tuple(
            Piece(name=part.name, x=box.x, y=box.y, width=box.width, height=box.height, turned=box.size != part.size)
            for part, box in zip(parts, boxes, strict=True)
        )
        yield LaidSheet(stock=kind, count=times, pieces=pieces, cuts=cuts, offcuts=tuple(kept))


def _box(rectangle: Rectangle, unit: Fraction, trim: Fraction) -> Box:
    x, y, width, height = rectangle
    return Box(x * unit + trim, y * unit + trim, width * unit, height * unit)
