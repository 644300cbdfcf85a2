"""How long it takes to find what fits what, beside what it is measured against: the program's own start.

Seven papers and twenty-five frames either way up are to be answered within twice the time that the program takes to
start and say what it can do. Run with `--benchmark-enable --benchmark-only --benchmark-group-by=group`.
"""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable

import pytest

from matplan import catalogue
from matplan.fit.choices import answers
from matplan.fit.sources import Shelf
from matplan.lengths import Units
from tests.fit.questions import question

type Benchmark = Callable[..., object]

FRAMES = tuple(frame.name for frame in catalogue.frames()[:25])
PAPERS = ("A4", "A3", "A3+", "A2", "Letter", "13x19 in", "10x15 cm")


def process(*arguments: str) -> None:
    subprocess.run([sys.executable, "-m", "matplan", *arguments], check=True, capture_output=True)


@pytest.mark.benchmark(group="what fits what")
def test_the_start_of_the_program(benchmark: Benchmark) -> None:
    benchmark(process, "--help")


@pytest.mark.benchmark(group="what fits what")
def test_seven_papers_and_twenty_five_frames(benchmark: Benchmark) -> None:
    benchmark(process, "fit", "3:2", "--frames", ",".join(FRAMES), "--papers", ",".join(PAPERS), "--json")


@pytest.mark.benchmark(group="what fits what")
def test_all_frames_and_the_usual_papers(benchmark: Benchmark) -> None:
    benchmark(process, "fit", "3:2", "--json")


@pytest.mark.benchmark(group="ranking")
def test_ranking_alone(benchmark: Benchmark) -> None:
    shelf = Shelf.bare(Units.MM)
    asked = question(*shelf.frames(FRAMES), sheets=shelf.papers(PAPERS))
    benchmark(answers, asked, 10)
