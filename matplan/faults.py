"""The error tree: everything that matplan raises for a user's mistake.

    MatplanError
    ├── LengthError   (ValueError)  a text that is no length, size or step
    ├── LookupFault   (LookupError) a name that no table holds
    ├── JobError      (ValueError)  a job that cannot be planned; carries every `Fault`
    ├── CutListError  (ValueError)  a cut list that cannot be read; carries every `Fault`
    ├── StockError    (RuntimeError) an answer of the sheet solver that our checker refused
    ├── DrawingError  (ValueError)  a drawing that cannot be made
    └── PackError     (OSError)     a folder that cannot take the pack

A traceback that reaches a user is our bug; a `MatplanError` never shows one.
This module knows nothing of the trade.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass


class MatplanError(Exception):
    """The root of all errors that a user can mend."""


class LengthError(MatplanError, ValueError):
    """A text that is no length, size or step."""


class LookupFault(MatplanError, LookupError):
    """A name that no table holds."""


class StockError(MatplanError, RuntimeError):
    """An answer of the sheet solver that the independent checker refused."""


class DrawingError(MatplanError, ValueError):
    """A drawing that cannot be made from what was given."""


class PackError(MatplanError, OSError):
    """A folder that cannot take the pack."""


def printable(text: str, limit: int = 300) -> str:
    """That text safe for a terminal: control and format characters shown as escapes, at most `limit` characters.

    >>> printable("a\\x1b[2Jb")
    'a\\\\x1b[2Jb'
    """
    cut = text if len(text) <= limit else text[: limit - 1] + "…"
    return "".join(
        c
        if unicodedata.category(c) not in {"Cc", "Cf", "Cs", "Co", "Zl", "Zp"}
        else c.encode("unicode_escape").decode()
        for c in cut
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing that is wrong in a file: `text` says what, what it got and what would be right.

    `line` counts from 1, None where the file as a whole is meant; `where` is the dotted place, "" for a text that has
    none.
    """

    line: int | None
    where: str
    text: str

    def shown(self, file: str) -> str:
        """`FILE:LINE: where: text`, with the parts that exist, safe for a terminal."""
        head = file if self.line is None else f"{file}:{self.line}"
        return ": ".join(printable(part) for part in (head, self.where, self.text) if part)


class _FaultyFile(MatplanError, ValueError):
    """A file with faults; `file` is its name as the user gave it."""

    def __init__(self, faults: Iterable[Fault], *, file: str = "job.toml") -> None:
        self.faults: tuple[Fault, ...] = tuple(faults)
        self.file = file
        super().__init__("\n".join(fault.shown(file) for fault in self.faults))


class JobError(_FaultyFile):
    """A job that cannot be planned."""


class CutListError(_FaultyFile):
    """A cut list that cannot be read."""
