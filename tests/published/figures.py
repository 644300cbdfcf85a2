"""Every figure that is not geometry, with its source and status: from the catalogue's tables, from the words beside the
program's constants, from the cautions, and of the job file's defaults from a table here.

A constant tells its status in its own words, in brackets: `(published: 2010 ADA Standards, 307.2)`, `(common
practice)`, `(derived: …)`, `(memory)`, `(own choice)`.
"""

from __future__ import annotations

import ast
import inspect
import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from importlib import import_module
from itertools import pairwise
from pathlib import Path
from typing import Final

import matplan
from matplan.catalogue import Kind, Material, rows
from matplan.catalogue.listing import listing
from matplan.documents.parts import cautions
from matplan.habits import IMPERIAL, METRIC, Ruler
from matplan.job import records
from matplan.job.file.table import Key, keys_of
from matplan.lengths import plain_decimal

ROOT: Final = Path(matplan.__file__).parent
STATUSES: Final = ("published", "derived", "common practice", "memory", "own choice")
_TOLD: Final = re.compile(rf"\(({'|'.join(STATUSES)})(?:[:;,] ((?:[^()]|\([^()]*\))*))?\)")


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One figure: what it is, as it stands here, how far it is to be trusted and where it comes from."""

    what: str
    here: str
    status: str
    source: str


def of_catalogue(kind: Kind) -> Iterator[Figure]:
    """The rows of a table; a material's thickness and its mass have statuses of their own."""
    table = listing(kind)
    columns = range(1, len(table.headers) - 2)
    for cells, row in zip(table.rows, rows(kind), strict=True):
        own = [n for n in columns if cells[n] and not table.headers[n].startswith(("Density", "Mass"))]
        here = "; ".join(f"{table.headers[n]}: {cells[n]}" for n in own)
        yield Figure(what=cells[0], here=here, status=row.status.value, source=row.source)
        if isinstance(row, Material):
            mass = f"{plain_decimal(row.mass_kg_m2, 2)} kg/m², {plain_decimal(row.density_kg_m3, 0)} kg/m³"
            yield Figure(what=f"{row.name}, mass", here=mass, status=row.mass_status.value, source=row.mass_source)


def of_constants() -> Iterator[tuple[str, Figure]]:
    """Each constant whose words tell a status, with its module's name."""
    for path in sorted(ROOT.rglob("*.py")):
        module = ".".join(path.relative_to(ROOT.parent).with_suffix("").parts).removesuffix(".__init__")
        body = ast.parse(path.read_text(encoding="utf-8")).body
        for made, said in pairwise(body):
            names = _names(made)
            if not names or not isinstance(said, ast.Expr) or not isinstance(said.value, ast.Constant):
                continue
            words = " ".join(str(said.value.value).split())
            for told in _TOLD.finditer(words):
                what = " ".join(re.sub(r" ([;.,])", r"\1", _TOLD.sub("", words)).split())
                values = [getattr(import_module(module), name) for name in names]
                what, here = _in_its_unit(what, values[0] if len(values) == 1 else tuple(values))
                yield module, Figure(what=what, here=here, status=told[1], source=told[2] or _NOTHING[told[1]])


_UNITS: Final = {
    "Inches, millimetres": (" in", " mm"),
    "Millimetres": (" mm",),
    "Degrees": ("°",),
    "Lux": (" lx",),
    "Lux hours": (" lx·h",),
}
"""What the words beside a constant begin with, where a value is of one unit or of two."""


def _in_its_unit(what: str, value: object) -> tuple[str, str]:
    """What a constant is, and its value in the unit that its words begin with."""
    unit, _, rest = what.partition(": ")
    if unit not in _UNITS:
        return what, written(value)
    signs = _UNITS[unit]
    values = value if isinstance(value, tuple) else (value,)
    sizes = [" × ".join(map(written, one)) if isinstance(one, tuple) else written(one) for one in values]
    shown = [f"{size}{signs[n % len(signs)]}" for n, size in enumerate(sizes)]
    return rest[:1].upper() + rest[1:], ", ".join(shown)


_NOTHING: Final = {
    "common practice": "several plain articles or shops' habits agree",
    "memory": "found in no source",
    "own choice": "a threshold of this program",
    "published": "",
    "derived": "",
}
"""What stands for the source where a status tells none."""


def _names(made: ast.stmt) -> list[str]:
    """The names that a statement gives values to."""
    match made:
        case ast.AnnAssign(target=target) | ast.Assign(targets=[target]):
            return [one.id for one in ast.walk(target) if isinstance(one, ast.Name)]
        case _:
            return []


def written(value: object) -> str:
    """A value as people read it.

    >>> written((Fraction(3, 8), 10)), written(Fraction(1, 7)), written(Fraction("25.4"))
    ('0.375, 10', '1/7', '25.4')
    """
    match value:
        case tuple() | list():
            return ", ".join(map(written, value))
        case Fraction():
            decimal = plain_decimal(value, 14)
            return decimal if Fraction(decimal) == value else f"{value.numerator}/{value.denominator}"
        case _:
            return str(value)


def of_cautions() -> Iterator[Figure]:
    """Each caution with what the comment above it says of its source."""
    source = inspect.getsource(cautions).splitlines()
    texts = {line for lines in cautions._WORDS.values() for line in lines}
    tree = ast.walk(ast.parse("\n".join(source)))
    found = [n for n in tree if isinstance(n, ast.Constant) and n.value in texts]
    for node in sorted(found, key=lambda one: one.lineno):
        above = [line.strip() for line in source[: node.lineno - 1] if line.strip() != "("][-1].removeprefix("# ")
        status = next(status for status in STATUSES if above.startswith(status))
        text = str(node.value).format(**cautions._FIGURES[METRIC])
        told = above.removeprefix(status).strip(" :;,") or _NOTHING[status]
        yield Figure(what=text, here="", status=status, source=told)


# --- habits of the unit systems --------------------------------------------------------------------------------------

_SCALE: Final = "memory", "ISO 5455, recommended scales"
HABITS: Final = {
    "papers": (("published", "ISO 216, A series"), ("published", "ANSI/ASME Y14.1, sheet sizes")),
    "scales": (_SCALE, ("common practice", "full size, 6 in to the foot and so on")),
    "further_scales": (("own choice", "the series continued, for what no paper takes in it"),) * 2,
    "enlargements": (_SCALE, ("common practice", "doublings of full size")),
    "ruler": (("own choice", "a check ruler"), ("own choice", "a check ruler")),
    "wire_step": (("own choice", "wire is cut to whole numbers of it"),) * 2,
}
"""Of what the unit systems have in figures beside their units: status and source, metric and inch."""


def of_habits() -> Iterator[Figure]:
    """What differs with a job's units."""
    for field, told in HABITS.items():
        for system, habits, (status, source) in zip(("metric", "inch"), (METRIC, IMPERIAL), told, strict=True):
            here = _habit(getattr(habits, field))
            yield Figure(
                what=f"{field.replace('_', ' ').capitalize()}, {system}", here=here, status=status, source=source
            )


def _habit(value: object) -> str:
    """A habit as people read it: papers as sizes in millimetres, scales as ratios."""
    match value:
        case Ruler():
            return value.label
        case tuple() if all(isinstance(one, Fraction) for one in value):
            return ", ".join(f"{one.numerator}:{one.denominator}" for one in value)
        case tuple():
            return ", ".join(f"{wide:g} × {high:g} mm" for wide, high in value)
        case _:
            return f"{written(value)} mm"


# --- defaults of the job file ----------------------------------------------------------------------------------------

_HABIT: Final = "common practice", _NOTHING["common practice"]
_OWN: Final = "own choice", "a default of this program"
DEFAULTS: Final = {
    "Window.overlap": ("common practice", "photographers' habit, 1/8 to 1/4 in; 2 to 3 mm in Britain"),
    "Window.reveal": ("common practice", "about 3/8 in of white paper round an image"),
    "Window.gap": ("common practice", "at least 1/4 in round a floated work"),
    "LayerAsk.reveal": ("common practice", "a second mat shows usually 1/4 in"),
    "Piece.gutter": _OWN,
    "Frame.clearance": ("common practice", "frames are made 1/8 in over their nominal size"),
    "Frame.lip": ("common practice", "a lip covers 1/4 in (6 mm) a side"),
    "Paper.printer_margin": ("common practice", "home printers leave about 3 mm (1/8 in) white"),
    "Paper.ppi": ("common practice", "prints are usually wanted with 300 or 360 ppi"),
    "Job.step": _OWN,
    "Climate.temperature": _OWN,
    "Climate.humidity": _OWN,
    "Wall.eye": ("common practice", "centre lines stand at 57 in (145 cm)"),
    "Wall.gap": ("common practice", "2 to 3 in (50 to 75 mm) between frames"),
    "ByWire.anchors": ("common practice", "1/4 to 1/3 of the height below the top"),
    "Labels.size": _OWN,
    "Labels.gap": _OWN,
}
"""Of each default that is a figure its status and source, by its record and key."""
_SAME: Final = ("ApertureAsk.", "Group.", "Piece.overlap", "Piece.reveal", "Piece.gap")
"""The same defaults at other places of the file."""


def defaults() -> Iterator[tuple[str, Key]]:
    """Each default of the job file that is a figure and not nothing, by its record and key."""
    for name, record in sorted(vars(records).items()):
        if not hasattr(record, "__dataclass_fields__") or not isinstance(record, type):
            continue
        for key in keys_of(record).values():
            place = f"{name}.{key.name}"
            if not place.startswith(_SAME) and _figure(key):
                yield place, key


def _figure(key: Key) -> str:
    """A default as it is written, or nothing where it is none to trust or distrust."""
    said = key.unsaid
    if isinstance(said, str) and said[:1].isdigit():
        return f"{said} ({key.inches} in inch jobs)" if isinstance(key.inches, str) else said
    match key.default:
        case (Fraction(), Fraction()) | Fraction() | int() if not isinstance(key.default, bool):
            text = written(key.default)
            return "" if text in ("0", "1") else text
        case _:
            return ""


def of_defaults() -> Iterator[Figure]:
    """The defaults with their sources."""
    for place, key in defaults():
        status, source = DEFAULTS[place]
        yield Figure(what=key.says, here=_figure(key), status=status, source=source)
