"""An inch job's output names no metric unit; JSON stays in mm and kg."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from matplan.cli import run

JOB = Path(__file__).parents[2] / "gallery" / "ferry-week" / "job.toml"
METRIC = re.compile(r"(?<![\w(.-])[\d.½⅓¼¾/]+[\s\u00a0\u202f]*(?:mm|cm|kg|N|m|m²|kg/m²|kg/m³)(?![\w/])")


@pytest.mark.parametrize("text", ["1.4 mm", "25 cm", "3.1\u00a0kg", "12.5 N", "0.54 m²", "2 m"])
def test_the_search_finds_metric_figures(text: str) -> None:
    assert METRIC.search(f"wide {text}, high")


@pytest.mark.parametrize("command", ["check", "explain"])
def test_the_terminal_speaks_inches(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    run([command, str(JOB)])
    text = capsys.readouterr().out
    assert re.search(r"\d in\b", text)
    assert METRIC.findall(text) == []


def lettering(drawing: Path) -> str:
    """Return the words of a drawing, without its embedded fonts."""
    texts = ElementTree.parse(drawing).getroot().iter("{http://www.w3.org/2000/svg}text")
    return "\n".join("".join(text.itertext()) for text in texts)


def test_drawings_and_the_order_speak_inches(tmp_path: Path) -> None:
    assert run(["make", str(JOB), "--out", str(tmp_path / "pack")]) == 0
    drawings = sorted((tmp_path / "pack").rglob("*.svg"))
    assert len(drawings) > 10
    found = {drawing.name: words for drawing in drawings if (words := METRIC.findall(lettering(drawing)))}
    assert found == {}
    order = (tmp_path / "pack" / "order.csv").read_text(encoding="utf-8")
    notes = [line.partition(",")[2] for line in order.splitlines()]
    assert [word for line in notes for word in METRIC.findall(line)] == []
