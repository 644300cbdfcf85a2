"""The cutting diagram: one board seen from its back, mirrored as it lies on the mat cutter, with everything that is set and cut.

The sheet to pin above the cutter. Model boxes are the plan's (seen from the front), also here where the drawing is mirrored.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import chain

from matplan.documents import cut_notes, cut_sketches
from matplan.documents.cut_dimensions import BIG, PLAIN, dimensions_of
from matplan.documents.cut_lines import TOP_MARK, board_items
from matplan.documents.gauge import GaugeCut, gauge_cuts, reading_order
from matplan.documents.gauge_table import gauge_table
from matplan.documents.page import further_scales, papers, scales, title_block
from matplan.drawing.blocks import Block
from matplan.drawing.dimensions import Dimension, Style, draw, place, united
from matplan.drawing.frame import frame
from matplan.drawing.items import Area, Item, ModelBox
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import NoScaleFits, View
from matplan.job.records import Job
from matplan.lengths import Printer
from matplan.mats.records import Layer, SolvedPiece

GAP = 5.0
"""Between one block and the next, in mm of paper."""
_LEAST_DRAWING = 40.0
"""A drawing's area is no smaller, in width and in height."""

type Made = Callable[[float, float, float], Block]
"""A block made at x, y and of a width."""


def cutting_diagram(job: Job, piece: SolvedPiece, layer: Layer, *, sheet: tuple[int, int] | None = None) -> Sheet:
    """The sheet for that layer of the piece: on the job's paper, upright or lying, as the larger scale asks.

    A board with more figures than that paper holds gets the next larger one. `sheet` is its number and how many there are.
    """
    board = _Board.of(job, piece, layer)
    found = _best(board)
    view = found.view
    block = title_block(
        job,
        title=piece.name,
        document="Cutting diagram",
        view="from the back, mirrored",
        scale=view.scale,
        sheet=sheet,
        further=(("Layer", f"{layer.number} of {len(piece.layers)}"), ("Count", str(piece.ask.quantity))),
    )
    items = (
        *frame(found.size, block).items,
        *found.text,
        *board_items(view, piece.blank, layer, board.cuts, board.letters),
        *found.dimensions,
    )
    return Sheet(
        name=f"cut {piece.ask.file} layer {layer.number}",
        title=f"{piece.name}, cutting diagram of layer {layer.number}",
        size=found.size,
        items=items,
        scale=view.scale,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Board:
    """What is known of the board before it is laid on paper."""

    job: Job
    piece: SolvedPiece
    layer: Layer
    cuts: tuple[GaugeCut, ...]
    letters: tuple[str, ...]
    dimensions: tuple[Dimension, ...]

    @classmethod
    def of(cls, job: Job, piece: SolvedPiece, layer: Layer) -> _Board:
        rows = piece.ask.rows
        boxes = [opening.back.box for opening in layer.openings]
        return cls(
            job=job,
            piece=piece,
            layer=layer,
            cuts=gauge_cuts(layer, piece.blank, rows),
            letters=_letters(reading_order(rows)),
            dimensions=dimensions_of(boxes, rows, piece.blank, job.printer),
        )

    @property
    def model(self) -> ModelBox:
        """The blank as a model box."""
        return (Fraction(0), Fraction(0), self.piece.blank.width, self.piece.blank.height)


def _letters(order: Sequence[int]) -> tuple[str, ...]:
    """A letter for each window, in reading order as the board lies: A … Z, AA …; none where there is one window."""
    if len(order) == 1:
        return ("",)
    names = [""] * len(order)
    for number, window in enumerate(order):
        names[window] = _letter(number)
    return tuple(names)


def _letter(number: int) -> str:
    high, low = divmod(number, 26)
    return (_letter(high - 1) if high else "") + chr(ord("A") + low)


# --- layout ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layout:
    """A sheet's size, the blocks of text on it, and the drawing in what they leave."""

    size: tuple[float, float]
    view: View
    dimensions: tuple[Item, ...]
    text: tuple[Item, ...]


def _best(board: _Board) -> _Layout:
    """The layout of the largest scale on the first paper that holds one. Raises `NoScaleFits` where none does."""
    units = board.job.units
    series = tuple(scales(units))
    further = tuple(scale for scale in further_scales(units) if scale not in series)
    for width, height in papers(units):
        spaces = list(chain(_spaces(board, (width, height)), _spaces(board, (height, width))))
        for scale in (*series, *further):
            for style in (BIG, PLAIN):
                for size, area, text in spaces:
                    found = _fitted(board, area, scale, style)
                    if found is not None:
                        view, dimensions = found
                        return _Layout(size=size, view=view, dimensions=dimensions, text=text)
    raise NoScaleFits(f"the cutting diagram of {board.piece.name} has more figures than the largest paper holds")


type _Space = tuple[tuple[float, float], Area, tuple[Item, ...]]


def _fitted(board: _Board, area: Area, scale: Fraction, style: Style) -> tuple[View, tuple[Item, ...]] | None:
    """The view of the board at that scale, centred in the area with its dimensions; None where they do not fit."""
    model = board.model
    if float(model[2] * scale) > area.width or float(model[3] * scale) > area.height:
        return None
    view = View(scale=scale, at=(area.x, area.y), model=model, mirrored=True)
    for _ in range(2):
        whole = view.whole
        part = Area(x=whole.x, y=whole.y - TOP_MARK, width=whole.width, height=whole.height + TOP_MARK)
        placed = place(board.dimensions, view, style, part=part)
        bounds = united([part, *(p.bounds for p in placed)])
        if bounds.width > area.width + 1e-6 or bounds.height > area.height + 1e-6:
            return None
        shift = (area.centre[0] - bounds.centre[0], area.centre[1] - bounds.centre[1])
        view, settled = replace(view, at=(view.at[0] + shift[0], view.at[1] + shift[1])), draw(placed, style)
    return view, settled


def _spaces(board: _Board, size: tuple[float, float]) -> Iterator[_Space]:
    """The ways to share out a sheet of that size: the sheet, what is left for the drawing, and the blocks of text."""
    area = frame(size, title_block(board.job, title="", document="")).area
    printer = board.job.printer
    for share in (_below, _beside):
        yield from share(board, printer, size, area)


def _below(board: _Board, printer: Printer, size: tuple[float, float], area: Area) -> Iterator[_Space]:
    """The drawing over two columns of text."""
    head = cut_notes.head(board.piece, board.layer, printer, x=area.x, y=area.y, width=area.width)
    left = round((area.width - GAP) * 0.54, 1)
    right = area.width - GAP - left
    columns = ((area.x, left, (_table(board), _care(printer))), (area.x + left + GAP, right, (_sketches(board), _notes(board))))
    height = max(_stack(makers, x, 0.0, width)[1] for x, width, makers in columns)
    top = area.bottom - height
    room = Area(x=area.x, y=head.bottom, width=area.width, height=top - GAP - head.bottom)
    if room.height >= _LEAST_DRAWING:
        text = [item for x, width, makers in columns for item in _stack(makers, x, top, width)[0]]
        yield size, room, (*head.items, *text)


def _beside(board: _Board, printer: Printer, size: tuple[float, float], area: Area) -> Iterator[_Space]:
    """The drawing at the left of one column of text."""
    head = cut_notes.head(board.piece, board.layer, printer, x=area.x, y=area.y, width=area.width)
    for width in (90.0, 64.0):
        makers = (_table(board), _sketches(board), _notes(board), _care(printer))
        x, top = area.right - width, head.bottom + 2
        text, height = _stack(makers, x, top, width)
        room = Area(x=area.x, y=head.bottom, width=area.width - width - GAP, height=area.bottom - head.bottom)
        if top + height <= area.bottom and room.width >= _LEAST_DRAWING:
            yield size, room, (*head.items, *text)


def _stack(makers: Sequence[Made], x: float, y: float, width: float) -> tuple[tuple[Item, ...], float]:
    """The blocks one below the other, and how high they are together."""
    items: list[Item] = []
    at = y
    for make in makers:
        block = make(x, at, width)
        items.extend(block.items)
        at = block.bottom + GAP
    return tuple(items), at - GAP - y


def _table(board: _Board) -> Made:
    return lambda x, y, width: gauge_table(board.cuts, board.letters, board.job.printer, x=x, y=y, width=width)


def _notes(board: _Board) -> Made:
    return lambda x, y, width: cut_notes.notes(board.piece, board.layer, board.job.printer, x=x, y=y, width=width)


def _care(printer: Printer) -> Made:
    return lambda x, y, width: cut_notes.caution_block(printer, x=x, y=y, width=width)


def _sketches(board: _Board) -> Made:
    """Section and corner beside each other where the width allows, else one below the other."""

    def made(x: float, y: float, width: float) -> Block:
        layer, printer = board.layer, board.job.printer
        half = (width - 2.0) / 2
        if half >= cut_sketches.WIDTH - 3:
            first = cut_sketches.section(layer, printer, x=x, y=y, width=half)
            second = cut_sketches.corner(layer, printer, x=x + half + 2.0, y=y, width=half)
        else:
            first = cut_sketches.section(layer, printer, x=x, y=y, width=width)
            second = cut_sketches.corner(layer, printer, x=x, y=first.bottom + GAP, width=width)
        return Block(items=(*first.items, *second.items), area=united([first.area, second.area]))

    return made
