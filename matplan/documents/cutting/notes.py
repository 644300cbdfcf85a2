"""The words of a cutting diagram: how the board lies and which it is, and the few lines that this board alone needs.

What holds for every board stands on the bench card.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from matplan.documents.cutting.board import Board
from matplan.documents.parts.wording import CUTS, mat_name
from matplan.drawing import lettering
from matplan.drawing.blocks import Block, paragraph, set_lines
from matplan.drawing.dimensions import united
from matplan.drawing.items import Anchor, Area, Group, Item, Level, Line, Polyline, Rect, Size, Text
from matplan.drawing.pens import SECONDARY, Pen
from matplan.job.records import AddedWeight, Cut
from matplan.lengths import ZERO
from matplan.mats.gauge import By, guided, too_long

_ANGLES: Final = {Cut.BEVEL: ", 45°", Cut.REVERSE: ", 45°", Cut.STRAIGHT: ", 90°"}
_GAP: Final = 5.0
_ROW: Final = 8.6
_SWATCH: Final = 10.0

type _Field = tuple[str, str]
"""A caption and a value."""


# --- which board it is -----------------------------------------------------------------------------------------------


def head(boards: Sequence[Board], *, x: float, y: float, width: float) -> Block:
    """Return how the boards lie and what is alike in all of them, on as few lines as the width holds."""
    facts = [fact for fact in _facts(boards[0]) if _shared(fact, boards)]
    block = _headed(facts, _shared_colour(boards), x, y, width)
    bottom = block.bottom + 0.6
    rule = Line(start=(x, bottom), end=(x + width, bottom), pen=Pen.RULE)
    return Block(items=(*block.items, rule), area=Area(x=x, y=y, width=width, height=bottom - y))


def title(board: Board, boards: Sequence[Board], *, x: float, y: float, width: float) -> Block:
    """Return which of a piece's boards this is, with the facts that are not those of all."""
    colour = board.layer.board.colour if _shared_colour(boards) is None else None
    return _headed(_own_facts(board, boards), colour, x, y, width)


def title_width(board: Board, boards: Sequence[Board]) -> float:
    """Return the least width in which no field of the title is set smaller than the others."""
    return _SWATCH + max(map(_width, _own_facts(board, boards)))


def _own_facts(board: Board, boards: Sequence[Board]) -> tuple[_Field, ...]:
    name = (f"Layer {board.layer.number}", mat_name(board.layer.number, len(board.piece.layers)))
    return (name, *(fact for fact in _facts(board) if not _shared(fact, boards)))


def _headed(facts: Sequence[_Field], colour: str | None, x: float, y: float, width: float) -> Block:
    """Return facts on as few lines as the width holds, behind a swatch of the colour."""
    left = x + (_SWATCH if colour is not None else 0.0)
    lines = _lines(facts, x + width - left)
    items: list[Item] = []
    if colour is not None:
        high = _ROW * len(lines) - 1.4
        items.append(Rect(x=x, y=y, width=7.5, height=high, pen=Pen.EDGE, fill=colour, classes=("swatch",)))
    for number, line in enumerate(lines):
        items.extend(_fields(line, left, y + number * _ROW, x + width - left))
    group = Group(classes=("head",), items=tuple(items))
    return Block(items=(group,), area=Area(x=x, y=y, width=width, height=_ROW * len(lines)))


def _shared(fact: _Field, boards: Sequence[Board]) -> bool:
    return all(fact in _facts(board) for board in boards)


def _shared_colour(boards: Sequence[Board]) -> str | None:
    """Return the colour that all boards have."""
    colours = {board.layer.board.colour for board in boards}
    return colours.pop() if len(colours) == 1 else None


def _facts(board: Board) -> tuple[_Field, ...]:
    piece, layer, printer = board.piece, board.layer, board.job.printer
    material = layer.board
    thickness = printer.fine(material.thickness)
    facts = (
        ("As it lies", "face down"),
        ("Board", material.name),
        ("Thickness", f"{material.ply}-ply, {thickness}" if material.ply else thickness),
        ("Blank", printer.size(piece.blank)),
        ("Cut", CUTS[layer.cut] + _ANGLES[layer.cut]),
    )
    return facts if board.several else (*facts, ("Drop-out", board.fate(0)))


def _width(field: _Field) -> float:
    caption, value = field
    return max(lettering.width(value, Size.NORMAL, _bold(caption)), lettering.width(caption, Size.CAPTION)) + 0.01


def _bold(caption: str) -> bool:
    """Return whether a field's value is the first that the eye needs."""
    return caption == "As it lies" or caption.startswith("Layer")


def _lines(fields: Sequence[_Field], room: float) -> list[list[_Field]]:
    """Return the fields on lines that the room holds."""
    lines: list[list[_Field]] = [[]]
    left = room
    for field in fields:
        if lines[-1] and _width(field) > left:
            lines.append([])
            left = room
        lines[-1].append(field)
        left -= _width(field) + _GAP
    return lines


def _fields(fields: Sequence[_Field], x: float, y: float, room: float) -> Iterator[Item]:
    """Return captions over their values on one line."""
    spare = min(6.0, max(0.0, room - sum(map(_width, fields)) - _GAP * (len(fields) - 1)) / len(fields))
    for caption, value in fields:
        yield Text(at=(x, y), text=caption, size=Size.CAPTION, level=Level.TOP, colour=SECONDARY)
        bold = _bold(caption)
        yield from set_lines(lettering.held(value, room, _ROW - 3.4, Size.NORMAL, bold), x, y + 3.2, bold=bold)
        x += _width((caption, value)) + _GAP + spare


# --- what this board alone needs -------------------------------------------------------------------------------------


def remarks(boards: Sequence[Board], *, x: float, y: float, width: float) -> Block:
    """Return what the boards' figures mean, what is special about all of them, and one line of caution."""
    said = shared(boards, x=x, y=y, width=width)
    warned = caution(x=x, y=said.bottom + 1.4 if said.items else y, width=width)
    return Block(items=(*said.items, *warned.items), area=united([said.area, warned.area]))


def shared(boards: Sequence[Board], *, x: float, y: float, width: float) -> Block:
    """Return the remarks that hold for each of the boards."""
    return _set((line for line in _remarks(boards[0]) if all(line in _remarks(one) for one in boards)), x, y, width)


def own(board: Board, boards: Sequence[Board], *, x: float, y: float, width: float) -> Block:
    """Return the remarks on a board that do not hold for each of a piece's boards."""
    return _set((line for line in _remarks(board) if any(line not in _remarks(one) for one in boards)), x, y, width)


def _set(lines: Iterable[str], x: float, y: float, width: float) -> Block:
    """Return the lines one below the other."""
    blocks: list[Block] = []
    for line in lines:
        blocks.append(paragraph(line, x=x, y=blocks[-1].bottom + 1.2 if blocks else y, width=width))
    bottom = blocks[-1].bottom if blocks else y
    items = tuple(item for block in blocks for item in block.items)
    return Block(items=items, area=Area(x=x, y=y, width=width, height=bottom - y))


def _remarks(board: Board) -> Iterator[str]:
    side = board.job.cutter.window_side.value
    if board.cuts:
        yield (
            "Start (triangle), stop (ring): from the board's near edge, far edge in the blade's travel; "
            f"window on its {side}."
        )
    if board.outlines:
        yield "Places are measured from the board's left edge and top edge as it lies."
    yield from _hand(board)
    yield from _odd_steps(board)


def _hand(board: Board) -> Iterator[str]:
    """Return which cuts the cutter does not reach, and how they are made."""
    cutter, printer = board.job.cutter, board.job.printer
    by_hand = [cut for cut in board.cuts if cut.by is By.HAND]
    wide = [cut.number for cut in by_hand if not guided(cut, cutter)]
    long = [cut.number for cut in by_hand if too_long(cut, cutter)]
    if wide and cutter.widest_border is not None:
        limit = printer.length(cutter.widest_border)
        yield f"{_cuts(wide)}: wider than the guide's {limit}: mark and cut without the guide."
    if long and cutter.longest_cut is not None:
        limit = printer.length(cutter.longest_cut)
        what = "this" if len(long) == 1 else "these"
        yield f"{_cuts(long)}: longer than the cutter's {limit}: cut {what} on the wall-mounted cutter."


def _cuts(numbers: Sequence[int]) -> str:
    return f"Cut {numbers[0]}" if len(numbers) == 1 else f"Cuts {', '.join(map(str, numbers))}"


def _odd_steps(board: Board) -> Iterator[str]:
    """Return which side takes the odd step where two borders cannot be equal."""
    backs, blank = [opening.back.box for opening in board.layer.openings], board.piece.blank
    step, printer = board.job.step.size, board.job.printer
    pairs = [
        ("left", "right", blank.width - max(box.right for box in backs), min(box.x for box in backs)),
    ]  # as the board lies the plan's right is at the left
    if board.piece.ask.weight == AddedWeight(extra=ZERO):
        pairs.append(("top", "bottom", min(box.y for box in backs), blank.height - max(box.bottom for box in backs)))
    for first, second, one, other in pairs:
        if abs(one - other) == step:
            larger, smaller = (first, second) if one > other else (second, first)
            yield (
                f"The {larger} border as it lies takes the odd step: {printer.number(max(one, other))}, "
                f"{smaller} {printer.length(min(one, other))}."
            )


def caution(*, x: float, y: float, width: float) -> Block:
    """Return the line of caution behind a small warning triangle."""
    words = (
        "Free hand out of the blade's path; straight-edge on the mat's side; blades into a closed box: see bench card."
    )
    side = 5.2
    points = ((x, y + side * 0.9), (x + side / 2, y), (x + side, y + side * 0.9))
    triangle = Polyline(points=points, closed=True, pen=Pen.EDGE)
    mark = Text(at=(x + side / 2, y + side * 0.9 - 0.9), text="!", size=Size.CAPTION, anchor=Anchor.MIDDLE, bold=True)
    text = paragraph(words, x=x + side + 1.6, y=y + 1.2, width=width - side - 1.6)
    group = Group(classes=("caution",), items=(triangle, mark, *text.items))
    return Block(items=(group,), area=Area(x=x, y=y, width=width, height=max(text.bottom - y, side)))
