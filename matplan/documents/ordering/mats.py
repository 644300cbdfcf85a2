"""The mats that are bought cut: each line of the order that has openings, with what a shop asks about it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from matplan.documents.parts import wording
from matplan.job.records import Cut, Shape
from matplan.lengths import Box, Printer, Sides, Size
from matplan.mats.letters import letter_of
from matplan.mats.outlines import Outline
from matplan.mats.records import Layer, SolvedPiece
from matplan.orders.records import Item, OrderLine
from matplan.planning import Plan

_MOST_NAMES: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class MatWindow:
    """One opening of a mat as the eye sees it, from the blank's top left corner: `sides` are its distances from the
    edges.
    """

    letter: str
    name: str
    outline: Outline
    sides: Sides

    @property
    def size(self) -> Size:
        """The clear opening."""
        return self.outline.box.size

    def shape_in_words(self, printer: Printer) -> str:
        """Return what the opening's size does not say of its shape, "" for a rectangle."""
        box, line = self.outline.box, self.outline.line
        match self.outline.shape:
            case Shape.RECTANGLE | Shape.SQUARE:
                return ""
            case Shape.ARCH:
                return f"arch, rise {printer.length(line[0].end[1] - box.y)}"
            case Shape.OCTAGON:
                leg = min(x for x, y in self.outline.points() if y == box.y) - box.x
                return f"octagon, corners cut off by {printer.length(leg)}"
            case Shape.POLYGON:
                corners = "; ".join(f"{printer.number(x)} / {printer.number(y)}" for x, y in self.outline.points())
                return f"polygon, corners from left / top: {corners}"
            case shape:
                return str(shape)


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderedMat:
    """A mat that is bought cut: its line of the order, the board's layer in the line's first piece, and its pieces."""

    number: int
    line: OrderLine
    size: Size
    layer: Layer
    windows: tuple[MatWindow, ...]
    pieces: tuple[SolvedPiece, ...]

    @property
    def ready_cut(self) -> bool:
        """Whether it is a standard mat, bought by its name."""
        return self.line.item is Item.READY_CUT

    @property
    def board(self) -> str:
        """The board's name and plies."""
        ply = self.layer.board.ply
        name = wording.short(self.layer.board.name)
        return name if ply is None or f"{ply}-ply" in name else f"{name}, {ply}-ply"

    def layers(self) -> Iterator[str]:
        """Yield how the mat lies among the layers of its pieces, each way once; nothing where it is always alone."""
        ways = dict.fromkeys(tuple(layer.board.name for layer in piece.layers) for piece in self.pieces)
        if all(len(boards) == 1 for boards in ways):
            return
        for boards in ways:
            names = ", ".join(wording.short(name) for name in boards)
            yield f"{self.line.layer or 1} of {len(boards)}; front to back: {names}"

    def wanted_for(self) -> str:
        """Return the pieces' names with their quantities; where they are many, the first of them."""
        parts = []
        for piece in self.pieces[:_MOST_NAMES]:
            many = f" × {piece.ask.quantity}" if piece.ask.quantity > 1 else ""
            parts.append(f"{wording.short(piece.name)}{many}")
        more = len(self.pieces) - len(parts)
        return ", ".join(parts) + (f" and {more} more" if more else "")


CUTS: Final = {
    Cut.BEVEL: "bevel: the opening is wider at the face",
    Cut.REVERSE: "reverse bevel: the opening is narrower at the face",
    Cut.STRAIGHT: "straight",
}
"""How the edge is cut, for who has never seen the job."""


def ordered_mats(plan: Plan) -> tuple[OrderedMat, ...]:
    """Return every mat that is bought cut, numbered in the sequence of the pieces and their layers."""
    at = {piece.name: number for number, piece in enumerate(plan.pieces)}
    lines = [line for line in plan.order if line.item in (Item.MAT, Item.READY_CUT)]
    lines.sort(key=lambda line: (at[line.pieces[0]], line.layer))
    return tuple(_mat(number, line, plan) for number, line in enumerate(lines, 1))


def _mat(number: int, line: OrderLine, plan: Plan) -> OrderedMat:
    pieces = tuple(piece for piece in plan.pieces if piece.name in line.pieces)
    layer = pieces[0].layers[max(line.layer, 1) - 1]
    blank = line.size or pieces[0].blank
    if line.item is Item.READY_CUT:
        outlines = [Outline(shape=Shape.RECTANGLE, box=box) for box in line.openings]
    else:
        outlines = [one.face if line.seen else one.back for one in layer.openings]
    windows = tuple(
        MatWindow(
            letter=letter_of(at),
            name=opening.aperture,
            outline=outline,
            sides=outline.box.inset_in(Box.of(blank)),
        )
        for at, (opening, outline) in enumerate(zip(layer.openings, outlines, strict=True))
    )
    return OrderedMat(number=number, line=line, size=blank, layer=layer, windows=windows, pieces=pieces)
