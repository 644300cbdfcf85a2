"""A thing of the job gets another name: everything that names it follows, and nothing else moves."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from matplan.page.editing import EditFault, edited
from matplan.page.naming import NamingFault
from tests.page.client import TOKEN, browser, desk

JOB = """[frame.ash] # of the ash in the yard
takes = "40x50 cm"
[frame.ash.mat_rows]  # ash

[board.fog]
ply = 4
[paper.'rag']
size = "A4"

[[piece]]
name = "Gull"      # ash and fog
frame = 'ash'
paper = "rag"
label = "Gull"
mat = ["white", { board = "fog", reveal = "6 mm" }, "fog"]
mount = "fog"
rows = [["a"], ["b", "c"]]
[[piece.aperture]]
name = "a"
[[piece.aperture]]
name = "b"
paper = "rag"

[[piece]]
name = "Tern"
mat = "fog"
frame = "ash"
rows = [["a"]]
[[piece.aperture]]
name = "a"

[[wall]]
name = "Hall"
size = "3 x 2 m"
pieces = ["Tern", ["Gull", ["Tern", "Gull"]]]
near = [["Gull", "Tern"]]
over = "bench"
furniture = [{ name = "bench", left = "1 m" }]
[wall.at.Gull]
left = "1 m"
[[wall.group]]
pieces = ["Gull"]
over = "bench"
"""


NAMED = JOB.replace('mount = "fog"', 'mount = "mist"') + '[[piece]]\nname = "Coil"\n[board.white]\n'


def call(key: str, name: str, text: str = JOB) -> str:
    return edited(text, [{"key": key, "name": name}])


def test_a_frames_name_changes_with_all_that_names_it() -> None:
    text = call("frame.ash", "black oak")
    made = JOB.replace("[frame.ash", '[frame."black oak"').replace("frame = 'ash'", 'frame = "black oak"')
    assert text == made.replace('frame = "ash"', 'frame = "black oak"')


def test_boards_and_papers_are_named_by_layers_mounts_and_windows() -> None:
    assert call("board.fog", "mist") == JOB.replace('"fog"', '"mist"').replace("[board.fog]", "[board.mist]")
    assert call("paper.rag", "matt") == JOB.replace('"rag"', '"matt"').replace("[paper.'rag']", "[paper.matt]")


def test_a_piece_is_named_on_walls_in_stacks_pairs_groups_and_places_but_its_label_stays() -> None:
    text = call("piece[1].name", "Sea gull")
    made = JOB.replace('"Gull"', '"Sea gull"').replace("[wall.at.Gull]", '[wall.at."Sea gull"]')
    assert text == made.replace('label = "Sea gull"', 'label = "Gull"')


def test_an_aperture_is_named_in_its_own_piece_alone_and_a_thing_on_its_own_wall() -> None:
    first, tern = JOB.split('name = "Tern"')
    assert call("piece[1].aperture[1].name", "left") == first.replace('"a"', '"left"') + f'name = "Tern"{tern}'
    assert call("wall[1].furniture[1].name", "seat") == JOB.replace('"bench"', '"seat"')
    assert call("wall[1].name", "Landing") == JOB.replace('"Hall"', '"Landing"')


@pytest.mark.parametrize(
    ("key", "name", "says"),
    [
        ("piece[1].name", "Tern", "already"),
        ("piece[1].name", "  ", "blank"),
        ("frame.ash", "", "blank"),
        ("piece[1].aperture[2].name", "a", "already"),
        ("board.fog", "white", "already"),
        ("wall[1].size", "x", "no name"),
        ("board.fog", "mist", "names"),
        ("board.white", "mist", "by themselves"),
    ],
)
def test_a_name_that_is_taken_or_none_is_refused_with_a_word(key: str, name: str, says: str) -> None:
    with pytest.raises(NamingFault, match=says):
        call(key, name, NAMED)


def test_of_two_pieces_with_one_name_what_names_them_stays() -> None:
    text = JOB.replace('name = "Tern"', 'name = "Gull"')
    assert call("piece[2].name", "Tern", text) == JOB


def test_names_of_the_tables_and_of_supplies_are_told(tmp_path: Path) -> None:
    (tmp_path / "shop.toml").write_text('[frame.oak]\ntakes = "30x40 cm"\n', encoding="utf-8")
    text = f'supplies = ["shop.toml"]\n{JOB}[frame.oak]\nhave = 1\n[glazing.glass-2mm]\nprice = 3\n'
    with browser(desk(tmp_path, text), **{"matplan-token": TOKEN}) as page:
        for key, name, says in (
            ("board.fog", "8-ply", "built-in"),
            ("glazing.glass-2mm", "mine", "built-in"),
            ("frame.oak", "dark", "supplies"),
            ("frame.ash", "oak", "already"),
        ):
            answer = page.post("/api/edit", json={"text": text, "edits": [{"key": key, "name": name}]})
            assert answer.status_code == 422
            assert says in answer.json()["errors"][0]["text"]
        answer = page.post("/api/edit", json={"text": text, "edits": [{"key": "frame.ash", "name": "elm"}]})
        assert tomllib.loads(answer.json()["text"])["piece"][0]["frame"] == "elm"


LISTS = """[[piece]]
name = "Gull"
mat = [
  "white",  # in front
  "grey"
]
# the left one
[[piece.aperture]]
name = "a"   # small
image.width = "3 cm"

# the right one
[[piece.aperture]]
name = "b"

# a tern
[[piece]]
name = "Tern"
points = [[0, 0.5], [1, 1]] # two
"""


def swap(key: str, other: str) -> str:
    return edited(LISTS, [{"key": key, "swap": other}])


def test_entries_change_places_and_take_their_comments_along() -> None:
    made = LISTS.replace('"white",  # in front\n  "grey"', '"grey",\n  "white"  # in front')
    assert swap("piece[1].mat[1]", "piece[1].mat[2]") == made
    assert swap("piece[2].points[2]", "piece[2].points[1]") == LISTS.replace("[[0, 0.5], [1, 1]]", "[[1, 1], [0, 0.5]]")
    left = '# the left one\n[[piece.aperture]]\nname = "a"   # small\nimage.width = "3 cm"'
    right = '# the right one\n[[piece.aperture]]\nname = "b"'
    made = LISTS.replace(left, "@").replace(right, left).replace("@", right)
    assert swap("piece[1].aperture[1]", "piece[1].aperture[2]") == made
    first, tern = LISTS.split("\n\n# a tern\n")
    assert swap("piece[2]", "piece[1]") == f"# a tern\n{tern.rstrip()}\n\n{first}\n"


def test_what_is_no_list_cannot_change_places() -> None:
    for key, other in (("piece[1].name", "piece[2].name"), ("piece[1]", "piece[3]"), ("piece[1].mat[1]", "piece[2]")):
        with pytest.raises(EditFault):
            swap(key, other)


def test_apertures_and_groups_are_added_with_headings_and_taken_away() -> None:
    third = edited(LISTS, [{"key": "piece[1].aperture[3]", "value": {"name": "c", "image": {"width": "2 cm"}}}])
    heading = 'name = "b"\n\n[[piece.aperture]]\nname = "c"\nimage = { width = "2 cm" }\n'
    assert third == LISTS.replace('name = "b"\n', heading)
    assert edited(third, [{"key": "piece[1].aperture[3]", "value": None}]) == LISTS
    group = edited(LISTS, [{"key": "wall[1].group[1]", "value": {"pieces": ["Gull"]}}])
    assert tomllib.loads(group)["wall"][0]["group"] == [{"pieces": ["Gull"]}]
    inline = 'wall = [{ name = "Hall", group = [{ pieces = ["Gull"] }] }]\n'
    made = edited(inline, [{"key": "wall[1].group[2]", "value": {"pieces": ["Tern"]}}])
    assert tomllib.loads(made)["wall"][0]["group"] == [{"pieces": ["Gull"]}, {"pieces": ["Tern"]}]
