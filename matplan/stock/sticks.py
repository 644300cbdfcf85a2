"""Rails from sticks: which lengths are cut from which stick, and how good that is proven to be.

A mitred cut crosses the stick at 45°, so it takes kerf × √2 along it; √2 is taken as 1.41421357, just above, so that
nothing is ever short. As on sheets a kerf goes beyond each rail, and the last one may overrun the stick's end.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from functools import cache
from itertools import accumulate
from math import gcd, lcm

from matplan.faults import StockError
from matplan.lengths import ZERO
from matplan.stock.filled_sticks import ALL_LOOKS, Looks, RackKind, answers, from_ready, pushed_down

ROOT_TWO = Fraction(141_421_357, 100_000_000)


@dataclass(frozen=True, slots=True, kw_only=True)
class StickKind:
    """A stick: `have` lie ready and cost nothing, any number is `sold` besides; `spare` is taken off each end."""

    length: Fraction
    price: Decimal | None = None
    spare: Fraction = ZERO
    have: int = 0
    sold: bool = True

    @property
    def usable(self) -> Fraction:
        return self.length - 2 * self.spare


@dataclass(frozen=True, slots=True, kw_only=True)
class Stick:
    """One stick with the lengths that are cut from it, the longest first."""

    kind: StickKind
    rails: tuple[Fraction, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sticks:
    """How rails are cut. `lower_bound` is proven of what is bought: sticks, or cost where several kinds are sold;
    `unplaced` are the rails for which no stick is left that is long enough.
    """

    sticks: tuple[Stick, ...]
    lower_bound: Fraction
    by_cost: bool
    unplaced: tuple[Fraction, ...] = ()

    def used(self) -> dict[StickKind, int]:
        """Return how many sticks of each kind are cut."""
        return dict(Counter(stick.kind for stick in self.sticks))

    def told(self) -> Iterator[tuple[Stick, bool]]:
        """Yield each stick and whether it is one of those that lie ready."""
        used: Counter[StickKind] = Counter()
        for stick in self.sticks:
            used[stick.kind] += 1
            yield stick, used[stick.kind] <= stick.kind.have

    @property
    def value(self) -> Fraction:
        """What is bought, in the bound's measure."""
        bought = ((kind, max(0, count - kind.have)) for kind, count in self.used().items())
        return sum((_weight(kind, by_cost=self.by_cost) * count for kind, count in bought), ZERO)

    @property
    def optimal(self) -> bool:
        return not self.unplaced and self.value == self.lower_bound


def cut_sticks(rails: Sequence[Fraction], kinds: Sequence[StickKind], kerf: Fraction) -> Sticks:
    """Return the rails from sticks of the kinds: the sticks that lie ready first, and besides them the cheapest that
    several rules find, or the fewest where one kind is sold.

    With several kinds without a price the length bought is what counts.
    """
    cut = kerf * ROOT_TWO
    sold = [kind for kind in kinds if kind.sold]
    by_cost = len(sold) > 1
    scale = lcm(cut.denominator, *(length.denominator for length in (*rails, *(kind.usable for kind in kinds))))
    own = {int((rail + cut) * scale): rail for rail in rails}
    kerf_steps = int(cut * scale)

    def rack(kind: StickKind) -> RackKind:
        return RackKind(
            room=int((kind.usable + cut) * scale),
            weight=_weight(kind, by_cost=by_cost),
            have=kind.have,
            length=kind.length,
            number=kinds.index(kind),
        )

    @cache
    def stick(number: int, needs: tuple[int, ...]) -> Stick:
        return Stick(kind=kinds[number], rails=tuple(own[need] for need in needs))

    offered = [rack(kind) for kind in kinds]
    bought = [rack(kind) for kind in sold]
    room = max((kind.room for kind in bought), default=0)
    looks = Looks(left=ALL_LOOKS)
    found: list[tuple[int, Sticks]] = []
    needs = sorted((int((rail + cut) * scale) for rail in rails), reverse=True)
    for ready, rest in from_ready(needs, offered, kerf_steps, looks):
        left = [need for need in rest if need <= room]
        lost = tuple(own[need] for need in rest if need > room)
        for answer in answers(left, bought, kerf_steps, looks):
            sticks = tuple(stick(kind.number, cut_from) for kind, cut_from in (*ready, *pushed_down(answer, bought)))
            found.append((len(lost), Sticks(sticks=sticks, lower_bound=ZERO, by_cost=by_cost, unplaced=lost)))
    _, best = min(found, key=lambda one: (one[0], one[1].value))
    held = [rail for stick in best.sticks for rail in stick.rails]
    made = replace(best, lower_bound=_bound(held, kinds, cut, by_cost=by_cost))
    check_sticks(made, rails, cut)
    return made


def _weight(kind: StickKind, *, by_cost: bool) -> Fraction:
    if not by_cost:
        return Fraction(1)
    return kind.length if kind.price is None else Fraction(kind.price)


# --- bounds ----------------------------------------------------------------------------------------------------------


def _bound(rails: Sequence[Fraction], kinds: Sequence[StickKind], cut: Fraction, *, by_cost: bool) -> Fraction:
    """No answer buys less: what the sticks that lie ready cannot hold together, and the rails that are longer than
    each of them by themselves.
    """
    sold = [kind for kind in kinds if kind.sold]
    ready = [kind for kind in kinds for _ in range(min(kind.have, len(rails)))]
    longest = max((kind.usable for kind in ready), default=ZERO)
    needs = [rail + cut for rail in rails if rail > longest]
    return max(
        _bought(needs, sold, [], cut, by_cost=by_cost),
        _bought([rail + cut for rail in rails], sold, ready, cut, by_cost=by_cost),
    )


def _bought(
    needs: Sequence[Fraction], sold: Sequence[StickKind], ready: Sequence[StickKind], cut: Fraction, *, by_cost: bool
) -> Fraction:
    """Return the length needed beyond what lies ready at the best price for a length, and for one kind how rails can
    share sticks at all, each stick taken as long as the longest.
    """
    rooms = [kind.usable + cut for kind in sold if kind.usable > 0]
    beyond = sum(needs, ZERO) - sum((kind.usable + cut for kind in ready if kind.usable > 0), ZERO)
    if not needs or not rooms:
        return ZERO
    if by_cost:
        rate = min(_weight(kind, by_cost=True) / (kind.usable + cut) for kind in sold if kind.usable > 0)
        step = _smallest_step([_weight(kind, by_cost=True) for kind in sold])
        return max(ZERO, -(-beyond * rate // step) * step)
    room = max(rooms + [kind.usable + cut for kind in ready])
    return max(ZERO, Fraction(-(-beyond // rooms[0])), Fraction(_shared(needs, room) - len(ready)))


def _smallest_step(weights: Sequence[Fraction]) -> Fraction:
    """Return the largest amount of which every sum of the weights is a whole multiple."""
    bottom = lcm(*(weight.denominator for weight in weights))
    return Fraction(gcd(*(int(weight * bottom) for weight in weights)) or 1, bottom)


def _shared(needs: Sequence[Fraction], room: Fraction) -> int:
    """Return the bound L2 of Martello and Toth, *Knapsack Problems*, 1990, section 8.3, over all marks.

    Rails longer than room − mark share with nothing that is at least `mark`; those longer than half a stick need one
    each.
    """
    scale = lcm(room.denominator, *(need.denominator for need in needs))
    whole, row = int(room * scale), sorted(int(need * scale) for need in needs)
    sums = [0, *accumulate(row)]
    half = bisect_right(row, whole // 2)

    def marked(mark: int) -> int:
        alone, least = bisect_right(row, whole - mark, lo=half), bisect_left(row, mark, hi=half)
        over = sums[half] - sums[least] - (alone - half) * whole + sums[alone] - sums[half]
        return len(row) - half + max(0, -(-over // whole))

    return max(map(marked, {0, *row[:half]}))


def check_sticks(made: Sticks, rails: Sequence[Fraction], cut: Fraction) -> None:
    """Raises `StockError` unless every rail is cut once, no stick is overrun and the bound lies below the answer."""
    faults: list[str] = []
    found = Counter(rail for stick in made.sticks for rail in stick.rails)
    if found + Counter(made.unplaced) != Counter(rails):
        faults.append("the rails are not those that were asked for")
    faults.extend(
        f"a stick of {float(stick.kind.length):g} mm is overrun"
        for stick in set(made.sticks)
        if sum(stick.rails, ZERO) + (len(stick.rails) - 1) * cut > stick.kind.usable
    )
    faults.extend(
        f"more sticks of {float(kind.length):g} mm are cut than lie ready"
        for kind, count in made.used().items()
        if not kind.sold and count > kind.have
    )
    if made.lower_bound > made.value:
        faults.append("the bound lies above the answer")
    if faults:
        raise StockError("the answer for the sticks does not hold: " + "; ".join(faults))
