"""The tables for people and for programs: headers and rows of text in one unit, and the JSON document.

How a table is laid out on a terminal is not known here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import assert_never

from matplan.catalogue.lookup import rows
from matplan.catalogue.records import Blank, Currencies, Figure, Frame, Hardware, Kind, Material, Paper, ReadyCut, Row
from matplan.lengths import Printer, Size, Step, Units, plain_decimal

SCHEMA = "matplan-sizes/1"

type Json = str | int | float | list[Json] | dict[str, Json] | None

_NOTES = {
    Kind.PAPERS: "Width × height, upright.",
    Kind.READY_CUT: "Openings at the back of the board. A derived row says what would suit; ask whether it is stocked.",
    Kind.GLAZING: '"none" is a name too. The largest size is shops\' habit, no calculation of strength.',
    Kind.BACKING: '"none" is a name too.',
    Kind.MAT_BLANKS: "One frame then serves many works.",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Listing:
    """One table as text: as many cells in each row as there are headers."""

    title: str
    headers: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str = ""


def listing(kind: Kind, units: Units = Units.MM) -> Listing:
    """Return the table, with its lengths in `units`."""
    return Listing(
        title=kind.heading,
        headers=_headers(kind, units),
        rows=tuple((*_cells(row, units), row.status.value, row.source) for row in rows(kind)),
        note=_NOTES.get(kind, ""),
    )


def document(kinds: Iterable[Kind] = tuple(Kind)) -> dict[str, Json]:
    """Return the tables as one JSON document; lengths in mm, densities in kg/m³, masses in kg/m²."""
    tables: list[Json] = [
        {"kind": kind.value, "title": kind.heading, "rows": [_json(row) for row in rows(kind)]} for kind in kinds
    ]
    return {"schema": SCHEMA, "units": {"length": "mm", "density": "kg/m3", "mass": "kg/m2"}, "tables": tables}


# --- text ------------------------------------------------------------------------------------------------------------


def _headers(kind: Kind, units: Units) -> tuple[str, ...]:
    match kind:
        case Kind.PAPERS | Kind.FRAMES:
            own: tuple[str, ...] = ("Name", f"Size, {units}", "Also")
        case Kind.READY_CUT:
            own = ("Frame", f"Blank, {units}", f"Opening, {units}", "For a print", "Covers each edge by")
        case Kind.BOARDS | Kind.GLAZING | Kind.BACKING:
            own = ("Name", f"Thickness, {units}", "Density, kg/m³", "Mass, kg/m²", "Mass: status, source")
            own = (*own, f"Largest, {units}") if kind is Kind.GLAZING else own
        case Kind.BOARD_SHEETS | Kind.MAT_BLANKS:
            own = ("Name", f"Size, {units}")
        case Kind.SUBSTANCES:
            own = ("Substance", "Figure", "At", "Value", "Unit")
        case Kind.HARDWARE:
            own = ("Name", "Also", "Sold by the", "A frame takes")
        case Kind.CURRENCIES:
            own = ("Name", "Codes (ISO 4217)")
        case _:
            assert_never(kind)
    return (*own, "Status", "Source")


def _cells(row: Row, units: Units) -> tuple[str, ...]:
    match row:
        case Paper() | Frame():
            return row.name, _size(row.size, units), ", ".join(row.also)
        case ReadyCut():
            side = _length(row.overlap.least, units)
            return row.frame, _size(row.blank, units), _size(row.opening, units), row.print_name, f"{side} {units}"
        case Material():
            own = (
                row.name,
                _length(row.thickness, units),
                plain_decimal(row.density_kg_m3, 0),
                plain_decimal(row.mass_kg_m2, 2),
                f"{row.mass_status}: {row.mass_source}",
            )
            return (*own, _size(row.largest, units) if row.largest else "") if row.kind is Kind.GLAZING else own
        case Blank():
            return row.name, _size(row.size, units)
        case Figure():
            humidity = "" if row.at_rh is None else f"{row.at_rh} % RH"
            return row.name, row.quantity.value, humidity, plain_decimal(row.value, 9), row.unit
        case Hardware():
            return row.name, ", ".join(row.also), "length" if row.by_length else "piece", row.each
        case Currencies():
            return row.name, ", ".join(row.also)
        case _:
            assert_never(row)


def _length(length: Fraction, units: Units) -> str:
    """Bare number: inches as a fraction where a sixteenth holds it, else as a decimal."""
    if units is not Units.IN:
        return plain_decimal(length / units.factor, 3)
    sixteenth = Step.usual(Units.IN)
    if sixteenth.is_whole(length):
        return Printer(Units.IN, sixteenth).number(length)
    return plain_decimal(length / units.factor, 3 if length < units.factor else 2)


def _size(size: Size, units: Units) -> str:
    return f"{_length(size.width, units)} × {_length(size.height, units)}"


# --- JSON ------------------------------------------------------------------------------------------------------------


def _pair(size: Size) -> list[Json]:
    return [float(size.width), float(size.height)]


def _json(row: Row) -> dict[str, Json]:
    """Return the row's own figures between its name and its source."""
    own: dict[str, Json]
    match row:
        case Paper() | Frame():
            own = {"size": _pair(row.size), "series": row.series, "also": [*row.also]}
        case ReadyCut():
            own = {"frame": row.frame, "size": _pair(row.blank), "opening": _pair(row.opening)}
            own |= {"print": row.print_name, "print_size": _pair(row.print_size)}
        case Material():
            own = {"thickness": float(row.thickness), "of": row.of, "density": float(row.density_kg_m3)}
            own |= {"mass": float(row.mass_kg_m2), "mass_status": row.mass_status.value, "mass_source": row.mass_source}
            own |= {"largest": _pair(row.largest) if row.largest else None}
            own |= {} if row.ply is None else {"ply": row.ply}
        case Blank():
            own = {"size": _pair(row.size)}
        case Figure():
            own = {"figure": row.quantity.value, "at_rh": row.at_rh, "value": float(row.value), "unit": row.unit}
        case Hardware():
            own = {"also": [*row.also], "by_length": row.by_length, "pack": row.pack, "small": row.small}
            own |= {"each": row.each}
        case Currencies():
            own = {"also": [*row.also], "decimals": row.decimals}
        case _:
            assert_never(row)
    return {"name": row.name, **own, "status": row.status.value, "source": row.source}
