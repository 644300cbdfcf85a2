"""What is said of a wrong value: the value as the job wrote it, and the words that were probably meant."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time
from decimal import Decimal
from difflib import get_close_matches
from fractions import Fraction

from matplan.faults import printable
from matplan.lengths import shown_number

BACKSLASH = (
    "a backslash in double quotes begins a code; in a path write / in its place, or put the path in single quotes"
)
ROOM = 230
"""Characters of a message that known names may take."""


@dataclass(frozen=True, slots=True)
class Unplain:
    """A TOML number that is no plain decimal: one with an exponent, `inf` or `nan`. `text` is as written."""

    text: str


def read_float(text: str) -> Decimal | Unplain:
    """Return a TOML float exactly; `Unplain` if it is no plain decimal: an exponent of a billion then costs nothing."""
    return Unplain(text) if any(letter in text for letter in "eEin") else Decimal(text)


def got(value: object) -> str:
    """Return `got …` with the value as the job wrote it, short and safe for a terminal."""
    match value:
        case bool():
            return f"got {str(value).lower()}"
        case str():
            return f'got "{printable(value, 60)}"'
        case int() | Decimal() | Fraction():
            return f"got {shown_number(value)}"
        case Unplain(text):
            return f"got {printable(text, 40)}"
        case dict():
            return "got a table"
        case list() | tuple():
            return "got a list"
        case date() | time():
            return f"got the date or time {value.isoformat()}"
    return f"got {printable(repr(value), 60)}"


def quoted(name: str) -> str:
    """Return the name in quotes, short and safe for a terminal."""
    return f'"{printable(name, 60)}"'


def listed(words: Iterable[object]) -> str:
    """Return the words quoted and joined for a message: `"a", "b" or "c"`."""
    shown = [quoted(str(word)) for word in words]
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} or {shown[-1]}"


def nearest(word: str, known: Iterable[str], most: int = 3) -> list[str]:
    """Return up to `most` of the known words that are spelt most like `word`, nearest first."""
    by_key = {other.casefold(): other for other in known}
    return [by_key[key] for key in get_close_matches(word[:60].casefold(), by_key, n=most)]


def near_names(word: str, known: Iterable[str], *, kind: str) -> str:
    """Return what to do about an unknown name: the near ones, else the first of all."""
    names = list(known)
    near = nearest(word, names)
    if near:
        return f"did you mean {listed(near)}?"
    if not names:
        return "none is written"
    shown = ", ".join(printable(name, 40) for name in names[:8])
    return f"{kind} known here: {shown}{' …' if len(names) > 8 else ''}"


def known_keys(keys: Sequence[str]) -> str:
    """Return the keys that a table knows, all where the line has room."""
    shown = ", ".join(keys)
    return shown if len(shown) <= ROOM else shown[: shown.rindex(", ", 0, ROOM)] + " …"
