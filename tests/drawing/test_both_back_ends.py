"""One sheet, two files: what is read back from either is what the sheet says, to a hundredth of a mm."""

import io
import subprocess
import sys
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matplan.drawing import lettering, pdf, svg
from matplan.drawing.items import ArcTo, Item, Line, Path, Text
from matplan.drawing.pens import STROKES, Pen
from tests.drawing.samples import ITEMS, SAMPLE, sheet_of
from tests.readback import Lettering, Picture, Reading, Shape, read_pdf, read_svg

HUNDREDTH = 0.01


def both() -> tuple[Reading, Reading]:
    return read_svg(svg.render(SAMPLE)), read_pdf(pdf.render(SAMPLE)).pages[0]


def near(first: tuple[float, ...], second: tuple[float, ...]) -> bool:
    return len(first) == len(second) and all(abs(a - b) <= HUNDREDTH for a, b in zip(first, second, strict=True))


def test_both_have_the_size_of_the_sheet() -> None:
    for reading in both():
        assert near(reading.size, SAMPLE.size)


def test_both_draw_the_same_shapes() -> None:
    one, other = both()
    assert len(one.shapes) == len(other.shapes) == 12
    for first, second in zip(one.shapes, other.shapes, strict=True):
        assert near(first.bounds[:2], second.bounds[:2]) or first.tag == "path"
        assert first.stroke == second.stroke
        assert first.fill == second.fill
        assert abs(first.width - second.width) <= HUNDREDTH


def test_both_draw_lines_where_the_sheet_says() -> None:
    wanted = [(item.start, item.end) for item in ITEMS if isinstance(item, Line)]
    for reading in both():
        lines = [s.points for s in reading.shapes if len(s.points) == 2]
        for start, end in wanted:
            assert any(near(start, a) and near(end, b) for a, b in lines)


def test_both_set_the_same_texts() -> None:
    one, other = both()
    settings_ = [lettering.setting(item) for item in ITEMS if isinstance(item, Text)]
    assert len(one.texts) == len(other.texts) == len(settings_) == 5
    for first, second, meant in zip(one.texts, other.texts, settings_, strict=True):
        assert first.text == second.text == meant.text
        assert near(first.at, second.at)
        assert near((first.em, first.width), (second.em, second.width))
        assert near((first.em, first.width), (meant.em, meant.width))
        assert abs(first.turn - second.turn) < HUNDREDTH
        assert first.fill == second.fill


def test_both_place_pictures_alike() -> None:
    one, other = both()
    assert [p.bounds for p in one.pictures] == [(80, 160, 36, 24), (130, 160, 36, 24)]
    for first, second in zip(one.pictures, other.pictures, strict=True):
        assert near(first.bounds, second.bounds)


@given(
    st.lists(st.tuples(*[st.floats(5, 200)] * 4, st.sampled_from(list(Pen))), min_size=1, max_size=6),
    st.lists(
        st.tuples(st.floats(5, 200), st.floats(5, 60), st.sampled_from(["58", "284 mm", "16 ⅜ in"]), st.booleans()),
        max_size=4,
    ),
)
@settings(max_examples=25, deadline=None)
def test_any_lines_and_figures_come_back_from_both(
    lines: list[tuple[float, float, float, float, Pen]], texts: list[tuple[float, float, str, bool]]
) -> None:
    items: tuple[Item, ...] = (
        *(Line(start=(a, b), end=(c, d), pen=pen) for a, b, c, d, pen in lines),
        *(Text(at=(x, y + 70 * n), text=text, bold=bold, turn=n) for n, (x, y, text, bold) in enumerate(texts)),
    )
    sheet = sheet_of(*items)
    for reading in (read_svg(svg.render(sheet)), read_pdf(pdf.render(sheet)).pages[0]):
        assert len(reading.shapes) == len(lines)
        for shape, (a, b, c, d, pen) in zip(reading.shapes, lines, strict=True):
            assert near(shape.points[0], (a, b))
            assert near(shape.points[1], (c, d))
            assert abs(shape.width - STROKES[pen].width) < HUNDREDTH
        for n, (text, (x, y, words, _)) in enumerate(zip(reading.texts, texts, strict=True)):
            assert text.text == words
            assert near(text.at, (x, y + 70 * n))


def _pixels(content: bytes, kind: str) -> list[int]:
    from PIL import Image

    width = 420
    if kind == "svg":
        import resvg_py

        png = bytes(resvg_py.svg_to_bytes(svg_string=content.decode(), width=width, dpi=96, background="white"))
        image = Image.open(io.BytesIO(png))
    else:
        import pypdfium2

        page = pypdfium2.PdfDocument(content)[0]
        image = page.render(scale=width / page.get_width()).to_pil()
    return list(image.convert("L").resize((210, 297)).tobytes())


@pytest.mark.parametrize("large", [False, True])
@pytest.mark.parametrize("clockwise", [False, True])
def test_arcs_look_the_same_to_two_programs_that_know_the_standards(large: bool, clockwise: bool) -> None:
    """resvg draws SVG's own arc, pdfium our Bézier curves."""
    step = ArcTo(end=(140, 170), rx=40, ry=60, large=large, clockwise=clockwise)
    sheet = sheet_of(Path(start=(90, 120), steps=(step,), pen=Pen.OUTLINE, fill="#404040", closed=True))
    one, other = _pixels(svg.render(sheet), "svg"), _pixels(pdf.render(sheet), "pdf")
    assert min(one) < 80
    different = sum(abs(a - b) > 100 for a, b in zip(one, other, strict=True))
    assert different < 30


def test_whole_sample_looks_nearly_the_same_in_both() -> None:
    one, other = _pixels(svg.render(SAMPLE), "svg"), _pixels(pdf.render(SAMPLE), "pdf")
    assert sum(abs(a - b) > 128 for a, b in zip(one, other, strict=True)) < 300


def test_same_sheet_gives_same_bytes_in_fresh_processes() -> None:
    program = (
        "import hashlib, sys; sys.path.insert(0, '.')\n"
        "from matplan.drawing import pdf, svg\n"
        "from tests.drawing.samples import SAMPLE, sheet_of\n"
        "from matplan.drawing.items import Text\n"
        "if len(sys.argv) > 1: pdf.render(sheet_of(Text(at=(20, 20), text='Привет שלום')))\n"
        "foreign = sheet_of(Text(at=(20, 20), text='Ω Ж 東京'))\n"
        "for made in (svg.render(SAMPLE), pdf.render(SAMPLE), svg.render(foreign), pdf.render(foreign)):\n"
        "    print(hashlib.sha256(made).hexdigest())\n"
    )
    runs = [
        subprocess.run(
            [sys.executable, "-c", program, *before],
            env={"PYTHONHASHSEED": seed, "TZ": zone, "PATH": ""},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for before, seed, zone in (([], "1", "UTC"), (["before"], "77", "Asia/Tokyo"))
    ]
    assert runs[0] == runs[1]
    assert len(runs[0].split()) == 4


def test_reader_tells_a_shifted_line() -> None:
    """The comparison can fail."""
    moved = sheet_of(Line(start=(10, 10), end=(50, 10.02), pen=Pen.EDGE))
    shape = read_svg(svg.render(moved)).shapes[0]
    assert not near(shape.points[1], (50, 10))


def test_reader_refuses_a_viewbox_in_other_units() -> None:
    wrong = svg.render(SAMPLE).replace(b'viewBox="0 0 210 297"', b'viewBox="0 0 2100 2970"')
    with pytest.raises(ValueError, match="viewBox"):
        read_svg(wrong)


def test_kinds_of_marks_are_told_apart() -> None:
    one, _ = both()
    kinds = {type(mark) for mark in one.marks}
    assert kinds == {Shape, Lettering, Picture}
    assert one.named("blank")[0].box == (Fraction(0), Fraction(0), Fraction(400), Fraction(500))
