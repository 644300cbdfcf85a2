"""Entries of a list change places in a job's text: each takes its comment with it, and nothing else moves."""

from __future__ import annotations

import re
from collections.abc import Iterable

from matplan.job.file.lines import Place
from matplan.job.file.spans import Span, Spans

_REMARK = re.compile(r",?((?:[ \t]*#[^\r\n]*)?)[ \t]*(?=\r?\n)")


def swapped(text: str, place: Place, other: Place) -> str | None:
    """Return the text with two entries of one list in each other's place; `None` where they are not both written."""
    spans = Spans(text)
    if place in spans.values and other in spans.values:
        first, second = spans.values[place], spans.values[other]
        return replaced(
            text, _exchanged(text, first, second) + _exchanged(text, _remark(text, first), _remark(text, second))
        )
    return replaced(text, found) if (found := _exchanged(text, spans.block(place), spans.block(other))) else None


def without(text: str, place: Place) -> str | None:
    """Return the text without a table that has a heading; `None` where it has none."""
    found = Spans(text).block(place)
    if found is None:
        return None
    before, after = text[: found[0]].rstrip(), text[found[1] :].strip("\r\n")
    return "\n\n".join(part for part in (before, after.rstrip()) if part) + "\n"


def replaced(text: str, pieces: Iterable[tuple[Span, str]]) -> str:
    """Return the text with new words in place of some of its spans."""
    for (start, end), words in sorted(pieces, reverse=True):
        text = text[:start] + words + text[end:]
    return text


def _exchanged(text: str, one: Span | None, two: Span | None) -> list[tuple[Span, str]]:
    """Return what changes where two spans take each other's place: nothing where one of them is missing."""
    return [] if one is None or two is None else [(one, text[slice(*two)]), (two, text[slice(*one)])]


def _remark(text: str, value: Span) -> Span | None:
    """Return where the comment behind a value stands, or would stand; `None` where other values follow on its line."""
    found = _REMARK.match(text, value[1])
    return found.span(1) if found else None
