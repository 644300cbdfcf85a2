"""Arguments that nobody means, of every command."""

from __future__ import annotations

import shutil
from contextlib import chdir
from pathlib import Path
from random import Random
from typing import Final

from tests.fuzz.jobs import pack_breach, scenario
from tests.fuzz.law import asked, breach
from tests.fuzz.trial import Tried
from tests.fuzz.values import LENGTHS, RATIOS, SIZES, WORDS

_COMMANDS: Final = (
    "check",
    "explain",
    "make",
    "fit",
    "fit",
    "fit",
    "sizes",
    "words",
    "new",
    "measure",
    "schema",
    "sheets",
    "",
)
_OPTIONS: Final = {
    "make": ("--out", "--only", "--machine", "--force"),
    "fit": (
        "--frames", "--papers", "--job", "--image", "--border", "--weight", "--show", "--overlap", "--ppi", "--top",
        "--units",
        "--json",
    ),
    "new": ("--units", "--photos"),
    "measure": ("--out", "--units"),
    "sheets": ("--sheet", "--units", "--limit"),
    "sizes": ("--json",),
}  # fmt: skip
_LIKELY: Final = {
    "--frames": ("40x50 cm", "30x40 cm,A3", "ash"), "--papers": ("A4", "A3+,Letter"), "--image": ("30 x 20 cm", "A4"),
    "--border": ("6 cm", "2 in", "0"), "--weight": ("optical", "1.2", "12 mm"), "--show": ("image", "margin", "sheet"),
    "--overlap": ("3 mm", "0"), "--ppi": ("300", "1"), "--top": ("1", "1000"), "--units": ("mm", "cm", "in"),
    "--only": ("shop", "wall,front", "plan"), "--machine": ("svg", "dxf,svg"), "--sheet": ("32x40 in@18.5",),
}  # fmt: skip


def options(chance: Random, folder: Path) -> Tried:
    """A command with arguments and options, each likely, odd or a path to nowhere."""
    there, data = scenario(chance, folder)
    (there / "job.toml").write_bytes(data)
    out = there / "out"
    name = chance.choice(_COMMANDS)
    command = [name] if name else []
    subject = str(there / "job.toml") if name in ("check", "explain", "make") else "3:2" if name == "fit" else None
    if subject and chance.random() < 0.9:
        command.append(subject)
    if chance.random() < 0.4:
        command.append(_word(chance))
    for _ in range(chance.choice([0, 1, 1, 2, 4])):
        option = chance.choice(_OPTIONS.get(name, ("--json", "--help", "--nothing", "-")))
        command.append(option)
        if option not in ("--force", "--json", "--help"):
            likely = chance.random() < 0.6 and option in _LIKELY
            command.append(chance.choice(_LIKELY[option]) if likely else _word(chance))
    command = [
        str(out) if before in ("--out", "new") else word for before, word in zip(["", *command], command, strict=False)
    ]
    with chdir(there):  # where a command writes that is told no folder
        told = asked(*command)
    found = breach(told)
    if not found and name == "make" and not told.code and out.is_dir():
        found = pack_breach(out)
    if out.is_dir():
        shutil.rmtree(out)
    else:
        out.unlink(missing_ok=True)
    return Tried(
        input="\n".join(command).encode("utf-8", "surrogateescape"),
        command=command,
        breach=found,
        refused=bool(told.code),
    )


def _word(chance: Random) -> str:
    words: tuple[str, ...] = chance.choice([LENGTHS, SIZES, RATIOS, WORDS])
    return chance.choice(words).replace("\x00", "")[:5000]  # no argument of a process holds a NUL
