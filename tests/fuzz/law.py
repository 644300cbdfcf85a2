"""The law that holds for any input: a documented exit code, errors that say what is wrong and what would be right, no
traceback, an answer within `SECONDS`, memory below `MEGABYTES`.
"""

from __future__ import annotations

import io
import json
import os
import re
import signal
import sys
import time
import unicodedata
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import FrameType
from typing import Final

from matplan.cli import run
from matplan.stock.search import Budget

SECONDS: Final = 20.0
"""Of computing for one answer, so that it counts nothing of what else the machine is busy with."""
MEGABYTES: Final = 500
SEARCH: Final = 0.1
"""Seconds for each material's search, in place of what a job gets: the search has tests of its own."""
_FAULT: Final = re.compile(r"^(?P<file>.+?\.(?:toml|csv)|list)(?::(?P<line>\d+))?: (?P<text>.+)$", re.DOTALL)
_OWN: Final = ("Traceback", "it is not your job's fault", "Exception ignored")


class TooLong(BaseException):
    """An answer that does not come; no `except Exception` swallows it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """What a command answered."""

    code: int
    out: str
    err: str
    seconds: float
    megabytes: float


def asked(*arguments: str, seconds: float = SECONDS) -> Told:
    """Run a command in this process. Raises `TooLong` long after it should have answered."""
    out, err = (io.TextIOWrapper(io.BytesIO(), encoding="utf-8", errors="surrogateescape") for _ in "oe")
    kept = sys.stdout, sys.stderr
    begin = time.process_time()
    _forget_peak()
    with _patience(6 * seconds):
        sys.stdout, sys.stderr = out, err
        try:
            code = run(arguments)
        finally:
            sys.stdout, sys.stderr = kept
    took = time.process_time() - begin
    return Told(code=code, out=_text(out), err=_text(err), seconds=took, megabytes=peak())


@contextmanager
def computing() -> Iterator[Callable[[], float]]:
    """Yield how many seconds this process has computed since; a block that goes on for long ends with `TooLong`."""
    begin = time.process_time()
    with _patience(6 * SECONDS):
        yield lambda: time.process_time() - begin


@contextmanager
def short_searches() -> Iterator[None]:
    """Give every search for sheets little time, and tell faults of our own with where they come from."""
    defaults, traceback = Budget.__init__.__kwdefaults__ or {}, os.environ.get("MATPLAN_TRACEBACK")
    kept = defaults["seconds"]
    defaults["seconds"] = SEARCH
    os.environ["MATPLAN_TRACEBACK"] = "1"
    try:
        yield
    finally:
        defaults["seconds"] = kept
        if traceback is None:
            del os.environ["MATPLAN_TRACEBACK"]


def breach(told: Told, *, codes: Sequence[int] = (0, 1, 2), as_json: bool = False, lines: int = 0) -> str:
    """Return which law an answer breaks, "" where none. `lines` are those of the file asked about, 0 where no errors
    with places are expected.
    """
    if any(words in told.err for words in _OWN):
        return f"a fault of our own: {told.err[-1500:]}"
    if told.code not in codes:
        return f"exit {told.code}: {told.err[:300]}"
    if told.seconds > SECONDS:
        return f"took {told.seconds:.1f} s"
    if told.megabytes > MEGABYTES:
        return f"took {told.megabytes:.0f} MB"
    if raw := {character for character in told.out + told.err if _is_control(character)}:
        return f"control characters reach the terminal: {raw!r}"
    if told.code and not told.err.strip() and not told.out.strip():
        return "fails and says nothing"
    if told.code == 1 and lines:
        return _words_breach(told, lines) or ("prints JSON all the same" if as_json and told.out else "")
    if as_json and not told.code:
        try:
            json.loads(told.out, parse_constant=_no_number)
        except ValueError as error:
            return f"no JSON: {error}"
    return ""


def _words_breach(told: Told, lines: int) -> str:
    """Return what is wrong with the errors of a file."""
    for row in told.err.strip().split("\n"):
        found = _FAULT.match(row)
        if found is None:
            return f"names no file: {row[:300]}"
        if found["line"] is not None and not 1 <= int(found["line"]) <= lines:
            return f"names a line that the file has not ({lines}): {row[:300]}"
        if len(found["text"]) < 12 or len(row) > 2500:
            return f"says too little or too much: {row[:300]}"
    return ""


def _no_number(word: str) -> None:
    raise ValueError(f"{word} is no JSON")


def _is_control(character: str) -> bool:
    return character != "\n" and unicodedata.category(character) in {"Cc", "Cs"}


def _text(stream: io.TextIOWrapper) -> str:
    stream.flush()
    buffer = stream.buffer
    assert isinstance(buffer, io.BytesIO)
    return buffer.getvalue().decode("utf-8", "surrogateescape")


# --- time and memory -------------------------------------------------------------------------------------------------


@contextmanager
def _patience(seconds: float) -> Iterator[None]:
    def over(_number: int, _frame: FrameType | None) -> None:
        raise TooLong(f"no answer in {seconds:.0f} s")

    before = signal.signal(signal.SIGALRM, over)
    signal.setitimer(signal.ITIMER_REAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)


_STATUS, _REFS = Path("/proc/self/status"), Path("/proc/self/clear_refs")


def _forget_peak() -> None:
    """Let the system count this process's peak of memory from now on, where it can (Linux, proc(5))."""
    if _REFS.exists():
        try:
            _REFS.write_text("5")
        except OSError:
            return


def peak() -> float:
    """Return the most memory that this process has held since then, in MB; 0 where the system does not tell."""
    if not _STATUS.exists():
        return 0
    return next(int(row.split()[1]) / 1000 for row in _STATUS.read_text().splitlines() if row.startswith("VmHWM"))
