"""What a job has to work with: its own papers, materials and frames, and the rows of the tables beside them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, replace
from fractions import Fraction
from functools import cache
from typing import Any

from matplan import catalogue
from matplan.catalogue import Kind
from matplan.faults import LengthError
from matplan.job.file.table import Opened, Reader, Told
from matplan.job.file.written import is_signed, parse_unsigned
from matplan.job.file.wrong import got, near_names
from matplan.job.read.frames import make_frame
from matplan.job.records import Frame, Hardware, Job, Material, MaterialKind, Paper, StockSheet, Substance
from matplan.lengths import Sides, Size

_PLY = Fraction(35, 100)
"""One ply in millimetres: 4-ply is 1.4 mm."""
_WHITE = "white"
"""The board of a mat that names none: 4-ply."""

_SUBSTANCES = {
    "glass": Substance.GLASS, "acrylic": Substance.ACRYLIC, "foam board": Substance.FOAM, "MDF": Substance.WOOD,
    "mat board": Substance.BOARD, "solid chipboard": Substance.BOARD,
}  # fmt: skip
_TABLES = {MaterialKind.BOARD: Kind.BOARDS, MaterialKind.GLAZING: Kind.GLAZING, MaterialKind.BACKING: Kind.BACKING}
_ROWS = {
    MaterialKind.BOARD: catalogue.board,
    MaterialKind.GLAZING: catalogue.glazing,
    MaterialKind.BACKING: catalogue.backing,
}
_PLURAL = {MaterialKind.BOARD: "boards", MaterialKind.GLAZING: "glazing", MaterialKind.BACKING: "backing"}
_SHELVES = {
    "paper": "papers", "board": "boards", "glazing": "glazings", "backing": "backings", "frame": "frames",
    "hardware": "hardware",
}  # fmt: skip


class Supplies:
    """A job's own papers, materials and frames by name, `None` for a faulty one; and how to find one by its name.

    Each search raises `ValueError` if the name is unknown, and `Told` if what has the name is faulty.
    """

    def __init__(self, job: Opened[Job], *, lost: bool = False) -> None:
        self._reader = job.reader
        self._shelves: dict[str, dict[str, Any]] = {kind: dict(job.value(field)) for kind, field in _SHELVES.items()}
        unread = {kind for kind in _SHELVES if job.faulty(kind) and not isinstance(job.table.get(kind), Mapping)}
        self._lost = unread
        """The kinds whose own tables could not be read at all: a name that is not found may be one of them."""
        self._untrusted = lost
        """Whether a supplies file could not be read, so that nothing is known of any name."""
        self._found: dict[tuple[str, str], Any] = {}

    def own(self) -> dict[str, tuple[Any, ...]]:
        """Return the job's own, without the faulty ones, by the fields of the job."""
        return {field: tuple(filter(None, self._shelves[kind].values())) for kind, field in _SHELVES.items()}

    def faulty(self, kind: MaterialKind, name: str) -> bool:
        """Return whether a material of that name could not be read, or may be one that could not."""
        return kind.value in self._lost or self._reader.faults.touches((kind.value, name))

    def _own(self, kind: str, name: str) -> Any:
        """Return the job's own of that name, `MISSING` if it has none."""
        found = self._shelves[kind].get(name, MISSING)
        if found is None:
            raise Told
        return found

    def _unknown(self, kind: str, text: str) -> Exception:
        return Told() if kind in self._lost else ValueError(text)

    def find(self, kind: str, name: str) -> Any:
        """Return what the job calls so."""
        if self._untrusted:
            raise Told
        if (kind, name) not in self._found:
            self._found[kind, name] = self._search(kind, name)
        return self._found[kind, name]

    def _search(self, kind: str, name: str) -> Any:
        match kind:
            case "paper":
                return self._paper(name)
            case "frame":
                return self._frame(name)
        return self._material(MaterialKind(kind), name)

    def _paper(self, name: str) -> Paper:
        """Return the job's own paper, a paper of the tables, or a size."""
        if (own := self._own("paper", name)) is not MISSING:
            return own  # type: ignore[no-any-return]
        if (row := None if is_signed(name) else catalogue.paper(name)) is not None:
            return self._usual_paper(row.name, row.size)
        try:
            return self._usual_paper(name, parse_unsigned(name, self._reader.units))
        except LengthError:
            known = (*self._shelves["paper"], *catalogue.near(name, Kind.PAPERS))
            near = near_names(name, known, kind="papers") if known else "write one like A4 or 300 x 400 mm"
            text = f"{got(name)}, but there is no [paper] of that name, nor one in the tables; {near}"
            raise self._unknown("paper", text) from None

    def _usual_paper(self, name: str, size: Size) -> Paper:
        """Return a paper of which no more is said."""
        return Opened(self._reader, Paper, {}, ()).make(name=name, size=size, margin_assumed=True)

    def _material(self, kind: MaterialKind, name: str) -> Material | None:
        """Return the board, glazing or backing of that name, or `None` for `"none"`."""
        if (own := self._own(kind, name)) is not MISSING:
            return own  # type: ignore[no-any-return]
        if name == catalogue.NONE and kind is not MaterialKind.BOARD:
            return None
        if (row := _row(kind, name)) is not None:
            return row
        others = (_WHITE,) if kind is MaterialKind.BOARD else (catalogue.NONE,)
        known = (*self._shelves[kind], *catalogue.names(_TABLES[kind]), *others)
        none = "; for no mat write mat = [], and leave mount out for no mount" if name == catalogue.NONE else ""
        near = near_names(name, known, kind=_PLURAL[kind])
        text = f"{got(name)}, but there is no [{kind}] of that name, nor one in the tables; {near}{none}"
        raise self._unknown(kind, text)

    def _frame(self, name: str) -> Frame:
        """Return the job's own frame, a frame of the tables, or a size."""
        if (own := self._own("frame", name)) is not MISSING:
            return own  # type: ignore[no-any-return]
        try:
            found, size = name, parse_unsigned(name, self._reader.units)
        except LengthError as error:
            row = None if is_signed(name) else catalogue.frame(name) or catalogue.paper(name)
            if row is None:
                known = (*self._shelves["frame"], *catalogue.near(name, Kind.FRAMES))
                near = near_names(name, known, kind="frames") if known else "write one like 40x50 cm"
                unknown = f"{got(name)}, but there is no [frame] of that name, nor one in the tables; {near}"
                raise self._unknown("frame", str(error) if name[:1].isdigit() or is_signed(name) else unknown) from None
            found, size = row.name, row.size
        return replace(made_to_measure(self._reader), name=found, takes=size)


def made_to_measure(reader: Reader) -> Frame:
    """Return the frame of a piece that names none."""
    return Opened(reader, Frame, {}, ()).make(name="")


@cache
def _row(kind: MaterialKind, name: str) -> Material | None:
    """Return the material of that name in the tables; `white` is a 4-ply board."""
    plain_white = kind is MaterialKind.BOARD and name == _WHITE
    row = _ROWS[kind](catalogue.DEFAULT_BOARD if plain_white else name)
    if row is None:
        return None
    return Material(
        kind=kind,
        name=name if plain_white else row.name,
        thickness=row.thickness,
        density=row.density_kg_m3,
        colour="#ffffff" if plain_white else None,
        ply=row.ply,
        substance=_SUBSTANCES.get(row.of, ""),
    )


def _density(substance: str) -> Fraction | None:
    """Return the density in kg/m³ of a substance that the tables know."""
    names = {"glass": "glass", "acrylic": "acrylic", "wood": "MDF", "board": "mat board"}
    figure = catalogue.figure(names[substance], catalogue.Quantity.DENSITY) if substance in names else None
    return figure.value if figure else None


# --- the job's own tables --------------------------------------------------------------------------------------------


def _make_paper(table: Opened[Paper]) -> Paper:
    paper = table.make(name=table.place[-1], margin_assumed=not table.says("printer_margin"))
    paper = _with_assumed_margins(table, paper)
    shown, margin, size = table.reader.shown, paper.printer_margin, paper.size
    for sides, taken, whole in (
        ("left and right", margin.across, size.width),
        ("top and bottom", margin.down, size.height),
    ):
        if taken >= whole:
            text = (
                f"{sides} take {shown(taken)} of the paper's {shown(whole)}, so nothing is left to print on; write less"
            )
            table.wrong("printer_margin", text=text, sized=True)
            break
    return paper


def _with_assumed_margins(table: Opened[Paper], paper: Paper) -> Paper:
    """Return the paper with the usual margin at opposite sides of which a table of sides names neither."""
    said = table.table.get("printer_margin")
    if not isinstance(said, dict) or table.faulty("printer_margin"):
        return paper
    usual: Sides = table.reader.read_default(table.keys["printer_margin"], table.place)
    left_out = [pair for pair in (("top", "bottom"), ("left", "right")) if not said.keys() & {*pair}]
    assumed = {side: getattr(usual, side) for pair in left_out for side in pair}
    return replace(paper, printer_margin=replace(paper.printer_margin, **assumed), margin_assumed=bool(assumed))


def _make_material(table: Opened[Material]) -> Material:
    kind, name = MaterialKind(str(table.place[0])), str(table.place[1])
    base = _row(kind, name)
    ply = table.value("ply") if kind is MaterialKind.BOARD else None
    if kind is MaterialKind.BOARD and (base is None or ply is not None):
        base = _row(kind, f"{ply or 4}-ply") or base
    thickness = measured = table.value("thickness")
    if measured is MISSING:
        thickness = _PLY * ply if ply else base.thickness if base else MISSING
    if thickness is MISSING and not table.faulty("thickness"):
        text = 'thickness is missing, and no table has this name; write it like thickness = "2 mm"'
        table.wrong("thickness", text=text, line_of=table.place)
    of = Substance.BOARD if kind is MaterialKind.BOARD else ""
    substance = table.value("substance") or (base.substance if base else of)
    known = base.density if base and not table.says("substance") else _density(substance)
    return table.make(
        kind=kind,
        name=name,
        sheets=added_up(table.value("sheets")),
        thickness=thickness,
        density=table.value("density") or known,
        colour=table.value("colour") or (base.colour if base else None),
        ply=ply if ply is not None else base.ply if base and measured is MISSING else None,
        substance=substance,
    )


def added_up(sheets: tuple[StockSheet, ...]) -> tuple[StockSheet, ...]:
    """Return the sheets with those of equal size, price and trim as one."""
    found: dict[tuple[object, ...], StockSheet] = {}
    for sheet in sheets:
        key = (sheet.size, sheet.price, sheet.trim)
        same = found.get(key)
        found[key] = sheet if same is None else replace(same, have=same.have + sheet.have)
    return tuple(found.values())


def _make_sheet(table: Opened[StockSheet]) -> StockSheet:
    sheet = table.make(written=table.table.get("size"))
    if 2 * sheet.trim >= min(sheet.size.width, sheet.size.height):
        text = (
            f"{table.reader.shown(sheet.trim)} on each edge leaves nothing of the sheet ({sheet.written}); write less"
        )
        table.wrong("trim", text=text, sized=True)
    return sheet


_RATES = {
    "hinge": ("hinge",), "backing-tape": ("tape_per_m", "tape_per_ft"), "hanger": ("hanger",),
    "wire": ("wire_per_m", "wire_per_ft"), "hook": ("hook",),
}  # fmt: skip
"""The rates among the costs that are prices of hardware."""


def check_prices(job: Opened[Job]) -> None:
    """Take up each price of hardware that the costs name too."""
    rates, tables = job.table.get("costs"), job.table.get("hardware")
    if not isinstance(rates, dict) or not isinstance(tables, dict):
        return
    for name, table in tables.items():
        row = catalogue.hardware(name)
        twice = [rate for rate in _RATES.get(row.name if row else "", ()) if rate in rates]
        if twice and isinstance(table, dict) and "price" in table:
            text = f"price and {twice[0]} of [costs] say the same; leave one of them out"
            job.wrong("hardware", name, "price", text=text)


def _make_hardware(table: Opened[Hardware]) -> Hardware:
    row = catalogue.hardware(str(table.place[-1]))
    if row is None:
        raise Told
    made = table.make(name=row.name)
    if table.says("pack") and table.says("roll"):
        table.wrong("roll", text="pack and roll exclude each other; keep the one that it is sold in")
    elif made.roll is not None and not row.by_length:
        table.wrong("roll", text=f"{row.called} are counted; write pack = 100 for a pack of a hundred")
    elif made.pack is not None and row.by_length:
        table.wrong("pack", text=f'{row.called} is sold by its length; write roll = "25 m" for a roll of 25 m')
    if table.says("have") and not row.by_length and made.have.count is None:
        table.wrong("have", text=f"{row.called} are counted; write how many lie ready, like have = 40")
    return made


MAKERS: Mapping[type, Any] = {
    Paper: _make_paper,
    Material: _make_material,
    StockSheet: _make_sheet,
    Frame: make_frame,
    Hardware: _make_hardware,
}
"""How supplies are made where their tables alone do not tell all."""
