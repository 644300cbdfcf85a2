"""One piece being solved: what every stage needs to know of it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from matplan.catalogue import ReadyCut
from matplan.job.records import ApertureAsk, BorderTo, Climate, Piece
from matplan.lengths import ZERO, Printer, Size, Step
from matplan.mats.block import Block
from matplan.mats.layers import inset, reveals
from matplan.mats.windows import edge
from matplan.sums import Sums

NO_STRIP = Size(ZERO, ZERO)


@dataclass(frozen=True, slots=True, kw_only=True)
class Windows:
    """The images with their clear openings, arranged in one block.

    `front` is what the front layer's opening adds on each side; `standard` is the ready-cut mat that the window is cut
    in, where there is one.
    """

    images: tuple[Size, ...]
    block: Block
    front: Fraction
    standard: ReadyCut | None = None

    @property
    def bordered(self) -> Size:
        """What borders are measured to."""
        return self.block.size.grown(self.front)


class Task:
    """A piece with the job's step, printer and climate, the cutter's setback, and the sums found so far."""

    def __init__(self, piece: Piece, printer: Printer, setback: Fraction, climate: Climate) -> None:
        self.piece, self.printer, self.setback, self.climate = piece, printer, setback, climate
        self.step: Step = printer.step
        self.sums = Sums()
        self.many = len(piece.apertures) > 1
        self.grows = reveals(piece.mat, self.step, self.sums)
        self.front = self.grows[0] if self.grows and piece.border_to is BorderTo.FRONT_LAYER else ZERO
        self.inset = inset(piece.mat, self.grows)
        """How far what the eye sees lies inside the clear opening, on every side."""
        to_front = piece.border_to is BorderTo.FRONT_LAYER
        self.border_inset = inset(piece.mat[:1], (ZERO,)) if piece.mat and to_front else self.inset
        """How far what the eye sees lies inside the opening that borders are measured to."""
        self.gutter = self.step.nearest(piece.gutter) if self.many else ZERO

    def edge(self, ask: ApertureAsk) -> Fraction:
        """Return what the clear opening is larger than what it shows, on each side; without a mat nothing."""
        return edge(ask) + self.inset if self.piece.mat else ZERO

    def key(self, ask: ApertureAsk, key: str) -> str:
        """Return the place of a window's key in the piece, for errors."""
        return f"aperture[{self.piece.apertures.index(ask) + 1}].{key}" if self.many else key

    def about(self, ask: ApertureAsk) -> str:
        """Return the beginning of a message about one window: its name, where there are several."""
        return f"{ask.name}: " if self.many else ""

    def sums_of(self, ask: ApertureAsk) -> Sums:
        """Return the collector that speaks of one window where there are several."""
        return self.sums.about(ask.name) if self.many else self.sums
