"""What becomes of the drop-outs of a board: which ones are kept and for which mats, and which may lie on the shelf."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from matplan.lengths import Size
from matplan.mats.records import Layer, SolvedPiece
from matplan.orders.cutting import Cutting, drop_out

type Fates = dict[str, str]
"""By the aperture's name: `keep: Fog, small × 2`. A drop-out that is not named is waste."""
SPARE: Final = "waste, or for the shelf"
"""What no mat of this job is cut from, and what `leftovers` names as a sheet of the next one."""


def fates(cuttings: Sequence[Cutting], piece: SolvedPiece, trim: Fraction | None, keep: Size) -> dict[int, Fates]:
    """Return what becomes of the piece's drop-outs that sheet layouts cut mats from, or that are at least as large as
    `keep`, by the layer's number.
    """
    return {layer.number: _of_layer(cuttings, piece, layer, trim, keep) for layer in piece.layers}


def _of_layer(
    cuttings: Sequence[Cutting], piece: SolvedPiece, layer: Layer, trim: Fraction | None, keep: Size
) -> Fates:
    mat = f"{piece.name} layer {layer.number}"
    cut_from = _cut_from(cuttings, mat)
    from_sheets = any(part.name == mat for cutting in cuttings for part in cutting.parts)
    found: Fates = {}
    for opening in layer.openings:
        size = drop_out(layer, opening, trim)
        waiting = cut_from.get(size, []) if size is not None else []
        own, cut_from[size] = waiting[: piece.ask.quantity], waiting[piece.ask.quantity :]
        if own:
            names = Counter(name for names in own for name in names)
            words = ", ".join(name if count == 1 else f"{name} × {count}" for name, count in names.items())
            part = "" if len(own) == piece.ask.quantity else f" {len(own)} of {piece.ask.quantity}"
            found[opening.aperture] = f"keep{part}: {words}"
        elif from_sheets and size is not None and size.holds_either_way(keep):
            found[opening.aperture] = SPARE
    return found


def _cut_from(cuttings: Sequence[Cutting], mat: str) -> dict[Size | None, list[tuple[str, ...]]]:
    """Return for each size of drop-out of a mat the mats that each one is cut into."""
    found: dict[Size | None, list[tuple[str, ...]]] = {}
    for cutting in cuttings:
        names = dict(_names(cutting))
        for sheet in cutting.layout.sheets:
            if sheet.stock.falls_from == mat:
                pieces = tuple(names[piece.name] for piece in sheet.pieces)
                found.setdefault(sheet.stock.size, []).extend([pieces] * sheet.count)
    return found


def _names(cutting: Cutting) -> Iterator[tuple[str, str]]:
    """Yield each part's name with what a drawing calls it: its piece, and the layer where the piece has several."""
    parts = Counter(cutting.owners)
    for part, owner in zip(cutting.parts, cutting.owners, strict=True):
        yield part.name, owner if parts[owner] == 1 else part.name
