"""Job texts for the tests of planning."""

from __future__ import annotations

from pathlib import Path

from matplan.job import parse_job
from matplan.job.records import Job

HEAD = """title = "Low water"
[board.chalk]
ply = 4
sheets = [{ size = "900 x 1200 mm", price = 14 }]
[board.slate]
ply = 4
sheets = [{ size = "900 x 1200 mm", price = 17 }]
[frame.birch]
takes = "44 x 56 cm"
rail = "18 mm"
"""
PIECE = """[[piece]]
name = "{name}"
frame = "birch"
aspect = "4:3"
image = {{ width = "{width} mm" }}
mat = ["{board}"]
"""


def piece(name: str, *, board: str = "chalk", width: int = 280, more: str = "") -> str:
    """Return the text of one piece."""
    return PIECE.format(name=name, board=board, width=width) + more


def job(*tables: str) -> Job:
    """Return the job of those tables, below materials and a frame of its own."""
    return parse_job(HEAD + "".join(tables), Path())
