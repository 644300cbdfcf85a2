"""A cutting task in whole steps: parts of one size are one shape, sheets of one size and price one pile.

The unit divides every length and the kerf, so nothing is rounded. Widths and heights include one kerf: a sheet holds
parts side by side exactly where these sums fit, since the last one may overrun the edge by its kerf.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm
from typing import assert_never

from matplan.stock.records import Measure, Part, StockKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """All parts of one size; `turn` tells whether another layout comes of turning them."""

    width: int
    height: int
    turn: bool
    count: int

    @property
    def ways(self) -> tuple[tuple[int, int, bool], ...]:
        """Width, height and turned for each way it may lie."""
        upright = (self.width, self.height, False)
        return (upright, (self.height, self.width, True)) if self.turn else (upright,)

    @property
    def area(self) -> int:
        return self.width * self.height


@dataclass(frozen=True, slots=True, kw_only=True)
class Pile:
    """Equal sheets: `count` of them (None: any number), each of which adds `weight` to what the answer comes to.

    `kind` is the number of its kind; a kind of which some lie ready has two piles, of weight 0 and of its own.
    """

    kind: int
    width: int
    height: int
    weight: Fraction
    count: int | None

    def holds(self, shape: Shape) -> bool:
        return any(width <= self.width and height <= self.height for width, height, _ in shape.ways)

    @property
    def area(self) -> int:
        return self.width * self.height


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """Shapes to cut from piles; `owners` are, for each shape, the parts of the size.

    What an answer comes to is the weights of its sheets less `given`, which is the worth of the sheets of a single kind
    that lie ready.
    """

    unit: Fraction
    kerf: int
    shapes: tuple[Shape, ...]
    piles: tuple[Pile, ...]
    owners: tuple[tuple[Part, ...], ...]
    measure: Measure
    given: Fraction = Fraction(0)

    @property
    def pieces(self) -> int:
        return sum(shape.count for shape in self.shapes)

    def value(self, weights: Fraction) -> Fraction:
        """Return what sheets of the weights come to, never less than 0."""
        return max(Fraction(0), weights - self.given)


def common_step(lengths: Iterable[Fraction]) -> Fraction:
    """The largest length of which all of those are whole multiples.

    >>> common_step([Fraction(4064, 5), Fraction(403)])
    Fraction(1, 5)
    """
    kept = [length for length in lengths if length]
    bottom = lcm(*(length.denominator for length in kept))
    return Fraction(gcd(*(int(length * bottom) for length in kept)) or 1, bottom)


def measure_of(kinds: Sequence[StockKind]) -> Measure:
    """Return what an answer from the kinds is measured by; drop-outs do not count."""
    stocked = [kind for kind in kinds if kind.falls_from is None]
    if stocked and all(kind.price is not None for kind in stocked):
        return Measure.COST
    return Measure.COUNT if len(stocked) <= 1 else Measure.AREA


def task_of(parts: Sequence[Part], kinds: Sequence[StockKind], kerf: Fraction, measure: Measure | None = None) -> Task:
    """Return the task for the parts and kinds, each of which holds some part; `measure` where more kinds than these
    settle it.
    """
    sides = [
        side
        for size in (*(part.size for part in parts), *(kind.usable.size for kind in kinds))
        for side in (size.width, size.height)
    ]
    unit = common_step([kerf, *sides])

    def steps(length: Fraction) -> int:
        return int((length + kerf) / unit)

    owners: dict[tuple[int, int, bool], list[Part]] = {}
    for part in parts:
        width, height = steps(part.size.width), steps(part.size.height)
        turn = part.turn and width != height
        if turn and width > height:  # parts of one size are one shape, whichever way each is named
            width, height = height, width
        owners.setdefault((width, height, turn), []).append(part)
    measure = measure or measure_of(kinds)
    alone = sum(kind.falls_from is None for kind in kinds) == 1
    piles = [
        Pile(kind=number, width=steps(kind.usable.width), height=steps(kind.usable.height), weight=weight, count=count)
        for number, kind in enumerate(kinds)
        for weight, count in _heaps(kind, measure, alone=alone)
    ]
    ready = Fraction(0)  # what the sheets of a single kind that lie ready are worth, where sheets are not just counted
    if alone and measure is not Measure.COUNT:
        ready = sum((_worth(kind, measure) * kind.have for kind in kinds if kind.falls_from is None), Fraction(0))
    return Task(
        unit=unit,
        kerf=int(kerf / unit),
        shapes=tuple(
            Shape(width=width, height=height, turn=turn, count=sum(part.quantity for part in found))
            for (width, height, turn), found in owners.items()
        ),
        piles=tuple(piles),
        owners=tuple(map(tuple, owners.values())),
        measure=measure,
        given=ready,
    )


def _heaps(kind: StockKind, measure: Measure, *, alone: bool) -> Iterable[tuple[Fraction, int | None]]:
    """Yield the weight and the number of the sheets of a kind: one heap where it is alone, else what lies ready apart
    from what is bought.
    """
    weight = _worth(kind, measure)
    if kind.falls_from is not None:
        yield Fraction(0), kind.have
    elif alone:
        yield weight, kind.most
    else:
        if kind.have:
            yield Fraction(0), kind.have
        if kind.limit != 0:
            yield weight, kind.limit


def _worth(kind: StockKind, measure: Measure) -> Fraction:
    """Return what one sheet that is bought adds to an answer."""
    match measure:
        case Measure.COST:
            return Fraction(kind.price or 0)
        case Measure.COUNT:
            return Fraction(1)
        case Measure.AREA:
            return kind.size.area
        case _:
            assert_never(measure)
