"""What a row of the tables is, once read: papers, frames, ready-cut mats, sheet materials and figures.

Lengths are exact millimetres, masses and densities exact fractions of SI units. Each record says where it comes from
(`source`) and how far to trust it (`status`).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from matplan.lengths import Sides, Size


class Kind(StrEnum):
    """A table, by the word that calls it on the command line."""

    PAPERS = "papers"
    FRAMES = "frames"
    READY_CUT = "ready-cut"
    BOARDS = "boards"
    GLAZING = "glazing"
    BACKING = "backing"
    BOARD_SHEETS = "board-sheets"
    MAT_BLANKS = "mat-blanks"
    SUBSTANCES = "substances"
    HARDWARE = "hardware"
    CURRENCIES = "currencies"

    @property
    def heading(self) -> str:
        """The table's heading."""
        return _HEADINGS[self]


_HEADINGS = {
    Kind.PAPERS: "Papers",
    Kind.FRAMES: "Frames, by the sheet they are sold for",
    Kind.READY_CUT: "Ready-cut mats",
    Kind.BOARDS: "Mat boards",
    Kind.GLAZING: "Glazing",
    Kind.BACKING: "Backing",
    Kind.BOARD_SHEETS: "Sheets that mat board is sold in",
    Kind.MAT_BLANKS: "Mat sizes that museums keep to",
    Kind.SUBSTANCES: "What the materials are made of",
    Kind.HARDWARE: "What else a frame takes",
    Kind.CURRENCIES: "Currencies, by the decimals of their amounts",
}


class Status(StrEnum):
    """How far a figure is to be trusted."""

    PUBLISHED = "published"
    """The source named was read."""
    DERIVED = "derived"
    """Arithmetic from a figure that the source names."""
    COMMON_PRACTICE = "common practice"
    """Shops' habit; no single authority."""
    MEMORY = "memory"
    """Believed, and found in no source."""


class Quantity(StrEnum):
    """What a figure of a substance measures."""

    DENSITY = "density"
    """kg/m³."""
    THERMAL_EXPANSION = "thermal expansion"
    """Of its length, per kelvin."""
    HUMIDITY_GROWTH = "humidity growth"
    """Of its length, from dry to the relative humidity `at`."""
    MOISTURE_MOVEMENT = "moisture movement"
    """Of its width across the grain, per % of moisture content."""
    MOISTURE_CONTENT = "moisture content"
    """%, at rest in air of the relative humidity `at`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What every row has: its name, further names of the same thing, and where it comes from."""

    name: str
    also: tuple[str, ...] = ()
    status: Status
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper(Entry):
    """A paper that prints come on, upright (Ledger and squares apart)."""

    size: Size
    series: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame(Entry):
    """A ready-made frame; `size` is the sheet that it is sold for, upright, which a blank for it is cut to."""

    size: Size
    series: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadyCut(Entry):
    """A standard mat: `blank` is the frame's size, `opening` the one at the back of the board, `print_size` what it is
    cut for.
    """

    frame: str
    print_name: str
    blank: Size
    opening: Size
    print_size: Size

    @property
    def borders(self) -> Sides:
        """What is left of the blank on each side, to its edge."""
        across, down = (self.blank.width - self.opening.width) / 2, (self.blank.height - self.opening.height) / 2
        return Sides(top=down, right=across, bottom=down, left=across)

    @property
    def overlap(self) -> Sides:
        """How far the mat covers the print's edge on each side."""
        across, down = (
            (self.print_size.width - self.opening.width) / 2,
            (self.print_size.height - self.opening.height) / 2,
        )
        return Sides(top=down, right=across, bottom=down, left=across)

    @property
    def turned(self) -> ReadyCut:
        """The same mat by a quarter turn."""
        return replace(self, blank=self.blank.turned, opening=self.opening.turned, print_size=self.print_size.turned)


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank(Entry):
    """A sheet of mat board: one that board is sold in, or one that museums cut their mats to."""

    size: Size


@dataclass(frozen=True, slots=True, kw_only=True)
class Material(Entry):
    """A board, a glazing or a backing of one thickness, in millimetres.

    `status` and `source` are those of the thickness and of `largest`; `mass_status` and `mass_source` those of the
    mass.
    """

    kind: Kind
    of: str
    """The substance it is made of, as `figures` knows it."""
    thickness: Fraction
    mass_kg_m2: Fraction
    mass_status: Status
    mass_source: str
    ply: int | None = None
    largest: Size | None = None
    """The largest size, either way up, that shops use it for: a habit and no calculation of strength. None: not known.
    """

    @property
    def density_kg_m3(self) -> Fraction:
        """Mass by volume of the sheet as a whole."""
        return self.mass_kg_m2 / self.thickness * 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure(Entry):
    """One measured figure of a substance (`name`), at the relative humidity `at_rh` in % where that matters."""

    quantity: Quantity
    value: Fraction
    unit: str
    at_rh: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware(Entry):
    """A small thing that a frame takes; `each` says how many or how much of it."""

    by_length: bool
    """Whether it is bought by its length, else by the piece."""
    pack: int | None
    """How many frames one does, where a job names no pack."""
    small: bool
    """Whether it is so small a thing that a selling price may do without its price."""
    each: str

    @property
    def called(self) -> str:
        """What a list calls it."""
        return self.also[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Currencies(Entry):
    """The currencies whose amounts have so many decimals, by their codes (`also`)."""

    decimals: int


type Row = Paper | Frame | ReadyCut | Blank | Material | Figure | Hardware | Currencies
