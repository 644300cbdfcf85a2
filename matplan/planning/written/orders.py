"""What is bought, cut from stock and printed together, and what it costs, in `plan.json`."""

from __future__ import annotations

from collections.abc import Iterator

from matplan.orders.costs import Costs
from matplan.orders.cutting import Cutting, Rack
from matplan.orders.gangs import Gang
from matplan.orders.records import OrderLine
from matplan.planning.written.values import Plain, box, money, number, numbers, sides, size
from matplan.stock.written import layout_json


def line_json(line: OrderLine) -> dict[str, Plain]:
    """Return one line of the order."""
    return {
        "item": str(line.item),
        "material": line.material,
        "size": size(line.size),
        "openings": [box(opening) for opening in line.openings],
        "quantity": float(line.quantity) if line.unit else int(line.quantity),
        "unit": line.unit,
        "for": list(line.pieces),
        "unit_price": money(line.unit_price),
        "price": money(line.price),
        "note": line.note,
        "supplier": line.where,
    }


def cutting_json(cutting: Cutting) -> dict[str, Plain]:
    """Return one material's parts on its sheets."""
    return {"material": cutting.material.name, "kind": str(cutting.material.kind), **layout_json(cutting.layout)}


def sticks_json(rack: Rack) -> Iterator[Plain]:
    """Yield a moulding's sticks, an entry for each length.

    The bound and the proof are those of all that is bought of the moulding.
    """
    for kind, count in rack.used():
        yield {
            "frame": rack.frame.name,
            "length": number(kind.length),
            "count": count,
            "at_hand": min(count, kind.have),
            "bars": [{"rails": numbers(stick.rails)} for stick in rack.sticks.sticks if stick.kind == kind],
            "lower_bound": number(rack.sticks.lower_bound),
            "optimal": rack.sticks.optimal,
        }


def gang_json(gang: Gang) -> dict[str, Plain]:
    """Return one sheet that holds several prints; boxes lie on the sheet, from its top left corner."""
    return {
        "paper": gang.paper.name,
        "file": gang.file,
        "size": size(gang.size),
        "unreachable": sides(gang.unreachable),
        "copies": gang.copies,
        "prints": [
            {
                "piece": lying.piece.name,
                "aperture": lying.aperture.name,
                "box": box(lying.box),
                "image": box(lying.image),
                "turned": lying.turned,
            }
            for lying in gang.prints
        ],
    }


def costs_json(costs: Costs, currency: str) -> dict[str, Plain]:
    """Return what the job and each of its pieces cost."""
    return {
        "currency": currency,
        "total": money(costs.total),
        "ordered": money(costs.ordered),
        "budget": money(costs.budget),
        "left": money(costs.left),
        "unpriced": list(costs.unpriced),
        "pieces": [
            {
                "name": cost.name,
                "quantity": cost.quantity,
                "total": money(cost.total),
                "each": money(cost.each),
                "selling": money(cost.selling),
                "selling_sum": "" if cost.sold is None else cost.sold.in_words(cost.currency),
                "unpriced": list(cost.unpriced),
                "shares": [{"what": share.what, "amount": money(share.amount)} for share in cost.shares],
            }
            for cost in costs.pieces
        ],
    }
