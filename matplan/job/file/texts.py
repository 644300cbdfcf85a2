"""Texts and names of a job file: one line each, without what no name may hold."""

from __future__ import annotations

import unicodedata

from matplan.job.file.wrong import BACKSLASH, got
from matplan.lengths import Units

LONGEST_TEXT = 1000


def _controls(text: str) -> str | None:
    """Return the first character that no name may hold, as an escape; `None` if there is none."""
    for character in text:
        if unicodedata.category(character) in {"Cc", "Zl", "Zp", "Cs"}:
            return character.encode("unicode_escape").decode()
    return None


def read_text(value: object, _: Units) -> str:
    """Return one line of text, which may be empty."""
    if not isinstance(value, str):
        raise ValueError(f"{got(value)}; write a text in quotes")
    if found := _controls(value):
        path = f"; {BACKSLASH}" if found in ("\\t", "\\n", "\\r", "\\x08", "\\x0c") else ""
        text = f"{got(value)}, which holds the control character {found}; write one line without any{path}"
        raise ValueError(text)
    return _within(value, LONGEST_TEXT)


def read_name(value: object, units: Units) -> str:
    """Return one line of text in which something can be seen."""
    text = read_text(value, units)
    if all(unicodedata.category(character)[0] in "ZC" for character in text):
        raise ValueError(f"{got(value)}, which is blank; write a name that can be read")
    return text


def _within(text: str, most: int) -> str:
    """Return the text, which has so many characters at most."""
    if len(text) > most:
        raise ValueError(f"{got(text)}, which has {len(text):,} characters; write at most {most:,}")
    return text
