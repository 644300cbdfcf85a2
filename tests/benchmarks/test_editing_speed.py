"""How long it takes to see an edit: one of thirty pieces with photos, read, solved and drawn again as SVG text.

Aim: a median under 60 ms. Run with `--benchmark-enable --benchmark-only`.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

import matplan

PIECES = 30
ROUNDS = 50
HEAD = """title = "Thirty"
[paper.rag]
size = "A3+"
printer_margin = "5 mm"
[board.chalk]
ply = 4
[frame.birch]
takes = "44 x 56 cm"
rail = "18 mm"
"""
PIECE = """[[piece]]
name = "Piece {number}"
frame = "birch"
photo = "{number}.jpg"
image = {{ width = "{width} mm" }}
weight = "optical"
paper = "rag"
mat = ["chalk", {{ board = "chalk", reveal = "6 mm" }}]
"""


def text_of(edited: int) -> str:
    """Return the job's text after that edit of the fourth piece."""
    widths = [240 + number for number in range(PIECES)]
    widths[3] = 260 + edited % 40
    return HEAD + "".join(PIECE.format(number=number, width=width) for number, width in enumerate(widths))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with thirty photos of 6 megapixels."""
    made = tmp_path_factory.mktemp("thirty")
    waves = Image.effect_noise((375, 250), 80).resize((3000, 2000)).convert("RGB")
    for number in range(PIECES):
        waves.rotate(number).save(made / f"{number}.jpg", quality=88)
    return made


@pytest.mark.benchmark(group="edit one of thirty pieces")
@pytest.mark.parametrize("kind", ["a text that changes no size", "another image"])
def test_an_edit(benchmark: Any, folder: Path, kind: str) -> None:
    workshop, darkroom, edits = matplan.Workshop(), matplan.Darkroom(), count()
    seen: list[tuple[matplan.SolvedPiece, ...]] = []

    def edit() -> None:
        number = next(edits)
        text = text_of(number if kind == "another image" else 0)
        text = text.replace('"Piece 3"', f'"Piece 3, state {number}"')
        job = workshop.parse(text, folder).whole()
        pieces = tuple(workshop.solve(job, piece) for piece in job.pieces)
        drawings = matplan.drawings(job, pieces[3], darkroom)
        assert len(drawings) == 3
        seen.append(pieces)

    edit()
    benchmark.pedantic(edit, rounds=ROUNDS)
    assert all(one is other for one, other in zip(seen[0], seen[-1], strict=True) if one is not seen[0][3])
    assert seen[0][3] is not seen[-1][3]


@pytest.mark.benchmark(group="stages of an edit")
@pytest.mark.parametrize("stage", ["read", "solve", "draw"])
def test_a_stage(benchmark: Callable[..., object], folder: Path, stage: str) -> None:
    workshop, darkroom = matplan.Workshop(), matplan.Darkroom()
    text = text_of(0)
    job = workshop.parse(text, folder).whole()
    piece = workshop.solve(job, job.pieces[3])
    stages = {
        "read": lambda: workshop.parse(text, folder),
        "solve": lambda: [workshop.solve(job, one) for one in job.pieces],
        "draw": lambda: matplan.drawings(job, piece, darkroom),
    }
    benchmark(stages[stage])
