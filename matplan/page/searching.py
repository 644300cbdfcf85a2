"""The search for sheets in the background: the newest text alone; an older one's search ends at its next material."""

from __future__ import annotations

from threading import Condition, Thread
from typing import Any

from matplan.faults import Fault, JobError, MatplanError
from matplan.job.records import Reading
from matplan.planning import Plan, Workshop


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
            if not self._busy:
                self._busy = True
                Thread(target=self._run, name="sheets", daemon=True).start()

    def found(self, revision: int, seconds: float) -> Plan | JobError | None:
        """Return the plan of this revision, or why it has none; `None` where it is not ready within the seconds."""
        with self._changed:
            self._changed.wait_for(lambda: self._done is not None and self._done[0] >= revision, seconds)
            return self._done[1] if self._done is not None and self._done[0] == revision else None

    def _run(self) -> None:
        while True:
            with self._changed:
                if self._wanted is None:
                    self._busy = False
                    return
                revision, reading = self._wanted

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
