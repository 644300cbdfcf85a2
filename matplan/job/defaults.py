"""What a job takes where it says nothing: round figures in millimetres, or in inches where the job's units are inches.

All are habits of the trade and settings here. Sources: common practice, but where a figure names another.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from matplan.lengths import Units, unit_factor

_INCH = unit_factor("in")

BOARD = "white"
"""The board of a mat that names none: 4-ply."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Defaults:
    """Lengths in millimetres."""

    clearance: Fraction
    """The blank's whole play. Published: Fine Art Trade Guild framing standards (members' copies) give 1 to 3 mm; 1/8
    in is habit.
    """
    lip: Fraction
    overlap: Fraction
    reveal: Fraction
    """White paper round an image shown with its margin."""
    gap: Fraction
    """Round a floated sheet. Common practice: at least 1/4 in."""
    layer_reveal: Fraction
    gutter: Fraction
    eye: Fraction
    """Height of the centre line above the floor."""
    wall_gap: Fraction

    @classmethod
    def of(cls, units: Units) -> Defaults:
        """Those of a job in those units."""
        return _INCHES if units is Units.IN else _METRIC


_METRIC = Defaults(
    clearance=Fraction(3),
    lip=Fraction(6),
    overlap=Fraction(3),
    reveal=Fraction(10),
    gap=Fraction(6),
    layer_reveal=Fraction(6),
    gutter=Fraction(20),
    eye=Fraction(1450),
    wall_gap=Fraction(60),
)
_INCHES = Defaults(
    clearance=_INCH / 8,
    lip=_INCH / 4,
    overlap=_INCH / 8,
    reveal=_INCH * 3 / 8,
    gap=_INCH / 4,
    layer_reveal=_INCH / 4,
    gutter=_INCH * 3 / 4,
    eye=_INCH * 57,
    wall_gap=_INCH * 5 / 2,
)
