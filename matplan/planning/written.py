"""`plan.json`: a plan as plain values, lengths in mm as numbers (schema matplan-plan/1)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction

from matplan.lengths import Box, Sides, Size, json_number
from matplan.mats.outlines import Outline
from matplan.mats.records import Finding, Layer, LayerOpening, Pixels, Print, SolvedAperture, SolvedFrame, SolvedPiece
from matplan.orders.costs import Costs
from matplan.orders.cutting import Rack
from matplan.orders.records import OrderLine
from matplan.planning.record import Plan
from matplan.stock.written import layout_json
from matplan.walls.records import HungFrame, SolvedWall

type Plain = bool | int | float | str | list[Plain] | dict[str, Plain] | None

SCHEMA = "matplan-plan/1"


def number(value: Fraction | None) -> int | float | None:
    """A length for JSON: a whole number where it is one."""
    return None if value is None else json_number(value)


def money(value: Decimal | None) -> int | float | None:
    """An amount for JSON."""
    return None if value is None else number(Fraction(value))


def size(value: Size) -> Plain:
    """`[width, height]`."""
    return [number(value.width), number(value.height)]


def box(value: Box) -> Plain:
    """`[x, y, width, height]`."""
    return [number(value.x), number(value.y), number(value.width), number(value.height)]


def sides(value: Sides | None) -> Plain:
    """The four sides by name."""
    if value is None:
        return None
    return {
        "top": number(value.top),
        "right": number(value.right),
        "bottom": number(value.bottom),
        "left": number(value.left),
    }


def findings(found: Sequence[Finding]) -> Plain:
    """Findings by level, code, place and text."""
    return [{"level": str(f.level), "code": f.code, "where": f.where, "text": f.text} for f in found]


def plan_json(plan: Plan) -> dict[str, Plain]:
    """The whole plan as the document that `plan.json` holds."""
    job = plan.job
    return {
        "schema": SCHEMA,
        "title": job.title,
        "units": str(job.units),
        "step": float(job.step.size),
        "pieces": [_piece(piece) for piece in plan.pieces],
        "order": [_line(line) for line in plan.order],
        "cutting": [
            {"material": cutting.material.name, "kind": str(cutting.material.kind), **layout_json(cutting.layout)}
            for cutting in plan.cuttings
        ],
        "sticks": [entry for rack in plan.racks for entry in _sticks(rack)],
        "walls": [_wall(wall) for wall in plan.walls],
        "costs": _costs(plan.costs, job.currency),
    }


def _sticks(rack: Rack) -> Iterator[Plain]:
    """A moulding's sticks, an entry for each length; the bound and the proof are those of the moulding's rails
    together.
    """
    for kind, count in rack.bought():
        yield {
            "frame": rack.frame.name,
            "length": number(kind.length),
            "count": count,
            "bars": [
                {"rails": [number(rail) for rail in stick.rails]} for stick in rack.sticks.sticks if stick.kind == kind
            ],
            "lower_bound": number(rack.sticks.lower_bound),
            "optimal": rack.sticks.optimal,
        }


def _costs(costs: Costs, currency: str) -> Plain:
    return {
        "currency": currency,
        "total": money(costs.total),
        "ordered": money(costs.ordered),
        "unpriced": list(costs.unpriced),
        "pieces": [
            {
                "name": cost.name,
                "quantity": cost.quantity,
                "total": money(cost.total),
                "each": money(cost.each),
                "selling": money(cost.selling),
                "shares": [{"what": share.what, "amount": money(share.amount)} for share in cost.shares],
            }
            for cost in costs.pieces
        ],
    }


def _piece(piece: SolvedPiece) -> Plain:
    return {
        "name": piece.name,
        "file": piece.ask.file,
        "quantity": piece.ask.quantity,
        "frame": _frame(piece.frame),
        "blank": size(piece.blank),
        "hidden": size(piece.hidden),
        "layers": [_layer(layer) for layer in piece.layers],
        "ready_cut": None if piece.ready_cut is None else piece.ready_cut.name,
        "web": number(piece.web),
        "apertures": [_aperture(aperture) for aperture in piece.apertures],
        "stack": {
            "parts": [
                {
                    "part": p.part,
                    "material": p.material.name,
                    "thickness": number(p.thickness),
                    "mass_kg": number(p.mass),
                }
                for p in piece.stack.parts
            ],
            "thickness": number(piece.stack.thickness),
            "depth": number(piece.stack.depth),
            "fits": piece.stack.fits,
        },
        "mass_kg": number(piece.mass + (piece.frame_mass or 0)),
        "findings": findings(piece.findings),
    }


def _frame(frame: SolvedFrame) -> Plain:
    return {
        "name": frame.ask.name or None,
        "made_to_measure": frame.made_to_measure,
        "rabbet": size(frame.rabbet),
        "sight": size(frame.sight),
        "outer": None if frame.outer is None else size(frame.outer),
        "long_edges": None if frame.long_edges is None else size(frame.long_edges),
        "clearance": number(frame.ask.clearance),
        "lip": number(frame.ask.lip),
        "depth": number(frame.ask.depth),
        "rail": number(frame.ask.rail),
    }


def _layer(layer: Layer) -> Plain:
    return {
        "board": layer.board.name,
        "thickness": number(layer.board.thickness),
        "cut": str(layer.cut),
        "openings": [_opening(opening, layer.overcut) for opening in layer.openings],
    }


def _opening(opening: LayerOpening, overcut: Fraction) -> Plain:
    written: dict[str, Plain] = {
        "aperture": opening.aperture,
        "shape": str(opening.shape),
        "back": box(opening.back.box),
        "face": box(opening.face.box),
        "overcut": number(overcut),
    }
    if not opening.back.upright:
        written["outline"] = {"back": _points(opening.back), "face": _points(opening.face)}
    return written


def _points(line: Outline) -> Plain:
    return [[number(x), number(y)] for x, y in line.points()]


def _aperture(aperture: SolvedAperture) -> Plain:
    return {
        "name": aperture.name,
        "show": str(aperture.show),
        "opening": box(aperture.opening),
        "visible_borders": sides(aperture.visible),
        "cut_borders": sides(aperture.cut),
        "overlap": sides(aperture.overlap),
        "reveal": sides(aperture.reveal),
        "gap": sides(aperture.gap),
        "image": size(aperture.image.size),
        "image_box": box(aperture.image),
        "crop": None if aperture.crop is None else box(aperture.crop),
        "photo": None if aperture.ask.photo is None else aperture.ask.photo.written,
        "text": aperture.ask.text,
        "paper": _print(aperture.print),
        "pixels": _pixels(aperture.pixels),
    }


def _print(made: Print | None) -> Plain:
    if made is None:
        return None
    return {
        "name": None if made.paper is None else made.paper.name,
        "size": size(made.size),
        "turned": made.turned,
        "margins": sides(made.margins),
    }


def _pixels(pixels: Pixels) -> Plain:
    def pair(values: Sequence[int] | None) -> Plain:
        return None if values is None else list(values)

    return {
        "have": pair(pixels.have),
        "used": pair(pixels.used),
        "want": pair(pixels.want),
        "ppi": None if pixels.ppi is None else round(float(pixels.ppi), 3),
    }


def _line(line: OrderLine) -> Plain:
    return {
        "item": str(line.item),
        "material": line.material,
        "size": None if line.size is None else size(line.size),
        "openings": [box(opening) for opening in line.openings],
        "quantity": line.quantity,
        "for": list(line.pieces),
        "unit_price": money(line.unit_price),
        "price": money(line.price),
        "note": line.note,
    }


# --- walls: from the wall's left edge and up from the floor ---


def _wall(wall: SolvedWall) -> Plain:
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
