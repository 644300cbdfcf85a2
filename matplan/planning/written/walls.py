"""A hung wall in `plan.json`: lengths from the wall's left edge and up from the floor."""

from __future__ import annotations

from matplan.planning.written.values import Plain, findings, number, size
from matplan.walls.records import HungFrame, SolvedWall


def wall_json(wall: SolvedWall) -> dict[str, Plain]:
    """Return one wall with its frames in hanging order."""
    return {
        "name": wall.name,
        "file": wall.ask.file,
        "size": size(wall.ask.size),
        "eye": number(wall.ask.eye),
        "gap": number(wall.ask.gap),
        "arrange": str(wall.ask.arrange),
        "frames": [_hung(hung) for hung in wall.frames],
        "findings": findings(wall.findings),
    }


def _hung(hung: HungFrame) -> Plain:
    wire = hung.wire
    return {
        "piece": hung.name,
        "copy": hung.copy,
        "left": number(hung.spot.left),
        "bottom": number(hung.spot.bottom),
        "width": number(hung.spot.width),
        "height": number(hung.spot.height),
        "pinned": hung.pinned,
        "hooks": [
            {"left": number(hook.left), "height": number(hook.height), "load_kg": number(hook.load)}
            for hook in hung.hooks
        ],
        "wire": None
        if wire is None
        else {
            "angle_deg": round(wire.angle_deg, 9),
            "tension_n": round(wire.tension_n, 9),
            "length": round(wire.taut, 6),
        },
    }
