"""Guillotine layouts as trees: a leaf is a part, a strip its parts side by side.

Sizes are whole steps and include one kerf in width and in height, as do those of the sheets: so the kerf needs no
further thought until the cuts are drawn.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from matplan.faults import StockError


@dataclass(frozen=True, slots=True)
class Leaf:
    """One part: the number of its shape, and whether it is turned."""

    shape: int
    turned: bool
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class Strip:
    """Its parts lie in a row to the right (`across`) or below one another; its size is what they need."""

    across: bool
    parts: tuple[Tree, ...]
    width: int
    height: int


type Tree = Leaf | Strip


def strip(across: bool, parts: Sequence[Tree]) -> Tree:
    """Return the parts side by side; strips of the same direction are joined, one part alone is itself."""
    flat: list[Tree] = []
    for part in parts:
        if isinstance(part, Strip) and part.across == across:
            flat.extend(part.parts)
        else:
            flat.append(part)
    if len(flat) == 1:
        return flat[0]
    widths, heights = [part.width for part in flat], [part.height for part in flat]
    if across:
        return Strip(across, tuple(flat), sum(widths), max(heights))
    return Strip(across, tuple(flat), max(widths), sum(heights))


type Placed = tuple[int, int, Leaf]
"""x, y and the part there."""


def tree_of(placed: Sequence[Placed]) -> Tree:
    """Return the tree of a guillotine layout, pushed together to the top left. Raises `StockError` where no cut
    separates the parts.
    """
    if len(placed) == 1:
        return placed[0][2]
    found = [
        strip(across, [tree_of(group) for group in groups])
        for across in (True, False)
        if len(groups := _groups(placed, 0 if across else 1)) > 1
    ]
    if not found:
        raise StockError(f"{len(placed)} parts lie so that no cut from edge to edge separates them")
    return min(found, key=lambda tree: (_cuts(tree), max(tree.width, tree.height)))


def _groups(placed: Sequence[Placed], axis: int) -> list[list[Placed]]:
    """Return the parts in groups that a straight cut separates, along x (0) or y (1)."""
    groups: list[list[Placed]] = []
    end = 0
    for item in sorted(placed, key=lambda one: one[1] if axis else one[0]):
        start = item[1] if axis else item[0]
        reach = start + (item[2].height if axis else item[2].width)
        if not groups or start >= end:
            groups.append([item])
            end = reach
        else:
            groups[-1].append(item)
            end = max(end, reach)
    return groups


def _cuts(tree: Tree) -> int:
    """Return how many cuts separate the parts of a tree."""
    if isinstance(tree, Leaf):
        return 0
    side = tree.height if tree.across else tree.width
    trims = sum((part.height if tree.across else part.width) < side for part in tree.parts)
    return len(tree.parts) - 1 + trims + sum(_cuts(part) for part in tree.parts)
