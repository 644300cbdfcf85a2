"""Every size with the sum that made it, collected while solving.

A `Sum` keeps its terms exact and is put into words only when somebody asks, in the job's own units.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from matplan.lengths import Printer, plain_decimal


@dataclass(frozen=True, slots=True)
class Count:
    """A term without a unit: a factor, a ratio."""

    value: Fraction


type Term = Fraction | Count


@dataclass(frozen=True, slots=True, kw_only=True)
class Sum:
    """`what` is `value` millimetres because of `words`, whose `{}` are the `terms` in order.

    `raw` is the sum before it was snapped and `snap` how: "down to a step", "up to a step", "to the nearest step".
    """

    what: str
    value: Fraction
    words: str
    terms: tuple[Term, ...]
    raw: Fraction
    snap: str = ""

    def in_words(self, printer: Printer) -> str:
        """`opening width 244 mm = image 250 − 2 × overlap 3`, with the snap where it changed anything."""
        terms = [plain_decimal(t.value, 4) if isinstance(t, Count) else printer.number(t) for t in self.terms]
        text = f"{self.what} {printer.length(self.value)} = {self.words.format(*terms)}"
        if self.raw == self.value:
            return text
        before = printer.number(self.raw)
        return f"{text} = {before}, {self.snap}" if before != printer.number(self.value) else f"{text}, {self.snap}"

    def result(self) -> Fraction:
        """The words worked out with the terms alone: what a pencil would find. Equal to `raw`."""
        from matplan.mats.arithmetic import evaluate

        return evaluate(self.words, tuple(t.value if isinstance(t, Count) else t for t in self.terms))


@dataclass(slots=True)
class Sums:
    """A collector for one piece; `prefix` names the aperture where there are several."""

    prefix: str = ""
    found: list[Sum] = field(default_factory=list)

    def named(self, prefix: str) -> Sums:
        """The same collector, speaking of one aperture."""
        return Sums(prefix, self.found)

    def add(
        self, what: str, value: Fraction, words: str, *terms: Term, raw: Fraction | None = None, snap: str = ""
    ) -> Fraction:
        """Records why `what` is `value`, and returns it."""
        self.found.append(
            Sum(
                what=f"{self.prefix}{what}",
                value=value,
                words=words,
                terms=terms,
                raw=value if raw is None else raw,
                snap=snap if raw is not None else "",
            )
        )
        return value
