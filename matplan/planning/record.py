"""A solved job, and how it comes about."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from matplan.faults import Fault, JobError
from matplan.job.records import Hang, Job, Piece, Wall
from matplan.mats.records import SolvedPiece
from matplan.mats.solve import solve
from matplan.mats.windows import Unsolvable
from matplan.orders.costs import Costs, costs_of
from matplan.orders.cutting import Cutting, Rack
from matplan.orders.lines import order_list, own_lines
from matplan.orders.records import OrderLine
from matplan.planning.cutting import cuttings, racks
from matplan.walls.records import SolvedWall, Unhangable


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Everything that a workshop needs to know of a job."""

    job: Job
    pieces: tuple[SolvedPiece, ...]
    order: tuple[OrderLine, ...]
    walls: tuple[SolvedWall, ...] = ()
    cuttings: tuple[Cutting, ...] = ()
    racks: tuple[Rack, ...] = ()
    costs: Costs


def plan(job: Job) -> Plan:
    """The plan of a job. Raises `JobError` with the faults of every piece that cannot be solved and every wall that
    cannot be hung.

    Time grows with the pieces; a cluster of many frames takes seconds.
    """
    solved: dict[int, SolvedPiece] = {}
    faults: list[Fault] = []
    for number, piece in enumerate(job.pieces):
        try:
            solved[number] = solve(piece, printer=job.printer, setback=job.cutter_setback)
        except Unsolvable as error:
            faults.append(fault_of(piece, error))
    walls = tuple(_hung(job, solved, faults))
    pieces = tuple(solved.values())
    sheets, sticks = tuple(cuttings(job, pieces, faults)), tuple(racks(job, pieces, faults))
    if faults:
        raise JobError(faults, file=job.file)
    own = own_lines(pieces, rates=job.rates, hung=_hangs(job), racks=sticks)
    order = order_list(own, cuttings=sheets, racks=sticks)
    costs = costs_of(pieces, own, order, sheets, sticks, job.rates)
    return Plan(job=job, pieces=pieces, order=order, walls=walls, cuttings=sheets, racks=sticks, costs=costs)


def _hangs(job: Job) -> dict[str, Hang]:
    """How each piece hangs that a wall names, by its name; the first wall counts."""
    found: dict[str, Hang] = {}
    for wall in job.walls:
        for index, _ in wall.hung:
            found.setdefault(job.pieces[index].name, wall.hang)
    return found


def _hung(job: Job, pieces: Mapping[int, SolvedPiece], faults: list[Fault]) -> Iterator[SolvedWall]:
    """The walls all of whose pieces are solved; what is wrong with them joins the faults."""
    for wall in job.walls:
        if not all(index in pieces for index, _ in wall.hung):
            continue
        from matplan.walls.hang import hang_wall

        try:
            yield hang_wall(wall, pieces, job.printer)
        except Unhangable as error:
            faults.extend(faults_of(wall, error))


def fault_of(piece: Piece, error: Unsolvable) -> Fault:
    """A piece's error at its place in the job file."""
    place = ".".join(part for part in (piece.place, error.where) if part)
    return Fault(line=piece.line_of(error.where), where=place, text=f"{piece.name}: {error.text}")


def faults_of(wall: Wall, error: Unhangable) -> Iterator[Fault]:
    """A wall's problems at their places in the job file."""
    for problem in error.problems:
        place = ".".join(part for part in (wall.place, problem.where) if part)
        yield Fault(line=wall.line_of(problem.where), where=place, text=f"{wall.name}: {problem.text}")
