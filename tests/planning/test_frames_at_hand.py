"""What a frame comes with counts in its stack and is neither ordered, cut nor paid."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from matplan.documents.book.assembly_list import assembly_list
from matplan.documents.front.view import front_view
from matplan.drawing.sheet import Sheet
from matplan.faults import JobError
from matplan.job import parse_job
from matplan.job.records import MatSupply
from matplan.orders.at_hand import frames_at_hand
from matplan.orders.records import Item
from matplan.planning.record import Plan
from matplan.planning.workshop import plan
from matplan.planning.written.document import plan_json
from tests.making import size

KIT = """
[frame.kit]
takes = "40x50 cm"
price = 20
includes = ["glazing", "backing", "mat", "hangers"]
mat_opening = "190 x 280 mm"
[[piece]]
name = "Gull"
frame = "kit"
aspect = "2:3"
"""
BARE = KIT.replace("includes", "# includes").replace("mat_opening", "# mat_opening") + 'opening = "190 x 280 mm"\n'


BEHIND = {"foam-5mm", "backing tape", "points", "dust-cover paper", "double-sided tape"}
HANGERS = {"strap hangers", "hanger screws"}


def planned(text: str, folder: Path) -> Plan:
    return plan(parse_job(text, folder))


def ordered(made: Plan) -> set[str]:
    return {line.material for line in made.order}


def test_what_the_frame_comes_with_is_in_the_stack_and_not_in_the_order(tmp_path: Path) -> None:
    kit, bare = planned(KIT, tmp_path), planned(BARE, tmp_path)
    assert kit.pieces[0].stack == bare.pieces[0].stack
    assert kit.pieces[0].mass == bare.pieces[0].mass > 0
    assert ordered(bare) - ordered(kit) == {"white", "glass-2mm", *BEHIND, *HANGERS}
    assert {line.material for line in kit.order if line.material not in ordered(bare)} == set()
    assert kit.costs.unpriced != bare.costs.unpriced


@pytest.mark.parametrize(("part", "materials"), [("glazing", {"glass-2mm"}), ("backing", BEHIND), ("hangers", HANGERS)])
def test_each_part_for_itself(part: str, materials: set[str], tmp_path: Path) -> None:
    some = BARE.replace("# includes", "includes").replace('["glazing", "backing", "mat", "hangers"]', f'["{part}"]')
    assert ordered(planned(BARE, tmp_path)) - ordered(planned(some, tmp_path)) == materials


def test_it_is_cut_from_no_sheet(tmp_path: Path) -> None:
    sheets = (
        '[glazing.own]\nthickness = 2\nsheets = [{ size = "600 x 800 mm", price = 9 }]\n'
        '[backing.card]\nthickness = 3\nsheets = [{ size = "600 x 800 mm", price = 4 }]\n'
    )
    piece = 'glazing = "own"\nbacking = "card"\n'
    assert [cut.material.name for cut in planned(sheets + BARE + piece, tmp_path).cuttings] == ["own", "card"]
    assert planned(sheets + KIT + piece, tmp_path).cuttings == ()


def words(sheets: Sequence[Sheet]) -> set[str]:
    return {text.text for sheet in sheets for text in sheet.texts()}


def sticks(made: Plan) -> Any:
    return plan_json(made)["sticks"]


# --- the mat of the frame ---------------------------------------------------------------------------------------------


def test_the_frames_own_mat_settles_the_print(tmp_path: Path) -> None:
    (made,) = planned(KIT, tmp_path).pieces
    (shown,) = made.apertures
    assert made.ask.mat_supply is MatSupply.OWN
    assert shown.opening.size == size("190x280 mm")
    assert shown.image.size == size("196x286 mm")
    assert shown.cut.left == shown.cut.right == 105
    assert shown.cut.top == shown.cut.bottom == 110


def test_it_is_weighted_and_turned_with_its_frame(tmp_path: Path) -> None:
    (heavy,) = planned(KIT + 'weight = "10 mm"\n', tmp_path).pieces
    assert [heavy.apertures[0].cut.top, heavy.apertures[0].cut.bottom] == [105, 115]
    (turned,) = planned(KIT + "turn = true\n", tmp_path).pieces
    assert turned.apertures[0].opening.size == size("280x190 mm")


def test_its_border_may_be_measured(tmp_path: Path) -> None:
    """A visible border of 90.5 above lies 95 from the blank's edge: 6 − 1.5 are under the lip."""
    (made,) = planned(KIT + 'mat_supply = "own"\nborder = { top = "90.5 mm" }\n', tmp_path).pieces
    assert [made.apertures[0].cut.top, made.apertures[0].cut.bottom] == [95, 125]


@pytest.mark.parametrize(
    ("said", "supply"),
    [
        ('image = "220 x 310 mm"', MatSupply.TO_SIZE),
        ('border = "60 mm"', MatSupply.TO_SIZE),
        ('mat = ["white"]\nimage = "220 x 310 mm"', MatSupply.TO_SIZE),
        ('opening = "200 x 290 mm"', MatSupply.TO_SIZE),
        ('mat_supply = "own"\nmat = ["grey"]', MatSupply.OWN),
        ('mat_supply = "own"\nopening = "188 x 280 mm"', MatSupply.OWN),
        ('paper = "A4"', MatSupply.OWN),
    ],
)
def test_it_stands_back_for_another_mat_or_print(said: str, supply: MatSupply, tmp_path: Path) -> None:
    text = KIT + said.replace("grey", "4-ply") + "\n"
    assert parse_job(text, tmp_path).pieces[0].mat_supply is supply


def test_a_mat_whose_opening_the_piece_says_is_the_frames_own(tmp_path: Path) -> None:
    text = KIT.replace("mat_opening", "# mat_opening") + 'opening = "190 x 280 mm"\n'
    (read,) = parse_job(text, tmp_path).pieces
    assert read.mat_supply is MatSupply.OWN


# --- moulding that is sawn to a size ----------------------------------------------------------------------------------

SAWN = """
[costs]
markup = 2
[frame.ash]
takes = "40x50 cm"
rail = "20 mm"
sticks = [{ length = "3 m", price = 21 }]
[[piece]]
name = "Gull"
frame = "ash"
image = "220 x 310 mm"
"""


def test_sticks_beside_a_size_are_sawn_to_it(tmp_path: Path) -> None:
    """Long points: the rabbet 403 × 503 and twice the rail beyond the lip, 14 mm."""
    made = planned(SAWN, tmp_path)
    (piece,), (rack,) = made.pieces, made.racks
    assert piece.frame.made_to_measure
    assert piece.blank == size("400x500 mm")
    assert sorted(rail for stick in rack.sticks.sticks for rail in stick.rails) == [431, 431, 531, 531]
    (line,) = (line for line in made.order if line.material == "ash")
    assert (str(line.item), line.quantity, line.price) == ("moulding", 1, Decimal(21))
    assert ("sticks of ash", Decimal(21)) in [(share.what, share.amount) for share in made.costs.pieces[0].shares]


def test_no_selling_price_while_the_sticks_have_none(tmp_path: Path) -> None:
    made = planned(SAWN.replace(", price = 21", ""), tmp_path)
    assert made.costs.pieces[0].selling is None
    assert "sticks of ash" in made.costs.pieces[0].unpriced


def test_sticks_at_hand_are_neither_ordered_nor_paid(tmp_path: Path) -> None:
    """1924 mm of rails: a stick of 2 m at hand gives them all, and so do two of 1 m, 531 + 431 each."""
    ready = planned(SAWN.replace("21 }", '21 }, { length = "2 m", have = 1 }'), tmp_path)
    assert "ash" not in ordered(ready)
    assert ready.costs.pieces[0].selling is None  # the mat has no price, but the sticks need none:
    assert "sticks of ash" not in ready.costs.pieces[0].unpriced
    some = planned(SAWN.replace("21 }", '21 }, { length = "1 m", have = 5 }').replace('"3 m"', '"1.1 m"'), tmp_path)
    assert [(stick["length"], stick["count"], stick["at_hand"]) for stick in sticks(some)] == [(1000, 2, 2)]


def test_one_stick_twice_in_the_list_is_one_kind(tmp_path: Path) -> None:
    made = planned(SAWN.replace("21 }", '21 }, { length = "3 m", price = 21, have = 1 }'), tmp_path)
    assert [entry["at_hand"] for entry in sticks(made)] == [1]


def test_rails_that_the_sticks_at_hand_leave_over_are_told(tmp_path: Path) -> None:
    text = SAWN.replace("21 }", '21 }, { length = "2 m", have = 1 }').replace('"3 m"', '"500 mm"')
    planned(text, tmp_path)
    with pytest.raises(JobError) as fault:
        planned(text + "quantity = 2\n", tmp_path)
    assert "Gull: a rail of 531 mm is longer than the sticks of ash that are sold" in str(fault.value)
    assert fault.value.faults[0].where == "piece[1].frame"


# --- frames that lie ready --------------------------------------------------------------------------------------------

THREE = KIT.replace("price = 20", "price = 20\nhave = 3") + 'quantity = 2\n[[piece]]\nname = "Tern"\nframe = "kit"\n'
THREE += 'quantity = 2\nturn = true\n[[piece]]\nname = "Coil"\nframe = "40x50 cm"\nimage = "220 x 310 mm"\n'


def test_the_first_pieces_have_the_frames_at_hand_first_whichever_way_up(tmp_path: Path) -> None:
    made = planned(THREE, tmp_path)
    assert frames_at_hand(made.job.pieces) == {"Gull": 2, "Tern": 1, "Coil": 0}
    written: Any = plan_json(made)
    assert [piece["frame"]["at_hand"] for piece in written["pieces"]] == [2, 1, 0]
    assert written["pieces"][1]["frame"]["mat_opening"] == [280, 190]


def test_front_view_and_assembly_list_tell_what_is_at_hand(tmp_path: Path) -> None:
    made = planned(THREE, tmp_path)
    gull, tern, coil = (words(front_view(made.job, piece, {})) for piece in made.pieces)
    assert "kit, at hand" in gull
    assert "kit, landscape, 1 of 2 at hand" in tern
    assert {"glass-2mm, with the frame", "foam-5mm, with the frame", "white, bevel, with the frame"} <= gull
    assert not [word for word in coil if "with the frame" in word or "at hand" in word]
    listed = " ".join(text.text for sheet in assembly_list(made.job, made.pieces) for text in sheet.texts())
    assert "kit, landscape, 1 of 2 at hand" in listed
    assert "glass-2mm, 2 mm, with the frame" in listed


def test_only_frames_beyond_those_at_hand_are_ordered_and_paid(tmp_path: Path) -> None:
    made = planned(THREE, tmp_path)
    frames = [(line.material, line.quantity, line.pieces) for line in made.order if line.item is Item.FRAME]
    assert frames == [("kit", 1, ("Tern",)), ("40x50 cm", 1, ("Coil",))]
    assert [(line.quantity, line.material) for line in made.at_hand] == [(3, "kit")]
    gull, tern, _ = made.costs.pieces
    assert "frame kit" not in [share.what for share in gull.shares]
    assert [share.amount for share in tern.shares if share.what == "frame kit"] == [20]
    assert "frame kit" not in gull.unpriced


def test_what_comes_with_an_ordered_frame_needs_no_price_of_its_own(tmp_path: Path) -> None:
    """The kit's price is that of all that it includes: only small hardware and the paper keep the piece unpriced."""
    priced = "[costs]\nmarkup = 2\nhinge = 0.1\ntape_per_m = 0.2\nwire_per_m = 0.5\nhook = 1\n"
    made = planned(priced + KIT, tmp_path)
    assert made.costs.unpriced == ()
    assert made.costs.pieces[0].selling is not None
    bare = planned(priced + BARE, tmp_path)
    assert bare.costs.pieces[0].selling is None


def test_a_ready_cut_mat_that_suits_none_names_the_mat_of_the_frame(tmp_path: Path) -> None:
    with pytest.raises(JobError) as fault:
        planned(KIT + 'mat_supply = "ready-cut"\nimage = "100 x 150 mm"\n', tmp_path)
    assert 'or "own" for the 190 × 280 mm mat of "kit"' in str(fault.value)


def codes(text: str, folder: Path) -> list[str]:
    return [finding.code for finding in planned(text, folder).pieces[0].findings]


def test_a_frames_mat_that_is_left_over_is_told(tmp_path: Path) -> None:
    assert "frame-mat-left" in codes(KIT + 'image = "220 x 310 mm"\n', tmp_path)
    assert "frame-mat-left" not in codes(KIT, tmp_path)
    assert "frame-mat-left" not in codes(BARE, tmp_path)
    assert "frame-mat-left" not in codes(KIT + "mat = []\n", tmp_path)


def test_a_photo_that_lies_behind_a_mat_that_stands_is_told(tmp_path: Path) -> None:
    Image.new("RGB", (300, 200)).save(tmp_path / "tern.png")
    photo = KIT.replace('aspect = "2:3"', 'photo = "tern.png"')
    assert "turn-frame" in codes(photo, tmp_path)
    assert "turn-frame" not in codes(photo + "turn = true\n", tmp_path)
    assert "turn-frame" not in codes(KIT.replace("190 x 280", "300 x 200"), tmp_path)  # the mat turns with its frame
