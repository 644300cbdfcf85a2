"""All faults of a job at once, in the order of its lines, before any search for sheets begins."""

from __future__ import annotations

from pathlib import Path

import pytest

from matplan.faults import JobError
from matplan.planning import Workshop, plan
from matplan.stock import dropouts
from tests.planning.jobs import job, piece

WALL = '[[wall]]\nname = "Landing"\nsize = "{width} x 2600 mm"\npieces = ["Gull", "Coil"]\n'
LARGE = """[[piece]]
name = "Harbour"
image = "1300 x 900 mm"
border = "40 mm"
mat = ["chalk"]
"""


def refuse(*_asked: object, **_named: object) -> None:
    raise AssertionError("a search for sheets has begun")


def test_pieces_walls_and_parts_that_no_sheet_holds_are_told_together(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(dropouts, "cut_mats", refuse)
    asked = job(LARGE, piece("Gull"), piece("Coil", width=700), piece("Tern", width=701), WALL.format(width=500))
    with pytest.raises(JobError) as caught:
        plan(asked)
    faults = caught.value.faults
    assert [fault.where for fault in faults] == ["piece[1]", "piece[3].frame", "piece[4].frame"]
    assert [fault.line for fault in faults] == sorted(fault.line or 0 for fault in faults)
    assert faults[0].text.startswith("Harbour layer 1, 1384 × 984 mm, cannot be cut from the board chalk")


def test_a_wall_that_names_a_refused_piece_is_not_complained_about() -> None:
    wall = WALL.format(width=500)  # too narrow for the two
    with pytest.raises(JobError, match="Landing"):
        plan(job(piece("Gull"), piece("Coil"), wall))
    with pytest.raises(JobError) as caught:
        plan(job(piece("Gull"), piece("Coil", width=700), wall))
    assert [fault.where for fault in caught.value.faults] == ["piece[2].frame"]


def test_walls_are_told_before_sheets(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(dropouts, "cut_mats", refuse)
    with pytest.raises(JobError, match=r"wall\[1\]"):
        plan(job(piece("Gull"), piece("Coil"), WALL.format(width=500)))


def test_a_part_without_a_sheet_is_told_after_the_search() -> None:
    few = '[glazing.dear]\nthickness = "2 mm"\nsheets = [{ size = "600 x 500 mm", have = 1 }, { size = "500 x 400 mm", price = 9 }]\n'
    asked = job(few, piece("Gull", more='glazing = "dear"\n'), piece("Coil", more='glazing = "dear"\n'))
    with pytest.raises(
        JobError, match=r"glazing, 440 × 560 mm, cannot be cut from the glazing dear: no sheet is left for it"
    ):
        plan(asked)


def test_a_rail_longer_than_every_stick_is_told_at_the_frame() -> None:
    moulding = '[frame.oak]\nrail = "20 mm"\nsticks = [{ length = "400 mm", price = 5 }]\n'
    own = '[[piece]]\nname = "Pier"\nframe = "oak"\nimage = "500 x 300 mm"\nborder = "50 mm"\n'
    with pytest.raises(JobError, match=r"piece\[1\]\.frame: Pier: a rail of .* is longer than every stick of oak"):
        plan(job(moulding, own))


def test_lines_are_those_of_the_text_as_it_is_now() -> None:
    """A kept piece was read from an earlier text; its faults are told where it stands now."""
    workshop = Workshop()
    sheets = '[glazing.dear]\nthickness = "2 mm"\nsheets = [{ size = "500 x 400 mm", price = 9 }]\n'
    told = []
    for more in ("", "minutes = 20\n"):
        asked = job(sheets, piece("Gull", more=more), piece("Coil", more='glazing = "dear"\n'))
        with pytest.raises(JobError) as caught:
            workshop.plan(asked)
        told.append(caught.value.faults[0].line or 0)
    assert told[1] == told[0] + 1


def test_the_job_of_a_library_names_its_file(tmp_path: Path) -> None:
    from matplan.job import parse_job

    text = '[[piece]]\nname = "Gull"\nframe = "40x50 cm"\nimage = "900 x 900 mm"\n'
    with pytest.raises(JobError, match=r"^spring\.toml:3: piece\[1\]\.frame: Gull: "):
        plan(parse_job(text, tmp_path, "spring.toml"))
