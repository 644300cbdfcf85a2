"""The job as frozen records: every name resolved, every length exact in millimetres, every default filled in.

`reader` makes them from a job file; the solver takes them. They know nothing of TOML, lines or files' contents.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from pathlib import Path

from matplan.catalogue import USUAL_PPI
from matplan.faults import Fault, JobError
from matplan.lengths import Printer, Sides, Size, Step, Units


class Show(StrEnum):
    """What the opening shows of a work."""

    IMAGE = "image"
    """The mat covers the image's edge by `overlap`."""
    MARGIN = "margin"
    """The mat leaves `reveal` of white paper round the image."""
    SHEET = "sheet"
    """Floated: the whole sheet in view with `gap` round it."""


class Cut(StrEnum):
    """How a board's edge is cut: `bevel` leans to the front, `reverse` to the back."""

    BEVEL = "bevel"
    REVERSE = "reverse"
    STRAIGHT = "straight"


class Shape(StrEnum):
    """The outline of an opening."""

    RECTANGLE = "rectangle"
    SQUARE = "square"
    CIRCLE = "circle"
    OVAL = "oval"
    ARCH = "arch"
    OCTAGON = "octagon"
    POLYGON = "polygon"


class MatSupply(StrEnum):
    """Where the mat comes from."""

    SHEETS = "sheets"
    TO_SIZE = "to size"
    READY_CUT = "ready-cut"


class BorderTo(StrEnum):
    """Where a border ends."""

    OPENING = "opening"
    FRONT_LAYER = "front layer"


class BorderAt(StrEnum):
    """Where a border begins: at the sight edge (what the eye sees) or at the blank's edge (what the cutter is set to)."""

    VISIBLE = "visible"
    CUT = "cut"


class RowAlign(StrEnum):
    """How the openings of one row line up."""

    CENTRE = "centre"
    TOP = "top"
    BOTTOM = "bottom"


class Hand(StrEnum):
    """A side of the cutter's travel, seen along it."""

    LEFT = "left"
    RIGHT = "right"


class MaterialKind(StrEnum):
    """The three sheet materials of a stack."""

    BOARD = "board"
    GLAZING = "glazing"
    BACKING = "backing"


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


@dataclass(frozen=True, slots=True, kw_only=True)
class StockSheet:
    """A stock size of a sheet material. `written` is the size as the job wrote it, the sheet's name in lists."""

    written: str
    size: Size
    price: Decimal | None = None
    have: int = 0
    trim: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A board, a glazing or a backing. `density` in kg/m³, `colour` as #rrggbb, None where unknown.

    `moves` is its growth: per kelvin, or per percent of moisture for wood; None where unknown.
    """

    kind: MaterialKind
    name: str
    thickness: Fraction
    density: Fraction | None = None
    colour: str | None = None
    ply: int | None = None
    sheets: tuple[StockSheet, ...] = ()
    kerf: Fraction = Fraction(0)
    dropout_trim: Fraction | None = None
    price_per_m2: Decimal | None = None
    substance: str = ""
    """`glass`, `acrylic`, `foam`, `wood` or `board`: what cautions and movement depend on; "" where unknown."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A sheet that the printer takes, upright as its size says. `printer_margin` is what the printer cannot reach."""

    name: str
    size: Size
    printer_margin: Sides = field(default_factory=lambda: Sides.all(Fraction(0)))
    ppi: Fraction = USUAL_PPI
    price: Decimal | None = None
    iso: bool = False
    """Whether the size is one of ISO 216, whose tolerances then hold."""
    profile: str = ""
    """The colour profile's name, for the print sheet."""
    media: str = ""
    """The printer's media setting, for the print sheet."""
    test_strip: Size | None = None
    """The small sheet of the same paper that test strips are printed on."""
    strip_at: tuple[Fraction, Fraction] | None = None
    """The middle of the test strip as fractions of the image's width and height; `None`: where the tones are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stick:
    """A length of moulding as sold."""

    length: Fraction
    price: Decimal | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """A frame or a moulding. With `takes` or `rabbet` it has a size; with neither it is a moulding to make frames of.

    `clearance` is the whole play in width and height, `lip` how far the rabbet covers on each side, `depth` that of the
    rabbet, `rail` the face width, `height` the moulding's from wall to face. Already turned where the piece asks for
    it. `name` is "" for a piece without a frame, which is made to measure.
    """

    name: str
    takes: Size | None = None
    rabbet: Size | None = None
    clearance: Fraction
    lip: Fraction
    depth: Fraction | None = None
    rail: Fraction | None = None
    height: Fraction | None = None
    density: Fraction | None = None
    colour: str | None = None
    price: Decimal | None = None
    sticks: tuple[Stick, ...] = ()
    kerf: Fraction = Fraction(0)
    spare: Fraction = Fraction(0)
    """Taken off each end of a stick before the first cut."""
    turned: bool = False

    @property
    def has_size(self) -> bool:
        """Whether it settles the blank."""
        return self.takes is not None or self.rabbet is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A photo file as its header tells: `pixels` as seen, its Exif turn honoured; `profile` the colour profile's own
    name.
    """

    written: str
    path: Path
    pixels: tuple[int, int]
    orientation: int = 1
    profile: str | None = None
    format: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ImageAsk:
    """The printed image as asked for: one side or both."""

    width: Fraction | None = None
    height: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BorderAsk:
    """The least borders asked for. `bottom` None: it follows from the top and the weight."""

    top: Fraction
    right: Fraction
    bottom: Fraction | None
    left: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class ApertureAsk:
    """One window as asked for. `aspect` is width : height as written beside the photo, None where only the photo or
    image tells.
    """

    name: str
    photo: Photo | None = None
    aspect: tuple[Fraction, Fraction] | None = None
    image: ImageAsk | None = None
    show: Show = Show.IMAGE
    overlap: Fraction
    reveal: Fraction
    gap: Fraction
    paper: Paper | None = None
    shape: Shape = Shape.RECTANGLE
    points: tuple[tuple[Fraction, Fraction], ...] = ()
    rise: Fraction | None = None
    """An arch's rise in millimetres; None: half-round where the height allows."""
    text: str | None = None
    """A caption window's words, printed on a slip of their own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerAsk:
    """One board of the mat, front to back. `reveal` is what the layer in front leaves of it; nought on the first."""

    board: Material
    reveal: Fraction
    cut: Cut = Cut.BEVEL


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One framed piece as asked for. `rows` hold indexes into `apertures`; a piece with one window has one row of one.

    `line` is where its table begins in the job file, for errors that only solving finds; `place` its dotted place
    there, and `key_lines` hold the lines of its keys (`border`, `aperture[2]`). A piece stays equal to itself wherever
    it is written.
    """

    name: str
    file: str
    line: int | None = field(default=None, compare=False)
    place: str = field(default="", compare=False)
    key_lines: tuple[tuple[str, int], ...] = field(default=(), compare=False)
    quantity: int = 1
    frame: Frame
    apertures: tuple[ApertureAsk, ...]
    rows: tuple[tuple[int, ...], ...] = ((0,),)
    gutter: Fraction = Fraction(0)
    row_align: RowAlign = RowAlign.CENTRE
    justify: bool = False
    border: BorderAsk | None = None
    border_to: BorderTo = BorderTo.OPENING
    border_at: BorderAt = BorderAt.VISIBLE
    weight: Weight = AddedWeight(extra=Fraction(0))
    mat: tuple[LayerAsk, ...]
    glazing: Material | None = None
    backing: Material | None = None
    mat_supply: MatSupply = MatSupply.TO_SIZE
    viewing_distance: Fraction | None = None
    minutes: Fraction | None = None
    """Labour for one of it, where the job counts labour."""

    def line_of(self, where: str) -> int | None:
        """The line of that key of the piece, or of the nearest thing that is written."""
        lines = dict(self.key_lines)
        key, rest = where.partition(".")[::2]
        return lines.get(f"{key}.{rest}", lines.get(key, lines.get(key.partition("[")[0], self.line)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutter:
    """The mat cutter on the bench. `None`: no limit is known."""

    setback: Fraction = Fraction(0)
    """How far the blade enters behind the start mark."""
    widest_border: Fraction | None = None
    """The widest setting of the guide."""
    longest_cut: Fraction | None = None
    window_side: Hand = Hand.LEFT
    """On which side of the blade's travel the window lies."""


# --- costs -----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Rates:
    """What work and small things cost, as far as the job tells; `markup` is selling price : cost."""

    labour_per_hour: Decimal | None = None
    ink_per_m2: Decimal | None = None
    markup: Fraction | None = None
    hinge: Decimal | None = None
    tape_per_m: Decimal | None = None
    hanger: Decimal | None = None
    wire_per_m: Decimal | None = None
    hook: Decimal | None = None


# --- walls -----------------------------------------------------------------------------------------------------------


class Arrange(StrEnum):
    """How frames are lined up on a wall."""

    CENTRE_LINE = "centre-line"
    FLUSH_TOP = "flush-top"
    FLUSH_BASE = "flush-base"
    GRID = "grid"
    STEPPED = "stepped"
    CLUSTER = "cluster"
    PLACED = "placed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin:
    """Where the lower left corner of a frame hangs: from the wall's left edge and up from the floor."""

    left: Fraction
    bottom: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """Where frames may hang: from the wall's left edge and up from the floor."""

    left: Fraction
    right: Fraction
    bottom: Fraction
    top: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepClear:
    """A thing on the wall that frames keep `margin` away from. `kind` (`switch`, `socket` …) names what cautions depend
    on.
    """

    name: str
    left: Fraction
    bottom: Fraction
    width: Fraction
    height: Fraction
    margin: Fraction = Fraction(0)
    kind: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Furniture:
    """A thing that stands on the floor before the wall."""

    name: str
    left: Fraction
    width: Fraction
    height: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class ByWire:
    """A wire between two anchors at `anchors` × height below the top; `drop` from the top to the tightened wire, None:
    the default.
    """

    anchors: Fraction = Fraction(1, 3)
    drop: Fraction | None = None
    rating: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ByTwoHooks:
    """Two hooks, `inset` from each side and `down` below the top."""

    inset: Fraction
    down: Fraction
    rating: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BySawtooth:
    """A toothed hanger in the middle, its teeth `down` below the top."""

    down: Fraction
    rating: Fraction | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ByCleat:
    """A bevelled cleat `down` below the top, `width` long, screwed at its ends."""

    down: Fraction
    width: Fraction | None = None
    rating: Fraction | None = None


type Hang = ByWire | ByTwoHooks | BySawtooth | ByCleat


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall:
    """A wall as asked for. `hung` holds an index into the job's pieces and a copy's number for each frame, in hanging
    order.
    """

    name: str
    file: str
    line: int | None = field(default=None, compare=False)
    place: str = field(default="", compare=False)
    size: Size
    eye: Fraction
    gap: Fraction
    arrange: Arrange = Arrange.CENTRE_LINE
    zone: Zone
    hung: tuple[tuple[int, int], ...]
    at: tuple[tuple[str, Pin], ...] = ()
    keep_clear: tuple[KeepClear, ...] = ()
    furniture: tuple[Furniture, ...] = ()
    hang: Hang = ByWire()
    columns: int | None = None
    rise: Fraction | None = None
    outline: tuple[tuple[Fraction, Fraction], ...] = ()
    """The wall's top edge where it is no rectangle: points (from the left, above the floor), left to right."""
    variant: int = 1
    path: bool = False
    """Whether people walk along it (protruding objects)."""
    key_lines: tuple[tuple[str, int], ...] = field(default=(), compare=False)
    """The lines of its keys (`hang.drop`, `at.Gull`, `keep_clear[2]`)."""

    def line_of(self, where: str) -> int | None:
        """The line of that key of the wall, or of the nearest thing that is written."""
        lines = dict(self.key_lines)
        return lines.get(where, lines.get(where.partition(".")[0].partition("[")[0], self.line))


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A whole job. `file` is its path as the user gave it, `folder` where relative paths start."""

    title: str
    file: str
    folder: Path
    units: Units
    step: Step
    currency: str
    cutter: Cutter = Cutter()
    papers: tuple[Paper, ...] = ()
    materials: tuple[Material, ...] = ()
    frames: tuple[Frame, ...] = ()
    pieces: tuple[Piece, ...] = ()
    walls: tuple[Wall, ...] = ()
    rates: Rates = Rates()
    dropout_trim: Fraction | None = None

    @property
    def printer(self) -> Printer:
        """How this job prints its lengths."""
        return Printer(self.units, self.step)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A job as far as it can be read, and every fault of its text.

    `job` holds the pieces without a fault, neither in themselves nor in what they name, and the walls of such pieces.
    """

    job: Job
    faults: tuple[Fault, ...] = ()

    def whole(self) -> Job:
        """Return the job. Raises `JobError` if there is a fault."""
        if self.faults:
            raise JobError(self.faults, file=self.job.file)
        return self.job
