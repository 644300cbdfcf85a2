"""The workshop pack: which documents a plan gets, their names, and writing them whole or not at all.

`make(plan, folder)` is the library's use case; `write_pack` the same with a choice and a progress. It must not know how
a document looks.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from pathlib import Path

from matplan.documents.parts.pictures import Pictures
from matplan.pack.choice import Choice, OnlyError, choice
from matplan.pack.contents import Contents
from matplan.pack.darkroom import Darkroom
from matplan.pack.folder import Content, check_folder, write_whole
from matplan.pack.machine import MachineError, machine_forms
from matplan.planning import Plan

__all__ = ["Choice", "MachineError", "OnlyError", "choice", "machine_forms", "make", "pack_files", "write_pack"]

type Progress = Callable[[int, int], None]


def make(
    plan: Plan,
    folder: str | Path,
    *,
    only: Iterable[str] | None = None,
    machine: str | Iterable[str] = (),
    force: bool = False,
) -> tuple[Path, ...]:
    """Writes the pack of a plan into a folder and returns the paths of its files.

    `only` names documents or pieces; `machine` kinds of machine files (dxf, svg), which are written besides; `force`
    replaces a pack that is there and keeps other files. Raises `JobError` for a photo that cannot be decoded and
    `PackError` for a folder that cannot take the pack; then nothing is written.
    """
    chosen = replace(choice(plan.job, only), machine=machine_forms(machine))
    return write_pack(plan, Path(folder), chosen, force=force)


def write_pack(
    plan: Plan, folder: Path, chosen: Choice, *, force: bool = False, progress: Progress = lambda _done, _total: None
) -> tuple[Path, ...]:
    """Writes what is chosen of a pack; see `make`. `progress` is called with what is done and what there is to do."""
    check_folder(folder, force=force)
    return write_whole(folder, _files(plan, chosen, progress), force=force)


def pack_files(
    plan: Plan, chosen: Choice, progress: Progress = lambda _done, _total: None
) -> tuple[tuple[str, bytes], ...]:
    """Every file of the pack as its relative name and its bytes, in the order of writing. Raises `JobError` for
    undecodable photos.
    """
    files = _files(plan, chosen, progress)
    return tuple((name, content if isinstance(content, bytes) else b"".join(content)) for name, content in files)


def _files(plan: Plan, chosen: Choice, progress: Progress) -> Iterator[tuple[str, Content]]:
    """Yield the same, each made when its turn comes; photos are made ready, and refused, at once."""
    total, done = 0, 0

    def tick() -> None:
        nonlocal done
        done += 1
        progress(done, total)

    def pictures(contents: Contents) -> Pictures:
        nonlocal total
        photos = sum(aperture.ask.photo is not None for piece in contents.pictured for aperture in piece.apertures)
        walls = contents.walls
        total = photos + sum(wall.photo is not None for wall in walls) + contents.steps
        return Darkroom().pictures(plan.job, contents.pictured, contents.picture_sizes, tick, walls=walls)

    return Contents(plan, chosen, pictures).files(tick)
