"""Some hundred inputs of each kind; `python -m tests.fuzz --minutes N` tries more."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from time import monotonic

import pytest

from tests.fuzz.kinds import KINDS, tried
from tests.fuzz.law import MEGABYTES, Told, breach, short_searches

SECONDS = 0.7
"""For each kind; at least five inputs of it are tried however long they take."""


@pytest.fixture(autouse=True)
def _quick() -> Iterator[None]:
    with short_searches():
        yield


@pytest.mark.parametrize("kind", KINDS)
def test_the_law_holds_for_inputs_that_nobody_means(kind: str, tmp_path: Path) -> None:
    until, number, refused = monotonic() + SECONDS, 0, 0
    while monotonic() < until or number < 5:
        found = tried(kind, 1, number, tmp_path)
        assert not found.breach, f"--kinds {kind} --only {number} (seed 1), {found.command}: {found.breach}"
        refused += found.refused
        number += 1
    assert refused, "no input was refused: they are none that nobody means"


def test_an_input_follows_from_its_seed_and_number(tmp_path: Path) -> None:
    one, again, other = (tried("job-values", 1, number, tmp_path).input for number in (7, 7, 8))
    assert one == again != other


SOUND = Told(code=0, out="{}", err="", seconds=0.1, megabytes=100)
REFUSED = Told(code=1, out="", err="job.toml:3: step: got 0; write more\n", seconds=0.1, megabytes=100)


def test_the_law_lets_sound_answers_through() -> None:
    assert not breach(SOUND, as_json=True)
    assert not breach(REFUSED, lines=3)


@pytest.mark.parametrize(
    ("told", "text"),
    [
        (Told(code=1, out="", err="Traceback (most recent call last)", seconds=0, megabytes=0), "of our own"),
        (Told(code=3, out="", err="x", seconds=0, megabytes=0), "exit 3"),
        (Told(code=0, out="{}", err="", seconds=99, megabytes=0), "took 99.0 s"),
        (Told(code=0, out="{}", err="", seconds=0, megabytes=MEGABYTES + 1), "MB"),
        (Told(code=0, out="\x1b[2J", err="", seconds=0, megabytes=0), "control characters"),
        (Told(code=1, out="", err="", seconds=0, megabytes=0), "says nothing"),
        (Told(code=1, out="", err="something is wrong here", seconds=0, megabytes=0), "names no file"),
        (Told(code=1, out="", err="job.toml:9: step: got 0; write more", seconds=0, megabytes=0), "a line that"),
        (Told(code=1, out="", err="job.toml:3: bad", seconds=0, megabytes=0), "too little"),
        (Told(code=1, out="{}", err=REFUSED.err, seconds=0, megabytes=0), "prints JSON"),
        (Told(code=0, out='{"a": NaN}', err="", seconds=0, megabytes=0), "no JSON"),
    ],
)
def test_the_law_names_each_breach(told: Told, text: str) -> None:
    assert text in breach(told, as_json=True, lines=3)
