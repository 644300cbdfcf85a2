"""How long the commands take, beside what they are measured against.

`check` is compared with importing the packages it is built on, `--version` with an empty interpreter, `make` with
svgwrite and reportlab writing as many elements. Run with `--benchmark-enable --benchmark-only
--benchmark-group-by=group`.
"""

from __future__ import annotations

import io
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

import matplan

type Benchmark = Callable[..., object]

PIECE = """[[piece]]
name = "Piece {number}"
frame = "ash"
aspect = "3:2"
image = {{ width = "{width} mm" }}
weight = "optical"
mat = ["white", {{ board = "white", reveal = "6 mm" }}]
"""
HEAD = """title = "Many"
[board.white]
ply = 4
[frame.ash]
takes = "40x50 cm"
rail = "20 mm"
"""


def job_of(folder: Path, pieces: int) -> Path:
    path = folder / f"{pieces}.toml"
    path.write_text(HEAD + "".join(PIECE.format(number=n, width=200 + n % 90) for n in range(pieces)), encoding="utf-8")
    return path


def process(*arguments: str) -> None:
    subprocess.run([sys.executable, *arguments], check=True, capture_output=True)


@pytest.mark.benchmark(group="start")
def test_an_empty_interpreter(benchmark: Benchmark) -> None:
    benchmark(process, "-c", "pass")


@pytest.mark.benchmark(group="start")
def test_version(benchmark: Benchmark) -> None:
    benchmark(process, "-m", "matplan.start", "--version")


@pytest.mark.benchmark(group="check")
def test_importing_the_packages_alone(benchmark: Benchmark) -> None:
    benchmark(process, "-c", "import pint, shapely, PIL.Image")


@pytest.mark.benchmark(group="check")
def test_check_of_one_piece(benchmark: Benchmark, tmp_path: Path) -> None:
    benchmark(process, "-m", "matplan", "check", str(job_of(tmp_path, 1)))


@pytest.mark.parametrize("pieces", [500, 1000, 2000])
@pytest.mark.benchmark(group="pieces")
def test_planning(benchmark: Benchmark, tmp_path: Path, pieces: int) -> None:
    path = job_of(tmp_path, pieces)
    benchmark(lambda: matplan.plan(matplan.read_job(path)))


@pytest.mark.benchmark(group="pack of twenty")
def test_making_a_pack(benchmark: Benchmark, tmp_path: Path) -> None:
    plan = matplan.plan(matplan.read_job(job_of(tmp_path, 20)))
    benchmark(lambda: matplan.make(plan, tmp_path / "pack", force=True))


@pytest.mark.benchmark(group="pack of twenty")
def test_the_libraries_alone_writing_as_many_elements(benchmark: Benchmark, tmp_path: Path) -> None:
    import svgwrite
    from lxml import etree
    from reportlab.pdfgen.canvas import Canvas

    plan = matplan.plan(matplan.read_job(job_of(tmp_path, 20)))
    files = matplan.make(plan, tmp_path / "pack")
    counts = [sum(1 for _ in etree.parse(path).iter()) for path in files if path.suffix == ".svg"]

    def alone() -> None:
        canvas = Canvas(io.BytesIO())
        for count in counts:
            drawing = svgwrite.Drawing(debug=False)
            for n in range(count // 2):
                drawing.add(drawing.line((n, 0), (n, 100), stroke="black", stroke_width=0.25))
                drawing.add(drawing.text("244", insert=(n, 50), font_size=3.5))
                canvas.line(n, 0, n, 100)
                canvas.drawString(n, 50, "244")
            drawing.tostring()
            canvas.showPage()
        canvas.save()

    benchmark(alone)
