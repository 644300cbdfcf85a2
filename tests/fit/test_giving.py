"""Several pictures and the frames that lie ready: who gets which, against a general solver, and as a command."""

from __future__ import annotations

import json
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from matplan.cli import run
from matplan.cli.commands import matplan
from matplan.fit.choices import answers
from matplan.fit.giving import _matched, shared
from matplan.fit.records import OwnMat, Subject
from matplan.fit.sources import USUAL_PAPERS
from tests.fit.questions import A3_PLUS, frame, question
from tests.making import size
from tests.photographs import turned_jpeg

WORTH = st.dictionaries(st.tuples(st.integers(0, 5), st.integers(0, 4)), st.integers(1, 10_000))


@settings(max_examples=150, deadline=None)
@given(WORTH, st.lists(st.integers(1, 3), min_size=5, max_size=5))
def test_the_assignment_is_that_of_a_general_solver(worth: dict[tuple[int, int], int], places: list[int]) -> None:
    """SciPy's `linear_sum_assignment` (Crouse's shortest augmenting path), each pair worth a large amount more so that
    more pairs go before a greater sum.
    """
    columns = [index for index, many in enumerate(places) for _ in range(many)]
    large = 1_000_000
    table = np.zeros((6, len(columns)), dtype=np.int64)
    for (picture, framed), value in worth.items():
        table[picture, [place for place, index in enumerate(columns) if index == framed]] = value + large
    rows, chosen = linear_sum_assignment(table, maximize=True)
    given_frames = _matched(worth, places)
    assert sum(worth[pair] + large for pair in given_frames.items()) == table[rows, chosen].sum()
    assert all(list(given_frames.values()).count(index) <= many for index, many in enumerate(places))


def with_frames(*frames: Any, aspects: tuple[str, ...]) -> Any:
    asked = question(*frames, sheets=(A3_PLUS,))
    sides = [tuple(map(Fraction, aspect.split(":"))) for aspect in aspects]
    return [replace(asked, subject=Subject(aspect=(across, down), file=f"{across}:{down}")) for across, down in sides]


def test_the_whole_is_best_not_each() -> None:
    """The square frame suits the square picture alone; the other one takes what is left although it scores less."""
    found = shared(
        with_frames(
            frame("30x30 cm", have=1), frame("30x40 cm", have=1), frame("50x70 cm"), aspects=("4:3", "1:1", "3:2")
        )
    )
    assert {given.subject.file: given.option.frame.name for given in found.given}["1:1"] == "30x30 cm"
    assert len(found.given) == 2
    assert len(found.photos) == 1
    assert found.frames == ()


def test_a_frame_that_lies_ready_twice_is_given_twice_and_no_more() -> None:
    found = shared(with_frames(frame("30x40 cm", have=2), aspects=("4:3", "4:3", "4:3")))
    assert [given.option.frame.name for given in found.given] == ["30x40 cm"] * 2
    assert len(found.photos) == 1
    left = shared(with_frames(frame("30x40 cm", have=3), aspects=("4:3",)))
    assert left.frames == ("30x40 cm", "30x40 cm")


def test_the_mat_that_a_frame_comes_with_is_offered_either_way_up() -> None:
    own = frame("30x40 cm", have=1, mat_opening=size("190x280 mm"))
    for aspect, opening in (("2:3", "190x280 mm"), ("3:2", "280x190 mm")):
        (across, down) = aspect.split(":")
        found = answers(question(own, aspect=f"{across}:{down}"), 20)
        with_mat = [option for option in found if isinstance(option.mat, OwnMat)]
        assert with_mat[0].opening == size(opening)
        assert with_mat[0].image == size(opening).grown(Fraction(3))  # covered by 3 mm on each side


# --- the command -----------------------------------------------------------------------------------------------------

JOB = """units = "mm"
[paper.rag]
size = "A3+"
[frame.oak]
takes = "30x40 cm"
have = 2
[frame.pine]
takes = "30x30 cm"
have = 1
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    photos = tmp_path / "photos"
    photos.mkdir()
    for name, (wide, high) in {"2.jpg": (1500, 1000), "10.jpg": (1000, 1000), "notes.jpg": (900, 1200)}.items():
        turned_jpeg(photos / name, wide, high)
    (photos / "list.txt").write_text("no photo", encoding="utf-8")
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    return photos


def test_a_folder_has_answers_for_each_photo_and_tells_who_gets_which(folder: Path) -> None:
    made = CliRunner().invoke(
        matplan, ["fit", str(folder), "--job", str(folder.parent / "job.toml"), "--json"], catch_exceptions=False
    )
    answer = json.loads(made.stdout)
    names = [Path(entry["subject"]["file"]).name for entry in answer["subjects"]]
    assert names == ["2.jpg", "10.jpg", "notes.jpg"]
    assert all(1 <= len(entry["options"]) <= 3 for entry in answer["subjects"])
    frames = {Path(entry["file"]).name: entry["frame"] for entry in answer["given"]}
    assert frames == {"2.jpg": "oak", "10.jpg": "pine", "notes.jpg": "oak"}
    assert all(entry["score"] == entry["option"]["score"] > 0 for entry in answer["given"])
    assert answer["left"] == {"photos": [], "frames": []}
    assert len(answer["skipped"]) == 1
    assert "list.txt" in answer["skipped"][0]


def test_the_text_names_who_gets_which_and_what_is_left(folder: Path) -> None:
    job = folder.parent / "job.toml"
    made = CliRunner().invoke(matplan, ["fit", str(folder / "2.jpg"), "1:1", "--job", str(job)], catch_exceptions=False)
    assert "Frames that lie ready" in made.stdout
    assert "stay empty: 1 × oak" in made.stdout


def test_all_faults_of_several_subjects_come_at_once(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert run(["fit", "3:0", str(tmp_path), "none.jpg"]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert len(err.splitlines()) == 3


@pytest.mark.parametrize("aspect", ["3:2", "2:3", "4:3", "1:1", "16:9", "5:4"])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_frames_and_papers_of_the_askers_units_come_first(aspect: str, units: str) -> None:
    made = CliRunner().invoke(matplan, ["fit", aspect, "--units", units, "--json"], catch_exceptions=False)
    options = json.loads(made.stdout)["options"]
    inch_papers = {"4x6 in", "5x7 in", "8x10 in", "Letter", "11x14 in", "Tabloid", "13x19 in", "ANSI C"}
    assert inch_papers < set(USUAL_PAPERS)
    for option in options[:5]:
        assert option["frame"].endswith(" in") == (units == "in")
        assert (option["paper"] in inch_papers) == (units == "in")
