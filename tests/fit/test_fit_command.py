"""`matplan fit` from the outside: what it prints, where its names come from, and what it says of a question it cannot
answer.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from matplan import catalogue
from matplan.cli import run
from matplan.cli.commands import matplan
from matplan.fit.sources import USUAL_PAPERS
from tests.photographs import turned_jpeg

JOB = """units = "mm"
[paper.rag]
size = "A3+"
printer_margin = "5 mm"
ppi = 240
[frame.ash]
rabbet = "403 x 503 mm"
rail = "20 mm"
lip = "5 mm"
[frame.batten]
rail = "12 mm"
"""


def fit(*arguments: str | Path) -> Any:
    """The JSON of an answer."""
    made = CliRunner().invoke(matplan, ["fit", *map(str, arguments), "--json"], catch_exceptions=False)
    assert made.exit_code == 0
    return json.loads(made.stdout)


def refused(capsys: pytest.CaptureFixture[str], *arguments: str | Path, code: int = 1) -> list[str]:
    """The lines on stderr; nothing is on stdout."""
    assert run(["fit", *map(str, arguments)]) == code
    out, err = capsys.readouterr()
    assert out == ""
    assert "Traceback" not in err
    return err.splitlines()


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "job.toml"
    path.write_text(JOB, encoding="utf-8")
    return path


# --- answers ---------------------------------------------------------------------------------------------------------


def test_the_document_has_the_keys_that_programs_read() -> None:
    answer = fit("3:2", "--frames", "40x50 cm,30x40 cm", "--papers", "A4,A3+", "--border", "6 cm", "--top", "3")
    assert answer["subject"] == {"aspect": [3, 2], "pixels": None}
    assert [option["rank"] for option in answer["options"]] == [1, 2, 3]
    keys = {
        "rank",
        "frame",
        "blank",
        "image",
        "opening",
        "visible_borders",
        "paper",
        "ppi",
        "ready_cut",
        "score",
        "why",
        "turned",
        "parts",
    }
    for option in answer["options"]:
        assert keys <= set(option)
        assert option["frame"] in ("40x50 cm", "30x40 cm")
        assert option["paper"] in ("A4", "A3+")
        assert len(option["blank"]) == len(option["image"]) == len(option["opening"]) == 2
        assert set(option["visible_borders"]) == {"top", "right", "bottom", "left"}
        assert min(option["visible_borders"].values()) >= 60
        assert option["ppi"] is None


def test_a_photo_is_read_as_it_is_seen(tmp_path: Path) -> None:
    photo = turned_jpeg(tmp_path / "upright.jpg", 1500, 1000)  # stored on its side, with an Exif turn
    answer = fit(photo, "--frames", "40x50 cm", "--papers", "A4", "--border", "60 mm")
    assert answer["subject"] == {"aspect": [2, 3], "pixels": [1000, 1500]}
    first = answer["options"][0]
    assert first["turned"] is False
    assert first["ppi"] == pytest.approx(
        min(1000 / (first["image"][0] / 25.4), 1500 / (first["image"][1] / 25.4)), abs=1e-3
    )


def test_aspects_are_told_in_the_lowest_terms() -> None:
    assert fit("1.5:1", "--top", "1")["subject"]["aspect"] == [3, 2]
    assert fit(" 6000 : 4000 ", "--top", "1")["subject"]["aspect"] == [3, 2]


def test_frames_and_papers_are_those_of_the_tables_unless_named() -> None:
    options = fit("3:2", "--top", "1000")["options"]
    assert {option["frame"] for option in options} == {frame.name for frame in catalogue.frames()}
    assert {option["paper"] for option in options} <= set(USUAL_PAPERS)
    assert {option["turned"] for option in options} == {True, False}
    assert len(fit("3:2")["options"]) == 10


def test_the_usual_papers_stand_in_the_tables() -> None:
    assert all(paper is not None and paper.name == name for name in USUAL_PAPERS for paper in [catalogue.paper(name)])


def test_a_job_brings_its_frames_papers_and_units(job: Path) -> None:
    (first, *rest) = fit("3:2", "--job", job, "--border", "60")["options"]
    assert {option["frame"] for option in (first, *rest)} == {"ash"}
    assert {option["paper"] for option in (first, *rest)} == {"rag"}
    assert first["blank"] == [500, 400]  # rabbet 503 × 403 less 3 of clearance
    assert first["image"] == [378, 252]  # 500 − 2 × (60 + 5 − 1.5 up to 64) + 6; 378 ÷ 3 × 2
    assert first["visible_borders"]["left"] == 60.5  # 64 − 3.5


def test_a_jobs_names_come_before_those_of_the_tables(job: Path) -> None:
    options = fit("3:2", "--job", job, "--frames", "ash,30x40 cm", "--papers", "rag,A4", "--top", "100")["options"]
    assert {option["frame"] for option in options} == {"ash", "30x40 cm"}
    assert {option["paper"] for option in options} == {"rag", "A4"}


def test_sizes_are_frames_and_papers_too_in_the_units_asked_for() -> None:
    (option, *_) = fit("2:3", "--units", "in", "--frames", "15x20", "--papers", "10 x 14 in")["options"]
    assert (option["frame"], option["blank"]) == ("15x20", [381, 508])
    assert option["paper"] == "10 x 14 in"


def test_the_other_way_round_the_print_is_given() -> None:
    options = fit("3:2", "--image", "30 x 20 cm", "--border", "6 cm", "--top", "100")["options"]
    assert all(option["image"] == [300, 200] for option in options)
    assert all(min(option["visible_borders"].values()) >= 60 for option in options)
    named = {(option["frame"], option["turned"]) for option in options}
    assert ("40x50 cm", True) in named
    assert ("40x50 cm", False) not in named  # 294 + 2 × 65 is more than 400
    assert ("30x40 cm", True) not in named  # 194 + 2 × 65 is more than 300


def test_a_print_may_be_named_and_lies_as_the_picture_does() -> None:
    assert fit("3:2", "--image", "20x30 cm", "--top", "1")["options"][0]["image"] == [300, 200]


def test_text_says_the_sizes_and_why() -> None:
    made = CliRunner().invoke(
        matplan, ["fit", "3:2", "--frames", "40x50 cm", "--papers", "A3+", "--border", "60", "--top", "1"]
    )
    assert made.exit_code == 0
    head, _, first, reason = made.stdout.splitlines()
    assert head == "3:2"
    assert first.startswith("  1  0.")
    assert "40x50 cm landscape  image " in first
    assert reason.strip().startswith("40x50 cm landscape leaves ")


# --- refusals --------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("subject", "said"),
    [
        ("3:0", 'got "3:0", where a side is 0; write width and height like 3:2'),
        ("3:2:1", 'got "3:2:1", which is no aspect; write width and height like 3:2'),
        ("3,5:2", 'got "3,5:2", which is no aspect; write width and height like 3:2'),
        ("101:1", 'got "101:1", which is more than a hundred times as long as wide; write width and height like 3:2'),
        ("no such.jpg", 'got "no such.jpg", but there is no such file; name a photo, or an aspect like 3:2'),
        (
            "x" * 5000,
            f'got "{"x" * 59}…", which names no file (File name too long); name a photo, or an aspect like 3:2',
        ),
        ("a\x1b[2J", 'got "a\\x1b[2J", but there is no such file; name a photo, or an aspect like 3:2'),
    ],
)
def test_a_subject_that_is_none_is_refused(capsys: pytest.CaptureFixture[str], subject: str, said: str) -> None:
    assert refused(capsys, subject, "--json") == [said]


def test_a_broken_photo_is_refused(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    broken = tmp_path / "broken.jpg"
    broken.write_bytes(turned_jpeg(tmp_path / "whole.jpg").read_bytes()[:60])
    (said,) = refused(capsys, broken)
    assert "broken" in said


def test_all_unknown_names_are_told_at_once_with_what_is_near(capsys: pytest.CaptureFixture[str]) -> None:
    first, second, third = refused(capsys, "3:0", "--frames", "40x50 cmm,A4", "--papers", "Leter")
    assert first.startswith('got "3:0"')
    assert "did you mean 40x50 cm, " in second
    assert "there is no paper of that name in the tables" in third
    assert "did you mean Letter" in third


def test_a_moulding_is_no_frame_to_choose(capsys: pytest.CaptureFixture[str], job: Path) -> None:
    (said,) = refused(capsys, "3:2", "--job", job, "--frames", "batten")
    assert said == 'got "batten", which is a moulding without a size of its own; name a frame that has takes or rabbet'
    (said,) = refused(capsys, "3:2", "--job", job, "--frames", "ahs")
    assert said.endswith("did you mean ash?")


def test_a_faulty_job_tells_its_faults(capsys: pytest.CaptureFixture[str], job: Path) -> None:
    job.write_text(JOB.replace("403 x", "403 by"), encoding="utf-8")
    (said,) = refused(capsys, "3:2", "--job", job)
    assert said.startswith(f"{job}:7: frame.ash.rabbet: ")


def test_nothing_that_suits_is_an_error_with_the_nearest_miss(capsys: pytest.CaptureFixture[str]) -> None:
    (said,) = refused(capsys, "3:2", "--image", "90x60 cm", "--border", "20 cm", "--json")
    assert (
        said == "no frame holds an image of 900 × 600 mm with 200 mm of border; "
        "the nearest, 30x40 in landscape, is 288 mm too small"
    )
    # 900 − 6 + 2 × (200 + 4.5 up to 205) − 1016


def test_a_print_on_its_side_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    (said,) = refused(capsys, "3:2", "--image", "200 x 300 mm")
    assert said == 'got --image "200 x 300 mm", which is upright, for a picture that is wide; swap its sides'


@pytest.mark.parametrize(
    "arguments",
    [
        (), ("3:2", "--top", "0"), ("3:2", "--show", "frame"), ("3:2", "--units", "ft"), ("3:2", "--border", "6 miles"),
        ("3:2", "--weight", "heavy"), ("3:2", "--ppi", "0"), ("3:2", "--ppi", "many"), ("3:2", "--image", "large"),
        ("3:2", "--overlap", "-1"), ("3:2", "--step", "1"),
    ],
)  # fmt: skip
def test_wrong_usage_exits_2(capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...]) -> None:
    assert refused(capsys, *arguments, code=2)


# --- a ready-cut mat in a job ----------------------------------------------------------------------------------------


def test_a_job_may_say_frame_and_ready_cut_alone(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(
        'units = "in"\n[[piece]]\nname = "Slipway"\nframe = "11x14 in"\nmat_supply = "ready-cut"\n', encoding="utf-8"
    )
    made = CliRunner().invoke(matplan, ["check", str(path), "--json"], catch_exceptions=False)
    plan = json.loads(made.stdout)
    (piece,) = plan["pieces"]
    assert piece["apertures"][0]["opening"] == [44.45, 57.15, 190.5, 241.3]  # (11 − 7 1/2) / 2 and (14 − 9 1/2) / 2 in
    assert piece["apertures"][0]["image"] == [196.85, 247.65]  # 7 3/4 × 9 3/4 in
    (line,) = (line for line in plan["order"] if line["item"] == "ready-cut mat")
    assert (line["material"], line["size"]) == ("11x14 in for 8x10 in", [279.4, 355.6])


def test_a_job_whose_ready_cut_mat_does_not_suit_says_where_and_how(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    path = tmp_path / "job.toml"
    path.write_text(
        '[[piece]]\nname = "Slipway"\nframe = "40x50 cm"\nimage = "250x350 mm"\nmat_supply = "ready-cut"\n',
        encoding="utf-8",
    )
    assert run(["check", str(path)]) == 1
    assert capsys.readouterr().err == (
        f"{path}:5: piece[1].mat_supply: Slipway: no ready-cut mat for 400 × 500 mm covers the image of 250 × 350 "
        "mm by 3 mm on every "
        "side; make it at least 296 × 396 mm (40x50 cm for 30x40 cm) or 293 × 416 mm (40x50 cm for A3) and at "
        "most 400 × 500 mm, "
        'or write mat_supply = "to size", or "own" for the mat that the frame has\n'
    )
