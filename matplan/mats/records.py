"""What the engine finds: one piece with every dimension closed, as frozen records.

All lengths are exact millimetres. Boxes lie in the blank's own frame of reference: x to the right and y down from its
top left corner, seen from the front.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import TYPE_CHECKING

from matplan.catalogue import ReadyCut, Status
from matplan.job.records import (
    ApertureAsk,
    Cut,
    Frame,
    Included,
    LayerAsk,
    Material,
    MatSupply,
    Paper,
    Piece,
    Shape,
    Show,
)
from matplan.lengths import ZERO, Box, Sides, Size
from matplan.mats.outlines import Outline
from matplan.mats.shapes.roots import root

if TYPE_CHECKING:
    from matplan.sums import Sum


class Level(StrEnum):
    """How much a finding matters: a `warning` wants a decision, a `note` is worth knowing."""

    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """Something about a solved piece that its maker should know. `where` names the aperture or part it is about."""

    level: Level
    code: str
    where: str
    text: str


def warning(code: str, where: str, text: str) -> Finding:
    """Return a finding that wants a decision."""
    return Finding(level=Level.WARNING, code=code, where=where, text=text)


def note(code: str, where: str, text: str) -> Finding:
    """Return a finding that is worth knowing."""
    return Finding(level=Level.NOTE, code=code, where=where, text=text)


@dataclass(frozen=True, slots=True, kw_only=True)
class SolvedFrame:
    """The frame round the blank. `outer` and `long_edges` are `None` if the moulding's face is not known."""

    ask: Frame
    rabbet: Size
    sight: Size
    outer: Size | None
    long_edges: Size | None
    """The rails, long point to long point: top and bottom (width) and sides (height)."""

    @property
    def made_to_measure(self) -> bool:
        """Whether the frame is built for this piece."""
        return not self.ask.ready_made


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerOpening:
    """One opening of one board: the cut line on the board's back follows `back`, its front shows `face`."""

    aperture: str
    shape: Shape
    back: Outline
    face: Outline


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One board of the mat, numbered from 1 next to the glazing. `setback` is the cutter's own."""

    number: int
    ask: LayerAsk
    openings: tuple[LayerOpening, ...]
    setback: Fraction = ZERO

    @property
    def bevel(self) -> Fraction:
        """How far a bevel runs past a square corner to be through at the face; zero for any other cut."""
        return self.board.thickness if self.cut is Cut.BEVEL else ZERO

    @property
    def overcut(self) -> Fraction:
        """How far past a marked square corner the blade must run."""
        return self.bevel + self.setback

    @property
    def board(self) -> Material:
        return self.ask.board

    @property
    def cut(self) -> Cut:
        return self.ask.cut


@dataclass(frozen=True, slots=True, kw_only=True)
class Print:
    """The image on its sheet as the print dialog lays it: left + image width + right = paper width.

    `paper` is `None` for a sheet that is cut to the image or the blank. `turned`: the sheet lies the other way than the
    paper's size is named. `unreachable` is what the printer cannot print on, turned with the sheet.
    """

    paper: Paper | None
    size: Size
    turned: bool
    margins: Sides
    unreachable: Sides

    @property
    def orientation(self) -> str:
        """How the print dialog calls the way the sheet lies: `portrait` or `landscape`."""
        return self.size.orientation

    def image_box(self, image: Size) -> Box:
        """Return where an image of that size lies, from the sheet's top left corner."""
        return Box.of(image, self.margins.left, self.margins.top)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pixels:
    """Pixels: the photo `have`s them as seen, `used` lie within the crop, image × ppi `want`s them; `ppi` is the
    print's.
    """

    have: tuple[int, int] | None
    used: tuple[int, int] | None
    want: tuple[int, int]
    wanted_ppi: Fraction
    ppi: Fraction | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SolvedAperture:
    """One window. `opening` is the clear opening; `overlap`, `reveal` or `gap`, whichever applies, is the true one."""

    ask: ApertureAsk
    opening: Box
    outline: Outline
    seen: Outline
    """What the eye sees of it: the clear opening, or the smaller face of a reverse cut."""
    work: Outline
    """The edge of what the window shows, the image's or a floated sheet's; of the window's shape where it does
    not cover it.
    """
    visible: Sides
    cut: Sides
    overlap: Sides | None
    reveal: Sides | None
    gap: Sides | None
    image: Box
    crop: Box | None
    """The part of the photo that is printed, as fractions of its width and height; `None` for all of it."""
    print: Print | None
    pixels: Pixels

    @property
    def name(self) -> str:
        return self.ask.name

    @property
    def show(self) -> Show:
        return self.ask.show

    @property
    def matted(self) -> bool:
        """Whether a mat's window lies in front of it."""
        return any(edges is not None for edges in (self.overlap, self.reveal, self.gap))


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """One part of the stack. `mass` in kg, `None` if it is not known; `material` is `None` for a spacer and a lift."""

    part: str
    material: Material | None
    thickness: Fraction
    mass: Fraction | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """Everything that lies in the rabbet. `fits` is `None` if the rabbet's depth is not known."""

    parts: tuple[Part, ...]
    thickness: Fraction
    depth: Fraction | None
    fits: bool | None


class Bound(StrEnum):
    """What a budget asks."""

    EDGE_SHOWS = "edge shows"
    BLANK_BINDS = "blank binds"
    GLAZING_BINDS = "glazing binds"


@dataclass(frozen=True, slots=True)
class Spend:
    """What may take a part of a slack, how much, and how far its source is to be trusted."""

    of: str
    amount: Fraction
    status: Status


@dataclass(frozen=True, slots=True, kw_only=True)
class Budget:
    """A slack and what may spend it. `aperture` is "" for blank and glazing, whose `side` is width or height."""

    what: Bound
    aperture: str
    side: str
    slack: Fraction
    spends: tuple[Spend, ...]

    @property
    def worst(self) -> Fraction:
        """What is left where everything comes at once."""
        return self.slack - sum((spend.amount for spend in self.spends), ZERO)

    @property
    def is_short(self) -> bool:
        """Whether less than nothing is likely to be left; exact, without the root."""
        return self.slack < 0 or self.slack**2 < self._squares

    @property
    def likely(self) -> Fraction:
        """What is likely to be left, within a part in 10¹²."""
        return self.slack - root(self._squares)

    @property
    def _squares(self) -> Fraction:
        return sum((spend.amount**2 for spend in self.spends), ZERO)


@dataclass(frozen=True, slots=True, kw_only=True)
class SolvedPiece:
    """One piece, solved. `hidden` is the strip under the lip on each side: width for left and right, height for top and
    bottom.
    """

    ask: Piece
    frame: SolvedFrame
    blank: Size
    hidden: Size
    layers: tuple[Layer, ...]
    ready_cut: ReadyCut | None = None
    """The standard mat that the layer is bought as; `None` for a mat that is cut for the piece."""
    apertures: tuple[SolvedAperture, ...]
    web: Fraction | None
    """The narrowest web of the front layer; `None` without a mat."""
    stack: Stack
    mass: Fraction
    frame_mass: Fraction | None
    odd_sides: tuple[str, ...] = ()
    """The sides, of right and bottom, that are wider where equal borders would need half a step."""
    budgets: tuple[Budget, ...] = ()
    findings: tuple[Finding, ...]
    sums: tuple[Sum, ...]

    @property
    def name(self) -> str:
        return self.ask.name

    @property
    def comes_cut(self) -> bool:
        """Whether the mat comes with its window: a ready-cut mat, or one that is there already."""
        return self.ready_cut is not None or self.ask.mat_supply is MatSupply.OWN

    @property
    def cut_elsewhere(self) -> bool:
        """Whether nobody here cuts the mat: it comes cut, or the job says that a supplier cuts it to size."""
        return self.comes_cut or (self.ask.mat_supply is MatSupply.TO_SIZE and self.ask.says("mat_supply"))

    @property
    def brings(self) -> frozenset[Included]:
        """The parts that come with the frame: in the stack, and neither ordered nor cut."""
        return frozenset(self.ask.frame.includes)

    @property
    def sight_box(self) -> Box:
        """The sight, in the blank's frame of reference."""
        return Box(self.hidden.width, self.hidden.height, self.frame.sight.width, self.frame.sight.height)
