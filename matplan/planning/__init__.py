"""The use case job → plan in stages, the `Plan` record and its JSON. It must not know drawings.

`Workshop` keeps what it has solved, cut and hung; `plan(job)` is one plan of a job in a workshop of its own.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from matplan.planning.record import Plan, Stock
from matplan.planning.workshop import Workshop, plan

if TYPE_CHECKING:
    from matplan.planning.written.document import plan_json

__all__ = ["Plan", "Stock", "Workshop", "plan", "plan_json"]


def __getattr__(name: str) -> object:
    """The writing of `plan.json`, once it is asked for."""
    if name != "plan_json":
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from matplan.planning.written.document import plan_json

    return plan_json
