"""What is known of a board before it is laid on paper: its cuts, its windows' letters, its readings and dimensions."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby
from typing import Final, Self

from matplan.documents.cutting.dimensions import chains, wholes
from matplan.documents.cutting.ring import Reading
from matplan.drawing.dimensions import Dimension, Side
from matplan.drawing.items import ModelBox
from matplan.job.records import Job
from matplan.lengths import Printer
from matplan.mats.gauge import Edge, GaugeCut, gauge_cuts, reading_order, window_letters
from matplan.mats.outline_cuts import OutlineCut, outline_cuts
from matplan.mats.records import Layer, SolvedPiece

WASTE: Final = "waste"
"""What becomes of a drop-out that is not kept."""

type Fates = Mapping[str, str]
"""What becomes of drop-outs that are kept, by the aperture's name: `keep: Fog × 2`. All others are waste."""

_ROUND: Final = {Edge.LEFT: Side.ABOVE, Edge.RIGHT: Side.BELOW, Edge.TOP: Side.LEFT, Edge.BOTTOM: Side.RIGHT}
"""Where the cuts along an edge are read on a board whose ring holds the settings."""
_BESIDE_CHAINS: Final = {Edge.LEFT: Side.ABOVE, Edge.RIGHT: Side.ABOVE, Edge.TOP: Side.RIGHT, Edge.BOTTOM: Side.RIGHT}
"""Where they are read on a board whose settings stand in its chains of dimensions, below and at the left."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """One board of a piece. `order` holds the windows' places as one reads them on the board as it lies.

    A board with one window and no slopes has chains of dimensions, which hold the settings; on any other the ring holds
    them.
    """

    job: Job
    piece: SolvedPiece
    layer: Layer
    cuts: tuple[GaugeCut, ...]
    outlines: tuple[OutlineCut, ...]
    order: tuple[int, ...]
    letters: tuple[str, ...]
    """A letter for each window, "" where there is but one."""
    fates: Fates
    chained: bool
    """Whether chains of dimensions hold the settings."""
    readings: tuple[Reading, ...]
    dimensions: tuple[Dimension, ...]

    @classmethod
    def of(cls, job: Job, piece: SolvedPiece, layer: Layer, fates: Fates) -> Self:
        """Return what is known of that layer of the piece."""
        rows = piece.ask.rows
        order = reading_order(rows)
        cuts = gauge_cuts(layer, piece.blank, rows, job.cutter)
        outlines = outline_cuts(layer, order, len(cuts), job.cutter)
        chained = len(order) == 1 and all(cut.round is not None for cut in outlines)
        openings = [opening.back for opening in layer.openings]
        whole = wholes(piece.blank, job.printer)
        return cls(
            job=job,
            piece=piece,
            layer=layer,
            cuts=cuts,
            outlines=outlines,
            order=order,
            letters=window_letters(rows),
            fates=fates,
            chained=chained,
            readings=_readings(cuts, outlines, piece, job.printer, chained=chained),
            dimensions=(*chains(openings[0], piece.blank, job.printer), *whole) if chained else whole,
        )

    @property
    def model(self) -> ModelBox:
        """The blank as a model box."""
        return (Fraction(0), Fraction(0), self.piece.blank.width, self.piece.blank.height)

    @property
    def several(self) -> bool:
        """Whether the board has several windows."""
        return len(self.order) > 1

    def fate(self, window: int) -> str:
        """Return what becomes of a window's drop-out: `keep: Fog × 2`, or `waste`."""
        return self.fates.get(self.layer.openings[window].aperture, WASTE)

    def with_numbers_of(self, windows: Collection[int]) -> Board:
        """Return the board with the readings of these windows alone."""
        cuts = [cut for cut in self.cuts if cut.window in windows]
        outlines = [cut for cut in self.outlines if cut.window in windows]
        return replace(self, readings=_readings(cuts, outlines, self.piece, self.job.printer, chained=False))


def _readings(
    cuts: Sequence[GaugeCut], outlines: Sequence[OutlineCut], piece: SolvedPiece, printer: Printer, *, chained: bool
) -> tuple[Reading, ...]:
    """Return the readings of the cuts, those along one edge at one setting together."""
    found: list[Reading] = []
    for (setting, edge), same in groupby(cuts, key=lambda cut: (cut.setting, cut.edge)):
        found.append(_reading(setting, edge, tuple(same), piece, printer, chained=chained))
    return (*found, *_outline_readings(outlines))


def _reading(
    setting: Fraction, edge: Edge, cuts: Sequence[GaugeCut], piece: SolvedPiece, printer: Printer, *, chained: bool
) -> Reading:
    side = (_BESIDE_CHAINS if chained else _ROUND)[edge]
    axis = 0 if side.across else 1
    ends = [end[1 - axis] for cut in cuts for end in (cut.start, cut.stop)]
    # the plan's right is at the left as the board lies
    nearest = min(ends) if side in (Side.ABOVE, Side.RIGHT) else max(ends)
    zero, blank = Fraction(0), piece.blank
    box = {
        Edge.LEFT: (blank.width - setting, zero, setting, zero),
        Edge.RIGHT: (zero, blank.height, setting, zero),
        Edge.TOP: (blank.width, zero, zero, setting),
        Edge.BOTTOM: (zero, blank.height - setting, zero, setting),
    }[edge]
    return Reading(
        side=side,
        at=cuts[0].start[axis],
        feet=(nearest,),
        numbers=tuple(cut.number for cut in cuts),
        setting="" if chained else printer.number(setting),
        box=None if chained else box,
    )


def _outline_readings(cuts: Sequence[OutlineCut]) -> Iterator[Reading]:
    """Return the readings of cuts that no gauge guides, those whose leaders would be one line together."""
    gathered: dict[tuple[Side, Fraction], list[tuple[Fraction, int]]] = {}
    for cut in cuts:
        side, at, foot = _seen_from(cut)
        gathered.setdefault((side, at), []).append((foot, cut.number))
    for (side, at), found in gathered.items():
        found.sort(reverse=side in (Side.BELOW, Side.LEFT))
        yield Reading(
            side=side,
            at=at,
            feet=tuple(foot for foot, _ in found),
            numbers=tuple(number for _, number in found),
            dotted=True,
        )


def _seen_from(cut: OutlineCut) -> tuple[Side, Fraction, Fraction]:
    """Return the side on which a cut is read, and the point of it that its leader leads to: along, across."""
    if cut.whole:
        return Side.ABOVE, cut.start[0], cut.start[1]
    (x, y), (across, down) = cut.middle
    if abs(across) > abs(down):  # the opening lies that way, so the board's edge the other; left and right as it lies
        return (Side.LEFT if across < 0 else Side.RIGHT), y, x
    return (Side.ABOVE if down > 0 else Side.BELOW), x, y
