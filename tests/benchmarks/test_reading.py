"""How long a job takes to read: one piece, and 2,000."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from matplan.job import parse_job

PIECE = """
[[piece]]
name = "Piece {}"
frame = "ash"
photo = "a.jpg"
image = {{ width = "250 mm" }}
weight = "12 mm"
paper = "A4"
mat = ["white", {{ board = "white", reveal = "6 mm" }}]
"""
HEAD = '[frame.ash]\ntakes = "400 x 500 mm"\nrail = "20 mm"\n'


@pytest.mark.parametrize("pieces", [1, 200, 2000])
def test_reading_a_job(pieces: int, benchmark: Any, tmp_path: Path) -> None:
    Image.new("RGB", (30, 20)).save(tmp_path / "a.jpg")
    text = HEAD + "".join(PIECE.format(number) for number in range(pieces))
    assert len(benchmark(parse_job, text, tmp_path).pieces) == pieces
