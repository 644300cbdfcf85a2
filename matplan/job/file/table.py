"""Tables of a job file and the records that are read from them.

A record is a frozen dataclass whose fields are declared with `key`: the kind of value that the file may hold, its
words, an example where it is needed, and what is taken where the file says nothing. Reading, messages and the JSON
Schema come from that one place. A field without `key` is no key of the file; who reads the record gives it.

`Reader` reads one value or one table and takes up every fault; a value that is faulty is left out, so that the rest can
still be checked, and `Faults.touches` then tells whether a record is sound.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import MISSING, dataclass, field, fields, replace
from fractions import Fraction
from functools import cache
from inspect import get_annotations
from typing import Any, Protocol, cast

from matplan.job.file.complaints import Faults
from matplan.job.file.lines import Lines, Place
from matplan.job.file.wrong import got, known_keys, listed, nearest, quoted
from matplan.lengths import Printer, Step, Units

type Schema = dict[str, Any]
type Tables = Callable[[type, tuple[str, ...]], Schema]
"""Gives the schema of a record without some of its keys."""


class Told(Exception):
    """A value that cannot be used, which is told already."""


class Kind(Protocol):
    """A kind of value: how it is read, and the JSON Schema of what may be written for it."""

    def read(self, value: object, place: Place, reader: Reader, /) -> Any:
        """Return the value as the record holds it. Raises `ValueError` with words for the user, or `Told`."""
        ...

    def schema(self, tables: Tables, /) -> Schema:
        """Return the JSON Schema of what may be written."""
        ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Key:
    """One key of a table."""

    name: str
    """As the file has it."""
    field: str
    kind: Kind
    says: str
    needs: str
    """How it is written, where the table cannot do without it; else ""."""
    unsaid: object
    """What is read where the file says nothing; `MISSING`: the default of the record's field."""
    inches: object
    """What is read in an inch job; `MISSING`: as `unsaid`."""
    default: object
    like: object
    """An example of a value, as the file holds it."""

    @property
    def example(self) -> object:
        """Return a value that may be written for it; `MISSING` where its kind tells enough."""
        return tomllib.loads(self.needs)[self.name] if self.needs else self.like

    def usual(self, units: Units) -> object:
        """Return what is read where a job in those units says nothing."""
        return self.inches if units is Units.IN and self.inches is not MISSING else self.unsaid

    def schema(self, tables: Tables, /) -> Schema:
        """Return the JSON Schema of its value, with its words and its default."""
        of_kind = self.kind.schema(tables)
        by_units = self.inches is not MISSING
        words = f"{self.says} Default {self.unsaid}, {self.inches} in an inch job." if by_units else self.says
        shown = MISSING if by_units else self.default if self.unsaid is MISSING else self.unsaid
        if isinstance(shown, Fraction) and shown.denominator == 1:
            shown = int(shown)
        about: Schema = {"default": shown} if isinstance(shown, bool | int | str) and shown != "" else {}
        if self.example is not MISSING:
            others = (each for each in of_kind.get("examples", ()) if each != self.example)
            about["examples"] = [self.example, *others]
        return {**of_kind, "description": words, **about}


def key(
    kind: Kind,
    says: str,
    default: Any = MISSING,
    *,
    needs: str = "",
    unsaid: Any = MISSING,
    inches: Any = MISSING,
    name: str = "",
    instead: tuple[str, Kind, str] | None = None,
    like: Any = MISSING,
) -> Any:
    """Declare a record's field as a key of the file. `default` is the field's own, for records made in code, `like` an
    example of what is written.

    `instead` is another key for the field, with its kind and its words: the same in another unit.
    """
    about = {"kind": kind, "says": says, "needs": needs, "unsaid": unsaid, "inches": inches, "name": name}
    about |= {"instead": instead, "like": like}
    return field(metadata={"key": about}) if default is MISSING else field(default=default, metadata={"key": about})


def keys_of(record: type, without: tuple[str, ...] = ()) -> dict[str, Key]:
    """Return the keys of a record by their names, its own before those of the record that it `shares`."""
    return _keys_of(record, without)


@cache
def _keys_of(record: Any, without: tuple[str, ...]) -> dict[str, Key]:
    own = get_annotations(record)
    found: list[Key] = []
    for each in sorted(fields(record), key=lambda each: each.name not in own):
        if not (about := dict(each.metadata.get("key", {}))):
            continue
        instead = about.pop("instead")
        about["name"] = about["name"] or each.name
        found.append(Key(field=each.name, default=each.default, **about))
        if instead:
            name, kind, says = instead
            found.append(replace(found[-1], name=name, kind=kind, says=says))
    shared = keys_of(record.shares) if hasattr(record, "shares") else {}
    return {key.name: key for key in found if key.name not in without} | shared


@cache
def _by_field(record: Any, names: frozenset[str]) -> dict[str, tuple[Key, ...]]:
    """Return the keys of each field of a record, as far as they are among the names."""
    found: dict[str, tuple[Key, ...]] = {}
    for key in _keys_of(record, ()).values():
        if key.name in names:
            found[key.field] = (*found.get(key.field, ()), key)
    return found


def usual(record: type, name: str, units: Units) -> Any:
    """Return what a record's field is where a job in those units says nothing.

    >>> from matplan.job.records import Frame
    >>> usual(Frame, "lip", Units.MM)
    Fraction(6, 1)
    """
    key = next(key for key in keys_of(record).values() if key.field == name)
    return Reader(units=units, faults=Faults(Lines(""))).read_default(key, ())


LISTS = {"piece": "[[piece]]", "wall": "[[wall]]", "aperture": "[[piece.aperture]]", "group": "[[wall.group]]"}
"""Keys whose tables are written with a head in double brackets."""

type Maker = Callable[[Opened[Any]], Any]
"""Makes a record for which its table alone does not tell all, and takes up what is wrong between its keys."""


@cache
def _plain(kind: Written, unsaid: object, units: Units) -> Any:
    return kind.check(unsaid, units)


def _unknown(kind: str, name: str) -> Any:
    raise ValueError(f"{got(name)}, but no {kind} is known here")


@dataclass(slots=True, kw_only=True)
class Reader:
    """Reads values and tables of one file. `find` looks up a name of a kind and raises `ValueError` or `Told`."""

    units: Units
    faults: Faults
    currency: str = ""
    """What prices are in."""
    find: Callable[[str, str], Any] = _unknown
    makers: Mapping[type, Maker] = field(default_factory=dict)
    other_words: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """For other words that people write for a key the keys that may be meant."""
    examples: Mapping[str, str] = field(default_factory=dict)
    """How a key is written that is meant by another word."""
    homes: Mapping[str, str] = field(default_factory=dict)
    """For each key the tables that it belongs in."""
    slips: list[tuple[Place, str]] = field(default_factory=list)
    """Sizes that look like another unit's: each place with its question."""
    idle: list[tuple[Place, str]] = field(default_factory=list)
    """Keys that change nothing where they stand: each place with what would give it work."""

    def shown(self, length: Any) -> str:
        """Return a length as messages print it."""
        return Printer(self.units, Step.usual(self.units)).length(length)

    def value(self, kind: Kind, value: object, place: Place) -> Any:
        """Return that value, or `MISSING` with a fault taken up."""
        units = self.units
        self.units = self.faults.lines.units_of(place, units)
        try:
            return kind.read(value, place, self)
        except Told:
            self.faults.touch(place)
        except ValueError as error:
            self.faults.add(place, str(error))
        finally:
            self.units = units
        return MISSING

    def read_default(self, key: Key, place: Place) -> Any:
        """Return what the key is where the file says nothing; `MISSING` where the record has no such default."""
        unsaid = key.usual(self.units)
        if unsaid is MISSING:
            return key.default
        return (
            _plain(key.kind, unsaid, self.units)
            if isinstance(key.kind, Written)
            else self.value(key.kind, unsaid, place)
        )

    def open[T](self, record: type[T], table: object, place: Place, *, without: tuple[str, ...] = ()) -> Opened[T]:
        """Open a table to read it into a record. Raises `ValueError` where it is none."""
        if not isinstance(table, dict):
            form = LISTS.get(str(place[-2])) if len(place) > 1 else None
            raise ValueError(f"{got(table)}; write a table: {form or '{ … } or a head in square brackets'}")
        return Opened(self, record, table, place, keys_of(record, without))


class Opened[T]:
    """One table of the file: every key of its record is read once, unknown ones are refused."""

    def __init__(
        self,
        reader: Reader,
        record: type[T],
        table: Mapping[str, object],
        place: Place,
        keys: Mapping[str, Key] | None = None,
    ) -> None:
        self.reader, self.record, self.table, self.place = reader, record, table, place
        self.keys = keys = keys_of(record) if keys is None else keys
        self.bare = False
        """Whether a bare value stands for the table, so that its key has no place of its own."""
        own = keys_of(record)
        self._by_field = _by_field(cast("Any", record), frozenset(own if keys is own else own.keys() & keys.keys()))
        self._read: dict[str, Any] = {}
        for name in table:
            if name not in keys:
                self._refuse(name)

    def _refuse(self, name: str) -> None:
        word = name.casefold().replace("-", "_").replace(" ", "_")
        other = [key for key in self.reader.other_words.get(word, ()) if key in self.keys and key not in self.table]
        home = "" if other else self.reader.homes.get(word, "")
        near = other[:1] or ([] if home else nearest(name, self.keys, 1))
        known = f"did you mean {listed(near)}?" if near else f"known here: {known_keys(tuple(self.keys))}"
        if home:
            known = f"it belongs in {home}"
        if other and self.place and (example := self.reader.examples.get(other[0])):
            known = f"{known} write it like {example}"
        self.reader.faults.add((*self.place, name), f"there is no key {quoted(name)} here; {known}")
        if near:
            self.reader.faults.guess((*self.place, near[0]))

    def says(self, name: str) -> bool:
        """Return whether the file has that key."""
        return name in self.table

    def faulty(self, *names: str) -> bool:
        """Return whether one of those keys is faulty, so that nothing follows from it."""
        return any(self.reader.faults.touches((*self.place, name)) for name in names)

    def value(self, field: str) -> Any:
        """Return the value of a field; its default where the file says nothing, or where it is faulty."""
        if field in self._read:
            return self._read[field]
        key = self._written(field)
        here = self.place if self.bare else (*self.place, key.name)
        if key.name in self.table:
            found = self.reader.value(key.kind, self.table[key.name], here)
        else:
            found = MISSING
            if key.needs and not self.reader.faults.touches(here):
                text = f"{key.name} is missing; write it like {key.needs}"
                self.reader.faults.add(here, text, line_of=self.place)
        self._read[field] = self.reader.read_default(key, here) if found is MISSING else found
        return self._read[field]

    def _written(self, field: str) -> Key:
        """Return the key of a field that the file has, the first where it has none; a second one is told."""
        keys = self._by_field[field]
        if len(keys) == 1:
            return keys[0]
        written = [key for key in keys if key.name in self.table] or keys
        for other in written[1:] if written is not keys else ():
            self.wrong(other.name, text=f"{written[0].name} and {other.name} say the same; leave one of them out")
        return written[0]

    def make(self, **given: Any) -> T:
        """Return the record. Raises `Told` where it lacks something that it cannot do without."""
        values: dict[str, Any] = given
        own = cast("Any", self.record).__dataclass_fields__
        for name in self._by_field:
            if name in own and name not in given:
                values[name] = self.value(name)
        if MISSING in values.values():
            raise Told
        return self.record(**values)

    def made(self) -> T:
        """Return the record by its own maker, else from its keys alone. Raises `Told` as `make` does."""
        maker = self.reader.makers.get(self.record)
        return self.make() if maker is None else cast("T", maker(self))

    @property
    def sound(self) -> bool:
        """Whether no fault stands in the table so far."""
        return not self.reader.faults.touches(self.place)

    def wrong(self, *within: str | int, text: str, line_of: Place | None = None, sized: bool = False) -> None:
        """Take up what is wrong with a key or what stands in it; with the whole table where none is named.

        `sized`: it is about a size, so that a slip of the unit may explain it.
        """
        self.reader.faults.add((*self.place, *within), text, line_of=line_of, sized=sized)


# --- kinds of value  ------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Written:
    """A plain value: its check, which raises `ValueError`, and the JSON Schema of what may be written for it."""

    check: Callable[[object, Units], Any]
    said: Schema = field(compare=False)

    def read(self, value: object, _place: Place, reader: Reader, /) -> Any:
        return self.check(value, reader.units)

    def schema(self, _tables: Tables, /) -> Schema:
        return dict(self.said)


def check_names(names: Sequence[str | None], places: Sequence[Place], faults: Faults, what: str) -> None:
    """Take up a fault for each name that an earlier one has already."""
    seen: dict[str, Place] = {}
    for name, place in zip(names, places, strict=True):
        if not name:
            continue
        if name in seen:
            line = faults.lines.of((*seen[name], "name"))
            text = f"{got(name)}, which is the name of {what} on line {line} too; write another"
            faults.add((*place, "name"), text)
        seen.setdefault(name, place)
