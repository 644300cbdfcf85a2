"""Edits of a job's text: the key is changed, comments and order stay."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from matplan.page.editing import EditFault, edited, place_of, values_of
from tests.page.client import JOB


def change(key: str, value: object, text: str = JOB) -> str:
    return edited(text, [{"key": key, "value": value}])


def test_a_value_is_replaced_and_its_comment_stays() -> None:
    assert change("piece[1].image", "201 x 300 mm") == JOB.replace("200 x", "201 x")
    assert change("frame.ash.rail", "21 mm") == JOB.replace('"20 mm"', '"21 mm"')


def test_a_new_key_stands_in_its_table() -> None:
    made = tomllib.loads(change("piece[1].border.left", "60 mm"))
    assert made["piece"][0]["border"] == {"left": "60 mm"}
    assert tomllib.loads(change("frame.oak.takes", "30x40 cm"))["frame"]["oak"] == {"takes": "30x40 cm"}
    assert tomllib.loads(change('wall[1].at."Gull 2".left', "1 m"))["wall"][0]["at"] == {"Gull 2": {"left": "1 m"}}


def test_one_side_of_a_plain_border_makes_four() -> None:
    text = change("piece[1].border", "60 mm")
    made = tomllib.loads(change("piece[1].border.left", "70 mm", text))
    assert made["piece"][0]["border"] == {"top": "60 mm", "right": "60 mm", "bottom": "60 mm", "left": "70 mm"}


def test_a_piece_is_added_and_taken_away() -> None:
    made = change("piece[3]", {"name": "Coil", "image": {"width": "20 cm"}, "aspect": "3:2", "mat": ["white"]})
    assert tomllib.loads(made)["piece"][2]["image"] == {"width": "20 cm"}
    assert tomllib.loads(change("piece[3]", None, made))["piece"] == tomllib.loads(JOB)["piece"]
    assert change("piece[1].weight", None) == JOB


@pytest.mark.parametrize(
    ("key", "value"),
    [("", 1), ("piece[0].name", "x"), ("piece[9].name", "x"), ("piece..name", "x"), ("piece[1].image", object()),
     ("piece[1]name x", "x")],
)  # fmt: skip
def test_what_cannot_be_changed_is_told(key: str, value: object) -> None:
    with pytest.raises(EditFault):
        change(key, value)


KEYS = st.sampled_from(
    ["piece[1].border", "piece[2].image.width", "piece[1].mat", "wall[1].zone.left", "frame.ash.lip", "title"]
)
TEXTS = st.text(st.characters(categories=["L", "N", "P", "Zs"]), max_size=20)
VALUES = st.one_of(TEXTS, st.integers(0, 999), st.booleans(), st.none())


@given(st.lists(st.tuples(KEYS, VALUES), max_size=6))
def test_any_edits_leave_a_text_that_says_so(edits: list[tuple[str, object]]) -> None:
    text = edited(JOB, [{"key": key, "value": value} for key, value in edits])
    values = values_of(tomllib.loads(text))
    for key, value in dict(edits).items():
        later = [other for other, _ in edits[max(at for at, (name, _) in enumerate(edits) if name == key) + 1 :]]
        if not any(other.startswith(key) or key.startswith(other) for other in later):
            assert values.get(key) == value
    assert text.count("# ready-made") == 1


def test_places_are_those_that_errors_name() -> None:
    assert place_of("piece[2].border.top") == ("piece", 1, "border", "top")
    assert place_of('paper."my rag".size') == ("paper", "my rag", "size")
