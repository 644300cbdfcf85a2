"""The job file as it is written: its tables, keys and values. Reading and the JSON Schema both come from here.

Every key may be left out as far as the model goes; `needs` names those that a table cannot do without, and `reader`
says so of each that is missing. Short forms (`border = "60 mm"`) become their table when they are read. Nothing is
looked up here.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import Annotated, Any, ClassVar, Self, cast

from pydantic import (
    ModelWrapValidatorHandler,
    ValidationInfo,
    model_validator,
)

from matplan.catalogue import USUAL_PPI
from matplan.job.file.table import OneOrMore, Table, says, tidy
from matplan.job.file.written import (
    LENGTH_SCHEMA,
    Aspect,
    Colour,
    Density,
    Flag,
    Fractional,
    Key,
    Length,
    Markup,
    Mass,
    Minutes,
    Money,
    Name,
    Pixels,
    Share,
    SizeText,
    SomeLength,
    StepLength,
    Text,
    WrittenWeight,
    chosen,
    counted,
    got,
    read_length,
)
from matplan.job.records import Arrange, BorderAt, BorderTo, Cut, Hand, MatSupply, RowAlign, Shape, Show
from matplan.lengths import Units

MOST_COPIES = 10_000
MOST_LAYERS = 12


class SidesTable(Table):
    """One length for each side. A side left out takes its opposite's."""

    short = LENGTH_SCHEMA
    top: Length = says("Above.")
    right: Length = says("On the right, seen from the front.")
    bottom: Length = says("Below.")
    left: Length = says("On the left, seen from the front.")

    @model_validator(mode="wrap")
    @classmethod
    def _one_length(cls, value: object, handler: ModelWrapValidatorHandler[Self], info: ValidationInfo) -> Self:
        if isinstance(value, dict):
            return handler(value)
        length = read_length(value, cast("Units", info.context))
        return handler({"top": length, "right": length, "left": length})


class ImageTable(Table):
    """The printed image: one side, the other following from the aspect, or both."""

    short: ClassVar[Mapping[str, Any]] = {"type": "string", "examples": ["300 x 200 mm", "A4"]}
    width: SomeLength = says("Its width.")
    height: SomeLength = says("Its height.")
    size: SizeText = says("Both at once, as a size or a name from the tables.")

    @model_validator(mode="wrap")
    @classmethod
    def _one_text(cls, value: object, handler: ModelWrapValidatorHandler[Self]) -> Self:
        if isinstance(value, dict):
            return handler(value)
        if isinstance(value, str):
            return handler({"size": value})
        raise ValueError(f'{got(value)}; write a size like "300 x 200 mm", or one side like {{ width = "25 cm" }}')


class LayerTable(Table):
    """One board of the mat."""

    short: ClassVar[Mapping[str, Any]] = {"type": "string"}
    needs: ClassVar[Mapping[str, str]] = {"board": 'board = "white"'}
    board: Name = says("A [board] name, or a board of the tables.")
    reveal: Length = says(
        "How much of it the layer in front leaves in view, on every side. Default 6 mm, 1/4 in in an inch job."
    )
    cut: Annotated[Cut | None, chosen(Cut)] = says("How its opening is cut.", "bevel")

    @model_validator(mode="wrap")
    @classmethod
    def _one_name(cls, value: object, handler: ModelWrapValidatorHandler[Self]) -> Self:
        if isinstance(value, dict):
            return handler(value)
        if isinstance(value, str):
            return handler({"board": value})
        raise ValueError(f'{got(value)}; write a board\'s name, or {{ board = "white", reveal = "6 mm" }}')


class SheetTable(Table):
    """A stock sheet of a material."""

    needs: ClassVar[Mapping[str, str]] = {"size": 'size = "32x40 in"'}
    size: SizeText = says("The sheet's size.")
    price: Money = says("What one costs.")
    have: Annotated[int | None, counted(0, 1_000_000)] = says("How many are in the shop: used first, at no cost.", 0)
    trim: Length = says("Taken off all four edges before the first cut.", 0)


class Substance(StrEnum):
    """What a material is made of: its density, its movement and the cautions follow from it."""

    GLASS = "glass"
    ACRYLIC = "acrylic"
    FOAM = "foam"
    WOOD = "wood"
    BOARD = "board"


class MaterialTable(Table):
    """A sheet material."""

    thickness: SomeLength = says("Its thickness as measured.")
    colour: Colour = says("A code like #f6f2e8 or a plain name like warm white.")
    density: Density = says("In kg/m³.")
    sheets: tuple[SheetTable, ...] | None = says("The sheets that it is cut from. Without any it is ordered to size.")
    kerf: Length = says("What a cut takes away.", 0)
    price_per_m2: Money = says("What a square metre costs where it is ordered to size.")
    substance: Annotated[Substance | None, chosen(Substance)] = says("What it is made of, where no table tells.")


class BoardTable(MaterialTable):
    """A mat board."""

    ply: Annotated[int | None, counted(1, 24)] = says(
        "Its plies: 4-ply is 1.4 mm, 8-ply 2.8 mm unless a thickness is given.", 4
    )
    dropout_trim: Length = says(
        "What is taken off each side of a drop-out before it serves as stock. Default: the board's thickness."
    )


class PaperTable(Table):
    """A paper that the printer takes."""

    needs: ClassVar[Mapping[str, str]] = {"size": 'size = "A4"'}
    size: SizeText = says("A size or a name from the tables.")
    printer_margin: SidesTable | None = says("What the printer cannot reach.", 0)
    ppi: Pixels = says("Pixels per inch that a print on it is wanted with.", int(USUAL_PPI))
    price: Money = says("What one sheet costs.")
    profile: Text = says("The name of the colour profile that the print dialog is set to. Nothing is converted.")
    media: Text = says("The printer's setting for this paper.")
    test_strip: SizeText = says(
        "A small sheet of the same paper: each print gets a strip of itself on it, at final size. Default: no strip."
    )
    strip_at: tuple[Fractional, Fractional] | None = says(
        "Where strips are taken: the middle as fractions of the image's width and height, from its top left. Default:"
        " where the deepest and the brightest tones are."
    )


class StickTable(Table):
    """A length of moulding as sold."""

    needs: ClassVar[Mapping[str, str]] = {"length": 'length = "3 m"'}
    length: SomeLength = says("The stick's length.")
    price: Money = says("What one costs.")


class FrameTable(Table):
    """A frame; with neither `takes` nor `rabbet` a moulding to make frames of."""

    takes: SizeText = says("The sheet that a ready-made frame is sold for: the blank is that size.")
    rabbet: SizeText = says("The measured rabbet opening: the blank is that minus the clearance.")
    clearance: Length = says("The blank's whole play, in width and in height. Default 3 mm, 1/8 in in an inch job.")
    lip: Length = says("How far the rabbet covers the blank on each side. Default 6 mm, 1/4 in in an inch job.")
    depth: SomeLength = says("The rabbet's depth.")
    rail: SomeLength = says("The moulding's face width, its lip included.")
    height: SomeLength = says("The moulding's height, from the wall to its face.")
    density: Density = says("In kg/m³, of the wood or metal.")
    colour: Colour = says("A code like #f6f2e8 or a plain name.")
    price: Money = says("What a ready-made frame costs.")
    sticks: tuple[StickTable, ...] | None = says("The lengths that the moulding is sold in.")
    kerf: Length = says("What a saw cut takes away.", 0)
    spare: Length = says("What is taken off each end of a stick first.", 0)


class WindowTable(Table):
    """What a piece and an aperture have in common: what one opening shows."""

    photo: Name = says("The photo file, from the job's folder.")
    aspect: Aspect = says("Width to height, where no photo tells, or what the photo is cropped to.")
    image: ImageTable | None = says("The printed image's size: both sides or one.")
    show: Annotated[Show | None, chosen(Show)] = says(
        "image: the mat covers the image's edge; margin: white paper is left round it; sheet: floated, the whole sheet in view.",
        "image",
    )
    overlap: Length = says("How far the mat covers the image on each side. Default 3 mm, 1/8 in in an inch job.")
    reveal: Length = says(
        "White paper left round the image, where show is margin. Default 10 mm, 3/8 in in an inch job."
    )
    gap: Length = says("Left round the floated sheet, where show is sheet. Default 6 mm, 1/4 in in an inch job.")
    paper: Name = says("A [paper] name, or a paper of the tables.")
    shape: Annotated[Shape | None, chosen(Shape)] = says("The opening's outline.", "rectangle")
    points: tuple[tuple[Fractional, Fractional], ...] | None = says(
        "A polygon's corners as fractions of the opening's width and height, from its top left."
    )
    rise: SomeLength = says("An arch's rise. Default: half-round where the height allows.")


class ApertureTable(WindowTable):
    """One of a piece's windows."""

    needs: ClassVar[Mapping[str, str]] = {"name": 'name = "left"'}
    name: Name = says("Its name, once in the piece.")
    text: Text = says("The words of a caption window, printed on a slip of their own.")


class PieceTable(WindowTable):
    """One framed piece. Of frame, image and border any two settle the third."""

    needs: ClassVar[Mapping[str, str]] = {"name": 'name = "Slipway"'}
    name: Name = says("Its name, once in the job.")
    quantity: Annotated[int | None, counted(1, MOST_COPIES)] = says("How many are made.", 1)
    frame: Name = says("A [frame] name, a frame of the tables or a size. Left out: made to measure.")
    turn: Flag = says("Whether the frame is used turned by a quarter.", False)
    border: SidesTable | None = says("The least border that the eye shall see.")
    border_to: Annotated[BorderTo | None, chosen(BorderTo)] = says("Where a border ends.", "opening")
    border_at: Annotated[BorderAt | None, chosen(BorderAt)] = says(
        "Where a border begins: at the sight edge or the blank's.", "visible"
    )
    weight: WrittenWeight = says(
        "The bottom border: so much wider than the top, so many times as wide, or by the optical centre.", 0
    )
    mat: Annotated[tuple[LayerTable, ...], OneOrMore()] | None = says(
        "The boards, front to back; an empty list frames without a mat. Default: one white 4-ply."
    )
    glazing: Name = says("A [glazing] name, one of the tables, or none.", "glass-2mm")
    backing: Name = says("A [backing] name, one of the tables, or none.", "foam-5mm")
    mat_supply: Annotated[MatSupply | None, chosen(MatSupply)] = says(
        "sheets: cut here (default where the front board has sheets); to size: a supplier cuts it (default elsewhere);"
        " ready-cut: a standard mat."
    )
    viewing_distance: SomeLength = says("How far away it is seen from. Default: one and a half times its diagonal.")
    minutes: Minutes = says("Labour for one of it, in minutes.")
    aperture: tuple[ApertureTable, ...] | None = says("Its windows, where it has several.")
    rows: tuple[tuple[Name, ...], ...] | None = says(
        "The windows' names, row by row from the top. Default: all in one row."
    )
    gutter: Length = says("The board between two neighbouring clear openings. Default 20 mm, 3/4 in in an inch job.")
    row_align: Annotated[RowAlign | None, chosen(RowAlign)] = says("How the openings of a row line up.", "centre")
    justify: Flag = says("Whether each row gets one height and every row the same width.", False)


class ZoneTable(Table):
    """Where frames may hang. A side left out is the wall's."""

    left: Length = says("Its left side, from the wall's left edge.")
    right: Length = says("Its right side, from the wall's left edge.")
    bottom: Length = says("Its lower side, above the floor.")
    top: Length = says("Its upper side, above the floor.")


class PinTable(Table):
    """Where a frame's lower left corner hangs."""

    needs: ClassVar[Mapping[str, str]] = {"left": 'left = "900 mm"', "bottom": 'bottom = "1200 mm"'}
    left: Length = says("From the wall's left edge.")
    bottom: Length = says("Above the floor.")


class KeepClearTable(Table):
    """A thing on the wall that frames keep away from."""

    needs: ClassVar[Mapping[str, str]] = {
        "name": 'name = "light switch"', "left": 'left = "200 mm"', "bottom": 'bottom = "1050 mm"',
        "width": 'width = "80 mm"', "height": 'height = "80 mm"',
    }  # fmt: skip
    name: Name = says("What it is.")
    left: Length = says("From the wall's left edge.")
    bottom: Length = says("Above the floor.")
    width: SomeLength = says("Its width.")
    height: SomeLength = says("Its height.")
    margin: Length = says("How far frames stay away from it.", 0)
    kind: Text = says("switch, socket, door … : what cautions depend on.")


class FurnitureTable(Table):
    """A thing that stands on the floor before the wall."""

    needs: ClassVar[Mapping[str, str]] = {
        "name": 'name = "bench"', "left": 'left = "800 mm"', "width": 'width = "1800 mm"', "height": 'height = "450 mm"',
    }  # fmt: skip
    name: Name = says("What it is.")
    left: Length = says("From the wall's left edge.")
    width: SomeLength = says("Its width.")
    height: SomeLength = says("Its height.")


class HangTable(Table):
    """How each frame hangs."""

    by: Name = says("wire, two hooks, sawtooth or cleat.", "wire")
    anchors: Share = says("Wire: where its anchors sit, as a part of the height below the top.", "1/3")
    drop: Length = says("Wire: from the frame's top down to the tightened wire. Default: half the anchors' depth.")
    inset: Length = says("Two hooks: how far each is from the side.", alias="in")
    down: Length = says("Two hooks, sawtooth, cleat: how far below the top.")
    width: SomeLength = says("Cleat: how long it is.")
    rating: Mass = says("What one hook is rated for, in kg.")


class WallTable(Table):
    """A wall to hang pieces on; lengths from its left edge and up from the floor."""

    needs: ClassVar[Mapping[str, str]] = {"name": 'name = "Stair landing"', "size": 'size = "3600 x 2400 mm"'}
    name: Name = says("Its name, once in the job.")
    size: SizeText = says("Its width and height.")
    eye: SomeLength = says("The centre line's height above the floor. Default 1450 mm, 57 in in an inch job.")
    gap: Length = says("Between neighbouring frames. Default 60 mm, 2 1/2 in in an inch job.")
    arrange: Annotated[Arrange | None, chosen(Arrange)] = says("How the frames are lined up.", "centre-line")
    zone: ZoneTable | None = says("Where frames may hang. Default: the whole wall.")
    pieces: tuple[Name, ...] | None = says(
        "The pieces in hanging order, one copy a mention. Default: all, each as often as its quantity."
    )
    at: dict[Key, Annotated[tuple[PinTable, ...], OneOrMore()]] | None = says(
        "Where named pieces hang: a table each, or a list of tables, one a copy."
    )
    keep_clear: tuple[KeepClearTable, ...] | None = says("Things on the wall that frames must not touch.")
    furniture: tuple[FurnitureTable, ...] | None = says("Things that stand before the wall.")
    hang: HangTable | None = says("How each frame hangs.")
    columns: Annotated[int | None, counted(1, MOST_COPIES)] = says(
        "grid: how many frames wide. Default: the root of their number, up."
    )
    rise: Length = says("stepped: how much higher each frame hangs than the one to its left.")
    outline: tuple[tuple[Length, Length], ...] | None = says(
        "The top edge where it is not level: points from the left, above the floor."
    )
    variant: Annotated[int | None, counted(1, 1_000_000)] = says("cluster: which of the possible answers.", 1)
    path: Flag = says("Whether people walk along the wall.", False)


class CutterTable(Table):
    """The mat cutter on the bench."""

    setback: Length = says("How far its blade enters behind the start mark; added to every over-cut.", 0)
    widest_border: SomeLength = says("The widest setting of its guide. Default: no limit.")
    longest_cut: SomeLength = says("The longest cut that it makes. Default: no limit.")
    window_side: Annotated[Hand | None, chosen(Hand)] = says(
        "On which side of the blade's travel the window lies.", "left"
    )


class CostsTable(Table):
    """What work and small things cost, for the costs of each piece. All may be left out."""

    labour_per_hour: Money = says("What an hour of work costs.")
    ink_per_m2: Money = says("What the ink of a square metre of image costs.")
    markup: Markup = says("Selling price : cost, such as 2.2.")
    hinge: Money = says("What one hinge costs.")
    tape_per_m: Money = says("What a metre of backing tape costs.")
    hanger: Money = says("What one strap hanger costs.")
    wire_per_m: Money = says("What a metre of hanging wire costs.")
    hook: Money = says("What one wall hook costs.")


class JobTable(Table):
    """A job for matplan: papers, boards and frames, the pieces to frame with them and the walls to hang these on."""

    title: Text = says("What stands at the head of each document.")
    units: Annotated[Units | None, chosen(Units, any_case=True)] = says(
        "What bare numbers are in, and how lengths are printed.", "mm"
    )
    step: StepLength = says("The smallest division that the workshop cuts to. Default 1 mm, 1/16 in in an inch job.")
    currency: Text = says("What prices are in, for the documents.")
    paper: dict[Key, PaperTable] | None = says("Papers that the printer takes.")
    board: dict[Key, BoardTable] | None = says("Mat boards.")
    glazing: dict[Key, MaterialTable] | None = says("Glazing.")
    backing: dict[Key, MaterialTable] | None = says("Backing.")
    frame: dict[Key, FrameTable] | None = says("Frames and mouldings.")
    piece: tuple[PieceTable, ...] | None = says("The pieces.")
    wall: tuple[WallTable, ...] | None = says("The walls.")
    cutter: CutterTable | None = says("The mat cutter on the bench.")
    costs: CostsTable | None = says("What work and small things cost.")
    dropout_trim: Length = says("What is taken off each side of every drop-out. Default: its board's thickness.")


def schema() -> dict[str, Any]:
    """The job file's JSON Schema (draft 2020-12)."""
    made = tidy(JobTable.model_json_schema())
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "matplan job", **made}


def schema_text() -> str:
    """The same as JSON text."""
    import json

    return json.dumps(schema(), indent=2, ensure_ascii=False) + "\n"
