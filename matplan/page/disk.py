"""What the page writes: the job, a draft beside it, photos. Everything whole or not at all, and nothing over another.

A mark tells what of the job lies on the disk, so that a save asks where somebody else has written meanwhile.
"""

from __future__ import annotations

import hashlib
import os
import tempfile
from dataclasses import dataclass
from pathlib import Path, PurePath
from typing import Final

from matplan.faults import PackError, printable
from matplan.job.file.document import read_text
from matplan.job.names import safe_name
from matplan.job.read.photos import PhotoFault, read_photo
from matplan.job.records import Photo

PHOTOS: Final = "photos"
"""The folder beside the job that photos are copied into."""
ENDINGS: Final = {
    "JPEG": ".jpg", "PNG": ".png", "TIFF": ".tif", "WEBP": ".webp", "GIF": ".gif", "BMP": ".bmp", "JPEG2000": ".jp2",
    "PPM": ".ppm", "MPO": ".jpg",
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class OnDisk:
    """A job file: its text ("" where there is none), and the mark of what is there."""

    there: bool
    text: str
    mark: str


class Changed(Exception):
    """The file on the disk is not the one that was read; `now` is what is there."""

    def __init__(self, now: OnDisk) -> None:
        self.now = now


class Disk:
    """The job file at `path`, and what stands beside it."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._draft = path.with_name(f".{path.name}.draft")

    def job(self) -> OnDisk:
        """Return the job file. Raises `JobError` where it cannot be read."""
        if not os.path.lexists(self.path):
            return OnDisk(there=False, text="", mark="")
        text = read_text(self.path, file=str(self.path))
        return OnDisk(there=True, text=text, mark=mark_of(text))

    def save(self, text: str, seen: str) -> OnDisk:
        """Write the job, if what lies there still has the mark `seen`; the draft goes.

        Raises `Changed`, `PackError`.
        """
        now = self.job()
        if now.mark != seen and now.text != text:
            raise Changed(now)
        self._write(self.path, text.encode("utf-8"))
        self._draft.unlink(missing_ok=True)
        return OnDisk(there=True, text=text, mark=mark_of(text))

    def draft(self) -> str | None:
        """Return the draft, `None` where there is none, or where the job says the same."""
        try:
            text = self._draft.read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError):
            return None
        return None if text == self.job().text else text

    def keep_draft(self, text: str | None) -> None:
        """Keep a text beside the job, or clear it. Raises `PackError`."""
        if text is None:
            self._draft.unlink(missing_ok=True)
        else:
            self._write(self._draft, text.encode("utf-8"))

    def add_photo(self, name: str, content: bytes) -> tuple[str, Photo]:
        """Copy a photo into the job's folder, never over another file; return its path as the job writes it.

        The same photo a second time is the same file. Raises `PhotoFault` where it is no photo, `PackError`.
        """
        stem = safe_name(PurePath(name.replace("\\", "/")).stem, "photo", 120)
        folder = self.path.parent / PHOTOS
        with self._beside(folder, content) as written:
            photo = read_photo(written.path, f'"{printable(name, 60)}"')
            ending = ENDINGS.get(photo.format, PurePath(name).suffix.lower() or ".jpg")
            number = 1
            while True:
                path = folder / f"{stem}{'' if number == 1 else f'-{number}'}{ending}"
                if path.is_file() and path.read_bytes() == content:
                    break
                try:
                    os.link(written.path, path)
                    break
                except FileExistsError:
                    number += 1
                except OSError as error:
                    raise PackError(f"{printable(str(path))} cannot be written: {error.strerror or error}") from None
        return f"{PHOTOS}/{path.name}", photo

    def _write(self, path: Path, content: bytes) -> None:
        with self._beside(path.parent, content) as written:
            try:
                if path.exists():
                    written.path.chmod(path.stat().st_mode & 0o777)
                written.path.replace(path.resolve())
            except OSError as error:
                raise PackError(f"{printable(str(path))} cannot be written: {error.strerror or error}") from None

    def _beside(self, folder: Path, content: bytes) -> _Written:
        try:
            folder.mkdir(parents=True, exist_ok=True)
            number, name = tempfile.mkstemp(dir=folder, prefix=".matplan-")
            with os.fdopen(number, "wb") as stream:
                stream.write(content)
                stream.flush()
                os.fsync(stream.fileno())
            Path(name).chmod(0o644)
        except OSError as error:
            raise PackError(f"{printable(str(folder))} cannot be written: {error.strerror or error}") from None
        return _Written(Path(name))


class _Written:
    """A file that is written and has no name yet; it goes where nobody takes it."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def __enter__(self) -> _Written:
        return self

    def __exit__(self, *_: object) -> None:
        self.path.unlink(missing_ok=True)


def mark_of(text: str) -> str:
    """Return the mark of a text, "" of none."""
    return hashlib.blake2b(text.encode("utf-8", "surrogatepass"), digest_size=12).hexdigest()


__all__ = ["Changed", "Disk", "OnDisk", "PhotoFault", "mark_of"]
