"""Sums: trees of named exact figures and of what is done with them, so that every number can show how it came about.

A sum is built as Python arithmetic over figures, `length("image", w) - 2 * length("overlap", o)`, and says everything
once: the tree has a value, its words are written from it, and whatever else wants the terms reads them by name.
This module knows lengths and how they print; it knows nothing of frames, mats or walls.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction
from functools import reduce
from operator import add, mul, sub, truediv
from typing import Protocol, assert_never

from matplan.lengths import Multiple, Step, json_number, plain_decimal


class Kind(StrEnum):
    """What a figure counts: millimetres, money, things, or parts of one another."""

    LENGTH = "length"
    MONEY = "money"
    COUNT = "count"
    RATIO = "ratio"


class Operator(StrEnum):
    """What is done with two or more terms."""

    PLUS = "plus"
    MINUS = "minus"
    TIMES = "times"
    DIVIDED = "divided"
    LEAST = "least"
    GREATEST = "greatest"


class Way(StrEnum):
    """The way to a whole number of steps."""

    DOWN = "down"
    UP = "up"
    NEAREST = "nearest"


class _Term:
    """A term that takes part in arithmetic; whole numbers and fractions beside it become bare figures."""

    __slots__ = ()

    def __add__(self, other: Term | Fraction | int) -> Operation:
        return _joined(Operator.PLUS, self, other)

    def __sub__(self, other: Term | Fraction | int) -> Operation:
        return _joined(Operator.MINUS, self, other)

    def __mul__(self, other: Term | Fraction | int) -> Operation:
        return _joined(Operator.TIMES, self, other)

    def __rmul__(self, other: Fraction | int) -> Operation:
        return _joined(Operator.TIMES, other, self)

    def __radd__(self, other: Fraction | int) -> Operation:
        return _joined(Operator.PLUS, other, self)

    def __truediv__(self, other: Term | Fraction | int) -> Operation:
        return _joined(Operator.DIVIDED, self, other)


@dataclass(frozen=True, slots=True)
class Figure(_Term):
    """An exact figure with its name; a bare factor such as the 2 of `2 × overlap` has none."""

    name: str
    value: Fraction
    kind: Kind = Kind.LENGTH


@dataclass(frozen=True, slots=True)
class Operation(_Term):
    """Terms put together, from left to right."""

    operator: Operator
    terms: tuple[Term, ...]

    @property
    def value(self) -> Fraction:
        return reduce(_WORKED_OUT[self.operator], [term.value for term in self.terms])


_WORKED_OUT: Mapping[Operator, Callable[[Fraction, Fraction], Fraction]] = {
    Operator.PLUS: add,
    Operator.MINUS: sub,
    Operator.TIMES: mul,
    Operator.DIVIDED: truediv,
    Operator.LEAST: min,
    Operator.GREATEST: max,
}


@dataclass(frozen=True, slots=True)
class Snapped(_Term):
    """A term brought to a whole number of steps, or of what money is rounded to."""

    way: Way
    term: Term
    step: Multiple

    @property
    def value(self) -> Fraction:
        match self.way:
            case Way.DOWN:
                return self.step.down(self.term.value)
            case Way.UP:
                return self.step.up(self.term.value)
            case Way.NEAREST:
                return self.step.nearest(self.term.value)
            case _:
                assert_never(self.way)


type Term = Figure | Operation | Snapped


def length(name: str, value: Fraction) -> Figure:
    """Return a length in millimetres, named."""
    return Figure(name, value)


def money(name: str, value: Fraction) -> Figure:
    """Return an amount of money, named."""
    return Figure(name, value, Kind.MONEY)


def ratio(name: str, value: Fraction) -> Figure:
    """Return a factor, named."""
    return Figure(name, value, Kind.RATIO)


def count(value: Fraction | int) -> Figure:
    """Return a bare number."""
    return Figure("", Fraction(value), Kind.COUNT)


def half(term: Term) -> Operation:
    """Return half of a term."""
    return term / 2


def total(*terms: Term) -> Term:
    """Return all terms together."""
    return terms[0] if len(terms) == 1 else Operation(Operator.PLUS, terms)


def least(*terms: Term) -> Term:
    """Return the smallest of the terms."""
    return Operation(Operator.LEAST, terms)


def greatest(*terms: Term) -> Term:
    """Return the largest of the terms."""
    return Operation(Operator.GREATEST, terms)


def down(term: Term, step: Multiple) -> Snapped:
    """Return the term brought down to a step."""
    return Snapped(Way.DOWN, term, step)


def up(term: Term, step: Multiple) -> Snapped:
    """Return the term brought up to a step."""
    return Snapped(Way.UP, term, step)


def nearest(term: Term, step: Multiple) -> Snapped:
    """Return the term brought to the nearest step."""
    return Snapped(Way.NEAREST, term, step)


def _joined(operator: Operator, *terms: object) -> Operation:
    return Operation(operator, tuple(_term(term) for term in terms))


def _term(term: object) -> Term:
    match term:
        case Figure() | Operation() | Snapped():
            return term
        case int() | Fraction():
            return count(term)
    raise TypeError(f"{term!r} is no term of a sum")


def figures(term: Term) -> Iterator[Figure]:
    """Yield the figures of a sum, from left to right."""
    match term:
        case Figure():
            yield term
        case Operation(terms=terms):
            for part in terms:
                yield from figures(part)
        case Snapped(term=inner):
            yield from figures(inner)
        case _:
            assert_never(term)


class Exact(Protocol):
    """How figures with a unit print: lengths by a `Printer`, money by its currency."""

    def exact(self, figure: Fraction, /, *, unit: bool = False) -> str:
        """Return the figure without rounding it, or with `about` before it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sum:
    """The figure `what` is `value` millimetres, or so much money, because of `tree`.

    `of` names the window or frame that it belongs to.
    """

    what: str
    value: Fraction
    tree: Term
    of: str = ""

    @property
    def title(self) -> str:
        """The figure's whole name."""
        return f"{self.of}: {self.what}" if self.of else self.what

    def in_words(self, printer: Exact) -> str:
        """Return `opening width 244 mm = image 250 − 2 × overlap 3`, with the way to a step where it changed anything.

        A figure is printed exactly, or with `about` before it.
        """
        head = f"{self.title} {printer.exact(self.value, unit=True)}"
        match self.tree:
            case Snapped(way=way, term=inner, step=step):
                words = f"{head} = {_words(inner, printer)}"
                raw = inner.value
                if raw == self.value:
                    return words
                before = "" if isinstance(inner, Figure) else f" = {printer.exact(raw)}"
                return f"{words}{before}, {_way(way, step, printer)}"
            case tree:
                return f"{head} = {_words(tree, printer)}"


@dataclass(slots=True)
class Sums:
    """A collector for one piece or wall; `of` names the window or frame that it speaks of."""

    of: str = ""
    found: list[Sum] = field(default_factory=list)

    def about(self, of: str) -> Sums:
        """Return the same collector, speaking of one window or frame."""
        return Sums(of, self.found)

    def add(self, what: str, tree: Term) -> Fraction:
        """Record how `what` comes about, and return its value."""
        value = tree.value
        self.found.append(Sum(what=what, value=value, tree=tree, of=self.of))
        return value

    def told(self, what: str, value: Fraction, tree: Term) -> None:
        """Record how a value that was worked out elsewhere comes about."""
        self.found.append(Sum(what=what, value=value, tree=tree, of=self.of))


# --- in English ------------------------------------------------------------------------------------------------------

_WAYS = {Way.DOWN: "down to a", Way.UP: "up to a", Way.NEAREST: "to the nearest"}
_SIGNS = {Operator.PLUS: " + ", Operator.MINUS: " − ", Operator.TIMES: " × ", Operator.DIVIDED: " ÷ "}
_CHOICES = {
    Operator.LEAST: ("the smaller of ", "the smallest of "),
    Operator.GREATEST: ("the larger of ", "the largest of "),
}
_BINDS = {Operator.PLUS: 1, Operator.MINUS: 1, Operator.TIMES: 2, Operator.DIVIDED: 2}
"""How closely an operator binds its terms: what binds less stands in brackets beside it."""


def _way(way: Way, step: Multiple, printer: Exact) -> str:
    if isinstance(step, Step):
        return f"{_WAYS[way]} step"
    return f"{_WAYS[way]} multiple of {printer.exact(step.size)}"


def _words(term: Term, printer: Exact) -> str:
    match term:
        case Figure(name=name, value=value, kind=kind):
            number = printer.exact(value) if kind in (Kind.LENGTH, Kind.MONEY) else plain_number(value)
            return f"{name} {number}" if name else number
        case Operation(operator=Operator.LEAST | Operator.GREATEST as operator, terms=terms):
            *first, last = [_words(part, printer) for part in terms]
            return f"{_CHOICES[operator][len(first) > 1]}{', '.join(first)} and {last}"
        case Operation(operator=operator, terms=terms):
            parts = [_bound(part, operator, printer, first=at == 0) for at, part in enumerate(terms)]
            return _SIGNS[operator].join(parts)
        case Snapped(way=way, term=inner, step=step):
            return f"({_words(inner, printer)}, {_way(way, step, printer)})"
        case _:
            assert_never(term)


def _bound(term: Term, beside: Operator, printer: Exact, *, first: bool) -> str:
    """Return a term's words, in brackets where the operator beside it would tear them apart."""
    words = _words(term, printer)
    if not isinstance(term, Operation):
        return words
    own, outer = _BINDS.get(term.operator, 0), _BINDS[beside]
    whole = own > outer or (own == outer and (first or beside in (Operator.PLUS, Operator.TIMES)))
    return words if whole else f"({words})"


def plain_number(value: Fraction) -> str:
    """Return a number without a unit: a short decimal, a fraction, or a decimal that says `about`.

    >>> plain_number(Fraction(6, 5)), plain_number(Fraction(4, 3)), plain_number(Fraction(1999, 3001))
    ('1.2', '4/3', 'about 0.6661')
    """
    if 10**4 % value.denominator == 0:
        return plain_decimal(value, 4)
    return str(value) if value.denominator <= 100 else f"about {plain_decimal(value, 4)}"


# --- for machines ----------------------------------------------------------------------------------------------------

type Plain = str | float | dict[str, Plain] | list[Plain]


def tree_json(term: Term) -> dict[str, Plain]:
    """Return a sum's tree as plain values: figures by name, value and kind, operations by name and terms."""
    match term:
        case Figure(name=name, value=value, kind=kind):
            return {"name": name, "value": json_number(value), "kind": str(kind)}
        case Operation(operator=operator, terms=terms):
            return {"operation": str(operator), "terms": [tree_json(part) for part in terms]}
        case Snapped(way=way, term=inner, step=step):
            return {"operation": str(way), "terms": [tree_json(inner)], "step": json_number(step.size)}
        case _:
            assert_never(term)
