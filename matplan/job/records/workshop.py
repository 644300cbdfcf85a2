"""The workshop itself: its mat cutter, the air in its rooms, and what its work costs."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from matplan.job.file.kinds import ListOf, Then
from matplan.job.file.money import COMMISSION, MARKUP, MONEY, PER_FOOT, PER_SQUARE_FOOT, RATE, SOME_MONEY, TAX
from matplan.job.file.table import key
from matplan.job.file.written import LENGTH, SIZE, SOME_LENGTH, chosen, numbered
from matplan.job.records.words import Hand, MachineSide
from matplan.lengths import ZERO, Size, plain_decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutter:
    """The mat cutter on the bench."""

    setback: Fraction = key(
        LENGTH, "How far the blade enters behind the start mark: added to every over-cut.", ZERO, like="1 mm"
    )
    widest_border: Fraction | None = key(
        SOME_LENGTH,
        "The widest setting of its guide; wider borders are marked and cut by hand. Default: no limit.",
        None,
        like="220 mm",
    )
    longest_cut: Fraction | None = key(
        SOME_LENGTH,
        "The longest cut that its track reaches; longer ones are cut by hand. Default: no limit.",
        None,
        like="1200 mm",
    )
    window_side: Hand = key(chosen(Hand), "On which side of the blade's travel the window lies.", Hand.LEFT)
    machine_side: MachineSide = key(
        chosen(MachineSide),
        "The side of the board that a computerised cutter cuts, for machine files.",
        MachineSide.FACE,
    )


def _rising(bounds: tuple[Fraction, Fraction]) -> tuple[Fraction, Fraction]:
    low, high = bounds
    if low > high:
        raise ValueError(
            f"got {plain_decimal(low)} and {plain_decimal(high)}; write the lower bound first: "
            f"[{plain_decimal(high)}, {plain_decimal(low)}]"
        )
    return low, high


_DEGREES = numbered("a temperature in °C from -40 to 80", Fraction(-40), Fraction(80))
_PERCENT = numbered("a relative humidity in % from 0 to 100", Fraction(0), Fraction(100))


@dataclass(frozen=True, slots=True, kw_only=True)
class Climate:
    """The bounds of the air in the rooms where pieces are made and hang: budgets count how far materials move."""

    temperature: tuple[Fraction, Fraction] = key(
        Then(ListOf(_DEGREES, exactly=(2, "write two temperatures in °C like [15, 30]")), _rising),
        "The coldest and the warmest, in °C. Default [15, 30].",
        (Fraction(15), Fraction(30)),
        like=[5, 35],
    )
    humidity: tuple[Fraction, Fraction] = key(
        Then(ListOf(_PERCENT, exactly=(2, "write two relative humidities in % like [35, 65]")), _rising),
        "The driest and the dampest, in % of relative humidity. Default [35, 65].",
        (Fraction(35), Fraction(65)),
        like=[30, 70],
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Rates:
    """What work and small things cost, for the costs of each piece. All may be left out."""

    labour_per_hour: Decimal | None = key(
        MONEY, "What an hour of work costs, for the minutes of each piece.", None, like=28.0
    )
    ink_per_m2: Decimal | Fraction | None = key(
        RATE,
        "What the ink of a square metre of image costs.",
        None,
        instead=("ink_per_ft2", PER_SQUARE_FOOT, "What the ink of a square foot of image costs."),
        like=6.5,
    )
    markup: Fraction | None = key(MARKUP, "What the cost is multiplied by for the selling price.", None, like=2.2)
    commission: Fraction | None = key(
        COMMISSION, "The part of the price that a gallery keeps: the selling price is higher by it.", None, like=0.4
    )
    tax: Fraction | None = key(TAX, "Sales tax as a part of the price before it.", None, like=0.19)
    round_to: Decimal | None = key(SOME_MONEY, "Selling prices go up to the next multiple of it.", None, like=5)
    budget: Decimal | None = key(MONEY, "What the job may cost: `check` tells what is left of it.", None, like=400)
    keep: Size | None = key(
        SIZE,
        "The smallest offcut or drop-out that is kept for later jobs. Default 150 x 100 mm, 6 x 4 in in an inch job.",
        None,
        like="200 x 150 mm",
    )
    keep_stick: Fraction | None = key(
        SOME_LENGTH,
        "The shortest end of a stick that is kept. Default 300 mm, 12 in in an inch job.",
        None,
        like="500 mm",
    )
    hinge: Decimal | None = key(MONEY, "What one hinge costs.", None, like=0.1)
    tape_per_m: Decimal | Fraction | None = key(
        RATE,
        "What a metre of backing tape costs.",
        None,
        instead=("tape_per_ft", PER_FOOT, "What a foot of backing tape costs."),
        like=0.3,
    )
    hanger: Decimal | None = key(MONEY, "What one strap hanger costs.", None, like=0.45)
    wire_per_m: Decimal | Fraction | None = key(
        RATE,
        "What a metre of hanging wire costs.",
        None,
        instead=("wire_per_ft", PER_FOOT, "What a foot of hanging wire costs."),
        like=0.6,
    )
    hook: Decimal | None = key(MONEY, "What one wall hook costs.", None, like=0.5)

    @property
    def sells(self) -> bool:
        """Whether selling prices are asked for."""
        return any(rate is not None for rate in (self.markup, self.commission, self.tax, self.round_to))
