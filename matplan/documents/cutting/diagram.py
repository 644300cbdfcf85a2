"""The cutting diagram: one board seen from its back, mirrored as it lies on the mat cutter, with everything that is set
and cut.

The sheet to pin above the cutter. Model boxes are the plan's (seen from the front), also here where the drawing is
mirrored.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import pairwise, product

from matplan.documents.cutting import notes as cut_notes
from matplan.documents.cutting import sketches as cut_sketches
from matplan.documents.cutting.dimensions import BIG, PLAIN, block_dimensions, dimensions_of
from matplan.documents.cutting.gauge_table import gauge_table
from matplan.documents.cutting.layout import GAP, Made, Makers, Sharing, Space, Texts
from matplan.documents.cutting.lines import TOP_MARK, board_items, top_mark
from matplan.documents.cutting.shaped_table import set_out
from matplan.documents.parts.folio import Folio, LayerOf
from matplan.documents.parts.page import further_scales, papers, scales, title_block
from matplan.drawing.blocks import Block
from matplan.drawing.dimensions import Dimension, Side, Style, draw, place, united
from matplan.drawing.frame import frame
from matplan.drawing.items import Area, Item, ModelBox, Point
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import NoScaleFits, View, fit
from matplan.job.records import Job
from matplan.mats.gauge import GaugeCut, gauge_cuts, reading_order, window_letters
from matplan.mats.outline_cuts import OutlineCut, outline_cuts
from matplan.mats.records import Layer, SolvedPiece


def drawn(folio: Folio, board: LayerOf) -> tuple[Sheet, ...]:
    """Return the cutting diagram of a board."""
    return (cutting_diagram(folio.job, board.piece, board.layer),)


def cutting_diagram(job: Job, piece: SolvedPiece, layer: Layer, *, sheet: tuple[int, int] | None = None) -> Sheet:
    """The sheet for that layer of the piece: on the job's paper, upright or lying, as the larger scale asks.

    A board with more figures than that paper holds gets the next larger one. `sheet` is its number and how many there
    are.
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
        *frame(found.space.size, block).items,
        *found.space.text(),
        *board_items(view, layer, board.cuts, board.outlines, board.letters),
        *found.dimensions,
    )
    return Sheet(
        name=f"cut {piece.ask.file} layer {layer.number}",
        title=f"{piece.name}, cutting diagram of layer {layer.number}",
        size=found.space.size,
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
        cuts = gauge_cuts(layer, piece.blank, rows, job.cutter)
        return cls(
            job=job,
            piece=piece,
            layer=layer,
            cuts=cuts,
            outlines=outline_cuts(layer, reading_order(rows), len(cuts), job.cutter),
            order=reading_order(rows),
            letters=window_letters(rows),
            dimensions=tuple(dimensions),
        )

    @property
    def model(self) -> ModelBox:
        """The blank as a model box."""
        return (Fraction(0), Fraction(0), self.piece.blank.width, self.piece.blank.height)


# --- layout ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layout:
    """How the sheet is shared out, and the drawing in its room."""

    space: Space
    view: View
    dimensions: tuple[Item, ...]


def _best(board: _Board) -> _Layout:
    """The layout of the largest scale on the first paper that holds one worth its place, else on the first that holds
    any.

    A board with many figures is not shrunk to less than a third of what the bare board could be: it gets a larger
    paper. Raises `NoScaleFits` where none holds it.
    """
    units = board.job.units
    series = tuple(scales(units))
    further = tuple(scale for scale in further_scales(units) if scale not in series)
    sharing = Sharing(texts=_texts(board))
    drawings = [
        _Drawing(board=board, scale=scale, dimensions=dimensions, style=style)
        for scale in (*series, *further)
        for dimensions, style in product(board.dimensions, (BIG, PLAIN))
    ]
    shrunk: _Layout | None = None
    for width, height in papers(units):
        areas = {
            size: frame(size, title_block(board.job, title="", document="")).area
            for size in ((width, height), (height, width))
        }
        spaces = [space for size, area in areas.items() for space in sharing.spaces(size, area)]
        found = _first(drawings, spaces)
        if found is None:
            continue
        if found.view.scale * 3 >= max(fit(board.model, area, (*series, *further)).scale for area in areas.values()):
            return found
        shrunk = shrunk or found
    if shrunk is None:
        raise NoScaleFits(f"the cutting diagram of {board.piece.name} has more figures than the largest paper holds")
    return shrunk


def _first(drawings: Sequence[_Drawing], spaces: Sequence[Space]) -> _Layout | None:
    """The first drawing that one of the spaces holds."""
    for drawing in drawings:
        for space in spaces:
            found = drawing.laid(space)
            if found is not None:
                return found
    return None


@dataclass(frozen=True, kw_only=True)
class _Drawing:
    """The board with its dimensions at one scale."""

    board: _Board
    scale: Fraction
    dimensions: tuple[Dimension, ...]
    style: Style

    def laid(self, space: Space) -> _Layout | None:
        """The drawing in the middle of that space's room; None where it does not fit."""
        room = space.room
        _, _, width, height = self.board.model
        if float(width * self.scale) > room.width or float(height * self.scale) > room.height:
            return None
        loose, _, _ = self._loose
        if not _holds(room, loose):
            return None
        (x, y), (to_x, to_y) = loose.centre, room.centre
        bounds, view, items = self._placed((to_x - x, to_y - y))
        return _Layout(space=space, view=view, dimensions=items) if _holds(room, bounds) else None

    @cached_property
    def _loose(self) -> tuple[Area, View, tuple[Item, ...]]:
        return self._placed((0.0, 0.0))

    def _placed(self, at: Point) -> tuple[Area, View, tuple[Item, ...]]:
        """The paper that it takes with the board's top left corner there, its view, the mark of its top edge and its
        dimensions.
        """
        view = View(scale=self.scale, at=at, model=self.board.model, mirrored=True)
        whole = view.whole
        part = Area(x=whole.x, y=whole.y - TOP_MARK, width=whole.width, height=whole.height + TOP_MARK)
        strip = _free_strip(self.dimensions, view)
        placed = place(self.dimensions, view, self.style, part=part, avoid=(strip,))
        return united([part, *(p.bounds for p in placed)]), view, (top_mark(strip), *draw(placed, self.style))


def _holds(room: Area, bounds: Area) -> bool:
    return bounds.width <= room.width + 1e-6 and bounds.height <= room.height + 1e-6


def _free_strip(dimensions: Sequence[Dimension], view: View) -> Area:
    """Above the board's top edge, the widest strip that no extension line crosses."""
    whole = view.whole
    above = [end for d in dimensions if d.side is Side.ABOVE for end in (d.start, d.end)]
    stops = sorted({whole.x, whole.right, *(view.point(*end)[0] for end in above)})
    left, right = max(
        pairwise(stops), key=lambda pair: (round(pair[1] - pair[0], 6), -abs(sum(pair) / 2 - whole.centre[0]))
    )
    return Area(x=left, y=whole.y - TOP_MARK, width=right - left, height=TOP_MARK)


def _texts(board: _Board) -> Texts:
    piece, layer, printer = board.piece, board.layer, board.job.printer
    return Texts(
        head=lambda x, y, width: cut_notes.head(piece, layer, printer, x=x, y=y, width=width),
        settings=_settings(board),
        windows=_windows(board),
        sketches=_sketches(board),
        notes=lambda x, y, width: cut_notes.notes(piece, layer, printer, x=x, y=y, width=width),
        care=lambda x, y, width: cut_notes.caution_block(printer, x=x, y=y, width=width),
    )


def _settings(board: _Board) -> Makers:
    """The gauge's settings for straight cuts, and where shaped openings lie."""
    printer = board.job.printer
    found: list[Made] = []
    if board.cuts:
        found.append(
            lambda x, y, width: gauge_table(board.cuts, board.letters, board.order, printer, x=x, y=y, width=width)
        )
    if board.outlines:
        found.append(
            lambda x, y, width: set_out(
                board.outlines, board.letters, board.piece.blank, printer, x=x, y=y, width=width
            )
        )
    return tuple(found)


def _windows(board: _Board) -> Makers:
    """The list of windows, where there are several."""
    if len(board.letters) == 1:
        return ()
    printer = board.job.printer
    return (
        lambda x, y, width: cut_notes.windows(board.layer, board.letters, board.order, printer, x=x, y=y, width=width),
    )


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
