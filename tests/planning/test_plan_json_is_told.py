"""The manual tells every key of `plan.json`, and no key that is not there."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import matplan
from tests.planning.jobs import job, piece

MANUAL = Path(__file__).parents[2] / "gallery" / "manual.md"
WORDS = {
    "warning",
    "note",
    "null",
    "guide",
    "hand",
    "round",
    "arc",
    "slope",
    "matplan sheets --json",
    "edge shows",
    "blank binds",
    "glazing binds",
}
"""Values and commands that the table names beside keys."""
CAPTION = """[[piece]]
name = "Title"
frame = "birch"
rows = [["a"], ["b"]]
gutter = "20 mm"
mat = ["chalk"]
[[piece.aperture]]
name = "a"
image = "200 x 150 mm"
shape = "oval"
[[piece.aperture]]
name = "b"
image = "200 x 40 mm"
text = "Low water"
"""
PAPER = '[paper.rag]\nsize = "A3"\n[frame.oak]\nrail = "20 mm"\nsticks = [{ length = "3 m", price = 5 }]\n'
OWN = '[[piece]]\nname = "Pier"\nframe = "oak"\nimage = "200 x 150 mm"\nborder = "50 mm"\nmat = ["chalk"]\n'
WALL = '[[wall]]\nname = "Landing"\nsize = "4000 x 2600 mm"\npieces = ["Gull"]\n'


def keys(value: object) -> Iterator[str]:
    """Yield every key of a document; the sheets that `used` counts are names, no keys."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield key
            if key != "used" or not isinstance(inner, dict):
                yield from keys(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from keys(inner)


def test_the_table_names_every_key_and_no_other() -> None:
    prints = piece("Gull", width=140, more='paper = "rag"\nquantity = 2\n')
    made = matplan.plan(job(PAPER, prints, CAPTION, OWN, WALL))
    written = set(keys(matplan.plan_json(made)))
    text = MANUAL.read_text(encoding="utf-8")
    section = text[text.index("## plan.json") :]
    told = set(re.findall(r"`([^`]+)`", section))
    assert not written - told
    assert not {word for word in told - written if re.fullmatch(r"[a-z_]+", word)} - WORDS
