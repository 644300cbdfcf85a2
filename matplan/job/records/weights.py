"""How much wider than the top border the bottom one is."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final

from matplan.faults import LengthError
from matplan.job.file.lines import Place
from matplan.job.file.table import Reader, Schema, Tables, Written
from matplan.job.file.written import read_length, read_number
from matplan.job.file.wrong import got
from matplan.lengths import Units, plain_decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class AddedWeight:
    """Bottom = top + `extra`."""

    extra: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class RatioWeight:
    """Bottom : top = `ratio`, of the visible borders."""

    ratio: Fraction


@dataclass(frozen=True, slots=True)
class OpticalWeight:
    """The optical-centre construction."""


type Weight = AddedWeight | RatioWeight | OpticalWeight


def read_weight(value: object, units: Units) -> Weight:
    """Return how much wider the bottom border is: a length, a bare factor or `"optical"`. Raises `LengthError`."""
    form = 'write a length like "12 mm", a bare factor like 1.2, or "optical"'
    if value == "optical":
        return OpticalWeight()
    try:
        ratio = read_number(value)
    except LengthError:
        if not isinstance(value, str):
            raise LengthError(f"{got(value)}; {form}") from None
        try:
            return AddedWeight(extra=read_length(value, units))
        except LengthError:
            raise LengthError(f"{got(value)}, which is no weight; {form}") from None
    if ratio > 100:
        raise LengthError(
            f"{got(value)}: a bare number is the bottom border over the top one; write a factor of at most 100, or a"
            " length with its unit"
        )
    return RatioWeight(ratio=ratio) if ratio else AddedWeight(extra=Fraction(0))


_WRITTEN = Written(
    read_weight,
    {
        "title": "a length, a factor or optical",
        "anyOf": [{"type": "number", "minimum": 0}, {"type": "string"}],
        "examples": ["12 mm", 1.2, "optical"],
    },
)
LARGEST_USUAL: Final = Fraction(2)
"""A factor beyond it, or below 1, is asked about (own choice: bottoms are a tenth to a half wider; common practice)."""


@dataclass(frozen=True, slots=True)
class _Weight:
    """A weight; a bare number that is no usual factor is asked about, because a length was meant, probably."""

    def read(self, value: object, place: Place, reader: Reader, /) -> Any:
        found = _WRITTEN.read(value, place, reader)
        if isinstance(found, RatioWeight) and not 1 <= found.ratio <= LARGEST_USUAL:
            number = plain_decimal(found.ratio, 3)
            text = (
                f"{number} is a factor, the bottom border {number} times the top one; is {number} {reader.units} meant?"
            )
            reader.slips.append((place, text))
        return found

    def schema(self, tables: Tables, /) -> Schema:
        return _WRITTEN.schema(tables)


WEIGHT = _Weight()
