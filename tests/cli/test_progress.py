"""Progress of long work: a bar on a terminal, nothing elsewhere, and nothing before there is something to tell."""

from __future__ import annotations

import io
import sys

import pytest

from matplan.cli.progress import steps
from matplan.planning import Workshop
from tests.planning.jobs import job, piece


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_a_terminal_sees_what_is_done(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stderr", told := Terminal())
    monkeypatch.setenv("TERM", "xterm")
    with steps("cutting") as tick:
        assert told.getvalue() == ""
        tick(0, 3)
        tick(2, 3)
    assert "cutting" in told.getvalue()
    assert "2/3" in told.getvalue()


def test_a_file_sees_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stderr", told := io.StringIO())
    with steps("cutting") as tick:
        tick(1, 2)
    assert told.getvalue() == ""


def test_each_material_is_told_before_its_search() -> None:
    told: list[tuple[int, int]] = []
    two = job(piece("Gull"), piece("Coil", board="slate"))
    Workshop().plan(two, lambda done, total: told.append((done, total)))
    assert told == [(0, 2), (1, 2)]
    told.clear()
    Workshop().plan(
        job(piece("Gull").replace('mat = ["chalk"]', 'mat = ["white"]')), lambda done, total: told.append((done, total))
    )
    assert told == []
