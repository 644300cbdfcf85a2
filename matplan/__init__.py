"""matplan plans framed pictures backwards from the frame: mats, prints, drawings to cut by and lists to order by.

    plan = matplan.plan(matplan.read_job("job.toml"))
    matplan.make(plan, "pack")

A `Workshop` keeps what it has solved and a `Darkroom` the pictures that it has made, so that after an edit only the
changed parts are done again; `drawings` are those of one piece without a pack.

Nothing heavy is imported until it is used.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from matplan.faults import CutListError, Fault, JobError, LengthError, MatplanError, PackError
    from matplan.job import parse_job, read_job
    from matplan.job.records import Job
    from matplan.mats.records import SolvedPiece
    from matplan.pack import make
    from matplan.pack.darkroom import Darkroom
    from matplan.pack.single import drawings
    from matplan.planning import Plan, Workshop, plan, plan_json

__version__ = "0.2.0"

__all__ = [
    "CutListError",
    "Darkroom",
    "Fault",
    "Job",
    "JobError",
    "LengthError",
    "MatplanError",
    "PackError",
    "Plan",
    "SolvedPiece",
    "Workshop",
    "__version__",
    "drawings",
    "make",
    "parse_job",
    "plan",
    "plan_json",
    "read_job",
]

_ROOMS = {
    "CutListError": "faults",
    "Darkroom": "pack.darkroom",
    "Fault": "faults",
    "Job": "job.records",
    "JobError": "faults",
    "LengthError": "faults",
    "MatplanError": "faults",
    "PackError": "faults",
    "Plan": "planning",
    "SolvedPiece": "mats.records",
    "Workshop": "planning",
    "drawings": "pack.single",
    "make": "pack",
    "parse_job": "job",
    "plan": "planning",
    "plan_json": "planning",
    "read_job": "job",
}


def __getattr__(name: str) -> object:
    """The library's names, each from its room, which is entered on first use."""
    room = _ROOMS.get(name)
    if room is None:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(f"{__name__}.{room}"), name)
