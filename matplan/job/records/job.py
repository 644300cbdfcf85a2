"""The whole job, and what of it could be read."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

from matplan.faults import Fault, JobError
from matplan.job.file.kinds import ListOf, NamesOf, TableOf
from matplan.job.file.lines import place_text
from matplan.job.file.table import key
from matplan.job.file.written import HARDWARE_NAME, LENGTH, NAME, OWN_NAME, STEP, TEXT, TITLE, chosen
from matplan.job.records.piece import Piece
from matplan.job.records.supplies import Climate, Cutter, Frame, Hardware, Material, Paper, Rates
from matplan.job.records.walls import Wall
from matplan.lengths import Printer, Step, Units

_PLAIN = NamesOf(TableOf(Material, without=("ply", "dropout_trim")), OWN_NAME)


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """A size that looks like another unit's, and the question that it asks."""

    where: str
    """Its place in the job file."""
    table: str
    """The place of the table that it stands in: a piece, a frame, a wall …"""
    line: int | None
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A job for matplan: papers, boards and frames, the pieces to frame with them and the walls to hang these on."""

    title: str = key(TITLE, "What stands at the head of each document.", "")
    file: str
    """Its path as the user gave it."""
    folder: Path
    """Where relative paths start."""
    units: Units = key(chosen(Units, any_case=True), "What bare numbers are in, and how lengths are printed.", Units.MM)
    step: Step = key(STEP, "The smallest division that the workshop cuts to.", unsaid="1 mm", inches="1/16 in")
    maker: str = key(TEXT, "Who made the pictures, for the labels on their backs.", "")
    currency: str = key(TEXT, "What prices are in, for the documents.", "")
    supplies: tuple[str, ...] = key(
        ListOf(NAME), "Files with tables for many jobs, from the job's folder: later ones and the job replace keys.", ()
    )
    papers: tuple[Paper, ...] = key(
        NamesOf(TableOf(Paper), OWN_NAME), "Papers that the printer takes.", (), name="paper"
    )
    boards: tuple[Material, ...] = key(NamesOf(TableOf(Material), OWN_NAME), "Mat boards.", (), name="board")
    glazings: tuple[Material, ...] = key(_PLAIN, "Glazing.", (), name="glazing")
    backings: tuple[Material, ...] = key(_PLAIN, "Backing.", (), name="backing")
    frames: tuple[Frame, ...] = key(NamesOf(TableOf(Frame), OWN_NAME), "Frames and mouldings.", (), name="frame")
    hardware: tuple[Hardware, ...] = key(
        NamesOf(TableOf(Hardware), HARDWARE_NAME), "Small things, by their names in `matplan sizes hardware`.", ()
    )
    pieces: tuple[Piece, ...] = key(ListOf(TableOf(Piece)), "The pieces.", (), name="piece")
    walls: tuple[Wall, ...] = key(ListOf(TableOf(Wall)), "The walls.", (), name="wall")
    cutter: Cutter = key(TableOf(Cutter), "The mat cutter on the bench.", Cutter())
    climate: Climate = key(TableOf(Climate), "The air where pieces are made and hang.", Climate())
    rates: Rates = key(TableOf(Rates), "What work and small things cost.", Rates(), name="costs")
    dropout_trim: Fraction | None = key(
        LENGTH, "What is taken off each side of every drop-out. Default: its board's thickness.", None
    )

    slips: tuple[Slip, ...] = ()

    def asking(self, faults: Iterable[Fault]) -> Iterator[Fault]:
        """Yield the faults; one that a slip of the unit may explain asks for it, the first of each slip."""
        told: set[Slip] = set()
        for fault in faults:
            tables = {fault.where.split(".")[0], ".".join(fault.where.split(".")[:2])}
            for piece in self.pieces:
                if piece.place in tables:
                    tables |= {place_text(("frame", piece.frame.name))}
                    tables |= {place_text(("paper", ask.paper.name)) for ask in piece.apertures if ask.paper}
            found = [slip for slip in self.slips if slip.table in tables and slip not in told]
            told.update(found)
            asked = (slip.text if slip.where == fault.where else f"{slip.where}: {slip.text}" for slip in found)
            yield replace(fault, text="; ".join((fault.text, *asked)))

    @property
    def materials(self) -> tuple[Material, ...]:
        """The job's own boards, glazing and backing."""
        return (*self.boards, *self.glazings, *self.backings)

    @property
    def printer(self) -> Printer:
        """How this job prints its lengths."""
        return Printer(self.units, self.step)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A job as far as it can be read, and every fault of its text.

    `job` holds the pieces without a fault, neither in themselves nor in what they name, and the walls of such pieces.
    """

    job: Job
    faults: tuple[Fault, ...] = ()

    def whole(self) -> Job:
        """Return the job. Raises `JobError` if there is a fault."""
        if self.faults:
            raise JobError(self.faults, file=self.job.file)
        return self.job
