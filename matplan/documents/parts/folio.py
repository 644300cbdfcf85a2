"""What documents are drawn from: the job, what was chosen of it, and pictures at hand."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, Protocol

from matplan.documents.parts.pictures import Picture, PictureKey, Pictures
from matplan.drawing.sheet import Sheet
from matplan.job.records import Job
from matplan.mats.records import Layer, SolvedAperture, SolvedPiece
from matplan.orders.cutting import Cutting
from matplan.planning import Plan
from matplan.walls.records import SolvedWall

type Corners = Sequence[tuple[Fraction, Fraction]]
type Sizes = Mapping[PictureKey, tuple[float, float]]
"""How large pictures are drawn, in mm of paper."""


class Album(Protocol):
    """Makes pictures at hand smaller or lays them on their side."""

    def smaller(self, pictures: Pictures, sizes: Sizes) -> Pictures:
        """Return the pictures that `sizes` name, for drawings that show them no larger."""

    def widest_tones(self, picture: Picture, part: tuple[Fraction, Fraction]) -> tuple[Fraction, Fraction]:
        """Return the middle of the part, in fractions of the picture, with the widest range of tones."""

    def turned(self, pictures: Pictures, keys: Iterable[PictureKey]) -> Pictures:
        """Return the pictures of these keys, turned a quarter to the left."""

    def in_perspective(
        self, picture: bytes, corners: Corners, within: tuple[int, int], part: float
    ) -> tuple[bytes, tuple[int, int, int, int]]:
        """Return a picture whose corners come to lie there, and the upright box that it fills: x, y, width, height.

        Corners run clockwise from the upper left; of the box there is what lies in a photograph of the size `within`.
        The result has `part` of a pixel for each of the photograph's.
        """


@dataclass(frozen=True, slots=True, kw_only=True)
class Bound:
    """A document in the workbook: its chapter, whom it is about ("" for the job), what it is, and its sheets.

    A document at full size has no sheets here, but the `file` that is printed instead; `file` is "" where none is
    written. `record` is what it is drawn from.
    """

    chapter: str
    about: str
    title: str
    sheets: tuple[Sheet, ...] = ()
    file: str = ""
    record: Any = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Folio:
    """What documents are drawn from. `plan` is None where one piece is drawn by itself.

    `pieces` and `walls` are those chosen; `bound` gives the workbook's documents in their order.
    """

    job: Job
    pieces: tuple[SolvedPiece, ...]
    walls: tuple[SolvedWall, ...] = ()
    plan: Plan | None = None
    pictures: Pictures = field(default_factory=dict)
    album: Album | None = None
    bound: Callable[[], Sequence[Bound]] = tuple
    laid: dict[Hashable, Any] = field(default_factory=dict, compare=False, repr=False)
    """What documents have laid out, for their second use; folios that are made from this one share it."""

    def once[T](self, key: Hashable, lay: Callable[[], T]) -> T:
        """Return what `lay` lays out, which is asked once for each key."""
        if key not in self.laid:
            self.laid[key] = lay()
        found: T = self.laid[key]
        return found

    @property
    def cuttings(self) -> tuple[Cutting, ...]:
        """The materials that are cut from sheets."""
        return () if self.plan is None else self.plan.cuttings

    def smaller(self, sizes: Sizes) -> Pictures:
        """Return the pictures at hand that `sizes` name, no larger than a drawing shows them."""
        return self.pictures if self.album is None else self.album.smaller(self.pictures, sizes)

    def widest_tones(self, key: PictureKey, part: tuple[Fraction, Fraction]) -> tuple[Fraction, Fraction]:
        """Return where a part of the picture has the deepest and the brightest tones: its middle, in fractions of the
        picture; the picture's own middle where it is not at hand.
        """
        picture = self.pictures.get(key)
        if self.album is None or picture is None:
            return Fraction(1, 2), Fraction(1, 2)
        return self.album.widest_tones(picture, part)

    def turned(self, keys: Iterable[PictureKey]) -> Pictures:
        """Return the pictures of these keys that are at hand, turned a quarter to the left."""
        return {} if self.album is None else self.album.turned(self.pictures, keys)


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerOf:
    """A board of a piece that is cut here."""

    piece: SolvedPiece
    layer: Layer


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardsOf:
    """All boards of a piece that has several, and that are cut here."""

    piece: SolvedPiece


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowOf:
    """A window of a piece."""

    piece: SolvedPiece
    aperture: SolvedAperture


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetOf:
    """The sheet with this number, from 1, of a material that is cut."""

    cutting: Cutting
    number: int


def cut_here(piece: SolvedPiece) -> tuple[Layer, ...]:
    """Return the boards that somebody here cuts by a drawing: none of a mat that a supplier cuts, or that is there."""
    return () if piece.cut_elsewhere else piece.layers
