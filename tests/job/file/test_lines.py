"""Each place of a TOML text has its line: checked on texts that tomlkit writes, whose lines are known by a mark in each
value.
"""

from __future__ import annotations

import tomllib
from typing import Any

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from matplan.job.file.lines import Lines, place_text
from tests.job.places import places

KEYS = st.one_of(
    st.sampled_from(["a", "b", "frame", "piece", "my key", 'q"uote', "dot.ted", "Möwe", "", "1"]), st.text(max_size=4)
)
LEAVES = st.one_of(
    st.integers(),
    st.booleans(),
    st.text(max_size=12),
    st.dates(),
    st.sampled_from(["[[piece]]\n", '"""', "'''", "# no", "a\nb = 1", "\\"]),
)
INNER = st.recursive(
    LEAVES, lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(KEYS, inner, max_size=3)), max_leaves=6
)
TABLES = st.dictionaries(
    KEYS, st.one_of(INNER, st.lists(st.dictionaries(KEYS, INNER, max_size=3), min_size=1, max_size=3)), max_size=5
)


@settings(max_examples=100, deadline=None)
@given(TABLES)
def test_every_place_of_a_written_text_is_found(data: dict[str, Any]) -> None:
    text = tomlkit.dumps(data).replace("\r\n", "\n")
    read = tomllib.loads(text)
    lines = Lines(text)
    assert all(lines.nearest(place) == place for place in places(read))
    assert lines.nearest(("none of them",)) == ()


@settings(max_examples=100, deadline=None)
@given(TABLES)
def test_line_of_a_key_holds_that_key(data: dict[str, Any]) -> None:
    """The first line from which on the text, read alone, has the key is the key's: cut there, it is gone or no TOML."""
    text = tomlkit.dumps(data).replace("\r\n", "\n")
    rows = text.split("\n")
    lines = Lines(text)
    for key in tomllib.loads(text):
        before = "\n".join(rows[: lines.of((key,)) - 1])
        try:
            assert key not in tomllib.loads(before)
        except tomllib.TOMLDecodeError:
            pytest.fail(f"the line of {key!r} begins within another value")
        for end in range(lines.of((key,)), len(rows) + 1):
            try:
                assert key in tomllib.loads("\n".join(rows[:end]))
                break
            except tomllib.TOMLDecodeError:
                continue  # its value goes on


WRITTEN = '''\
# a comment with [[piece]] in it
title = """two
[[piece]]
"""   # lines
[frame.ash.x]
[frame.ash]
a.b = 1
"q \\" z" = { x = 1, y = [1, { z = 2 }] }
'lit.eral' = 'it''s'
[[piece]]
mat = ["a",
  # a comment
  { board = "x", reveal = '}' },
]
[piece.border]
top = 1
[[piece.aperture]]
name = 1
[[piece]]
  [[piece.aperture]]
  day = 1979-05-27 07:32:00
  last = """"quoted"""""
  [[piece.aperture]]
  name = \'\'\'
[[piece]]\'\'\'\'\'
  y = 1
'''.replace("'it''s'", "'its'")
EXPECTED = {
    "title": 2, "frame": 5, "frame.ash": 6, "frame.ash.x": 5, "frame.ash.a.b": 7, 'frame.ash."q \\" z".y[2].z': 8,
    'frame.ash."lit.eral"': 9, "piece": 10, "piece[1]": 10, "piece[1].mat[1]": 11, "piece[1].mat[2]": 13,
    "piece[1].mat[2].reveal": 13, "piece[1].border": 15, "piece[1].border.top": 16, "piece[1].aperture[1]": 17,
    "piece[1].aperture[1].name": 18, "piece[2]": 19, "piece[2].aperture": 20, "piece[2].aperture[1].day": 21,
    "piece[2].aperture[1].last": 22, "piece[2].aperture[2]": 23, "piece[2].aperture[2].name": 24,
    "piece[2].aperture[2].y": 26,
}  # fmt: skip


def test_lines_of_every_way_to_write_a_key() -> None:
    data = tomllib.loads(WRITTEN)
    lines = Lines(WRITTEN)
    found = {place_text(place).replace('q " z', 'q \\" z'): lines.of(place) for place in places(data)}
    assert {place: found.get(place) for place in EXPECTED} == EXPECTED


def test_place_that_is_not_written_has_the_line_of_its_table() -> None:
    lines = Lines(WRITTEN)
    assert lines.of(("piece", 1, "name")) == 19
    assert lines.of(("piece", 0, "border", "left")) == 15
    assert lines.of(("wall", 0)) == 1
