"""The search for sheets in the background: the newest text alone; an older one's search ends at its next material."""

from __future__ import annotations

from functools import partial
from threading import Condition, Thread
from typing import Any, Final

from matplan.faults import Fault, JobError, MatplanError
from matplan.job.records import Reading
from matplan.planning import Plan, Workshop

REST: Final = 0.4
"""Seconds that the hands rest before a search begins."""


class _Superseded(Exception):
    """A newer text has come."""


class Search:
    """Plans the newest text with its sheets, one at a time, in a thread of its own."""

    def __init__(self, workshop: Workshop) -> None:
        self._workshop = workshop
        self._changed = Condition()
        self._wanted: tuple[int, Reading] | None = None
        self._busy = False
        self._done: tuple[int, Plan | JobError] | None = None

    def begin(self, revision: int, reading: Reading) -> None:
        """Search for the text of this revision; what was searched for before is dropped."""
        with self._changed:
            self._wanted = revision, reading
            self._changed.notify_all()
            if not self._busy:
                self._busy = True
                Thread(target=self._run, name="sheets", daemon=True).start()

    def found(self, revision: int, seconds: float) -> Plan | JobError | None:
        """Return the plan of this revision, or why it has none; `None` where it is not ready within the seconds."""
        with self._changed:
            self._changed.wait_for(lambda: self._settled(revision), seconds)
            return self._done[1] if self._done is not None and self._done[0] == revision else None

    def _settled(self, revision: int) -> bool:
        """Return whether nothing more comes for a revision: it is done, or a newer text has come."""
        return (self._done is not None and self._done[0] >= revision) or self._newest() not in (None, revision)

    def _superseded(self, revision: int) -> bool:
        return self._newest() != revision

    def _newest(self) -> int | None:
        return None if self._wanted is None else self._wanted[0]

    def _run(self) -> None:
        while True:
            with self._changed:
                if self._wanted is None:
                    self._busy = False
                    return
                revision, reading = self._wanted
                if self._changed.wait_for(partial(self._superseded, revision), REST):
                    continue

            def tick(_done: int, _total: int, revision: int = revision) -> None:
                if self._wanted is None or self._wanted[0] != revision:
                    raise _Superseded

            outcome: Any
            try:
                outcome = self._workshop.plan(reading, tick)
            except _Superseded:
                continue
            except JobError as error:
                outcome = error
            except MatplanError as error:
                outcome = JobError([Fault(line=None, where="", text=str(error))])
            with self._changed:
                self._done = revision, outcome
                if self._wanted is not None and self._wanted[0] == revision:
                    self._wanted = None
                self._changed.notify_all()
