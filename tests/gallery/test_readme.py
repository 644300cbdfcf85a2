"""README is short, its example is a job that gives what README says, and its two commands are those of the checks."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from matplan.cli import run
from matplan.cli.commands import matplan

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "README.md").read_text(encoding="utf-8")


def blocks(kind: str) -> list[str]:
    """The fenced blocks of that kind."""
    return re.findall(rf"^```{kind}\n(.*?)^```$", TEXT, re.MULTILINE | re.DOTALL)


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """The example's job, with a photo as large as README says."""
    from PIL import Image

    Image.new("L", (3600, 4500), 128).save(tmp_path / "slipway.jpg")
    (text,) = blocks("toml")
    path = tmp_path / "job.toml"
    path.write_text(text, encoding="utf-8")
    return path


def asked(*arguments: str) -> Result:
    return CliRunner().invoke(matplan, arguments)


def test_readme_is_short_and_holds_the_two_commands_and_no_third() -> None:
    assert len(TEXT.splitlines()) < 200
    make, test = blocks("sh")
    assert " -m venv .venv && " in make
    assert " -m pytest " in test


def test_the_example_gives_the_lines_that_readme_shows(job: Path) -> None:
    said = asked("check", str(job)).output.splitlines()
    shown = blocks("text")[0].splitlines()
    assert len(shown) > 8
    places = [said.index(line) for line in shown]
    assert places == sorted(places)


def test_the_example_makes_the_files_that_readme_names(job: Path) -> None:
    asked("make", str(job), "--out", str(job.parent / "pack"))
    story = TEXT[TEXT.index("writes the pack. In the order of work") : TEXT.index("Lengths are written")]
    named = re.findall(r"`([\w/-]+\.(?:pdf|svg))`", story)
    assert len(named) > 8
    assert [name for name in named if not (job.parent / "pack" / name).is_file()] == []


def test_the_error_is_told_as_readme_shows_it(
    job: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(job.parent)
    job.write_text(job.read_text(encoding="utf-8").replace('"24 cm"', '"25,5 cm"'), encoding="utf-8")
    assert run(["check", "job.toml"]) == 1
    assert capsys.readouterr().err == blocks("text")[1]


def test_every_command_stands_in_readme_s_table() -> None:
    told = re.findall(r"^\| `matplan (\w+)", TEXT, re.MULTILINE)
    assert sorted(told) == sorted(matplan.commands)


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md"])
def test_a_link_leads_to_a_file_that_is_there(page: str) -> None:
    links = re.findall(r"\]\((?!https?:|#)([^)\s]+)\)", (ROOT / page).read_text(encoding="utf-8"))
    assert [link for link in links if not (ROOT / link).is_file()] == []
