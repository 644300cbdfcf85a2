"""How long sheets take to write, beside what svgwrite and reportlab alone need for as many elements.

Compare the pairs: `--benchmark-enable --benchmark-only --benchmark-group-by=group`. The aim is at most three times the
libraries' own time.
"""

import io
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from functools import cache

import pytest

from matplan.drawing import pdf, svg
from matplan.drawing.blocks import Align, Column, table
from matplan.drawing.dimensions import Dimension, Side, arrange, chain
from matplan.drawing.frame import Page, TitleBlock, frame
from matplan.drawing.items import Item, Line, Polyline, Rect, Text
from matplan.drawing.sheet import Sheet

SHEETS = 20
type Benchmark = Callable[..., object]

BOARD = (Fraction(0), Fraction(0), Fraction(400), Fraction(500))


def _sheet() -> Sheet:
    across = [(Fraction(x), Fraction(0)) for x in (0, 58, 162, 182, 342, 400)]
    down = [(Fraction(0), Fraction(y)) for y in (0, 60, 422, 500)]
    whole = Dimension(start=across[0], end=across[-1], side=Side.ABOVE, label="400")
    dimensions = (
        *chain(across, ("58", "104", "20", "160", "58"), Side.ABOVE),
        *chain(down, ("60", "362", "78"), Side.LEFT),
        whole,
    )
    page = frame(
        Page.A4.portrait,
        TitleBlock(title="Slipway, layer 1", document="Cutting diagram", job="Ferry steps", units="mm"),
    )
    drawn = arrange(BOARD, dimensions, page.area.inset(0, 0, 0, 60), mirrored=True)
    columns = (Column(head="Gauge", share=1), Column(head="Set to", align=Align.RIGHT))
    figures = table(columns, [(side, "58 mm") for side in ("left", "right", "top", "bottom")], x=15, y=200, width=80)
    items = (*page.items, *drawn.items, *figures.items)
    return Sheet(name="s", title="s", size=Page.A4.portrait, items=items, scale=drawn.view.scale)


@cache
def sheets() -> tuple[Sheet, ...]:
    one = _sheet()
    return tuple(replace(one, name=f"s{n}") for n in range(SHEETS))


@cache
def elements() -> tuple[tuple[Item, ...], ...]:
    return tuple(tuple(sheet.flat()) for sheet in sheets())


@pytest.mark.benchmark(group="build")
def test_laying_out_a_sheet(benchmark: Benchmark) -> None:
    assert benchmark(_sheet)


@pytest.mark.benchmark(group="svg")
def test_writing_svg(benchmark: Benchmark) -> None:
    benchmark(lambda: [svg.render(sheet) for sheet in sheets()])


@pytest.mark.benchmark(group="svg")
def test_writing_svg_with_the_library_alone(benchmark: Benchmark) -> None:
    import svgwrite

    def write() -> list[bytes]:
        made = []
        for items in elements():
            drawing = svgwrite.Drawing(size=("210mm", "297mm"), viewBox="0 0 210 297", debug=False)
            for item in items:
                match item:
                    case Text():
                        drawing.add(drawing.text(item.text, insert=item.at, font_size=item.size, fill=item.colour))
                    case Line():
                        drawing.add(drawing.line(item.start, item.end, stroke="#000000", stroke_width=0.25))
                    case Polyline():
                        drawing.add(drawing.polygon(item.points, fill="#000000"))
                    case Rect():
                        drawing.add(drawing.rect((item.x, item.y), (item.width, item.height), fill="#000000"))
            made.append(drawing.tostring().encode())
        return made

    assert len(benchmark(write)) == SHEETS  # type: ignore[arg-type]


@pytest.mark.benchmark(group="pdf")
def test_writing_pdf(benchmark: Benchmark) -> None:
    benchmark(lambda: pdf.render(sheets()))


@pytest.mark.benchmark(group="pdf")
def test_writing_pdf_with_the_library_alone(benchmark: Benchmark) -> None:
    from reportlab.lib.colors import HexColor
    from reportlab.pdfgen.canvas import Canvas

    black = HexColor("#000000")

    def write() -> bytes:
        out = io.BytesIO()
        canvas = Canvas(out, invariant=1)
        for items in elements():
            for item in items:
                match item:
                    case Text():
                        canvas.setFont("Helvetica", item.size)
                        canvas.setFillColor(black)
                        canvas.drawString(*item.at, item.text)
                    case Line():
                        canvas.setLineWidth(0.25)
                        canvas.setStrokeColor(black)
                        canvas.line(*item.start, *item.end)
                    case Polyline():
                        path = canvas.beginPath()
                        path.moveTo(*item.points[0])
                        for point in item.points[1:]:
                            path.lineTo(*point)
                        canvas.drawPath(path, fill=1, stroke=0)
                    case Rect():
                        canvas.rect(item.x, item.y, item.width, item.height)
            canvas.showPage()
        canvas.save()
        return out.getvalue()

    assert benchmark(write)
