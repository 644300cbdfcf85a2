"""The front view: a piece as framed, to scale and in colours. What the eye sees is dimensioned; hidden edges and all
other figures stand in its tables.

The figures stand below the drawing or beside it, where the drawing comes out larger. Windows' names stand in a table
under the letters that the drawing shows. A table that would cost the drawing too much goes on on further sheets.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from matplan.documents.front.figures import (
    fact_lists,
    further_tables,
    list_of,
    table_texts,
    windows_and_findings,
)
from matplan.documents.front.letters import letters_of
from matplan.documents.parts.facts import facts_beside
from matplan.documents.parts.folio import Folio
from matplan.documents.parts.framed import extent, framed, model_box, outer_box
from matplan.documents.parts.page import further_scales, title_block
from matplan.documents.parts.paper import Laid, best_paper
from matplan.documents.parts.pictures import PictureKey, Pictures
from matplan.documents.parts.running import Made
from matplan.documents.parts.side_lines import Lined, SideLine, lined
from matplan.documents.parts.words import texts_of, words_used
from matplan.drawing.blocks import Block
from matplan.drawing.dimensions import NORMAL, SMALL, Dimension, ModelPoint, Side, united
from matplan.drawing.frame import frame
from matplan.drawing.items import Area, Item
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import NoScaleFits
from matplan.job.records import Job
from matplan.lengths import Printer
from matplan.mats.records import SolvedPiece

GAP: Final = 5.0
"""Between the drawing and its figures, in mm of paper."""
_BESIDE: Final = 74.0
"""The width of figures beside a drawing."""
_LEAST: Final = 40.0
"""A drawing's room is no smaller, in width and in height."""
_LOSS: Final = 1
"""So many scales a drawing gives up for tables on its own sheet."""
_BETWEEN: Final = 3.5
"""Between two blocks of figures."""
_STYLES: Final = ((NORMAL, False), (SMALL, False), (NORMAL, True), (SMALL, True))
"""How dimensions are lettered, and whether labels may be turned: the first that costs no scale."""


def drawn(folio: Folio, piece: SolvedPiece) -> tuple[Sheet, ...]:
    """Return the front view of a piece, and the sheets on which its tables go on."""
    return _sheets(folio.job, piece, folio.pictures, _once(folio, piece))


def front_view(job: Job, piece: SolvedPiece, pictures: Pictures) -> tuple[Sheet, ...]:
    """Return the sheets of a piece; windows without a picture show a plain field."""
    return _sheets(job, piece, pictures, _laid(job, piece))


def picture_sizes(folio: Folio, piece: SolvedPiece) -> dict[PictureKey, tuple[float, float]]:
    """Return how large each window's picture is drawn on the front view, in mm of paper."""
    view = _once(folio, piece).made.drawn.view
    return {
        (piece.ask.file, a.name): (view.length(a.image.width), view.length(a.image.height)) for a in piece.apertures
    }


def _once(folio: Folio, piece: SolvedPiece) -> Laid[_Layout]:
    return folio.once(("front view", piece.ask.file), lambda: _laid(folio.job, piece))


def _sheets(job: Job, piece: SolvedPiece, pictures: Pictures, layout: Laid[_Layout]) -> tuple[Sheet, ...]:
    made = layout.made
    view = made.drawn.view
    first = (*framed(piece, pictures, view), *made.drawn.items, *made.letters, *made.figures)
    pages = (first, *made.further)
    sheets = []
    for number, items in enumerate(pages, 1):
        block = title_block(
            job,
            document="Front view",
            title=piece.name,
            view="as framed, seen from the front",
            scale=layout.scale if number == 1 else None,
            sheet=(number, len(pages)) if len(pages) > 1 else None,
            further=(("Quantity", str(piece.ask.quantity)),),
        )
        behind = "" if number == 1 else f", sheet {number}"
        sheets.append(
            Sheet(
                name=f"front {piece.ask.file}{behind}",
                title=f"{piece.name}{behind}",
                size=layout.size,
                items=(*frame(layout.size, block).items, *items),
                scale=layout.scale if number == 1 else None,
            )
        )
    return tuple(sheets)


# --- laid on paper ---------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layout:
    drawn: Lined
    letters: tuple[Item, ...]
    figures: tuple[Item, ...]
    further: tuple[tuple[Item, ...], ...] = ()
    """What stands on further sheets."""


def _laid(job: Job, piece: SolvedPiece) -> Laid[_Layout]:
    """Return the piece with its figures on the paper that suits it."""
    size = extent(piece).size
    with suppress(NoScaleFits):
        return best_paper(job.units, size, lambda area: _lay(job, piece, area))
    return best_paper(job.units, size, lambda area: _lay(job, piece, area), any_paper=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Space:
    """A page shared out: the drawing's room, the figures, and whether tables go on on further sheets."""

    room: Area
    figures: tuple[Block, ...]
    goes_on: bool = False


def _lay(job: Job, piece: SolvedPiece, area: Area) -> tuple[Fraction, _Layout]:
    """Return the scale and the layout in the area that a paper leaves; raises `NoScaleFits`."""
    series, lines = further_scales(job.units), _lines(piece, job.printer)
    found: list[tuple[int, _Space, Lined, tuple[Item, ...]]] = []
    for space in _spaces(job, piece, area):
        if min(space.room.width, space.room.height) < _LEAST:
            continue
        # a later way to share out the page is taken only where it gives a larger scale
        most = min((one[0] for one in found), default=len(series))
        largest = _largest(piece, lines, space.room, series[:most])
        if largest is not None:
            found.append((largest[0], space, *largest[1:]))
    if not found:
        raise NoScaleFits(f"the front view of {piece.name} has more figures than the paper holds")
    number, space, drawn, letters = min(found, key=lambda one: one[0] + (_LOSS + 0.5) * one[1].goes_on)
    figures = tuple(item for block in space.figures for item in block.items)
    further = further_tables(piece, job.printer, area) if space.goes_on else ()
    return series[number], _Layout(drawn=drawn, letters=letters, figures=figures, further=further)


def _largest(
    piece: SolvedPiece, lines: Sequence[Sequence[SideLine]], room: Area, series: Sequence[Fraction]
) -> tuple[int, Lined, tuple[Item, ...]] | None:
    """Return the place of the largest scale at which the room holds the piece, its dimensions and its letters."""
    model = model_box(extent(piece))
    for number, scale in enumerate(series):
        for style, turned in _STYLES:
            drawn = lined(model, lines, room, scale, style, turned=turned)
            letters = None if drawn is None else letters_of(piece, drawn, room)
            if drawn is not None and letters is not None:
                return number, drawn, letters
    return None


def _spaces(job: Job, piece: SolvedPiece, area: Area) -> Iterator[_Space]:
    """Yield the ways to share out a page, at first those that keep everything on it."""
    facts = list(fact_lists(piece, job))
    told = [text for head, lines in facts for text in (head, *texts_of(lines))]
    words = words_used(told)  # of a page whose tables go on on further sheets
    further = list(windows_and_findings(piece, job.printer))
    all_words = words_used((*told, *table_texts(piece, job.printer)))
    tables = [*further, *all_words]

    def wide(x: float, y: float, width: float) -> Block:
        return facts_beside(facts, x=x, y=y, width=width)

    def column(x: float, y: float, width: float) -> Block:
        return _stacked([list_of(head, lines) for head, lines in facts if lines], x, y, width)

    yield _over(area, area, [wide, *tables])
    right, left = Area(x=area.right - _BESIDE, y=area.y, width=_BESIDE, height=area.height), _BESIDE + GAP
    if len(piece.apertures) == 1:
        whole = _stacked([column, *tables], right.x, right.y, right.width)
        if whole.bottom <= area.bottom:
            yield _Space(room=area.inset(0, 0, left, 0), figures=(whole,))
        whole, low = (
            _stacked([column, *further], right.x, right.y, right.width),
            _over(area, area.inset(0, 0, left, 0), all_words),
        )
        if whole.bottom <= low.room.bottom:
            yield _Space(room=low.room, figures=(whole, *low.figures))
    beside = column(right.x, right.y, right.width)
    if tables:
        low = _over(area, area.inset(0, 0, left, 0), tables)
        if beside.bottom <= low.room.bottom:
            yield _Space(room=low.room, figures=(beside, *low.figures))
    if further:
        plain = _over(area, area, [wide, *words])
        yield _Space(room=plain.room, figures=plain.figures, goes_on=True)
    worded = _stacked([column, *words], right.x, right.y, right.width)
    if further and worded.bottom <= area.bottom:
        yield _Space(room=area.inset(0, 0, left, 0), figures=(worded,), goes_on=True)


def _over(area: Area, room: Area, makers: Sequence[Made]) -> _Space:
    """Return the room over the blocks, which stand at the area's foot."""
    high = _stacked(makers, area.x, area.y, area.width).area.height
    figures = _stacked(makers, area.x, area.bottom - high, area.width)
    return _Space(room=room.inset(0, 0, 0, high + GAP), figures=(figures,))


def _stacked(makers: Sequence[Made], x: float, y: float, width: float) -> Block:
    """Return the blocks one below the other as one."""
    made: list[Block] = []
    for make in makers:
        made.append(make(x, made[-1].bottom + _BETWEEN if made else y, width))
    return Block(items=tuple(item for block in made for item in block.items), area=united([b.area for b in made]))


# --- dimensions ------------------------------------------------------------------------------------------------------


def _lines(piece: SolvedPiece, printer: Printer) -> list[tuple[SideLine, ...]]:
    """Return the lines of dimensions, each in the versions that may be drawn.

    The borders and openings stand above and at the left; the sight and the frame's outside below and at the right.
    They are measured from the edge of all that is drawn, so that no line runs across the picture.
    """
    found: list[tuple[SideLine, ...]] = []
    for side, name in ((Side.ABOVE, "across"), (Side.LEFT, "down")):
        chains = [_run(stops, side, piece, printer, name) for stops in _stops(piece, side)]
        if chains:  # else the sight's own line says it
            found.append(tuple(chains))
    outer = outer_box(piece)
    for side, name in ((Side.BELOW, "width"), (Side.RIGHT, "height")):
        for what, box in (("sight", piece.sight_box), ("outer", outer)):
            if box is not None:
                ends = (box.x, box.right) if side.across else (box.y, box.bottom)
                found.append((_run(ends, side, piece, printer, f"{what}-{name}"),))
    return found


def _run(stops: Sequence[Fraction], side: Side, piece: SolvedPiece, printer: Printer, name: str) -> SideLine:
    """Return the running dimensions from stop to stop on a side of the whole."""
    whole = extent(piece)
    level = {Side.ABOVE: whole.y, Side.BELOW: whole.bottom, Side.LEFT: whole.x, Side.RIGHT: whole.right}[side]

    def point(stop: Fraction) -> ModelPoint:
        return (stop, level) if side.across else (level, stop)

    pairs = [(a, b) for a, b in pairwise(stops) if a < b]
    return [
        Dimension(
            start=point(a),
            end=point(b),
            side=side,
            label=printer.number(b - a),
            id=f"{name}-{n}" if len(pairs) > 1 else name,
        )
        for n, (a, b) in enumerate(pairs, 1)
    ]


def _stops(piece: SolvedPiece, side: Side) -> Iterator[list[Fraction]]:
    """Yield the sight's edges, and between them those of the openings: each of the first row or column, then their
    outermost alone.
    """
    sight = piece.sight_box
    low, high = (sight.x, sight.right) if side.across else (sight.y, sight.bottom)
    rows = piece.ask.rows
    stops = [low]
    for index in rows[0] if side.across else (row[0] for row in rows):
        opening = piece.apertures[index].seen.box
        stops.extend((opening.x, opening.right) if side.across else (opening.y, opening.bottom))
    inside = [low, *(stop for stop in stops[1:] if low < stop < high), high]
    if inside == sorted(inside) and len(inside) > 2:
        yield inside
        yield [low, inside[1], inside[-2], high]
