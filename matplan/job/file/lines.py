"""On which line of a job file each key, table and list entry stands.

`tomllib` reads a file and tells no lines, so this scans the text once more. The text must be valid TOML already: the
scan checks nothing. A place is the path to a value from the top, keys and list positions (from 0): `("piece", 1,
"border", "top")`.
"""

from __future__ import annotations

import re
import tomllib
from bisect import bisect_right
from collections.abc import Mapping

type Place = tuple[str | int, ...]

_BLANK = re.compile(r"(?:[ \t\r\n]+|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
KEY = re.compile(r"""[ \t]*(?:([A-Za-z0-9_-]+)|("(?:[^"\\\n]|\\.)*")|'([^'\n]*)')[ \t]*""")
_SCALAR = re.compile(
    r'"""(?:\\.|[^\\])*?""""{0,2}'
    r"|'''.*?''''{0,2}"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'"
    r"|[^,\]}#\n]+",
    re.DOTALL,
)
_BARE = re.compile(r"[A-Za-z0-9_-]+")


def key_text(key: str) -> str:
    """Return a key as it is written: in quotes where it is no bare one.

    >>> key_text("rag"), key_text("weiß")
    ('rag', '"weiß"')
    """
    return key if _BARE.fullmatch(key) else f'"{key}"'


def place_text(place: Place) -> str:
    """Return a place as messages show it: list positions count from 1, odd keys stand in quotes.

    >>> place_text(("piece", 1, "border", "top")), place_text(("paper", "my rag", "size"))
    ('piece[2].border.top', 'paper."my rag".size')
    """
    text = ""
    for part in place:
        if isinstance(part, int):
            text += f"[{part + 1}]"
        else:
            text += f".{key_text(part)}" if text else key_text(part)
    return text


class Lines:
    """The line of each place, from 1. A place that is not in the text has the line of its nearest outer place."""

    def __init__(self, text: str) -> None:
        self._lines: Mapping[Place, int] = Scan(text).lines

    def of(self, place: Place) -> int:
        """Return the line where a key, table or list entry begins."""
        return self._lines.get(self.nearest(place), 1)

    def nearest(self, place: Place) -> Place:
        """Return the place, or its nearest outer place if it is not written, as in a short form."""
        while place and place not in self._lines:
            place = place[:-1]
        return place


class Scan:
    """One pass over the text."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.lines: dict[Place, int] = {}
        self._lists: dict[Place, int] = {}
        """How many tables each `[[list]]` has so far."""
        self._ends = [at for at, character in enumerate(text) if character == "\n"]
        self._document()

    def _mark(self, place: Place, at: int) -> None:
        self.lines.setdefault(place, bisect_right(self._ends, at - 1) + 1 if at else 1)

    def _after_blank(self, at: int) -> int:
        found = _BLANK.match(self.text, at)
        return found.end() if found else at

    def _document(self) -> None:
        table: Place = ()
        at = self._after_blank(0)
        while at < len(self.text):
            if self.text[at] == "[":
                table, at = self._header(at)
            else:
                at = self._pair(at, table)
            at = self._after_blank(at)

    def _header(self, at: int) -> tuple[Place, int]:
        """Return the table that a `[header]` or `[[header]]` opens, and where the header ends."""
        double = self.text.startswith("[[", at)
        start = at
        keys, at = self._keys(at + (2 if double else 1))
        place: Place = ()
        for number, (key, _) in enumerate(keys):
            place += (key,)
            last = number == len(keys) - 1
            if last and double:
                self._lists[place] = self._lists.get(place, 0) + 1
                self._mark(place, start)
                place += (self._lists[place] - 1,)
                self._mark(place, start)
            else:
                if last:
                    self.lines.pop(
                        place, None
                    )  # a table named only within another's header before: its own line is truer
                self._mark(place, start)
                if place in self._lists and not last:
                    place += (self._lists[place] - 1,)
        return place, at + (2 if double else 1)

    def _keys(self, at: int) -> tuple[list[tuple[str, int]], int]:
        """Return the parts of a dotted key, each with where it begins, and the position behind the key."""
        keys: list[tuple[str, int]] = []
        while True:
            found = KEY.match(self.text, at)
            if found is None:
                return keys, at
            bare, basic, literal = found.groups()
            key: str
            if bare is not None:
                key = bare
            elif literal is not None:
                key = literal
            else:
                key = tomllib.loads(f"key = {basic}")["key"] if "\\" in basic else basic[1:-1]
            keys.append((key, found.start(2) if basic else found.start(1) if bare else found.start(3)))
            at = found.end()
            if not self.text.startswith(".", at):
                return keys, at
            at += 1

    def _pair(self, at: int, table: Place) -> int:
        """Return the position behind one `key = value`."""
        keys, at = self._keys(at)
        if not keys:
            return len(self.text)  # no valid TOML: nothing more can be told
        place = table
        for key, start in keys:
            place += (key,)
            self._mark(place, start)
        space = _SPACE.match(self.text, at + 1)
        return self._value(space.end() if space else at + 1, place)

    def _value(self, at: int, place: Place) -> int:
        """Return the position behind the value that begins at `at`."""
        if self.text.startswith("[", at):
            return self._list(at, place)
        if self.text.startswith("{", at):
            return self._inline(at, place)
        found = _SCALAR.match(self.text, at)
        return found.end() if found else at + 1

    def _list(self, at: int, place: Place) -> int:
        number = 0
        at = self._after_blank(at + 1)
        while at < len(self.text) and self.text[at] != "]":
            self._mark((*place, number), at)
            at = self._after_blank(self._value(at, (*place, number)))
            if self.text.startswith(",", at):
                at = self._after_blank(at + 1)
            number += 1
        return at + 1

    def _inline(self, at: int, place: Place) -> int:
        at = self._after_blank(at + 1)
        while at < len(self.text) and self.text[at] != "}":
            at = self._after_blank(self._pair(at, place))
            if self.text.startswith(",", at):
                at = self._after_blank(at + 1)
        return at + 1
