"""The wall view: a wall to scale with everything that hangs on it and stands before it, and the place of every hook.

Along the left and below runs a tape: how high above the floor and how far from the wall's left edge each hook lies. On
a stair each height is measured from the floor's line instead. Above and at the right stand the group's own measures. A
table beside or below, or on the next page, gives both figures for every frame by its number, which is that of the
hanging list. A wall that is too long for a paper is divided into stretches, a page each.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import repeat
from typing import Final

from matplan.documents.parts.columns import least_height, rooms, set_in
from matplan.documents.parts.folio import Folio
from matplan.documents.parts.page import further_scales, scales, title_block
from matplan.documents.parts.paper import Laid, best_paper
from matplan.documents.parts.pictures import PictureKey, Pictures
from matplan.documents.wall import distances, numbers, stairs, tapes
from matplan.documents.wall.figures import figures
from matplan.documents.wall.group_place import dimensions
from matplan.documents.wall.hung_frames import (
    break_line,
    eye_lines,
    floor_line,
    hatched,
    hook_mark,
    hung_frame,
    image_sizes,
    label_box,
    plain_frame,
    silhouette,
    stretch_edge,
    thing,
    wall_edge,
    zone_edge,
)
from matplan.documents.wall.names import taken_of, thing_names
from matplan.documents.wall.note import note_of
from matplan.documents.wall.numbers import Numbers
from matplan.documents.wall.stairs import Heights
from matplan.documents.wall.stretches import Stretch, divisions, whole
from matplan.drawing.dimensions import SMALL, Arranged, arrange
from matplan.drawing.frame import drawing_area, frame
from matplan.drawing.items import Area, Group, Item
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import NoScaleFits, View
from matplan.job.records import Job, Wall
from matplan.lengths import ZERO, Printer
from matplan.walls.cables import zones
from matplan.walls.records import SolvedWall
from matplan.walls.work import Mark

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


def _once(folio: Folio, wall: SolvedWall) -> Laid[_Parts]:
    return folio.once(("wall view", wall.ask.file), lambda: _laid(folio.job, wall))


def wall_view(job: Job, wall: SolvedWall, pictures: Pictures) -> tuple[Sheet, ...]:
    """Return the sheets for the wall; windows without a picture show a plain field."""
    return _sheets(job, wall, pictures, _laid(job, wall))


def _sizes(wall: SolvedWall, parts: _Parts) -> dict[PictureKey, tuple[float, float]]:
    return {} if parts[0].numbers.inside else image_sizes(wall, parts[0].drawn.view)


type _Fields = tuple[tuple[str, str], ...]


def _sheets(job: Job, wall: SolvedWall, pictures: Pictures, laid: Laid[_Parts]) -> tuple[Sheet, ...]:
    pages: list[tuple[bool, _Fields, tuple[Item, ...]]] = []
    for part in laid.made:
        stretch = part.stretch
        further: _Fields = (("Stretch", f"{stretch.place} of {stretch.count}"),) if stretch.count > 1 else ()
        pages.append((True, further, tuple(_drawn(pictures, part, job.printer))))
        if part.table is None:
            tables = figures(stretch.wall, job.printer, stretch.first)
            listed_ = set_in(tables, repeat(drawing_area(laid.size)), ("hooks",)) if tables else ()
            pages.extend((False, further, items) for items in listed_)
    made = []
    for page, (is_view, further, items) in enumerate(pages, 1):
        block = title_block(
            job,
            document="Wall view" if is_view else "Wall view, hooks",
            title=wall.name,
            view="seen from the front" if is_view else "",
            scale=laid.scale if is_view else None,
            sheet=(page, len(pages)) if len(pages) > 1 else None,
            further=(("Wall", job.printer.size(wall.ask.size)), *further),
        )
        made.append(
            Sheet(
                name=f"wall {wall.ask.file}" + ("" if page == 1 else f" {page}"),
                title=wall.name if page == 1 else f"{wall.name}, page {page}",
                size=laid.size,
                items=(*frame(laid.size, block).items, *items),
                scale=laid.scale if is_view else None,
            )
        )
    return tuple(made)


# --- layout ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layout:
    """A stretch's view with its dimensions, tapes, numbers and note; its table, where that stands on the page too.
    `heights` are those of a stair."""

    stretch: Stretch
    drawn: Arranged
    tapes: tuple[Item, ...]
    heights: Heights
    numbers: Numbers
    note: tuple[Item, ...]
    table: tuple[Item, ...] | None


type _Parts = tuple[_Layout, ...]
"""The wall's stretches from left to right at one scale; the whole wall, where that fits."""


def _laid(job: Job, wall: SolvedWall) -> Laid[_Parts]:
    """Return the view on its paper: with the frames' numbers beside them, else within frames without their pictures.

    A wall that no paper holds at a scale of the series is divided; where it cannot be, its scale is a further one.
    """
    all_of_it, every = whole(wall), further_scales(job.units)
    return (
        _alone(job, all_of_it, _WAYS, scales(job.units))
        or _divided(job, wall)
        or _alone(job, all_of_it, (*_WAYS, _anyhow), every)
        or _on_any_paper(job, all_of_it, every)
    )


def _alone(job: Job, part: Stretch, ways: Sequence[_Way], series: Sequence[Fraction]) -> Laid[_Parts] | None:
    for way in ways:
        try:
            laid = best_paper(job.units, part.wall.ask.size, _layer(job, part, way, series))
        except NoScaleFits:
            continue
        return Laid(size=laid.size, scale=laid.scale, made=(laid.made,))
    return None


def _on_any_paper(job: Job, part: Stretch, series: Sequence[Fraction]) -> Laid[_Parts]:
    laid = best_paper(job.units, part.wall.ask.size, _layer(job, part, _anyhow, series), any_paper=True)
    return Laid(size=laid.size, scale=laid.scale, made=(laid.made,))


def _layer(
    job: Job, part: Stretch, way: _Way, series: Sequence[Fraction]
) -> Callable[[Area], tuple[Fraction, _Layout]]:
    return lambda area: _on(job, part, area, way, series)


def _divided(job: Job, wall: SolvedWall) -> Laid[_Parts] | None:
    """Return the view on the fewest pages, all of one paper and scale."""
    for parts, size, scale in divisions(wall, job):
        for way in _WAYS:
            try:
                made = tuple(_on(job, part, drawing_area(size), way, (scale,))[1] for part in parts)
            except NoScaleFits:
                continue
            return Laid(size=size, scale=scale, made=made)
    return None


type _Way = Callable[[Stretch, View], Numbers | None]
"""Where the frames' numbers stand in a view, or `None` where they have no room so."""


def _clear(part: Stretch, view: View) -> Numbers | None:
    """Return the numbers beside frames whose pictures are large enough to be told apart."""
    least = min((min(hung.spot.width, hung.spot.height) for hung in part.wall.frames), default=None)
    return _beside(part, view) if least is None or view.length(least) >= _CLEAR else None


def _beside(part: Stretch, view: View) -> Numbers | None:
    return numbers.beside(part.wall, view, part.first)


def _inside(part: Stretch, view: View) -> Numbers | None:
    return numbers.inside(part.wall, view, first=part.first)


def _anyhow(part: Stretch, view: View) -> Numbers | None:
    return numbers.inside(part.wall, view, least=True, first=part.first)


_WAYS: Final[tuple[_Way, ...]] = (_clear, _beside, _inside)


def _on(job: Job, part: Stretch, area: Area, way: _Way, series: Sequence[Fraction]) -> tuple[Fraction, _Layout]:
    """Return the layout at the best scale, with the table below, at the right or on the next page."""
    note, high = note_of(job, part, area, plain=way in (_inside, _anyhow))
    room, tables = area.inset(0, 0, 0, high + 2.5), figures(part.wall, job.printer, part.first)
    found: list[tuple[float, int, _Layout]] = []
    few = way is _clear and least_height(tables, area.width, area.height * _SHORT) is not None
    for order, (own, listing) in enumerate(rooms(room, tables)):
        if listing is None and few and found:
            continue  # a smaller scale rather than a page for a few rows
        try:
            layout = _placed(job, part, own, way, series)
        except NoScaleFits:
            continue
        table = None if listing is None else next(set_in(tables, repeat(listing), ("hooks",)))
        rank = series.index(layout.drawn.view.scale) + (0 if listing is not None else _APART)
        found.append((rank, order, replace(layout, note=note, table=table)))
    if not found:
        raise NoScaleFits("the figures leave no room for the wall")
    _, _, best = min(found, key=lambda one: one[:2])
    return best.drawn.view.scale, best


def _placed(job: Job, part: Stretch, room: Area, way: _Way, series: Sequence[Fraction]) -> _Layout:
    printer, wall, hooks = job.printer, part.wall, part.hooks
    below = [printer.tape(mark.hook.left) for mark in hooks]
    left = [] if wall.ask.floor else [printer.tape(mark.hook.height) for mark in hooks]
    inner = room.inset(tapes.depth(left), 0, 0, tapes.depth(below))
    if min(inner.width, inner.height) <= 0:
        raise NoScaleFits("the figures leave no room for the wall")
    placed = arrange(part.box, dimensions(part, printer), inner, series, style=SMALL, upward=True)
    marked = way(part, placed.view)
    if marked is None:
        raise NoScaleFits("the frames' numbers find no room")
    heights: Heights | None = Heights()
    if wall.ask.floor:
        taken = taken_of(wall.ask, wall.frames, placed.view, marked.spots)
        heights = stairs.heights(wall, hooks, placed.view, printer, taken)
        if heights is None and way is not _anyhow:
            raise NoScaleFits("the heights above the stair find no room")
    tape = _tapes(wall, hooks, printer, placed.view, room)
    return _Layout(
        stretch=part, drawn=placed, tapes=tape, heights=heights or Heights(), numbers=marked, note=(), table=None
    )


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


# --- the drawing -----------------------------------------------------------------------------------------------------


def _drawn(pictures: Pictures, part: _Layout, printer: Printer) -> Iterator[Item]:
    stretch, view = part.stretch, part.drawn.view
    wall, ask = stretch.wall, stretch.wall.ask
    if stretch.count == 1:
        yield from _behind(ask, view)
    else:
        yield Group(items=tuple(_behind(ask, view)), clip=stretch_edge(view, stretch.begins, stretch.ends))
    yield from eye_lines(ask, view)
    yield from part.heights.items
    for hung in wall.frames:
        yield plain_frame(hung, view) if part.numbers.inside else hung_frame(hung, pictures, view)
        yield from label_box(hung, view)
    if stretch.count == 1:
        yield wall_edge(ask, view)
    else:
        yield Group(items=(wall_edge(ask, view),), clip=stretch_edge(view, stretch.begins, stretch.ends))
        yield from (
            break_line(view, right=right) for right in (False, True) if not (stretch.begins, stretch.ends)[right]
        )
    yield from (hook_mark(mark, view) for mark in stretch.hooks)
    yield from numbers.drawn(wall, part.numbers)
    taken = taken_of(ask, wall.frames, view, part.numbers.spots)
    taken.lines.extend(part.heights.lines)
    taken.areas.extend(part.heights.areas)
    yield from distances.drawn(wall, view, printer, taken)
    yield from thing_names(ask, view, taken)
    yield from part.drawn.items
    yield from part.tapes
    yield from part.table or ()
    yield from part.note


def _behind(ask: Wall, view: View) -> Iterator[Item]:
    """Yield what is on the wall and before it but for the frames."""
    edge = wall_edge(ask, view)
    for kept in ask.keep_clear:
        for strip in zones(ask, kept):
            yield replace(hatched(strip, view), clip=edge)
    yield Group(items=tuple(zone_edge(ask, view)), clip=edge)
    yield from floor_line(ask, view)
    for furniture in ask.furniture:
        yield silhouette(furniture, view)
    for kept in ask.keep_clear:
        yield from thing(kept, view)
