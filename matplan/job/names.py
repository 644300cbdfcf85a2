"""Names of files made from names that people give: safe on every file system, and unique whatever the case.

Letters and digits of every script stay; whatever else separates words becomes a hyphen.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Sequence

from matplan.job.records import Piece

MOST_BYTES = 120
"""Of a name in UTF-8: room is left for `-layer12-` and an aperture's name before an ending, within the 255 of common
file systems.
"""

_DEVICES = {
    "con",
    "prn",
    "aux",
    "nul",
    "conin",
    "conout",
    *(f"{port}{n}" for port in ("com", "lpt") for n in "0123456789¹²³"),
}
"""Names that one family of systems keeps for devices, with any ending, as its file naming conventions have them."""

_KEPT_PREFIXES = ("hang-", "gang-")
"""Beginnings that files of the pack have of their own."""
_KEPT_ENDING = "-strip"
"""The ending of a test strip's file."""
_KEPT_ENDINGS = {"wall": (_KEPT_ENDING, "-photo", "-clean")}
"""What no wall's file ends in: the files of its photograph and of its clean view do."""


def _cut(text: str, most: int) -> str:
    """Return the text without its last characters: it takes at most `most` bytes, and no character is cut in two."""
    return text.encode("utf-8")[:most].decode("utf-8", "ignore").rstrip("-")


def safe_name(name: str, instead: str = "piece", most: int = MOST_BYTES) -> str:
    """Return a file name made from a name; `instead` if nothing of the name can stay.

    >>> safe_name("Ferry steps, 6 a.m."), safe_name("CON"), safe_name("../?"), safe_name("Möwe")
    ('ferry-steps-6-a-m', 'piece-con', 'piece', 'möwe')
    """
    plain = unicodedata.normalize("NFC", unicodedata.normalize("NFC", name).lower())
    kept = "".join(
        character if character.isalnum() or unicodedata.category(character)[0] == "M" else "-" for character in plain
    )
    safe = _cut("-".join(word for word in kept.split("-") if word), most) or instead
    if safe in _DEVICES or safe.startswith(_KEPT_PREFIXES):
        safe = _cut(f"{instead}-{safe}", most)
    if safe.endswith(_KEPT_ENDINGS.get(instead, _KEPT_ENDING)):
        safe = f"{_cut(safe, most - len(instead) - 1)}-{instead}"
    return safe


def _same(name: str) -> str:
    """Return what two file names must not share."""
    return unicodedata.normalize("NFKC", name).casefold()


def unique_names(wanted: Iterable[str], taken: Iterable[str] = ()) -> tuple[str, ...]:
    """Return the safe names, with a number behind each that equals an earlier one in any case.

    >>> unique_names(["gull", "Gull", "gull-2", "gull"])
    ('gull', 'Gull-3', 'gull-2', 'gull-4')
    """
    names = list(wanted)
    used = {_same(name) for name in taken}
    first: dict[str, int] = {}
    for number, name in enumerate(names):
        if _same(name) not in used:
            first.setdefault(_same(name), number)
    used |= set(first)
    counts: dict[str, int] = {}
    unique: list[str] = []
    for number, name in enumerate(names):
        key = _same(name)
        if first.get(key) == number:
            unique.append(name)
            continue
        while True:
            counts[key] = counts.get(key, 1) + 1
            suffix = f"-{counts[key]}"
            numbered = _cut(name, MOST_BYTES - len(suffix)) + suffix
            if _same(numbered) not in used:
                break
        used.add(_same(numbered))
        unique.append(numbered)
    return tuple(unique)


def file_names(names: Iterable[str], instead: str = "piece") -> tuple[str, ...]:
    """Return for each name its file name, unique among them."""
    return unique_names(safe_name(name, instead) for name in names)


def print_files(pieces: Sequence[Piece]) -> tuple[tuple[str, ...], ...]:
    """Return for each piece the names of its prints' files: its own, or `<piece>-<window>` where it has several."""
    single = [piece.file for piece in pieces if len(piece.apertures) == 1]
    wanted = [
        f"{piece.file}-{safe_name(window.name, 'window', 100)}"
        for piece in pieces
        if len(piece.apertures) > 1
        for window in piece.apertures
    ]
    names = iter(unique_names(wanted, single))
    return tuple(
        (piece.file,) if len(piece.apertures) == 1 else tuple(next(names) for _ in piece.apertures) for piece in pieces
    )
