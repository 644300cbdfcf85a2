"""Writes a pack's files into a folder whole or not at all.

The new pack is built beside the folder and takes its place in one rename, so that a crash leaves the old one. Files in
the folder that belong to no pack are kept; links are kept as links and never followed. It must not know what a pack
holds.
"""

from __future__ import annotations

import ctypes
import json
import os
import shutil
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path, PurePosixPath

from matplan.faults import PackError, printable
from matplan.pack.building import ASIDE, OLD, begin, clear_leavings

MANIFEST = "pack.json"
PLAN = "plan.json"
MANIFEST_SCHEMA = "matplan-pack/1"
PLAN_SCHEMA_PREFIX = "matplan-plan/"

type Content = bytes | Iterable[bytes]
"""What a file holds: all of it, or parts of it that are made as they are written."""


def check_folder(folder: Path, *, force: bool) -> None:
    """Raises `PackError` where that folder will not take a pack, before any work is done for it."""
    shown = printable(str(folder))
    with _told(shown):
        _kept(Path(os.path.realpath(folder)), shown=shown, force=force)


def write_whole(folder: Path, files: Iterable[tuple[str, Content]], *, force: bool) -> tuple[Path, ...]:
    """Writes those files (relative names with `/`, contents) and a manifest; returns their paths in the folder.

    Raises `PackError` where the folder is no folder, holds something else than a pack, holds a pack and `force` is not
    set, or cannot be written.
    """
    shown = printable(str(folder))
    made: list[Path] = []
    try:
        with _told(shown):
            target = Path(os.path.realpath(folder))
            made = [parent for parent in target.parents if not parent.exists()]
            target.parent.mkdir(parents=True, exist_ok=True)
            clear_leavings(target)
            _kept(target, shown=shown, force=force)
            building, hold = begin(target)
        try:
            with _told(shown):
                names = _build(building, files)
                kept = _kept(target, shown=shown, force=force)  # what lies there now: building takes its time
                _keep(target, building, kept, names, shown=shown)
                _take_place(building, target, names)
        finally:
            shutil.rmtree(building, ignore_errors=True)
            hold.close()
    except BaseException:
        for parent in made:
            with suppress(OSError):
                parent.rmdir()
        raise
    return tuple(folder / name for name in names)


@contextmanager
def _told(shown: str) -> Iterator[None]:
    """Tell a fault of the disk as one of that folder."""
    try:
        yield
    except PackError:
        raise
    except OSError as error:
        raise PackError(f"{shown}: the pack cannot be written: {error.strerror or error}") from error


def _kept(target: Path, *, shown: str, force: bool) -> tuple[PurePosixPath, ...]:
    """Return what lies in the folder beside its old pack. Raises `PackError` where the folder may not be touched."""
    if not os.path.lexists(target):
        return ()
    if not target.is_dir():
        raise PackError(f"{shown}: is no folder; name a folder for the pack")
    if not any(target.iterdir()):
        return ()
    if not _holds_pack(target):
        raise PackError(
            f"{shown}: is not empty and holds no pack, so nothing is written; name a new or an empty folder"
        )
    if not force:
        raise PackError(f"{shown}: holds a pack already; add --force to replace it")
    old = _manifest(target)
    return tuple(path for path in _entries(target) if str(path) not in old)


def _holds_pack(target: Path) -> bool:
    plan = target / PLAN
    if plan.is_symlink() or not plan.is_file():
        return False
    try:
        with plan.open("rb") as stream:
            return PLAN_SCHEMA_PREFIX.encode() in stream.read(200)
    except OSError:
        return False


def _manifest(target: Path) -> frozenset[str]:
    """The files of the pack that lies there, as its manifest names them."""
    path = target / MANIFEST
    try:
        document = json.loads(path.read_bytes()) if not path.is_symlink() else {}
        listed = document["files"] if document.get("schema") == MANIFEST_SCHEMA else []
    except (OSError, ValueError, KeyError, AttributeError):
        listed = []
    return frozenset(name for name in listed if isinstance(name, str)) | {MANIFEST, PLAN}


def _entries(folder: Path) -> Iterator[PurePosixPath]:
    """Every file, link and empty folder below, as a relative path; links are not followed."""
    for root, folders, files in os.walk(folder, followlinks=False):
        here = Path(root)
        for name in sorted(folders):
            path = here / name
            if path.is_symlink() or not any(path.iterdir()):
                yield PurePosixPath(path.relative_to(folder))
        for name in sorted(files):
            yield PurePosixPath((here / name).relative_to(folder))


def _build(building: Path, files: Iterable[tuple[str, Content]]) -> tuple[str, ...]:
    names: list[str] = []
    for name, content in files:
        path = building / name
        path.parent.mkdir(parents=True, exist_ok=True)
        if isinstance(content, bytes):
            path.write_bytes(content)
        else:
            with path.open("wb") as stream:
                stream.writelines(content)
        names.append(name)
    names.append(MANIFEST)
    document = {"schema": MANIFEST_SCHEMA, "files": sorted(names)}
    (building / MANIFEST).write_text(json.dumps(document, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
    mode = 0o777 & ~_umask()
    for root, _folders, _files in os.walk(building):
        Path(root).chmod(mode)
    return tuple(names)


def _umask() -> int:
    now = os.umask(0)
    os.umask(now)
    return now


def _keep(target: Path, building: Path, kept: Iterable[PurePosixPath], names: tuple[str, ...], *, shown: str) -> None:
    """Puts what is kept into the new pack: links as links, files as second names of themselves, so that nothing is
    copied or lost.
    """
    if target.is_dir():
        shutil.copymode(target, building)
    taken = {parent for name in names for parent in (PurePosixPath(name), *PurePosixPath(name).parents)}
    for path in kept:
        source, place = target / path, building / path
        if path in taken or any(building.joinpath(parent).is_file() for parent in path.parents if str(parent) != "."):
            if source.is_symlink() or source.is_dir():
                continue  # a link where the pack has its own: what it points to is not touched
            raise PackError(
                f"{shown}: {printable(str(path))} is not the pack's and would be overwritten; move it elsewhere"
            )
        _make_like(target, building, path.parent)
        if source.is_symlink():
            place.symlink_to(source.readlink())
        elif source.is_dir():
            _make_like(target, building, path)
        else:
            try:
                os.link(source, place)
            except OSError:
                shutil.copy2(source, place, follow_symlinks=False)


def _make_like(target: Path, building: Path, path: PurePosixPath) -> None:
    """Make a folder and those above it, with the rights that they have in the target."""
    for each in reversed((path, *path.parents)):
        if not (building / each).is_dir():
            (building / each).mkdir()
            shutil.copymode(target / each, building / each)


def _take_place(building: Path, target: Path, names: Iterable[str]) -> None:
    """The new pack at the target's name, in one step where the system has one; what was there ends up at `building`, or
    is gone. Raises `OSError` where somebody else has filled the folder meanwhile.
    """
    if not os.path.lexists(target) or not any(target.iterdir()):
        if os.name == "nt" and target.exists():  # a folder takes an empty one's place everywhere else
            target.rmdir()
        building.rename(target)
        return
    if _exchange(building, target):
        _bring_over(building, target, names)
        return
    aside, hold = begin(target, ASIDE)
    try:
        target.rename(aside / OLD)
        try:
            building.rename(target)
        except BaseException:
            (aside / OLD).rename(target)
            raise
        _bring_over(aside / OLD, target, names)
        shutil.rmtree(aside / OLD, ignore_errors=True)
    finally:
        with suppress(OSError):  # the old pack stays where it could not go back
            aside.rmdir()
        hold.close()


def _bring_over(old: Path, target: Path, names: Iterable[str]) -> None:
    """What was put into the old pack's folder, or saved there anew, while the new one took its place."""
    packs = {*_manifest(old), *names}
    for path in _entries(old):
        source, place = old / path, target / path
        if str(path) in packs or source.is_dir() or (place.exists() and source.samefile(place)):
            continue
        with suppress(OSError):
            _make_like(old, target, path.parent)
            source.replace(place)


def _exchange(one: Path, other: Path) -> bool:
    """Swaps two folders' names at once; False where the system cannot."""
    if not sys.platform.startswith("linux"):
        return False
    libc = ctypes.CDLL(None, use_errno=True)
    swap = getattr(libc, "renameat2", None)
    if swap is None:
        return False
    here, exchange = -100, 2  # AT_FDCWD, RENAME_EXCHANGE (Linux renameat2(2))
    return bool(swap(here, os.fsencode(one), here, os.fsencode(other), exchange) == 0)
