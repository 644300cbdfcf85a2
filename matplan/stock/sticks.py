"""Rails from sticks: which lengths are cut from which stick, and how good that is proven to be.

A mitred cut crosses the stick at 45°, so it takes kerf × √2 along it; √2 is taken as 1.41421357, just above, so that
nothing is ever short. As on sheets a kerf goes beyond each rail, and the last one may overrun the stick's end.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from matplan.faults import StockError
from matplan.lengths import ZERO

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

    With several kinds without a price the length bought is what counts. Time grows with the square of the rails.
    """
    cut = kerf * ROOT_TWO
    sold = [kind for kind in kinds if kind.sold]
    room = max((kind.usable for kind in sold), default=ZERO)
    by_cost = len(sold) > 1
    found: list[tuple[int, Sticks]] = []
    for ready, rest in _from_ready(sorted(rails, reverse=True), kinds, cut):
        left = [rail for rail in rest if rail <= room]
        for answer in _answers(left, sold, cut, by_cost=by_cost):
            sticks = (*ready, *_pushed_down(answer, sold, cut, by_cost=by_cost))
            lost = tuple(rail for rail in rest if rail > room)
            found.append((len(lost), Sticks(sticks=sticks, lower_bound=ZERO, by_cost=by_cost, unplaced=lost)))
    _, best = min(found, key=lambda one: (one[0], one[1].value))
    held = [rail for stick in best.sticks for rail in stick.rails]
    made = replace(best, lower_bound=_bound(held, kinds, cut, by_cost=by_cost))
    check_sticks(made, rails, cut)
    return made


def _from_ready(
    rails: Sequence[Fraction], kinds: Sequence[StickKind], cut: Fraction
) -> Iterator[tuple[tuple[Stick, ...], list[Fraction]]]:
    """Yield the sticks that lie ready with what several rules cut from them, and the rails that are left; the longest
    sticks first and the shortest first, each as full as it gets or each rail where it leaves the least.
    """
    ready = [kind for kind in kinds for _ in range(min(kind.have, len(rails)))]
    if not ready:
        yield (), list(rails)
        return
    for longest_first in (False, True) if len(set(ready)) > 1 else (False,):
        row = sorted(ready, key=lambda kind: kind.usable, reverse=longest_first)
        left = Counter(rails)
        sticks = []
        for kind in row:
            if not left:
                break
            if longest := max((rail for rail in left if rail <= kind.usable), default=None):
                held = Counter({rail: count for rail, count in left.items() if rail <= longest})
                taken = _filling(held, longest, kind.usable + cut, cut)
                sticks.append(Stick(kind=kind, rails=taken))
                left -= Counter(taken)
        yield tuple(sticks), sorted(left.elements(), reverse=True)
    unopened = {kind: kind.have for kind in sorted(kinds, key=lambda kind: kind.usable)}
    opened: list[tuple[StickKind, list[Fraction]]] = []
    room: list[Fraction] = []
    rest: list[Fraction] = []
    for rail in rails:
        fits = [(space, i) for i, space in enumerate(room) if space >= rail + cut]
        new = next((kind for kind, have in unopened.items() if have and kind.usable >= rail), None)
        if fits:
            _, i = min(fits)
            opened[i][1].append(rail)
            room[i] -= rail + cut
        elif new is not None:
            unopened[new] -= 1
            opened.append((new, [rail]))
            room.append(new.usable - rail)
        else:
            rest.append(rail)
    yield tuple(Stick(kind=kind, rails=tuple(own)) for kind, own in opened), rest


def _weight(kind: StickKind, *, by_cost: bool) -> Fraction:
    if not by_cost:
        return Fraction(1)
    return kind.length if kind.price is None else Fraction(kind.price)


def _answers(
    rails: Sequence[Fraction], kinds: Sequence[StickKind], cut: Fraction, *, by_cost: bool
) -> Iterator[tuple[Stick, ...]]:
    """Answers by rules: the tightest stick first for each kind alone, and the fullest stick for its weight, one after
    another.
    """
    if not rails:
        yield ()
        return
    for kind in kinds:
        if rails[0] <= kind.usable:
            yield tuple(_best_fit(rails, kind, cut))
            yield tuple(_fullest(rails, [kind], cut, by_cost=by_cost))
    if len(kinds) > 1:
        yield tuple(_fullest(rails, kinds, cut, by_cost=by_cost))


def _best_fit(rails: Sequence[Fraction], kind: StickKind, cut: Fraction) -> Iterator[Stick]:
    """Yield each rail, the longest first, onto the stick that it leaves the least of."""
    sticks: list[list[Fraction]] = []
    left: list[Fraction] = []
    for rail in rails:
        fits = [(left[i] - rail - cut, i) for i in range(len(sticks)) if left[i] >= rail + cut]
        if fits:
            rest, i = min(fits)
            sticks[i].append(rail)
            left[i] = rest
        else:
            sticks.append([rail])
            left.append(kind.usable + cut - rail - cut)
    yield from (Stick(kind=kind, rails=tuple(found)) for found in sticks)


def _fullest(rails: Sequence[Fraction], kinds: Sequence[StickKind], cut: Fraction, *, by_cost: bool) -> Iterator[Stick]:
    """Yield one stick after another: with the longest rail left, and the others that fill it best; the cheapest kind
    for that.
    """
    left = Counter(rails)
    while left:
        longest = max(left)
        filled = [(kind, _filling(left, longest, kind.usable + cut, cut)) for kind in kinds if longest <= kind.usable]
        kind, found = min(filled, key=lambda one: _weight(one[0], by_cost=by_cost) / sum(one[1], ZERO))
        yield Stick(kind=kind, rails=found)
        left -= Counter(found)


def _filling(left: Counter[Fraction], longest: Fraction, room: Fraction, cut: Fraction) -> tuple[Fraction, ...]:
    """Return the longest rail with the others that leave the least of the room. The search is cut off after a while."""
    others = sorted((left - Counter([longest])).elements(), reverse=True)
    best: tuple[Fraction, tuple[Fraction, ...]] = (room - longest - cut, ())
    looks = 20_000

    def look(start: int, rest: Fraction, taken: tuple[Fraction, ...]) -> None:
        nonlocal best, looks
        looks -= 1
        if rest < best[0]:
            best = (rest, taken)
        before = None
        for i in range(start, len(others)):
            if looks <= 0 or best[0] < cut:
                return
            if others[i] != before and others[i] + cut <= rest:
                look(i + 1, rest - others[i] - cut, (*taken, others[i]))
            before = others[i]

    look(0, best[0], ())
    return (longest, *best[1])


def _pushed_down(
    answer: tuple[Stick, ...], kinds: Sequence[StickKind], cut: Fraction, *, by_cost: bool
) -> tuple[Stick, ...]:
    """Return each stick exchanged for the cheapest kind that holds its rails."""

    def least(stick: Stick) -> Stick:
        need = sum(stick.rails, ZERO) + (len(stick.rails) - 1) * cut
        kind = min(
            (kind for kind in kinds if kind.usable >= need),
            key=lambda kind: (_weight(kind, by_cost=by_cost), kind.length),
        )
        return Stick(kind=kind, rails=stick.rails)

    return tuple(map(least, answer))


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
    marks = {ZERO, *(need for need in needs if 2 * need <= room)}
    return max(
        ZERO, Fraction(-(-beyond // rooms[0])), Fraction(max(_shared(needs, room, m) for m in marks)) - len(ready)
    )


def _smallest_step(weights: Sequence[Fraction]) -> Fraction:
    """Return the largest amount of which every sum of the weights is a whole multiple."""
    from math import gcd, lcm

    bottom = lcm(*(weight.denominator for weight in weights))
    return Fraction(gcd(*(int(weight * bottom) for weight in weights)) or 1, bottom)


def _shared(needs: Sequence[Fraction], room: Fraction, mark: Fraction) -> int:
    """Return the bound L2 of Martello and Toth, *Knapsack Problems*, 1990, section 8.3, for one mark.

    Rails longer than room − mark share with nothing that is at least `mark`; those longer than half a stick need one
    each.
    """
    alone = sum(need > room - mark for need in needs)
    halves = [need for need in needs if room - mark >= need and 2 * need > room]
    small = [need for need in needs if mark <= need and 2 * need <= room]
    over = sum(small, ZERO) - sum((room - need for need in halves), ZERO)
    return alone + len(halves) + max(0, int(-(-over // room)))


def check_sticks(made: Sticks, rails: Sequence[Fraction], cut: Fraction) -> None:
    """Raises `StockError` unless every rail is cut once, no stick is overrun and the bound lies below the answer."""
    faults: list[str] = []
    found = Counter(rail for stick in made.sticks for rail in stick.rails)
    if found + Counter(made.unplaced) != Counter(rails):
        faults.append("the rails are not those that were asked for")
    faults.extend(
        f"a stick of {float(stick.kind.length):g} mm is overrun"
        for stick in made.sticks
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
