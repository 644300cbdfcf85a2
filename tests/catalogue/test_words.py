"""The words of the trade: whole rows, plain sentences, found by every name of them."""

from __future__ import annotations

import pytest

from matplan.catalogue.tables import raw_table
from matplan.catalogue.words import EVERYDAY, word, words, words_in
from matplan.faults import LookupFault
from tests.catalogue.test_catalogue_rows import faults_of


def test_every_row_is_whole_and_there_are_forty_and_more() -> None:
    assert faults_of(raw_table("words"), {"name", "also", "text"}) == []
    assert len(words()) >= 40


def test_every_word_is_told_in_one_short_sentence() -> None:
    for one in words():
        assert one.text[0].isupper()
        assert one.text.endswith(".")
        assert ". " not in one.text, one.name
        assert len(one.text) <= 105, one.name


def test_everyday_words_are_words_of_the_table() -> None:
    assert {one.name for one in words()} >= EVERYDAY


@pytest.mark.parametrize(
    ("asked", "name"),
    [
        ("rabbet", "rabbet"),
        ("Rabbets", "rabbet"),
        ("REBATE", "rabbet"),
        ("mitres", "mitre"),
        ("plies", "ply"),
        ("passe partout", "mat"),
        ("dropouts", "drop-out"),
        ("framer's point", "points"),
        ("point", "points"),
        ("Window", "opening"),
        ("glass", "glazing"),
    ],
)
def test_a_word_is_found_by_case_number_and_its_other_words(asked: str, name: str) -> None:
    assert word(asked).name == name


@pytest.mark.parametrize("name", [name for one in words() for name in (one.name, *one.also)])
def test_every_name_finds_its_own_word(name: str) -> None:
    found = word(name)
    assert name in (found.name, *found.also)


def test_an_unknown_word_tells_the_near_ones() -> None:
    with pytest.raises(LookupFault, match=r'no word "rabet" is known; did you mean rabbet'):
        word("rabet")
    with pytest.raises(LookupFault, match=r'no word "zzz\\x1b" is known; "matplan words" tells all'):
        word("zzz\x1b")


def test_the_words_of_a_page_are_found_whole_and_the_longest_first() -> None:
    assert [found.name for found in words_in(["Reverse bevels, straight cut", "the slipway", "glazings"])] == [
        "glazing",
        "reverse bevel",
        "straight cut",
    ]
    assert words_in(["A web-page of bordering blanket"]) == ()
