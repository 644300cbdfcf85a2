"""The words of a cutting diagram: what the board is, how it is cut, and what to take care of."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from matplan.documents.parts.cautions import Work, cautions
from matplan.documents.parts.page import printed
from matplan.drawing import blocks, lettering
from matplan.drawing.blocks import Block
from matplan.drawing.items import Anchor, Area, Group, Item, Level, Line, Rect, Size, Text
from matplan.drawing.pens import SECONDARY, Pen
from matplan.job.records import Cut, MatSupply
from matplan.lengths import Printer, Units
from matplan.mats.outline_cuts import runs_along_an_edge
from matplan.mats.records import Layer, SolvedPiece

CUTS: Final = {Cut.BEVEL: "bevel, 45°", Cut.REVERSE: "reverse bevel, 45°", Cut.STRAIGHT: "straight, 90°"}
_GAP: Final = 6.0
_FIELDS_HEIGHT: Final = 9.0
_SWATCH: Final = 10.5

type _Fields = tuple[tuple[str, str], ...]
"""Captions and values."""


def head(piece: SolvedPiece, layer: Layer, printer: Printer, *, x: float, y: float, width: float) -> Block:
    """How the board lies, in large letters, over the fields that say which board it is: on one line, or two for a long
    name.
    """
    board = layer.board
    fields: _Fields = (
        ("Board", board.name),
        (
            "Thickness",
            f"{board.ply}-ply, {printed(board.thickness, printer)}" if board.ply else printed(board.thickness, printer),
        ),
        ("Blank", printer.size(piece.blank)),
        ("Cut", CUTS[layer.cut]),
        ("Layer, 1 next to the glazing", f"{layer.number} of {len(piece.layers)}"),
        ("Count", f"{piece.ask.quantity}"),
    )
    left = x + (_SWATCH if board.colour is not None else 0.0)
    room = x + width - left
    lines = [fields] if _natural(fields) <= room else [fields[:1], fields[1:]]
    top = y + 9.5
    items: list[Item] = [
        Text(
            at=(x, y),
            text="Cut face down · seen from the back",
            size=Size.TITLE,
            level=Level.TOP,
            bold=True,
            max_width=width,
        ),
    ]
    if board.colour is not None:
        height = _FIELDS_HEIGHT * len(lines) - 1.2
        items.append(Rect(x=x, y=top, width=8.0, height=height, pen=Pen.EDGE, fill=board.colour, classes=("swatch",)))
    for number, line in enumerate(lines):
        items.extend(_fields(line, left, top + number * _FIELDS_HEIGHT, room))
    bottom = top + _FIELDS_HEIGHT * len(lines) + 1.2
    items.append(Line(start=(x, bottom), end=(x + width, bottom), pen=Pen.RULE))
    return Block(
        items=(Group(classes=("head",), items=tuple(items)),), area=Area(x=x, y=y, width=width, height=bottom + 1 - y)
    )


def _own_widths(fields: _Fields) -> list[float]:
    return [
        max(lettering.width(value, Size.NORMAL), lettering.width(caption, Size.CAPTION)) + 0.01
        for caption, value in fields
    ]


def _natural(fields: _Fields) -> float:
    return sum(_own_widths(fields)) + _GAP * (len(fields) - 1)


def _fields(fields: _Fields, x: float, y: float, room: float) -> Iterator[Item]:
    """Captions over their values on one line, condensed together where the room is less than they need."""
    widths = _own_widths(fields)
    free = room - _GAP * (len(fields) - 1)
    if sum(widths) > free:
        widths = [wide * free / sum(widths) for wide in widths]
    spare = min((free - sum(widths)) / len(fields), 6.0)
    for (caption, value), wide in zip(fields, widths, strict=True):
        yield Text(at=(x, y), text=caption, size=Size.CAPTION, level=Level.TOP, colour=SECONDARY, max_width=wide)
        yield Text(at=(x, y + 3.5), text=value, size=Size.NORMAL, level=Level.TOP, max_width=wide)
        x += wide + _GAP + spare


def advice(piece: SolvedPiece, layer: Layer, printer: Printer) -> Iterator[str]:
    """How the board is cut, in the order of the work."""
    over = f"{printed(layer.overcut, printer)} past" if layer.overcut else "on"
    yield "Face down on a slip sheet, top edge away from you."
    backs = [opening.back for opening in layer.openings]
    straight = any(runs_along_an_edge(side) for back in backs for side in back.segments)
    if straight:
        yield "Smallest setting first; every cut at it before the gauge moves, the board turned clockwise from edge to edge."
        yield f"Start at the triangle, stop at the ring: {over} the marked corners, the window on the left of the travel."
    if any(back.ellipse for back in backs):
        yield f"Rounds: the cutter's centre on the crossed axes; counter-clockwise from the triangle, {over} the start."
    if any(not back.upright and not back.ellipse for back in backs):
        yield "Arcs and slopes run past their marks as drawn, more at sharp corners and less at blunt ones; in a notch stop on the mark."
    if len(layer.openings) > 1:
        yield "Left and right are as the board lies; as framed they change sides."
    if layer.cut is Cut.REVERSE:
        yield "Reverse bevel: the blade leans into the window."
    if layer.number > 1:
        # common practice: under mats are cut 1/4 in smaller and taped to the back of the top mat
        less, half = ("1/4 in", "1/8 in") if printer.units is Units.IN else ("6 mm", "3 mm")
        yield f"An under mat may be {less} smaller than the blank; every setting is {half} less then."
    if piece.ask.mat_supply is MatSupply.SHEETS:
        yield "Keep a drop-out that the sheet layouts cut another mat from."


def windows(
    layer: Layer, letters: Sequence[str], order: Sequence[int], printer: Printer, *, x: float, y: float, width: float
) -> Block:
    """The windows by their letters, in that order: each one's name and its opening at the back, in as many columns as
    fit.
    """
    entries = [(letters[n], layer.openings[n].aperture, printer.size(layer.openings[n].back.box.size)) for n in order]
    columns = min(-(-len(entries) // 4), max(1, int(width // 43)))
    each = (width - _GAP * (columns - 1)) / columns
    rows = -(-len(entries) // columns)
    pitch = Size.SMALL * lettering.LINE_PITCH
    first = max(lettering.width(letter, Size.SMALL, True) for letter, _, _ in entries) + 2.0
    last = max(lettering.width(size, Size.SMALL) for _, _, size in entries)
    items: list[Item] = [
        Text(at=(x, y), text="Windows, width × height at the back", size=Size.SMALL, level=Level.TOP, bold=True)
    ]
    top = y + pitch + 0.6
    for number, (letter, name, size) in enumerate(entries):
        column, row = divmod(number, rows)
        left, at = x + column * (each + _GAP), top + row * pitch
        items.append(Text(at=(left, at), text=letter, size=Size.SMALL, level=Level.TOP, bold=True))
        room = each - first - last - 2.0
        items.append(Text(at=(left + first, at), text=name, size=Size.SMALL, level=Level.TOP, max_width=room))
        items.append(Text(at=(left + each, at), text=size, size=Size.SMALL, level=Level.TOP, anchor=Anchor.END))
    height = top + (rows - 1) * pitch + Size.SMALL + 0.8 - y
    return Block(
        items=(Group(classes=("windows",), items=tuple(items)),), area=Area(x=x, y=y, width=width, height=height)
    )


def care(printer: Printer) -> tuple[str, ...]:
    """The cautions of the work at the cutter."""
    return cautions(Work.CUTTING, units=printer.units)


def notes(piece: SolvedPiece, layer: Layer, printer: Printer, *, x: float, y: float, width: float) -> Block:
    """The advice as a block."""
    return blocks.notes(tuple(advice(piece, layer, printer)), x=x, y=y, width=width, title="At the cutter")


def caution_block(printer: Printer, *, x: float, y: float, width: float) -> Block:
    """The cautions as a block."""
    return blocks.cautions(care(printer), x=x, y=y, width=width)
