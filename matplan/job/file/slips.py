"""Slips of the unit: a size far from usual that would be usual with another unit, such as 29 for 29 cm in an mm job.

What is usual comes from the tables of the catalogue: the shortest and the longest side in them, kept here as figures
because every job needs them and the tables take time to read; a test compares. A size is far from usual where it is
less than a third of the shortest (of sheets and frames: less than the shortest, because no window is as small as a
picture may be) or more than three times the longest. It is asked about only where every side of it is usual in another
unit.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from typing import Any

from matplan.faults import LengthError
from matplan.job.file.lines import Place
from matplan.job.file.table import Kind, Reader, Schema, Tables
from matplan.lengths import Units, parse_length, parse_size, shown_number

FAR = 3
"""Times beyond the usual."""
_UNITS = ("mm", "cm", "m", "in", "ft")
_NO_UNIT = re.compile(r"[^\d./⁄ x×*½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒-]+")

type Span = tuple[Fraction, Fraction]


PICTURES: Span = (Fraction(100), Fraction(1016))
"""Sides of pictures, papers and frames: those of the ready-made frames."""
SHEETS: Span = (Fraction(100), Fraction(1524))
"""Sides of sheets, cut ones too: from the shortest of a ready-made frame to the longest that mat board is sold in."""
BORDERS: Span = (Fraction(1905, 100), Fraction(155))
"""Widths of borders: those of the ready-cut mats."""
THICKNESSES: Span = (Fraction(7, 10), Fraction(10))
"""Of boards, glazing and backing."""
WALLS: Span = (Fraction(1450), Fraction(10_000))
"""Millimetres: sides of a wall, from above the usual centre line to 10 m (common practice: rooms)."""
CENTRE_LINES: Span = (Fraction(1450) * 2 / 3, Fraction(1450) * 4 / 3)
"""Within a third of the usual centre line, 1450 mm."""
GAPS: Span = (Fraction(25), Fraction(150))
"""Millimetres: between neighbouring frames, about the usual 60 mm (common practice)."""


@dataclass(frozen=True, slots=True)
class Usual:
    """A kind of value that is asked about where it is far from usual; of a table, each of its lengths is."""

    kind: Kind
    span: Span
    small: int = FAR
    """How many times below the shortest is far."""

    def read(self, value: object, place: Place, reader: Reader, /) -> Any:
        found = self.kind.read(value, place, reader)
        for name, written in value.items() if isinstance(value, dict) else (("", value),):
            plain = isinstance(written, str | int | Decimal)
            if plain and (meant := meant_units(written, reader.units, self.span, self.small)):
                reader.slips.append(((*place, name) if name else place, slip_text(written, meant)))
        return found

    def schema(self, tables: Tables, /) -> Schema:
        return self.kind.schema(tables)


@lru_cache(maxsize=4096, typed=True)
def meant_units(written: object, units: Units, span: Span, small: int = FAR) -> tuple[str, ...]:
    """Return the lengths or sizes that were meant, probably; none where what is written is not far from usual.

    >>> meant_units(29, Units.MM, (Fraction(100), Fraction(1000)))
    ('29 cm', '29 in')
    """
    low, high = span
    text = shown_number(written) if isinstance(written, int | Decimal) else written
    if not isinstance(text, str) or not (lengths := _lengths(text, units)):
        return ()
    if all(low / small <= length <= high * FAR for length in lengths) or 0 in lengths:
        return ()
    bare = " ".join(_NO_UNIT.sub(" ", text).split())
    return tuple(_meant(bare, lengths, span))


def _meant(bare: str, lengths: tuple[Fraction, ...], span: Span) -> Iterator[str]:
    for unit in _UNITS:
        other = _lengths(f"{bare} {unit}", Units.MM)
        if other and other != lengths and all(span[0] <= length <= span[1] for length in other):
            yield f"{bare} {unit}"


def _lengths(text: str, units: Units) -> tuple[Fraction, ...]:
    """Return the length or the two lengths of a size that the text is; none where it is neither."""
    try:
        if re.search("[x×*]", text):
            size = parse_size(text, units)
            return size.width, size.height
        return (parse_length(text, units),)
    except LengthError:
        return ()


def slip_text(written: object, meant: Sequence[str]) -> str:
    """Return the question that a slip asks."""
    shown = written if isinstance(written, str) else shown_number(written) if isinstance(written, int | Decimal) else ""
    return f"{shown} is far from usual here; is {' or '.join(meant)} meant?"
