"""The words of a cutting diagram: what the board is, how it is cut, and what to take care of."""

from __future__ import annotations

from collections.abc import Iterator

from matplan.documents.cautions import Work, cautions
from matplan.documents.cut_sketches import CUTS
from matplan.documents.page import printed
from matplan.drawing import blocks, lettering
from matplan.drawing.blocks import Block
from matplan.drawing.items import Area, Group, Item, Level, Line, Rect, Size, Text
from matplan.drawing.pens import SECONDARY, Pen
from matplan.job.records import Cut, MatSupply
from matplan.lengths import Printer, Units
from matplan.mats.records import Layer, SolvedPiece

HEAD_HEIGHT = 20.0
_GAP = 6.0


def head(piece: SolvedPiece, layer: Layer, printer: Printer, *, x: float, y: float, width: float) -> Block:
    """How the board lies, in large letters, over a line of fields that say which board it is."""
    board = layer.board
    fields = (
        ("Board", board.name),
        ("Thickness", f"{board.ply}-ply, {printed(board.thickness, printer)}" if board.ply else printed(board.thickness, printer)),
        ("Blank", printer.size(piece.blank)),
        ("Cut", CUTS[layer.cut]),
        ("Layer, 1 next to the glazing", f"{layer.number} of {len(piece.layers)}"),
        ("Count", f"{piece.ask.quantity}"),
    )
    items: list[Item] = [
        Text(at=(x, y), text="Cut face down · seen from the back", size=Size.TITLE, level=Level.TOP, bold=True, max_width=width),
    ]
    swatch = 0.0
    if board.colour is not None:
        items.append(Rect(x=x, y=y + 9.5, width=8.0, height=7.4, pen=Pen.EDGE, fill=board.colour, classes=("swatch",)))
        swatch = 10.5
    widths = [max(lettering.width(value, Size.NORMAL), lettering.width(caption, Size.CAPTION)) + 0.01 for caption, value in fields]
    room = width - swatch - _GAP * (len(fields) - 1)
    if sum(widths) > room:  # a long name gives way before figures do
        widths[0] = max(16.0, widths[0] - (sum(widths) - room))
    if sum(widths) > room:
        widths = [w * room / sum(widths) for w in widths]
    at = x + swatch
    spare = min(max(0.0, room - sum(widths)) / len(fields), 6.0)
    for (caption, value), wide in zip(fields, widths, strict=True):
        items.append(Text(at=(at, y + 9.5), text=caption, size=Size.CAPTION, level=Level.TOP, colour=SECONDARY, max_width=wide))
        items.append(Text(at=(at, y + 13.0), text=value, size=Size.NORMAL, level=Level.TOP, max_width=wide))
        at += wide + _GAP + spare
    items.append(Line(start=(x, y + HEAD_HEIGHT - 1), end=(x + width, y + HEAD_HEIGHT - 1), pen=Pen.RULE))
    return Block(items=(Group(classes=("head",), items=tuple(items)),), area=Area(x=x, y=y, width=width, height=HEAD_HEIGHT))


def advice(piece: SolvedPiece, layer: Layer, printer: Printer) -> Iterator[str]:
    """How the board is cut, in the order of the work."""
    over = printed(layer.overcut, printer)
    yield "Lay the board face down on a slip sheet, its top edge away from you."
    yield "Smallest setting first; make every cut at it before the gauge moves, turning the board clockwise from edge to edge."
    yield f"Start at the triangle and stop at the ring, {over} outside the marked corners, the window on the left of the travel."
    if layer.cut is Cut.REVERSE:
        yield "Reverse bevel: the blade leans into the window, so that its bevel does not show on the face."
    if layer.number > 1:
        # common practice: under mats are cut smaller and taped to the back of the top mat (TRADE 3)
        less = "1/4 in" if printer.units is Units.IN else "6 mm"
        yield f"An under mat may be cut {less} smaller than the blank; take half of that off every setting then."
    if piece.ask.mat_supply is MatSupply.SHEETS:
        yield "Keep a drop-out that the sheet layouts cut another mat from."


def care(printer: Printer) -> tuple[str, ...]:
    """The cautions of the work at the cutter."""
    return cautions(Work.CUTTING, units=printer.units)


def notes(piece: SolvedPiece, layer: Layer, printer: Printer, *, x: float, y: float, width: float) -> Block:
    """The advice as a block."""
    return blocks.notes(tuple(advice(piece, layer, printer)), x=x, y=y, width=width, title="At the cutter")


def caution_block(printer: Printer, *, x: float, y: float, width: float) -> Block:
    """The cautions as a block."""
    return blocks.cautions(care(printer), x=x, y=y, width=width)
