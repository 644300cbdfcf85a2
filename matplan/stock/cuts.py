"""From a tree to what a person does at the board cutter: cuts in the order in which they are made, and what they leave.

All siblings of a strip are cut, then their parts are cut further; among the cuts that can be made next, those that need
no new fence setting come first. Numbers are whole steps, sizes include one kerf.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Iterator
from dataclasses import dataclass, field

from matplan.stock.trees import Leaf, Strip, Tree

type Rectangle = tuple[int, int, int, int]
"""x, y, width, height."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sawn:
    """A sheet cut up: parts where they lie, cuts `(x1, y1, x2, y2, setting)` in order, net offcuts."""

    placed: tuple[tuple[int, int, Leaf], ...]
    cuts: tuple[tuple[int, int, int, int, int], ...]
    offcuts: tuple[Rectangle, ...]


def sawn(tree: Tree, width: int, height: int, kerf: int) -> Sawn:
    """Return how the tree is cut from a sheet of the size (one kerf included); coordinates from its trimmed corner."""
    return _Bench(kerf).run(tree, width, height)


@dataclass(slots=True)
class _Region:
    """A part being cut: `first` are the cuts that trim it, then its strip's parts are cut off one by one."""

    x: int
    y: int
    width: int
    height: int
    tree: Tree
    first: deque[tuple[bool, int]] = field(default_factory=deque)
    rest: list[Tree] = field(default_factory=list)

    def next_settings(self) -> Iterator[tuple[bool, int]]:
        """Direction (True: a cut from top to bottom) and kept width of every cut that can be made next."""
        if self.first:
            yield self.first[0]
        elif isinstance(self.tree, Strip):
            across = self.tree.across
            left = self.width if across else self.height
            if len(self.rest) > 1 or (self.rest and _side(self.rest[0], across) < left):
                yield from dict.fromkeys((across, _side(part, across)) for part in self.rest)


def _side(tree: Tree, across: bool) -> int:
    return tree.width if across else tree.height


class _Bench:
    def __init__(self, kerf: int) -> None:
        self._kerf = kerf
        self._open: list[_Region] = []
        self._placed: list[tuple[int, int, Leaf]] = []
        self._cuts: list[tuple[int, int, int, int, int]] = []
        self._offcuts: list[Rectangle] = []

    def run(self, tree: Tree, width: int, height: int) -> Sawn:
        self._lay(tree, 0, 0, width, height)
        ahead = _foreseen(tree)
        now = 0
        while self._open:
            now = self._setting(now, ahead)
            for region in list(self._open):
                for across, side in list(region.next_settings()):
                    while side == now and (across, side) in region.next_settings():
                        self._cut(region, across, side)
                        ahead[side] -= 1
            self._open = [region for region in self._open if any(True for _ in region.next_settings())]
        return Sawn(placed=tuple(self._placed), cuts=tuple(self._cuts), offcuts=tuple(self._offcuts))

    def _setting(self, now: int, ahead: Counter[int]) -> int:
        """Return the fence's next place: where it stands if it serves; else one that need not come again, the widest
        first.
        """
        ready: Counter[int] = Counter()
        for region in self._open:
            for _, side in region.next_settings():
                ready[side] += (
                    sum(_side(part, region.tree.across) == side for part in region.rest)
                    if isinstance(region.tree, Strip) and _in_strip(region)
                    else 1
                )
        if now in ready:
            return now
        return max(ready, key=lambda side: (ready[side] >= ahead[side], side))

    def _lay(self, tree: Tree, x: int, y: int, width: int, height: int) -> None:
        """A part of the sheet that a tree is to be cut from: which trims it needs, and in which order
        they leave most.
        """
        region = _Region(x, y, width, height, tree)
        wide, high = width - tree.width, height - tree.height
        end, side = (True, tree.width), (False, tree.height)
        if wide and high:
            lengthwise = wide * height >= width * high
            region.first.extend((end, side) if lengthwise else (side, end))
        elif wide and not (isinstance(tree, Strip) and tree.across):
            region.first.append(end)
        elif high and not (isinstance(tree, Strip) and not tree.across):
            region.first.append(side)
        if wide and high and isinstance(tree, Strip) and region.first[1][0] == tree.across:
            region.first.pop()  # the strip's last cut does it
        if isinstance(tree, Strip):
            region.rest = list(tree.parts)
        if region.first or isinstance(tree, Strip):
            self._open.append(region)
        else:
            self._placed.append((x, y, tree))

    def _cut(self, region: _Region, across: bool, side: int) -> None:
        """One cut: what is kept lies left of it or above, the rest beyond the kerf."""
        x, y, kerf = region.x, region.y, self._kerf
        trimming = bool(region.first)
        if across:
            at = x + side - kerf
            self._cuts.append((at, y, at, y + region.height - kerf, side - kerf))
            beyond = (x + side, y, region.width - side, region.height)
        else:
            at = y + side - kerf
            self._cuts.append((x, at, x + region.width - kerf, at, side - kerf))
            beyond = (x, y + side, region.width, region.height - side)
        if trimming:
            region.first.popleft()
            self._offcut(beyond)
            if across:
                region.width = side
            else:
                region.height = side
            if not region.first and isinstance(region.tree, Leaf):
                self._placed.append((x, y, region.tree))
            elif not region.first:
                self._close(region)
            return
        part = next(part for part in region.rest if _side(part, across) == side)
        region.rest.remove(part)
        if across:
            self._lay(part, x, y, side, region.height)
        else:
            self._lay(part, x, y, region.width, side)
        region.x, region.y, region.width, region.height = beyond
        self._close(region)

    def _close(self, region: _Region) -> None:
        """Ends a region whose strip is done: what is left is its last part, or an offcut."""
        if not region.rest:
            self._offcut((region.x, region.y, region.width, region.height))
        elif len(region.rest) == 1 and isinstance(region.tree, Strip):
            (last,) = region.rest
            across = region.tree.across
            if _side(last, across) == (region.width if across else region.height):
                region.rest.clear()
                self._lay(last, region.x, region.y, region.width, region.height)

    def _offcut(self, beyond: Rectangle) -> None:
        x, y, width, height = beyond
        if width > self._kerf and height > self._kerf:
            self._offcuts.append((x, y, width - self._kerf, height - self._kerf))


def _in_strip(region: _Region) -> bool:
    return not region.first


def _foreseen(tree: Tree) -> Counter[int]:
    """Return how often each setting comes in cutting a tree, about: trims of the sheet are left out."""
    found: Counter[int] = Counter()
    rest: list[Tree] = [tree]
    while rest:
        node = rest.pop()
        if isinstance(node, Strip):
            side = node.height if node.across else node.width
            for part in node.parts:
                found[_side(part, node.across)] += 1
                own = _side(part, not node.across)
                if own < side:
                    found[own] += 1
            rest.extend(node.parts)
    return found
