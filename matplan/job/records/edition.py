"""An edition: the number of a piece's first copy and how many there are, or words."""

from __future__ import annotations

import re
from dataclasses import dataclass

from matplan.job.file.table import Written
from matplan.job.file.texts import read_name
from matplan.job.file.wrong import got
from matplan.lengths import Units

_EDITION = re.compile(r"\s*([0-9]{1,6})\s*/\s*([0-9]{1,6})\s*", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class Edition:
    """An edition as written; the first copy's number and how many there are, both 0 where it is words."""

    written: str
    first: int = 0
    of: int = 0

    def of_copy(self, copy: int) -> str:
        """Return what stands on the label of a copy, counted from 0."""
        return f"{self.first + copy} / {self.of}" if self.of else self.written

    @property
    def blank(self) -> str:
        """What stands on a label whose number is written by hand."""
        return f"______ / {self.of}" if self.of else self.written


def _edition(value: object, units: Units) -> Edition:
    text = read_name(value, units)
    found = _EDITION.fullmatch(text)
    if found is None:
        return Edition(written=text)
    first, of = int(found[1]), int(found[2])
    if not 1 <= first <= of:
        raise ValueError(f'{got(text)}, a number that the edition does not have; write one like "3/25"')
    return Edition(written=text, first=first, of=of)


EDITION = Written(
    _edition, {"title": "a text", "type": "string", "minLength": 1, "examples": ["3/25", "artist's proof"]}
)
