"""The cutting diagram: one board seen from its back, mirrored as it lies on the mat cutter, with everything that is set
and cut.

The sheet to pin above the cutter. Model boxes are the plan's (seen from the front), also here where the drawing is
mirrored. All layers of a piece have one paper and one scale and lie at one place, so that their sheets can be laid over
one another.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import chain, repeat

from matplan.documents.cutting import notes
from matplan.documents.cutting.board import Board, Fates
from matplan.documents.cutting.layout import GAP, Layout, laid
from matplan.documents.cutting.together import Together
from matplan.documents.parts.columns import set_in
from matplan.documents.parts.folio import Folio, LayerOf
from matplan.documents.parts.page import title_block
from matplan.documents.parts.paper import Laid, PaperSize
from matplan.documents.parts.wording import mat_name
from matplan.drawing.frame import frame
from matplan.drawing.items import Item
from matplan.drawing.sheet import Sheet
from matplan.job.records import Job
from matplan.mats.records import Layer, SolvedPiece
from matplan.orders.keeping import fates
from matplan.orders.leftovers import keep_of

type Kept = Mapping[int, Fates]
"""What becomes of the drop-outs that sheet layouts cut, by the layer's number."""


def drawn(folio: Folio, record: LayerOf) -> tuple[Sheet, ...]:
    """Return the cutting diagram of a board."""
    return _sheets(found_in(folio, record.piece), record.layer)


def found_in(folio: Folio, piece: SolvedPiece) -> _Found:
    """Return all boards of a piece of the folio, and where they lie."""
    kept = fates(folio.cuttings, piece, folio.job.dropout_trim, keep_of(folio.job))
    return folio.once(("cutting diagram", piece.ask.file), lambda: _laid(folio.job, piece, kept))


def cutting_diagram(job: Job, piece: SolvedPiece, layer: Layer, kept: Kept | None = None) -> tuple[Sheet, ...]:
    """Return the sheets of one layer of the piece: its diagram, and what does not fit onto one page.

    Raises `NoScaleFits` where no paper holds the boards of the piece.
    """
    return _sheets(_laid(job, piece, kept or {}), layer)


type _Found = tuple[Together, Laid[Layout]]
"""All boards of a piece, and where they lie."""


def _laid(job: Job, piece: SolvedPiece, kept: Kept) -> _Found:
    return laid(tuple(Board.of(job, piece, layer, kept.get(layer.number, {})) for layer in piece.layers))


def _sheets(found: _Found, layer: Layer) -> tuple[Sheet, ...]:
    together, where = found
    board = together.boards[layer.number - 1]
    return _numbered(board, where.size, where.scale, tuple(_pages(board, together, where.made, where.scale)))


def _pages(board: Board, together: Together, layout: Layout, scale: Fraction) -> Iterator[tuple[Item, ...]]:
    """Return what stands on each page."""
    area, space = layout.area, layout.space
    view = together.view(scale, layout.at)
    inside = together.inside(board, view) if space.remarks is None else None
    where, lines = space.tables, space.remarks
    if inside is not None:
        where, lines = inside.column, inside.remarks
    head = notes.head((board,), x=space.head.x, y=space.head.y, width=space.head.width).items
    remarks = () if lines is None else notes.remarks((board,), x=lines.x, y=lines.y, width=lines.width).items
    top = notes.head((board,), x=area.x, y=area.y, width=area.width)
    further = repeat(area.inset(0, top.area.height + GAP, 0, 0))
    layer = board.layer.number - 1
    parts = together.parts[layer]
    pages = set_in(together.listed[layer], further if where is None else chain([where] * len(parts), further))
    for part in parts:
        items = tuple(together.drawn(part, view, inside))
        rows = next(pages, ()) if where is not None else ()
        yield (*head, *items, *rows, *remarks)
    yield from ((*top.items, *items) for items in pages)


def _numbered(board: Board, size: PaperSize, scale: Fraction, pages: tuple[tuple[Item, ...], ...]) -> tuple[Sheet, ...]:
    """Return the pages as sheets, counted where there are several."""
    piece, layer = board.piece, board.layer
    name = f"cut {piece.ask.file} layer {layer.number}"
    title = f"{piece.name}, cutting diagram of layer {layer.number}"
    sheets: list[Sheet] = []
    for number, items in enumerate(pages, 1):
        block = title_block(
            board.job,
            title=piece.name,
            document="Cutting diagram",
            view="from the back, mirrored",
            scale=scale,
            sheet=(number, len(pages)) if len(pages) > 1 else None,
            further=(
                ("Mat", mat_name(layer.number, len(piece.layers))),
                ("Layer", f"{layer.number} of {len(piece.layers)}"),
                ("Quantity", str(piece.ask.quantity)),
            ),
        )
        further = "" if number == 1 else f", sheet {number}"
        sheets.append(
            Sheet(
                name=f"{name}{further}",
                title=f"{title}{further}",
                size=size,
                items=(*frame(size, block).items, *items),
                scale=scale,
            )
        )
    return tuple(sheets)
