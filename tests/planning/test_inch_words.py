"""An inch job speaks inches and pounds in all its findings, a metric one millimetres and kilograms."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from matplan.job import parse_job
from matplan.planning import plan

TEXT = """units = "{units}"
[glazing.sheet]
thickness = "30 mm"
substance = "glass"
[glazing.clear]
thickness = "3 mm"
substance = "acrylic"
[frame.birch]
rabbet = "{rabbet} x {rabbet} mm"
rail = "20 mm"
depth = "18 mm"
clearance = "3 mm"
[[piece]]
name = "Gull"
frame = "birch"
image = "700 x 700 mm"
glazing = "sheet"
[[piece]]
name = "Coil"
frame = "birch"
image = "700 x 700 mm"
glazing = "clear"
[[piece]]
name = "Tern"
frame = "40x50 cm"
image = "210 x 297 mm"
overlap = "1 mm"
paper = "A4"
[[wall]]
name = "Hall"
size = "4000 x 2600 mm"
pieces = ["Gull"]
hang = {{ by = "two hooks", in = "100 mm", down = "60 mm", rating = 5 }}
"""


@pytest.mark.parametrize(
    ("units", "words", "foreign"),
    [
        (
            "in",
            ("51 lb in ideal", "1 7/16 in thick", "about 1/8 in of play", "short (ISO 216)", "rated for 11.02 lb"),
            "mm|kg",
        ),
        ("mm", ("23 kg in ideal", "36.4 mm thick", "has 3 mm of play", "short (ISO 216)", "rated for 5 kg"), "in|lb"),
    ],
)
def test_findings_speak_the_jobs_units(units: str, words: tuple[str, ...], foreign: str) -> None:
    rabbet = {"mm": "1003", "in": "1001.6"}[units]  # a blank of whole steps with 3 mm of play, less than acrylic grows
    made = plan(parse_job(TEXT.format(units=units, rabbet=rabbet), Path()))
    found = [*(piece.findings for piece in made.pieces), *(wall.findings for wall in made.walls)]
    told = [finding.text for findings in found for finding in findings]
    for word in words:
        assert any(word in text for text in told), (word, told)
    assert not [text for text in told if re.search(rf"\d ({foreign})\b", text)]


@pytest.mark.parametrize(
    ("units", "gutter", "thin"), [("in", "9.6 mm", 0), ("in", "9.5 mm", 1), ("mm", "9.6 mm", 1), ("mm", "10 mm", 0)]
)
def test_a_web_is_thin_below_the_round_figure_of_the_jobs_units(units: str, gutter: str, thin: int) -> None:
    """A straight cut's web is the gutter."""
    text = f"""units = "{units}"
step = "0.1 mm"
[[piece]]
name = "Gull"
border = "60 mm"
mat = [{{ board = "white", cut = "straight" }}]
rows = [["a", "b"]]
gutter = "{gutter}"
aperture = [{{ name = "a", image = "106 x 106 mm" }}, {{ name = "b", image = "106 x 106 mm" }}]
[board.white]
ply = 4
"""
    (made,) = plan(parse_job(text, Path())).pieces
    assert [finding.code for finding in made.findings].count("thin-web") == thin
