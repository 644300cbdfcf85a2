"""`plan.json`: every number that the documents print, as the documents print it."""

from __future__ import annotations

import json
from typing import Any

import pytest

from matplan.documents.cutting.diagram import cutting_diagram
from matplan.drawing import svg
from matplan.planning import Plan, plan, plan_json
from tests.planning.jobs import job, piece

SEVERAL = """[[piece]]
name = "Round trip"
frame = "birch"
image = { height = "80 mm" }
rows = [["a", "b"], ["c"]]
gutter = "22 mm"
mat = ["chalk"]
[[piece.aperture]]
name = "a"
aspect = "1:1"
[[piece.aperture]]
name = "b"
aspect = "4:3"
shape = "oval"
[[piece.aperture]]
name = "c"
shape = "arch"
aspect = "4:3"
"""
PRINTS = """[paper.rag]
size = "A3"
printer_margin = "5 mm"
"""


def document(made: Plan) -> Any:
    """Return the document as a reader of the file gets it."""
    return json.loads(json.dumps(plan_json(made)))


def one(*, shift: int = 0) -> Any:
    return document(plan(job(piece("Gull", width=280 + shift))))["pieces"][0]


def test_the_gauge_names_each_cut_with_its_setting_and_marks() -> None:
    """Blank 440 × 560; image 280 × 210, opening 274 × 204; left (440 − 274)/2 = 83, top (560 − 204)/2 = 178.

    Over-cut 1.4 at a bevel of a 4-ply board: marks at 83 − 1.4 and 178 − 1.4 (derived).
    """
    cuts = one()["layers"][0]["gauge"]
    assert [(cut["cut"], cut["set"], cut["lies"], cut["edge"]) for cut in cuts] == [
        (1, 83, "left", "right"),
        (2, 83, "right", "left"),
        (3, 178, "top", "top"),
        (4, 178, "bottom", "bottom"),
    ]
    assert {(cut["start"], cut["stop"]) for cut in cuts[:2]} == {(176.6, 176.6)}
    assert {(cut["start"], cut["stop"]) for cut in cuts[2:]} == {(81.6, 81.6)}
    assert {cut["by"] for cut in cuts} == {"guide"}
    assert {cut["aperture"] for cut in cuts} == {"Gull"}


def test_edges_are_named_as_framed() -> None:
    """With the odd step right the left border is the smaller one: opening 275, left 82, right 83."""
    cuts = one(shift=1)["layers"][0]["gauge"]
    assert [(cut["set"], cut["edge"]) for cut in cuts[:2]] == [(82, "left"), (83, "right")]


def test_the_gauge_is_that_of_the_cutting_diagram() -> None:
    made = plan(job(SEVERAL))
    written = document(made)["pieces"][0]["layers"][0]
    drawing = svg.render(cutting_diagram(made.job, made.pieces[0], made.pieces[0].layers[0])[0]).decode()
    from lxml import etree

    drawn = {
        int(line.get("data-number") or 0): (line.get("data-aperture"), line.get("data-setting"), line.get("data-edge"))
        for line in etree.fromstring(drawing.encode()).iter()
        if "cut" in (line.get("class") or "").split() and line.get("data-setting")
    }
    told = {cut["cut"]: (cut["aperture"], f"{cut['set']:g}", cut["lies"]) for cut in written["gauge"]}
    assert told == drawn


def test_shaped_openings_name_the_cuts_that_no_gauge_guides() -> None:
    layer = document(plan(job(SEVERAL)))["pieces"][0]["layers"][0]
    kinds = {cut["aperture"]: cut["kind"] for cut in layer["shaped_cuts"]}
    assert kinds == {"b": "round", "c": "arc"}
    oval = next(cut for cut in layer["shaped_cuts"] if cut["aperture"] == "b")
    back = next(opening for opening in layer["openings"] if opening["aperture"] == "b")["back"]
    assert oval["axes"] == back[2:]
    assert oval["centre"] == [back[0] + back[2] / 2, back[1] + back[3] / 2]
    assert oval["marks"][0] == oval["marks"][1] == [oval["centre"][0], back[1]]
    numbers = [cut["cut"] for cut in (*layer["gauge"], *layer["shaped_cuts"])]
    assert numbers == list(range(1, len(numbers) + 1))


def test_windows_have_the_letters_of_the_diagram() -> None:
    """As the board lies, face down, the first row reads b, a."""
    openings = document(plan(job(SEVERAL)))["pieces"][0]["layers"][0]["openings"]
    assert {opening["aperture"]: opening["letter"] for opening in openings} == {"a": "B", "b": "A", "c": "C"}
    assert one()["layers"][0]["openings"][0]["letter"] is None


def test_prints_that_share_a_sheet_say_where_they_lie() -> None:
    """Two of 140 × 105 lie on one A3; each image is as large as its print, and none reaches the margin of 5."""
    small = piece("Gull", width=140, more='paper = "rag"\nquantity = 2\n')
    (gang,) = document(plan(job(PRINTS, small)))["gangs"]
    assert (gang["paper"], gang["copies"], gang["unreachable"]["left"]) == ("rag", 1, 5)
    assert [(lying["piece"], lying["aperture"]) for lying in gang["prints"]] == [("Gull", "Gull")] * 2
    for lying in gang["prints"]:
        x, y, width, height = lying["image"]
        assert sorted((width, height)) == [105, 140]
        assert x >= 5
        assert y >= 5
        assert x + width <= gang["size"][0] - 5
        assert y + height <= gang["size"][1] - 5


def test_a_single_print_shares_no_sheet() -> None:
    assert document(plan(job(PRINTS, piece("Gull", more='paper = "rag"\n'))))["gangs"] == []


def test_findings_of_the_job_stand_at_the_top() -> None:
    wall = '[[wall]]\nname = "Landing"\nsize = "4000 x 2600 mm"\npieces = ["Gull"]\n'
    found = document(plan(job(piece("Gull"), piece("Coil"), wall)))["findings"]
    assert [(f["level"], f["code"], f["where"]) for f in found] == [("note", "hung-nowhere", "Coil")]


@pytest.mark.parametrize(
    ("key", "value"), [("mat_supply", "sheets"), ("frame_mass_kg", None), ("hidden", [4.5, 4.5]), ("ready_cut", None)]
)
def test_a_piece_says(key: str, value: object) -> None:
    assert one()[key] == value


def test_lengths_are_numbers_exact_to_a_millionth() -> None:
    """A step of 1/16 in is 1.5875 mm, exactly."""
    text = 'units = "in"\n[[piece]]\nname = "Gull"\nframe = "16x20"\nimage = "8 x 10"\n'
    from pathlib import Path

    from matplan.job import parse_job

    found = document(plan(parse_job(text, Path())))
    assert found["step"] == 1.5875
    assert found["pieces"][0]["apertures"][0]["opening"][2] == 203.2 - 2 * 3.175


def test_a_wall_has_the_numbers_of_its_hanging_list() -> None:
    """Two frames, 467 wide and 60 apart; anchors at a third of the height, hooks at half of that; wire 300 longer."""
    wall = '[[wall]]\nname = "Landing"\nsize = "4000 x 2600 mm"\npieces = ["Gull", "Coil"]\n'
    frames = document(plan(job(piece("Gull"), piece("Coil"), wall)))["walls"][0]["frames"]
    first, second = (frame["hooks"][0] for frame in frames)
    assert (first["number"], second["number"]) == ("1", "2")
    assert first["left"] + first["from_right"] == 4000
    assert (first["across"], second["across"], second["up"]) == (None, 467 + 60, 0)
    assert frames[0]["wire"]["anchor_depth"] == pytest.approx(frames[0]["height"] / 3)
    assert frames[0]["drop"] == pytest.approx(frames[0]["height"] / 6)
    assert frames[0]["cleat"] is None
    wire = frames[0]["wire"]
    assert wire["to_cut"] % 10 == 0
    assert 300 <= wire["to_cut"] - wire["length"] < 310
