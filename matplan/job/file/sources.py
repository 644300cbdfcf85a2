"""Which file each part of a job stands in, where supplies files stand behind the job file.

A file tells the line of a part and the units of its bare numbers.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from matplan.job.file.lines import Lines, Place
from matplan.lengths import Units


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """A file: what messages call it ("" for the job file), where its parts stand, and its units (`None`: the job's)."""

    file: str
    lines: Lines
    units: Units | None = None


@dataclass(slots=True)
class Sources:
    """The sources of a job; `origins` has for each part that is not where the job says it, its file and place there."""

    own: Source
    origins: dict[Place, tuple[Source, Place]] = field(default_factory=dict)

    def told(self, place: Place) -> tuple[Source, Place]:
        """Return the file that a place stands in, and its place there."""
        for length in range(min(len(place), 4), 0, -1):
            found = self.origins.get(place[:length])
            if found is not None:
                return found[0], found[1] + place[length:]
        return self.own, place

    def of(self, place: Place) -> int:
        """Return the line, in its file, where a key, table or list entry begins."""
        source, there = self.told(place)
        return source.lines.of(there)

    def units_of(self, place: Place, units: Units) -> Units:
        """Return the units of a bare number at a place of a job in those units."""
        if not self.origins:
            return units
        return self.told(place)[0].units or units


HEAPED = {"sheets", "sticks"}
"""Lists that add up, where several files name them."""


def merge(data: dict[str, Any], source: Source, kinds: frozenset[str], into: dict[str, Any], sources: Sources) -> None:
    """Put the tables of a file over those that are there: its keys replace theirs, sheets and sticks add up.

    `kinds` are the tables whose own tables have names; any other table is merged as it is.
    """
    for kind, table in data.items():
        if not isinstance(table, Mapping):
            into[kind] = table
            sources.origins[(kind,)] = (source, (kind,))
        elif kind in kinds:
            held = _table(into, kind)
            for name, one in table.items():
                _over(one, held, (kind, name), source, sources)
        else:
            _over(table, into, (kind,), source, sources)


def _table(into: dict[str, Any], name: str) -> dict[str, Any]:
    held = into.get(name)
    if not isinstance(held, dict):
        held = into[name] = {}
    return held


def _over(table: Any, into: dict[str, Any], place: Place, source: Source, sources: Sources) -> None:
    """Put one table over the one that has its name."""
    name = str(place[-1])
    if not isinstance(table, Mapping) or (name in into and not isinstance(into[name], dict)):
        into[name] = table
        sources.origins[place] = (source, place)
        return
    if name not in into:
        sources.origins[place] = (source, place)
    held = _table(into, name)
    for key, value in table.items():
        here = (*place, key)
        if key in HEAPED and isinstance(value, list):
            before = held.get(key)
            heap = before if isinstance(before, list) else []
            for number in range(len(value)):
                sources.origins[(*here, len(heap) + number)] = (source, (*here, number))
            held[key] = [*heap, *value]
            sources.origins.setdefault(here, (source, here))
        else:
            held[key] = value
            sources.origins[here] = (source, here)
