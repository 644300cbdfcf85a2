"""The records of planning: what is cut from stock, and the plan of a whole job."""

from __future__ import annotations

from dataclasses import dataclass

from matplan.faults import Fault
from matplan.job.records import Job
from matplan.mats.records import Finding, SolvedPiece
from matplan.orders.costs import Costs
from matplan.orders.cutting import Cutting, Rack
from matplan.orders.records import OrderLine
from matplan.walls.records import SolvedWall


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """What a job cuts from stock: `cuttings` from sheets, a material each, and `racks` from sticks, a moulding each."""

    cuttings: tuple[Cutting, ...] = ()
    racks: tuple[Rack, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Drafted:
    """A job as far as it needs no search for sheets: its sound pieces and walls, and every fault so far."""

    job: Job
    pieces: tuple[SolvedPiece, ...]
    walls: tuple[SolvedWall, ...]
    faults: tuple[Fault, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Everything that a workshop needs to know of a job. `findings` are those that concern the job as a whole."""

    job: Job
    pieces: tuple[SolvedPiece, ...]
    order: tuple[OrderLine, ...]
    at_hand: tuple[OrderLine, ...] = ()
    """What lies ready and is used, which is not ordered."""
    walls: tuple[SolvedWall, ...] = ()
    cuttings: tuple[Cutting, ...] = ()
    racks: tuple[Rack, ...] = ()
    costs: Costs
    findings: tuple[Finding, ...] = ()
