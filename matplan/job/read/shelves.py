"""Supplies files: tables of papers, boards, frames and hardware that many jobs share, put behind a job's own."""

from __future__ import annotations

import stat
from collections.abc import Mapping
from dataclasses import dataclass
from os.path import normpath
from pathlib import Path
from typing import Any, Final

from matplan.faults import Fault, JobError, printable
from matplan.job.file.document import Document, read_text
from matplan.job.file.lines import place_text
from matplan.job.file.sources import Source, Sources, merge
from matplan.job.file.texts import read_name
from matplan.job.file.wrong import got, nearest
from matplan.lengths import Units

NAMED: Final = frozenset({"paper", "board", "glazing", "backing", "frame", "hardware"})
"""The tables whose own tables have names."""
HELD: Final = (*sorted(NAMED), "cutter", "costs")
"""What a supplies file holds, beside its units."""
_SAYS: Final = "a supplies file holds units, paper, board, glazing, backing, frame, hardware, cutter and costs tables"


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelves:
    """A job's data with its supplies files behind it, what stands where, and the faults of those files."""

    data: Mapping[str, Any]
    sources: Sources
    faults: tuple[Fault, ...] = ()
    lost: bool = False
    """Whether a file could not be read, so that what is not found may stand in it."""


def with_supplies(job: Document, folder: Path, file: str) -> Shelves:
    """Return a job's data with the files that its `supplies` names, in their order, and the job last.

    Paths start from `folder`, where the job is `file`. A file that cannot be read, or holds anything else, is told; its
    sound tables serve.
    """
    sources = Sources(Source(file="", lines=job.lines))
    written = job.data.get("supplies")
    if not isinstance(written, list):
        return Shelves(data=job.data, sources=sources)
    data: dict[str, Any] = {}
    faults: list[Fault] = []
    lost = False
    for number, name in enumerate(written):
        try:
            read_name(name, Units.MM)
        except ValueError:
            continue  # no name: told where the job's own keys are read
        if normpath(folder / name) == normpath(folder / file):
            faults.append(_misnamed(f"{got(name)}, which is the job itself; leave it out", job, number))
            continue
        try:
            if _never_ends(folder / name):
                faults.append(_misnamed(f"{got(name)}, which is no plain file; name a TOML file", job, number))
                lost = True
                continue
            found = Document(read_text(folder / name, file=name), file=name)
        except JobError as error:
            faults.extend(_unreadable(error, name, job, number))
            lost = True
            continue
        except ValueError:
            faults.append(_misnamed(f"{got(name)}, which is no path; write one like ../workshop.toml", job, number))
            lost = True
            continue
        units = _units_of(found, name, faults)
        faults.extend(_strangers(found, name))
        held = {kind: found.data[kind] for kind in found.data if kind in HELD}
        merge(held, Source(file=name, lines=found.lines, units=units), NAMED, data, sources)
    if data:
        merge(dict(job.data), sources.own, NAMED, data, sources)
    return Shelves(data=data or job.data, sources=sources, faults=tuple(faults), lost=lost)


def _never_ends(path: Path) -> bool:
    """Return whether that is a pipe or a device, which may keep whoever reads it waiting."""
    try:
        mode = path.stat().st_mode
    except (OSError, ValueError):  # told when it is read
        return False
    return not stat.S_ISREG(mode) and not stat.S_ISDIR(mode)


def _unreadable(error: JobError, name: str, job: Document, number: int) -> list[Fault]:
    """Return why a file cannot be read: in the job where there is none, else in the file itself."""
    said = []
    for fault in error.faults:
        if fault.line is None:
            right = "paths start from the job's folder"
            said.append(_misnamed(f"{got(name)}: {fault.text.split(';')[0]}; {right}", job, number))
        else:
            said.append(Fault(line=fault.line, where=fault.where, text=fault.text, file=name))
    return said


def _misnamed(text: str, job: Document, number: int) -> Fault:
    """Return what is wrong with a file's name, at its place in the job."""
    place = ("supplies", number)
    return Fault(line=job.lines.of(place), where=place_text(place), text=text)


def _units_of(found: Document, name: str, faults: list[Fault]) -> Units:
    written = found.data.get("units", "mm")
    word = written.casefold().strip() if isinstance(written, str) else written
    if word in [unit.value for unit in Units]:
        return Units(word)
    text = f'{got(written)}; write "mm", "cm" or "in"'
    faults.append(Fault(line=found.lines.of(("units",)), where="units", text=text, file=name))
    return Units.MM


def _strangers(found: Document, name: str) -> list[Fault]:
    """Return what stands in a supplies file and does not belong there."""
    said = []
    for key in found.data:
        if key in (*HELD, "units"):
            continue
        if key == "supplies":
            text = "a supplies file names no further ones; name them all in the job"
        elif key in ("piece", "wall"):
            text = f"{_SAYS}; a {key} stands in the job"
        else:
            near = nearest(key, HELD, 1)
            text = f'{_SAYS}; "{printable(key, 40)}" is none of them' + (f'; did you mean "{near[0]}"?' if near else "")
        said.append(Fault(line=found.lines.of((key,)), where=key, text=text, file=name))
    return said
