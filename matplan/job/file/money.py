"""Prices, rates and parts of a price as people write them in a job file; exact decimals."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from fractions import Fraction

from matplan import catalogue
from matplan.faults import LengthError
from matplan.job.file.lines import Place
from matplan.job.file.table import Reader, Schema, Tables, Written
from matplan.job.file.written import number_schema, numbered, read_number
from matplan.job.file.wrong import got
from matplan.lengths import Units, unit_factor

_AMOUNT = "a price such as 18.50, 0 or more"
_COMMISSION = "a part of the price from 0 to less than 1, such as 0.4"
_FOOT = unit_factor("ft")
MOST_MONEY = 1_000_000_000


def read_money(value: object, _: Units) -> Decimal:
    """Return a price as an exact decimal, 0 or more."""
    number = read_number(value, Fraction(0), Fraction(MOST_MONEY), _AMOUNT)
    money = (
        Decimal(value.strip())
        if isinstance(value, str)
        else Decimal(value)
        if isinstance(value, int | Decimal)
        else Decimal(0)
    )
    if Fraction(money) != number or len(money.as_tuple().digits) > 24:
        raise LengthError(f"{got(value)}; write {_AMOUNT}")
    return money


@dataclass(frozen=True, slots=True)
class _Money:
    """An amount that is paid: no finer than its currency, where the tables know that; above 0 where it is `some`."""

    some: bool = False

    def read(self, value: object, _place: Place, reader: Reader, /) -> Decimal:
        money = read_money(value, reader.units)
        if self.some and not money:
            raise LengthError(f"{got(value)}; write an amount above 0")
        decimals = catalogue.decimals(reader.currency)
        if decimals is not None and (Fraction(money) * 10**decimals).denominator != 1:
            have = f"{decimals} decimals" if decimals else "no decimals"
            near = " or ".join(
                f"{money.quantize(Decimal(1).scaleb(-decimals), way):f}" for way in (ROUND_FLOOR, ROUND_CEILING)
            )
            raise LengthError(f"{got(value)}; amounts in {reader.currency.upper()} have {have}, so write {near}")
        return money

    def schema(self, _tables: Tables, /) -> Schema:
        return number_schema("an amount above 0" if self.some else _AMOUNT)


def _commission(value: object, _: Units) -> Fraction:
    share = read_number(value, Fraction(0), Fraction(1), _COMMISSION)
    if share == 1:
        raise LengthError(f"{got(value)}, which leaves nothing; write {_COMMISSION}")
    return share


MONEY = _Money()
SOME_MONEY = _Money(some=True)
RATE = Written(read_money, number_schema(f"{_AMOUNT}, as fine as you like"))
"""A price for a length or an area, which may be finer than what is paid."""
TAX = numbered("a part of the price from 0 to 1, such as 0.19", Fraction(0), Fraction(1))
COMMISSION = Written(_commission, number_schema(_COMMISSION))
PER_FOOT = Written(lambda value, units: Fraction(read_money(value, units)) / (_FOOT / 1000), RATE.said)
"""A price per foot as one per metre, exactly."""
PER_SQUARE_FOOT = Written(lambda value, units: Fraction(read_money(value, units)) / (_FOOT / 1000) ** 2, RATE.said)
"""A price per square foot as one per square metre, exactly."""
MARKUP = numbered("a factor from 1 to 100, such as 2.2", Fraction(1), Fraction(100))
