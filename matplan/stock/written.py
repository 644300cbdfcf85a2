"""A layout as the plain values of a JSON document, lengths in mm."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from matplan.lengths import json_number
from matplan.stock.records import LaidSheet, Layout


def layout_json(layout: Layout) -> dict[str, Any]:
    """Return the document of `matplan sheets --json`, and of a job's `cutting`."""
    return {
        "sheets": [sheet_json(sheet) for sheet in layout.sheets],
        "used": layout.used,
        "cost": None if layout.cost is None else json_number(Fraction(layout.cost)),
        "area_used": json_number(layout.area_used),
        "lower_bound": json_number(layout.lower_bound),
        "measure": str(layout.measure),
        "optimal": layout.optimal,
        "unplaced": [{"name": lost.name, "quantity": lost.quantity, "reason": lost.reason} for lost in layout.unplaced],
    }


def sheet_json(sheet: LaidSheet) -> dict[str, Any]:
    """Return one laid sheet with its pieces, its cuts in their order and the offcuts worth keeping."""
    n = json_number
    return {
        "stock": sheet.stock.name,
        "size": [n(sheet.stock.size.width), n(sheet.stock.size.height)],
        "count": sheet.count,
        "pieces": [
            {"name": p.name, "x": n(p.x), "y": n(p.y), "width": n(p.width), "height": n(p.height), "turned": p.turned}
            for p in sheet.pieces
        ],
        "cuts": [[n(cut.x1), n(cut.y1), n(cut.x2), n(cut.y2)] for cut in sheet.cuts],
        "settings": [n(cut.setting) for cut in sheet.cuts],
        "offcuts": [[n(box.x), n(box.y), n(box.width), n(box.height)] for box in sheet.offcuts],
    }
