"""What an SVG file holds beyond the drawing itself."""

import base64
import io
import re
from fractions import Fraction

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from matplan.drawing import svg
from matplan.drawing.items import Ellipse, Group, Image, Rect, Text
from matplan.drawing.pens import INK, Pen
from tests.drawing.samples import SAMPLE, picture, sheet_of
from tests.readback import Bundle, read_svg

FONT = re.compile(r"font-weight:(\d+);src:url\(data:font/woff;base64,([^)]+)\)")


def test_file_is_in_real_units() -> None:
    root = etree.fromstring(svg.render(SAMPLE))
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("210mm", "297mm", "0 0 210 297")
    assert root.get("data-scale") == "1:5"


def test_sheet_without_a_scale_claims_none() -> None:
    from dataclasses import replace

    assert etree.fromstring(svg.render(replace(SAMPLE, scale=None))).get("data-scale") is None


def test_title_is_escaped() -> None:
    assert read_svg(svg.render(SAMPLE)).title == "Sample & <proof>"


def test_names_and_boxes_stand_on_the_parts() -> None:
    reading = read_svg(svg.render(SAMPLE))
    (board,) = reading.named("board")
    assert board.classes == ("blank",)
    assert board.box == (Fraction(0), Fraction(0), Fraction(400), Fraction(500))
    (waste,) = reading.named("waste")
    assert isinstance(waste, Bundle)
    assert len(waste.parts) == 2
    (line,) = (s for s in reading.shapes if s.data)
    assert line.data == {"start": "yes", "note": "a < b"}


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (Fraction(400), "400"),
        (Fraction(0), "0"),
        (Fraction(5, 2), "2.5"),
        (Fraction(127, 8), "15.875"),
        (Fraction(1, 3), "0.333333"),
        (Fraction(-1, 2), "-0.5"),
        (Fraction(254, 320), "0.79375"),
        (Fraction(-1, 10**9), "0"),
    ],
)
def test_model_lengths_are_the_shortest_decimals(value: Fraction, text: str) -> None:
    assert svg.exact(value) == text


@given(st.fractions(min_value=-5000, max_value=5000, max_denominator=100_000))
def test_model_lengths_are_within_half_a_millionth(value: Fraction) -> None:
    text = svg.exact(value)
    assert abs(Fraction(text) - value) <= Fraction(1, 2_000_000)
    assert not re.search(r"\.\d*0$|\.$|^-0$", text)


def test_every_text_says_how_long_it_is() -> None:
    root = etree.fromstring(svg.render(SAMPLE))
    texts = root.findall(".//{*}text")
    assert len(texts) == 5
    for text in texts:
        assert text.get("lengthAdjust") == "spacingAndGlyphs"
        assert float(text.get("textLength", "0")) > 0


def test_embedded_font_has_every_character_of_the_texts() -> None:
    words = "Ferry ⅜ Ж Ω ſ"
    content = svg.render(sheet_of(Text(at=(20, 20), text=words))).decode()
    ((weight, encoded),) = FONT.findall(content)
    assert weight == "400"
    font = TTFont(io.BytesIO(base64.b64decode(encoded)))
    assert {ord(c) for c in words} <= set(font.getBestCmap())


def test_bold_face_is_embedded_only_where_it_is_drawn() -> None:
    assert len(FONT.findall(svg.render(SAMPLE).decode())) == 2
    assert not FONT.findall(svg.render(sheet_of()).decode())


def test_drawn_scripts_stay_readable_and_unseen() -> None:
    root = etree.fromstring(svg.render(sheet_of(Text(at=(20, 20), text="東京", id="name"))))
    (text,) = root.findall(".//{*}text")
    assert text.text == "東京"
    assert text.get("fill") == "none"
    group = text.getparent()
    assert group is not None
    assert group.get("id") == "name"
    (path,) = group.findall("{*}path")
    assert path.get("fill") == INK


def test_pictures_are_embedded_whole() -> None:
    first, second = read_svg(svg.render(SAMPLE)).pictures
    assert first.content == picture("jpeg")
    assert second.content == picture("png")
    assert first.id == "photo"


def test_clips_are_named_once_each() -> None:
    image = Image(
        x=10, y=10, width=30, height=20, content=picture("png"), kind="png", clip=Ellipse(centre=(25, 20), rx=15, ry=10)
    )
    group = Group(items=(image,), clip=Rect(x=0, y=0, width=30, height=30))
    root = etree.fromstring(svg.render(sheet_of(group, image)))
    names = [c.get("id") for c in root.findall(".//{*}clipPath")]
    assert names == ["clip-1", "clip-2", "clip-3"]
    used = [e.get("clip-path") for e in root.iter() if e.get("clip-path")]
    assert sorted(map(str, used)) == [f"url(#{n})" for n in names]


def test_runs_of_blanks_are_kept() -> None:
    root = etree.fromstring(svg.render(sheet_of(Text(at=(20, 20), text="two  blanks"))))
    (text,) = root.findall(".//{*}text")
    assert text.get("{http://www.w3.org/XML/1998/namespace}space") == "preserve"


def test_dashes_and_widths_come_from_the_pen() -> None:
    root = etree.fromstring(svg.render(sheet_of(Rect(x=10, y=10, width=30, height=20, pen=Pen.HIDDEN))))
    rect = root.findall(".//{*}rect")[1]
    assert (rect.get("stroke-width"), rect.get("stroke-dasharray"), rect.get("fill")) == ("0.25", "3 0.75", None)
