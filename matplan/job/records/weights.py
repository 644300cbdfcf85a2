"""How much wider than the top border the bottom one is."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from matplan.faults import LengthError
from matplan.job.file.table import Written
from matplan.job.file.written import read_length, read_number
from matplan.job.file.wrong import got
from matplan.lengths import Units


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


WEIGHT = Written(
    read_weight,
    {
        "title": "a length, a factor or optical",
        "anyOf": [{"type": "number", "minimum": 0}, {"type": "string"}],
        "examples": ["12 mm", 1.2, "optical"],
    },
)
