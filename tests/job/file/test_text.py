"""A job file as bytes and as TOML: encodings, line ends, syntax, and files that are none."""

from __future__ import annotations

import os
import re
import sys
from pathlib import Path

import pytest

from matplan.faults import JobError
from matplan.job import parse_job, read_job

GOOD = '[[piece]]\nname = "Gull"\nframe = "40x50 cm"\nimage = "300 x 200 mm"\n'


def told(raw: bytes, folder: Path) -> str:
    """What is said of a file with those bytes, without the file's folder."""
    path = folder / "job.toml"
    path.write_bytes(raw)
    with pytest.raises(JobError) as caught:
        read_job(path)
    return str(caught.value).replace(str(folder) + os.sep, "")


@pytest.mark.parametrize("start", [b"", b"\xef\xbb\xbf"], ids=["plain", "byte order mark"])
@pytest.mark.parametrize("end", ["\n", "\r\n"], ids=["LF", "CRLF"])
def test_byte_order_mark_and_line_ends_change_nothing(start: bytes, end: str, tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(start + (GOOD * 2).replace("Gull", "Möwe", 1).replace("\n", end).encode())
    assert [(piece.name, piece.line) for piece in read_job(path).pieces] == [("Möwe", 1), ("Gull", 5)]
    assert told(start + (GOOD + "border = -1\n").replace("\n", end).encode(), tmp_path).startswith(
        "job.toml:5: piece[1].border: "
    )


def test_byte_that_is_no_utf_8_is_told_with_its_line(tmp_path: Path) -> None:
    assert (
        told(GOOD.encode() + b"# M\xf6we\n", tmp_path)
        == "job.toml:5: the byte 0xf6 is no UTF-8; save the file as UTF-8"
    )
    assert told(GOOD.encode("utf-16"), tmp_path) == "job.toml:1: the file is UTF-16; save it as UTF-8"


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("border = 60 mm", 5, "texts and lengths with a unit stand in quotes"),
        ("border = sixty", 5, "this value is none that TOML knows"),
        ("border = 60,5", 5, "something is left over behind the value"),
        ("border = .5", 5, "this value is none that TOML knows"),
        ("border =", 5, "this value is none that TOML knows"),
        ("border", 5, "a key needs = and a value behind it"),
        ('border = "60 mm', 5, "a text is not closed"),
        ('border = "60 mm\nweight = 1', 5, "a text is not closed"),
        ('name = "Tern"', 5, "this key is there already"),
        ("[frame.ash]\n[frame.ash]", 6, "this table is there already"),
        ("mat = { board = 1,\nreveal = 2 }", 5, "this is no TOML"),
        ('photo = "C:\\Users\\gull.jpg"', 5, "in a path write / in its place, or put the path in single quotes"),
        ("[frame.weiß]", 5, 'stands in quotes; write [frame."weiß"]'),
        ("[[frame.weiß]", 5, "a table's head is not closed"),
        (f"[{'b' * 500} x]", 5, f'stands in quotes; write ["{"b" * 77}…; got'),
        ("[[my list]]", 5, 'stands in quotes; write [["my list"]]'),
        ("[frame.ash", 5, "a table's head is not closed"),
        ('photo = "C:\\pictures"', 5, "in a path write / in its place, or put the path in single quotes"),
        ('photo = "a\x01"', 5, "a control character"),
        ("}", 5, "no line begins like this"),
        ("= 5", 5, "no line begins like this"),
        ("ä = 5", 5, "no line begins like this"),
        (f"quantity = {'9' * 5000}", 5, "a number of thousands of digits"),
        ("quantity = 2023-02-30", 5, "this is no date"),
        ("rows = " + "[" * 5000 + "]" * 5000, 5, "lists or tables stand in one another too deeply"),
        ("rows = " + "{a=" * 5000 + "1" + "}" * 5000, 5, "lists or tables stand in one another too deeply"),
    ],
)  # fmt: skip
def test_text_that_is_no_toml_has_a_line_but_no_place(text: str, line: int, words: str, tmp_path: Path) -> None:
    with pytest.raises(JobError) as caught:
        parse_job(GOOD + text + "\n", tmp_path)
    (fault,) = caught.value.faults
    assert (fault.line, words in fault.text) == (line, True), fault
    assert not fault.where
    assert len(str(caught.value)) < 700


def test_control_characters_never_reach_the_terminal(tmp_path: Path) -> None:
    for text in (
        "\x1b[2J = 1",
        'title = "\x1b[2J"',
        '"\\u001b[2J" = 1',
        'units = "\\u001b[2J"',
        '[frame."\\u202e"]\nlip = -1',
    ):
        with pytest.raises(JobError) as caught:
            parse_job(text, tmp_path, "odd\x1bname.toml")
        assert not re.search("[\x00-\x09\x0b-\x1f\u202e]", str(caught.value))


def test_files_that_are_no_job_are_told(tmp_path: Path) -> None:
    folder = tmp_path / "folder"
    folder.mkdir()
    for path, words in (
        (tmp_path / "none.toml", "there is no such file"),
        (folder, "this is a folder"),
        (tmp_path / "none" / "job.toml", "there is no such file"),
        (tmp_path / ("x" * 300), "the file cannot be read"),
        (tmp_path / "a\0b", "the file cannot be read"),
    ):
        with pytest.raises(JobError) as caught:
            read_job(path)
        assert words in caught.value.faults[0].text
        assert caught.value.faults[0].line is None


@pytest.mark.skipif(
    sys.platform == "win32" or os.geteuid() == 0, reason="whoever may read everything sees no such fault"
)
def test_file_that_may_not_be_read_is_told(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(GOOD)
    path.chmod(0)
    with pytest.raises(JobError, match="the file cannot be read"):
        read_job(path)


def test_huge_file_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    with path.open("wb") as stream:
        stream.truncate(200_000_000)
    with pytest.raises(JobError, match="larger than 32 MB"):
        read_job(path)


def test_job_without_pieces_serves_where_only_its_supplies_are_wanted(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text('[paper.rag]\nsize = "A4"\n')
    assert read_job(path, may_be_bare=True).papers[0].name == "rag"
    with pytest.raises(JobError, match="the job has no piece"):
        read_job(path)
