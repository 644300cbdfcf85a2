"""Our own quick layouts: sheet after sheet filled from a sorted list, each free rectangle cut in two beside the part
put there.

They give an answer in milliseconds, often the best one, and the search for a better one starts from what they need.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from itertools import product

from matplan.stock.naming import Answer
from matplan.stock.steps import Pile, Shape, Task
from matplan.stock.trees import Leaf, Placed, Tree, tree_of

type Order = Callable[[Shape], tuple[int, ...]]
type Split = Callable[[int, int, int, int], bool]
"""Free width and height, the part's width and height: whether the first cut runs from top to bottom."""

_ORDERS: tuple[Order, ...] = (
    lambda s: (s.area, max(s.width, s.height)),
    lambda s: (max(s.width, s.height), min(s.width, s.height)),
    lambda s: (min(s.width, s.height), max(s.width, s.height)),
    lambda s: (s.width + s.height, s.area),
)
_SPLITS: tuple[Split, ...] = (
    lambda W, H, w, h: (W - w) * H > W * (H - h),  # noqa: N803  (the larger piece stays whole)
    lambda W, H, w, h: W - w > H - h,  # noqa: N803
    lambda W, H, w, h: W - w <= H - h,  # noqa: N803
)


def quick_answers(task: Task, on_time: Callable[[], bool]) -> Iterator[Answer]:
    """Answers of the quick rules, each of which places all it can, until the time is up; the first is always tried."""
    for number, (split, order) in enumerate(product(_SPLITS, _ORDERS)):
        for choose in (_by_worth, *((_alone(pile) for pile in _bought(task)) if len(_bought(task)) > 1 else ())):
            if number and not on_time():
                return
            yield _filled(task, order, split, choose)


def _bought(task: Task) -> list[int]:
    return [number for number, pile in enumerate(task.piles) if pile.weight]


type Choose = Callable[[Task, dict[int, _Pattern], Counter[int]], int]


def _filled(task: Task, order: Order, split: Split, choose: Choose) -> Answer:
    """Return one answer: what costs nothing is filled first, the smallest sheets before larger ones; then sheet after
    sheet as chosen.
    """
    shapes = sorted(range(len(task.shapes)), key=lambda number: order(task.shapes[number]), reverse=True)
    left = Counter({number: task.shapes[number].count for number in shapes})
    stock = {number: pile.count for number, pile in enumerate(task.piles)}
    answer: list[tuple[int, Tree, int]] = []
    free = sorted(
        (number for number, pile in enumerate(task.piles) if not pile.weight),
        key=lambda number: task.piles[number].area,
    )
    for number in free:
        while left and stock[number] != 0:
            pattern = _Pattern(task, number, shapes, left, split)
            if not pattern.placed:
                break
            answer.append(pattern.laid(left, stock))
    open_piles = [number for number, pile in enumerate(task.piles) if pile.weight]
    while left:
        patterns = {n: _Pattern(task, n, shapes, left, split) for n in open_piles if stock[n] != 0}
        patterns = {n: pattern for n, pattern in patterns.items() if pattern.placed}
        if not patterns:
            break
        answer.append(patterns[choose(task, patterns, left)].laid(left, stock))
    return tuple(answer)


def _by_worth(task: Task, patterns: dict[int, _Pattern], left: Counter[int]) -> int:
    """Return the sheet that costs least for what it takes; of sheets that take all that is left the cheapest."""
    rest = sum(task.shapes[number].area * count for number, count in left.items())
    last = [number for number, pattern in patterns.items() if pattern.area == rest]
    if last:
        whole = min(last, key=lambda number: (task.piles[number].weight, task.piles[number].area))
        if all(task.piles[whole].weight <= task.piles[other].weight for other in patterns):
            return whole
    return min(
        patterns,
        key=lambda number: (Fraction(task.piles[number].weight, patterns[number].area), task.piles[number].area),
    )


def _alone(pile: int) -> Choose:
    """Always sheets of the pile, others only for what it does not hold."""

    def choose(task: Task, patterns: dict[int, _Pattern], left: Counter[int]) -> int:
        return pile if pile in patterns else _by_worth(task, patterns, left)

    return choose


class _Pattern:
    """One sheet of a pile filled in the order of the list."""

    def __init__(self, task: Task, pile: int, shapes: Sequence[int], left: Counter[int], split: Split) -> None:
        self._pile = pile
        self._split = split
        self._free: list[tuple[int, int, int, int]] = [(0, 0, task.piles[pile].width, task.piles[pile].height)]
        self.placed: list[Placed] = []
        self.taken: Counter[int] = Counter()
        self.area = 0
        for number in shapes:
            shape = task.shapes[number]
            for _ in range(left[number]):
                if not self._put(number, shape):
                    break
            if not self._free:
                break

    def _put(self, number: int, shape: Shape) -> bool:
        best: tuple[int, int, int, int, int, bool] | None = None
        for index, (_, _, room, depth) in enumerate(self._free):
            for width, height, turned in shape.ways:
                if width <= room and height <= depth:
                    waste = room * depth - shape.area
                    short = min(room - width, depth - height)
                    if best is None or (waste, short) < best[:2]:
                        best = (waste, short, index, width, height, turned)
        if best is None:
            return False
        _, _, index, width, height, turned = best
        x, y, room, depth = self._free.pop(index)
        if self._split(room, depth, width, height):
            rest = ((x + width, y, room - width, depth), (x, y + height, width, depth - height))
        else:
            rest = ((x + width, y, room - width, height), (x, y + height, room, depth - height))
        self._free.extend(part for part in rest if part[2] > 0 and part[3] > 0)
        self.placed.append((x, y, Leaf(number, turned, width, height)))
        self.taken[number] += 1
        self.area += shape.area
        return True

    def laid(self, left: Counter[int], stock: dict[int, int | None]) -> tuple[int, Tree, int]:
        """Return the pattern as often as parts and sheets allow; both are taken away."""
        times = min(left[number] // count for number, count in self.taken.items())
        there = stock[self._pile]
        if there is not None:
            times = min(times, there)
            stock[self._pile] = there - times
        for number, count in self.taken.items():
            left[number] -= count * times
            if not left[number]:
                del left[number]
        return (self._pile, tree_of(self.placed), times)


def weights(task: Task, answer: Answer) -> Fraction:
    """Return what the sheets of an answer weigh."""
    return sum((task.piles[number].weight * count for number, _, count in answer), Fraction(0))


def areas(task: Task, answer: Answer) -> int:
    """Return the area of the sheets of an answer, free ones included."""
    return sum(task.piles[number].area * count for number, _, count in answer)


def holds(pile: Pile, shapes: Sequence[Shape]) -> bool:
    """Return whether the pile's sheets hold any of the shapes."""
    return any(pile.holds(shape) for shape in shapes)
