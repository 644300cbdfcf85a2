"""File names made from names: safe everywhere, unique whatever the case, never cut through a character."""

from __future__ import annotations

import unicodedata
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matplan.job import parse_job
from matplan.job.names import MOST_BYTES, file_names, print_files, safe_name

FORBIDDEN = set('<>:"/\\|?*')
DEVICES = {"CON", "PRN", "AUX", "NUL", *(f"{port}{n}" for port in ("COM", "LPT") for n in "123456789¹²³")}
"""Published: the naming conventions for files of one family of systems."""


@settings(max_examples=100, deadline=None)
@given(
    st.lists(
        st.one_of(
            st.text(max_size=200), st.sampled_from(["Gull", "gull", "GULL", "gull-2", "straße", "STRASSE", "ﬁn", "fin"])
        )
    )
)
def test_names_are_safe_and_unique(names: list[str]) -> None:
    files = file_names(names)
    for file in files:
        assert file
        assert not FORBIDDEN & set(file)
        assert not any(unicodedata.category(character) in {"Cc", "Zs", "Zl", "Zp"} for character in file)
        assert file[0] != "."
        assert file[-1] not in ". "
        assert file.split(".")[0].upper() not in DEVICES
        assert len(file.encode()) <= MOST_BYTES
        assert not file.startswith(("hang-", "gang-"))
    folded = [unicodedata.normalize("NFKC", file).casefold() for file in files]
    assert len(set(folded)) == len(folded)


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("Slipway", "slipway"),
        ("Ferry steps, 6 a.m.", "ferry-steps-6-a-m"),
        ("../../etc", "etc"),
        ("...", "piece"),
        ("con", "piece-con"),
        ("LPT¹", "piece-lpt¹"),
        ("nul.txt", "nul-txt"),
        ("Möwe", "möwe"),
        ("Mo\u0308we", "möwe"),
        ("かもめ 2", "かもめ-2"),
        ("نورس", "نورس"),
        ("🐦", "piece"),
        ("hang-it", "piece-hang-it"),
        ("Gang A4 1", "piece-gang-a4-1"),
    ],
)
def test_name_becomes_this_file(name: str, file: str) -> None:
    assert safe_name(name) == file


def test_long_name_is_cut_between_characters() -> None:
    file = safe_name("é" * 300)
    assert (set(file), len(file.encode())) == ({"é"}, MOST_BYTES)
    assert [len(each.encode()) <= MOST_BYTES for each in file_names(["é" * 300] * 12)] == [True] * 12
    assert len((f"{file}-layer12-" + "x" * 100 + ".svg").encode()) <= 255


def test_prints_of_all_pieces_have_names_of_their_own() -> None:
    single = '[[piece]]\nname = "{}"\nimage = "30 x 20 cm"\nborder = 60\n'
    window = '[[piece.aperture]]\nname = "{}"\n'
    text = single.format("a") + window.format("b") + window.format("B?") + single.format("a-b") + single.format("a b 2")
    pieces = parse_job(text, Path()).pieces
    assert [piece.file for piece in pieces] == ["a", "a-b", "a-b-2"]
    assert print_files(pieces) == (("a-b-3", "a-b-4"), ("a-b",), ("a-b-2",))
    assert pieces[0].gutter == Fraction(20)


def test_long_names_that_are_cut_alike_stay_apart() -> None:
    stem = "a" * (MOST_BYTES - 2)
    files = file_names([stem + ending for ending in ("bc", "bc", "de", "de", "bc")])
    assert len(set(files)) == 5
