"""The folder in which a pack is built, beside its place, and what a killed `make` has left of one.

A living process holds a lock on its building folder, which the system takes away when the process ends; a folder that
nobody holds is cleared. Where the system has no such locks nothing is cleared. A pack that was put aside for a new one
which never came goes back to its place.
"""

from __future__ import annotations

import glob
import hashlib
import os
import shutil
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Final


@dataclass(frozen=True, slots=True)
class Hold:
    """A lock on a folder; `number` is the open folder's, `None` where the system has no locks."""

    number: int | None

    def close(self) -> None:
        """Let go of the folder."""
        if self.number is not None:
            os.close(self.number)


BUILDING: Final = "building"
ASIDE: Final = "replaced"
"""The folder that a pack is put into while a new one takes its place, as `OLD`, where the two cannot change places."""
OLD: Final = "old"
_MOST_BYTES: Final = 200
"""Of a folder's name within another's: common file systems take 255 bytes."""


def begin(target: Path, what: str = BUILDING) -> tuple[Path, Hold]:
    """Return a new folder beside the target and a hold on it. Raises `OSError`."""
    while True:
        building = Path(tempfile.mkdtemp(prefix=_prefix(target, what), dir=target.parent))
        hold = _held(building)
        if hold is not None and building.is_dir():  # no other process has cleared it before it was held
            return building, hold
        if hold is not None:
            hold.close()


def clear_leavings(target: Path) -> None:
    """Remove the folders beside the target that no living process holds; a pack that was put aside comes back."""
    for what in (ASIDE, BUILDING):
        for folder in target.parent.glob(f"{glob.escape(_prefix(target, what))}*"):
            if folder.is_symlink() or not folder.is_dir():
                continue
            hold = _held(folder)
            if hold is None or hold.number is None:
                continue
            if what == ASIDE and not os.path.lexists(target) and (folder / OLD).is_dir():
                (folder / OLD).rename(target)
            shutil.rmtree(folder, ignore_errors=True)
            hold.close()


def _prefix(target: Path, what: str) -> str:
    name = os.fsencode(target.name)
    if len(name) > _MOST_BYTES:
        mark = hashlib.blake2b(name, digest_size=8).hexdigest()
        name = os.fsencode(name[: _MOST_BYTES - len(mark)].decode("utf-8", "ignore") + mark)
    return f".{os.fsdecode(name)}.{what}-"


def _held(folder: Path) -> Hold | None:
    """Return a hold on the folder, `None` where another process has one or the folder cannot be opened."""
    try:
        import fcntl
    except ImportError:
        return Hold(None)
    try:
        number = os.open(folder, os.O_RDONLY)
    except OSError:
        return None
    try:
        fcntl.flock(number, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        os.close(number)
        return None
    return Hold(number)
