"""Pens and colours: the mixes that the docstrings give, their contrast, and the widths of lines."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from matplan.drawing import pens

MIXES = re.findall(
    r'''^(\w+): Final = "(#[0-9a-f]{6})"\n"""[^"]*L\* (\d+), a\* (−?\d+), b\* (−?\d+)''',
    Path(pens.__file__).read_text(encoding="utf-8"),
    re.MULTILINE,
)


def linear(colour: str) -> list[float]:
    """Return red, green and blue as parts of light (sRGB, IEC 61966-2-1)."""
    parts = [int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    return [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]


def lab(colour: str) -> tuple[float, float, float]:
    """Return L*, a* and b* of a colour (CIE 1976, white D65)."""
    r, g, b = linear(colour)
    x = (0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.95047
    y = 0.2126 * r + 0.7152 * g + 0.0722 * b
    z = (0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.08883
    fx, fy, fz = (t ** (1 / 3) if t > (6 / 29) ** 3 else t / (3 * (6 / 29) ** 2) + 4 / 29 for t in (x, y, z))
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


@pytest.mark.parametrize(("name", "colour", "light", "red", "yellow"), MIXES)
def test_each_colour_is_the_mix_that_its_docstring_gives(
    name: str, colour: str, light: str, red: str, yellow: str
) -> None:
    assert getattr(pens, name) == colour
    wanted = [float(value.replace("−", "-")) for value in (light, red, yellow)]
    assert lab(colour) == pytest.approx(wanted, abs=0.6)


def test_every_colour_but_white_is_a_mix() -> None:
    assert [name for name, *_ in MIXES] == ["INK", "SECONDARY", "FAINT", "TINT", "ACCENT"]


@pytest.mark.parametrize("colour", [pens.INK, pens.SECONDARY, pens.ACCENT])
@pytest.mark.parametrize("ground", [pens.PAPER, pens.TINT])
def test_what_text_is_set_in_stands_out(colour: str, ground: str) -> None:
    """WCAG 2, success criterion 1.4.3: 4.5 : 1."""
    dark, light = (
        sum(p * c for p, c in zip((0.2126, 0.7152, 0.0722), linear(c), strict=True)) for c in (colour, ground)
    )
    assert (light + 0.05) / (dark + 0.05) >= 4.5


def test_wide_lines_are_twice_as_wide_as_narrow_ones() -> None:
    """ISO 128-20 (from memory): wide : narrow = 2 : 1; rules of tables alone are thinner."""
    widths = {pen: stroke.width for pen, stroke in pens.STROKES.items() if pen is not pens.Pen.RULE}
    assert set(widths.values()) == {pens.NARROW_MM, pens.WIDE_MM}
    assert pens.WIDE_MM == 2 * pens.NARROW_MM
    assert widths[pens.Pen.CUT] == widths[pens.Pen.OUTLINE] == pens.WIDE_MM
