"""Supplies files: tables for many jobs behind a job's own, each fault in its own file and line."""

from __future__ import annotations

import os
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from matplan.faults import JobError
from matplan.job import read_job
from matplan.job.records import Job
from matplan.lengths import INCH
from matplan.planning import plan

WORKSHOP = """units = "in"
[paper.rag]
size = "A3+"
[board.white]
ply = 4
sheets = [{ size = "32x40", price = 18.50 }, { size = "20x30", price = 9 }]
[frame.oak]
rabbet = "16 x 20"
rail = 1
[hardware.bumper]
pack = 100
[costs]
hook = 1.5
hinge = 0.1
"""
JOB = """supplies = ["../workshop.toml", "more.toml"]
[board.white]
colour = "warm white"
sheets = [{ size = "32x40 in", price = 18.50, have = 2 }]
[costs]
hook = 2
[[piece]]
name = "Gull"
frame = "oak"
image = "300 x 200 mm"
turn = true
paper = "rag"
mat = ["white"]
"""
MORE = """[board.white]
sheets = [{ size = "32x40 in", price = 18.50, have = 1 }]
[frame.oak]
rail = 30
"""


def job(folder: Path, *, text: str = JOB, workshop: str = WORKSHOP, more: str = MORE) -> Job:
    inner = folder / "job"
    inner.mkdir(exist_ok=True)
    (folder / "workshop.toml").write_text(workshop, encoding="utf-8")
    (inner / "more.toml").write_text(more, encoding="utf-8")
    (inner / "job.toml").write_text(text, encoding="utf-8")
    return read_job(inner / "job.toml")


def faults(folder: Path, **changes: str) -> list[str]:
    with pytest.raises(JobError) as error:
        job(folder, **changes)
    return [fault.shown("job.toml") for fault in error.value.faults]


def test_a_later_file_and_the_job_last_replace_a_tables_keys(tmp_path: Path) -> None:
    read = job(tmp_path)
    (white,), (oak,) = read.boards, read.frames
    assert (white.ply, white.colour) == (4, "#f6f2e8")  # the ply from the workshop, the colour from the job
    assert (oak.rabbet.width if oak.rabbet else 0, oak.rail) == (16 * INCH, Fraction(30))  # bare numbers: own units
    assert (read.rates.hook, read.rates.hinge) == (Decimal(2), Decimal("0.1"))
    assert [(each.name, each.pack) for each in read.hardware] == [("bumper", 100)]


def test_sheets_of_one_name_add_up_and_equal_ones_are_one(tmp_path: Path) -> None:
    (white,) = job(tmp_path).boards
    assert [(str(sheet.size.width / INCH), sheet.price, sheet.have) for sheet in white.sheets] == [
        ("32", Decimal("18.50"), 3), ("20", Decimal("9"), 0),
    ]  # fmt: skip


LEFT = '[board.white]\nsheets = [{ size = "600 x 700 mm", price = 0, have = 1 }]\n'


def test_a_sheet_for_nothing_is_used_first_and_never_bought(tmp_path: Path) -> None:
    """What an earlier job left costs nothing; more of it is not for sale."""
    text = JOB.replace("have = 2", "have = 0")
    made = plan(job(tmp_path, text=text, more=LEFT))
    assert "white" not in {line.material for line in made.order}
    assert [(line.material, line.quantity) for line in made.at_hand] == [("white", 1)]
    three = text.replace('name = "Gull"', 'name = "Gull"\nquantity = 3')
    bought = [line for line in plan(job(tmp_path, text=three, more=LEFT)).order if line.material == "white"]
    assert sum(line.price or 0 for line in bought) > 0


def test_each_fault_stands_in_its_own_file(tmp_path: Path) -> None:
    workshop = WORKSHOP.replace("rail = 1", "rial = 1").replace("hook = 1.5", 'hook = "x"').replace("0.1", '"y"')
    assert faults(tmp_path, workshop=workshop) == [
        '../workshop.toml:9: frame.oak.rial: there is no key "rial" here; did you mean "rail"?',
        '../workshop.toml:14: costs.hinge: got "y"; write a price such as 18.50, 0 or more',
    ]  # the hook's price is the job's


def test_a_sheet_in_a_heap_is_told_where_it_is_written(tmp_path: Path) -> None:
    text = JOB.replace('"32x40 in", price = 18.50, have = 2', '"32x40 in", have = -2')
    assert faults(tmp_path, text=text) == [
        "job.toml:4: board.white.sheets[1].have: got -2; write a whole number from 0 to 1,000,000"
    ]
    assert faults(tmp_path, more=MORE.replace("have = 1", "have = -1")) == [
        "more.toml:2: board.white.sheets[1].have: got -1; write a whole number from 0 to 1,000,000"
    ]


HOLDS = "a supplies file holds units, paper, board, glazing, backing, frame, hardware, cutter and costs tables"


@pytest.mark.parametrize(
    ("added", "said"),
    [
        ("[[piece]]\nname = 'X'\n", f"more.toml:5: piece: {HOLDS}; a piece stands in the job"),
        ("[[wall]]\nname = 'X'\n", f"more.toml:5: wall: {HOLDS}; a wall stands in the job"),
        ("[papr]\n", f'more.toml:5: papr: {HOLDS}; "papr" is none of them; did you mean "paper"?'),
        ("[x\n", "more.toml:5: "),
    ],
)
def test_a_file_with_anything_else_is_told(added: str, said: str, tmp_path: Path) -> None:
    (told,) = faults(tmp_path, more=MORE + added)
    assert told.startswith(said)


def test_supplies_that_lead_on_or_nowhere_or_in_circles(tmp_path: Path) -> None:
    on = 'supplies = ["job.toml"]\n' + MORE
    assert faults(tmp_path, more=on) == [
        "more.toml:1: supplies: a supplies file names no further ones; name them all in the job"
    ]
    gone = JOB.replace("../workshop", "../workshp")
    assert faults(tmp_path, text=gone) == [
        'job.toml:1: supplies[1]: got "../workshp.toml": there is no such file; paths start from the job\'s folder'
    ]
    itself = JOB.replace("more.toml", "../job/job.toml")
    assert faults(tmp_path, text=itself) == [
        'job.toml:1: supplies[2]: got "../job/job.toml", which is the job itself; leave it out'
    ]
    units = MORE.replace("[board", 'units = "feet"\n[board')
    assert faults(tmp_path, more=units) == ['more.toml:1: units: got "feet"; write "mm", "cm" or "in"']


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with names there")
@pytest.mark.parametrize("name", ["pipe", "/dev/zero"])
def test_a_pipe_or_a_device_keeps_nobody_waiting(name: str, tmp_path: Path) -> None:
    (tmp_path / "job").mkdir()
    os.mkfifo(tmp_path / "job" / "pipe")
    text = JOB.replace("more.toml", name)
    assert faults(tmp_path, text=text) == [
        f'job.toml:1: supplies[2]: got "{name}", which is no plain file; name a TOML file'
    ]


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ('supplies = "../workshop.toml"', 'supplies: got "../workshop.toml"; write a list in square brackets'),
        ('supplies = ["more.toml", 3]', "supplies[2]: got 3; write a text in quotes"),
        ('supplies = [""]', 'supplies[1]: got "", which is blank; write a name that can be read'),
        ('supplys = ["../workshop.toml"]', 'supplys: there is no key "supplys" here; did you mean "supplies"?'),
    ],
)
def test_supplies_that_are_named_wrongly_could_hold_any_name(written: str, said: str, tmp_path: Path) -> None:
    """The paper and the frame of the workshop are not found, which follows from the one fault."""
    text = JOB.replace('supplies = ["../workshop.toml", "more.toml"]', written)
    assert faults(tmp_path, text=text) == [f"job.toml:1: {said}"]
