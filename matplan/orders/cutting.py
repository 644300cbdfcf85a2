"""What is cut here: the parts of each material that is bought in sheets, the drop-outs that serve again, and the rails
from sticks.

The solving itself is the stock room's; this module says what there is to cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from matplan.job.records import Frame, Material, MatSupply
from matplan.lengths import ZERO, Size
from matplan.mats.records import Layer, LayerOpening, SolvedPiece
from matplan.stock.records import Layout, Part, StockKind
from matplan.stock.sticks import ROOT_TWO, Stick, StickKind, Sticks


@dataclass(frozen=True, slots=True, kw_only=True)
class Cutting:
    """One material's parts laid out on its sheets. `pieces` are the names of the pieces that it is cut for."""

    material: Material
    kinds: tuple[StockKind, ...]
    parts: tuple[Part, ...]
    owners: tuple[str, ...]
    """For each part the name of the piece it belongs to."""
    layout: Layout

    @property
    def pieces(self) -> tuple[str, ...]:
        """The pieces' names, each once."""
        return tuple(dict.fromkeys(self.owners))


def is_cut_here(piece: SolvedPiece, layer: Layer) -> bool:
    """Return whether the board is cut from sheets in this workshop."""
    return piece.ask.mat_supply is MatSupply.SHEETS and bool(layer.board.sheets)


def parts_of(
    pieces: Sequence[SolvedPiece], dropout_trim: Fraction | None
) -> Iterator[tuple[Material, list[tuple[str, Part]]]]:
    """Yield for each sheet material that is cut here, its parts with the names of their pieces, in the order of the
    job.
    """
    gathered: dict[tuple[str, str], tuple[Material, list[tuple[str, Part]]]] = {}
    for piece in pieces:
        for material, part in _parts(piece, dropout_trim):
            gathered.setdefault((str(material.kind), material.name), (material, []))[1].append((piece.name, part))
    yield from gathered.values()


def _parts(piece: SolvedPiece, dropout_trim: Fraction | None) -> Iterator[tuple[Material, Part]]:
    many = piece.ask.quantity
    for layer in piece.layers:
        if is_cut_here(piece, layer):
            drops = tuple(drop_outs(layer, dropout_trim))
            yield (
                layer.board,
                Part(name=f"{piece.name} layer {layer.number}", size=piece.blank, quantity=many, drops=drops),
            )
    whole = (("glazing", piece.ask.glazing), ("mount", piece.ask.mount), ("backing", piece.ask.backing))
    for name, material in whole:
        if material is not None and material.sheets and name not in piece.brings:
            yield material, Part(name=f"{piece.name} {name}", size=piece.blank, quantity=many)


def drop_outs(layer: Layer, trim: Fraction | None) -> Iterator[Size]:
    """Yield what falls out of a board's windows and serves as stock."""
    for opening in layer.openings:
        size = drop_out(layer, opening, trim)
        if size is not None:
            yield size


def drop_out(layer: Layer, opening: LayerOpening, trim: Fraction | None) -> Size | None:
    """Return what falls out of a rectangular window: the smaller of back and face, trimmed on each side.

    The trim is the board's own `dropout_trim`, else the job's, else one thickness of board. `None` for a shaped window
    and where nothing is left.
    """
    if not opening.back.upright:
        return None
    board = layer.board
    off = board.dropout_trim if board.dropout_trim is not None else board.thickness if trim is None else trim
    back, face = opening.back.box.size, opening.face.box.size
    size = Size(min(back.width, face.width), min(back.height, face.height)).grown(-off)
    return size if size.width > 0 and size.height > 0 else None


def kinds_of(material: Material) -> tuple[StockKind, ...]:
    """Return the sheets that a material comes in; a sheet without a price beside others with one lies ready only.

    A sheet that is at hand and has no price, or a price of 0, is not bought; where no sheet of the material has a
    price, any number of each may be.
    """
    priced = any(sheet.price for sheet in material.sheets)
    return tuple(
        StockKind(
            name=sheet.written,
            size=sheet.size,
            price=Decimal(0) if lies else sheet.price,
            have=sheet.have,
            limit=0 if lies else None,
            trim=sheet.trim,
        )
        for sheet in material.sheets
        for lies in [(priced and sheet.price is None) or (sheet.price == 0 and sheet.have > 0)]
    )


# --- sticks ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class Rack:
    """One moulding's rails on its sticks."""

    frame: Frame
    sticks: Sticks
    owners: tuple[tuple[str, Fraction], ...]
    """The length of rails that each piece takes, by its name."""

    @property
    def pieces(self) -> tuple[str, ...]:
        """The pieces' names, each once."""
        return tuple(dict.fromkeys(name for name, _ in self.owners))

    def offcut(self, stick: Stick) -> Fraction:
        """Return what is left of a stick behind its last rail and that rail's mitred cut."""
        cuts = len(stick.rails) * self.frame.kerf * ROOT_TWO
        return max(ZERO, stick.kind.usable - sum(stick.rails, ZERO) - cuts)

    def used(self) -> Iterator[tuple[StickKind, int]]:
        """Yield how many of each stick are cut, in the order in which the frame names them."""
        used = self.sticks.used()
        yield from ((kind, used[kind]) for kind in kinds_of_sticks(self.frame) if kind in used)

    def bought(self) -> Iterator[tuple[StickKind, int]]:
        """Yield how many of each stick are bought, beyond those that lie ready."""
        yield from ((kind, count - kind.have) for kind, count in self.used() if count > kind.have)


def kinds_of_sticks(frame: Frame) -> tuple[StickKind, ...]:
    """Return the sticks that a moulding comes in; one without a price beside others with one lies ready only."""
    priced = any(stick.price for stick in frame.sticks)
    found: dict[StickKind, int] = {}
    for stick in frame.sticks:
        sold = (stick.price is not None or not priced) and not (stick.price == 0 and stick.have)
        kind = StickKind(length=stick.length, price=stick.price, spare=frame.spare, sold=sold)
        found[kind] = found.get(kind, 0) + stick.have
    return tuple(replace(kind, have=have) for kind, have in found.items())


def rails_of(pieces: Sequence[SolvedPiece]) -> Iterator[tuple[Frame, list[tuple[SolvedPiece, tuple[Fraction, ...]]]]]:
    """Yield for each moulding with sticks: the frames to make of it, each piece with the long edges of the rails of all
    its copies.
    """
    gathered: dict[str, tuple[Frame, list[tuple[SolvedPiece, tuple[Fraction, ...]]]]] = {}
    for piece in pieces:
        frame, edges = piece.frame.ask, piece.frame.long_edges
        if piece.frame.made_to_measure and frame.sticks and edges is not None:
            rails = (edges.width, edges.height) * 2 * piece.ask.quantity
            gathered.setdefault(frame.name, (frame, []))[1].append((piece, rails))
    yield from gathered.values()
