"""All faults of a job at once, in the order of its lines, before any search for sheets begins."""

from __future__ import annotations

from pathlib import Path

import pytest

from matplan.faults import Fault, JobError
from matplan.planning import Workshop, plan
from matplan.planning.faulty import in_order
from matplan.stock import dropouts
from tests.planning.jobs import HEAD, job, piece

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


def test_a_fault_of_the_cutter_hides_no_fault_of_a_piece() -> None:
    text = HEAD + piece("Gull") + piece("Coil", width=700) + '[cutter]\nwindow_side = "up"\n'
    with pytest.raises(JobError) as caught:
        Workshop().plan(Workshop().parse(text, Path()))
    assert {fault.where for fault in caught.value.faults} == {"piece[2].frame", "cutter.window_side"}


def test_walls_are_told_before_sheets(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(dropouts, "cut_mats", refuse)
    with pytest.raises(JobError, match=r"wall\[1\]"):
        plan(job(piece("Gull"), piece("Coil"), WALL.format(width=500)))


def test_a_part_without_a_sheet_is_told_after_the_search() -> None:
    few = (
        '[glazing.dear]\nthickness = "2 mm"\n'
        'sheets = [{ size = "600 x 500 mm", have = 1 }, { size = "500 x 400 mm", price = 9 }]\n'
    )
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


# --- faults of reading beside faults of solving ----------------------------------------------------------------------


def told(*tables: str) -> list[tuple[int, str]]:
    """Return the line and place of every fault of a text."""
    workshop = Workshop()
    with pytest.raises(JobError) as caught:
        workshop.plan(workshop.parse(HEAD + "".join(tables), Path()))
    return [(fault.line or 0, fault.where) for fault in caught.value.faults]


def test_a_fault_of_reading_hides_no_fault_of_solving_in_another_piece() -> None:
    faults = told(piece("Gull", width=700), piece("Coil", more='border = "6o mm"\n'), piece("Tern", width=701))
    assert [where for _, where in faults] == ["piece[1].frame", "piece[2].border", "piece[3].frame"]
    assert faults == sorted(faults)


def test_what_names_a_faulty_table_is_not_solved() -> None:
    """A table's fault is one message: a piece that names it is not solved without it, and so not complained about."""
    faulty = (
        "[board.fog]\nply = 99\n"
        '[glazing.thin]\nthickness = "no"\n[frame.gilt]\ntakes = "4o x 50 cm"\n[paper.rag]\nsize = "A99"\n'
    )
    pieces = (
        piece("Gull", board="fog", width=700),
        piece("Coil", width=700, more='glazing = "thin"\n'),
        piece("Tern", width=700).replace('"birch"', '"gilt"'),
        piece("Moss", width=700, more='paper = "rag"\n'),
        piece("Reef", width=702),
    )
    assert [where for _, where in told(faulty, *pieces)] == [
        "board.fog.ply",
        "glazing.thin.thickness",
        "frame.gilt.takes",
        "paper.rag.size",
        "piece[5].frame",
    ]


def test_a_wall_of_faulty_pieces_is_not_hung_and_one_of_sound_pieces_is() -> None:
    small = '[[wall]]\nname = "{name}"\nsize = "500 x 2600 mm"\npieces = [{pieces}]\n'
    walls = small.format(name="Hall", pieces='"Gull", "Coil"'), small.format(name="Stair", pieces='"Tern", "Coil"')
    broken = piece("Gull", more='border = "6o mm"\n'), piece("Coil"), piece("Tern")
    assert [where for _, where in told(*broken, *walls)] == ["piece[1].border", "wall[2]"]


def test_nothing_is_solved_in_units_that_nobody_knows() -> None:
    workshop = Workshop()
    text = 'units = "ell"\n' + HEAD + piece("Gull", width=700)
    with pytest.raises(JobError) as caught:
        workshop.plan(workshop.parse(text, Path()))
    assert [fault.where for fault in caught.value.faults] == ["units"]


def test_the_command_line_tells_all_at_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from matplan.cli import run

    path = tmp_path / "job.toml"
    path.write_text(HEAD + piece("Gull", width=700) + piece("Coil", more='border = "6o mm"\n'), encoding="utf-8")
    assert run(["check", str(path)]) == 1
    lines = capsys.readouterr().err.splitlines()
    assert [line.removeprefix(str(path)).split(": ")[:2] for line in lines] == [
        [":13", "piece[1].frame"],
        [":23", "piece[2].border"],
    ]


def test_faults_stand_by_file_and_line_each_once() -> None:
    own = [Fault(line=line, where="piece[1]", text="wide") for line in (9, None, 2)]
    other = [Fault(line=line, where="board.fog", text="thin", file="shop.toml") for line in (4, 1)]
    found = in_order([*other, *own, own[0]])
    assert [(fault.file, fault.line) for fault in found] == [
        ("", None), ("", 2), ("", 9), ("shop.toml", 1), ("shop.toml", 4),
    ]  # fmt: skip
