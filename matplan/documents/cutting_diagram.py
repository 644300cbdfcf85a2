"""The cutting diagram: one board seen from its back, mirrored as it lies on the mat cutter, with everything that is set and cut.

The sheet to pin above the cutter. Model boxes are the plan's (seen from the front), also here where the drawing is mirrored.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import chain, pairwise, product

from matplan.documents import cut_notes, cut_sketches
from matplan.documents.cut_dimensions import BIG, PLAIN, block_dimensions, dimensions_of
from matplan.documents.cut_lines import TOP_MARK, board_items, top_mark
from matplan.documents.gauge import GaugeCut, gauge_cuts, reading_order
from matplan.documents.gauge_table import gauge_table
from matplan.documents.page import further_scales, papers, scales, title_block
from matplan.documents.shaped_cuts import OutlineCut, outline_cuts
from matplan.documents.shaped_table import set_out
from matplan.drawing.blocks import Block
from matplan.drawing.dimensions import Dimension, Side, Style, draw, place, united
from matplan.drawing.frame import frame
from matplan.drawing.items import Area, Item, ModelBox
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import NoScaleFits, View
from matplan.job.records import Job
from matplan.mats.records import Layer, SolvedPiece

GAP = 4.5
"""Between one block and the next, in mm of paper."""
_WIDE = 130.0
"""A column of text on wide paper."""
_NARROW = 61.0
"""The narrowest column of text."""
_LEAST_DRAWING = 40.0
"""A drawing's area is no smaller, in width and in height."""

type Made = Callable[[float, float, float], Block]
"""A block made at x, y and of a width."""
type Makers = tuple[Made, ...]


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
        *board_items(view, layer, board.cuts, board.outlines, board.letters),
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
    outlines: tuple[OutlineCut, ...]
    order: tuple[int, ...]
    """The windows' places as one reads them on the board as it lies."""
    letters: tuple[str, ...]
    dimensions: tuple[tuple[Dimension, ...], ...]
    """All of them, and where there are several windows also the few round them all, for where all find no room."""

    @classmethod
    def of(cls, job: Job, piece: SolvedPiece, layer: Layer) -> _Board:
        rows = piece.ask.rows
        backs = [opening.back for opening in layer.openings]
        dimensions = [dimensions_of(backs, rows, piece.blank, job.printer)]
        if len(backs) > 1:
            dimensions.append(block_dimensions(backs, piece.blank, job.printer))
        cuts = gauge_cuts(layer, piece.blank, rows)
        return cls(
            job=job,
            piece=piece,
            layer=layer,
            cuts=cuts,
            outlines=outline_cuts(layer, reading_order(rows), len(cuts)),
            order=reading_order(rows),
            letters=_letters(reading_order(rows)),
            dimensions=tuple(dimensions),
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
            for dimensions, style in product(board.dimensions, (BIG, PLAIN)):
                for size, area, text in spaces:
                    found = _fitted(board, dimensions, area, scale, style)
                    if found is not None:
                        view, drawn = found
                        return _Layout(size=size, view=view, dimensions=drawn, text=text)
    raise NoScaleFits(f"the cutting diagram of {board.piece.name} has more figures than the largest paper holds")


type _Space = tuple[tuple[float, float], Area, tuple[Item, ...]]


def _fitted(
    board: _Board, dimensions: Sequence[Dimension], area: Area, scale: Fraction, style: Style
) -> tuple[View, tuple[Item, ...]] | None:
    """The view of the board at that scale, centred in the area with its dimensions; None where they do not fit."""
    model = board.model
    if float(model[2] * scale) > area.width or float(model[3] * scale) > area.height:
        return None
    view = View(scale=scale, at=(area.x, area.y), model=model, mirrored=True)
    for shift in (True, False):  # once to see how much room it takes, once where it then stands
        whole = view.whole
        part = Area(x=whole.x, y=whole.y - TOP_MARK, width=whole.width, height=whole.height + TOP_MARK)
        strip = _free_strip(dimensions, view)
        placed = place(dimensions, view, style, part=part, avoid=(strip,))
        bounds = united([part, *(p.bounds for p in placed)])
        if bounds.width > area.width + 1e-6 or bounds.height > area.height + 1e-6:
            return None
        if shift:
            (x, y), (to_x, to_y) = bounds.centre, area.centre
            view = replace(view, at=(view.at[0] + to_x - x, view.at[1] + to_y - y))
    return view, (top_mark(strip), *draw(placed, style))


def _free_strip(dimensions: Sequence[Dimension], view: View) -> Area:
    """Above the board's top edge, the widest strip that no extension line crosses."""
    whole = view.whole
    above = [end for d in dimensions if d.side is Side.ABOVE for end in (d.start, d.end)]
    stops = sorted({whole.x, whole.right, *(view.point(*end)[0] for end in above)})
    left, right = max(pairwise(stops), key=lambda pair: (round(pair[1] - pair[0], 6), -abs(sum(pair) / 2 - whole.centre[0])))
    return Area(x=left, y=whole.y - TOP_MARK, width=right - left, height=TOP_MARK)


def _spaces(board: _Board, size: tuple[float, float]) -> Iterator[_Space]:
    """The ways to share out a sheet of that size: the sheet, what is left for the drawing, and the blocks of text."""
    area = frame(size, title_block(board.job, title="", document="")).area
    head = cut_notes.head(board.piece, board.layer, board.job.printer, x=area.x, y=area.y, width=area.width)
    rest = area.inset(0, head.area.height, 0, 0)
    for share in (_below, _cornered, _beside):
        for room, text in share(board, rest):
            if room.width >= _LEAST_DRAWING and room.height >= _LEAST_DRAWING:
                yield size, room, (*head.items, *text)


type _Share = tuple[Area, tuple[Item, ...]]
"""What is left for the drawing, and the text in the rest."""


def _below(board: _Board, area: Area) -> Iterator[_Share]:
    """The drawing over two columns of text."""
    left = round((area.width - GAP) * 0.53, 1)
    columns = (
        _Column(x=area.x, width=left, makers=(*_settings(board), *_windows(board), _care(board))),
        _Column(x=area.x + left + GAP, width=area.width - GAP - left, makers=(_sketches(board), _notes(board))),
    )
    laid = _foot(columns, area)
    if laid is not None:
        yield laid


def _cornered(board: _Board, area: Area) -> Iterator[_Share]:
    """The drawing at the left of the figures, with notes and cautions under both; sketches and windows where there is room."""
    settings, windows, sketches, notes, care = _settings(board), _windows(board), _sketches(board), _notes(board), _care(board)
    ways: tuple[tuple[Makers, Makers, Makers], ...] = (
        ((*settings, *windows, sketches), (notes,), (care,)),
        ((*settings, *windows), (notes,), (sketches, care)),
        (settings, (notes, *windows), (sketches, care)),
    )
    half = (area.width - GAP) / 2
    for column, left, right in ways[: 3 if windows else 2]:
        laid = _foot((_Column(x=area.x, width=half, makers=left), _Column(x=area.x + half + GAP, width=half, makers=right)), area)
        if laid is not None:
            upper, foot = laid
            for room, text in _columns(upper, column):
                yield room, (*text, *foot)


def _beside(board: _Board, area: Area) -> Iterator[_Share]:
    """The drawing at the left of all text."""
    yield from _columns(area, (*_settings(board), *_windows(board), _sketches(board), _notes(board), _care(board)))


def _columns(area: Area, makers: Makers) -> Iterator[_Share]:
    """A column of text at the right, in each width in which it is no higher than the area."""
    for width in (*((_WIDE,) if area.width >= 2 * _WIDE else ()), 90.0, 80.5, 70.0, _NARROW):
        column = _Column(x=area.right - width, width=width, makers=makers)
        stack = column.stack(area.y + 2)
        if stack is not None and stack.bottom <= area.bottom:
            yield area.inset(0, 0, width + GAP, 0), stack.items


def _foot(columns: Sequence[_Column], area: Area) -> _Share | None:
    """Columns of text at the foot of the area; None where one is too narrow for its text or they leave nothing."""
    tried = [column.stack(0.0) for column in columns]
    heights = [stack.area.height for stack in tried if stack is not None]
    if len(heights) < len(columns) or max(heights) + GAP >= area.height:
        return None
    top = area.bottom - max(heights)
    stacks = [column.stack(top) for column in columns]
    return area.inset(0, 0, 0, max(heights) + GAP), tuple(item for stack in stacks if stack is not None for item in stack.items)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Column:
    """Blocks to be set one below the other at x, in that width."""

    x: float
    width: float
    makers: Makers

    def stack(self, y: float) -> Block | None:
        """The blocks from y downwards; None where one of them is wider than the column."""
        items: list[Item] = []
        at = y
        for make in self.makers:
            block = make(self.x, at, self.width)
            if block.area.width > self.width + 1e-6:
                return None
            items.extend(block.items)
            at = block.bottom + GAP
        return Block(items=tuple(items), area=Area(x=self.x, y=y, width=self.width, height=at - GAP - y))


def _settings(board: _Board) -> Makers:
    """The gauge's settings for straight cuts, and where shaped openings lie."""
    printer = board.job.printer
    found: list[Made] = []
    if board.cuts:
        found.append(lambda x, y, width: gauge_table(board.cuts, board.letters, board.order, printer, x=x, y=y, width=width))
    if board.outlines:
        found.append(lambda x, y, width: set_out(board.outlines, board.letters, board.piece.blank, printer, x=x, y=y, width=width))
    return tuple(found)


def _windows(board: _Board) -> Makers:
    """The list of windows, where there are several."""
    if len(board.letters) == 1:
        return ()
    printer = board.job.printer
    return (lambda x, y, width: cut_notes.windows(board.layer, board.letters, board.order, printer, x=x, y=y, width=width),)


def _notes(board: _Board) -> Made:
    return lambda x, y, width: cut_notes.notes(board.piece, board.layer, board.job.printer, x=x, y=y, width=width)


def _care(board: _Board) -> Made:
    return lambda x, y, width: cut_notes.caution_block(board.job.printer, x=x, y=y, width=width)


def _sketches(board: _Board) -> Made:
    """Section and corner beside each other where the width allows, else one below the other."""

    def made(x: float, y: float, width: float) -> Block:
        layer, printer = board.layer, board.job.printer
        wide = width - cut_sketches.WIDTH - 3.0
        if not board.cuts:  # no corners
            return cut_sketches.section(layer, printer, x=x, y=y, width=min(width, cut_sketches.SECTION_WIDTH))
        if wide >= cut_sketches.WIDTH:
            first = cut_sketches.section(layer, printer, x=x, y=y, width=wide)
            second = cut_sketches.corner(layer, printer, x=x + wide + 3.0, y=y, width=cut_sketches.WIDTH)
        else:
            first = cut_sketches.section(layer, printer, x=x, y=y, width=min(width, cut_sketches.SECTION_WIDTH))
            second = cut_sketches.corner(layer, printer, x=x, y=first.bottom + GAP, width=cut_sketches.WIDTH)
        return Block(items=(*first.items, *second.items), area=united([first.area, second.area]))

    return made
