"""The starter job: a commented job file with its schema and invented pictures, or a piece for each photo found."""

from __future__ import annotations

import os
import re
from collections.abc import Callable
from functools import partial
from pathlib import Path
from string import Template
from typing import TYPE_CHECKING

from matplan.faults import PackError, printable
from matplan.job.starter.sizes import Sizes
from matplan.lengths import Units

if TYPE_CHECKING:
    from PIL.Image import Image

JOB = "job.toml"
SCHEMA = "job.schema.json"
PHOTOS = "photos"
_APART = (
    "the photos lie outside the job's folder: the page (matplan serve) shows those inside alone, so copy them there"
)
_COMMENT = re.compile(r"^(\S.*?) {2,}(#.*)")
"""A comment behind a key: all stand in one column."""


def starter(folder: Path, photos: Path | None = None, units: Units = Units.MM) -> tuple[str, ...]:
    """Write a starter job into a folder, with a piece for each photo in `photos` if one is named; overwrite nothing.

    Return what was written, and which photos were left out and why, one line each. Raises `PackError` where the folder
    has a job already or cannot be written, or where no photo can be read.
    """
    sizes = Sizes.of(units)
    skipped: list[str] = []
    files: dict[str, Callable[[], bytes]] = {}
    if photos is None:
        from matplan.job.starter.pictures import INVENTED, jpeg

        files |= {f"{PHOTOS}/{name}": partial(_drawn, draw, jpeg) for name, draw in INVENTED.items()}
        text = starter_text(sizes)
    else:
        from matplan.job.starter.photographed import job_of_photos

        text = job_of_photos(photos, folder, sizes, skipped)
    files[SCHEMA] = _schema
    files[JOB] = lambda: text.encode("utf-8")  # the last: a folder with a job has all of it
    apart = photos is not None and not photos.resolve().is_relative_to(folder.resolve())
    return (*_write(folder, files), *skipped, *([_APART] if apart else []))


def _drawn(draw: Callable[[], Image], save: Callable[[Image], bytes]) -> bytes:
    return save(draw())


def _schema() -> bytes:
    from matplan.job.schema import schema_text

    return schema_text().encode("utf-8")


def _write(folder: Path, files: dict[str, Callable[[], bytes]]) -> list[str]:
    """Write every file, or none if one is there already or cannot be written; return what is said of it."""
    for name in reversed(files):
        if os.path.lexists(folder / name):
            has = "has a job already" if name == JOB else f"has a file {name} already"
            raise PackError(f"{printable(str(folder))} {has}, and nothing is overwritten; name another folder")
    written: list[Path] = []
    try:
        for name, content in files.items():
            path = folder / name
            path.parent.mkdir(parents=True, exist_ok=True)
            with path.open("xb") as stream:
                written.append(path)
                stream.write(content())
    except OSError as error:
        for path in written:
            path.unlink(missing_ok=True)
        raise PackError(f"{printable(str(folder))} cannot be written: {error.strerror or error}") from None
    return [f"wrote {printable(str(path))}" for path in reversed(written)]


def starter_text(sizes: Sizes) -> str:
    """Return the starter job of the invented pictures in the sizes of a unit system."""
    text = Path(__file__).with_name("starter.toml").read_text(encoding="utf-8")
    lines = Template(text).substitute(sizes.words, units=sizes.units).splitlines(keepends=True)
    return "".join(_COMMENT.sub(lambda found: f"{found[1]:<33} {found[2]}", line) for line in lines)
