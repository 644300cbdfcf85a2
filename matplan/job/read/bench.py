"""What the pieces and walls of one job are read with."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from matplan.job.defaults import Defaults
from matplan.job.file.lines import Place
from matplan.job.file.written import got
from matplan.job.read.complaints import Faults
from matplan.job.read.photos import Photos
from matplan.job.read.supplies import Supplies
from matplan.lengths import Units


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """What the pieces of one job are read with."""

    units: Units
    faults: Faults
    supplies: Supplies
    photos: Photos

    @property
    def defaults(self) -> Defaults:
        """What is taken where a piece says nothing."""
        return Defaults.of(self.units)


def check_names(names: Sequence[str | None], places: Sequence[Place], faults: Faults, what: str) -> None:
    """A fault for each name that an earlier one has already."""
    seen: dict[str, Place] = {}
    for name, place in zip(names, places, strict=True):
        if name is None:
            continue
        if name in seen:
            faults.add(
                (*place, "name"),
                f"{got(name)}, which is the name of {what} on line {faults.lines.of((*seen[name], 'name'))} too; write another",
            )
        seen.setdefault(name, place)
