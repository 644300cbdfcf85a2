"""The wall view: a wall to scale with everything that hangs on it and stands before it, and the place of every hook.

Along the left and below runs a tape: how high above the floor and how far from the wall's left edge each hook lies.
Above and at the right stand the group's own measures. A table beside or below gives both figures for every hook by its
number, which is that of the hanging list.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Final

from matplan.documents.parts import wording
from matplan.documents.parts.folio import Folio
from matplan.documents.parts.page import further_scales, papers, title_block
from matplan.documents.parts.pictures import PictureKey, Pictures
from matplan.documents.wall import tapes
from matplan.documents.wall.hook_table import hook_table, table_width
from matplan.documents.wall.hung_frames import (
    MARK,
    eye_line,
    hatched,
    hook_mark,
    hung_frame,
    silhouette,
    thing,
    wall_edge,
    zone_edge,
)
from matplan.documents.wall.names import thing_names
from matplan.drawing import lettering
from matplan.drawing.dimensions import SMALL, Arranged, Dimension, Side, arrange
from matplan.drawing.frame import frame
from matplan.drawing.items import Anchor, Area, Item, Level, ModelBox, Size, Text
from matplan.drawing.pens import SECONDARY
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import NoScaleFits, View
from matplan.job.records import Job
from matplan.lengths import ZERO, Printer
from matplan.walls.cables import zones
from matplan.walls.limits import listed
from matplan.walls.records import SolvedWall
from matplan.walls.work import Mark, marks

LARGE_ENOUGH: Final = Fraction(1, 24)
"""From this scale on no larger paper is tried."""
_GAP: Final = 3.0
_CAPTION: Final = 2.0


def drawn(folio: Folio, wall: SolvedWall) -> tuple[Sheet, ...]:
    """Return the view of a wall."""
    layout = _laid(folio.job, wall)
    return (_sheet(folio.job, wall, folio.smaller(_sizes(wall, layout)), layout),)


def wall_view(job: Job, wall: SolvedWall, pictures: Pictures) -> Sheet:
    """Return the sheet for the wall; windows without a picture show a plain field."""
    return _sheet(job, wall, pictures, _laid(job, wall))


def _sheet(job: Job, wall: SolvedWall, pictures: Pictures, layout: _Layout) -> Sheet:
    view = layout.drawn.view
    words = "seen from the front"
    further = (("Wall", job.printer.size(wall.ask.size)),)
    block = title_block(job, document="Wall view", title=wall.name, view=words, scale=view.scale, further=further)
    return Sheet(
        name=f"wall {wall.ask.file}",
        title=wall.name,
        size=layout.size,
        items=(*frame(layout.size, block).items, *_drawn(wall, pictures, layout)),
        scale=view.scale,
    )


def _sizes(wall: SolvedWall, layout: _Layout) -> dict[PictureKey, tuple[float, float]]:
    """Return how large each window's picture is drawn, in mm of paper."""
    view = layout.drawn.view
    return {
        (piece.ask.file, aperture.name): (view.length(aperture.image.width), view.length(aperture.image.height))
        for piece in (hung.frame.piece for hung in wall.frames)
        for aperture in piece.apertures
    }


# --- layout ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layout:
    """A sheet's size, the wall's view with its dimensions, the room round it, and the table of hooks."""

    size: tuple[float, float]
    drawn: Arranged
    tapes: tuple[Item, ...]
    table: tuple[Item, ...]
    note: tuple[Item, ...]


def _laid(job: Job, wall: SolvedWall) -> _Layout:
    """Return the smallest paper at a good scale, with the table where it leaves the drawing more room; a larger one
    only for a larger scale.
    """
    best: _Layout | None = None
    fault: NoScaleFits | None = None
    for number, (width, height) in enumerate(papers(job.units)):
        for size in ((height, width), (width, height)):
            for beside in (True, False):
                try:
                    made = _laid_on(job, wall, size, beside)
                except NoScaleFits as found:
                    fault = found
                    continue
                if best is None or made.drawn.view.scale > best.drawn.view.scale:
                    best = made
        if best is not None and (best.drawn.view.scale >= LARGE_ENOUGH or number > 0):
            return best
    if best is None:
        raise fault or NoScaleFits("no paper")
    return best


def _laid_on(job: Job, wall: SolvedWall, size: tuple[float, float], beside: bool) -> _Layout:
    printer = job.printer
    area = frame(size, title_block(job, title="", document="")).area
    hooks = marks(wall)
    note = _note(job, wall, area)
    room = area.inset(0, 0, 0, _height(note) + 1.5 if note else 0.0)
    if beside:
        width = table_width(hooks, printer, room.height)
        laid = hook_table(hooks, printer, x=room.right - width, y=room.y, width=width, height=room.height)
        room = room.inset(0, 0, width + _GAP, 0)
    else:
        trial = hook_table(hooks, printer, x=room.x, y=room.y, width=room.width)
        laid = hook_table(hooks, printer, x=room.x, y=room.bottom - trial.area.height, width=room.width)
        room = room.inset(0, 0, 0, trial.area.height + _GAP)
    below, left = _labels(hooks, printer)
    inner = room.inset(tapes.depth(left), 0, 0, tapes.depth(below))
    if min(inner.width, inner.height) <= 0:
        raise NoScaleFits("the figures leave no room for the wall")
    whole: ModelBox = (Fraction(0), Fraction(0), wall.ask.size.width, wall.ask.size.height)
    drawn = arrange(whole, _dimensions(wall, printer), inner, further_scales(job.units), style=SMALL, upward=True)
    return _Layout(
        size=size, drawn=drawn, tapes=_tapes(hooks, printer, drawn.view, room), table=laid.items, note=tuple(note)
    )


def _labels(hooks: Sequence[Mark], printer: Printer) -> tuple[list[str], list[str]]:
    return [printer.number(mark.hook.left) for mark in hooks], [printer.number(mark.hook.height) for mark in hooks]


def _tapes(hooks: Sequence[Mark], printer: Printer, view: View, room: Area) -> tuple[Item, ...]:
    """Return both tapes, each where it has room; hooks in one line share a figure."""
    whole = view.whole
    lefts = {mark.hook.left: (mark.hook.left, ZERO) for mark in hooks}
    heights = {mark.hook.height: (ZERO, mark.hook.height) for mark in hooks}
    below = [
        tapes.Reading(at=view.point(x, ZERO)[0], label=printer.number(x), box=(ZERO, ZERO, x, ZERO))
        for x, _ in lefts.values()
    ]
    beside = [
        tapes.Reading(at=view.point(ZERO, y)[1], label=printer.number(y), box=(ZERO, ZERO, ZERO, y))
        for _, y in heights.values()
    ]
    items: list[Item] = []
    for readings, side, low, high, upright in (
        (below, whole.bottom, max(whole.x - 8, room.x + 2), min(whole.right + 8, room.right - 2), False),
        (beside, whole.x, max(whole.y - 4, room.y + 2), min(whole.bottom + 4, room.bottom - 2), True),
    ):
        items.extend(tapes.tape(readings, side, low, high, upright=upright) or ())
    return tuple(items)


def _dimensions(wall: SolvedWall, printer: Printer) -> list[Dimension]:
    """Above: where the group begins and ends. At the right: its base and top, and the eye line."""
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
    found.append(
        Dimension(
            start=(width, ZERO), end=(width, ask.eye), side=Side.RIGHT, label=printer.number(ask.eye), id="eye-height"
        )
    )
    return found


def _stops(*points: Fraction) -> list[tuple[Fraction, Fraction]]:
    return [(a, b) for a, b in pairwise(points) if a < b]


# --- the drawing -----------------------------------------------------------------------------------------------------


def _drawn(wall: SolvedWall, pictures: Pictures, layout: _Layout) -> Iterator[Item]:
    ask, view = wall.ask, layout.drawn.view
    hooks = marks(wall)
    for kept in ask.keep_clear:
        for strip in zones(ask, kept):
            yield hatched(strip, view)
    yield from zone_edge(ask, view)
    yield eye_line(ask, view)
    for furniture in ask.furniture:
        yield silhouette(furniture, view)
    for kept in ask.keep_clear:
        yield from thing(kept, view)
    for hung in wall.frames:
        yield hung_frame(hung, pictures, view)
    yield wall_edge(ask, view)
    yield from (hook_mark(mark, view) for mark in hooks)
    yield from (_number(mark, view) for mark in hooks)
    yield from thing_names(wall.ask, wall.frames, view)
    yield from layout.drawn.items
    yield from layout.tapes
    yield from layout.table
    yield from layout.note


def _number(mark: Mark, view: View) -> Text:
    """Return the hook's number below its mark, inside the frame."""
    x, y = view.point(mark.hook.left, mark.hook.height)
    room = view.length(min(mark.hung.spot.width, mark.hung.spot.height))
    size = min(Size.SMALL, max(1.4, room * 0.3))
    anchor, reach = Anchor.MIDDLE, 0.0
    if len(mark.hung.hooks) > 1:
        first, last = mark.hung.hooks[0], mark.hung.hooks[-1]
        anchor, reach = (Anchor.START, -MARK) if mark.hook == first else (Anchor.END, MARK)
        half = view.length(last.left - first.left) / 2 + MARK - 0.8
        size = min(size, max(0.8, half / lettering.width(mark.number, 1.0, True)))
    return Text(
        at=(x + reach, y + MARK * 1.7 + 0.7),
        text=mark.number,
        size=size,
        anchor=anchor,
        level=Level.TOP,
        bold=True,
        halo=True,
    )


# --- the note --------------------------------------------------------------------------------------------------------


def _note(job: Job, wall: SolvedWall, area: Area) -> list[Item]:
    """Return what the drawing's signs mean, in one line at the bottom."""
    printer = job.printer
    parts = [
        "Ring with cross: hook. Tape figures run from the wall's left edge and from the floor, in "
        f"{printer.units.value}."
    ]
    if wall.ask.keep_clear:
        parts.append(f"Kept clear: {listed([wording.short(kept.name) for kept in wall.ask.keep_clear])}.")
    if any(zones(wall.ask, kept) for kept in wall.ask.keep_clear):
        parts.append("Hatched: cables may run here; use a detector, local rules decide.")
    text = " ".join(parts)
    lines = lettering.wrapped(text, area.width, _CAPTION)
    pitch = _CAPTION * lettering.LINE_PITCH
    top = area.bottom - pitch * len(lines)
    return [
        Text(at=(area.x, top + pitch * n), text=line, size=_CAPTION, level=Level.TOP, colour=SECONDARY)
        for n, line in enumerate(lines)
    ]


def _height(note: Sequence[Item]) -> float:
    return len(note) * _CAPTION * lettering.LINE_PITCH
