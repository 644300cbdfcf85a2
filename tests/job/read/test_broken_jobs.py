"""Every fault of a job, with its line, its place and its words: the table is `broken.txt`, one broken job after
another.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from matplan.faults import JobError
from matplan.job import parse_job
from matplan.job.file.table import keys_of
from matplan.job.file.wrong import known_keys
from matplan.job.records import Piece

_TABLE = Path(__file__).with_name("broken.txt").read_text(encoding="utf-8")
BROKEN = {
    found["title"]: (found["job"], found["words"].strip())
    for found in re.finditer(r"=== (?P<title>.+)\n(?P<job>[^=]*?(?:\n|.)*?)\n---\n(?P<words>(?:.+\n)+)", _TABLE)
}
"""The job's text and what is said of it, by what is wrong with it."""


@pytest.mark.parametrize("title", BROKEN)
def test_broken_job_is_told_in_these_words(title: str, tmp_path: Path) -> None:
    text, words = BROKEN[title]
    words = words.replace("FOLDER", str(tmp_path)).replace("KEYS OF A PIECE", known_keys(tuple(keys_of(Piece))))
    with pytest.raises(JobError) as caught:
        parse_job(text, tmp_path)
    assert str(caught.value) == words


def test_table_of_broken_jobs_is_read_whole() -> None:
    assert len(BROKEN) == _TABLE.count("=== ") > 100


def test_faults_carry_line_place_and_words(tmp_path: Path) -> None:
    with pytest.raises(JobError) as caught:
        parse_job(BROKEN["every fault at once, in the order of lines"][0], tmp_path, "ferry.toml")
    faults = caught.value.faults
    assert [fault.line for fault in faults] == sorted(fault.line or 0 for fault in faults)
    assert (faults[1].line, faults[1].where) == (6, "piece[1].quantity")
    assert str(caught.value).startswith("ferry.toml:1: units: ")


@pytest.mark.parametrize(
    "key", ["frame", "image", "border", "mat", "photo", "aspect", "paper", "weight", "shape", "rows"]
)
def test_fault_in_one_key_hides_no_fault_elsewhere(key: str, tmp_path: Path) -> None:
    text = f'[[piece]]\nname = "Gull"\nquantity = 0\n{key} = [[[]]]\n[board.white]\nply = "x"\n'
    with pytest.raises(JobError) as caught:
        parse_job(text, tmp_path)
    assert {3, 4, 6} <= {fault.line for fault in caught.value.faults}
    assert len([fault for fault in caught.value.faults if fault.line == 4]) == 1
