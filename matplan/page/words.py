"""The words of the trade on the page: all of them, and which one stands behind each key of the form."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any, Final

from matplan.catalogue.words import word, words
from matplan.faults import LookupFault
from matplan.job.schema import schema

BEHIND: Final = {
    "weight": "bottom-weighted", "eye": "eye line", "cut": "bevel", "mat_supply": "ready-cut mat", "frame": "moulding",
    "mat_opening": "opening", "dropout_trim": "drop-out", "board": "mat", "border_at": "visible border",
    "viewing_distance": "resolution",
}  # fmt: skip
"""Keys whose word has another name."""
OTHERWISE: Final = frozenset({"points", "hanger"})
"""Keys that a word's name also means something else by: the points of a shape are no glazier's points."""


@cache
def words_of_the_page() -> Mapping[str, Any]:
    """Return all words with their sentences, and the name of the word behind each key of a job that has one."""
    return {
        "words": [{"name": one.name, "also": list(one.also), "text": one.text, "told": one.told} for one in words()],
        "keys": dict(_behind(sorted(set(_keys(schema()))))),
    }


def _behind(keys: list[str]) -> Iterator[tuple[str, str]]:
    for key in keys:
        if key not in OTHERWISE:
            try:
                yield key, word(BEHIND.get(key, key.replace("_", " "))).name
            except LookupFault:
                continue


def _keys(part: Any) -> Iterator[str]:
    """Yield the names of all keys that a schema tells of."""
    if isinstance(part, Mapping):
        properties = part.get("properties")
        yield from properties if isinstance(properties, Mapping) else ()
        for each in part.values():
            yield from _keys(each)
    elif isinstance(part, list):
        for each in part:
            yield from _keys(each)
