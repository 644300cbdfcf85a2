"""How the boards of a piece are laid on paper: one paper, one scale and one place for all of its layers.

A page has the board's fields, its remarks, the drawing and its tables. The tables stand below the drawing, beside it,
or in the drop-out of a board with one large window: where the drawing comes out largest. Tables that would make a
drawing with a ring of settings smaller go on on further pages. A board whose numbers no paper holds is divided: each
page shows the whole board with the numbers of some of its windows, and the tables go on beside the drawings.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from matplan.documents.cutting import notes
from matplan.documents.cutting.board import Board
from matplan.documents.cutting.shares import WAYS
from matplan.documents.cutting.together import Together
from matplan.documents.parts.columns import BETWEEN, columns_in
from matplan.documents.parts.paper import Laid, best_paper
from matplan.drawing.items import Area, Point
from matplan.drawing.views import NoScaleFits

GAP: Final = 3.0
"""Between the drawing and what stands round it, in mm of paper."""
_LEAST: Final = 40.0
"""A drawing's room is no smaller, in width and in height."""
_LEAST_TABLE: Final = 36.0
"""Tables begin on the page of a drawing where so much height is left."""
_LOSS_OF_CHAINS: Final = 1
"""So many scales a drawing gives up for tables on its page, if chains of dimensions hold the settings: few rows."""
_REMARKS_BESIDE: Final = (110.0, 80.0, 60.0)
"""Widths of remarks that stand at the right of tables."""
_MOST_DIVISIONS: Final = 64
_SLACK: Final = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """A page shared out. `tables` is None where they stand on another page or in the window.

    `remarks` is None where they stand in the window.
    """

    head: Area
    room: Area
    tables: Area | None = None
    remarks: Area | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """A page's `area` shared out, and the paper point of the boards' top left corner."""

    area: Area
    space: Space
    at: Point


def laid(boards: tuple[Board, ...]) -> tuple[Together, Laid[Layout]]:
    """Return the boards' layout on the paper that suits all of them; the drawing is divided where no paper holds it.

    Raises `NoScaleFits` where not even the largest paper holds the drawings, however they are divided.
    """
    together = Together(boards=boards)
    job, blank = boards[0].job, boards[0].piece.blank
    with suppress(NoScaleFits):
        return together, best_paper(job.units, blank, lambda area: _in(together, _on_one_page(together, area)))
    with suppress(NoScaleFits):
        return together, best_paper(job.units, blank, lambda area: _in(together, _on_pages(together, area)))
    count, most = 1, min(_MOST_DIVISIONS, len(boards[0].order))
    while count < most:
        count = min(count + 1 + count // 4, most)
        for way in WAYS:
            together.divide(way, count)
            with suppress(NoScaleFits):
                return together, best_paper(job.units, blank, lambda area: _in(together, _on_pages(together, area)))
    return together, best_paper(job.units, blank, lambda area: _in(together, _on_pages(together, area)), any_paper=True)


def _in(together: Together, found: _Found | None) -> tuple[Fraction, Layout]:
    """Return the scale and the layout; raises `NoScaleFits` where none is found."""
    if found is None:
        name = together.boards[0].piece.name
        raise NoScaleFits(f"the cutting diagram of {name} has more figures than the paper holds")
    return together.series[found[0]], found[1]


def _on_one_page(together: Together, area: Area) -> _Found | None:
    """Return the largest drawing with all tables on its page, or `None` where they would cost it too much."""
    best: _Found | None = None
    plain = _plain(together, area)
    for space in (*_below(together, area, plain), *_beside(together, plain), *_in_column(together, area)):
        found = _largest(together, space.room)
        if found is not None and (best is None or found[0] < best[0]):
            best = (found[0], Layout(area=area, space=space, at=found[1]))
    room = _within(together, area)
    inside = _largest(together, room.room, inside=True)
    if inside is not None and (best is None or inside[0] < best[0]):
        best = (inside[0], Layout(area=area, space=room, at=inside[1]))
    alone = _largest(together, plain.room)
    loss = _LOSS_OF_CHAINS if together.boards[0].chained else 0
    return None if best is None or (alone is not None and best[0] > alone[0] + loss) else best


def _on_pages(together: Together, area: Area) -> _Found | None:
    """Return the largest drawing with no more of the tables on its page than find room below it or beside it."""
    space = _plain(together, area)
    found = _largest(together, space.room)
    if found is None:
        return None
    number, (x, y) = found
    room, (wide, high) = space.room, together.free(together.series[number], space.room)
    below = room.inset(0, room.height - high + GAP, 0, 0)
    beside = room.inset(room.width - wide + GAP, 0, 0, 0)
    if max(rows := (_held(together, below), _held(together, beside))) == 0:
        return number, Layout(area=area, space=space, at=(x, y))
    if rows[0] >= rows[1]:
        return number, Layout(area=area, space=replace(space, tables=below), at=(x, y - high / 2))
    return number, Layout(area=area, space=replace(space, tables=beside), at=(x - wide / 2, y))


def _held(together: Together, area: Area) -> float:
    """Return the height of the columns of tables that an area holds beside one another."""
    abreast = columns_in(area.width, together.width)
    return 0.0 if area.height < _LEAST_TABLE else abreast * area.height


type _Found = tuple[int, Layout]
"""The place of a scale in the series, and the layout at that scale."""


def _largest(together: Together, room: Area, *, inside: bool = False) -> tuple[int, Point] | None:
    """Return the place of the largest scale in the series at which the room holds the boards, and where they lie.

    With `inside` their windows must hold the tables.
    """
    if min(room.width, room.height) < _LEAST:
        return None
    for number, scale in enumerate(together.series):
        at = together.placed(scale, room)
        if at is not None:
            return (number, at) if not inside or together.fits_inside(together.view(scale, at)) else None
    return None


# --- ways to share out a page ----------------------------------------------------------------------------------------


def _heights(together: Together, width: float) -> tuple[float, float]:
    """Return the heights that the fields and the remarks of all boards take in a width."""
    heads = (notes.head((board,), x=0, y=0, width=width).area.height for board in together.boards)
    remarks = (notes.remarks((board,), x=0, y=0, width=width).area.height for board in together.boards)
    return max(heads), max(remarks)


def _plain(together: Together, area: Area) -> Space:
    """Return a page without tables."""
    head, foot = _heights(together, area.width)
    return Space(
        head=area,
        room=area.inset(0, head + GAP, 0, foot + GAP),
        remarks=area.inset(0, area.height - foot, 0, 0),
    )


def _within(together: Together, area: Area) -> Space:
    """Return a page with the tables and the remarks in the board's window."""
    head, _ = _heights(together, area.width)
    return Space(head=area, room=area.inset(0, head + GAP, 0, 0))


def _below(together: Together, area: Area, plain: Space) -> Iterator[Space]:
    """Yield the drawing over its tables, with the remarks below these or at their right."""
    room = plain.room
    high = together.height(room.width, room.height - _LEAST)
    if high is not None:
        below = Area(x=room.x, y=room.bottom - high, width=room.width, height=high + _SLACK)
        yield replace(plain, room=room.inset(0, 0, 0, high + GAP), tables=below)
    for wide in _REMARKS_BESIDE:
        left = area.inset(0, 0, wide + BETWEEN, 0)
        high = together.height(left.width, area.height - _LEAST) if left.width >= together.width else None
        if high is not None:
            deep = max(high, _heights(together, wide)[1])
            yield replace(
                plain,
                room=Area(x=room.x, y=room.y, width=room.width, height=area.bottom - deep - GAP - room.y),
                tables=left.inset(0, left.height - deep, 0, deep - high - _SLACK),
                remarks=area.inset(left.width + BETWEEN, area.height - deep, 0, 0),
            )


def _beside(together: Together, plain: Space) -> Iterator[Space]:
    """Return the drawing at the left of its tables."""
    area = plain.room
    wide = together.beside(area.height)
    if wide <= area.width - _LEAST - GAP:
        right = Area(x=area.right - wide, y=area.y, width=wide + _SLACK, height=area.height)
        yield replace(plain, room=area.inset(0, 0, wide + GAP, 0), tables=right)


def _in_column(together: Together, area: Area) -> Iterator[Space]:
    """Return the drawing at the left of everything else."""
    wide = together.width
    if wide > area.width / 2:
        return
    right = Area(x=area.right - wide, y=area.y, width=wide, height=area.height)
    head, foot = _heights(together, wide)
    column = right.inset(0, head + GAP, -_SLACK, foot + GAP)
    if together.height(column.width, column.height) is not None:
        yield Space(
            head=right,
            room=area.inset(0, 0, wide + GAP, 0),
            tables=column,
            remarks=right.inset(0, right.height - foot, 0, 0),
        )
