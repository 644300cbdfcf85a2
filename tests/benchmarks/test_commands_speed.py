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
from PIL import Image

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


def job_with_photos(folder: Path, pieces: int) -> Path:
    """Return a job whose pieces take turns with three photos."""
    for number in range(3):
        Image.effect_noise((1200, 800), 60).convert("RGB").save(folder / f"{number}.jpg")
    path = job_of(folder, pieces)
    text = path.read_text(encoding="utf-8").replace('aspect = "3:2"', 'photo = "{}.jpg"')
    heads = text.split("{}")
    path.write_text("".join(f"{head}{n % 3}" for n, head in enumerate(heads[:-1])) + heads[-1], encoding="utf-8")
    return path


@pytest.mark.benchmark(group="pack of thirty with photos")
def test_making_a_pack(benchmark: Benchmark, tmp_path: Path) -> None:
    plan = matplan.plan(matplan.read_job(job_with_photos(tmp_path, 30)))
    benchmark(lambda: matplan.make(plan, tmp_path / "pack", force=True))


@pytest.mark.benchmark(group="pack of thirty with photos")
def test_the_libraries_alone_writing_as_many_elements(benchmark: Benchmark, tmp_path: Path) -> None:
    """Half of the elements lines, half texts; those of SVG files and of PDF pages are both counted."""
    import pypdfium2
    import svgwrite
    from lxml import etree
    from reportlab.pdfgen.canvas import Canvas

    plan = matplan.plan(matplan.read_job(job_with_photos(tmp_path, 30)))
    files = matplan.make(plan, tmp_path / "pack")
    reader = etree.XMLParser(huge_tree=True)
    drawings = [sum(1 for _ in etree.parse(path, reader).iter()) for path in files if path.suffix == ".svg"]
    books = []
    for path in files:
        if path.suffix == ".pdf":
            with pypdfium2.PdfDocument(path) as document:
                books.append([sum(1 for _ in page.get_objects()) for page in document])

    def alone() -> None:
        for count in drawings:
            drawing = svgwrite.Drawing(debug=False)
            for n in range(count // 2):
                drawing.add(drawing.line((n, 0), (n, 100), stroke="black", stroke_width=0.25))
                drawing.add(drawing.text("244", insert=(n, 50), font_size=3.5))
            drawing.tostring()
        for book in books:
            canvas = Canvas(io.BytesIO())
            for count in book:
                for n in range(count // 2):
                    canvas.line(n, 0, n, 100)
                    canvas.drawString(n, 50, "244")
                canvas.showPage()
            canvas.save()

    benchmark(alone)
