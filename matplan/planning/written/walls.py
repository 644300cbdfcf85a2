"""A hung wall in `plan.json`: lengths from the wall's left edge and up from the floor."""

from __future__ import annotations

from matplan.job.records import ByCleat, ByWire, Group, Hang
from matplan.lengths import Units
from matplan.planning.written.values import Plain, findings, number, size
from matplan.walls.hanging import anchor_depth, cleat_width, drop_of, wire_to_cut
from matplan.walls.records import HungFrame, SolvedWall, Spot
from matplan.walls.work import Mark, marks


def wall_json(wall: SolvedWall, units: Units) -> dict[str, Plain]:
    """Return one wall with its frames in hanging order; hooks carry their numbers in the order of work."""
    by_frame: dict[tuple[str, int], list[Mark]] = {}
    for mark in marks(wall):
        by_frame.setdefault((mark.hung.name, mark.hung.copy), []).append(mark)
    return {
        "name": wall.name,
        "file": wall.ask.file,
        "size": size(wall.ask.size),
        "eye": number(wall.ask.eye),
        "gap": number(wall.ask.gap),
        "arrange": str(wall.ask.arrange),
        "groups": [_group(group) for group in wall.ask.flows],
        "frames": [_hung(hung, by_frame[hung.name, hung.copy], wall, units) for hung in wall.frames],
        "findings": findings(wall.findings),
    }


def _group(group: Group) -> Plain:
    zone = group.zone
    return {
        "arrange": str(group.arrange),
        "eye": number(group.eye) if group.top is None and group.base is None else None,
        "top": number(group.top),
        "base": number(group.base),
        "gap": number(group.gap),
        "middle": number(group.middle),
        "zone": {side: number(getattr(zone, side)) for side in ("left", "right", "bottom", "top")},
    }


def _hung(hung: HungFrame, hooks: list[Mark], wall: SolvedWall, units: Units) -> Plain:
    hang = wall.ask.hang
    return {
        "piece": hung.name,
        "copy": hung.copy,
        "left": number(hung.spot.left),
        "bottom": number(hung.spot.bottom),
        "width": number(hung.spot.width),
        "height": number(hung.spot.height),
        "pinned": hung.pinned,
        "group": wall.ask.flows.index(hung.group) + 1,
        "drop": number(drop_of(hang, hung.frame)),
        "cleat": number(cleat_width(hang, hung.frame)) if isinstance(hang, ByCleat) else None,
        "hooks": [_hook(mark, wall) for mark in hooks],
        "wire": _wire(hung, hang, units),
        "label": _box(hung.label),
    }


def _box(spot: Spot | None) -> Plain:
    """Return left, bottom, width and height."""
    return None if spot is None else [number(side) for side in (spot.left, spot.bottom, spot.width, spot.height)]


def _hook(mark: Mark, wall: SolvedWall) -> Plain:
    return {
        "number": mark.number,
        "left": number(mark.hook.left),
        "height": number(mark.hook.height),
        "above_floor": number(wall.above_floor(mark.hook.left, mark.hook.height)),
        "nail": number(mark.hook.height + wall.ask.hang.hook_rise),
        "from_right": number(mark.from_right),
        "across": number(mark.across),
        "up": number(mark.up),
        "load_kg": number(mark.hook.load),
    }


def _wire(hung: HungFrame, hang: Hang, units: Units) -> Plain:
    wire = hung.wire
    if wire is None or not isinstance(hang, ByWire):
        return None
    return {
        "angle_deg": round(wire.angle_deg, 9),
        "tension_n": round(wire.tension_n, 9),
        "length": round(wire.taut, 6),
        "anchor_depth": number(anchor_depth(hang, hung.frame)),
        "to_cut": number(wire_to_cut(wire, units)),
    }
