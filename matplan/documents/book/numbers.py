"""plan.json: every number of a plan."""

from __future__ import annotations

from matplan.documents.parts.folio import Folio
from matplan.planning import Plan, plan_json


def drawn(_folio: Folio, plan: Plan) -> object:
    """Return the plan as plain values."""
    return plan_json(plan)
