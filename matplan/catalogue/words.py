"""Words of the trade, each told in one plain sentence: found by any of its names, and in the text of a page.

A word is found whatever its case, in the singular and in the plural, and by the other words that people use for it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Final

from matplan.catalogue.records import Entry, Status
from matplan.catalogue.tables import key, raw_table
from matplan.faults import LookupFault, printable

EVERYDAY: Final = frozenset(
    {"image", "sheet", "pixel", "border", "portrait", "landscape", "hook", "wire", "mat", "borderless", "opening"}
)
"""Words of the table that a page may use without their sentence: plain English, or told by the drawing itself."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Word(Entry):
    """A word of the trade. `also` are other words for it, `text` is one plain sentence."""

    text: str

    @property
    def told(self) -> str:
        """The word with its sentence, as a page prints it.

        >>> word("rabbets").told[:24]
        'Rabbet: The step inside '
        """
        return f"{self.name[0].upper()}{self.name[1:]}: {self.text}"


@cache
def words() -> tuple[Word, ...]:
    """Return all words, in the table's order: frame, mat, print, back and wall."""
    return tuple(
        Word(**{**row, "status": Status(row["status"]), "also": tuple(row.get("also", ()))})
        for row in raw_table("words")
    )


def word(name: str) -> Word:
    """Return the word with the name. Raises `LookupFault` with the near ones where no word has it."""
    for spelt in _numbers(name):
        if (found := _index().get(key(spelt))) is not None:
            return found
    from difflib import get_close_matches

    wanted = key(name[:60])
    held = [known for known in _index() if wanted and (wanted in known or (len(known) > 3 and known in wanted))]
    near = dict.fromkeys(_index()[known].name for known in [*get_close_matches(wanted, _index()), *held])
    says = f"did you mean {', '.join(list(near)[:5])}? " if near else ""
    raise LookupFault(f'no word "{printable(name, 60)}" is known; {says}"matplan words" tells all')


def words_in(texts: Iterable[str]) -> tuple[Word, ...]:
    """Return the words, beyond everyday ones, that the texts of a page use by their own name, in the table's order.

    >>> [found.name for found in words_in(["Rabbet 403 × 503 mm", "4 reverse bevels"])]
    ['rabbet', 'reverse bevel']
    """
    page = "\n".join(texts)
    found: set[str] = set()
    for one in sorted(words(), key=lambda known: -len(known.name)):
        page, many = re.subn(_pattern(one.name), "\n", page)  # what a longer name holds counts once
        if many and one.name not in EVERYDAY:
            found.add(one.name)
    return tuple(one for one in words() if one.name in found)


def _pattern(name: str) -> str:
    """Return what finds a name on a page: a whole word, singular or plural, in any case."""
    return rf"(?i)(?<![\w-]){re.escape(name).replace(r'\ ', '[ -]')}(?:e?s)?(?![\w-])"


def _numbers(name: str) -> Iterator[str]:
    """Yield a name as written and as a singular or a plural of it."""
    plain = name.strip().casefold()
    yield plain
    for ending, instead in (("ies", "y"), ("es", ""), ("s", "")):
        if plain.endswith(ending):
            yield plain.removesuffix(ending) + instead
    yield f"{plain}s"


@cache
def _index() -> Mapping[str, Word]:
    return {key(name): one for one in words() for name in (one.name, *one.also)}
