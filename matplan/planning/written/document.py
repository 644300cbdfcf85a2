"""`plan.json`: a plan as plain values, lengths in mm as numbers (schema matplan-plan/1).

Lengths are exact to 1e-6; x runs to the right and y down from the blank's top left corner, seen from the front.
"""

from __future__ import annotations

from matplan.job.records import Job
from matplan.orders.at_hand import frames_at_hand
from matplan.orders.gangs import gangs
from matplan.planning.record import Drafted, Plan
from matplan.planning.written.orders import costs_json, cutting_json, gang_json, line_json, sticks_json
from matplan.planning.written.pieces import piece_json
from matplan.planning.written.values import Plain, findings
from matplan.planning.written.walls import wall_json

SCHEMA = "matplan-plan/1"


def plan_json(plan: Plan) -> dict[str, Plain]:
    """Return the whole plan as the document that `plan.json` holds."""
    job, ready = plan.job, frames_at_hand(plan.job.pieces)
    return {
        **_head(job),
        "pieces": [piece_json(piece, job.cutter, ready[piece.name]) for piece in plan.pieces],
        "order": [line_json(line) for line in plan.order],
        "at_hand": [line_json(line) for line in plan.at_hand],
        "cutting": [cutting_json(cutting) for cutting in plan.cuttings],
        "sticks": [entry for rack in plan.racks for entry in sticks_json(rack)],
        "gangs": [gang_json(gang) for gang in gangs(plan.pieces)],
        "walls": [wall_json(wall, job.units) for wall in plan.walls],
        "findings": findings(plan.findings),
        "costs": costs_json(plan.costs, job.currency),
    }


def draft_json(drafted: Drafted) -> dict[str, Plain]:
    """Return what of the plan is known before sheets are searched, but for its pieces, with the keys of `plan.json`."""
    job = drafted.job
    return {**_head(job), "walls": [wall_json(wall, job.units) for wall in drafted.walls]}


def _head(job: Job) -> dict[str, Plain]:
    return {"schema": SCHEMA, "title": job.title, "units": str(job.units), "step": float(job.step.size)}
