"""The one use case job → plan, the `Plan` record and its JSON. It must not know drawings.

`plan(job)` solves every piece and gathers what to order; it raises `JobError` with the faults of all pieces at once.
"""

from __future__ import annotations

from matplan.planning.record import Plan, plan
from matplan.planning.written import plan_json

__all__ = ["Plan", "plan", "plan_json"]
