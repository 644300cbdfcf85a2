"""What a job has to work with: its papers, boards, glazing, backing and frames, and those of the tables beside them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from matplan import catalogue
from matplan.catalogue import Kind
from matplan.faults import LengthError
from matplan.job.defaults import BOARD, Defaults
from matplan.job.file.lines import Place
from matplan.job.file.table import Table
from matplan.job.file.written import got
from matplan.job.model import BoardTable, FrameTable, JobTable, MaterialTable, PaperTable, SidesTable, Substance
from matplan.job.read.complaints import Faults, near_names
from matplan.job.records import Frame, Material, MaterialKind, Paper, Stick, StockSheet
from matplan.lengths import Sides, Size, Units, parse_size

_PLY = Fraction(35, 100)
"""One ply in millimetres: 4-ply is 1.4 mm."""

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


def read_size(text: str, units: Units) -> tuple[Size, bool]:
    """The size written there, as a size or a name from the tables, and whether it is one of ISO 216. Raises
    `LengthError`.
    """
    try:
        return parse_size(text, units), False
    except LengthError as error:
        if paper := catalogue.paper(text):
            return paper.size, paper.series.startswith("ISO")
        if frame := catalogue.frame(text):
            return frame.size, False
        if text[:1].isdigit():
            if str(error).startswith(got(text)):
                raise
            raise LengthError(
                f'{got(text)}, which is no size ({error}); write it like "403 x 503 mm" or "16x20 in"'
            ) from None
        close = (*catalogue.near(text, Kind.PAPERS), *catalogue.near(text, Kind.FRAMES))
        near = near_names(text, close, kind="sizes") if close else "write it like 403 x 503 mm, 16x20 in or A4"
        raise LengthError(f"{got(text)}, which is no size and no name of one; {near}") from error


def sides_of(table: SidesTable) -> Sides:
    """Those sides; one left out takes its opposite's, nought where both are."""
    nought = Fraction(0)
    top, right, bottom, left = (side for side in (table.top, table.right, table.bottom, table.left))
    return Sides(
        top=top if top is not None else bottom or nought,
        right=right if right is not None else left or nought,
        bottom=bottom if bottom is not None else top or nought,
        left=left if left is not None else right or nought,
    )


class Supplies:
    """A job's own papers, materials and frames by name, None for one that is faulty; and how to find one by its name."""

    def __init__(self, job: JobTable, named: Mapping[str, object], units: Units, faults: Faults) -> None:
        """`named` is the file's data: a table that could not be read is known by its name all the same."""
        self._units = units
        self._faults = faults
        self._defaults = Defaults.of(units)
        self._papers = {name: self._paper(name, table) for name, table in _known("paper", job.paper, named)}
        shelves: tuple[tuple[MaterialKind, Mapping[str, MaterialTable] | None], ...] = (
            (MaterialKind.BOARD, job.board),
            (MaterialKind.GLAZING, job.glazing),
            (MaterialKind.BACKING, job.backing),
        )
        self._materials: dict[MaterialKind, dict[str, Material | None]] = {
            kind: {name: self._material(kind, name, table) for name, table in _known(kind.value, tables, named)}
            for kind, tables in shelves
        }
        self._frames = {name: self._frame(name, table) for name, table in _known("frame", job.frame, named)}
        self._found: dict[str, Frame] = {}
        self._lost = {
            kind
            for kind in ("paper", "board", "glazing", "backing", "frame")
            if not isinstance(named.get(kind), Mapping) and faults.touches((kind,))
        }
        """The kinds whose own tables could not be read at all: a name that is not found may be one of them."""

    def lost(self, kind: MaterialKind) -> bool:
        """Whether the job's own materials of that kind could not be read at all."""
        return kind.value in self._lost

    @property
    def papers(self) -> tuple[Paper, ...]:
        """The job's own."""
        return tuple(paper for paper in self._papers.values() if paper)

    @property
    def materials(self) -> tuple[Material, ...]:
        """The job's own boards, glazing and backing."""
        return tuple(material for shelf in self._materials.values() for material in shelf.values() if material)

    @property
    def frames(self) -> tuple[Frame, ...]:
        """The job's own."""
        return tuple(frame for frame in self._frames.values() if frame)

    # --- finding by name; None where the name is unknown (then a fault) or its table faulty ---------------------------

    def paper(self, name: str, place: Place) -> Paper | None:
        """The paper of that name: the job's own, one of the tables, or a size."""
        if name in self._papers:
            self._check(("paper", name), place)
            return self._papers[name]
        row = catalogue.paper(name)
        if row is not None:
            return Paper(name=row.name, size=row.size, iso=row.series.startswith("ISO"))
        try:
            return Paper(name=name, size=parse_size(name, self._units))
        except LengthError:
            if "paper" in self._lost:
                self._faults.leave(place)
                return None
            known = (*self._papers, *catalogue.near(name, Kind.PAPERS))
            near = near_names(name, known, kind="papers") if known else "write one like A4 or 300 x 400 mm"
            self._faults.add(
                place,
                f"{got(name)}, but there is no [paper] of that name, nor one in the tables; {near}",
            )
            return None

    def material(self, kind: MaterialKind, name: str, place: Place) -> Material | None:
        """The board, glazing or backing of that name, or None for `"none"`."""
        shelf = self._materials[kind]
        if name in shelf:
            self._check((kind.value, name), place)
            return shelf[name]
        if name == catalogue.NONE and kind is not MaterialKind.BOARD:
            return None
        found = self._row(kind, name)
        if found is None and kind.value in self._lost:
            self._faults.leave(place)
            return None
        if found is None:
            others = [] if kind is MaterialKind.BOARD else [catalogue.NONE]
            known = (*shelf, *catalogue.names(_TABLES[kind]), *others, *([BOARD] if kind is MaterialKind.BOARD else []))
            none = "; for no mat at all write mat = []" if name == catalogue.NONE else ""
            near = near_names(name, known, kind=_PLURAL[kind])
            self._faults.add(
                place, f"{got(name)}, but there is no [{kind}] of that name, nor one in the tables; {near}{none}"
            )
        return found

    def frame(self, name: str, place: Place) -> Frame | None:
        """The frame of that name: the job's own, one of the tables, or a size."""
        if name in self._frames:
            self._check(("frame", name), place)
            return self._frames[name]
        if name not in self._found:
            try:
                found, size = name, parse_size(name, self._units)
            except LengthError as error:
                row = catalogue.frame(name) or catalogue.paper(name)
                if row is None and "frame" in self._lost:
                    self._faults.leave(place)
                    return None
                if row is None:
                    known = (*self._frames, *catalogue.near(name, Kind.FRAMES))
                    near = near_names(name, known, kind="frames") if known else "write one like 40x50 cm"
                    unknown = f"{got(name)}, but there is no [frame] of that name, nor one in the tables; {near}"
                    self._faults.add(place, str(error) if name[:1].isdigit() else unknown)
                    return None
                found, size = row.name, row.size
            self._found[name] = Frame(
                name=found, takes=size, clearance=self._defaults.clearance, lip=self._defaults.lip
            )
        return self._found[name]

    def _check(self, table: Place, place: Place) -> None:
        """What names a faulty table is left out of what is solved."""
        if self._faults.touches(table):
            self._faults.leave(place)

    def made_to_measure(self) -> Frame:
        """The frame of a piece that names none."""
        return Frame(name="", clearance=self._defaults.clearance, lip=self._defaults.lip)

    # --- the job's own tables ----------------------------------------------------------------------------------------

    def _size(self, text: str, place: Place) -> tuple[Size, bool] | None:
        try:
            return read_size(text, self._units)
        except LengthError as error:
            self._faults.add(place, str(error))
            return None

    def _paper(self, name: str, table: PaperTable | None) -> Paper | None:
        place = ("paper", name)
        if table is None or not self._faults.needs(table, place) or table.size is None:
            return None
        found = self._size(table.size, (*place, "size"))
        if found is None:
            return None
        size, iso = found
        margin = sides_of(table.printer_margin) if table.printer_margin else Sides.all(Fraction(0))
        if margin.across >= size.width or margin.down >= size.height:
            self._faults.add(
                (*place, "printer_margin"), f"leaves nothing of the paper to print on ({table.size}); write less"
            )
            return None
        strip = self._size(table.test_strip, (*place, "test_strip")) if table.test_strip else None
        return Paper(
            name=name,
            size=size,
            printer_margin=margin,
            ppi=table.ppi or catalogue.USUAL_PPI,
            price=table.price,
            iso=iso,
            profile=table.profile or "",
            media=table.media or "",
            test_strip=strip[0] if strip else None,
            strip_at=table.strip_at,
        )

    def _row(self, kind: MaterialKind, name: str) -> Material | None:
        """The material of that name in the tables; `white` is a 4-ply board."""
        plain_white = kind is MaterialKind.BOARD and name == BOARD
        row = _ROWS[kind](catalogue.DEFAULT_BOARD if plain_white else name)
        if row is None:
            return None
        substance = _SUBSTANCES.get(row.of)
        return Material(
            kind=kind,
            name=name if plain_white else row.name,
            thickness=row.thickness,
            density=row.density_kg_m3,
            colour="#ffffff" if plain_white else None,
            ply=row.ply,
            substance=substance.value if substance else "",
        )

    def _material(self, kind: MaterialKind, name: str, table: MaterialTable | None) -> Material | None:
        place = (kind.value, name)
        if table is None:
            return None
        base = self._row(kind, name)
        ply = table.ply if isinstance(table, BoardTable) else None
        if kind is MaterialKind.BOARD and (base is None or ply is not None):
            base = self._row(kind, f"{ply or 4}-ply") or base
        thickness = table.thickness or (_PLY * ply if ply else base.thickness if base else None)
        if thickness is None:
            if not self._faults.touches((*place, "thickness")):
                self._faults.add(
                    (*place, "thickness"),
                    'thickness is missing, and no table has this name; write it like thickness = "2 mm"',
                    line_of=place,
                )
            return None
        substance = (
            table.substance.value
            if table.substance
            else base.substance
            if base
            else ("board" if kind is MaterialKind.BOARD else "")
        )
        density = table.density or (base.density if base and not table.substance else _density(substance))
        return Material(
            kind=kind,
            name=name,
            thickness=thickness,
            density=density,
            colour=table.colour or (base.colour if base else None),
            ply=ply if ply is not None else base.ply if base and not table.thickness else None,
            sheets=self._sheets(table, place),
            kerf=table.kerf or Fraction(0),
            dropout_trim=table.dropout_trim if isinstance(table, BoardTable) else None,
            price_per_m2=table.price_per_m2,
            substance=substance,
        )

    def _sheets(self, table: MaterialTable, place: Place) -> tuple[StockSheet, ...]:
        sheets: list[StockSheet] = []
        for number, sheet in enumerate(table.sheets or ()):
            here = (*place, "sheets", number)
            if not self._faults.needs(sheet, here) or sheet.size is None:
                continue
            found = self._size(sheet.size, (*here, "size"))
            if found is None:
                continue
            trim = sheet.trim or Fraction(0)
            if 2 * trim >= min(found[0].width, found[0].height):
                self._faults.add((*here, "trim"), f"leaves nothing of the sheet ({sheet.size}); write less")
                continue
            sheets.append(
                StockSheet(written=sheet.size, size=found[0], price=sheet.price, have=sheet.have or 0, trim=trim)
            )
        return tuple(sheets)

    def _frame(self, name: str, table: FrameTable | None) -> Frame | None:
        place = ("frame", name)
        if table is None:
            return None
        if table.takes is not None and table.rabbet is not None:
            self._faults.add(
                (*place, "rabbet"), "takes and rabbet exclude each other; keep rabbet where it was measured, else takes"
            )
            return None
        takes = self._size(table.takes, (*place, "takes")) if table.takes is not None else None
        rabbet = self._size(table.rabbet, (*place, "rabbet")) if table.rabbet is not None else None
        frame = Frame(
            name=name,
            takes=takes[0] if takes else None,
            rabbet=rabbet[0] if rabbet else None,
            clearance=self._defaults.clearance if table.clearance is None else table.clearance,
            lip=self._defaults.lip if table.lip is None else table.lip,
            depth=table.depth,
            rail=table.rail,
            height=table.height,
            density=table.density,
            colour=table.colour,
            price=table.price,
            sticks=self._sticks(table, place),
            kerf=table.kerf or Fraction(0),
            spare=table.spare or Fraction(0),
        )
        return frame if self._is_sound(frame, place) and not self._faults.touches(place) else None

    def _sticks(self, table: FrameTable, place: Place) -> tuple[Stick, ...]:
        return tuple(
            Stick(length=stick.length, price=stick.price)
            for number, stick in enumerate(table.sticks or ())
            if self._faults.needs(stick, (*place, "sticks", number)) and stick.length is not None
        )

    def _is_sound(self, frame: Frame, place: Place) -> bool:
        """Whether the frame's own figures agree; a fault where they do not."""
        within = (
            frame.rabbet.grown(-frame.lip)
            if frame.rabbet
            else frame.takes.grown(frame.clearance / 2 - frame.lip)
            if frame.takes
            else None
        )
        if within is not None and (within.width <= 0 or within.height <= 0):
            self._faults.add(
                (*place, "lip" if self._written(place, "lip") else "takes" if frame.takes else "rabbet"),
                "the lip covers the whole rabbet, so nothing would be seen; write a smaller lip or a larger frame",
            )
            return False
        if frame.rabbet and frame.clearance >= min(frame.rabbet.width, frame.rabbet.height):
            self._faults.add(
                (*place, "clearance"),
                "the clearance is as wide as the rabbet, so no blank is left; write a few millimetres",
            )
            return False
        if frame.rail is not None and frame.rail < frame.lip:
            self._faults.add(
                (*place, "rail"),
                "the rail's face is narrower than its lip, which is a part of it; measure the face with the lip",
            )
            return False
        return True

    def _written(self, place: Place, key: str) -> bool:
        return self._faults.lines.has((*place, key))


_PLURAL = {MaterialKind.BOARD: "boards", MaterialKind.GLAZING: "glazing", MaterialKind.BACKING: "backing"}


def _density(substance: str) -> Fraction | None:
    """In kg/m³, of a substance that the tables know."""
    names = {"glass": "glass", "acrylic": "acrylic", "wood": "MDF", "board": "mat board"}
    figure = catalogue.figure(names[substance], catalogue.Quantity.DENSITY) if substance in names else None
    return figure.value if figure else None


def _known[T: Table](
    kind: str, tables: Mapping[str, T] | None, named: Mapping[str, object]
) -> Iterator[tuple[str, T | None]]:
    """Each of the job's own tables of that kind by name, None where it could not be read."""
    raw = named.get(kind)
    for name in raw if isinstance(raw, Mapping) else ():
        yield name, (tables or {}).get(name)
