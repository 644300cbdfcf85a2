"""What a document of the pack is: its record on the shelf, its form and what it is about."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from importlib import import_module
from typing import Any, Final

from matplan.documents.parts.folio import Folio
from matplan.documents.parts.mark import marked
from matplan.documents.parts.pictures import PictureKey
from matplan.drawing.sheet import Sheet

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


class Kit(StrEnum):
    """What one person needs of a pack, as `--only` names it besides the parts; `print` is a part and a kit."""

    SHOP = "shop"
    """Who buys."""
    BENCH = "bench"
    """Who cuts sheets and windows, and puts the pieces together."""
    SAW = "saw"
    """Who saws rails."""
    PRINT = "print"
    """Who prints."""
    WALL = "wall"
    """Who hangs."""


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
    TOML = "toml"
    """Text that a job file reads."""
    JSON = "json"
    """Plain values."""
    DXF = "dxf"
    """A board for a computerised cutter, as DXF."""
    MACHINE_SVG = "machine svg"
    """A board for a computerised cutter, as SVG."""

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

    `part` is its name for `--only`, as is the `kit` that it belongs to; `module` its module below `documents`, `path`
    its file without an ending ("" for a document that stands in the workbook alone), `chapter` where the workbook binds
    it, or lists its file where it is not `bound`, `instead` the title of the subject's documents whose place it takes
    there where it is drawn; `pictured` says that it shows photos, `machine` that it is
    written where a form of it is asked for, and no other time. `what` is the line about it for readers.
    """

    part: str
    kit: Kit | None = None
    title: str
    over: Over
    module: str
    path: str = ""
    forms: tuple[Form, ...] = ()
    chapter: Chapter | None = None
    bound: bool = True
    instead: str = ""
    pictured: bool = False
    machine: bool = False
    what: str = ""

    def among(self, names: Collection[str]) -> bool:
        """Return whether one of the names chooses it: that of its part or of its kit."""
        return self.part in names or self.kit in names

    def draw(self, folio: Folio, subject: Subject) -> Any:
        """Return the subject's document, in what its forms ask for; empty where it does not apply."""
        found = import_module(f"{PACKAGE}.{self.module}").drawn(folio, subject.record)
        if type(found) is not tuple:
            return found
        about = self.what[:1].upper() + self.what.partition(";")[0][1:]
        return tuple(replace(marked(one), about=about) if isinstance(one, Sheet) else one for one in found)

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
