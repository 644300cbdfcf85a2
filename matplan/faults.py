"""The error tree: everything that matplan raises for a user's mistake.

    MatplanError
    ├── LengthError   (ValueError)    a text that is no length, size or step
    ├── LookupFault   (LookupError)   a name that no table holds
    ├── JobError      (ValueError)    a job that cannot be planned; carries every `Fault`
    ├── CutListError  (ValueError)    a cut list that cannot be read; carries every `Fault`
    ├── PhotoFault    (ValueError)    a photo file that cannot be used (`job`)
    ├── Unsolvable    (ValueError)    a piece that cannot be solved (`mats`)
    ├── Unhangable    (ValueError)    a wall that cannot be hung; carries every `Problem` (`walls`)
    ├── FitError      (ValueError)    a question of `fit` that nothing answers (`fit`)
    ├── StockError    (RuntimeError)  an answer of the sheet solver that our checker refused
    ├── DrawingError  (ValueError)    a drawing that cannot be made
    │   └── NoScaleFits (ValueError)  no scale of the series fits the paper (`drawing`)
    ├── Undecodable   (ValueError)    a photo whose header can be read and whose picture cannot (`pack`)
    ├── EditFault     (ValueError)    an edit that a job's text cannot take (`page`)
    ├── NamingFault   (ValueError)    a name that a thing of the job cannot be given (`page`)
    ├── OnlyError     (ValueError)    a choice that names no document, piece or wall (`pack`)
    ├── MachineError  (ValueError)    a kind of machine file that does not exist (`pack`)
    └── PackError     (OSError)       a folder that cannot take the pack

Each leaf is also the built-in kind in brackets. A leaf that carries records of a room is defined in that room, which is
named behind it. A traceback that reaches a user is our bug; a `MatplanError` never shows one. This module knows nothing
of the trade.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator
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


MESSAGE = 4000
"""Characters of a message of our own: it is never cut, only what the user wrote in it."""


def printable(text: str, limit: int = 300) -> str:
    """Return a text that is safe for a terminal: control characters as escapes, at most `limit` characters.

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

    `line` counts from 1 and is `None` if the fault concerns the whole file; `where` is the dotted place, "" if the text
    has no places. `file` is the file that the fault is in, "" for the file that was asked for.
    """

    line: int | None
    where: str
    text: str
    file: str = ""

    def shown(self, file: str) -> str:
        """Return `FILE:LINE: where: text` with the parts that exist, safe for a terminal. `file` is the job's."""
        name = self.file or file
        head = name if self.line is None else f"{name}:{self.line}"
        return ": ".join((*(printable(part) for part in (head, self.where) if part), printable(self.text, MESSAGE)))


_TOLD_EACH = 3
"""Equal faults at more places are told once."""


class _FaultyFile(MatplanError, ValueError):
    """A file with faults; `file` is its name as the user gave it. As a text it tells them, a line each."""

    def __init__(self, faults: Iterable[Fault], *, file: str = "job.toml") -> None:
        self.faults: tuple[Fault, ...] = tuple(faults)
        self.file = file
        super().__init__("\n".join(self._told()))

    def _told(self) -> Iterator[str]:
        """Yield each fault; the same one at many places once, with how many more there are and the first of them."""
        alike: dict[tuple[str, str], list[Fault]] = {}
        for fault in self.faults:
            alike.setdefault((fault.file, fault.text), []).append(fault)
        for fault in self.faults:
            same = alike[fault.file, fault.text]
            if len(same) <= _TOLD_EACH:
                yield fault.shown(self.file)
            elif fault is same[0]:
                lines = ", ".join(str(other.line) for other in same[1 : 1 + _TOLD_EACH])
                more = ", …" if len(same) > 1 + _TOLD_EACH else ""
                yield f"{fault.shown(self.file)}; the same {len(same) - 1} times more, on lines {lines}{more}"


class JobError(_FaultyFile):
    """A job that cannot be planned."""


class CutListError(_FaultyFile):
    """A cut list that cannot be read."""
