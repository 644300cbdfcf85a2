"""Edits of a job's text: the key is changed, comments and order stay."""

from __future__ import annotations

import tomllib
from itertools import pairwise

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


NOTED = """title = "Pier"
[frame.ash]
takes = "40x50 cm"

# Pieces of the pier,
# north to south
[[piece]]
name = "Gull"   # white

# --- the sea
[[piece]]
name = "Tern"
mat = [
  "white",  # in front
  "grey",
]


[[wall]]
name = "Hall"
"""


def test_a_new_key_stands_below_the_last_one_not_below_the_next_headings_comment() -> None:
    assert change("frame.ash.rail", "20 mm", NOTED) == NOTED.replace('40x50 cm"\n', '40x50 cm"\nrail = "20 mm"\n')
    image = change("piece[1].image.width", "20 cm", NOTED)
    assert image == NOTED.replace("# white\n", '# white\nimage = { width = "20 cm" }\n')
    assert change("piece[1].image.height", "3 cm", image) == image.replace('20 cm"', '20 cm", height = "3 cm"')
    assert change("currency", "EUR", NOTED) == NOTED.replace('Pier"\n', 'Pier"\ncurrency = "EUR"\n\n')


def test_a_new_table_has_one_blank_line_before_it() -> None:
    assert change("frame.oak.takes", "A4", NOTED) == NOTED.replace(
        '40x50 cm"\n', '40x50 cm"\n\n[frame.oak]\ntakes = "A4"\n'
    )
    coil = '\n]\n\n[[piece]]\nname = "Coil"\nimage = { width = "2 cm" }\n\n[[wall]]'
    made = change("piece[3]", {"name": "Coil", "image": {"width": "2 cm"}}, NOTED)
    assert made == NOTED.replace("\n]\n\n\n[[wall]]", coil)
    assert change("wall[2]", {"name": "Stair"}, NOTED) == f'{NOTED}\n[[wall]]\nname = "Stair"\n'
    assert change("piece[1].name", "Coil", "") == '[[piece]]\nname = "Coil"\n'


def test_a_layer_written_as_a_name_becomes_a_table_with_its_board() -> None:
    made = change("piece[2].mat[2].reveal", "5 mm", NOTED)
    assert made == NOTED.replace('"grey"', '{ board = "grey", reveal = "5 mm" }')


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


NEW = st.sampled_from(
    ["currency", "frame.ash.rail", "frame.oak.takes", "piece[1].border", "piece[1].image.width", "piece[2].weight",
     "piece[3].name", "wall[1].eye", "wall[2].name", "wall[1].at.Gull.left", "costs.tax", "paper.rag.size"]
)  # fmt: skip


@given(st.lists(NEW, max_size=6, unique=True))
def test_new_keys_follow_keys_and_new_headings_a_blank_line(keys: list[str]) -> None:
    """What was there stays, line by line; a new key stands right below a key or heading, a new heading has room."""
    text = edited(NOTED, [{"key": key, "value": "1"} for key in keys])
    lines, known = text.splitlines(), NOTED.splitlines()
    rest = iter(lines)
    assert all(line in rest for line in known if line.strip())
    for above, line in pairwise(lines):
        if line.startswith("["):
            assert not above.strip() or above.startswith("#") or line == "[frame.ash]"
        elif line.strip() and line not in known:
            assert above.strip()
            assert not above.startswith("#")


def test_places_are_those_that_errors_name() -> None:
    assert place_of("piece[2].border.top") == ("piece", 1, "border", "top")
    assert place_of('paper."my rag".size') == ("paper", "my rag", "size")
