"""Kinds of value that hold others: a table, a list, tables with names, a table of several kinds, a name to look up."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import MISSING, dataclass
from typing import Any, Final

from matplan.job.file.lines import Place
from matplan.job.file.table import LISTS, Key, Kind, Opened, Reader, Schema, Tables, Told, keys_of
from matplan.job.file.wrong import got, listed, nearest

NAMES: Final = "x-names"
"""The schema's own word for what a text names: a [frame], a [[piece]]. Renaming goes by it, and so do suggestions."""


@dataclass(frozen=True, slots=True)
class TableOf:
    """A table that is read into a record; `short` names the key that a bare value stands for."""

    record: type
    without: tuple[str, ...] = ()
    short: str = ""
    refused: str = ""
    """What to write in place of a value that is neither a table nor the short form."""

    def read(self, value: object, place: Place, reader: Reader, /) -> Any:
        bare = bool(self.short) and isinstance(value, str)
        if self.refused and not bare and not isinstance(value, dict):
            raise ValueError(f"{got(value)}; {self.refused}")
        opened: Opened[Any] = reader.open(
            self.record, {self.short: value} if bare else value, place, without=self.without
        )
        opened.bare = bare
        return opened.made()

    def schema(self, tables: Tables, /) -> Schema:
        table = tables(self.record, self.without)
        if not self.short:
            return table
        return {"anyOf": [keys_of(self.record)[self.short].kind.schema(tables), table]}


@dataclass(frozen=True, slots=True)
class ListOf:
    """A list; `one`: its only entry may stand without brackets. With `exactly`, a list of so many, and its example."""

    kind: Kind
    one: bool = False
    exactly: tuple[int, str] | None = None

    def read(self, value: object, place: Place, reader: Reader, /) -> Any:
        if not isinstance(value, list):
            if self.one and isinstance(value, str | dict):
                return (self.kind.read(value, place, reader),)
            if self.exactly:
                raise ValueError(f"{got(value)}; {self.exactly[1]}")
            if place and (form := LISTS.get(str(place[-1]))):
                raise ValueError(f"{got(value)}; write {form} with double brackets for each {place[-1]}")
            raise ValueError(f"{got(value)}; write a list in square brackets")
        if self.exactly and len(value) != self.exactly[0]:
            raise ValueError(f"got a list of {len(value)}; {self.exactly[1]}")
        found = tuple(reader.value(self.kind, entry, (*place, number)) for number, entry in enumerate(value))
        if MISSING in found:
            raise Told
        return found

    def schema(self, tables: Tables, /) -> Schema:
        entry = self.kind.schema(tables)
        if self.exactly:
            count = self.exactly[0]
            return {"type": "array", "minItems": count, "maxItems": count, "items": entry}
        many = {"type": "array", "items": entry}
        return {"anyOf": [entry, many]} if self.one else many


@dataclass(frozen=True, slots=True)
class Nested:
    """A list whose entries may be lists of the same kind, to any depth."""

    kind: Kind

    def read(self, value: object, place: Place, reader: Reader, /) -> Any:
        if not isinstance(value, list):
            raise ValueError(f"{got(value)}; write a list in square brackets")
        found = tuple(
            reader.value(self if isinstance(entry, list) else self.kind, entry, (*place, number))
            for number, entry in enumerate(value)
        )
        if MISSING in found:
            raise Told
        return found

    def schema(self, tables: Tables, /) -> Schema:
        entry = self.kind.schema(tables)
        return {"type": "array", "items": {"anyOf": [entry, {"type": "array"}]}}


@dataclass(frozen=True, slots=True)
class NamesOf:
    """Tables with names of the user's own, `[paper.rag]`: pairs of a name and what is read; faulty ones are `None`."""

    kind: Kind
    name: Kind

    @property
    def _keys(self) -> Mapping[str, Key]:
        return keys_of(self.kind.record) if isinstance(self.kind, TableOf) else {}

    def read(self, value: object, place: Place, reader: Reader, /) -> Any:
        if not isinstance(value, dict):
            example = f", like [{place[-1]}.one]" if len(place) == 1 else ""
            raise ValueError(f"{got(value)}; write a table with a name of its own{example}")
        if any(name in self._keys and not isinstance(inner, dict) for name, inner in value.items()):
            raise ValueError(f"the table has no name of its own; write it as [{place[-1]}.one], with a name of yours")
        found = []
        for name, inner in value.items():
            here = (*place, name)
            known = reader.value(self.name, name, here)
            read = reader.value(self.kind, inner, here)
            found.append((name, None if MISSING in (known, read) or reader.faults.touches(here) else read))
        return tuple(found)

    def schema(self, tables: Tables, /) -> Schema:
        name = self.name.schema(tables)
        about = {"propertyNames": name} if NAMES in name else {}
        return {"type": "object", **about, "additionalProperties": self.kind.schema(tables)}


@dataclass(frozen=True, slots=True)
class OneOf:
    """A table that is read into one of several records: `by` names which, the first where it is not written."""

    by: Key
    ways: Mapping[str, type]
    what: str
    """Who goes by that way, for messages."""

    def read(self, value: object, place: Place, reader: Reader, /) -> Any:
        if not isinstance(value, dict):
            raise ValueError(f"{got(value)}; write a table: {{ … }} or a head in square brackets")
        by, here = self.by.name, (*place, self.by.name)
        way = reader.value(self.by.kind, value.get(by, self.by.unsaid), here)
        if way is MISSING:
            raise Told
        if way not in self.ways:
            near = nearest(way, self.ways, 1)
            reader.faults.add(
                here, f"{got(way)}; {f'did you mean {listed(near)}?' if near else f'write {listed(self.ways)}'}"
            )
            raise Told
        own = keys_of(self.ways[way])
        for name in sorted(name for name in value if name in self._keys and name not in own and name != by):
            homes = listed(way for way, record in self.ways.items() if name in keys_of(record))
            text = f'{name} goes with {by} = {homes}, but {self.what} by "{way}"; change {by}, or leave {name} out'
            reader.faults.add((*place, name), text)
        for name, key in own.items():
            if key.needs and name not in value and not reader.faults.touches((*place, name)):
                text = f'{name} is missing; {by} = "{way}" needs it, like {key.needs}'
                reader.faults.add((*place, name), text, line_of=place)
        return Opened(reader, self.ways[way], value, place, self._keys).made()

    @property
    def _keys(self) -> dict[str, Key]:
        every = {name: key for record in self.ways.values() for name, key in keys_of(record).items()}
        return {self.by.name: self.by, **every}

    def schema(self, tables: Tables, /) -> Schema:
        return {
            "type": "object",
            "properties": {name: key.schema(tables) for name, key in self._keys.items()},
            "additionalProperties": False,
        }


@dataclass(frozen=True, slots=True)
class Naming:
    """A name of something that stands elsewhere in the job: `of` says of what, "piece" or "aperture"."""

    kind: Kind
    of: str

    def read(self, value: object, place: Place, reader: Reader, /) -> Any:
        return self.kind.read(value, place, reader)

    def schema(self, tables: Tables, /) -> Schema:
        return {**self.kind.schema(tables), NAMES: self.of}


@dataclass(frozen=True, slots=True)
class Then:
    """A kind whose value is a function of what another kind reads."""

    kind: Kind
    turned: Callable[[Any], Any]

    def read(self, value: object, place: Place, reader: Reader, /) -> Any:
        return self.turned(self.kind.read(value, place, reader))

    def schema(self, tables: Tables, /) -> Schema:
        return self.kind.schema(tables)


@dataclass(frozen=True, slots=True)
class Named:
    """A name that is looked up among the job's own tables and the tables of the catalogue."""

    kind: str
    name: Kind

    def read(self, value: object, place: Place, reader: Reader, /) -> Any:
        if isinstance(value, dict):
            raise ValueError(f'{got(value)}; write it as [{self.kind}.one], and {self.kind} = "one" here')
        return reader.find(self.kind, self.name.read(value, place, reader))

    def schema(self, tables: Tables, /) -> Schema:
        return {**self.name.schema(tables), NAMES: self.kind}
