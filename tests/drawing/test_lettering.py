"""Text: measured in the font that is drawn, cleaned, wrapped, made smaller, and set in any script."""

import io
import math
import unicodedata

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree

from matplan.drawing import fonts, lettering, outlines, pdf, svg
from matplan.drawing.items import Anchor, Level, Size, Text
from tests.drawing.samples import sheet_of
from tests.readback import read_pdf, read_svg

SCRIPTS = {
    "latin": "Ferry steps Ąłżŵ ß Ñ",
    "vietnamese": "Bến phà ở Việt",
    "greek": "Ελληνικά",
    "cyrillic": "Привет Ґґ",
    "hebrew": "שלום (עולם)",
    "arabic": "مرحبا بالعالم",
    "devanagari": "हिन्दी नमस्ते",
    "bengali": "বাংলা",
    "gujarati": "ગુજરાતી",
    "gurmukhi": "ਪੰਜਾਬੀ",
    "tamil": "தமிழ்",
    "telugu": "తెలుగు",
    "kannada": "ಕನ್ನಡ",
    "malayalam": "മലയാളം",
    "oriya": "ଓଡ଼ିଆ",
    "sinhala": "සිංහල",
    "thai": "ภาษาไทย",
    "lao": "ພາສາລາວ",
    "khmer": "ខ្មែរ",
    "myanmar": "မြန်မာ",
    "ethiopic": "አማርኛ",
    "armenian": "Հայերեն",
    "georgian": "ქართული",
    "japanese": "東京の写真 カメラ",
    "chinese": "中文照片",
    "korean": "한국어",
    "combining": "x̄ and n̈",
}


@pytest.mark.parametrize("bold", [False, True])
def test_widths_are_those_of_the_embedded_file(bold: bool) -> None:
    font = TTFont(io.BytesIO(fonts.instance(bold)))
    em, cmap, table = font["head"].unitsPerEm, font.getBestCmap(), font["hmtx"].metrics
    assert len(cmap) > 300
    for code, glyph in cmap.items():
        assert fonts.advances(bold)[chr(code)] == pytest.approx(table[glyph][0] / em)


def test_bold_is_bolder() -> None:
    assert lettering.width("Slipway", 3.5, bold=True) > lettering.width("Slipway", 3.5)


def test_size_is_the_height_of_capitals() -> None:
    """Measured on the outline of an H in the very file that is embedded."""
    font = TTFont(io.BytesIO(fonts.instance(False)))
    height = font["glyf"][font.getBestCmap()[ord("H")]].yMax / font["head"].unitsPerEm
    assert height * lettering.em(3.5) == pytest.approx(3.5, abs=0.01)


def test_width_of_a_known_text() -> None:
    # IBM Plex Sans has figures of 600 units each, in an em of 1000 with capitals of 698
    assert lettering.width("284", 3.5) == pytest.approx(3 * 0.6 * 3.5 / 0.698)


@pytest.mark.parametrize(
    ("text", "clean"),
    [
        ("plain", "plain"),
        ("e\u0301", "é"),
        ("a\tb\nc", "a b c"),
        ("bell\x07 and\x1b[31m", "bell and[31m"),
        ("\u202eright\u202c to left", "right to left"),
        ("lone \ud800 half", "lone \ufffd half"),
        ("\uffff \ue000", "\ufffd \ufffd"),
        ("soft\u00adhyphen", "softhyphen"),
    ],
)
def test_clean_text(text: str, clean: str) -> None:
    assert lettering.clean(text) == clean


@pytest.mark.parametrize(
    ("anchor", "level", "start"),
    [
        (Anchor.START, Level.BASELINE, (100.0, 50.0)),
        (Anchor.MIDDLE, Level.MIDDLE, (100 - 3 * 0.6 * 3.5 / 0.698 / 2, 51.75)),
        (Anchor.END, Level.TOP, (100 - 3 * 0.6 * 3.5 / 0.698, 53.5)),
    ],
)
def test_start_of_a_text(anchor: Anchor, level: Level, start: tuple[float, float]) -> None:
    setting = lettering.setting(Text(at=(100, 50), text="284", size=3.5, anchor=anchor, level=level))
    assert setting.start == pytest.approx(start)


def test_a_long_name_is_set_smaller_and_closer_and_nothing_of_it_is_left_out() -> None:
    name = "A very long name of a picture by the ferry that nobody took, seen from the upper landing in the fog"
    found = lettering.held(name, 40, 14, 3.5)
    assert " ".join(found.lines) == name
    assert Size.LEAST <= found.size < 3.5
    assert found.height <= 14
    assert all(lettering.width(line, found.size) <= 40 for line in found.lines)
    closer = lettering.held(name, 40, 9, 3.5)
    assert (" ".join(closer.lines), closer.size) == (name, Size.LEAST)
    assert closer.step < found.size * lettering.LINE_PITCH
    assert "".join(lettering.held("W" * 90, 40, 5, 3.5).lines) == "W" * 90


def test_wrapping_breaks_at_blanks() -> None:
    width = lettering.width("keep fingers off", 2.5)
    assert lettering.wrapped("keep fingers off the line", width, 2.5) == ("keep fingers off", "the line")


def test_wrapping_keeps_line_ends() -> None:
    assert lettering.wrapped("one\n\ntwo", 100, 2.5) == ("one", "", "two")
    assert lettering.wrapped("", 100, 2.5) == ("",)


@given(st.text(max_size=60), st.floats(8, 60))
@settings(max_examples=60, deadline=None)
def test_wrapped_lines_fit_and_lose_nothing(text: str, width: float) -> None:
    lines = lettering.wrapped(text, width, 2.5)
    assert "".join("".join(lines).split()) == "".join(text.split())
    for line in lines:
        base = [c for c in line if not unicodedata.combining(c)]
        assert lettering.width(line, 2.5) <= width + 1e-6 or len(base) <= 1


@pytest.mark.parametrize("text", SCRIPTS.values(), ids=SCRIPTS)
def test_scripts_are_drawn_and_read_in_both(text: str) -> None:
    text = unicodedata.normalize("NFC", text)
    sheet = sheet_of(Text(at=(20, 20), text=text))
    assert [t.text for t in read_svg(svg.render(sheet)).texts] == [text]
    (page,) = read_pdf(pdf.render(sheet)).pages
    assert "".join(t.text for t in page.texts).replace(" ", "") in (text.replace(" ", ""), _seen(text).replace(" ", ""))
    if not lettering.is_set(text):
        assert not _has_replacement(text)


def _seen(text: str) -> str:
    return outlines.readable(text)


def _has_replacement(text: str) -> bool:
    mark = outlines.drawn(fonts.REPLACEMENT, False).steps
    shape = [step.verb for step in mark]
    drawn = [step.verb for step in outlines.drawn(text, False).steps]
    return any(drawn[i : i + len(shape)] == shape for i in range(len(drawn)))


def test_replacement_is_what_an_unknown_letter_gets() -> None:
    assert _has_replacement("𐍈")
    assert outlines.drawn("𐍈", False) == outlines.drawn(fonts.REPLACEMENT, False)


def test_latin_is_set_in_type_and_foreign_scripts_in_outlines() -> None:
    assert lettering.is_set("Ferry steps Привет Ελληνικά ⅜ ″")
    assert not lettering.is_set("東京")
    assert not lettering.is_set("x̄")


def test_arabic_letters_join() -> None:
    """Three letters joined are narrower than three that stand alone."""
    alone = sum(outlines.drawn(letter, False).width for letter in "ببب")
    assert outlines.drawn("ببب", False).width < 0.95 * alone


def test_right_to_left_begins_at_the_right() -> None:
    """The first Hebrew letter is the last one drawn: a text of א and ב has the outline of ב first."""
    both = outlines.drawn("אב", False).steps
    first = outlines.drawn("ב", False).steps
    assert both[: len(first)] == first


def test_two_scripts_that_run_leftwards_follow_one_another_leftwards() -> None:
    both, second = outlines.drawn("אب", False).steps, outlines.drawn("ب", False).steps
    assert both[: len(second)] == second


def test_numbers_in_a_right_to_left_name_run_rightwards() -> None:
    assert outlines.readable("שלום 12") == "12 םולש"
    assert outlines.readable("(שלום)") == "(םולש)"


@given(st.text(min_size=1, max_size=12))
@settings(max_examples=60, deadline=None)
def test_any_text_is_drawn_by_both_without_fault(text: str) -> None:
    sheet = sheet_of(Text(at=(20, 20), text=text), Text(at=(20, 40), text=text, bold=True, turn=-90))
    reading = read_svg(svg.render(sheet))
    assert all(" ".join(t.text.split()) == " ".join(lettering.clean(text).split()) for t in reading.texts)
    assert pdf.render(sheet).startswith(b"%PDF-")


def test_no_text_is_set_under_the_least_size() -> None:
    assert Text(at=(0, 0), text="a", size=Size.LEAST).size == 1.8
    with pytest.raises(ValueError, match=r"'a' is 1\.79 mm high; the least is 1\.8 mm"):
        Text(at=(0, 0), text="a", size=1.79)


@pytest.mark.parametrize("high", [1.8, 4.0, 9.0, 30.0])
def test_a_fitted_text_is_as_large_as_its_area_takes(high: float) -> None:
    text = "Harbour at dawn, 14 1/4 × 13 3/16 in"
    found = lettering.fitted(text, 45.0, high, 6.0)
    assert found is not None
    assert lettering.fitted(text, 45.0, 1.7, 6.0) is None
    assert Size.LEAST <= found.size <= 6.0
    assert found.size * (1 + (len(found.lines) - 1) * lettering.LINE_PITCH) <= high
    assert all(lettering.width(line, found.size) <= 45.0 for line in found.lines)
    assert " ".join(found.lines) == text


@pytest.mark.parametrize("words", ["14 1/4 × 13 3/16 in", "400 × 500 mm", "2 1/2 in", "× 12", "1234.5 mm"])
@pytest.mark.parametrize("lead", range(1, 30))
def test_a_length_or_size_is_never_broken_inside(words: str, lead: int) -> None:
    text = f"{'n' * lead} {words} to cut"
    assert any(words in line for line in lettering.wrapped(text, lettering.width("n" * 30, 2.5), 2.5))


def test_a_size_wider_than_its_column_is_broken_behind_its_sign() -> None:
    narrow = lettering.width("13 3/16 in, and", 2.5)
    assert lettering.wrapped("14 1/4 × 13 3/16 in", narrow, 2.5) == ("14 1/4 ×", "13 3/16 in")
    assert all(lettering.width(line, 2.5) <= 6.0 for line in lettering.wrapped("14 1/4 × 13 3/16 in", 6.0, 2.5))


def test_names_that_run_to_the_left_stay_whole_in_a_sentence() -> None:
    """UAX 9: an isolate is a neutral sign to what stands round it. Each name is read from its own right end."""
    first, second = "ميناء", "נמל (ישן) 2"
    sentence = f"keep: {lettering.isolated(first)}, {lettering.isolated(second)} and {lettering.isolated('Fog')}"
    assert outlines.readable(sentence) == f"keep: {first[::-1]}, 2 (ןשי) למנ and Fog"
    alone = outlines.drawn(first, False).width + outlines.drawn(second, False).width
    assert outlines.drawn(sentence, False).width == pytest.approx(
        alone + lettering.width_em("keep: ,  and Fog"), abs=0.1
    )


def test_a_name_alone_carries_no_marks() -> None:
    assert lettering.clean(lettering.isolated("נמל")) == "נמל"
    assert lettering.isolated("Slipway") == "Slipway"


FRACTIONS = ("14 3/16 in", "9 1/2 × 11 13/16 in", "3/4 in", "Border 15/128", "1/2 and −7 5/8 in")


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("turn", [0.0, -90.0])
@pytest.mark.parametrize("text", FRACTIONS)
def test_a_fraction_is_smaller_than_its_whole_number_and_is_read_as_one_text(
    text: str, turn: float, bold: bool
) -> None:
    item = Text(at=(60, 60), text=text, size=3.5, turn=turn, bold=bold, anchor=Anchor.MIDDLE)
    wide = lettering.width(text, 3.5, bold)
    assert wide < lettering.width_em(text, bold) * lettering.em(3.5) - 0.5
    (drawn,) = read_svg(svg.render(sheet_of(item))).texts
    assert drawn.text == text
    assert drawn.width == pytest.approx(wide, abs=1e-3)
    (printed,) = read_pdf(pdf.render(sheet_of(item))).pages[0].texts
    assert printed.text == text
    assert printed.em == pytest.approx(lettering.em(3.5), abs=1e-3)
    assert printed.width == pytest.approx(wide, abs=0.02)
    assert math.dist(printed.at, drawn.at) < 0.02


@pytest.mark.parametrize("size", [1.8, 2.0, 2.5, 3.5, 5.0])
def test_no_figure_of_a_fraction_is_under_the_least_size(size: float) -> None:
    runs = lettering.runs("14 3/16 in", size)
    assert "".join(run.text for run in runs) == "14 3/16 in"
    assert all(run.scale * size >= Size.LEAST - 1e-9 for run in runs)
    assert all(run.scale * size + run.rise <= size + 1e-9 for run in runs)
    assert (len(runs) > 1) is (size > Size.LEAST)


@pytest.mark.parametrize("text", ["row 3/2", "2026/11/26", "A3/4", "1/2/3", "1/16th", "and/or", "0.5/16"])
def test_what_is_no_fraction_stays_as_large_as_the_rest(text: str) -> None:
    assert [run.text for run in lettering.runs(text, 3.5)] == [text]


def test_the_parts_of_an_svg_text_stand_end_to_end_and_the_numerator_at_the_capitals_top() -> None:
    content = svg.render(sheet_of(Text(at=(20, 20), text="14 3/16 in", size=3.5)))
    (text,) = etree.fromstring(content).iter("{http://www.w3.org/2000/svg}text")
    parts = list(text)
    assert [part.text for part in parts] == ["14 ", "3", "/", "16", " in"]
    ends = [float(part.get("x", "")) + float(part.get("textLength", "")) for part in parts]
    assert ends[:-1] == pytest.approx([float(part.get("x", "")) for part in parts[1:]], abs=1e-3)
    assert ends[-1] == pytest.approx(20 + float(text.get("textLength", "")), abs=1e-3)
    assert float(parts[1].get("y", "")) - 3.5 * 0.72 == pytest.approx(20 - 3.5)
    assert [float(part.get("y", "20")) for part in parts[2:]] == [20.0] * 3
