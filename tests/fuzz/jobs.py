"""Broken jobs: bytes and values of the gallery's jobs and of the starter, every key of the schema, supplies files."""

from __future__ import annotations

import itertools
import json
import os
import shutil
import tomllib
from collections.abc import Iterator
from datetime import date, time
from functools import cache
from math import isfinite, isnan
from pathlib import Path
from random import Random
from typing import Any, Final

from matplan.job.schema import schema
from tests.fuzz.law import asked, breach
from tests.fuzz.trial import Tried
from tests.fuzz.values import LENGTHS, NUMBERS, RATIOS, SIZES, value

GALLERY: Final = Path(__file__).parents[2] / "gallery"
SCENARIOS: Final = tuple(sorted(path.parent for path in GALLERY.glob("*/job.toml")))
_DOCUMENTS: Final = (
    "order", "mats", "print", "sheets", "sticks", "leftovers", "bench-card", "cut", "template", "front", "assembly",
    "labels",
    "wall", "workshop",
)  # fmt: skip
_SNIPPETS: Final = (
    b"\x00", b"\xff\xfe", b"\xef\xbb\xbf", b"\r", b"\r\n", b"\n\n", b"[[piece]]\n", b"[", b"]", b"{", b"}", b'"',
    b"'''", b'"""',
    b"=", b"#", b"\\", b"\\u0000", b"\\ud800", b",", b".", b"[frame.x]\n", b"nan", b"inf", b"-", b"1979-05-27",
    b"\xe2\x80\xae",
    b"[" * 3000, b"a." * 3000 + b"b=1\n", b"9" * 5000, b" " * 10000, b"[[wall]]\n", b"true",
)  # fmt: skip


# --- what is asked of a job ------------------------------------------------------------------------------------------


def ask(chance: Random, folder: Path, data: bytes) -> Tried:
    """Write a job beside a scenario's photos and ask one command about it; `make` too where it is sound."""
    path = folder / "job.toml"
    path.write_bytes(data)
    lines = max(each.read_bytes().count(b"\n") for each in folder.glob("*.toml")) + 1  # supplies have faults too
    as_json = chance.random() < 0.3
    command = ["explain" if chance.random() < 0.25 else "check", str(path), *(["--json"] if as_json else [])]
    told = asked(*command)
    found = breach(told, codes=(0, 1), as_json=as_json, lines=lines)
    if not found and not told.code and chance.random() < 0.25:
        command, found = _make(chance, path, folder / "pack", lines)
    return Tried(input=data, command=command, breach=found, refused=told.code == 1)


def _make(chance: Random, path: Path, pack: Path, lines: int) -> tuple[list[str], str]:
    """Make a part of a sound job's pack; it must succeed, and the manifest name what is there."""
    only = ",".join(chance.sample(_DOCUMENTS, chance.choice([1, 2, 3])))
    command = ["make", str(path), "--out", str(pack), "--only", only]
    if chance.random() < 0.2:
        command += ["--machine", "dxf,svg"]
    try:
        told = asked(*command)
        found = breach(told, codes=(0,), lines=lines)
        return command, found or pack_breach(pack)
    finally:
        shutil.rmtree(pack, ignore_errors=True)


def pack_breach(pack: Path) -> str:
    """Return what is wrong with the files of a pack's folder: they are those that its manifest names."""
    there = sorted(path.relative_to(pack).as_posix() for path in pack.rglob("*") if path.is_file())
    named = json.loads((pack / "pack.json").read_bytes())["files"]
    if there != named:
        return f"the manifest names {set(named) ^ set(there)} other than there is"
    if len({name.casefold() for name in named}) < len(named):
        return "two names of the pack are one where case does not count"
    beside = [path.name for path in pack.parent.iterdir() if "building" in path.name]
    return f"left behind: {beside}" if beside else ""


def scenario(chance: Random, folder: Path) -> tuple[Path, bytes]:
    """Return a folder with a scenario's photos, and the scenario's job."""
    source = chance.choice(SCENARIOS)
    there = folder / source.name
    if not there.is_dir():
        there.mkdir(parents=True)
        shutil.copytree(source / "photos", there / "photos")
    return there, (source / "job.toml").read_bytes()


# --- the kinds -------------------------------------------------------------------------------------------------------


def job_bytes(chance: Random, folder: Path) -> Tried:
    """Some bytes of a job are others, missing, doubled or in another place."""
    there, data = scenario(chance, folder)
    return ask(chance, there, mutated(chance, data, _SNIPPETS))


def job_values(chance: Random, folder: Path) -> Tried:
    """One to three values that a job has are others."""
    there, data = scenario(chance, folder)
    job = tomllib.loads(data.decode())
    for _ in range(chance.choice([1, 1, 1, 2, 3])):
        put(job, chance.choice(list(leaves(job))), value(chance))
    return ask(chance, there, written(job).encode())


def job_keys(chance: Random, folder: Path) -> Tried:
    """One to three keys of the schema stand in a job with values that they do not expect."""
    there, data = scenario(chance, folder)
    job = tomllib.loads(data.decode())
    for _ in range(chance.choice([1, 1, 2, 3])):
        path, likely = chance.choice(tuple(places().items()))
        steps = [chance.randrange(_length(job, path[:n])) if step == 0 else step for n, step in enumerate(path)]
        put(job, tuple(steps), chance.choice(likely) if likely and chance.random() < 0.6 else value(chance))
    return ask(chance, there, written(job).encode())


def supplies(chance: Random, folder: Path) -> Tried:
    """A job names one to three supplies files, broken ones among them."""
    there, data = scenario(chance, folder)
    job = tomllib.loads(data.decode())
    names = []
    for number in range(chance.randrange(1, 4)):
        name = f"shelf-{number}.toml"
        shelf: dict[str, Any] = {
            kind: job[kind] for kind in ("paper", "board", "glazing", "backing", "frame", "costs") if kind in job
        }
        if chance.random() < 0.5 and shelf:
            shelf = tomllib.loads(written(shelf))
            put(shelf, chance.choice(list(leaves(shelf))), value(chance))
        raw = written({"units": chance.choice(["mm", "in", "cm"]), **shelf}).encode()
        (there / name).write_bytes(mutated(chance, raw, _SNIPPETS) if chance.random() < 0.3 else raw)
        names.append(name)
    if chance.random() < 0.3:
        if hasattr(os, "mkfifo") and not (there / "pipe").exists():
            os.mkfifo(there / "pipe")
        names.append(
            chance.choice(
                ["pipe", "job.toml", "nothing.toml", ".", "photos", "/dev/null", "/dev/zero", "a\x00b", "~", ""]
            )
        )
    job["supplies"] = names
    for kind in chance.sample(["paper", "board", "frame", "costs"], 2):
        if chance.random() < 0.5:
            job.pop(kind, None)
    return ask(chance, there, written(job).encode())


def leftovers(chance: Random, folder: Path) -> Tried:
    """A job takes what an earlier one has left, and that file is broken."""
    there, data = scenario(chance, folder)
    left = there / "left.toml"
    source = next(
        (path.read_bytes() for path in [GALLERY / there.name / "pack" / "leftovers.toml"] if path.exists()), b""
    )
    left.write_bytes(mutated(chance, source or b'units = "mm"\n', _SNIPPETS) if chance.random() < 0.7 else source)
    return ask(chance, there, b'supplies = ["left.toml"]\n' + data)


# --- mutation --------------------------------------------------------------------------------------------------------


def mutated(chance: Random, data: bytes, snippets: tuple[bytes, ...]) -> bytes:
    """Return bytes with one to four changes."""
    for _ in range(chance.choice([1, 1, 2, 4])):
        at = chance.randrange(len(data) + 1)
        far = min(len(data), at + chance.choice([1, 1, 2, 8, 64, 512]))
        match chance.randrange(7):
            case 0:
                data = data[:at] + bytes([chance.randrange(256)]) + data[at + 1 :]
            case 1:
                data = data[:at] + data[far:]
            case 2:
                data = data[:at] + chance.choice(snippets) + data[at:]
            case 3:
                data = data[:at] + data[at:far] * chance.choice([2, 3, 50]) + data[far:]
            case 4:
                to = chance.randrange(len(data) + 1)
                data = data[:to] + data[at:far] + data[to:]
            case 5:
                rows = data.split(b"\n")
                chance.shuffle(rows)
                data = b"\n".join(rows) if chance.random() < 0.3 else data
            case _:
                data = data[:at] if chance.random() < 0.3 else data[:at] + chance.choice(snippets) + data[far:]
    return data


def leaves(data: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Yield the place of each value, tables and lists too."""
    parts = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for step, part in parts:
        yield (*path, step)
        yield from leaves(part, (*path, step))


def put(data: Any, path: tuple[Any, ...], new: Any) -> None:
    """Put a value at a place; what stands in the way of the place is replaced."""
    for step, further in itertools.pairwise(path):
        empty: Any = [] if isinstance(further, int) else {}
        if isinstance(data, list):
            while len(data) <= step:
                data.append({})
            if not isinstance(data[step], type(empty)):
                data[step] = empty
            data = data[step]
        else:
            if not isinstance(data.get(step), type(empty)):
                data[step] = empty
            data = data[step]
    if isinstance(data, list):
        data[path[-1] :] = [new, *data[path[-1] + 1 :]]
    else:
        data[path[-1]] = new


def _length(data: Any, path: tuple[Any, ...]) -> int:
    for step in path:
        data = data.get(step) if isinstance(data, dict) else None
    return max(1, len(data)) if isinstance(data, list) else 1


@cache
def places() -> dict[tuple[Any, ...], tuple[Any, ...]]:
    """Return the place of every key of the schema with values of its kind, sound ones and such at the edge; lists have
    their first entry, tables of names the name `x`.
    """
    whole = schema()
    found: dict[tuple[Any, ...], tuple[Any, ...]] = {}

    def walk(part: dict[str, Any], path: tuple[Any, ...]) -> None:
        if len(path) > 6:
            return
        if "$ref" in part:
            part = whole["$defs"][part["$ref"].rpartition("/")[2]]
        for choice in part.get("anyOf", ()):
            walk(choice, path)
        for key, inner in part.get("properties", {}).items():
            found[*path, key] = tuple(_likely(inner))
            walk(inner, (*path, key))
        if isinstance(part.get("additionalProperties"), dict):
            found[*path, "x"] = ()
            walk(part["additionalProperties"], (*path, "x"))
        if isinstance(part.get("items"), dict):
            found[*path, 0] = tuple(_likely(part["items"]))
            walk(part["items"], (*path, 0))

    walk(whole, ())
    return found


def _likely(part: dict[str, Any]) -> Iterator[Any]:
    """Yield values of the kind that a part of the schema describes."""
    yield from part.get("enum", ())
    examples = part.get("examples", ())
    yield from examples
    if "250 mm" in examples:
        yield from LENGTHS
    elif "A4" in examples:
        yield from SIZES
    elif "3:2" in examples:
        yield from RATIOS
    if part.get("type") in ("number", "integer"):
        yield from NUMBERS
    if part.get("type") == "boolean":
        yield from (True, False)
    for choice in part.get("anyOf", ()):
        yield from _likely(choice)


# --- TOML ------------------------------------------------------------------------------------------------------------


def written(job: dict[str, Any]) -> str:
    """Return the data as TOML: tables and lists of tables with heads of their own, what is in them in braces."""
    rows = [f"{_key(key)} = {_value(part)}" for key, part in job.items() if not _headed(part)]
    for key, part in job.items():
        if isinstance(part, list) and _headed(part):
            for each in part:
                rows += [f"[[{_key(key)}]]", *(f"{_key(k)} = {_value(v)}" for k, v in each.items())]
        elif isinstance(part, dict) and part:
            for name, each in part.items():
                if isinstance(each, dict):
                    rows += [f"[{_key(key)}.{_key(name)}]", *(f"{_key(k)} = {_value(v)}" for k, v in each.items())]
                else:
                    rows.insert(0, f"{_key(key)}.{_key(name)} = {_value(each)}")
    return "\n".join(rows) + "\n"


def _headed(part: Any) -> bool:
    return (isinstance(part, dict) and bool(part)) or (
        isinstance(part, list) and bool(part) and all(isinstance(each, dict) for each in part)
    )


def _key(key: str) -> str:
    return key if key.isascii() and key.replace("_", "").isalnum() else _text(key)


def _text(text: str) -> str:
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _value(part: Any) -> str:
    match part:
        case str():
            return _text(part)
        case bool():
            return str(part).lower()
        case float():
            return repr(part) if isfinite(part) else "nan" if isnan(part) else "inf" if part > 0 else "-inf"
        case dict():
            return "{" + ", ".join(f"{_key(key)} = {_value(each)}" for key, each in part.items()) + "}"
        case list():
            return "[" + ", ".join(map(_value, part)) + "]"
        case date() | time():
            return part.isoformat()
        case None:
            return "{}"
    return str(part)
