"""The store: how small things are sold, what lies ready of them and of paper, and what is bought of what is needed.

What is needed is counted to the piece, or to the tenth of a metre or foot; what lies ready goes first, to the first
pieces of the job; what is left is bought in whole packs and rolls. A piece is charged for what it takes of a pack.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import ROUND_FLOOR, Decimal
from fractions import Fraction
from typing import Final

from matplan import catalogue
from matplan.habits import habits_of
from matplan.job.records import Hardware, Job, Rates
from matplan.lengths import Printer, Step, Units
from matplan.orders.hardware import Need
from matplan.orders.money import Currency
from matplan.orders.records import AT_HAND, Item, OrderLine

_FINE: Final = Decimal("0.000001")
_TENTH: Final = Decimal("0.1")
BY_RATE: Final = {
    "hinge": "hinge",
    "backing-tape": "tape_per_m",
    "hanger": "hanger",
    "sawtooth": "hanger",
    "cleat": "hanger",
    "wire": "wire_per_m",
    "hook": "hook",
    "wall-fixing": "hook",
}
"""The rate among the costs that is a thing's price, where its own table names none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Store:
    """What is known of each small thing by its name in the tables, in a job's units."""

    units: Units = Units.MM
    rates: Rates = field(default_factory=Rates)
    currency: Currency = field(default_factory=Currency)
    hardware: Mapping[str, Hardware] = field(default_factory=dict)

    @classmethod
    def of(cls, job: Job) -> Store:
        """Return the store of a job."""
        return cls(
            units=job.units,
            rates=job.rates,
            currency=Currency.of(job.currency),
            hardware={each.name: each for each in job.hardware},
        )

    def line(self, need: Need, many: int, piece: str) -> OrderLine:
        """Return the line of what so many copies of a piece take, at the price of what they take."""
        row = _row(need.name)
        quantity: int | Decimal
        if row.by_length:
            bought = habits_of(self.units).bought
            quantity, unit = Decimal(int(-(-need.amount * many * 10 // bought.factor))) / 10, bought.name
        else:
            quantity, unit = int(need.amount) * many, ""
        sold = self.hardware.get(need.name)
        return OrderLine(
            item=Item.SPACER if need.name == "spacer" else Item.HARDWARE,
            material=_noted(row.called, need.kind, between=", "),
            quantity=quantity,
            unit=unit,
            pieces=(piece,),
            unit_price=_decimal(self._each(need.name)),
            note=need.note,
            rank=need.rank,
            supplier="" if sold is None else sold.supplier,
            thing=need.name,
            decimals=self.currency.decimals,
            small=row.small,
        )

    def _each(self, name: str) -> Fraction | None:
        """Return the price of one piece, or of one metre or foot."""
        sold, row = self.hardware.get(name), _row(name)
        bought = habits_of(self.units).bought
        if sold is None or sold.price is None:
            rate = getattr(self.rates, BY_RATE[name]) if name in BY_RATE else None
            if rate is None:
                return None
            return Fraction(rate) * bought.factor / 1000 if row.by_length else Fraction(rate)
        if sold.roll is not None:
            return Fraction(sold.price) * bought.factor / sold.roll
        pack = sold.pack or row.pack
        return Fraction(sold.price) / pack if pack else Fraction(sold.price)

    def ready(self, name: str) -> Decimal:
        """Return how many of a thing lie ready, or how many metres or feet of it, whole tenths."""
        sold = self.hardware.get(name)
        if sold is None:
            return Decimal(0)
        if not _row(name).by_length:
            return Decimal(sold.have.count or 0)
        return _tenths(sold.have.length / habits_of(self.units).bought.factor)

    def as_sold(self, line: OrderLine) -> OrderLine:
        """Return a line of what is needed as it is bought: in whole packs or rolls, where it is sold so."""
        sold = self.hardware.get(line.thing)
        row = _row(line.thing)
        pack = (sold.pack if sold else None) or row.pack
        needed = f"{line.quantity} {line.unit}".rstrip() + " needed"
        price = None if sold is None else sold.price
        if sold is not None and sold.roll is not None:
            factor = habits_of(self.units).bought.factor
            rolls = -(-Fraction(line.quantity) * factor // sold.roll)
            spare = _tenths(rolls * sold.roll / factor - Fraction(line.quantity))
            said = f"roll of {sold_length(sold.roll, self.units)}, {needed}"
            return replace(
                line, quantity=int(rolls), unit="", unit_price=price, note=_noted(said, line.note), spare=spare
            )
        if pack:
            packs = -(-int(line.quantity) // pack)
            said = f"pack of {pack}, {needed}" if sold and sold.pack else f"enough for {pack} frames"
            spare = Decimal(packs * pack - int(line.quantity)) if sold and sold.pack else Decimal(0)
            return replace(line, quantity=packs, unit_price=price, note=_noted(said, line.note), spare=spare)
        return line


def sold_length(length: Fraction, units: Units) -> str:
    """Return a length as it is sold, in metres or feet where that is a short figure.

    >>> sold_length(Fraction(2743200, 1000), Units.IN), sold_length(Fraction(2540), Units.IN)
    ('9 ft', '100 in')
    """
    bought = habits_of(units).bought
    if length >= bought.factor and (length / bought.factor * 100).denominator == 1:
        return bought.text(length, 2)
    return Printer(units, Step.usual(units)).exact(length, unit=True)


def less_at_hand(lines: Iterable[OrderLine], ready: Mapping[str, Decimal]) -> tuple[list[OrderLine], list[OrderLine]]:
    """Return what is left to buy of the lines, and what of them lies ready; the first lines are served first.

    `ready` is how much lies ready by `OrderLine.thing`.
    """
    left = dict(ready)
    bought: list[OrderLine] = []
    taken: list[OrderLine] = []
    for line in lines:
        have = min(left.get(line.thing, Decimal(0)), Decimal(line.quantity)) if line.thing else Decimal(0)
        if have:
            left[line.thing] -= have
            taken.append(replace(line, quantity=_as(line, have), unit_price=Decimal(0), note=AT_HAND))
        if line.quantity - have:
            bought.append(replace(line, quantity=_as(line, line.quantity - have)) if have else line)
    return bought, taken


def _as(line: OrderLine, quantity: Decimal) -> int | Decimal:
    return quantity if line.unit else int(quantity)


def as_sold(store: Store, lines: Sequence[OrderLine]) -> Iterator[OrderLine]:
    """Yield the lines as they are bought; what is no small thing stays."""
    for line in lines:
        yield store.as_sold(line) if line.item in (Item.HARDWARE, Item.SPACER) else line


def _row(name: str) -> catalogue.Hardware:
    row = catalogue.hardware(name)
    if row is None:
        raise KeyError(name)
    return row


def _tenths(exact: Fraction) -> Decimal:
    """Return metres or feet down to a tenth."""
    return (Decimal(exact.numerator) / exact.denominator).quantize(_TENTH, ROUND_FLOOR)


def _noted(*parts: str, between: str = "; ") -> str:
    return between.join(part for part in parts if part)


def _decimal(exact: Fraction | None) -> Decimal | None:
    """Return a price exactly, or to a millionth where no decimal is exact."""
    if exact is None:
        return None
    price = Decimal(exact.numerator) / exact.denominator
    fine = price.quantize(_FINE)
    return price if Fraction(price) == exact and price == fine else fine
