"""A finding that names its cure is mended by it: the key is written as told, and the finding is gone."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from PIL import Image

from matplan.job import parse_job
from matplan.planning import plan

JOB = """
{top}
[paper.small]
size = "A4"
printer_margin = "10 mm"
[frame.one]
{frame}
[[piece]]
name = "Gull"
frame = "one"
photo = "gull.png"
{piece}
"""
HELD = 'takes = "40x50 cm"'
CASES = {
    "low-resolution": ("piece", HELD, 'image = { width = "24 cm" }'),
    "low-resolution by height": ("piece", HELD, 'image = { height = "30 cm" }'),
    "printer-margin": ("piece", HELD, 'image = { width = "19.6 cm" }\npaper = "small"'),
    "movement": (
        "frame", 'takes = "100x140 cm"\nclearance = "2 mm"', 'image = { width = "5 cm" }\nglazing = "acrylic-2mm"',
    ),
    "blank-not-held": ("frame", HELD + '\nlip = "3 mm"\nclearance = "8 mm"', 'image = { width = "5 cm" }'),
    "narrow-border": ("piece", 'rail = "40 mm"\nlip = "6 mm"', 'image = { width = "5 cm" }\nborder = "30 mm"'),
    "thin-web": (
        "piece", HELD,
        'gutter = "6 mm"\nrows = [["a", "b"]]\n[[piece.aperture]]\nname = "a"\nphoto = "gull.png"\n'
        'image = { width = "5 cm" }\n[[piece.aperture]]\nname = "b"\nphoto = "gull.png"\nimage = { width = "5 cm" }',
    ),
}  # fmt: skip


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("case", CASES)
def test_the_cure_that_a_finding_tells_mends_it(case: str, units: str, tmp_path: Path) -> None:
    Image.new("L", (1200, 1800), 120).save(tmp_path / "gull.png")
    code, (table, frame, piece) = case.split()[0], CASES[case]

    def texts(frame: str, piece: str) -> list[str]:
        head = JOB if "rows" not in piece else JOB.replace('photo = "gull.png"\n{piece}', "{piece}")
        solved = plan(parse_job(head.format(top=f'units = "{units}"', frame=frame, piece=piece), tmp_path))
        return [finding.text for finding in solved.pieces[0].findings if finding.code == code]

    (text, *_) = texts(frame, piece)
    told = re.search(r"(\w+) = (\{[^}]*\}|\"[^\"]*\")", text)
    assert told is not None, text
    written = {"frame": frame, "piece": piece}
    written[table] = re.sub(rf"(?m)^{told[1]} = .*\n?", "", written[table], count=1)
    written[table] = f"{told[0]}\n{written[table]}"
    assert texts(**written) == []
