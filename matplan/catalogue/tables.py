"""The tables as files: read once each, when first asked for, and searched by name.

A row stays as written here, so that looking up one paper parses one size and nothing else.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

from matplan.catalogue.records import Kind

NONE = "none"
"""The name, for a glazing or a backing, of nothing at all. No row of the tables."""

type Raw = Mapping[str, Any]

_JOINTS = re.compile(r"(?<!\d)[ -]+|[ -]+(?!\d)")
_LONGEST_NAME = 60
"""No name is longer, and what lies beyond is not worth comparing."""


@cache
def raw_table(file: str) -> tuple[Raw, ...]:
    """Return the rows of a table as they stand in its file; decimals are exact fractions."""
    import tomllib

    text = Path(__file__).with_name(f"{file}.toml").read_text(encoding="utf-8")
    return tuple(tomllib.loads(text, parse_float=Fraction)["rows"])


def raw_rows(kind: Kind) -> tuple[Raw, ...]:
    """Return the rows of one kind of thing that is sold."""
    return raw_table(kind.value.replace("-", "_"))


def key(name: str) -> str:
    """What makes two spellings one name: case, × for x, spaces and hyphens other than those between two digits.

    >>> key("40 × 50 cm") == key("40x50cm"), key("Half-Letter") == key("half letter"), key("8 1/2 x 11 in")
    (True, True, '8 1/2x11in')
    """
    text = " ".join(name.casefold().replace("×", "x").split())
    for sign in ('"', "″", "”"):
        text = text.replace(sign, "in")
    return _JOINTS.sub("", text)


@cache
def _index(kind: Kind) -> Mapping[str, int]:
    return {
        key(name): number for number, row in enumerate(raw_rows(kind)) for name in (row["name"], *row.get("also", ()))
    }


def find(kind: Kind, name: str) -> int | None:
    """Return the number of the row with the name, or None."""
    return _index(kind).get(key(name))


def names(kind: Kind) -> tuple[str, ...]:
    """Return the first name of each row, in the table's order, each once."""
    return tuple(dict.fromkeys(row["name"] for row in raw_rows(kind)))


def near(name: str, kind: Kind, most: int = 3) -> tuple[str, ...]:
    """Up to `most` names of that table which are spelt most like `name`, nearest first; none where nothing is like it.

    "none" counts as a name of a glazing and of a backing.

    >>> near("glas-2mm", Kind.GLAZING)[0]
    'glass-2mm'
    """
    from difflib import get_close_matches

    spelt = {key(other): other for row in raw_rows(kind) for other in (row["name"], *row.get("also", ()))}
    if kind in (Kind.GLAZING, Kind.BACKING):
        spelt[NONE] = NONE
    wanted = key(name[:_LONGEST_NAME])
    begun = [other for other in spelt if wanted and other.startswith(wanted)]
    close = [*begun, *get_close_matches(wanted, spelt, n=most)]
    return tuple(dict.fromkeys(spelt[other] for other in close))[:most]
