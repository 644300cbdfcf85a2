"""The shelf of documents: one record a document, in the order of folio.

`pack/` draws what stands here and knows no document by name; the names of `--only`, the workbook's chapters and
README's table come from here. A document is a module with `drawn(folio, record)`, which returns what its form asks for,
nothing where it does not apply; a module that shows photos tells by `picture_sizes(folio, record)` how large. To add a
document, write its module and one line below. It must not know back ends, files and the terminal.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from importlib import import_module
from typing import Any, Final

from matplan.documents.parts.folio import Folio, LayerOf, SheetOf, WindowOf, cut_here
from matplan.documents.parts.mark import marked
from matplan.documents.parts.pictures import PictureKey
from matplan.drawing.sheet import Sheet
from matplan.job.names import file_names, print_files

PACKAGE: Final = "matplan.documents"


class Chapter(StrEnum):
    """The workbook's chapters in working order."""

    BUY = "To buy"
    PRINTS = "Prints"
    SHEETS = "Sheets"
    STICKS = "Sticks"
    WINDOWS = "Windows"
    ASSEMBLY = "Assembly"
    WALLS = "Walls"


class Form(StrEnum):
    """What a document becomes: each form has its back end in the pack. What `drawn` returns stands below it."""

    SVG = "svg"
    """Sheets, a file each."""
    PDF = "pdf"
    """Sheets or a book, one file."""
    FULL_SIZE = "full-size pdf"
    """Sheets to print at 100 %, one file."""
    PHOTOS = "photo pdf"
    """Pages with photos in their own pixels, one file."""
    CSV = "csv"
    """Rows of cells."""
    JSON = "json"
    """Plain values."""

    @property
    def ending(self) -> str:
        """The ending of its files."""
        return self.rpartition(" ")[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """What a document is about: whose it is, what of it, the parts of its file's name, and the record to draw."""

    about: str = ""
    which: str = ""
    names: Mapping[str, str] = field(default_factory=dict)
    record: Any


type Over = Callable[[Folio], Iterator[Subject]]
"""What a document runs over: its subjects in a folio."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Document:
    """A document of the pack.

    `part` is its name for `--only`, `module` its module below `documents`, `path` its file without an ending ("" for a
    document that stands in the workbook alone), `chapter` where the workbook binds it, or lists its file where it is
    not `bound`; `pictured` says that it shows photos. `what` is the line about it for readers.
    """

    part: str
    title: str
    over: Over
    module: str
    path: str = ""
    forms: tuple[Form, ...] = ()
    chapter: Chapter | None = None
    bound: bool = True
    pictured: bool = False
    what: str = ""

    def draw(self, folio: Folio, subject: Subject) -> Any:
        """Return the subject's document, in what its forms ask for; empty where it does not apply."""
        found = import_module(f"{PACKAGE}.{self.module}").drawn(folio, subject.record)
        return tuple(marked(one) if isinstance(one, Sheet) else one for one in found) if type(found) is tuple else found

    def picture_sizes(self, folio: Folio, subject: Subject) -> Mapping[PictureKey, tuple[float, float]]:
        """Return how large the subject's photos are drawn, in mm of paper."""
        if not self.pictured:
            return {}
        found: Mapping[PictureKey, tuple[float, float]] = import_module(f"{PACKAGE}.{self.module}").picture_sizes(
            folio, subject.record
        )
        return found

    def file(self, subject: Subject) -> str:
        """Return the subject's file without an ending."""
        return self.path.format(**{name.replace(" ", "_"): text for name, text in subject.names.items()})

    def heading(self, subject: Subject) -> str:
        """Return what stands in the contents, such as "cutting diagram, layer 1"."""
        return f"{self.title}, {subject.which}" if subject.which else self.title


# --- what documents run over -----------------------------------------------------------------------------------------


def job(folio: Folio) -> Iterator[Subject]:
    """Yield the job, where it is planned as a whole."""
    if folio.plan is not None:
        yield Subject(record=folio.plan)


def piece(folio: Folio) -> Iterator[Subject]:
    """Yield each piece."""
    for one in folio.pieces:
        yield Subject(about=one.name, names={"piece": one.ask.file}, record=one)


def layer(folio: Folio) -> Iterator[Subject]:
    """Yield each board that is cut here."""
    for one in folio.pieces:
        for board in cut_here(one):
            names = {"piece": one.ask.file, "layer": str(board.number)}
            record = LayerOf(piece=one, layer=board)
            yield Subject(about=one.name, which=f"layer {board.number}", names=names, record=record)


def window(folio: Folio) -> Iterator[Subject]:
    """Yield each window."""
    asked = folio.job.pieces if folio.plan is not None else tuple(one.ask for one in folio.pieces)
    files = dict(zip((ask.file for ask in asked), print_files(asked), strict=True))
    for one in folio.pieces:
        for name, aperture in zip(files[one.ask.file], one.apertures, strict=True):
            which = aperture.name if len(one.apertures) > 1 else ""
            record = WindowOf(piece=one, aperture=aperture)
            yield Subject(about=one.name, which=which, names={"print": name}, record=record)


def shared_print(folio: Folio) -> Iterator[Subject]:
    """Yield each sheet that holds several prints."""
    from matplan.orders.gangs import gangs

    for gang in gangs(folio.pieces):
        yield Subject(which=gang.file.removeprefix("gang-").replace("-", " "), names={"gang": gang.file}, record=gang)


def stock_sheet(folio: Folio) -> Iterator[Subject]:
    """Yield each sheet of each material that is cut."""
    files = file_names((cutting.material.name for cutting in folio.cuttings), "sheet")
    for cutting, file in zip(folio.cuttings, files, strict=True):
        for number in range(1, len(cutting.layout.sheets) + 1):
            names = {"material": file, "number": str(number)}
            record = SheetOf(cutting=cutting, number=number)
            yield Subject(about=cutting.material.name, which=str(number), names=names, record=record)


def wall(folio: Folio) -> Iterator[Subject]:
    """Yield each wall."""
    for one in folio.walls:
        yield Subject(about=one.name, names={"wall": one.ask.file}, record=one)


# --- the shelf -------------------------------------------------------------------------------------------------------

S, P, F = Form.SVG, Form.PDF, Form.FULL_SIZE

SHELF: Final = (
    Document(
        part="plan",
        title="plan",
        over=job,
        module="book.numbers",
        path="plan",
        forms=(Form.JSON,),
        what="every number, lengths in mm",
    ),
    Document(
        part="order",
        title="order list",
        over=job,
        module="ordering.order_list",
        path="order",
        forms=(P,),
        chapter=Chapter.BUY,
        what="what to buy, what each piece costs, how rails come out of sticks and what drop-outs save",
    ),
    Document(
        part="order",
        title="order list",
        over=job,
        module="ordering.order_rows",
        path="order",
        forms=(Form.CSV,),
        what="what to buy, as rows: the eight columns of the order, then `units,currency,openings,note`",
    ),
    Document(
        part="print",
        title="print sheet",
        over=window,
        module="prints.print_sheet",
        path="print/{print}",
        forms=(S,),
        chapter=Chapter.PRINTS,
        pictured=True,
        what="the sheet with the image on it and the margins for the print dialog; a file for each window where "
        "there are several",
    ),
    Document(
        part="print",
        title="caption insert",
        over=window,
        module="prints.caption_insert",
        path="print/{print}",
        forms=(S, F),
        chapter=Chapter.PRINTS,
        what="the insert of a caption window at full size, with its words and cut marks",
    ),
    Document(
        part="print",
        title="several prints on one sheet",
        over=shared_print,
        module="prints.gang_sheet",
        path="print/{gang}",
        forms=(S,),
        chapter=Chapter.PRINTS,
        bound=False,
        what="several prints on one sheet, where that saves sheets: a proposal beside the single ones",
    ),
    Document(
        part="print",
        title="test strip",
        over=window,
        module="prints.test_strip",
        path="print/{print}-strip",
        forms=(Form.PHOTOS,),
        what="where the paper names a small sheet for it: a part of the print at final size, to judge sharpness and "
        "tone before the large sheet is printed",
    ),
    Document(
        part="print",
        title="prints",
        over=piece,
        module="prints.photo_pages",
        path="print/{piece}",
        forms=(Form.PHOTOS,),
        what="the prints to send to the printer: pages as large as the sheets, the photos in place with their own "
        "pixels and colour profiles, crop marks where the mat hides them",
    ),
    Document(
        part="print",
        title="several prints on one sheet",
        over=shared_print,
        module="prints.shared_pages",
        path="print/{gang}",
        forms=(Form.PHOTOS,),
        what="the same for several prints on one sheet",
    ),
    Document(
        part="sheets",
        title="sheet",
        over=stock_sheet,
        module="stock.sheet_layout",
        path="sheets/{material}-{number}",
        forms=(S,),
        chapter=Chapter.SHEETS,
        what="a stock sheet or drop-out with its parts, numbered cuts and fence settings; lists that find no room "
        "go on in `-2`",
    ),
    Document(
        part="bench-card",
        title="bench card",
        over=job,
        module="cutting.bench_card",
        path="bench-card",
        forms=(S,),
        chapter=Chapter.WINDOWS,
        what="once for the whole pack, what holds for every board: how it lies, how the cutter is set, the signs and "
        "words of the diagrams, sketches of the cuts, cautions",
    ),
    Document(
        part="cut",
        title="cutting diagram",
        over=layer,
        module="cutting.diagram",
        path="cut/{piece}-layer{layer}",
        forms=(S,),
        chapter=Chapter.WINDOWS,
        what="cutting diagram of one board, from the back, mirrored: gauge settings, cut lines in order, start and "
        "stop marks",
    ),
    Document(
        part="template",
        title="template",
        over=piece,
        module="tiled.mat_template",
        path="template/{piece}",
        forms=(F,),
        bound=False,
        chapter=Chapter.WINDOWS,
        what="the mat at full size, seen from the front, on sheets of A4 (Letter in inch jobs) with join marks and "
        "a check ruler; sheets that would show an opening's waste alone are left out",
    ),
    Document(
        part="front",
        title="front view",
        over=piece,
        module="front_view",
        path="front/{piece}",
        forms=(S,),
        chapter=Chapter.ASSEMBLY,
        pictured=True,
        what="as framed, with the photo: what is seen is dimensioned, each window has the letter of its row "
        "in the table",
    ),
    Document(
        part="workshop",
        title="assembly list",
        over=job,
        module="book.assembly_list",
        chapter=Chapter.ASSEMBLY,
    ),
    Document(
        part="wall",
        title="wall view",
        over=wall,
        module="wall.view",
        path="wall/{wall}",
        forms=(S,),
        chapter=Chapter.WALLS,
        what="a wall to scale with its frames, every hook's distance from the left edge and height above the "
        "floor; a table that finds no room goes on in `-2`, the hanging list is in `workshop.pdf`",
    ),
    Document(
        part="wall",
        title="hanging list",
        over=wall,
        module="wall.hanging_list",
        chapter=Chapter.WALLS,
    ),
    Document(
        part="template",
        title="hang template",
        over=piece,
        module="tiled.hang_template",
        path="template/hang-{piece}",
        forms=(F,),
        bound=False,
        chapter=Chapter.WALLS,
        what="a frame's upper edge at full size with its hook holes",
    ),
    Document(
        part="workshop",
        title="workshop",
        over=job,
        module="book.workbook",
        path="workshop",
        forms=(P,),
        what="every document in working order, with contents and bookmarks",
    ),
)
"""Every document of a pack, in the order of work; the workbook last, since it binds the others."""

PARTS: Final = tuple(dict.fromkeys(document.part for document in SHELF))
"""The names of documents that `--only` takes."""


def table() -> Iterator[tuple[str, str]]:
    """Yield each file of a pack and what it is, as README's table says it."""
    for document in SHELF:
        if document.path:
            path = document.path.replace("{", "<").replace("}", ">")
            paths = [f"`{path}.{form.ending}`" for form in document.forms]
            yield ", ".join(dict.fromkeys(paths)), document.what
