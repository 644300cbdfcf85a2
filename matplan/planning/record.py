"""A solved job, and how it comes about."""

from __future__ import annotations

from dataclasses import dataclass

from matplan.faults import Fault, JobError
from matplan.job.records import Job, Piece
from matplan.mats.records import SolvedPiece
from matplan.mats.solve import solve
from matplan.mats.windows import Unsolvable
from matplan.orders.lines import OrderLine, order_list


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Everything that a workshop needs to know of a job."""

    job: Job
    pieces: tuple[SolvedPiece, ...]
    order: tuple[OrderLine, ...]


def plan(job: Job) -> Plan:
    """The plan of a job. Raises `JobError` with the faults of every piece that cannot be solved. Time grows with the pieces."""
    solved: list[SolvedPiece] = []
    faults: list[Fault] = []
    for piece in job.pieces:
        try:
            solved.append(solve(piece, printer=job.printer, setback=job.cutter_setback))
        except Unsolvable as error:
            faults.append(fault_of(piece, error))
    if faults:
        raise JobError(faults, file=job.file)
    return Plan(job=job, pieces=tuple(solved), order=order_list(solved))


def fault_of(piece: Piece, error: Unsolvable) -> Fault:
    """A piece's error at its place in the job file."""
    place = ".".join(part for part in (piece.place, error.where) if part)
    return Fault(line=piece.line, where=place, text=f"{piece.name}: {error.text}")
