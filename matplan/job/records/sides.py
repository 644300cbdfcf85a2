"""One length for each side, as people write it: one for all, or a table."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from matplan.job.file.kinds import TableOf
from matplan.job.file.lines import Place
from matplan.job.file.table import Reader, Schema, Tables, key
from matplan.job.file.written import LENGTH
from matplan.lengths import Sides


@dataclass(frozen=True, slots=True, kw_only=True)
class FourSides:
    """One length for each side. A side left out takes its opposite's."""

    top: Fraction | None = key(LENGTH, "The upper one.", None, like="50 mm")
    right: Fraction | None = key(LENGTH, "The right one, seen from the front.", None, like="60 mm")
    bottom: Fraction | None = key(LENGTH, "The lower one.", None, like="70 mm")
    left: Fraction | None = key(LENGTH, "The left one, seen from the front.", None, like="60 mm")

    @property
    def sides(self) -> Sides:
        """All four: a side left out takes its opposite's, 0 where both are."""
        return Sides(
            top=_first(self.top, self.bottom),
            right=_first(self.right, self.left),
            bottom=_first(self.bottom, self.top),
            left=_first(self.left, self.right),
        )


def _first(own: Fraction | None, opposite: Fraction | None) -> Fraction:
    return own if own is not None else opposite or Fraction(0)


@dataclass(frozen=True, slots=True)
class _Sides:
    """A length for all sides, or a table; `bottom` is not said by the length, because a weight may set it."""

    def read(self, value: object, place: Place, reader: Reader, /) -> Any:
        if isinstance(value, dict):
            return TableOf(FourSides).read(value, place, reader)
        length = LENGTH.read(value, place, reader)
        return FourSides(top=length, right=length, left=length)

    def schema(self, tables: Tables, /) -> Schema:
        return {"anyOf": [LENGTH.schema(tables), tables(FourSides, ())]}


SIDES = _Sides()
