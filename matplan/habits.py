"""What depends on a job's units beside its lengths: papers, scales, rulers, masses, forces, areas and round figures.

Each system is one record, and `habits_of(units)` alone chooses it. Values are exact: millimetres, kilograms, newtons,
square millimetres. This module knows nothing of frames.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from matplan.lengths import INCH, Units, plain_decimal, unit_factor

POUND: Final = Fraction(45_359_237, 100_000_000)
"""Kilograms in one pound (published: international yard and pound agreement, 1959)."""
POUND_FORCE: Final = POUND * Fraction("9.80665")
"""Newtons in one pound-force: a pound under standard gravity (derived: pound × 9.80665 m/s²)."""
SQUARE_FOOT: Final = unit_factor("ft") ** 2
"""Square millimetres in one square foot (derived: (12 × 25.4)²)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """A unit in which a quantity is printed, and how much of the exact one it is."""

    name: str
    factor: Fraction

    def text(self, value: Fraction, places: int) -> str:
        """Return a value of the exact unit in this one, rounded to the places: `3.13 lb`."""
        return f"{plain_decimal(value / self.factor, places)} {self.name}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Ruler:
    """A check ruler: how long it is, in how many parts, and how often a tick is longer (every 5th, every 10th)."""

    length: Fraction
    label: str
    parts: int
    middle: int
    large: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Habits:
    """How the people of a unit system measure, buy and draw."""

    unit: Fraction
    """A round figure of theirs is a number of this, in millimetres."""
    mass: Measure
    force: Measure
    area: Measure
    bought: Measure
    """What is bought by the length, in millimetres, is ordered and priced by this."""
    papers: tuple[tuple[float, float], ...]
    """The paper of documents and the next larger ones of its series, upright, in millimetres."""
    scales: tuple[Fraction, ...]
    """The series of drawings, largest first."""
    further_scales: tuple[Fraction, ...]
    """Scales for what no paper takes in the series: stock, sticks and pieces of many metres, a wall as high."""
    enlargements: tuple[Fraction, ...]
    """Scales of sketches above full size, largest first."""
    ruler: Ruler
    wire_step: Fraction
    """Wire is cut to whole numbers of it."""
    whole_steps: bool
    """Whether a length that mends something is told in whole steps, never less than it takes."""

    def figure(self, inches: Fraction | int, millimetres: Fraction | int) -> Fraction:
        """Return a rule's round figure in millimetres, of the two that stand for it.

        >>> habits_of(Units.IN).figure(Fraction(3, 8), 10), habits_of(Units.CM).figure(Fraction(3, 8), 10)
        (Fraction(381, 40), Fraction(10, 1))
        """
        return Fraction(inches if self.unit == INCH else millimetres) * self.unit


METRIC: Final = Habits(
    unit=Fraction(1),
    mass=Measure(name="kg", factor=Fraction(1)),
    force=Measure(name="N", factor=Fraction(1)),
    area=Measure(name="m²", factor=Fraction(1_000_000)),
    bought=Measure(name="m", factor=Fraction(1000)),
    papers=((210.0, 297.0), (297.0, 420.0), (420.0, 594.0), (594.0, 841.0), (841.0, 1189.0)),  # A4 to A0, ISO 216
    scales=tuple(Fraction(1, n) for n in (1, 2, 5, 10, 20, 50)),  # ISO 5455
    further_scales=tuple(Fraction(1, n) for n in (100, 200, 500, 1000)),  # the same, continued
    enlargements=(Fraction(10), Fraction(5), Fraction(2)),
    ruler=Ruler(length=Fraction(100), label="100 mm", parts=100, middle=5, large=10),
    wire_step=Fraction(10),
    whole_steps=False,
)
IMPERIAL: Final = Habits(
    unit=INCH,
    mass=Measure(name="lb", factor=POUND),
    force=Measure(name="lbf", factor=POUND_FORCE),
    area=Measure(name="sq ft", factor=SQUARE_FOOT),
    bought=Measure(name="ft", factor=unit_factor("ft")),
    papers=((215.9, 279.4), (279.4, 431.8), (431.8, 558.8), (558.8, 863.6), (863.6, 1117.6)),  # Letter to 34 × 44 in
    scales=tuple(Fraction(1, n) for n in (1, 2, 4, 8, 16, 24)),  # full size, 6 in to the foot, …
    further_scales=tuple(Fraction(1, n) for n in (48, 96, 192, 384)),
    enlargements=(Fraction(8), Fraction(4), Fraction(2)),
    ruler=Ruler(length=4 * INCH, label="4 in", parts=32, middle=4, large=8),
    wire_step=INCH / 2,
    whole_steps=True,
)


def habits_of(units: Units) -> Habits:
    """Return the habits of a job in those units."""
    return IMPERIAL if units is Units.IN else METRIC
