"""Collecting what is wrong with a job: each fault once, with its place and line, and none that only follows from
another.

`written_job` reads a document into the model. What pydantic refuses becomes a fault and is taken out, so that the rest
can still be read and checked; `Faults.touches` then tells whether something is missing only because it was faulty.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, get_args

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from matplan.faults import Fault, printable
from matplan.job.file.document import Document
from matplan.job.file.lines import Lines, Place, place_text
from matplan.job.file.table import Table
from matplan.job.file.written import got, listed, nearest, quoted
from matplan.job.model import JobTable
from matplan.lengths import Units


class Faults:
    """The faults of one job so far."""

    def __init__(self, lines: Lines) -> None:
        self.lines = lines
        self._found: list[Fault] = []
        self._touched: set[Place] = set()
        self._hanging: set[Place] = set()

    def __bool__(self) -> bool:
        return bool(self._found)

    def add(self, place: Place, text: str, *, line_of: Place | None = None) -> None:
        """One thing wrong at that place; its line is that of `line_of` where another place says it better."""
        self._found.append(
            Fault(line=self.lines.of(place if line_of is None else line_of), where=place_text(place), text=text)
        )
        for length in range(len(place) + 1):
            self._touched.add(place[:length])

    def guess(self, place: Place) -> None:
        """A misspelt key was probably meant for that place, so that nothing is missing there."""
        self._touched.add(place)

    def touches(self, place: Place) -> bool:
        """Whether something at that place or in it is faulty."""
        return place in self._touched

    def leave(self, place: Place) -> None:
        """The value at that place names something faulty: the value is right, and what holds it cannot be solved."""
        for length in range(len(place) + 1):
            self._hanging.add(place[:length])

    def leaves(self, place: Place) -> bool:
        """Return whether something at that place or in it is faulty, or names something faulty."""
        return place in self._touched or place in self._hanging

    def in_order(self) -> tuple[Fault, ...]:
        """Every fault by its line, each once."""
        return tuple(sorted(dict.fromkeys(self._found), key=lambda fault: fault.line or 0))

    def needs(self, table: Table, place: Place) -> bool:
        """Whether the table has every key that it needs; a fault for each that is missing."""
        whole = True
        for key, example in table.needs.items():
            if getattr(table, key) is None:
                whole = False
                if not self.touches((*place, key)):
                    self.add((*place, key), f"{key} is missing; write it like {example}", line_of=place)
        return whole


def near_names(word: str, known: Iterable[str], *, kind: str) -> str:
    """What to do about an unknown name: the near ones, else the first of all."""
    names = list(known)
    near = nearest(word, names)
    if near:
        return f"did you mean {listed(near)}?"
    if not names:
        return "none is written"
    return f"{kind} known here: {', '.join(printable(name, 40) for name in names[:8])}{' …' if len(names) > 8 else ''}"


def written_job(document: Document) -> tuple[JobTable, Units, Faults]:
    """The job as written, the units of its bare numbers, and the faults of what had to be left out."""
    faults = Faults(document.lines)
    units = _units(document.data)
    data = document.data
    for _ in range(
        8
    ):  # once is enough for a sound job, twice for a faulty one; more only where a list's entry hid another's fault
        try:
            return JobTable.model_validate(data, context=units), units, faults
        except ValidationError as error:
            details = error.errors(include_url=False)
            for detail in details:
                place, text = _complaint(detail, document.data)
                faults.add(place, text)
                if detail["type"] == "extra_forbidden" and (
                    near := nearest(str(place[-1]), _table_at(tuple(detail["loc"])[:-1]).keys())
                ):
                    faults.guess((*place[:-1], near[0]))
            data = _without(data, [tuple(detail["loc"]) for detail in details])
    return JobTable(), units, faults


def _units(data: dict[str, Any]) -> Units:
    written = data.get("units")
    try:
        return Units(written.strip().casefold()) if isinstance(written, str) else Units.MM
    except ValueError:
        return Units.MM


# --- pydantic's words into ours --------------------------------------------------------------------------------------

_FORMS = {"piece": "[[piece]]", "wall": "[[wall]]", "aperture": "[[piece.aperture]]"}


def _complaint(detail: ErrorDetails, data: object) -> tuple[Place, str]:
    """The place and the words for one of pydantic's errors."""
    loc = tuple(detail["loc"])
    key = loc[-1] if loc else ""
    place = _as_written(loc[:-1] if key == "[key]" else loc, data)
    value = detail["input"]
    match detail["type"]:
        case "value_error":
            return place, str(detail.get("ctx", {}).get("error", detail["msg"]))
        case "extra_forbidden":
            return place, _unknown_key(loc)
        case "tuple_type" if key in _FORMS:
            return place, f"{got(value)}; write {_FORMS[str(key)]} with double brackets for each {key}"
        case "tuple_type":
            return place, f"{got(value)}; write a list in square brackets"
        case "too_short" | "too_long" | "missing":
            return place, f"{got(value)}; write two numbers like [0.5, 0]"
        case "dict_type" if len(place) == 1:
            return place, f"{got(value)}; write a table with a name of its own, like [{key}.one]"
        case "model_type" | "model_attributes_type" | "dict_type":
            example = (
                _FORMS[str(place[-2])]
                if len(place) > 1 and place[-2] in _FORMS
                else "{ … } or a head in square brackets"
            )
            return place, f"{got(value)}; write a table: {example}"
    return place, f"{got(value)}: {printable(detail['msg'], 120)}"


def _as_written(place: Place, data: object) -> Place:
    """That place without the steps that a short form does not have in the file: `image.size` of `image = "…"`."""
    value: Any = data
    written: list[str | int] = []
    for part in place:
        if isinstance(part, int) and isinstance(value, dict):
            continue  # one table where a list of them may stand
        if isinstance(part, str):
            if not isinstance(value, dict):
                break
            value = value.get(part)
        else:
            if not isinstance(value, list) or part >= len(value):
                break
            value = value[part]
        written.append(part)
    return tuple(written)


def _unknown_key(place: Place) -> str:
    table = _table_at(place[:-1])
    key = str(place[-1])
    near = nearest(key, table.keys())
    keys = table.keys()
    known = (
        f"did you mean {listed(near[:1])}?"
        if near
        else f"known here: {', '.join(keys[:12])}{' …' if len(keys) > 12 else ''}"
    )
    return f"there is no key {quoted(key)} here; {known}"


def _table_at(place: Place) -> type[Table]:
    """The model of the table at that place."""
    table: type[Table] = JobTable
    named = False
    for part in place:
        if named:  # a name of the user's own: [paper.rag]
            named = False
            continue
        field = next((field for name, field in table.model_fields.items() if part == (field.alias or name)), None)
        inner, named = _inner_table(field.annotation) if field is not None else (None, False)
        table = inner or table
    return table


def _inner_table(annotation: object) -> tuple[type[Table] | None, bool]:
    """The table within a type such as `tuple[PieceTable, ...] | None`, and whether names lead to it."""
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return annotation, False
    for argument in get_args(annotation):
        inner, named = _inner_table(argument)
        if inner is not None:
            return inner, named or getattr(annotation, "__origin__", None) is dict
    return None, False


# --- leaving out what is faulty --------------------------------------------------------------------------------------


def _without(data: dict[str, Any], places: list[Place]) -> dict[str, Any]:
    """The data without what stands at those places. A list with a faulty plain entry goes as a whole."""
    keys: set[Place] = set()
    for place in places:
        found = _as_written(place[:-1] if place and place[-1] == "[key]" else place, data)
        while found and isinstance(found[-1], int):
            found = found[:-1]
        keys.add(found)
    return {key: _pruned(value, (key,), keys) for key, value in data.items() if (key,) not in keys}


def _pruned(value: Any, place: Place, without: set[Place]) -> Any:
    if isinstance(value, dict):
        return {
            key: _pruned(inner, (*place, key), without) for key, inner in value.items() if (*place, key) not in without
        }
    if isinstance(value, list):
        return [_pruned(inner, (*place, number), without) for number, inner in enumerate(value)]
    return value
