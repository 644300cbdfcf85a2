"""What a stranger tripped over: keys that change nothing, factors that were meant as lengths, advice that must hold."""

from __future__ import annotations

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from matplan import make, read_job
from matplan.cli.tables import plan_text
from matplan.faults import JobError, PackError
from matplan.job import parse_job
from matplan.job.starter import starter
from matplan.orders.leftovers import leftovers
from matplan.planning import Plan, plan

PIECE = '[[piece]]\nname = "A"\nframe = "40x50 cm"\nimage = "200 x 300 mm"\n'
WALL = '[[wall]]\nname = "W"\nsize = "4 x 2.5 m"\n'
HUNG = PIECE.replace("40x50 cm", "ash") + "[frame.ash]\ntakes = '40x50 cm'\nrail = 20\n" + WALL


def told(text: str, code: str) -> list[tuple[str, str]]:
    """Return the places and words of a job's findings with a code."""
    return [(found.where, found.text) for found in planned(text).findings if found.code == code]


def planned(text: str) -> Plan:
    return plan(parse_job(text, Path()))


@pytest.mark.parametrize(
    ("text", "where", "goes_with"),
    [
        (PIECE + 'reveal = "5 mm"\n', "piece[1].reveal", 'show = "margin"'),
        (PIECE + 'gap = "5 mm"\n', "piece[1].gap", 'show = "sheet"'),
        (PIECE + 'show = "sheet"\noverlap = "5 mm"\n', "piece[1].overlap", "a mat that covers an edge"),
        (PIECE + 'gutter = "20 mm"\n', "piece[1].gutter", "several windows"),
        (PIECE + "justify = true\n", "piece[1].justify", "several windows"),
        (
            '[[piece]]\nname = "A"\nframe = "40x50 cm"\nborder = "50 mm"\n[[piece.aperture]]\nname = "a"\n'
            'aspect = "1:1"\ngap = "5 mm"\n',
            "piece[1].aperture[1].gap",
            'show = "sheet"',
        ),
        (HUNG + "columns = 2\n", "wall[1].columns", 'arrange = "grid"'),
        (HUNG + '[[wall.group]]\npieces = ["A"]\nvariant = 2\n', "wall[1].group[1].variant", 'arrange = "cluster"'),
    ],
)  # fmt: skip
def test_a_key_that_changes_nothing_is_told(text: str, where: str, goes_with: str) -> None:
    ((place, words),) = told(text, "idle-key")
    assert place == where
    assert goes_with in words


@pytest.mark.parametrize(
    "text",
    [
        PIECE + 'show = "margin"\nreveal = "5 mm"\n',
        PIECE + 'show = "sheet"\ngap = "5 mm"\n',
        PIECE + 'overlap = "4 mm"\n',
    ],
)
def test_keys_that_are_used_are_not_told(text: str) -> None:
    assert not told(text, "idle-key")


@pytest.mark.parametrize(
    ("units", "weight", "asks"), [("mm", "10", "10 mm"), ("in", "0.5", "0.5 in"), ("mm", "1.2", ""), ("mm", "2", "")]
)
def test_a_factor_that_is_no_usual_weight_is_asked_about(units: str, weight: str, asks: str) -> None:
    frame = '"16x20"' if units == "in" else '"40x50 cm"'
    text = f'units = "{units}"\n[[piece]]\nname = "A"\nframe = {frame}\nimage = "20 x 20 cm"\nweight = {weight}\n'
    found = told(text, "unit-slip")
    assert [place for place, _ in found] == (["piece[1].weight"] if asks else [])
    assert all(f"is {asks} meant?" in words for _, words in found)


def test_an_error_about_borders_names_the_weight_that_was_meant_as_a_length() -> None:
    text = PIECE.replace('image = "200 x 300 mm"', 'aspect = "1:1"\nborder = "50 mm"\nweight = 20')
    with pytest.raises(JobError, match=r"piece\[1\]\.weight: 20 is a factor"):
        planned(text)


def test_sides_that_a_table_of_the_printers_margin_leaves_out_are_assumed() -> None:
    """Of left and right one says the other; top and bottom are 3 mm, as where nothing is said (common practice)."""
    text = '[paper.rag]\nsize = "A4"\nprinter_margin = { left = 10 }\n' + PIECE.replace("300", "200")
    (paper,) = parse_job(text, Path()).papers
    margin = paper.printer_margin
    assert [*map(int, (margin.left, margin.right, margin.top, margin.bottom))] == [10, 10, 3, 3]
    assert paper.margin_assumed
    (whole,) = parse_job(text.replace("{ left = 10 }", "{ left = 10, top = 4 }"), Path()).papers
    assert (int(whole.printer_margin.bottom), whole.margin_assumed) == (4, False)


@pytest.mark.parametrize("image", ["194 x 291 mm", "400 x 600 mm"])
def test_the_largest_image_that_an_error_names_has_a_place(image: str) -> None:
    """A4 less 2 × (reveal 10 + overlap 3): 184 × 271, of 2 : 3 180 × 271."""
    text = PIECE.replace("200 x 300 mm", image) + 'paper = "A4"\nshow = "margin"\nreveal = "10 mm"\n'
    with pytest.raises(JobError, match="180 × 271 mm"):
        planned(text.replace("40x50 cm", "60x80 cm"))
    assert planned(text.replace(image, "180 x 271 mm").replace("40x50 cm", "60x80 cm"))


def test_spacers_of_two_heights_are_two_lines() -> None:
    store = '[hardware.spacer]\nroll = "25 m"\nprice = 10\n'
    first = PIECE + "spacer = 5\n"
    made = planned(store + first + first.replace('"A"', '"B"').replace("spacer = 5", "spacer = 3"))
    lines = [(line.material, line.quantity) for line in made.order if str(line.item) == "spacer"]
    assert lines == [("spacers, 5 mm high", 1), ("spacers, 3 mm high", 1)]
    assert not _spare(made)  # a table for both would not tell which
    assert _spare(planned(store + first)) == [Decimal("23.2")]  # 25 − 2 × 0.9 m


def _spare(made: Plan) -> list[Decimal]:
    left = leftovers(made.job, made.cuttings, made.racks, made.order, made.at_hand)
    return [count for _, count in left.hardware]


def test_rails_are_told_in_feet_in_an_inch_job() -> None:
    text = 'units = "in"\n[frame.gold]\nrail = 1\nprice_per_ft = 7.25\n[[piece]]\nname = "A"\nframe = "gold"\n'
    made = planned(text + 'image = "8 x 10 in"\nborder = "2 in"\n')
    (line,) = (line for line in made.order if "rabbet opening" in line.note)
    assert line.note.endswith(" ft of rails")


def test_a_mat_too_large_for_its_sheets_is_told_the_largest() -> None:
    text = '[board.white]\nsheets = [{ size = "30x30 cm", trim = "5 mm" }]\n' + PIECE
    with pytest.raises(JobError, match="290 × 290 mm; name a larger sheet"):
        planned(text)


def test_a_mat_of_ones_own_in_a_frame_with_another_is_not_the_frames() -> None:
    frame = '[frame.kit]\ntakes = "30x40 cm"\nincludes = ["mat"]\nmat_opening = "190 x 277 mm"\n'
    text = frame + '[[piece]]\nname = "A"\nframe = "kit"\naspect = "2:3"\n'
    assert "the frame's own" in plan_text(planned(text))
    other = text + 'mat_supply = "own"\nopening = "180 x 260 mm"\n'
    assert "there already" in plan_text(planned(other))


def test_a_mat_that_the_job_says_is_cut_to_size_has_no_sheets_to_cut_by(tmp_path: Path) -> None:
    """What a supplier cuts needs neither diagram nor template here; there is a card for the shop instead."""
    (tmp_path / "job.toml").write_text(PIECE + 'mat_supply = "to size"\n', encoding="utf-8")
    make(plan(read_job(tmp_path / "job.toml")), tmp_path / "pack")
    made = {str(path.relative_to(tmp_path / "pack")) for path in (tmp_path / "pack").rglob("*") if path.is_file()}
    assert "mats.pdf" in made
    assert not {name for name in made if name.startswith("cut/") or name == "template/a.pdf"}
    rows = list(csv.DictReader((tmp_path / "pack" / "order.csv").read_text(encoding="utf-8").splitlines()))
    assert [row["item"] for row in rows].count("mat") == 1


def test_no_photo_that_suits_is_told_on_one_short_line(tmp_path: Path) -> None:
    (tmp_path / "photos").mkdir()
    for number in range(40):
        (tmp_path / "photos" / f"{number:02}.jpg").write_bytes(b"no photo")
    with pytest.raises(PackError, match=r"; and \d+ more$") as caught:
        starter(tmp_path / "job", tmp_path / "photos")
    assert "\n" not in str(caught.value)
