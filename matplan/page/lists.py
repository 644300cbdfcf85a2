"""Lists on several lines of a job's text: entries take their comments and lines along wherever they go."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

import tomlkit

_PART: Final = re.compile(r"""\"(?:[^"\\\n]|\\.)*\"|'[^'\n]*'|(?:\s+|\#[^\n]*)+|[\[\]{},]|[^\s\[\]{},"'#]+""")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Entry:
    """An entry as it is written: what stands before it, itself, and the comment behind it on its line."""

    before: str
    text: str
    comment: str = ""

    @property
    def value(self) -> Any:
        return tomllib.loads(f"it = {self.text}")["it"]


def rearranged(text: str, values: Sequence[Any]) -> str:
    """Return a list's text with other values, texts and lists; those that it had keep their lines and comments.

    >>> print(rearranged('[\\n  "Gull",  # first\\n  "Coil",\\n]', ["Coil", "Gull"]))
    [
      "Coil",
      "Gull",  # first
    ]
    """
    left, close, comma = _read(text)
    new = _Entry(before=_lead(left), text="")
    found = [_taken(left, value) for value in values]
    for number, value in enumerate(values):
        if found[number] is None:
            old = _taken_list(left) if isinstance(value, list) else None
            written = tomlkit.item(value).as_string() if old is None else rearranged(old.text, value)
            found[number] = replace(old or new, text=written)
    lines = _kept(left, found, values)
    made = comment = ""
    for number, entry in enumerate(entry for entry in found if entry is not None):
        before = entry.before or " " if number or "\n" in entry.before else ""
        if comment and "\n" not in before:
            before = f"\n{before}"
        between = "," if comma or number < len(values) - 1 else ""
        made += f"{before}{entry.text}{between}{entry.comment}"
        comment = entry.comment
    end = "\n" if (comment or lines) and "\n" not in close else ""
    return f"[{made}{lines}{end}{close}]"


def _kept(left: Sequence[_Entry], found: list[_Entry | None], values: Sequence[Any]) -> str:
    """Give the comments of entries that are left to those that hold what these held; return the lines of the others."""
    lines = ""
    for old in left:
        said = "  ".join(_comments(old.before + old.text + old.comment))
        if not said:
            continue
        held = set(_leaves(old.value))
        at = next((n for n, value in enumerate(values) if held & set(_leaves(value))), None)
        heir = None if at is None else found[at]
        if at is None or heir is None:
            lines += f"\n{_lead([old]).removeprefix('\n')}{said}"
        else:
            found[at] = replace(heir, comment=f"{heir.comment}  {said}" if heir.comment else f"  {said}")
    return lines


def _is_bare(part: str) -> bool:
    """Return whether a part is room or comments alone."""
    return not part.strip() or part.lstrip().startswith("#")


def _comments(text: str) -> Iterator[str]:
    for part in filter(_is_bare, _PART.findall(text)):
        yield from (line.strip() for line in part.split("\n") if line.strip())


def _leaves(value: Any) -> Iterator[str]:
    if isinstance(value, list):
        for each in value:
            yield from _leaves(each)
    else:
        yield json.dumps(value, ensure_ascii=False)


def _read(text: str) -> tuple[list[_Entry], str, bool]:
    """Return the entries of a list, what stands before its end, and whether a comma stands behind the last one."""
    entries: list[_Entry] = []
    before = value = after = ""
    depth, comma = 0, False
    for part in _PART.findall(text)[1:-1]:
        depth += (part in "[{") - (part in "]}")
        bare = _is_bare(part)
        if depth == 0 and part == ",":
            entries.append(_Entry(before=before, text=value))
            before = value = after = ""
            comma = True
        elif not value and bare:
            before += part
        elif depth == 0 and bare:
            after += part
        else:
            value, after = value + after + part, ""
            comma = False
    if value:
        entries.append(_Entry(before=before, text=value))
    close = after if value else before
    for number, entry in enumerate(entries[1:], 1):
        comment, rest = _behind(entry.before)
        entries[number - 1] = replace(entries[number - 1], comment=comment)
        entries[number] = replace(entries[number], before=rest)
    if entries:
        comment, close = _behind(close)
        entries[-1] = replace(entries[-1], comment=comment)
    return entries, close, comma


def _behind(text: str) -> tuple[str, str]:
    """Return the comment that ends a line, and the rest."""
    line, end, rest = text.partition("\n")
    return (line, end + rest) if "#" in line else ("", text)


def _lead(entries: Sequence[_Entry]) -> str:
    """Return what stands before an entry of such a list, without comments of its own."""
    _, end, rest = entries[0].before.rpartition("\n") if entries else ("", "", "")
    return end + rest


def _taken(entries: list[_Entry], value: Any) -> _Entry | None:
    """Take the first entry that is a value out of the list."""
    found = next((entry for entry in entries if entry.value == value), None)
    if found is not None:
        entries.remove(found)
    return found


def _taken_list(entries: list[_Entry]) -> _Entry | None:
    return next((_taken(entries, entry.value) for entry in entries if isinstance(entry.value, list)), None)
