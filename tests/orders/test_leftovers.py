"""What lies on the shelf when a job is done, and the next job that uses it first."""

from __future__ import annotations

import random
import tomllib
from pathlib import Path
from typing import Any

import pytest

import matplan
from matplan.job import parse_job
from matplan.planning import Plan, plan

BOARD = '[board.white]\nply = 4\nsheets = [{ size = "800 x 1000 mm", price = 10, trim = "2 mm" }]\n'
STICKS = '[frame.ash]\nrail = "20 mm"\nkerf = "3 mm"\nsticks = [{ length = "3 m", price = 20 }]\n'


def piece(name: str, width: int, height: int, border: int = 50, quantity: int = 1, more: str = "") -> str:
    return (
        f'[[piece]]\nname = "{name}"\nquantity = {quantity}\nimage = "{width} x {height} mm"\nborder = {border}\n'
        f'frame = "ash"\nmat = ["white"]\n{more}'
    )


def left_of(made: Plan, folder: Path) -> dict[str, Any]:
    """The leftovers of a pack, "" where nothing is left."""
    matplan.make(made, folder / "pack", only=["leftovers"], force=True)
    path = folder / "pack" / "leftovers.toml"
    return tomllib.loads(path.read_text(encoding="utf-8")) if path.exists() else {}


def planned(text: str, folder: Path) -> Plan:
    return plan(parse_job(text, folder))


def test_offcuts_drop_outs_and_ends_of_sticks_stand_in_the_file(tmp_path: Path) -> None:
    """By hand: a blank of 2 × 50 + 394 = 494 (+ 9 under the lip) from 796 × 996 leaves 293 of width and 292 of height;
    the window's drop-out is 394 − 2 × 1.4. The rails take 2 × (534 + 434) + 4 mitred cuts of 3 × √2 from 3000 mm.
    """
    left = left_of(planned(BOARD + STICKS + piece("Gull", 400, 300), tmp_path), tmp_path)
    sheets = left["board"]["white"]["sheets"]
    assert {"size": "291.2 x 391.2 mm", "price": 0, "have": 1} in sheets
    (sheet,) = planned(BOARD + STICKS + piece("Gull", 400, 300), tmp_path).cuttings[0].layout.sheets
    assert len(sheets) == 1 + len(sheet.offcuts)
    (end,) = left["frame"]["ash"]["sticks"]
    made = planned(BOARD + STICKS + piece("Gull", 400, 300), tmp_path)
    (stick,) = made.racks[0].sticks.sticks
    assert float(end["length"].removesuffix(" mm")) == pytest.approx(
        3000 - float(sum(stick.rails)) - 4 * 3 * 2**0.5, abs=2e-3
    )


def test_what_is_too_small_to_keep_is_left_out(tmp_path: Path) -> None:
    costs = '[costs]\nkeep = "900 x 900 mm"\nkeep_stick = "2.9 m"\n'
    assert left_of(planned(costs + BOARD + STICKS + piece("Gull", 400, 300), tmp_path), tmp_path) == {}
    small = '[costs]\nkeep = "300 x 60 mm"\n'
    most = left_of(planned(small + BOARD + STICKS + piece("Gull", 600, 850), tmp_path), tmp_path)
    assert any(float(one["size"].split()[0]) < 100 for one in most["board"]["white"]["sheets"])


def test_what_lay_ready_and_was_not_used_is_still_there(tmp_path: Path) -> None:
    ready = (
        BOARD.replace("}]\n", '}, { size = "700 x 900 mm", have = 3 }]\n')
        + STICKS.replace("}]", '}, { length = "2.5 m", price = 15, have = 2 }]')
        + '[paper.rag]\nsize = "A3"\nhave = 5\n[frame.kit]\ntakes = "30x40 cm"\nhave = 2\n'
        + '[hardware.bumper]\nhave = 20\npack = 100\n[hardware.wire]\nroll = "10 m"\n'
    )
    made = planned(ready + piece("Gull", 400, 250, more='paper = "rag"\n'), tmp_path)
    left = left_of(made, tmp_path)
    assert {"size": "700 x 900 mm", "price": 0, "have": 2} in left["board"]["white"]["sheets"]
    assert {"length": "2500 mm", "price": 0, "have": 1} in left["frame"]["ash"]["sticks"]
    assert left["paper"]["rag"]["have"] == 4
    assert (left["frame"]["kit"]["takes"], left["frame"]["kit"]["have"]) == ("300 x 400 mm", 2)
    assert left["hardware"]["bumper"]["have"] == 18
    wire = next(line for line in made.order if line.material == "hanging wire")
    assert left["hardware"]["wire"]["have"] == f"{wire.spare} m" != "0 m"


def test_it_reads_back_without_a_change_and_gives_the_same_bytes(tmp_path: Path) -> None:
    first = planned(BOARD + STICKS + piece("Gull", 400, 300) + piece("Tern", 200, 200, quantity=3), tmp_path)
    matplan.make(first, tmp_path / "one", only=["leftovers"])
    once = (tmp_path / "one" / "leftovers.toml").read_bytes()
    matplan.make(first, tmp_path / "two", only=["leftovers"])
    assert (tmp_path / "two" / "leftovers.toml").read_bytes() == once
    idle = 'supplies = ["one/leftovers.toml"]\n[[piece]]\nname = "X"\nframe = "30x40 cm"\nimage = "200 x 150 mm"\n'
    idle += 'mat = ["4-ply"]\n'
    matplan.make(planned(idle, tmp_path), tmp_path / "three", only=["leftovers"])
    assert (tmp_path / "three" / "leftovers.toml").read_bytes() == once


def sheets_bought(made: Plan) -> int:
    return sum(int(line.quantity) for line in made.order if line.item == "sheet")


def ten_jobs(seed: int, folder: Path) -> tuple[int, int]:
    """Sheets bought for ten small jobs in a row, each for itself and each from what the ones before have left."""
    dice = random.Random(seed)
    alone = shared = 0
    supplies = ""
    for number in range(10):
        pieces = "".join(
            piece(f"P{n}", dice.randrange(120, 420, 10), dice.randrange(120, 420, 10), quantity=dice.randint(1, 3))
            for n in range(2)
        )
        text = BOARD + STICKS + pieces
        alone += sheets_bought(planned(text, folder))
        made = planned(supplies + text, folder)
        shared += sheets_bought(made)
        matplan.make(made, folder / f"pack{number}", only=["leftovers"])
        supplies = f'supplies = ["pack{number}/leftovers.toml"]\n'
    return alone, shared


def test_ten_jobs_on_one_shelf_buy_fewer_sheets(tmp_path: Path) -> None:
    alone, shared = ten_jobs(3, tmp_path)
    assert shared < alone
