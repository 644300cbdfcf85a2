"""Cut lists that nobody means, and the options of `matplan sheets`."""

from __future__ import annotations

import codecs
from pathlib import Path
from random import Random
from typing import Final

from tests.fuzz.jobs import mutated
from tests.fuzz.law import asked, breach
from tests.fuzz.trial import Tried
from tests.fuzz.values import LENGTHS, SIZES, WORDS

_NAMES: Final = (
    "side", "Möwe", "ميناء", "../../x", "CON", "a/b", "a\\b", ".", "=1+1", "x" * 5000, "e" + "\u0301" * 50,
    '"quoted"', "a,b",
    "\u202eabc", "\x00", "\x1b[31m", "two\nlines", "", " ", "船着場",
)  # fmt: skip
_QUANTITIES: Final = (
    "1", "2", "7", "40", "1000", "99999", "100000", "100001", "0", "-1", "1.5", "", "٣", "9" * 40,
)  # fmt: skip
_SNIPPETS: Final = (
    b"\x00", b'"', b'""', b"\r", b"\r\n", b"\n\n", b",", b";", b"\t", b"\xef\xbb\xbf", b"\xff\xfe", b"\xff", b"yes",
    b"no", b"-1",
    b"99999999999", b"1e9", b"name,width,height,quantity\n", b",,,\n", b'"' + b"x" * 200_000, b"0",
)  # fmt: skip


def lists(chance: Random, folder: Path) -> Tried:
    """A list with odd names, lengths and quantities, its bytes sometimes changed, cut from sheets of odd sizes."""
    rows = ["name,width,height,quantity,turn" if chance.random() < 0.9 else chance.choice(WORDS)]
    for _ in range(chance.choice([0, 1, 1, 3, 8])):
        odd = chance.random() < 0.15
        name = chance.choice(_NAMES if odd else ("side", "Möwe", "船着場", "x" * 500, "=1+1"))
        cells = [
            f'"{name.replace(chr(34), chr(34) * 2)}"' if chance.random() < 0.7 else name,
            _length(chance, odd=odd), _length(chance, odd=odd),
            chance.choice(_QUANTITIES if odd else _QUANTITIES[:6]),
            chance.choice(["yes", "no", "", "YES", *(["maybe"] if odd else [])]),
        ]  # fmt: skip
        rows.append(",".join(cells[: chance.choice([5, 4, 6]) if odd else 5]))
    data = chance.choice(["\n", "\n", "\r\n", "\r"]).join(rows).encode("utf-8", "surrogatepass")
    if chance.random() < 0.15:
        data = codecs.BOM_UTF8 + data
    elif chance.random() < 0.05:
        data = data.decode("utf-8", "replace").encode("utf-16")
    if chance.random() < 0.3:
        data = mutated(chance, data, _SNIPPETS)
    path = folder / "list.csv"
    path.write_bytes(data)
    as_json = chance.random() < 0.5
    command = ["sheets", str(path), *_options(chance), "--seconds", "0.1", *(["--json"] if as_json else [])]
    drawings = folder / "drawings"
    if chance.random() < 0.2:
        command += ["--svg", str(drawings)]
    told = asked(*command)
    answered = told.code == 1 and bool(told.out)  # parts that find no place, sheets that cannot be drawn
    lines = 0 if answered or "--trim" in told.err else max(1, data.count(b"\n") + data.count(b"\r") + 1)
    found = breach(told, as_json=as_json and not answered, lines=lines if told.code == 1 else 0)
    if drawings.is_dir():
        for drawn in drawings.iterdir():
            if not found and not drawn.read_bytes().rstrip().endswith(b"</svg>"):
                found = f"half a drawing: {drawn.name}"
            drawn.unlink()
        drawings.rmdir()
    return Tried(input=data, command=command, breach=found, refused=bool(told.code))


def _length(chance: Random, *, odd: bool) -> str:
    if not odd or chance.random() < 0.5:
        return f"{chance.uniform(5, 400):.{chance.choice([0, 0, 1, 3])}f} {chance.choice(['mm', 'mm', 'mm', 'in'])}"
    return chance.choice(LENGTHS).replace('"', '""').join('""') if chance.random() < 0.5 else chance.choice(LENGTHS)


def _options(chance: Random) -> list[str]:
    found: list[str] = []
    priced = chance.random() < 0.5
    for _ in range(chance.choice([1, 1, 1, 2, 3])):
        likely = ("32x40 in", "1000 x 2000 mm", "60x80 cm", "A3", "100x100", "0.5 x 0.5 m")
        size = chance.choice(likely) if chance.random() < 0.95 else chance.choice((*SIZES, *WORDS)).replace("\x00", "")
        price = chance.choice(["@18.50", "@0", "@1"]) if priced else ""
        found += [
            "--sheet",
            size + (price if chance.random() < 0.95 else chance.choice(["@", "@-1", "@nan", "@1e9", "@x"])),
        ]
    for option in ("--kerf", "--trim"):
        if chance.random() < 0.3:
            usual = ("1/16", "3 mm", "0", "0.5", "20 mm")
            found += [option, chance.choice(usual if chance.random() < 0.8 else LENGTHS)]
    if chance.random() < 0.2:
        found += ["--limit", chance.choice(["0", "1", "2", "1000000", "-1", "x"])]
    if chance.random() < 0.4:
        found += ["--units", chance.choice(["mm", "in", "cm"])]
    return found
