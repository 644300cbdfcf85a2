"""Looking things up: one row by its name or its size, each made into its record when it is first used."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import Any, cast

from matplan.catalogue.records import (
    Blank,
    Currencies,
    Figure,
    Frame,
    Hardware,
    Kind,
    Material,
    Paper,
    Quantity,
    ReadyCut,
    Row,
    Status,
)
from matplan.catalogue.tables import Raw, find, raw_rows
from matplan.faults import LengthError
from matplan.lengths import Size, Units, parse_length, parse_size


def paper(name: str) -> Paper | None:
    """Return the paper of the name."""
    number = find(Kind.PAPERS, name)
    return None if number is None else _paper(number)


def frame(name: str) -> Frame | None:
    """Return the ready-made frame of the name, or of the size where it is written as one with its unit (`"400 x 500
    mm"`).

    A frame is never turned: no frame is 50x40 cm.
    """
    number = find(Kind.FRAMES, name)
    if number is not None:
        return _frame(number)
    return frame_of(size) if (size := _written_size(name)) else None


def frame_of(size: Size) -> Frame | None:
    """Return the ready-made frame that is sold for a sheet of exactly that size."""
    number = _frames_by_size().get(size)
    return None if number is None else _frame(number)


def ready_cut(name: str) -> ReadyCut | None:
    """Return the ready-cut mat of the name, such as `"16x20 in for 11x14 in"`."""
    number = find(Kind.READY_CUT, name)
    return None if number is None else _ready_cut(number)


def ready_cuts(blank: Size, within: Fraction = Fraction(0)) -> tuple[ReadyCut, ...]:
    """Return every ready-cut mat for the blank, turned where the blank lies; each side may differ by up
    to `within` mm.
    """

    def suits(mat: ReadyCut) -> bool:
        return abs(mat.blank.width - blank.width) <= within and abs(mat.blank.height - blank.height) <= within

    mats = tuple(_ready_cut(number) for number in range(len(raw_rows(Kind.READY_CUT))))
    return tuple(mat for upright in mats for mat in (upright, upright.turned) if suits(mat))


def board(name: str) -> Material | None:
    """Return the mat board of the name, such as `"4-ply"`."""
    return _material_named(Kind.BOARDS, name)


def board_of_ply(ply: int) -> Material | None:
    """Return the mat board of so many plies."""
    return board(f"{ply}-ply")


def glazing(name: str) -> Material | None:
    """Return the glazing of the name, or `None` for "none" too."""
    return _material_named(Kind.GLAZING, name)


def backing(name: str) -> Material | None:
    """Return the backing of the name, or `None` for "none" too."""
    return _material_named(Kind.BACKING, name)


def board_sheet(name: str) -> Blank | None:
    """Return the sheet of the name that mat board is sold in."""
    number = find(Kind.BOARD_SHEETS, name)
    return None if number is None else _blank(Kind.BOARD_SHEETS, number)


@cache
def figures(substance: str, quantity: Quantity) -> tuple[Figure, ...]:
    """Return every figure of the quantity that is known of a substance, by rising humidity."""
    rows = (_figure(number) for number, row in enumerate(raw_rows(Kind.SUBSTANCES)) if row["name"] == substance)
    return tuple(sorted((row for row in rows if row.quantity is quantity), key=lambda row: row.at_rh or 0))


def figure(substance: str, quantity: Quantity) -> Figure | None:
    """Return the one figure of a quantity that depends on nothing, such as the density."""
    known = figures(substance, quantity)
    return known[0] if len(known) == 1 else None


def rows(kind: Kind) -> tuple[Row, ...]:
    """Return every row of the table, in its order."""
    every = range(len(raw_rows(kind)))
    match kind:
        case Kind.PAPERS:
            return tuple(_paper(number) for number in every)
        case Kind.FRAMES:
            return tuple(_frame(number) for number in every)
        case Kind.READY_CUT:
            return tuple(_ready_cut(number) for number in every)
        case Kind.BOARDS | Kind.GLAZING | Kind.BACKING:
            return tuple(_material(kind, number) for number in every)
        case Kind.BOARD_SHEETS | Kind.MAT_BLANKS:
            return tuple(_blank(kind, number) for number in every)
        case Kind.SUBSTANCES:
            return tuple(_figure(number) for number in every)
        case Kind.HARDWARE:
            return tuple(_hardware(number) for number in every)
        case Kind.CURRENCIES:
            return tuple(_currencies(number) for number in every)


def hardware(name: str) -> Hardware | None:
    """Return the small thing of the name, such as `"hanger"` or `"strap hangers"`."""
    number = find(Kind.HARDWARE, name)
    return None if number is None else _hardware(number)


def decimals(currency: str) -> int | None:
    """Return how many decimals amounts in a currency have, by its ISO 4217 code; `None` for a name of no table."""
    number = find(Kind.CURRENCIES, currency)
    return None if number is None else _currencies(number).decimals


def papers(*series: str) -> tuple[Paper, ...]:
    """Return every paper, or those of the series named."""
    return tuple(
        _paper(number) for number, row in enumerate(raw_rows(Kind.PAPERS)) if not series or row["series"] in series
    )


@cache
def is_iso_216(size: Size) -> bool:
    """Return whether a sheet of that size, either way up, is one of ISO 216, whose tolerances then hold."""
    return any(size in (paper.size, paper.size.turned) for paper in papers() if paper.series.startswith("ISO"))


def frames() -> tuple[Frame, ...]:
    """Return every ready-made frame."""
    return cast("tuple[Frame, ...]", rows(Kind.FRAMES))


# --- rows into records -----------------------------------------------------------------------------------------------


def _size(written: str) -> Size:
    return parse_size(written, Units.MM)


def _written_size(text: str) -> Size | None:
    """Return the size that the text is, where it names its unit."""
    if not text.strip()[:1].isnumeric() or text.rstrip()[-1:].isnumeric():
        return None
    try:
        return _size(text)
    except LengthError:
        return None


@cache
def _frames_by_size() -> dict[Size, int]:
    return {_size(row["size"]): number for number, row in enumerate(raw_rows(Kind.FRAMES))}


def _entry(row: Raw) -> dict[str, Any]:
    """Return what every row has, as the fields of its record."""
    also, status = tuple(row.get("also", ())), Status(row["status"])
    return {"name": row["name"], "also": also, "status": status, "source": row["source"]}


@cache
def _paper(number: int) -> Paper:
    row = raw_rows(Kind.PAPERS)[number]
    return Paper(**_entry(row), size=_size(row["size"]), series=row["series"])


@cache
def _frame(number: int) -> Frame:
    row = raw_rows(Kind.FRAMES)[number]
    return Frame(**_entry(row), size=_size(row["size"]), series=row["series"])


@cache
def _ready_cut(number: int) -> ReadyCut:
    row = raw_rows(Kind.READY_CUT)[number]
    takes, cut_for = frame(row["frame"]), paper(row["print"])
    return ReadyCut(
        **_entry(row),
        frame=row["frame"],
        print_name=row["print"],
        blank=takes.size if takes else _size(row["frame"]),
        opening=_size(row["opening"]),
        print_size=cut_for.size if cut_for else _size(row["print"]),
    )


@cache
def _blank(kind: Kind, number: int) -> Blank:
    row = raw_rows(kind)[number]
    return Blank(**_entry(row), size=_size(row["size"]))


def _material_named(kind: Kind, name: str) -> Material | None:
    number = find(kind, name)
    return None if number is None else _material(kind, number)


@cache
def _material(kind: Kind, number: int) -> Material:
    row = raw_rows(kind)[number]
    thickness = parse_length(row["thickness"], Units.MM)
    if "mass" in row:
        mass, mass_status, mass_source = Fraction(row["mass"]), Status(row["mass_status"]), row["mass_source"]
    elif density := figure(row["of"], Quantity.DENSITY):
        mass, mass_status, mass_source = density.value * thickness / 1000, density.status, density.source
    else:
        raise KeyError(f"{kind} row {row['name']!r} has no mass, and {row['of']!r} no density")
    return Material(
        kind=kind,
        **_entry(row),
        of=row["of"],
        ply=row.get("ply"),
        thickness=thickness,
        largest=_size(row["largest"]) if "largest" in row else None,
        mass_kg_m2=mass,
        mass_status=mass_status,
        mass_source=mass_source,
    )


@cache
def _hardware(number: int) -> Hardware:
    row = raw_rows(Kind.HARDWARE)[number]
    return Hardware(
        **_entry(row),
        by_length=row["sold"] == "length",
        pack=row.get("pack"),
        small=row.get("small", False),
        each=row["each"],
    )


@cache
def _currencies(number: int) -> Currencies:
    row = raw_rows(Kind.CURRENCIES)[number]
    return Currencies(**_entry(row), decimals=row["decimals"])


@cache
def _figure(number: int) -> Figure:
    row = raw_rows(Kind.SUBSTANCES)[number]
    return Figure(
        **_entry(row),
        quantity=Quantity(row["quantity"]),
        value=Fraction(row["value"]),
        unit=row["unit"],
        at_rh=row.get("at_rh"),
    )
