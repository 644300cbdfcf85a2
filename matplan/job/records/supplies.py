"""What a job has to work with: papers, boards, glazing, backing, frames, the cutter, and what work costs."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from matplan.catalogue import USUAL_PPI
from matplan.job.file.kinds import ListOf, TableOf, Then
from matplan.job.file.slips import PICTURES, SHEETS, THICKNESSES, Usual
from matplan.job.file.table import key
from matplan.job.file.written import (
    AT_HAND,
    COLOUR,
    COMMISSION,
    DENSITY,
    FRACTION,
    LENGTH,
    MARKUP,
    MONEY,
    MOST_AT_HAND,
    NOTHING_AT_HAND,
    PER_FOOT,
    PER_SQUARE_FOOT,
    PIXELS,
    RATE,
    SIZE,
    SOME_LENGTH,
    SOME_MONEY,
    TAX,
    TEXT,
    AtHand,
    chosen,
    counted,
    numbered,
)
from matplan.job.records.sides import SIDES
from matplan.job.records.words import Hand, Included, MachineSide, MaterialKind, Substance
from matplan.lengths import Sides, Size, plain_decimal

_NOTHING = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class StockSheet:
    """A stock sheet of a material."""

    written: str
    """The size as the job wrote it, the sheet's name in lists."""
    size: Size = key(Usual(SIZE, SHEETS, small=1), "The sheet's size.", needs='size = "32x40 in"')
    price: Decimal | None = key(MONEY, "What one costs.", None)
    have: int = key(counted(0, MOST_AT_HAND), "How many are in the shop: used first, at no cost.", 0)
    trim: Fraction = key(LENGTH, "Taken off all four edges before the first cut.", _NOTHING)


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A sheet material: a mat board, glazing or backing."""

    kind: MaterialKind
    name: str
    thickness: Fraction = key(Usual(SOME_LENGTH, THICKNESSES), "Its thickness as measured.")
    density: Fraction | None = key(DENSITY, "In kg/m³.", None)
    colour: str | None = key(COLOUR, "A code like #f6f2e8 or a plain name like warm white.", None)
    ply: int | None = key(
        counted(1, 24), "A board's plies: 4-ply is 1.4 mm, 8-ply 2.8 mm unless a thickness is given. Default 4.", None
    )
    sheets: tuple[StockSheet, ...] = key(
        ListOf(TableOf(StockSheet)), "The sheets that it is cut from. Without any it is ordered to size.", ()
    )
    kerf: Fraction = key(LENGTH, "What a cut takes away.", _NOTHING)
    dropout_trim: Fraction | None = key(
        LENGTH,
        "What is taken off each side of a drop-out before it serves as stock. Default: the board's thickness.",
        None,
    )
    price_per_m2: Decimal | Fraction | None = key(
        RATE,
        "What a square metre costs where it is ordered to size.",
        None,
        instead=("price_per_ft2", PER_SQUARE_FOOT, "What a square foot costs where it is ordered to size."),
    )
    supplier: str = key(TEXT, "Where it is bought: the order is grouped by it.", "")
    substance: str = key(chosen(Substance), "What it is made of, where no table tells.", "")
    """One of `Substance`; "" where unknown."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A sheet that the printer takes, upright as its size says."""

    name: str
    size: Size = key(Usual(SIZE, PICTURES, small=1), "A size or a name from the tables.", needs='size = "A4"')
    printer_margin: Sides = key(
        Then(SIDES, lambda asked: asked.sides),
        "What the printer cannot reach; 0 prints borderless. Where it is not said, the usual is said to be assumed.",
        Sides.all(_NOTHING),
        unsaid="3 mm",
        inches="1/8 in",
    )
    margin_assumed: bool = False
    """Whether nobody said what the printer cannot reach, so that the usual (common practice) stands for it."""
    ppi: Fraction = key(PIXELS, "Pixels per inch that a print on it is wanted with.", USUAL_PPI)
    price: Decimal | None = key(MONEY, "What one sheet costs.", None)
    have: int = key(counted(0, MOST_AT_HAND), "How many sheets lie ready: they are not ordered and cost nothing.", 0)
    supplier: str = key(TEXT, "Where it is bought: the order is grouped by it.", "")
    profile: str = key(
        TEXT, "The name of the colour profile that the print dialog is set to. Nothing is converted.", ""
    )
    media: str = key(TEXT, "The printer's setting for this paper.", "")
    test_strip: Size | None = key(
        SIZE,
        "A small sheet of the same paper: each print gets a strip of itself on it, at final size. Default: no strip.",
        None,
    )
    strip_at: tuple[Fraction, Fraction] | None = key(
        ListOf(FRACTION, exactly=(2, "write two numbers like [0.5, 0]")),
        "Where strips are taken: the middle as fractions of the image's width and height, from its top left. Default:"
        " where the deepest and the brightest tones are.",
        None,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Stick:
    """A length of moulding as sold."""

    length: Fraction = key(SOME_LENGTH, "The stick's length.", needs='length = "3 m"')
    price: Decimal | None = key(MONEY, "What one costs.", None)
    have: int = key(counted(0, MOST_AT_HAND), "How many lie ready: used first, at no cost.", 0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """A frame; with none of `takes`, `rabbet` and `sight` a moulding to make frames of, with `sticks` one to saw."""

    name: str
    """"" for a piece without a frame, which is made to measure."""
    takes: Size | None = key(
        Usual(SIZE, PICTURES, small=1), "The sheet that a ready-made frame is sold for: the blank is that size.", None
    )
    rabbet: Size | None = key(
        Usual(SIZE, PICTURES, small=1), "The measured rabbet opening: the blank is that minus the clearance.", None
    )
    sight: Size | None = key(
        Usual(SIZE, PICTURES, small=1),
        "The visible opening as measured: beside takes or rabbet it gives the lip; alone it gives the rabbet.",
        None,
    )
    clearance: Fraction = key(LENGTH, "The blank's whole play, in width and in height.", unsaid="3 mm", inches="1/8 in")
    """Published: Fine Art Trade Guild framing standards (members' copies) give 1 to 3 mm; 1/8 in is habit."""
    lip: Fraction = key(LENGTH, "How far the rabbet covers the blank on each side.", unsaid="6 mm", inches="1/4 in")
    depth: Fraction | None = key(SOME_LENGTH, "The rabbet's depth.", None)
    rail: Fraction | None = key(SOME_LENGTH, "The moulding's face width, its lip included.", None)
    height: Fraction | None = key(SOME_LENGTH, "The moulding's height, from the wall to its face.", None)
    density: Fraction | None = key(DENSITY, "In kg/m³, of the wood or metal.", None)
    colour: str | None = key(COLOUR, "A code like #f6f2e8 or a plain name.", None)
    price: Decimal | None = key(MONEY, "What a ready-made frame costs, or one that a shop makes.", None)
    price_per_m: Decimal | Fraction | None = key(
        RATE,
        "What a metre of rails costs where a shop makes the frame, along the outer edges.",
        None,
        instead=("price_per_ft", PER_FOOT, "What a foot of rails costs where a shop makes the frame."),
    )
    supplier: str = key(TEXT, "Where it is bought: the order is grouped by it.", "")
    have: int = key(counted(0, MOST_AT_HAND), "How many lie ready: they are not ordered and cost nothing.", 0)
    includes: tuple[Included, ...] = key(
        ListOf(chosen(Included), one=True),
        "What it comes with, which is neither ordered nor cut: the glazing and the backing that its pieces name, its"
        " mat, its hangers.",
        (),
    )
    mat_opening: Size | None = key(
        Usual(SIZE, PICTURES), "The opening of the mat that it comes with, as the eye sees it.", None
    )
    sticks: tuple[Stick, ...] = key(
        ListOf(TableOf(Stick)),
        "The lengths that the moulding is sold in. With takes or rabbet beside them the frame is sawn to that size.",
        (),
    )
    kerf: Fraction = key(LENGTH, "What a saw cut takes away.", _NOTHING)
    spare: Fraction = key(LENGTH, "What is taken off each end of a stick first.", _NOTHING)
    turned: bool = False
    """Whether the sizes are turned by a quarter already, as the piece asks for."""

    @property
    def has_size(self) -> bool:
        """Whether it settles the blank."""
        return self.takes is not None or self.rabbet is not None

    @property
    def rabbet_size(self) -> Size | None:
        """The rabbet as measured, or as it lies round the sheet that the frame takes; `None` for a moulding."""
        return self.rabbet or (self.takes.grown(self.clearance / 2) if self.takes else None)

    @property
    def ready_made(self) -> bool:
        """Whether it is bought, or lies ready, at its size."""
        return self.has_size and not self.sticks

    @property
    def has_mat(self) -> bool:
        """Whether it comes with a mat."""
        return self.mat_opening is not None or Included.MAT in self.includes


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware:
    """A small thing that frames take, by its name in `matplan sizes hardware`: how it is sold, and what lies ready."""

    name: str
    price: Decimal | None = key(
        MONEY,
        "What one pack or roll costs; where neither is named, one of it, or a metre (a foot in an inch job).",
        None,
    )
    pack: int | None = key(counted(1, MOST_AT_HAND), "How many a pack holds.", None)
    roll: Fraction | None = key(SOME_LENGTH, "How long a roll, or one as sold by its length, is.", None)
    have: AtHand = key(AT_HAND, "How many of it lie ready, or what length.", NOTHING_AT_HAND)
    supplier: str = key(TEXT, "Where it is bought: the order is grouped by it.", "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutter:
    """The mat cutter on the bench."""

    setback: Fraction = key(
        LENGTH, "How far its blade enters behind the start mark; added to every over-cut.", _NOTHING
    )
    widest_border: Fraction | None = key(SOME_LENGTH, "The widest setting of its guide. Default: no limit.", None)
    longest_cut: Fraction | None = key(SOME_LENGTH, "The longest cut that it makes. Default: no limit.", None)
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
    )
    humidity: tuple[Fraction, Fraction] = key(
        Then(ListOf(_PERCENT, exactly=(2, "write two relative humidities in % like [35, 65]")), _rising),
        "The driest and the dampest, in % of relative humidity. Default [35, 65].",
        (Fraction(35), Fraction(65)),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Rates:
    """What work and small things cost, for the costs of each piece. All may be left out."""

    labour_per_hour: Decimal | None = key(MONEY, "What an hour of work costs.", None)
    ink_per_m2: Decimal | Fraction | None = key(
        RATE,
        "What the ink of a square metre of image costs.",
        None,
        instead=("ink_per_ft2", PER_SQUARE_FOOT, "What the ink of a square foot of image costs."),
    )
    markup: Fraction | None = key(MARKUP, "Selling price : cost, such as 2.2.", None)
    commission: Fraction | None = key(
        COMMISSION, "The part of the price that a gallery keeps, such as 0.4: the selling price bears it.", None
    )
    tax: Fraction | None = key(TAX, "Sales tax as a part of the price before it, such as 0.19.", None)
    round_to: Decimal | None = key(SOME_MONEY, "Selling prices go up to the next multiple of it, such as 5.", None)
    budget: Decimal | None = key(MONEY, "What the job may cost: `check` tells what is left of it.", None)
    keep: Size | None = key(
        SIZE,
        "The smallest offcut or drop-out that is kept for later jobs. Default 150 x 100 mm, 6 x 4 in in an inch job.",
        None,
    )
    keep_stick: Fraction | None = key(
        SOME_LENGTH, "The shortest end of a stick that is kept. Default 300 mm, 12 in in an inch job.", None
    )
    hinge: Decimal | None = key(MONEY, "What one hinge costs.", None)
    tape_per_m: Decimal | Fraction | None = key(
        RATE,
        "What a metre of backing tape costs.",
        None,
        instead=("tape_per_ft", PER_FOOT, "What a foot of backing tape costs."),
    )
    hanger: Decimal | None = key(MONEY, "What one strap hanger costs.", None)
    wire_per_m: Decimal | Fraction | None = key(
        RATE,
        "What a metre of hanging wire costs.",
        None,
        instead=("wire_per_ft", PER_FOOT, "What a foot of hanging wire costs."),
    )
    hook: Decimal | None = key(MONEY, "What one wall hook costs.", None)

    @property
    def sells(self) -> bool:
        """Whether selling prices are asked for."""
        return any(rate is not None for rate in (self.markup, self.commission, self.tax, self.round_to))
