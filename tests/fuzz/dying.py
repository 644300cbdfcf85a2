"""Makes that die at each thing they do to the disk: killed, or told by the disk that it takes no more.

    python -m tests.fuzz.dying FOLDER [--plain] [--every N]

makes a pack over an old one in FOLDER in a forked process, again and again, each time dying one step later, until one
comes to its end; prints how many points were tried and what was wrong. `--plain` does without the exchange of names.
"""

from __future__ import annotations

import argparse
import errno
import itertools
import os
import shutil
import signal
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

from matplan.cli import run
from matplan.pack import folder as room

JOB: Final = """title = "{title}"
[frame.ash]
takes = "30x40 cm"
rail = "20 mm"
[[piece]]
name = "{name}"
frame = "ash"
aspect = "3:2"
image = {{ width = "20 cm" }}
mat = ["white"]
"""
OWN: Final = {"notes.txt": b"ask about the glass", "cut/marks.txt": b"sharpen", "mine/deep/letter.txt": b"keep me"}
"""What the user has put into the pack's folder."""
_EVENTS: Final = frozenset(
    {
        "open", "os.mkdir", "os.rename", "os.link", "os.symlink", "os.remove", "os.rmdir", "os.chmod", "shutil.rmtree",
        "shutil.copymode", "tempfile.mkdtemp", "ctypes.dlsym",
    }
)  # fmt: skip
_GROWS: Final = _EVENTS - {"os.remove", "os.rmdir", "shutil.rmtree", "os.chmod", "shutil.copymode", "ctypes.dlsym"}
"""What a full disk refuses."""
END: Final = 77
"""The code of a process that came to its end."""


def contents(folder: Path) -> dict[str, bytes]:
    """Return the files of a folder, by name."""
    return {each.relative_to(folder).as_posix(): each.read_bytes() for each in folder.rglob("*") if each.is_file()}


def begun(folder: Path) -> tuple[dict[str, bytes], dict[str, bytes]]:
    """Write two jobs into a folder and return the packs that they make; the old one's lies in `pack`, with the user's
    files in it.
    """
    for name in ("old", "new"):
        (folder / f"{name}.toml").write_text(JOB.format(title=name, name=name), encoding="utf-8")
        assert make(folder, name, folder / "made" / name) == 0
    old, new = (contents(folder / "made" / name) for name in ("old", "new"))
    fresh(folder)
    return old, new


def fresh(folder: Path) -> None:
    """Lay the old pack into its place, with the user's files, and nothing beside it."""
    for each in folder.glob(".pack.*"):
        shutil.rmtree(each, ignore_errors=True)
    shutil.rmtree(folder / "pack", ignore_errors=True)
    shutil.copytree(folder / "made" / "old", folder / "pack")
    for name, data in OWN.items():
        (folder / "pack" / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / "pack" / name).write_bytes(data)


def make(folder: Path, name: str, into: Path) -> int:
    """Make a small pack of a job."""
    return run(["make", str(folder / f"{name}.toml"), "--out", str(into), "--force", "--only", "cut,order"])


class Death:
    """An audit hook (PEP 578) that does so at that step to the disk, counted from 0."""

    def __init__(self, point: int, do: Callable[[], None]) -> None:
        self._left, self._do = point, do

    @property
    def is_over(self) -> bool:
        """Whether the step was reached."""
        return self._left < 0

    def __call__(self, event: str, given: tuple[Any, ...]) -> None:
        """Count one event."""
        if event in (_GROWS if self._do is full else _EVENTS) and (event != "open" or _writes(given)):
            self._left -= 1
            if self._left == -1:
                self._do()


def _writes(given: tuple[Any, ...]) -> bool:
    flags = given[2] if len(given) > 2 else 0
    return isinstance(flags, int) and bool(flags & (os.O_WRONLY | os.O_RDWR | os.O_CREAT))


def killed() -> None:
    """Die as by a power cut to the process."""
    os.kill(os.getpid(), signal.SIGKILL)


def full() -> None:
    """Say what a full disk says."""
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def interrupted() -> None:
    """Ctrl-C."""
    raise KeyboardInterrupt


def forked(folder: Path, point: int, do: Callable[[], None], *, exchange: bool) -> int:
    """Make the new pack over the old one in a process of its own that dies there; return how it ended."""
    child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    code = 99
    try:
        if not exchange:
            setattr(room, "_exchange", lambda _one, _other: False)  # noqa: B010
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 1)
        os.dup2(nowhere, 2)
        death = Death(point, do)
        sys.addaudithook(death)
        code = make(folder, "new", folder / "pack")
        code = code if death.is_over else END
    finally:
        os._exit(code)


def wrong(folder: Path, old: dict[str, bytes], new: dict[str, bytes], *, gone: bool) -> str:
    """Return what is wrong with what a dead `make` has left, and with the next one. `gone`: the pack may be missing
    until then, where names cannot change places.
    """
    pack = folder / "pack"
    there = contents(pack)
    lost = {name for name, data in OWN.items() if there.get(name) != data}
    rest = {name: data for name, data in there.items() if name not in OWN}
    if not (gone and not pack.exists()) and (lost or rest not in (old, new)):
        return f"lost {sorted(lost)}, and {sorted(set(rest) ^ set(old))} are not of the old pack"
    if make(folder, "new", pack):
        return "the next one fails"
    there = contents(pack)
    if there != {**new, **OWN}:
        return f"the next one leaves {sorted(set(there) ^ set(new))}"
    left = [each.name for each in folder.iterdir() if each.name.startswith(".")]
    return f"the next one leaves {left}" if left else ""


def every(folder: Path, do: Callable[[], None], *, exchange: bool = True, each: int = 1) -> tuple[int, list[str]]:
    """Let a make die at each step, and return how many points there were and what was wrong."""
    old, new = begun(folder)
    found: list[str] = []
    tried = 0
    for point in itertools.count(0, each):
        fresh(folder)
        code = forked(folder, point, do, exchange=exchange)
        beside = [path.name for path in folder.glob(".*")]
        if do is not killed and code not in (0, 1, 130, END):
            found.append(f"point {point}: exit {code}")
        plan = folder / "pack" / "plan.json"
        taken = (
            plan.exists() and plan.read_bytes() == new["plan.json"]
        )  # / "pack" / "plan.json").read_bytes() == new["plan.json"]
        if do is not killed and beside and not (do is interrupted and taken):  # it was only clearing up
            found.append(f"point {point}: leaves {beside}")
        if text := wrong(folder, old, new, gone=not exchange):
            found.append(f"point {point}: {text}")
        if code == END:
            break
        tried += 1
    return tried, found


def main() -> int:
    """Try all; 1 where anything was wrong."""
    arguments = argparse.ArgumentParser()
    arguments.add_argument("folder", type=Path)
    arguments.add_argument("--every", type=int, default=1, help="which points: each, or every third, …")
    arguments.add_argument("--plain", action="store_true")
    given = arguments.parse_args()
    bad = 0
    for name, do in (("killed", killed), ("disk full", full), ("interrupted", interrupted)):
        points, found = every(given.folder, do, exchange=not given.plain, each=given.every)
        sys.stderr.write(
            f"{name}: {points} points, {len(found)} wrong\n" + "".join(f"  {text}\n" for text in found[:8])
        )
        bad += len(found)
    return int(bool(bad))


if __name__ == "__main__":
    sys.exit(main())
