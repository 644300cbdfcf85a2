"""The sizes of a starter job: round ones in millimetres or in inches. All are settings here (common practice)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Self

from matplan.job.file.written import read_length
from matplan.lengths import INCH, Printer, Step, Units


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """What a starter job is written with."""

    units: Units
    words: Mapping[str, str]
    """Each size of the starter job as it is written."""
    series: str
    """The ready-made frames of the tables that are proposed."""
    long_side: Fraction
    """What a print's long side gets, where the photo's pixels suffice."""
    least_side: Fraction
    grain: Fraction
    """Prints are whole multiples of it."""
    least_border: Fraction
    """What a proposed frame leaves round its print on every side at the least, the strip under its lip included."""

    @classmethod
    def of(cls, units: Units) -> Self:
        """Return the sizes of jobs in those units."""
        if units is Units.IN:
            return cls(
                units=units, words=_INCHES, series="inch", long_side=12 * INCH, least_side=INCH * 3 / 2, grain=INCH / 4,
                least_border=INCH * 9 / 4,
            )  # fmt: skip
        return cls(
            units=units, words=_METRIC, series="metric", long_side=Fraction(300), least_side=Fraction(40),
            grain=Fraction(10), least_border=Fraction(55),
        )  # fmt: skip

    def read(self, word: str) -> Fraction:
        """Return one of the lengths of `words`."""
        return read_length(self.words[word], self.units)

    def length(self, length: Fraction) -> str:
        """Return the length with its unit, in centimetres where it is not in inches."""
        units = Units.IN if self.units is Units.IN else Units.CM
        return Printer(units, Step.usual(units)).length(length)


_METRIC = {
    "currency": "EUR", "step": "1 mm", "paper": "A3+", "margin": "5 mm", "sheet": "815 x 1120 mm",
    "example": '"24 cm", "250 mm", "16 3/8 in"', "frame": "40x50 cm", "frame_words": "40 x 50 cm", "lip": "6 mm",
    "depth": "18 mm", "rail": "20 mm", "square": "30x30 cm", "narrow_rail": "18 mm", "moulding_depth": "20 mm",
    "moulding_rail": "22 mm", "stick": "3 m", "kerf": "3 mm", "print": "24 cm", "weight": "12 mm",
    "border": "65 mm", "layer_reveal": "6 mm", "square_border": "55 mm", "reveal": "8 mm", "wall": "3200 x 2400 mm",
    "eye": "1450 mm", "gap": "60 mm",
}  # fmt: skip
_INCHES = {
    "currency": "USD", "step": "1/16 in", "paper": "13x19 in", "margin": "1/4 in", "sheet": "32x40 in",
    "example": '"9 1/2 in", "16-3/8", "1 ft 4 in"', "frame": "16x20 in", "frame_words": "16 x 20 in",
    "lip": "1/4 in", "depth": "3/4 in", "rail": "3/4 in", "square": "12x12 in", "narrow_rail": "5/8 in",
    "moulding_depth": "3/4 in", "moulding_rail": "7/8 in", "stick": "10 ft", "kerf": "1/8 in", "print": "9 1/2 in",
    "weight": "1/2 in", "border": "2 1/2 in", "layer_reveal": "1/4 in", "square_border": "2 1/4 in",
    "reveal": "3/8 in", "wall": "10 x 8 ft", "eye": "57 in", "gap": "2 1/2 in",
}  # fmt: skip
