"""leftovers.toml: what lies on the shelf when the job is done, as a supplies file that the next job names.

Lengths are exact millimetres; tables and sizes stand in one order, so that the same job gives the same bytes. A table
has what the job says of its material besides, so that the file serves alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from typing import Any

from matplan.documents.parts.folio import Folio
from matplan.habits import habits_of
from matplan.job.records import Frame, Hardware, Job, Material, Paper
from matplan.lengths import Size, plain_decimal
from matplan.orders.leftovers import Leftovers, leftovers
from matplan.planning import Plan

HEAD = (
    "What lies on the shelf when this job is done: a later job uses it first, at no cost, with a line like",
    'supplies = ["pack/leftovers.toml"]',
)


def drawn(_folio: Folio, plan: Plan) -> str:
    """Return the file's text, "" where nothing is left."""
    left = leftovers(plan.job, plan.cuttings, plan.racks, plan.order, plan.at_hand)
    tables = dict(sorted(_tables(plan.job, left).items()))
    return _text(tables) if tables else ""


def _tables(job: Job, left: Leftovers) -> dict[tuple[str, str], dict[str, Any]]:
    found: dict[tuple[str, str], dict[str, Any]] = {}
    for material, sheets in left.sheets:
        rows = [{"size": _size(size), "price": 0, "have": count} for size, count in _by_size(sheets)]
        found[str(material.kind), material.name] = {**_of_material(material), "sheets": rows}
    for paper, count in left.papers:
        found["paper", paper.name] = {**_of_paper(paper), "have": count}
    for frame, count in left.frames:
        found["frame", frame.name] = {**_of_frame(frame), "have": count}
    for frame, sticks in left.sticks:
        rows = [{"length": _length(length), "price": 0, "have": count} for length, count in sorted(sticks.items())]
        found["frame", frame.name] = {**_of_frame(frame), "sticks": rows}
    for one, amount in left.hardware:
        found["hardware", one.name] = _of_hardware(one, amount, job)
    return found


def _by_size(sheets: Mapping[Size, int]) -> list[tuple[Size, int]]:
    return sorted(sheets.items(), key=lambda entry: (entry[0].width, entry[0].height))


def _of_material(material: Material) -> dict[str, Any]:
    return _said(
        ply=material.ply,
        thickness=_length(material.thickness),
        density=_number(material.density),
        colour=material.colour,
        substance=material.substance or None,
        kerf=_length(material.kerf) if material.kerf else None,
    )


def _of_paper(paper: Paper) -> dict[str, Any]:
    margin = paper.printer_margin
    sides = {side: _length(getattr(margin, side)) for side in ("top", "right", "bottom", "left")}
    return _said(size=_size(paper.size), printer_margin=None if paper.margin_assumed else sides, ppi=_number(paper.ppi))


def _of_frame(frame: Frame) -> dict[str, Any]:
    lengths = {
        name: _length(value)
        for name in ("clearance", "lip", "depth", "rail", "height", "kerf", "spare")
        if (value := getattr(frame, name))
    }
    return _said(
        takes=None if frame.takes is None else _size(frame.takes),
        rabbet=None if frame.rabbet is None else _size(frame.rabbet),
        **lengths,
        density=_number(frame.density),
        colour=frame.colour,
        includes=[str(part) for part in frame.includes] or None,
        mat_opening=None if frame.mat_opening is None else _size(frame.mat_opening),
    )


def _of_hardware(one: Hardware, amount: Decimal, job: Job) -> dict[str, Any]:
    from matplan import catalogue

    row = catalogue.hardware(one.name)
    if row is None or not row.by_length:
        return {"have": int(amount)}
    return {"have": f"{amount} {habits_of(job.units).bought.name}"}


def _said(**keys: Any) -> dict[str, Any]:
    return {key: value for key, value in keys.items() if value is not None}


def _length(length: Fraction) -> str:
    return f"{plain_decimal(length, 6)} mm"


def _size(size: Size) -> str:
    return f"{plain_decimal(size.width, 6)} x {plain_decimal(size.height, 6)} mm"


def _number(value: Fraction | None) -> str | None:
    return None if value is None else plain_decimal(value, 6)


def _text(tables: Mapping[tuple[str, str], Mapping[str, Any]]) -> str:
    import tomlkit

    document = tomlkit.document()
    for line in HEAD:
        document.add(tomlkit.comment(line))
    document.add("units", tomlkit.item("mm"))
    for (kind, name), keys in tables.items():
        if kind not in document:
            document.add(kind, tomlkit.table(is_super_table=True))
        table = tomlkit.table()
        for key, value in keys.items():
            table.add(
                key, _rows(value) if isinstance(value, list) else _row(value) if isinstance(value, dict) else value
            )
        document[kind][name] = table
    return tomlkit.dumps(document)


def _row(keys: Mapping[str, Any]) -> Any:
    import tomlkit

    row = tomlkit.inline_table()
    row.update(keys)
    return row


def _rows(values: list[Any]) -> Any:
    import tomlkit

    array = tomlkit.array().multiline(all(isinstance(value, dict) for value in values))
    for value in values:
        array.append(_row(value) if isinstance(value, dict) else value)
    return array
