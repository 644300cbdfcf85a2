"""The wall view: a wall to scale with everything that hangs on it and stands before it, and the place of every hook.

Along the left and below runs a tape: how high above the floor and how far from the wall's left edge each hook lies. On
a stair each height is measured from the floor's line instead.
Above and at the right stand the group's own measures. A table beside or below, or on the next page, gives both figures
for every frame by its number, which is that of the hanging list.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise, repeat
from typing import Final

from matplan.documents.parts import wording
from matplan.documents.parts.cautions import Work, brief, cautions, is_heavy, needs_ladder
from matplan.documents.parts.columns import least_height, rooms, set_in
from matplan.documents.parts.folio import Folio
from matplan.documents.parts.page import further_scales, title_block
from matplan.documents.parts.paper import Laid, best_paper
from matplan.documents.parts.pictures import PictureKey, Pictures
from matplan.documents.wall import distances, numbers, stairs, tapes
from matplan.documents.wall.figures import figures
from matplan.documents.wall.hung_frames import (
    eye_lines,
    floor_line,
    hatched,
    hook_mark,
    hung_frame,
    image_sizes,
    label_box,
    plain_frame,
    silhouette,
    thing,
    wall_edge,
    zone_edge,
)
from matplan.documents.wall.names import taken_of, thing_names
from matplan.documents.wall.numbers import Numbers
from matplan.documents.wall.stairs import Heights
from matplan.drawing import blocks
from matplan.drawing.blocks import Table
from matplan.drawing.dimensions import SMALL, Arranged, Dimension, Side, arrange
from matplan.drawing.frame import drawing_area, frame
from matplan.drawing.items import Area, Group, Item, ModelBox
from matplan.drawing.pens import SECONDARY
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import NoScaleFits, View
from matplan.job.records import Job, Wall
from matplan.lengths import ZERO, Printer
from matplan.walls.cables import zones
from matplan.walls.limits import listed
from matplan.walls.records import SolvedWall
from matplan.walls.work import Mark, marks

_CAPTION: Final = 2.0
_CLEAR: Final = 7.5
"""Millimetres: the least side of a frame on paper whose picture is told apart (own choice)."""
_SHORT: Final = 0.3
"""The part of a page that a table takes at least to have a page of its own."""
_APART: Final = 0.75
"""Scales that a page of its own for the table must gain."""


def drawn(folio: Folio, wall: SolvedWall) -> tuple[Sheet, ...]:
    """Return the view of a wall, and the pages that its table goes on on."""
    laid = _once(folio, wall)
    return _sheets(folio.job, wall, folio.smaller(_sizes(wall, laid.made)), laid)


def picture_sizes(folio: Folio, wall: SolvedWall) -> dict[PictureKey, tuple[float, float]]:
    """Return how large the view shows the pictures, in mm of paper."""
    return _sizes(wall, _once(folio, wall).made)


def _once(folio: Folio, wall: SolvedWall) -> Laid[_Layout]:
    return folio.once(("wall view", wall.ask.file), lambda: _laid(folio.job, wall))


def wall_view(job: Job, wall: SolvedWall, pictures: Pictures) -> tuple[Sheet, ...]:
    """Return the sheets for the wall; windows without a picture show a plain field."""
    return _sheets(job, wall, pictures, _laid(job, wall))


def _sizes(wall: SolvedWall, layout: _Layout) -> dict[PictureKey, tuple[float, float]]:
    return {} if layout.numbers.inside else image_sizes(wall, layout.drawn.view)


def _sheets(job: Job, wall: SolvedWall, pictures: Pictures, laid: Laid[_Layout]) -> tuple[Sheet, ...]:
    layout, tables = laid.made, figures(wall, job.printer)
    pages = [tuple(_drawn(wall, pictures, layout, job.printer))]
    if layout.table is None:
        pages.extend(set_in(tables, repeat(drawing_area(laid.size)), ("hooks",)))
    further = (("Wall", job.printer.size(wall.ask.size)),)
    made = []
    for page, items in enumerate(pages, 1):
        first = page == 1
        block = title_block(
            job,
            document="Wall view" if first else "Wall view, hooks",
            title=wall.name,
            view="seen from the front" if first else "",
            scale=laid.scale if first else None,
            sheet=(page, len(pages)) if len(pages) > 1 else None,
            further=further,
        )
        made.append(
            Sheet(
                name=f"wall {wall.ask.file}" + ("" if first else f" {page}"),
                title=wall.name if first else f"{wall.name}, page {page}",
                size=laid.size,
                items=(*frame(laid.size, block).items, *items),
                scale=laid.scale if first else None,
            )
        )
    return tuple(made)


# --- layout ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layout:
    """The wall's view with its dimensions, tapes, numbers and note; its table, where that stands on the page too.
    `heights` are those of a stair."""

    drawn: Arranged
    tapes: tuple[Item, ...]
    heights: Heights
    numbers: Numbers
    note: tuple[Item, ...]
    table: tuple[Item, ...] | None


def _laid(job: Job, wall: SolvedWall) -> Laid[_Layout]:
    """Return the view on its paper: with the frames' numbers beside them, else within frames without their pictures."""
    tables = figures(wall, job.printer)

    def lay(way: _Way, any_paper: bool = False) -> Laid[_Layout]:
        size = wall.ask.size
        return best_paper(job.units, size, lambda area: _on(job, wall, tables, area, way), any_paper=any_paper)

    for way in (_clear, _beside, _inside, _anyhow):
        try:
            return lay(way)
        except NoScaleFits:
            continue
    return lay(_anyhow, any_paper=True)


type _Way = Callable[[SolvedWall, View], Numbers | None]
"""Where the frames' numbers stand in a view, or `None` where they have no room so."""


def _clear(wall: SolvedWall, view: View) -> Numbers | None:
    """Return the numbers beside frames whose pictures are large enough to be told apart."""
    least = min(min(hung.spot.width, hung.spot.height) for hung in wall.frames)
    return numbers.beside(wall, view) if view.length(least) >= _CLEAR else None


def _beside(wall: SolvedWall, view: View) -> Numbers | None:
    return numbers.beside(wall, view)


def _inside(wall: SolvedWall, view: View) -> Numbers | None:
    return numbers.inside(wall, view)


def _anyhow(wall: SolvedWall, view: View) -> Numbers | None:
    return numbers.inside(wall, view, least=True)


def _on(job: Job, wall: SolvedWall, tables: Sequence[Table], area: Area, way: _Way) -> tuple[Fraction, _Layout]:
    """Return the layout at the best scale, with the table below, at the right or on the next page."""
    note, high = _note(job, wall, area, plain=way in (_inside, _anyhow))
    series = sorted(further_scales(job.units), reverse=True)
    found: list[tuple[float, int, _Layout]] = []
    short = way is _clear and least_height(tables, area.width, area.height * _SHORT) is not None
    for order, (room, listing) in enumerate(rooms(area.inset(0, 0, 0, high + 2.5), tables)):
        if listing is None and short:
            continue  # a larger paper rather than a page for a few rows
        try:
            layout = _placed(job, wall, room, way)
        except NoScaleFits:
            continue
        table = None if listing is None else next(set_in(tables, repeat(listing), ("hooks",)))
        rank = series.index(layout.drawn.view.scale) + (0 if listing is not None else _APART)
        found.append((rank, order, replace(layout, note=note, table=table)))
    if not found:
        raise NoScaleFits("the figures leave no room for the wall")
    _, _, layout = min(found, key=lambda one: one[:2])
    return layout.drawn.view.scale, layout


def _placed(job: Job, wall: SolvedWall, room: Area, way: _Way) -> _Layout:
    printer, hooks = job.printer, marks(wall)
    below = [printer.tape(mark.hook.left) for mark in hooks]
    left = [] if wall.ask.floor else [printer.tape(mark.hook.height) for mark in hooks]
    inner = room.inset(tapes.depth(left), 0, 0, tapes.depth(below))
    if min(inner.width, inner.height) <= 0:
        raise NoScaleFits("the figures leave no room for the wall")
    whole: ModelBox = (ZERO, ZERO, wall.ask.size.width, wall.ask.size.height)
    series = further_scales(job.units)
    placed = arrange(whole, _dimensions(wall, printer), inner, series, style=SMALL, upward=True)
    marked = way(wall, placed.view)
    if marked is None:
        raise NoScaleFits("the frames' numbers find no room")
    heights: Heights | None = Heights()
    if wall.ask.floor:
        taken = taken_of(wall.ask, wall.frames, placed.view, marked.spots)
        heights = stairs.heights(wall, hooks, placed.view, printer, taken)
        if heights is None and way is not _anyhow:
            raise NoScaleFits("the heights above the stair find no room")
    tape = _tapes(wall, hooks, printer, placed.view, room)
    return _Layout(drawn=placed, tapes=tape, heights=heights or Heights(), numbers=marked, note=(), table=None)


def _tapes(wall: SolvedWall, hooks: Sequence[Mark], printer: Printer, view: View, room: Area) -> tuple[Item, ...]:
    """Return both tapes, each where it has room; hooks in one line share a figure."""
    whole = view.whole
    lefts = {mark.hook.left for mark in hooks}
    heights = set[Fraction]() if wall.ask.floor else {mark.hook.height for mark in hooks}
    below = [
        tapes.Reading(at=view.point(x, ZERO)[0], label=printer.tape(x), box=(ZERO, ZERO, x, ZERO))
        for x in sorted(lefts)
    ]
    beside = [
        tapes.Reading(at=view.point(ZERO, y)[1], label=printer.tape(y), box=(ZERO, ZERO, ZERO, y))
        for y in sorted(heights)
    ]
    items: list[Item] = []
    for readings, side, low, high, upright in (
        (below, whole.bottom, max(whole.x - 8, room.x + 2), min(whole.right + 8, room.right - 2), False),
        (beside, whole.x, max(whole.y - 4, room.y + 2), min(whole.bottom + 4, room.bottom - 2), True),
    ):
        items.extend(tapes.tape(readings, side, low, high, upright=upright) or ())
    return tuple(items)


def _dimensions(wall: SolvedWall, printer: Printer) -> list[Dimension]:
    """Return the group's place: above, where it begins and ends; at the right, its base and top, and the eye line."""
    ask, group = wall.ask, wall.group
    width, height = ask.size.width, ask.size.height
    found = [
        Dimension(start=(a, height), end=(b, height), side=Side.ABOVE, label=printer.number(b - a), id=f"across-{n}")
        for n, (a, b) in enumerate(_stops(ZERO, group.left, group.right, width), 1)
    ]
    found += [
        Dimension(start=(width, a), end=(width, b), side=Side.RIGHT, label=printer.number(b - a), id=f"up-{n}")
        for n, (a, b) in enumerate(_stops(ZERO, group.bottom, group.top, height), 1)
    ]
    for number, level in enumerate(wall.levels, 1):
        name = "eye-height" if number == 1 else f"eye-height-{number}"
        found.append(
            Dimension(start=(width, ZERO), end=(width, level), side=Side.RIGHT, label=printer.number(level), id=name)
        )
    return found


def _stops(*points: Fraction) -> list[tuple[Fraction, Fraction]]:
    return [(a, b) for a, b in pairwise(points) if a < b]


# --- the drawing -----------------------------------------------------------------------------------------------------


def _drawn(wall: SolvedWall, pictures: Pictures, layout: _Layout, printer: Printer) -> Iterator[Item]:
    ask, view = wall.ask, layout.drawn.view
    edge = wall_edge(ask, view)
    for kept in ask.keep_clear:
        for strip in zones(ask, kept):
            yield replace(hatched(strip, view), clip=edge)
    yield Group(items=tuple(zone_edge(ask, view)), clip=edge)
    yield from eye_lines(ask, view)
    yield from floor_line(ask, view)
    for furniture in ask.furniture:
        yield silhouette(furniture, view)
    for kept in ask.keep_clear:
        yield from thing(kept, view)
    yield from layout.heights.items
    for hung in wall.frames:
        yield plain_frame(hung, view) if layout.numbers.inside else hung_frame(hung, pictures, view)
        yield from label_box(hung, view)
    yield edge
    yield from (hook_mark(mark, view) for mark in marks(wall))
    yield from numbers.drawn(wall, layout.numbers)
    taken = taken_of(ask, wall.frames, view, layout.numbers.spots)
    taken.lines.extend(layout.heights.lines)
    taken.areas.extend(layout.heights.areas)
    yield from distances.drawn(wall, view, printer, taken)
    yield from thing_names(ask, view, taken)
    yield from layout.drawn.items
    yield from layout.tapes
    yield from layout.table or ()
    yield from layout.note


# --- the note --------------------------------------------------------------------------------------------------------


def _note(job: Job, wall: SolvedWall, area: Area, *, plain: bool) -> tuple[tuple[Item, ...], float]:
    """Return what the drawing's signs mean and the cautions, at the bottom of the page, and their height."""
    care = (*cautions(Work.WALL, Work.FIXINGS, units=job.units), *brief(*_works(wall), units=job.units))
    texts = (" ".join(_signs(job.printer, wall.ask, plain=plain)), " ".join(care))

    def made(y: float) -> tuple[list[Item], float]:
        items = list[Item]()
        for text, colour in zip(texts, (SECONDARY, None), strict=True):
            block = blocks.paragraph(text, x=area.x, y=y, width=area.width, size=_CAPTION, colour=colour or SECONDARY)
            items.extend(block.items)
            y = block.bottom + 1.0
        return items, y

    _, high = made(0.0)
    items, _ = made(area.bottom - high)
    return tuple(items), high


def _signs(printer: Printer, ask: Wall, *, plain: bool) -> Iterator[str]:
    units = wording.UNITS[printer.units]
    ends = "from the wall's left edge and from the floor"
    if ask.floor:
        ends = "from the wall's left edge, and straight up from the step or floor below each hook"
    yield f"Ring with cross: hook. Tape figures run {ends}, in {units}; the table has both for every frame."
    if plain:
        yield "Frames stand close together, so that their pictures are left out."
    if ask.labels is not None:
        yield "Small box beside a frame: its label, whose place is in the hanging list."
    if ask.zones:
        yield "Dashes and dots: the zone where frames may hang."
    if ask.keep_clear:
        yield f"Kept clear: {listed([wording.short(kept.name) for kept in ask.keep_clear])}."
    if any(zones(ask, kept) for kept in ask.keep_clear):
        yield "Hatched: cables may run here; use a detector, local rules decide."


def _works(wall: SolvedWall) -> Iterator[Work]:
    """Yield what this wall asks for besides the care that every wall does."""
    if wall.ask.floor or any(needs_ladder(hook.height) for hung in wall.frames for hook in hung.hooks):
        yield Work.LADDER
    if any(is_heavy(hung.frame.mass) for hung in wall.frames):
        yield Work.HEAVY
