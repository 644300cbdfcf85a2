"""A framed piece as asked for: its windows, its border, its mat. Defaults are filled in; nothing is solved."""

from __future__ import annotations

import re
from dataclasses import MISSING, dataclass, field
from fractions import Fraction
from pathlib import Path
from typing import Any, ClassVar

from matplan.job.file.kinds import ListOf, Named, Naming, TableOf
from matplan.job.file.lines import Place
from matplan.job.file.slips import BORDERS, PICTURES, Usual
from matplan.job.file.table import Opened, Reader, Schema, Tables, Told, Written, key
from matplan.job.file.texts import read_name
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
from matplan.job.records.sides import SIDES, FourSides
from matplan.job.records.supplies import Frame, Material, Paper
from matplan.job.records.weights import WEIGHT, AddedWeight, Weight
from matplan.job.records.words import BorderAt, BorderTo, Cut, MatSupply, RowAlign, Shape, Show
from matplan.lengths import Size, Units

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

    width: Fraction | None = key(SOME_LENGTH, "Its width.", None)
    height: Fraction | None = key(SOME_LENGTH, "Its height.", None)


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


_EDITION = re.compile(r"\s*([0-9]{1,6})\s*/\s*([0-9]{1,6})\s*", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class Edition:
    """An edition as written; the first copy's number and how many there are, both 0 where it is words."""

    written: str
    first: int = 0
    of: int = 0

    def of_copy(self, copy: int) -> str:
        """Return what stands on the label of a copy, counted from 0."""
        return f"{self.first + copy} / {self.of}" if self.of else self.written

    @property
    def blank(self) -> str:
        """What stands on a label whose number is written by hand."""
        return f"______ / {self.of}" if self.of else self.written


def _edition(value: object, units: Units) -> Edition:
    text = read_name(value, units)
    found = _EDITION.fullmatch(text)
    if found is None:
        return Edition(written=text)
    first, of = int(found[1]), int(found[2])
    if not 1 <= first <= of:
        raise ValueError(f'{got(text)}, a number that the edition does not have; write one like "3/25"')
    return Edition(written=text, first=first, of=of)


EDITION = Written(_edition, {"type": "string", "minLength": 1, "examples": ["3/25", "artist's proof"]})


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

    photo: Photo | None = key(Named("photo", NAME), "The photo file, from the job's folder.", None)
    aspect: tuple[Fraction, Fraction] | None = key(
        ASPECT, "Width to height, where no photo tells, or what the photo is cropped to.", None
    )
    image: ImageAsk | None = key(Usual(_Image(), PICTURES), "The printed image's size: both sides or one.", None)
    opening: Size | None = key(
        Usual(SIZE, PICTURES), "The clear opening that the eye sees, in image's place: the print follows from it.", None
    )
    show: Show = key(
        chosen(Show),
        "image: the mat covers the image's edge; margin: white paper is left round it; sheet: floated, the whole sheet"
        " in view.",
        Show.IMAGE,
    )
    overlap: Fraction = key(LENGTH, "How far the mat covers the image on each side.", unsaid="3 mm", inches="1/8 in")
    reveal: Fraction = key(
        LENGTH, "White paper left round the image, where show is margin.", unsaid="10 mm", inches="3/8 in"
    )
    gap: Fraction = key(LENGTH, "Left round the floated sheet, where show is sheet.", unsaid="6 mm", inches="1/4 in")
    """Common practice: at least 1/4 in."""
    paper: Paper | None = key(Named("paper", NAME), "A [paper] name, or a paper of the tables.", None)
    shape: Shape = key(chosen(Shape), "The opening's outline.", Shape.RECTANGLE)
    points: tuple[tuple[Fraction, Fraction], ...] = key(
        ListOf(ListOf(FRACTION, exactly=(2, "write two numbers like [0.5, 0]"))),
        "A polygon's corners as fractions of the opening's width and height, from its top left.",
        (),
    )
    rise: Fraction | None = key(SOME_LENGTH, "An arch's rise. Default: half-round where the height allows.", None)


@dataclass(frozen=True, slots=True, kw_only=True)
class ApertureAsk(Window):
    """One of a piece's windows; what it leaves out is as its piece says."""

    name: str = key(OWN_NAME, "Its name, once in the piece.", needs='name = "left"')
    text: str | None = key(TEXT, "The words of a caption window, printed on a caption insert.", None)


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerAsk:
    """One board of the mat, front to back. `reveal` is what the layer in front leaves of it; 0 on the first."""

    board: Material = key(Named("board", NAME), "A [board] name, or a board of the tables.", needs='board = "white"')
    reveal: Fraction = key(
        LENGTH, "How much of it the layer in front leaves in view, on every side.", unsaid="6 mm", inches="1/4 in"
    )
    cut: Cut = key(chosen(Cut), "How its opening is cut.", Cut.BEVEL)


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One framed piece. Of frame, image (or opening) and border any two settle the third."""

    shares: ClassVar[type] = Window
    """Its keys for all its windows, or for the only one, are those of a window."""

    name: str = key(OWN_NAME, "Its name, once in the job.", needs='name = "Slipway"')
    file: str
    line: int | None = field(default=None, compare=False)
    """Where its table begins in the job file, for errors that only solving finds."""
    place: str = field(default="", compare=False)
    key_lines: tuple[tuple[str, int], ...] = field(default=(), compare=False)
    """The lines of its keys (`border`, `aperture[2]`)."""
    quantity: int = key(counted(1, MOST_COPIES), "How many are made.", 1)
    edition: Edition | None = key(
        EDITION, 'Its number in the edition, "3/25": further copies count on. Or its words, "artist\'s proof".', None
    )
    label: str = key(TEXT, "The words of its wall label.", "")
    frame: Frame = key(
        Usual(Named("frame", NAME), PICTURES, small=1),
        "A [frame] name, a frame of the tables or a size. Left out: made to measure.",
    )
    turn: bool = key(FLAG, "Whether the frame is used turned by a quarter.", False)
    apertures: tuple[ApertureAsk, ...] = key(
        ListOf(TableOf(ApertureAsk)), "Its windows, where it has several.", name="aperture"
    )
    rows: tuple[tuple[int, ...], ...] = key(
        ListOf(ListOf(Naming(NAME, "aperture"))),
        "The windows' names, row by row from the top. Default: all in one row.",
        ((0,),),
    )
    """Indexes into `apertures`; a piece with one window has one row of one."""
    gutter: Fraction = key(
        LENGTH,
        "The board between two neighbouring clear openings.",
        Fraction(0),
        unsaid="20 mm",
        inches="3/4 in",
    )
    row_align: RowAlign = key(chosen(RowAlign), "How the openings of a row line up.", RowAlign.CENTRE)
    justify: bool = key(FLAG, "Whether each row gets one height and every row the same width.", False)
    border: BorderAsk | None = key(Usual(SIDES, BORDERS), "The least border that the eye shall see.", None)
    measured: FourSides | None = None
    """The borders of a mat that is there already, as measured; a side that is not said follows from the opening."""
    border_to: BorderTo = key(chosen(BorderTo), "Where a border ends.", BorderTo.OPENING)
    border_at: BorderAt = key(
        chosen(BorderAt), "Where a border begins: at the sight edge or the blank's.", BorderAt.VISIBLE
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
        "The boards, front to back; an empty list frames without a mat. Default: one white 4-ply.",
        unsaid="white",
    )
    glazing: Material | None = key(
        Named("glazing", NAME), "A [glazing] name, one of the tables, or none.", None, unsaid="glass-2mm"
    )
    backing: Material | None = key(
        Named("backing", NAME), "A [backing] name, one of the tables, or none.", None, unsaid="foam-5mm"
    )
    mount: Material | None = key(
        Named("board", NAME),
        "A [board] name, or a board of the tables: of the blank's size, behind the work, which is hinged to "
        "it or floats"
        " on it.",
        None,
    )
    lift: Fraction = key(LENGTH, "How far a floated work is raised off its mount.", Fraction(0))
    spacer: Fraction | None = key(
        SOME_LENGTH, "The height of strips under the lip that keep what lies behind off the glazing.", None
    )
    mat_supply: MatSupply = key(
        chosen(MatSupply),
        "sheets: cut here (default where the front board has sheets); to size: a supplier cuts it (default elsewhere);"
        " ready-cut: a standard mat; own: it is there already, with the opening that is given.",
        MatSupply.TO_SIZE,
    )
    viewing_distance: Fraction | None = key(
        SOME_LENGTH, "How far away it is seen from. Default: one and a half times its diagonal.", None
    )
    minutes: Fraction | None = key(MINUTES, "Labour for one of it, in minutes.", None)

    @property
    def floats(self) -> bool:
        """Whether works float on the mount, without a mat in front."""
        return not self.mat and all(window.show is Show.SHEET for window in self.apertures)

    def line_of(self, where: str) -> int | None:
        """Return the line of that key of the piece, or of the nearest thing that is written."""
        lines = dict(self.key_lines)
        name, rest = where.partition(".")[::2]
        return lines.get(f"{name}.{rest}", lines.get(name, lines.get(name.partition("[")[0], self.line)))
