"""Edits of a job's text by the keys that errors name: `piece[1].image.width`. Comments and the file's order stay.

A key is set, taken away, or added where the text has none: right below the last key of its table. A side of a border
that is written as one length turns it into four sides, a key of a layer that is written as a name turns it into a
table; a table that is missing on the way is begun, one blank line below what stands before it.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping, MutableMapping, MutableSequence, Sequence
from decimal import Decimal
from typing import Any, Final

import tomlkit
from tomlkit import TOMLDocument
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array, InlineTable, Item, Key, SingleKey, Table

from matplan.faults import MatplanError
from matplan.job.file.lines import Place, place_text
from matplan.job.file.spans import Spans
from matplan.page.arranging import replaced, swapped, without
from matplan.page.lists import rearranged
from matplan.page.naming import TABLES, Elsewhere, NamingFault, renamed

_PART = re.compile(r"""\.?(?:([A-Za-z0-9_-]+)|"((?:[^"\\]|\\.)*)"|\[(\d+)\])""")
_LISTS: Final = frozenset({"piece", "wall", "aperture", "group"})
"""Lists whose entries have a heading of their own."""
_NAMED: Final = TABLES.keys() | {"hardware"}
"""Tables of the outermost one whose own tables are named by the user."""
_SIDES: Final = ("top", "right", "bottom", "left")
_BY_SIDES: Final = frozenset({"border", "printer_margin"})
_HEAD: Final = "# \ue000"
"""The comment that marks the heading of a new table until the table has its room."""


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


def edited(text: str, edits: Sequence[Mapping[str, Any]], elsewhere: Elsewhere = lambda _kind, _name: "") -> str:
    """Return the text with each edit made in turn: `{"key", "value"}`, a value of `None` takes the key away.

    With `"insert"` a value of a list stands before the one that was there. `{"key", "swap"}` puts two entries of a
    list in each other's place, `{"key", "name"}` gives a thing another name, and with it all that names it;
    `elsewhere` tells of names that stand in other files. Raises `EditFault` for a text that is no TOML, and for a key
    or value that cannot stand there, `NamingFault` for a name that is taken.
    """
    try:
        for edit in edits:
            place, value = place_of(str(edit.get("key", ""))), edit.get("value")
            if "name" in edit:
                text = renamed(text, place, str(edit["name"]), elsewhere)
                continue
            if "swap" in edit:
                text = _swapped(text, place, place_of(str(edit["swap"])))
                continue
            quick = (
                without(text, place) if value is None else None if "insert" in edit else _rewritten(text, place, value)
            )
            if quick is not None:
                text = quick
                continue
            document = tomlkit.parse(text)
            if value is None:
                _take_away(document, place)
            else:
                _put(document, place, value, insert=edit.get("insert") is True)
            text = _with_room(tomlkit.dumps(document), text)
        return text
    except (EditFault, NamingFault):
        raise
    except RecursionError:
        raise EditFault("the text cannot be changed there: lists or tables stand in one another too deeply") from None
    except (TOMLKitError, TypeError, ValueError, KeyError, IndexError, AttributeError) as error:
        raise EditFault(f"the text cannot be changed there: {error}") from None


def _rewritten(text: str, place: Place, value: Any) -> str | None:
    """Return the text with a text, number or flag in another one's place; `None` where none of them is written."""
    if not isinstance(value, bool | int | float | str):
        return None
    tomllib.loads(text)  # spans are those of valid TOML alone
    span = Spans(text).values.get(place)
    if span is None or text[span[0]] in "[{":
        return None
    return replaced(text, [(span, tomlkit.item(value).as_string())])


def _swapped(text: str, place: Place, other: Place) -> str:
    found = swapped(text, place, other) if place[:-1] == other[:-1] else None
    if found is None:
        raise EditFault(f"{place_text(place)} and {place_text(other)} are no two entries of one list")
    return found


def _put(document: Any, place: Place, value: Any, *, insert: bool = False) -> None:
    table: Any = document
    trail: list[tuple[Any, str | int]] = []
    grown: list[Any] = []
    for depth, part in enumerate(place[:-1]):
        trail.append((table, part))
        if isinstance(part, str) and part not in table:
            grown.append(table)
        table = _entered(table, part, place[: depth + 1], place[depth + 1])
    last, made = place[-1], _item(value, place, headed=isinstance(table, AoT))
    if isinstance(last, int):
        if not isinstance(table, MutableSequence) or last > len(table):
            raise EditFault(f"{place_text(place)} has no place in a list of {len(table)}")
        if last == len(table) or insert:
            table.insert(last, made)
        else:
            table[last] = made
    elif isinstance(table, MutableMapping) and last in table:
        _replace(table, last, made)
    else:
        table[last] = made
        grown.append(table)
        _spaced(trail)
    for each in grown:
        _below_the_keys(each)


def _replace(table: Any, part: str | int, made: Any) -> None:
    """Put an item in another one's place, with the comment and the room that it had, a list's lines with theirs."""
    old = table[part]
    if isinstance(old, Array) and isinstance(made, Array) and "\n" in old.as_string() and "{" not in made.as_string():
        made = tomlkit.value(rearranged(old.as_string(), made.unwrap()))
    if isinstance(old, Item) and isinstance(made, Item) and not isinstance(old, (Table, AoT)):
        made.trivia.comment_ws, made.trivia.comment = old.trivia.comment_ws, old.trivia.comment
        made.trivia.indent, made.trivia.trail = old.trivia.indent, old.trivia.trail
    table[part] = made


def _below_the_keys(table: Any) -> None:
    """Move a key that has just been added right below the last one of its table, above comments and blank lines.

    The text is read anew after each edit, so that the order of the lines is all that counts.
    """
    if not isinstance(table, (Table, TOMLDocument)):
        return
    body = (table.value if isinstance(table, Table) else table).body
    plain = [
        at for at, (key, item) in enumerate(body) if key and (key.is_dotted() or not isinstance(item, (Table, AoT)))
    ]
    if not plain or plain[-1] != len(body) - 1:
        return
    room = plain[-2] + 1 if len(plain) > 1 else 0 if isinstance(table, Table) else len(body) - 1
    body.insert(room, body.pop())


def _spaced(trail: list[tuple[Any, str | int]]) -> None:
    """Write the inline tables on a trail as people do: `{ width = "20 cm" }`."""
    for outer, part in reversed(trail):
        if isinstance(outer[part], InlineTable):
            _replace(outer, part, _inline((key, item) for key, item in outer[part].value.body if key))


def _inline(pairs: Iterable[tuple[Key, Item]]) -> Item:
    inner = ", ".join(f"{key.as_string().strip()} = {item.as_string()}" for key, item in pairs)
    return tomlkit.value(f"{{ {inner} }}" if inner else "{}")


def _with_room(text: str, earlier: str) -> str:
    """Return the text with a new table one blank line below what stands before it; `earlier` is the text without it.

    Comments and blank lines above the next heading stay there; at the text's end the new table stands below them.
    """
    if (at := text.find(_HEAD)) >= 0:
        start, stop = text.rfind("\n", 0, at) + 1, text.index("\n", at)
        while stop + 1 < len(text) and text[stop + 1] not in "\n#[ \t":
            stop = text.index("\n", stop + 1)
        before, after = text[:start].splitlines(), text[stop + 1 :]
        brought = start + len(after) - len(earlier)  # blank lines that the new table has brought with it
        while brought > 0 and before and not before[-1].strip():
            brought -= len(before.pop()) + 1
        block = f"{text[start:at].rstrip()}{text[at + len(_HEAD) : stop]}\n"
        last = max(
            (number for number, line in enumerate(before, 1) if line.strip() and line.lstrip()[0] != "#"), default=0
        )
        while last < len(before) and before[last].strip():
            last += 1
        if not after.strip():
            last = len(before)
        head, between = "\n".join(before[:last]).rstrip(), "\n".join(before[last:])
        below = f"{between}\n{after}".strip("\n")
        text = f"{head}\n\n{block}" + (f"\n{below}\n" if below else "")
        text = text.lstrip("\n")
    return text


def _entered(table: Any, part: str | int, place: Place, following: str | int) -> Any:
    """Return what stands at `part`, begun where nothing does."""
    if isinstance(part, int):
        if not isinstance(table, (MutableSequence, AoT)) or part > len(table):
            raise EditFault(f"there is no {place_text(place)}")
        if part == len(table):
            table.append(_headed(tomlkit.table()) if isinstance(table, AoT) else tomlkit.inline_table())
    elif part not in table:
        table[part] = _begun(place, following, headed=not isinstance(table, InlineTable))
    found = table[part]
    if isinstance(following, str) and not isinstance(found, MutableMapping):
        sides = tomlkit.inline_table()
        if part in _BY_SIDES and following in _SIDES:
            sides.update(dict.fromkeys(_SIDES, found))
        elif place[-2 if isinstance(part, int) else -1] == "mat":
            sides["board"] = found
        _replace(table, part, sides)
        found = table[part]
    return found


def _headed(table: Table) -> Table:
    """Return a new table whose heading is marked, so that it gets its room."""
    table.comment(_HEAD)
    return table


def _begun(place: Place, following: str | int, *, headed: bool) -> Any:
    """Return an empty table or list for a place where the text has nothing."""
    if place[-1] in _LISTS and isinstance(following, int) and headed:
        return tomlkit.aot()
    if len(place) == 1 and place[0] in _NAMED:
        return tomlkit.table(is_super_table=True)
    if len(place) == 1 or (len(place) == 2 and place[0] in _NAMED):
        return _headed(tomlkit.table())
    return tomlkit.array() if isinstance(following, int) else tomlkit.inline_table()


def _item(value: Any, place: Place, *, headed: bool = False) -> Any:
    """Return a value as TOML has it; tables within tables stand on one line, unless their list is one of headings."""
    if isinstance(value, Mapping):
        whole = headed or (len(place) == 2 and place[0] in _NAMED)
        items = {key: _item(each, (*place, key)) for key, each in value.items()}
        if not whole:
            return _inline((SingleKey(key), item) for key, item in items.items())
        table = _headed(tomlkit.table())
        for key, item in items.items():
            table.append(key, item)
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
    while trail and isinstance(table, InlineTable) and not len(table):  # an empty inline table says nothing
        table, part = trail.pop()
        del table[part]
    _spaced(trail)


def _plain(value: Any) -> Any:
    """Return a value, or a list of them, as JSON has it: fractions in lists as numbers, what JSON lacks as texts."""
    if isinstance(value, list):
        return [float(each) if isinstance(each, Decimal) else _plain(each) for each in value]
    return value if isinstance(value, bool | int | str) else str(value)


def values_of(data: Mapping[str, Any]) -> dict[str, Any]:
    """Return what a job's data says, flat: each plain value by its key, and each list of plain values."""
    return {place_text(place): value for place, value in placed_values(data)}


def placed_values(data: Any, place: Place = ()) -> Iterator[tuple[Place, Any]]:
    """Yield each plain value of a job's data, and each list of plain values, with its place."""
    if isinstance(data, Mapping) and data:
        for key, each in data.items():
            yield from placed_values(each, (*place, key))
    elif isinstance(data, list) and any(isinstance(each, Mapping) for each in data):
        for number, each in enumerate(data):
            yield from placed_values(each, (*place, number))
    elif place:
        yield place, {} if isinstance(data, Mapping) else _plain(data)
