"""What a job has to work with: papers, boards, glazing, backing, frames and small things."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from matplan.catalogue import USUAL_PPI
from matplan.job.file.kinds import ListOf, TableOf, Then
from matplan.job.file.money import MONEY, PER_FOOT, PER_SQUARE_FOOT, RATE
from matplan.job.file.slips import PICTURES, SHEETS, THICKNESSES, Usual
from matplan.job.file.table import key
from matplan.job.file.written import (
    AT_HAND,
    COLOUR,
    DENSITY,
    FRACTION,
    LENGTH,
    MOST_AT_HAND,
    NOTHING_AT_HAND,
    PIXELS,
    SIZE,
    SOME_LENGTH,
    TEXT,
    AtHand,
    chosen,
    counted,
)
from matplan.job.records.sides import SIDES
from matplan.job.records.words import Included, MaterialKind, Substance
from matplan.lengths import ZERO, Sides, Size


@dataclass(frozen=True, slots=True, kw_only=True)
class StockSheet:
    """A stock sheet of a material."""

    written: str
    """The size as the job wrote it, the sheet's name in lists."""
    size: Size = key(Usual(SIZE, SHEETS, small=1), "The sheet's size.", needs='size = "32x40 in"')
    price: Decimal | None = key(MONEY, "What one sheet costs.", None, like=18.5)
    have: int = key(counted(0, MOST_AT_HAND), "How many are in the shop: used first, at no cost.", 0, like=2)
    trim: Fraction = key(
        LENGTH, "What is taken off all four edges before the first cut, its kerf included.", ZERO, like="3 mm"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A sheet material: a mat board, glazing or backing."""

    kind: MaterialKind
    name: str
    thickness: Fraction = key(
        Usual(SOME_LENGTH, THICKNESSES),
        "Its thickness as measured. A board's follows from its plies, one of the tables has its own.",
        like="1.5 mm",
    )
    density: Fraction | None = key(
        DENSITY,
        "Its density in kg/m³, for the weight of pieces. Default: its row of the tables or its substance.",
        None,
        like=680,
    )
    colour: str | None = key(
        COLOUR, "Its colour in drawings: a code like #f6f2e8 or a plain name like warm white.", None
    )
    ply: int | None = key(
        counted(1, 24),
        "A board's plies: 4-ply is 1.4 mm, 8-ply 2.8 mm unless a thickness is given. Default 4.",
        None,
        like=8,
    )
    sheets: tuple[StockSheet, ...] = key(
        ListOf(TableOf(StockSheet)),
        "The sheets that it is cut from. Without any it is ordered to size.",
        (),
        like=[{"size": "32x40 in", "price": 18.5, "have": 2}],
    )
    kerf: Fraction = key(
        LENGTH, "The width that a cut takes away: 0 for a knife, a saw's blade else.", ZERO, like="2 mm"
    )
    dropout_trim: Fraction | None = key(
        LENGTH,
        "What is taken off each side of a drop-out before it serves as stock. Default: the board's thickness.",
        None,
        like="3 mm",
    )
    price_per_m2: Decimal | Fraction | None = key(
        RATE,
        "What a square metre costs where it is ordered to size.",
        None,
        instead=("price_per_ft2", PER_SQUARE_FOOT, "What a square foot costs where it is ordered to size."),
        like=24.0,
    )
    supplier: str = key(TEXT, "Where it is bought: the order is grouped by it.", "", like="Board store")
    substance: str = key(chosen(Substance), "What it is made of, where no table tells.", "")
    """One of `Substance`; "" where unknown."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A sheet that the printer takes, upright as its size says."""

    name: str
    size: Size = key(
        Usual(SIZE, PICTURES, small=1), "The sheet's size, or its name in the tables.", needs='size = "A4"'
    )
    printer_margin: Sides = key(
        Then(SIDES, lambda asked: asked.sides),
        "What the printer cannot reach, at all sides or a table of sides; 0 prints borderless. Where "
        "nothing is said, drawings say that the default is assumed.",
        Sides.all(ZERO),
        unsaid="3 mm",
        inches="1/8 in",
        like="5 mm",
    )
    margin_assumed: bool = False
    """Whether nobody said what the printer cannot reach, so that the usual (common practice) stands for it."""
    ppi: Fraction = key(PIXELS, "The pixels per inch that a print on it is wanted with.", USUAL_PPI, like=360)
    price: Decimal | None = key(MONEY, "What one sheet costs.", None, like=3.2)
    have: int = key(
        counted(0, MOST_AT_HAND), "How many sheets lie ready: they are not ordered and cost nothing.", 0, like=10
    )
    supplier: str = key(TEXT, "Where it is bought: the order is grouped by it.", "", like="Paper store")
    profile: str = key(
        TEXT,
        "The name of the colour profile that the print dialog is set to. Nothing is converted.",
        "",
        like="rag-matt.icc",
    )
    media: str = key(TEXT, "The printer's setting for this paper, as its dialog names it.", "", like="heavy fine art")
    test_strip: Size | None = key(
        SIZE,
        "A small sheet of the same paper: each print gets a strip of itself on it, at final size. Default: no strip.",
        None,
        like="A6",
    )
    strip_at: tuple[Fraction, Fraction] | None = key(
        ListOf(FRACTION, exactly=(2, "write two numbers like [0.5, 0]")),
        "Where strips are taken: the middle as fractions of the image's width and height, from its top left. Default:"
        " where the deepest and the brightest tones are.",
        None,
        like=[0.5, 0.4],
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Stick:
    """A length of moulding as sold."""

    length: Fraction = key(SOME_LENGTH, "How long one stick is.", needs='length = "3 m"')
    price: Decimal | None = key(MONEY, "What one stick costs.", None, like=21.0)
    have: int = key(counted(0, MOST_AT_HAND), "How many lie ready: used first, at no cost.", 0, like=1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """A frame; with none of `takes`, `rabbet` and `sight` a moulding to make frames of, with `sticks` one to saw."""

    name: str
    """"" for a piece without a frame, which is made to measure."""
    takes: Size | None = key(
        Usual(SIZE, PICTURES, small=1),
        "The sheet that a ready-made frame is sold for: the blank is that size.",
        None,
        like="40x50 cm",
    )
    rabbet: Size | None = key(
        Usual(SIZE, PICTURES, small=1),
        "The rabbet opening as measured on the back: the blank is that minus the clearance.",
        None,
        like="403 x 503 mm",
    )
    sight: Size | None = key(
        Usual(SIZE, PICTURES, small=1),
        "The visible opening as measured: beside takes or rabbet it gives the lip; alone it gives the rabbet.",
        None,
        like="388 x 488 mm",
    )
    clearance: Fraction = key(
        LENGTH,
        "The whole play of the blank in the rabbet, in width and in height.",
        unsaid="3 mm",
        inches="1/8 in",
        like="2 mm",
    )
    """Published: Fine Art Trade Guild framing standards (members' copies) give 1 to 3 mm; 1/8 in is habit."""
    lip: Fraction = key(
        LENGTH, "How far the rabbet covers the blank on each side.", unsaid="6 mm", inches="1/4 in", like="5 mm"
    )
    depth: Fraction | None = key(
        SOME_LENGTH, "The rabbet's depth: what glazing, mat and backing together may fill.", None, like="18 mm"
    )
    rail: Fraction | None = key(SOME_LENGTH, "The moulding's face width, its lip included.", None, like="20 mm")
    height: Fraction | None = key(
        SOME_LENGTH, "The moulding's height from the wall to its face, for its weight.", None, like="32 mm"
    )
    density: Fraction | None = key(
        DENSITY, "The density of its wood or metal in kg/m³, for its weight.", None, like=650
    )
    colour: str | None = key(
        COLOUR,
        "The moulding's colour in drawings: a code like #b08a50 or a plain name like black.",
        None,
        like="pale wood",
    )
    price: Decimal | None = key(MONEY, "What a ready-made frame costs, or one that a shop makes.", None, like=34.0)
    price_per_m: Decimal | Fraction | None = key(
        RATE,
        "What a metre of rails costs where a shop makes the frame, along the outer edges.",
        None,
        instead=("price_per_ft", PER_FOOT, "What a foot of rails costs where a shop makes the frame."),
        like=9.5,
    )
    supplier: str = key(TEXT, "Where it is bought: the order is grouped by it.", "", like="Frame shop")
    have: int = key(counted(0, MOST_AT_HAND), "How many lie ready: they are not ordered and cost nothing.", 0, like=2)
    includes: tuple[Included, ...] = key(
        ListOf(chosen(Included), one=True),
        "What it comes with, which is neither ordered nor cut: the glazing and the backing that its pieces name, its"
        " mat, its hangers.",
        (),
        like=["glazing", "backing", "mat", "hangers"],
    )
    mat_opening: Size | None = key(
        Usual(SIZE, PICTURES),
        "The opening of the mat that it comes with, as the eye sees it.",
        None,
        like="190 x 280 mm",
    )
    sticks: tuple[Stick, ...] = key(
        ListOf(TableOf(Stick)),
        "The lengths that the moulding is sold in. With takes or rabbet beside them the frame is sawn to that size.",
        (),
        like=[{"length": "3 m", "price": 21.0, "have": 1}],
    )
    kerf: Fraction = key(LENGTH, "The width that a saw cut takes away.", ZERO, like="3 mm")
    spare: Fraction = key(LENGTH, "What is taken off each end of a stick before the first rail.", ZERO, like="10 mm")
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
        "What one pack or roll costs; where neither is named, what one costs, or a metre (a foot in an inch job).",
        None,
        like=12.5,
    )
    pack: int | None = key(counted(1, MOST_AT_HAND), "How many a pack holds.", None, like=100)
    roll: Fraction | None = key(SOME_LENGTH, "How long a roll, or one as sold by its length, is.", None, like="25 m")
    have: AtHand = key(AT_HAND, "How many of it lie ready, or what length.", NOTHING_AT_HAND)
    supplier: str = key(TEXT, "Where it is bought: the order is grouped by it.", "", like="Hardware store")
