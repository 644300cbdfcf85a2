"""What is wrong with a file: each fault once, with its place and line, and no fault that follows from another."""

from __future__ import annotations

from matplan.faults import Fault
from matplan.job.file.lines import Lines, Place, place_text
from matplan.job.file.sources import Source, Sources


class Faults:
    """The faults of a job so far, each in its file, and the places whose values cannot be trusted."""

    def __init__(self, lines: Lines | Sources) -> None:
        self.lines = lines if isinstance(lines, Sources) else Sources(Source(file="", lines=lines))
        self._found: list[Fault] = []
        self._touched: set[Place] = set()
        self.sized: set[Fault] = set()
        """The faults about a size, which a slip of the unit may explain."""

    def __bool__(self) -> bool:
        return bool(self._found)

    def add(self, place: Place, text: str, *, line_of: Place | None = None, sized: bool = False) -> None:
        """Take up one thing wrong at a place; its line is the line of `line_of` where another place says it better."""
        source, there = self.lines.told(place)
        line = self.lines.of(place if line_of is None else line_of)
        fault = Fault(line=line, where=place_text(there), text=text, file=source.file)
        self._found.append(fault)
        if sized:
            self.sized.add(fault)
        self.touch(place)

    def touch(self, place: Place) -> None:
        """Note that a place and all it stands in are faulty, which is told already."""
        self._touched.update(place[:length] for length in range(len(place) + 1))

    def guess(self, place: Place) -> None:
        """Note that a misspelt key was probably meant for a place, so that nothing is missing there."""
        self._touched.add(place)

    def touches(self, place: Place) -> bool:
        """Return whether something at a place or in it is faulty."""
        return place in self._touched

    def in_order(self) -> tuple[Fault, ...]:
        """Return every fault once, by its line; those of the job file before those of others."""
        return tuple(sorted(dict.fromkeys(self._found), key=lambda fault: (fault.file, fault.line or 0)))
