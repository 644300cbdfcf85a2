"""Lists on several lines: any other order of their entries, nested in any way, keeps every comment."""

from __future__ import annotations

import tomllib
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from matplan.page.editing import edited
from matplan.page.lists import rearranged

WRITTEN = """[
  # the left
  ["Gull", # white
   "Coil # 2"],
  "Tern" , # sea
  'Fog',"Rag"   # two
  # last
]"""
COMMENTS = ("# the left", "# white", "# sea", "# two", "# last")
NAMES = ("Gull", "Coil # 2", "Tern", "Fog", "Rag", "Slip")


@st.composite
def nested(draw: st.DrawFn) -> list[Any]:
    """Some of the names in any order, some of them in lists, of these some in lists again."""

    def cut(names: list[Any], depth: int) -> list[Any]:
        found: list[Any] = []
        while names:
            count = draw(st.integers(0, len(names))) if depth < 2 else 0
            found.append(cut(names[:count], depth + 1) if count else names[0])
            names = names[max(count, 1) :]
        return found

    names = draw(st.lists(st.sampled_from(NAMES), unique=True))
    return cut(names, 0)


@given(st.lists(nested(), min_size=1, max_size=3))
def test_any_order_says_its_values_and_keeps_all_comments(orders: list[list[Any]]) -> None:
    text = WRITTEN
    for values in orders:
        text = rearranged(text, values)
        assert tomllib.loads(f"it = {text}")["it"] == values
        assert all(comment in text for comment in COMMENTS)


def test_a_comment_goes_with_its_entry() -> None:
    rows = edited(f"pieces = {WRITTEN}\n", [{"key": "pieces", "value": ["Rag", ["Gull", "Coil # 2"], "Fog", "Tern"]}])
    assert (
        rows
        == """pieces = ["Rag",   # two
  # the left
  ["Gull", # white
   "Coil # 2"],
  'Fog',
  "Tern" # sea
  # last
]
"""
    )


def test_a_comment_of_one_that_is_nested_stands_behind_its_list_and_one_that_is_gone_on_a_line_of_its_own() -> None:
    text = '[\n  "Gull",  # white\n  "Coil",\n  "Tern",  # sea\n]'
    assert rearranged(text, [["Coil", "Gull"]]) == '[\n  ["Coil", "Gull"],  # white\n  # sea\n]'
