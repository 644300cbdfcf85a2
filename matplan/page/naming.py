"""A thing of the job gets another name, and with it everything in the text that names it.

What a text names is told by the schema (`x-names`): a [frame], a [[piece]], an aperture of its own piece, a thing on
its own wall. Keys and texts are changed where they are written; nothing else moves.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any, Final

import tomlkit
from tomlkit.items import SingleKey

from matplan.catalogue import Kind, names
from matplan.faults import MatplanError
from matplan.job.file.document import Document
from matplan.job.file.kinds import NAMES
from matplan.job.file.lines import Place, place_text
from matplan.job.file.spans import Span, Spans
from matplan.job.file.texts import read_name
from matplan.job.read.shelves import with_supplies
from matplan.job.schema import schema
from matplan.lengths import Units
from matplan.page.arranging import replaced

TABLES: Final = {
    "paper": Kind.PAPERS, "board": Kind.BOARDS, "glazing": Kind.GLAZING, "backing": Kind.BACKING, "frame": Kind.FRAMES
}  # fmt: skip
"""Tables whose own tables are named by the user, and the built-in table that has such names, too."""
LISTS: Final = {"piece": "piece", "aperture": "aperture", "furniture": "thing", "keep_clear": "thing"}
"""Lists whose entries are named elsewhere, and what a text that names one is said to name."""

type Elsewhere = Callable[[str, str], str]
"""Says of a kind and a name where else a thing of that name stands, "" if nowhere."""


def elsewhere(job: Path, text: str, kind: str, name: str) -> str:
    """Return where a name stands beside the job's text: in the built-in tables, or a file of its supplies.

    Raises `JobError` where the text is no TOML.
    """
    if kind not in TABLES:
        return ""
    if name in names(TABLES[kind]):
        return "of the built-in tables"
    written = Document(text, file=job.name).data.get("supplies", [])
    alone = Document(tomlkit.dumps({"supplies": written}), file=job.name)
    return "of a supplies file" if name in with_supplies(alone, job.parent, job.name).data.get(kind, {}) else ""


class NamingFault(MatplanError, ValueError):
    """A name that cannot be given; the text says why."""


def renamed(text: str, place: Place, name: str, elsewhere: Elsewhere) -> str:
    """Return the text with the thing at a place called `name`, wherever the text names it. Raises `NamingFault`.

    `place` is a table with a name of the user's own, or the `name` of an entry of a list.
    """
    name = name.strip()
    try:
        read_name(name, Units.MM)
    except ValueError as error:
        raise NamingFault(f"{error}") from None
    thing = _Thing(tomllib.loads(text), place)
    if name == thing.name:
        return text
    thing.check(name, elsewhere)
    return replaced(text, thing.changes(Spans(text), name))


class _Thing:
    """What is at a place: its kind, its name, and the names of its like."""

    def __init__(self, data: Mapping[str, Any], place: Place) -> None:
        self.data, self.place = data, place
        self.scope: Place = ()
        match place:
            case (str(kind), str(name)) if kind in TABLES:
                self.kind, self.name = kind, name
                self.known = [*data[kind]]
            case (*outer, str(held), int(_), "name"):
                self.kind, self.scope = LISTS.get(held, ""), tuple(outer)
                around = _at(data, self.scope)
                like = [key for key in around if key == held or (self.kind and LISTS.get(key) == self.kind)]
                self.known = [one.get("name") for key in like for one in around[key]]
                self.name = _at(data, place)
            case _:
                raise NamingFault(f"{place_text(place)} has no name that other keys go by")

    def check(self, name: str, elsewhere: Elsewhere) -> None:
        """Refuse a name that something else has."""
        if name in self.known:
            raise NamingFault(f'there is "{name}" already; write another name')
        if not self.kind:
            return
        if there := elsewhere(self.kind, name):
            raise NamingFault(f'"{name}" is a name {there} already; write another')
        if self.kind not in TABLES:
            return
        if there := elsewhere(self.kind, self.name):
            text = f'"{self.name}" is a name {there}, too, and another name would leave that part out'
            raise NamingFault(f"{text}; make a new [{self.kind}] and name it where you want it")
        for one in (self.name, name):
            if key := self._unasked(one):
                text = f'pieces that name no {key} take "{one}" by themselves'
                raise NamingFault(f"{text}; write {key} on each of them first, or leave the name")
        if any(found == name for _, found, _ in self._named()):
            raise NamingFault(f'the job names "{name}" already, which it does not have; write another name')

    def changes(self, spans: Spans, name: str) -> Iterator[tuple[Span, str]]:
        """Yield each span of the text that has the old name, with the new one."""
        key, value = SingleKey(name).as_string(), tomlkit.item(name).as_string()
        if self.place[-1] == "name":
            yield spans.values[self.place], value
        else:
            yield from ((span, key) for span in spans.keys.get(self.place, ()))
        if self.known.count(self.name) > 1:
            return  # what names it may mean the other one
        for place, found, is_key in self._named():
            if found != self.name:
                continue
            if is_key:
                yield from ((span, key) for span in spans.keys.get(place, ()))
            elif place in spans.values:
                yield spans.values[place], value

    def _unasked(self, name: str) -> str:
        """Return the key by which a piece that leaves it out takes that name, "" if none does."""
        whole = schema()
        pieces = self.data.get("piece", [])
        for key, part in whole["$defs"]["Piece"]["properties"].items():
            if part.get("default") == name and any(
                one.get(NAMES) == self.kind for one in _options(part, whole["$defs"])
            ):
                return key if any(key not in piece for piece in pieces) else ""
        return ""

    def _named(self) -> Iterator[tuple[Place, str, bool]]:
        whole = schema()
        for kind, place, name, is_key in _names(self.data, whole, whole["$defs"], ()):
            if kind == self.kind and kind and place[: len(self.scope)] == self.scope:
                yield place, name, is_key


def _at(data: Any, place: Place) -> Any:
    for part in place:
        data = data[part]
    return data


def _names(value: Any, part: Mapping[str, Any], defs: Mapping[str, Any], place: Place) -> Iterator[Any]:
    """Yield what a value names, by its schema: the kind, where, the name, and whether it is a key."""
    for one in _options(part, defs):
        if isinstance(value, str) and NAMES in one:
            yield one[NAMES], place, value, False
            return
        if isinstance(value, Mapping):
            properties, others = one.get("properties", {}), one.get("additionalProperties")
            for key, each in value.items():
                if key in properties:
                    yield from _names(each, properties[key], defs, (*place, key))
                elif isinstance(others, Mapping):
                    if named := one.get("propertyNames", {}).get(NAMES):
                        yield named, (*place, key), key, True
                    yield from _names(each, others, defs, (*place, key))
        if isinstance(value, list) and one.get("type") == "array":
            entry = one.get("items", {})
            for number, each in enumerate(value):
                of = _list_of(one, entry) if isinstance(each, list) else entry
                yield from _names(each, of, defs, (*place, number))


def _list_of(outer: Mapping[str, Any], entry: Mapping[str, Any]) -> Mapping[str, Any]:
    """Return the schema of a list within a list: that of the outer one, where its own does not tell its entries."""
    inner = next((each for each in entry.get("anyOf", [entry]) if each.get("type") == "array"), entry)
    return inner if "items" in inner else outer


def _options(part: Mapping[str, Any], defs: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    if "$ref" in part:
        part = defs[part["$ref"].rpartition("/")[2]]
    if "anyOf" in part:
        for one in part["anyOf"]:
            yield from _options(one, defs)
    else:
        yield part
