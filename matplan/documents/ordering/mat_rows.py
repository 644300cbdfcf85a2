"""mats.csv: each opening of each mat that is bought cut a row, for shops' programs and spreadsheets."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from matplan.documents.ordering.mats import OrderedMat, ordered_mats
from matplan.documents.ordering.order_list import guarded
from matplan.documents.parts.folio import Folio
from matplan.lengths import Printer
from matplan.planning import Plan

HEADER: Final = (
    "mat", "item", "material", "ply", "thickness", "cut", "layer", "layers", "width", "height", "quantity", "for",
    "window", "opening_width", "opening_height", "left", "top", "right", "bottom", "shape", "units", "supplier", "note",
)  # fmt: skip
"""The columns. Openings are clear openings, what the eye sees; distances are from the edges, seen from the front."""


def drawn(_folio: Folio, plan: Plan) -> tuple[tuple[str, ...], ...]:
    """Return the header and the rows; nothing where no mat is bought cut."""
    mats = ordered_mats(plan)
    printer = plan.job.printer
    rows = (tuple(map(guarded, row)) for mat in mats for row in _rows(mat, printer))
    return (HEADER, *rows) if mats else ()


def _rows(mat: OrderedMat, printer: Printer) -> Iterator[tuple[str, ...]]:
    board, figure = mat.layer.board, printer.number
    layers = sorted({len(piece.layers) for piece in mat.pieces})
    for window in mat.windows:
        sides = window.sides
        yield (
            str(mat.number),
            str(mat.line.item),
            mat.line.material,
            "" if board.ply is None else str(board.ply),
            printer.fine(board.thickness),
            str(mat.layer.cut),
            str(mat.line.layer or 1),
            " or ".join(map(str, layers)),
            figure(mat.size.width),
            figure(mat.size.height),
            str(mat.line.quantity),
            "; ".join(mat.line.pieces),
            window.name,
            figure(window.size.width),
            figure(window.size.height),
            *(figure(side) for side in (sides.left, sides.top, sides.right, sides.bottom)),
            window.shape_in_words(printer) or str(window.outline.shape),
            str(printer.units),
            mat.line.supplier,
            mat.line.note,
        )
