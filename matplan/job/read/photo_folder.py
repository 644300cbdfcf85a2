"""The photos of a folder, in the order of their names."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from matplan.faults import PackError, printable
from matplan.job.file.texts import read_text
from matplan.job.read.photos import PhotoFault, read_photo
from matplan.job.records import Photo
from matplan.lengths import Units

_TOLD = 6
"""So many files that are left out are named where no photo is left."""


def _natural(name: str) -> tuple[tuple[bool, int, str], ...]:
    """Return what names are sorted by: numbers in them count by their value."""
    return tuple(
        (part.isdecimal(), int(part) if part.isdecimal() else 0, part.casefold()) for part in re.split(r"(\d+)", name)
    )


def photos_in(folder: Path, skipped: list[str]) -> list[Photo]:
    """Return the photos in a folder by name; each file that is no photo joins `skipped`."""
    shown = printable(str(folder))
    try:
        paths = sorted(
            (path for path in folder.iterdir() if not path.name.startswith(".")),
            key=lambda path: (_natural(path.name), path.name),
        )
    except (FileNotFoundError, NotADirectoryError):
        raise PackError(f"there is no folder {shown}; name the one that holds the photos") from None
    except OSError as error:
        raise PackError(f"the folder {shown} cannot be read: {error.strerror or error}") from None
    found: list[Photo] = []
    for path in paths:
        if path.is_dir():
            continue
        try:
            _check_name(path.name)
            found.append(read_photo(path, "a file"))
        except PhotoFault as fault:
            skipped.append(
                f"left out {printable(path.name)}: {str(fault).removeprefix('a file, which ').removeprefix('a file, ')}"
            )
    if not found:
        raise none_left(f"{shown} holds no photo that can be read; JPEG, PNG, TIFF and WebP can", skipped)
    return found


def none_left(text: str, skipped: Sequence[str]) -> PackError:
    """Return the error that of a folder's photos none is left, with the first ones that are left out and why."""
    more = [f"and {len(skipped) - _TOLD} more"] if len(skipped) > _TOLD else []
    return PackError("; ".join((text, *skipped[:_TOLD], *more)))


def _check_name(name: str) -> None:
    """Raise `PhotoFault` if a job file cannot hold the file's name."""
    try:
        read_text(name, Units.MM)
    except ValueError:
        raise PhotoFault("its name cannot stand in a job file; rename it") from None
