"""One piece drawn without a pack: its front view and its cutting diagrams as SVG text.

A face that follows each edit asks here; what it keeps are a workshop and a darkroom of its own.
"""

from __future__ import annotations

from math import ceil
from typing import Final

from matplan.documents.cutting.diagram import cutting_diagram
from matplan.documents.front_view import front_view, picture_sizes
from matplan.drawing import svg
from matplan.job.records import Job
from matplan.mats.records import SolvedPiece
from matplan.pack.contents import cut_here
from matplan.pack.darkroom import Darkroom

EVERY: Final = 10
"""Pictures are made in sizes of so many mm of paper, so that one serves for an image that grows or shrinks a little."""


def drawings(job: Job, piece: SolvedPiece, darkroom: Darkroom | None = None) -> dict[str, str]:
    """Return a piece's front view and the cutting diagram of each board that is cut, by their names in a pack.

    Photos are made ready in `darkroom`, which keeps them; without one they are made for this call alone. Raises
    `JobError` that names every undecodable photo.
    """
    file = piece.ask.file

    def sizes(one: SolvedPiece) -> dict[str, tuple[float, float]]:
        return {name: (_up(size[0]), _up(size[1])) for (_, name), size in picture_sizes(job, one).items()}

    pictures = (darkroom or Darkroom()).pictures(job, (piece,), sizes)
    sheets = {f"front/{file}.svg": front_view(job, piece, pictures)}
    for layer in cut_here(piece):
        sheets[f"cut/{file}-layer{layer.number}.svg"] = cutting_diagram(job, piece, layer)
    return {name: svg.render(sheet).decode() for name, sheet in sheets.items()}


def _up(side: float) -> float:
    return ceil(side / EVERY) * EVERY
