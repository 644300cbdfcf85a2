"""Sizes that look like another unit's: what is usual, what is asked, and where."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from matplan import catalogue
from matplan.catalogue import Blank, Frame, Kind, Material, ReadyCut
from matplan.faults import JobError
from matplan.job import parse_job
from matplan.job.file.slips import BORDERS, PICTURES, SHEETS, THICKNESSES, WALLS, Span, meant_units
from matplan.lengths import Units
from matplan.planning import plan


def span(*lengths: Fraction) -> Span:
    return min(lengths), max(lengths)


def test_what_is_usual_comes_from_the_tables() -> None:
    frames = [row.size for row in catalogue.rows(Kind.FRAMES) if isinstance(row, Frame)]
    sheets = [row.size for row in catalogue.rows(Kind.BOARD_SHEETS) if isinstance(row, Blank)]
    mats = [(row.blank, row.opening) for row in catalogue.rows(Kind.READY_CUT) if isinstance(row, ReadyCut)]
    stack = [row for kind in (Kind.BOARDS, Kind.GLAZING, Kind.BACKING) for row in catalogue.rows(kind)]
    assert span(*(side for size in frames for side in (size.width, size.height))) == PICTURES
    assert (PICTURES[0], max(side for size in sheets for side in (size.width, size.height))) == SHEETS
    across = [(blank.width - opening.width) / 2 for blank, opening in mats]
    assert span(*across, *((blank.height - opening.height) / 2 for blank, opening in mats)) == BORDERS
    assert span(*(row.thickness for row in stack if isinstance(row, Material))) == THICKNESSES


def test_frames_and_sheets_are_asked_about_from_the_shortest_down() -> None:
    assert meant_units("50x70", Units.MM, PICTURES) == ()
    assert meant_units("50x70", Units.MM, PICTURES, small=1) == ("50x70 cm",)
    assert meant_units("90x130", Units.MM, PICTURES, small=1) == ()


@pytest.mark.parametrize(
    ("written", "units", "usual", "meant"),
    [
        (29, Units.MM, PICTURES, ("29 cm", "29 in")), ("29", Units.MM, PICTURES, ("29 cm", "29 in")),
        ("29 mm", Units.MM, PICTURES, ("29 cm", "29 in")), (290, Units.MM, PICTURES, ()), (34, Units.MM, PICTURES, ()),
        (Decimal("11.5"), Units.MM, PICTURES, ("11.5 cm", "11.5 in")),
        ("16x20", Units.MM, PICTURES, ("16x20 cm", "16x20 in")),
        ("16 1/2 x 20", Units.MM, PICTURES, ("16 1/2 x 20 cm", "16 1/2 x 20 in")),
        ("300 x 200", Units.IN, PICTURES, ("300 x 200 mm",)), (400, Units.CM, PICTURES, ("400 mm",)),
        ("3.5 x 2.5", Units.MM, WALLS, ("3.5 x 2.5 m",)),
        ("350 x 250", Units.MM, WALLS, ("350 x 250 cm", "350 x 250 in")),
        ("12 x 8", Units.IN, WALLS, ("12 x 8 ft",)), ("3600 x 2400", Units.MM, WALLS, ()),
        ("2400 x 900", Units.MM, WALLS, ()),
        (6, Units.MM, BORDERS, ("6 cm", "6 in")), (60, Units.CM, BORDERS, ("60 mm",)), (0, Units.MM, BORDERS, ()),
        ("A4", Units.MM, PICTURES, ()), ("1 ft 4 in", Units.MM, PICTURES, ()), ("x", Units.MM, PICTURES, ()),
        (True, Units.MM, PICTURES, ()), ("32x40", Units.MM, SHEETS, ("32x40 cm", "32x40 in")),
        (5, Units.IN, THICKNESSES, ("5 mm",)),
    ],
)  # fmt: skip
def test_a_size_far_from_usual_is_asked_about(
    written: object, units: Units, usual: Span, meant: tuple[str, ...]
) -> None:
    assert meant_units(written, units, usual) == meant


PIECE = '[[piece]]\nname = "Gull"\nframe = "40x50 cm"\naspect = "3:2"\n'


def test_a_slip_is_a_finding_of_the_job(tmp_path: Path) -> None:
    solved = plan(parse_job(f"{PIECE}image = {{ width = 29 }}\n", tmp_path))
    (slip,) = [finding for finding in solved.findings if finding.code == "unit-slip"]
    assert (slip.where, slip.text) == ("piece[1].image.width", "29 is far from usual here; is 29 cm or 29 in meant?")
    assert "unit-slip" not in {
        f.code for f in plan(parse_job(f"{PIECE}image = {{ width = 290 }}\n", tmp_path)).findings
    }


@pytest.mark.parametrize(
    ("text", "asked"),
    [
        (f"{PIECE}image = {{ width = 2900 }}\n", []),
        (f'units = "cm"\n{PIECE}image = {{ width = 900 }}\n', ["is 900 mm meant?"]),
        (f'{PIECE}image = {{ width = 240 }}\n[[wall]]\nname = "w"\nsize = "3.5 x 2.5"\n',
         ["wall[1].size: 3.5 x 2.5", "m meant?"]),
        (f'[frame.ash]\ntakes = "40x50"\n{PIECE.replace("40x50 cm", "ash")}image = {{ width = 240 }}\n',
         ["frame.ash.takes: 40x50"]),
    ],
)  # fmt: skip
def test_an_error_about_such_a_size_asks_for_it_once(text: str, asked: list[str], tmp_path: Path) -> None:
    with pytest.raises(JobError) as caught:
        plan(parse_job(text, tmp_path))
    assert all(words in str(caught.value) for words in asked)
    assert str(caught.value).count("is far from usual") == bool(asked)


WALL = f'{PIECE}image = {{ width = 240 }}\n[frame.x]\ntakes = "40x50 cm"\nrail = 20\n[[wall]]\nname = "w"\n'.replace(
    '"40x50 cm"\naspect', '"x"\naspect'
)


@pytest.mark.parametrize(
    ("size", "more", "asks"),
    [
        ("3.5 x 2.5", "", "3.5 x 2.5 is far from usual here; is 3.5 x 2.5 m meant?"),
        ("300 x 200 mm", "", "300 x 200 mm is far from usual here; is 300 x 200 cm or 300 x 200 in meant?"),
        (
            "3.5 x 2.5",
            "zone = { left = 500, right = 3000 }\n",
            "3.5 x 2.5 is far from usual here; is 3.5 x 2.5 m meant?",
        ),
    ],
)
def test_a_wall_s_size_in_another_unit_is_all_that_is_told(size: str, more: str, asks: str, tmp_path: Path) -> None:
    with pytest.raises(JobError) as caught:
        plan(parse_job(f'{WALL}size = "{size}"\n{more}', tmp_path))
    assert str(caught.value) == f"job.toml:11: wall[1].size: {asks}"


def test_a_fault_of_the_hooks_is_told_beside_the_wall_s_size(tmp_path: Path) -> None:
    with pytest.raises(JobError) as caught:
        plan(parse_job(f'{WALL}size = "3.5 x 2.5"\nhang = {{ drop = "30 cm" }}\n', tmp_path))
    assert [fault.where for fault in caught.value.faults] == ["wall[1].size", "wall[1].hang.drop"]


@pytest.mark.parametrize(
    ("gap", "units", "meant"), [(6, "mm", "6 cm"), (60, "cm", "60 mm"), (60, "mm", None), (20, "mm", None)]
)
def test_a_wall_s_gap_in_another_unit_is_asked_about(gap: int, units: str, meant: str | None, tmp_path: Path) -> None:
    image = 'image = { width = "240 mm" }'
    wall = WALL.replace("image = { width = 240 }", image).replace("rail = 20", 'rail = "20 mm"')
    solved = plan(parse_job(f'units = "{units}"\n{wall}size = "5 x 3 m"\ngap = {gap}\n', tmp_path))
    told = [(f.where, f.text) for f in solved.findings if f.code == "unit-slip"]
    assert told == ([("wall[1].gap", f"{gap} is far from usual here; is {meant} meant?")] if meant else [])


def test_a_frame_of_two_faulty_pieces_is_asked_about_once(tmp_path: Path) -> None:
    piece = PIECE.replace("40x50 cm", "ash") + "image = { width = 240 }\n"
    with pytest.raises(JobError) as caught:
        plan(parse_job(f'[frame.ash]\ntakes = "40x50"\n{piece}{piece.replace("Gull", "Tern")}', tmp_path))
    assert [text.count("is far from usual") for text in str(caught.value).splitlines()] == [1, 0]
