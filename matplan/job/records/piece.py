"""A framed piece as asked for: its windows, its border, its mat. Defaults are filled in; nothing is solved."""

from __future__ import annotations

from dataclasses import MISSING, dataclass, field
from fractions import Fraction
from pathlib import Path
from typing import Any, ClassVar

from matplan.job.file.kinds import ListOf, Named, Naming, TableOf
from matplan.job.file.lines import Place
from matplan.job.file.slips import BORDERS, PICTURES, Usual
from matplan.job.file.table import Opened, Reader, Schema, Tables, Told, key
from matplan.job.file.written import (
    ASPECT,
    FLAG,
    FRACTION,
    LENGTH,
    MINUTES,
    NAME,
    OWN_NAME,
    SIZE,
    SOME_LENGTH,
    TEXT,
    chosen,
    counted,
)
from matplan.job.file.wrong import got
from matplan.job.records.edition import EDITION, Edition
from matplan.job.records.sides import SIDES, FourSides
from matplan.job.records.supplies import Frame, Material, Paper
from matplan.job.records.weights import WEIGHT, AddedWeight, Weight
from matplan.job.records.words import BorderAt, BorderTo, Cut, MatSupply, RowAlign, Shape, Show
from matplan.lengths import Size

MOST_COPIES = 10_000
MOST_LAYERS = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo:
    """A photo file as its header tells: `pixels` as seen, its Exif turn honoured."""

    written: str
    path: Path
    pixels: tuple[int, int]
    orientation: int = 1
    profile: str | None = None
    """The colour profile's own name."""
    profile_broken: bool = False
    """Whether it has a colour profile that cannot be read."""
    format: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ImageAsk:
    """The printed image: one side, the other following from the aspect, or both."""

    width: Fraction | None = key(SOME_LENGTH, "Its width; the height follows from the aspect.", None, like="24 cm")
    height: Fraction | None = key(SOME_LENGTH, "Its height; the width follows from the aspect.", None, like="30 cm")


@dataclass(frozen=True, slots=True)
class _Image:
    """A size for both sides, or a table of one side or both."""

    def read(self, value: object, place: Place, reader: Reader, /) -> Any:
        if isinstance(value, str):
            size = SIZE.read(value, place, reader)
            return ImageAsk(width=size.width, height=size.height)
        if not isinstance(value, dict):
            raise ValueError(f'{got(value)}; write a size like "300 x 200 mm", or one side like {{ width = "24 cm" }}')
        if "size" in value:
            return self._both(value, place, reader)
        asked: ImageAsk = Opened(reader, ImageAsk, value, place).make()
        if asked == ImageAsk() and not reader.faults.touches(place):
            raise ValueError('says neither side; write one like { width = "24 cm" }, or both')
        if asked == ImageAsk():
            raise Told
        return asked

    def _both(self, value: dict[str, object], place: Place, reader: Reader) -> ImageAsk:
        here = (*place, "size")
        if len(value) > 1:
            reader.faults.add(here, "size says both sides already; leave width and height out")
        size = reader.value(SIZE, value["size"], here)
        if size is MISSING:
            raise Told
        return ImageAsk(width=size.width, height=size.height)

    def schema(self, tables: Tables, /) -> Schema:
        both = {"type": "object", "properties": {"size": SIZE.schema(tables)}, "additionalProperties": False}
        return {"anyOf": [SIZE.schema(tables), tables(ImageAsk, ()), both]}


@dataclass(frozen=True, slots=True, kw_only=True)
class BorderAsk:
    """The least borders asked for. `bottom` is `None` if it follows from the top and the weight."""

    top: Fraction
    right: Fraction
    bottom: Fraction | None
    left: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """What a piece and an aperture have in common: what one opening shows."""

    photo: Photo | None = key(
        Named("photo", NAME),
        "The photo file, from the job's folder. Its aspect, turn and pixels are read from it.",
        None,
        like="photos/slipway.jpg",
    )
    aspect: tuple[Fraction, Fraction] | None = key(
        ASPECT, "Width to height, where no photo tells; beside a photo, what it is cropped to.", None
    )
    image: ImageAsk | None = key(
        Usual(_Image(), PICTURES),
        "The printed image's size: both sides, or one and the other follows from the aspect.",
        None,
        like="300 x 200 mm",
    )
    opening: Size | None = key(
        Usual(SIZE, PICTURES),
        "The clear opening that the eye sees, in image's place: the print follows from it.",
        None,
        like="190 x 280 mm",
    )
    show: Show = key(
        chosen(Show),
        "image: the mat covers the image's edge; margin: white paper is left round it; sheet: floated, the whole sheet"
        " in view.",
        Show.IMAGE,
    )
    overlap: Fraction = key(
        LENGTH, "How far the mat covers the image on each side.", unsaid="3 mm", inches="1/8 in", like="4 mm"
    )
    reveal: Fraction = key(
        LENGTH,
        "White paper left in view round the image, where show is margin.",
        unsaid="10 mm",
        inches="3/8 in",
        like="8 mm",
    )
    gap: Fraction = key(
        LENGTH,
        "Mount left in view round the floated sheet, where show is sheet.",
        unsaid="6 mm",
        inches="1/4 in",
        like="10 mm",
    )
    """Common practice: at least 1/4 in."""
    paper: Paper | None = key(
        Named("paper", NAME), "What it is printed on: a [paper] name, or a paper of the tables.", None, like="rag"
    )
    shape: Shape = key(
        chosen(Shape), "The opening's outline. An arch may name its rise, a polygon needs points.", Shape.RECTANGLE
    )
    points: tuple[tuple[Fraction, Fraction], ...] = key(
        ListOf(ListOf(FRACTION, exactly=(2, "write two numbers like [0.5, 0]"))),
        "A polygon's corners as fractions of the opening's width and height, from its top left.",
        (),
        like=[[0.5, 0], [1, 1], [0, 1]],
    )
    rise: Fraction | None = key(
        SOME_LENGTH, "An arch's rise. Default: half-round where the height allows.", None, like="60 mm"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ApertureAsk(Window):
    """One of a piece's windows; what it leaves out is as its piece says."""

    name: str = key(OWN_NAME, "Its name in rows and lists, once in the piece.", needs='name = "left"')
    text: str | None = key(
        TEXT, "The words of a caption window: they are printed on an insert of their own.", None, like="Low water, 2026"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerAsk:
    """One board of the mat, front to back. `reveal` is what the layer in front leaves of it; 0 on the first."""

    board: Material = key(Named("board", NAME), "A [board] name, or a board of the tables.", needs='board = "white"')
    reveal: Fraction = key(
        LENGTH,
        "How much of it the layer in front leaves in view, on every side.",
        unsaid="6 mm",
        inches="1/4 in",
        like="5 mm",
    )
    cut: Cut = key(
        chosen(Cut),
        "How its opening is cut: bevel shows the board's core as a thin line, reverse hides it, straight is upright.",
        Cut.BEVEL,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One framed piece. Of frame, image (or opening) and border any two settle the third."""

    shares: ClassVar[type] = Window
    """Its keys for all its windows, or for the only one, are those of a window."""

    name: str = key(
        OWN_NAME, "Its name in lists, on drawings and in file names, once in the job.", needs='name = "Slipway"'
    )
    file: str
    line: int | None = field(default=None, compare=False)
    """Where its table begins in the job file, for errors that only solving finds."""
    place: str = field(default="", compare=False)
    key_lines: tuple[tuple[str, int], ...] = field(default=(), compare=False)
    """The lines of its keys (`border`, `aperture[2]`)."""
    quantity: int = key(counted(1, MOST_COPIES), "How many of it are made.", 1, like=2)
    edition: Edition | None = key(
        EDITION, 'Its number in the edition, "3/25": further copies count on. Or its words, "artist\'s proof".', None
    )
    label: str = key(
        TEXT,
        "The words of its label on the wall: a wall with labels hangs one beside each frame.",
        "",
        like="Slipway, 2026",
    )
    frame: Frame = key(
        Usual(Named("frame", NAME), PICTURES, small=1),
        "A [frame] name, a frame of the tables or a size. Left out: made to measure.",
        like="40x50 cm",
    )
    turn: bool = key(FLAG, "Whether the frame is used turned by a quarter. Nothing is ever turned unasked.", False)
    apertures: tuple[ApertureAsk, ...] = key(
        ListOf(TableOf(ApertureAsk)), "Its windows, where it has several, a table each.", name="aperture"
    )
    rows: tuple[tuple[int, ...], ...] = key(
        ListOf(ListOf(Naming(NAME, "aperture"))),
        "The windows' names, row by row from the top. Default: all in one row.",
        ((0,),),
        like=[["left", "right"], ["title"]],
    )
    """Indexes into `apertures`; a piece with one window has one row of one."""
    gutter: Fraction = key(
        LENGTH,
        "The board between two neighbouring clear openings.",
        Fraction(0),
        unsaid="20 mm",
        inches="3/4 in",
        like="25 mm",
    )
    row_align: RowAlign = key(chosen(RowAlign), "How the openings of a row line up.", RowAlign.CENTRE)
    justify: bool = key(FLAG, "Whether all openings of a row get one height and all rows the same width.", False)
    border: BorderAsk | None = key(
        Usual(SIDES, BORDERS),
        "The least border that the eye shall see: one length for all sides, or a table of sides.",
        None,
        like="60 mm",
    )
    measured: FourSides | None = None
    """The borders of a mat that is there already, as measured; a side that is not said follows from the opening."""
    border_to: BorderTo = key(
        chosen(BorderTo),
        "Where a border ends: at the clear opening, or at the front layer's opening as it is cut on the back.",
        BorderTo.OPENING,
    )
    border_at: BorderAt = key(
        chosen(BorderAt),
        "Where a border begins: visible at the frame's sight edge, cut at the blank's edge, where the "
        "cutter's guide lies.",
        BorderAt.VISIBLE,
    )
    weight: Weight = key(
        WEIGHT,
        "The bottom border: so much wider than the top, so many times as wide, or by the optical centre.",
        AddedWeight(extra=Fraction(0)),
        unsaid=0,
    )
    even: bool = key(
        FLAG, "Whether the opening moves by one step where equal borders would need half a step on each side.", False
    )
    mat: tuple[LayerAsk, ...] = key(
        ListOf(
            TableOf(LayerAsk, short="board", refused='write a board\'s name, or { board = "white", reveal = "6 mm" }'),
            one=True,
        ),
        "The boards of the mat, front to back; an empty list frames without a mat. Default: one white 4-ply.",
        unsaid="white",
        like=["white", {"board": "charcoal", "reveal": "6 mm"}],
    )
    glazing: Material | None = key(
        Named("glazing", NAME),
        "What covers it: a [glazing] name, one of the tables, or none.",
        None,
        unsaid="glass-2mm",
        like="acrylic-2mm",
    )
    backing: Material | None = key(
        Named("backing", NAME),
        "What closes it behind: a [backing] name, one of the tables, or none.",
        None,
        unsaid="foam-5mm",
        like="none",
    )
    mount: Material | None = key(
        Named("board", NAME),
        "A board of the blank's size behind the work, which is hinged to it or floats on it: a [board] "
        "name, or a board of the tables.",
        None,
        like="white",
    )
    lift: Fraction = key(
        LENGTH,
        "How far a floated work is raised off its mount. It stays below the spacer's height.",
        Fraction(0),
        like="3 mm",
    )
    spacer: Fraction | None = key(
        SOME_LENGTH, "The height of strips under the lip that keep what lies behind off the glazing.", None, like="5 mm"
    )
    mat_supply: MatSupply = key(
        chosen(MatSupply),
        "sheets: cut here (default where the front board has sheets); to size: a supplier cuts it (default elsewhere;"
        " where it is written, nothing is drawn to cut by); ready-cut: a standard mat; own: it is there already, with"
        " the opening that is given.",
        MatSupply.TO_SIZE,
    )
    viewing_distance: Fraction | None = key(
        SOME_LENGTH,
        "How far away it is seen from; findings about resolution count from it. Default: one and a half "
        "times its diagonal.",
        None,
        like="2 m",
    )
    minutes: Fraction | None = key(MINUTES, "Work on one copy, in minutes, for its cost.", None, like=45)

    @property
    def floats(self) -> bool:
        """Whether works float on the mount, without a mat in front."""
        return not self.mat and all(window.show is Show.SHEET for window in self.apertures)

    def says(self, key: str) -> bool:
        """Return whether the file has that key of the piece."""
        return any(key == said for said, _ in self.key_lines)

    def line_of(self, where: str) -> int | None:
        """Return the line of that key of the piece, or of the nearest thing that is written."""
        lines = dict(self.key_lines)
        name, rest = where.partition(".")[::2]
        return lines.get(f"{name}.{rest}", lines.get(name, lines.get(name.partition("[")[0], self.line)))
