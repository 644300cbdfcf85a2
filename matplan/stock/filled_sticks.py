"""The rules by which sticks are filled, in whole steps: a need is a rail with its kerf, a room a stick with one kerf.

Equal rails are held as one need with its count, and a stick that is found is cut as often as its rails last. The looks
of all fillings together are limited by their number, never by the clock, so that a job always gets the same answer.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right, insort
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

ALL_LOOKS: Final = 2_000_000
"""Looks for all sticks of a job; afterwards each stick takes the longest rail that fits, again and again."""
MOST_LOOKS: Final = 20_000
"""Looks for one stick."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RackKind:
    """A kind of stick with its room in whole steps; `number` is its place among the kinds."""

    room: int
    weight: Fraction
    have: int
    length: Fraction
    number: int


@dataclass(slots=True, kw_only=True)
class Looks:
    """How many looks are left for the job."""

    left: int


class _Left:
    """The needs that are not cut yet: each once in `row`, the shortest first, with its number in `counts`."""

    def __init__(self, needs: Sequence[int]) -> None:
        self.counts = Counter(needs)
        self.row = sorted(self.counts)

    def take(self, found: Sequence[int], sticks: int = 1) -> None:
        self.counts.subtract({need: count * sticks for need, count in Counter(found).items()})
        for need in set(found):
            if not self.counts[need]:
                del self.row[bisect_left(self.row, need)]


type Filled = tuple[RackKind, tuple[int, ...]]
"""A stick with the needs that are cut from it, the longest first."""


def from_ready(
    needs: Sequence[int], kinds: Sequence[RackKind], cut: int, looks: Looks
) -> Iterator[tuple[tuple[Filled, ...], list[int]]]:
    """Yield the sticks that lie ready with what several rules cut from them, and the needs that are left; the longest
    sticks first and the shortest first, each as full as it gets or each rail where it leaves the least.
    """
    ready = [kind for kind in kinds for _ in range(min(kind.have, len(needs)))]
    if not ready:
        yield (), list(needs)
        return
    for longest_first in (False, True) if len(set(ready)) > 1 else (False,):
        row = sorted(ready, key=lambda kind: kind.room, reverse=longest_first)
        left = _Left(needs)
        sticks: list[Filled] = []
        for kind in row:
            if not left.row:
                break
            if left.row[0] <= kind.room:
                taken, _ = _filling(left, kind.room, cut, looks)
                sticks.append((kind, taken))
                left.take(taken)
        yield tuple(sticks), [need for need in reversed(left.row) for _ in range(left.counts[need])]
    unopened = {kind: kind.have for kind in sorted(kinds, key=lambda kind: kind.room)}
    opened: list[tuple[RackKind, list[int]]] = []
    spaces: list[tuple[int, int]] = []
    rest: list[int] = []
    for need in needs:
        if (at := bisect_left(spaces, (need, 0))) < len(spaces):
            space, i = spaces.pop(at)
            opened[i][1].append(need)
            insort(spaces, (space - need, i))
        elif new := next((kind for kind, have in unopened.items() if have and kind.room >= need), None):
            unopened[new] -= 1
            insort(spaces, (new.room - need, len(opened)))
            opened.append((new, [need]))
        else:
            rest.append(need)
    yield tuple((kind, tuple(own)) for kind, own in opened), rest


def answers(needs: Sequence[int], kinds: Sequence[RackKind], cut: int, looks: Looks) -> Iterator[tuple[Filled, ...]]:
    """Yield answers by rules: the tightest stick first for each kind alone, and the fullest stick for its weight, one
    after another.
    """
    if not needs:
        yield ()
        return
    for kind in kinds:
        if needs[0] <= kind.room:
            yield tuple(_best_fit(needs, kind))
            yield tuple(_fullest(needs, [kind], cut, looks))
    if len(kinds) > 1:
        yield tuple(_fullest(needs, kinds, cut, looks))


def pushed_down(answer: Sequence[Filled], kinds: Sequence[RackKind]) -> Iterator[Filled]:
    """Yield each stick exchanged for the cheapest kind that holds its rails."""
    cheapest = sorted(kinds, key=lambda kind: (kind.weight, kind.length))
    for _, needs in answer:
        whole = sum(needs)
        yield next(kind for kind in cheapest if kind.room >= whole), needs


def _best_fit(needs: Sequence[int], kind: RackKind) -> Iterator[Filled]:
    """Yield each rail, the longest first, onto the stick that it leaves the least of."""
    sticks: list[list[int]] = []
    spaces: list[tuple[int, int]] = []
    for need in needs:
        if (at := bisect_left(spaces, (need, 0))) < len(spaces):
            space, i = spaces.pop(at)
            sticks[i].append(need)
            insort(spaces, (space - need, i))
        else:
            insort(spaces, (kind.room - need, len(sticks)))
            sticks.append([need])
    yield from ((kind, tuple(found)) for found in sticks)


def _fullest(needs: Sequence[int], kinds: Sequence[RackKind], cut: int, looks: Looks) -> Iterator[Filled]:
    """Yield one stick after another: with the longest rail left, and the others that fill it best; the cheapest kind
    for that.
    """
    left = _Left(needs)
    while left.row:
        filled = [(kind, *_filling(left, kind.room, cut, looks)) for kind in kinds if left.row[-1] <= kind.room]
        kind, found, _ = min(filled, key=lambda one: one[0].weight / (sum(one[1]) - len(one[1]) * cut))
        # The same search finds the same stick again as long as its rails last, unless it was cut off.
        whole = all(ended for *_, ended in filled)
        again = min(left.counts[need] // count for need, count in Counter(found).items()) if whole else 1
        yield from [(kind, found)] * again
        left.take(found, again)


def _filling(left: _Left, room: int, cut: int, looks: Looks) -> tuple[tuple[int, ...], bool]:
    """Return the longest need that the room holds with the others that leave the least of it, and whether the search
    came to its end.

    A search for which no look is left takes the longest that fits again and again, and counts as ended.
    """
    row, counts = left.row, left.counts
    most = looks_left = min(MOST_LOOKS, looks.left)
    if not most:
        return tuple(_longest_that_fit(left, room)), True
    top = bisect_right(row, room) - 1
    least = room - row[top]
    best: tuple[int, ...] = ()
    enough = max(cut, 1)

    def look(group: int, spare: int, rest: int, taken: tuple[int, ...]) -> None:
        """Look at what is taken and then add each need that fits: `spare` are left of the group's, all of the groups
        below it.
        """
        nonlocal best, least, looks_left
        looks_left -= 1
        if rest < least:
            least, best = rest, taken
        for at in range(min(group, bisect_right(row, rest) - 1), -1, -1):
            if looks_left <= 0 or least < enough:
                return
            if count := spare if at == group else counts[row[at]]:
                look(at, count - 1, rest - row[at], (*taken, row[at]))

    look(top, counts[row[top]] - 1, least, ())
    looks.left -= most - looks_left
    return (row[top], *best), looks_left > 0 or least < enough


def _longest_that_fit(left: _Left, rest: int) -> Iterator[int]:
    at = len(left.row)
    while (at := min(at, bisect_right(left.row, rest)) - 1) >= 0:
        need = left.row[at]
        for _ in range(min(left.counts[need], rest // need)):
            rest -= need
            yield need
