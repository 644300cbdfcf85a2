"""Edits of a job's text by the keys that errors name: `piece[1].image.width`. Comments and the file's order stay.

A key is set, taken away, or added where the text has none. A side of a border that is written as one length turns it
into four sides; a table that is missing on the way is begun.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, MutableMapping, MutableSequence, Sequence
from typing import Any, Final

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array, InlineTable, Item, Table

from matplan.faults import MatplanError
from matplan.job.file.lines import Place, place_text

_PART = re.compile(r"""\.?(?:([A-Za-z0-9_-]+)|"((?:[^"\\]|\\.)*)"|\[(\d+)\])""")
_LISTS: Final = frozenset({"piece", "wall"})
"""Lists of the outermost table, whose entries have a head of their own."""
_NAMED: Final = frozenset({"paper", "board", "glazing", "backing", "frame", "hardware"})
"""Tables of the outermost one whose own tables are named by the user."""
_SIDES: Final = ("top", "right", "bottom", "left")
_BY_SIDES: Final = frozenset({"border", "printer_margin"})


class EditFault(MatplanError, ValueError):
    """An edit that cannot be made; the text says which, and why."""


def place_of(key: str) -> Place:
    """Return the place that a key names: `piece[1].border.top` is `("piece", 0, "border", "top")`. Raises `EditFault`.

    >>> place_of('paper."my rag".size')
    ('paper', 'my rag', 'size')
    """
    place: list[str | int] = []
    at = 0
    while at < len(key):
        found = _PART.match(key, at)
        if found is None or (found[3] and int(found[3]) < 1):
            raise EditFault(f"got the key {key!r}; write one like piece[1].image.width")
        bare, quoted, number = found.groups()
        place.append(int(number) - 1 if number else bare if bare is not None else quoted.replace('\\"', '"'))
        at = found.end()
    if not place:
        raise EditFault("got no key; write one like piece[1].image.width")
    return tuple(place)


def edited(text: str, edits: Sequence[Mapping[str, Any]]) -> str:
    """Return the text with each edit made in turn: `{"key", "value"}`, a value of `None` takes the key away.

    Raises `EditFault` for a text that is no TOML, and for a key or value that cannot stand there.
    """
    try:
        document = tomlkit.parse(text)
        for edit in edits:
            place, value = place_of(str(edit.get("key", ""))), edit.get("value")
            if value is None:
                _take_away(document, place)
            else:
                _put(document, place, value)
        return tomlkit.dumps(document)
    except EditFault:
        raise
    except (TOMLKitError, TypeError, ValueError, KeyError, IndexError, AttributeError) as error:
        raise EditFault(f"the text cannot be changed there: {error}") from None


def _put(document: Any, place: Place, value: Any) -> None:
    table: Any = document
    for depth, part in enumerate(place[:-1]):
        table = _entered(table, part, place[: depth + 1], place[depth + 1])
    last = place[-1]
    if isinstance(last, int):
        if not isinstance(table, MutableSequence) or last > len(table):
            raise EditFault(f"{place_text(place)} has no place in a list of {len(table)}")
        made = _item(value, place)
        if last == len(table):
            table.append(made)
        else:
            table[last] = made
        return
    made = _item(value, place)
    old = table.get(last) if isinstance(table, MutableMapping) else None
    if isinstance(old, Item) and isinstance(made, Item) and not isinstance(old, (Table, AoT)):
        made.trivia.comment_ws, made.trivia.comment = old.trivia.comment_ws, old.trivia.comment
        made.trivia.indent, made.trivia.trail = old.trivia.indent, old.trivia.trail
    table[last] = made


def _entered(table: Any, part: str | int, place: Place, following: str | int) -> Any:
    """Return what stands at `part`, begun where nothing does."""
    if isinstance(part, int):
        if not isinstance(table, (MutableSequence, AoT)) or part > len(table):
            raise EditFault(f"there is no {place_text(place)}")
        if part == len(table):
            table.append(tomlkit.table() if isinstance(table, AoT) else tomlkit.inline_table())
        found = table[part]
    else:
        if part not in table:
            table[part] = _begun(place, following)
        found = table[part]
    if isinstance(following, str) and not isinstance(found, MutableMapping):
        sides = tomlkit.inline_table()
        if part in _BY_SIDES and following in _SIDES:
            sides.update(dict.fromkeys(_SIDES, found))
        table[part] = sides
        found = table[part]
    return found


def _begun(place: Place, following: str | int) -> Any:
    """Return an empty table or list for a place where the text has nothing."""
    if len(place) == 1 and place[0] in _LISTS:
        return tomlkit.aot()
    if len(place) == 1 and place[0] in _NAMED:
        return tomlkit.table(is_super_table=True)
    if len(place) == 1 or (len(place) == 2 and place[0] in _NAMED):
        return tomlkit.table()
    if place[-1] in ("aperture", "group") and isinstance(following, int):
        return tomlkit.aot()
    return tomlkit.array() if isinstance(following, int) else tomlkit.inline_table()


def _item(value: Any, place: Place) -> Any:
    """Return a value as TOML has it; tables within tables stand on one line but for entries of the outermost lists."""
    if isinstance(value, Mapping):
        whole = (len(place) <= 2 and not isinstance(place[-1], str)) or (len(place) == 2 and place[0] in _NAMED)
        table: Table | InlineTable = tomlkit.table() if whole else tomlkit.inline_table()
        for key, each in value.items():
            table.append(key, _item(each, (*place, key)))
        return table
    if isinstance(value, list):
        array: Array = tomlkit.array()
        for number, each in enumerate(value):
            array.append(_item(each, (*place, number, "")))
        return array
    if not isinstance(value, bool | int | float | str):
        raise EditFault(f"{place_text(place)}: got {value!r}; write a text, a number, true or false")
    return tomlkit.item(value)


def _take_away(document: Any, place: Place) -> None:
    trail: list[tuple[Any, str | int]] = []
    table: Any = document
    for part in place:
        if isinstance(part, int) != isinstance(table, (list, AoT, Array)):
            return
        if (part not in table) if isinstance(part, str) else (part >= len(table)):
            return
        trail.append((table, part))
        table = table[part]
    table, part = trail.pop()
    del table[part]
    while trail:  # an inline table that has become empty says nothing
        outer, name = trail.pop()
        if not isinstance(table, InlineTable) or len(table):
            break
        del outer[name]
        table = outer


def values_of(data: Mapping[str, Any]) -> dict[str, Any]:
    """Return what a job's data says, flat: each plain value by its key, and each list of plain values."""
    found: dict[str, Any] = {}

    def walk(value: Any, place: Place) -> None:
        if isinstance(value, Mapping):
            for key, each in value.items():
                walk(each, (*place, key))
            if not value:
                found[place_text(place)] = {}
        elif isinstance(value, list) and any(isinstance(each, Mapping) for each in value):
            for number, each in enumerate(value):
                walk(each, (*place, number))
        else:
            found[place_text(place)] = value if isinstance(value, bool | int | str | list) else str(value)

    walk(data, ())
    found.pop("", None)
    return found
