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
from matplan.job.file.written import HARDWARE_NAME, LENGTH, NAME, OWN_NAME, STEP, TEXT, chosen
from matplan.job.records.piece import Piece
from matplan.job.records.supplies import Frame, Hardware, Material, Paper
from matplan.job.records.walls import Wall
from matplan.job.records.workshop import Climate, Cutter, Rates
from matplan.lengths import Printer, Step, Units

_PLAIN = NamesOf(TableOf(Material, without=("ply", "dropout_trim")), OWN_NAME)


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """A size that looks like another unit's, and the question that it asks; or what is told of an idle key."""

    where: str
    """Its place in the job file."""
    table: str
    """The place of the table that it stands in: a piece, a frame, a wall …"""
    line: int | None
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """A job for matplan: papers, boards and frames, the pieces to frame with them and the walls to hang these on."""

    title: str = key(TEXT, "What stands at the head of each document.", "", like="Harbour light")
    file: str
    """Its path as the user gave it."""
    folder: Path
    """Where relative paths start."""
    units: Units = key(chosen(Units, any_case=True), "What bare numbers are in, and how lengths are printed.", Units.MM)
    step: Step = key(
        STEP,
        "The smallest division that the workshop measures and cuts to: every cut dimension is a whole number of steps.",
        unsaid="1 mm",
        inches="1/16 in",
        like="0.5 mm",
    )
    maker: str = key(TEXT, "Who made the pictures, for the labels on their backs.", "", like="A. Example")
    currency: str = key(
        TEXT, "What prices are in, such as EUR. Amounts are no finer than its smallest coin.", "", like="EUR"
    )
    supplies: tuple[str, ...] = key(
        ListOf(NAME),
        "Supplies files with tables for many jobs, paths from the job's folder. A later file, and the job "
        "last, replaces single keys; sheets and sticks add up.",
        (),
        like=["../workshop.toml"],
    )
    papers: tuple[Paper, ...] = key(
        NamesOf(TableOf(Paper), OWN_NAME), "Papers that the printer takes.", (), name="paper"
    )
    boards: tuple[Material, ...] = key(
        NamesOf(TableOf(Material), OWN_NAME), "Mat boards, for mats and mounts.", (), name="board"
    )
    glazings: tuple[Material, ...] = key(_PLAIN, "What covers the picture: glass or acrylic.", (), name="glazing")
    backings: tuple[Material, ...] = key(
        _PLAIN, "What closes the frame behind: foam board, hardboard or the like.", (), name="backing"
    )
    frames: tuple[Frame, ...] = key(NamesOf(TableOf(Frame), OWN_NAME), "Frames and mouldings.", (), name="frame")
    hardware: tuple[Hardware, ...] = key(
        NamesOf(TableOf(Hardware), HARDWARE_NAME),
        "Small things that frames take, by their names in `matplan sizes hardware`: how they are sold, "
        "what lies ready.",
        (),
    )
    pieces: tuple[Piece, ...] = key(ListOf(TableOf(Piece)), "The pictures to frame, a table each.", (), name="piece")
    walls: tuple[Wall, ...] = key(ListOf(TableOf(Wall)), "The walls to hang them on, a table each.", (), name="wall")
    cutter: Cutter = key(TableOf(Cutter), "The mat cutter on the bench.", Cutter())
    climate: Climate = key(TableOf(Climate), "The air where pieces are made and hang.", Climate())
    rates: Rates = key(
        TableOf(Rates),
        "What work and small things cost, and how a selling price comes from the cost.",
        Rates(),
        name="costs",
    )
    dropout_trim: Fraction | None = key(
        LENGTH,
        "What is taken off each side of every drop-out before smaller mats are cut from it. Default: its "
        "board's thickness.",
        None,
        like="3 mm",
    )

    slips: tuple[Slip, ...] = ()
    idle: tuple[Slip, ...] = ()
    """Keys that change nothing where they stand."""

    def asking(self, faults: Iterable[Fault]) -> Iterator[Fault]:
        """Yield the faults; one that a slip of the unit may explain asks for it, the first of each slip.

        Where a wall's size is such a slip, that stands alone for what does not fit on the wall.
        """
        told: set[Slip] = set()
        sizes = (slip for slip in self.slips if slip.where == f"{slip.table}.size")
        walls = {slip.table: slip for slip in sizes if slip.table.startswith("wall[")}
        for fault in faults:
            wall, _, key = fault.where.partition(".")
            if wall in walls and not key.startswith("hang."):
                if walls[wall] not in told:
                    told.add(walls[wall])
                    yield Fault(line=walls[wall].line, where=walls[wall].where, text=walls[wall].text)
                continue
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
