"""What is asked and what is answered, as frozen records. Lengths are exact millimetres."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Literal

from matplan.catalogue import ReadyCut
from matplan.faults import MatplanError
from matplan.lengths import Printer, Sides, Size

if TYPE_CHECKING:
    from matplan.job.records import Weight

type Show = Literal["image", "margin", "sheet"]
"""What the opening shows, by the word that the job file uses for it."""


class FitError(MatplanError, ValueError):
    """A question that cannot be asked so, or that nothing answers: one text a fault, each with what is near or would be
    right.
    """


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """The picture: width : height in the lowest terms, and the photo's pixels as seen, None for an aspect alone."""

    aspect: tuple[Fraction, Fraction]
    pixels: tuple[int, int] | None = None
    file: str = ""
    """The photo's file, or the aspect, as it was named."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameChoice:
    """A frame to choose, the way up that it is named: sold for a sheet (`takes`) or measured (`rabbet`); `rail` is its
    face, if known. `have` lie ready; `mat_opening` is the opening of the mat that it comes with.

    `usual` tells whether it is sold where the asker's units are used, `None` where the asker named it.
    """

    name: str
    takes: Size | None = None
    rabbet: Size | None = None
    clearance: Fraction
    lip: Fraction
    rail: Fraction | None = None
    have: int = 0
    mat_opening: Size | None = None
    usual: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnMat:
    """The mat that a frame comes with, the way up that the frame hangs."""

    blank: Size
    opening: Size
    name: str = ""
    """It has none: it is no ready-cut mat of the tables."""


type Mat = ReadyCut | OwnMat
"""A mat that need not be cut."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A paper to choose. `bare` is what the printer cannot reach, as said or as assumed; `usual` as that of a frame."""

    name: str
    size: Size
    bare: Sides
    ppi: Fraction
    usual: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What suits that picture. Left out, `image` is as large as frame and paper allow and `border` follows from each
    frame.

    `border` is the least that the eye shall see; `weight` None is a bottom border like the top. `ppi` None: what each
    paper wants. `any_sheet`: no papers were named, so that the best one for each print is enough.
    """

    subject: Subject
    frames: tuple[FrameChoice, ...]
    sheets: tuple[Sheet, ...]
    any_sheet: bool
    printer: Printer
    image: Size | None = None
    border: Fraction | None = None
    weight: Weight | None = None
    show: Show = "image"
    overlap: Fraction
    reveal: Fraction
    gap: Fraction
    ppi: Fraction | None = None

    @property
    def edge(self) -> Fraction:
        """What the opening is larger than what it shows, on each side; negative where it covers."""
        return {"image": -self.overlap, "margin": self.reveal, "sheet": self.gap}[self.show]


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One answer, solved. `border` is the least that was asked of it, `turned` whether the frame is used turned by a
    quarter.

    `sheet` is None where no paper is large enough and none was named. `spare` is the narrower of what is left of the
    sheet in width and in height. `kept` is the part of the picture that is not cropped, `covered` the part of the print
    that a ready-cut mat covers besides the strip that is usual. `parts` are those of the score, in the order of its
    table.
    """

    frame: FrameChoice
    turned: bool
    blank: Size
    image: Size
    opening: Size
    border: Fraction
    cut: Sides
    visible: Sides
    sheet: Sheet | None
    sheet_turned: bool
    spare: Fraction | None
    ppi: Fraction | None
    wanted_ppi: Fraction
    mat: Mat | None
    standard: str
    """The name of the standard print size that the image has, "" for none."""
    kept: Fraction
    covered: Fraction
    score: float
    parts: tuple[tuple[str, float], ...]

    @property
    def named(self) -> str:
        """The frame's name, and how it hangs where it is not used as it is named: `40x50 cm landscape`."""
        return f"{self.frame.name} {self.blank.orientation}" if self.turned else self.frame.name

    @property
    def printed_on(self) -> str:
        """The paper's name and how it lies in the print dialog: `A3+ landscape`; "" without one."""
        if self.sheet is None:
            return ""
        size = self.sheet.size.turned if self.sheet_turned else self.sheet.size
        return f"{self.sheet.name} {size.orientation}"
