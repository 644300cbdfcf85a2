"""How the boards of a piece are laid on paper: one paper, one scale and one place for all of its layers.

A page has the board's fields at the top, its remarks at the foot, and between them the drawing with its tables below
or beside it. Tables that would cost the drawing more than one scale go on on pages of their own. A board whose numbers
no paper holds is divided: each page shows the whole board with the numbers of some of its windows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Final

from matplan.documents.cutting import notes, tables
from matplan.documents.cutting.board import Board
from matplan.documents.cutting.dimensions import STYLE
from matplan.documents.cutting.inscribed import inscribed
from matplan.documents.cutting.lines import board_items, mark_size, top_mark
from matplan.documents.cutting.ring import Depths, Reading, depths, gap_above, has_room, ring
from matplan.documents.parts.page import further_scales
from matplan.documents.parts.paper import Laid, best_paper
from matplan.drawing.dimensions import Placed, draw, place, united
from matplan.drawing.items import Area, Item, ModelBox, Point
from matplan.drawing.views import NoScaleFits, View

GAP: Final = 3.0
"""Between the drawing and what stands round it, in mm of paper."""
_LEAST: Final = 40.0
"""A drawing's room is no smaller, in width and in height."""
_MOST_DIVISIONS: Final = 64
_COLUMNS_BESIDE: Final = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """A page shared out: the drawing's room, and where the tables stand; no columns where they go on another page."""

    area: Area
    room: Area
    columns: tuple[Area, ...]
    remarks: float
    """Where the remarks begin."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """Where the boards lie on each page: `at` is the paper point of a board's top left corner."""

    space: Space
    at: Point


@dataclass(slots=True)
class Boards:
    """All boards of a piece, measured together."""

    boards: tuple[Board, ...]
    count: int = 1
    """Over how many pages each drawing is divided."""
    _bounds: dict[Fraction, Area | None] = field(default_factory=dict)
    _listed: tuple[tuple[tables.Listing, ...], ...] = ()
    _width: float = 0.0

    def __post_init__(self) -> None:
        self._listed = tuple(tables.listings(board) for board in self.boards)
        self._width = max(map(tables.natural_width, self._listed))

    def laid(self) -> Laid[Layout]:
        """Return the layout on the paper that suits all boards; the drawing is divided where no paper holds it.

        Raises `NoScaleFits` where no paper holds the drawings however they are divided.
        """
        job, blank = self.boards[0].job, self.boards[0].piece.blank
        with suppress(NoScaleFits):
            return best_paper(job.units, blank, self._on_one_page)
        while True:
            try:
                return best_paper(job.units, blank, self._on_pages)
            except NoScaleFits:
                if self.count >= min(_MOST_DIVISIONS, len(self.boards[0].order)):
                    raise
            self.count *= 2
            self._bounds.clear()

    def _on_one_page(self, area: Area) -> tuple[Fraction, Layout]:
        """Return the scale and the layout with all tables on the drawing's page.

        Raises `NoScaleFits` also where the tables cost the drawing more than one scale.
        """
        best: tuple[int, Layout] | None = None
        for space in self._spaces(area):
            found = self._largest(space.room)
            if found is not None and (best is None or found[0] < best[0]):
                best = (found[0], Layout(space=space, at=found[1]))
        alone = self._largest(self._middle(area).room)
        if best is None or alone is None or best[0] > alone[0] + 1:
            raise self._no_room()
        return self._series[best[0]], best[1]

    def _on_pages(self, area: Area) -> tuple[Fraction, Layout]:
        """Return the scale and the layout with the tables on pages of their own."""
        space = self._middle(area)
        found = self._largest(space.room)
        if found is None:
            raise self._no_room()
        return self._series[found[0]], Layout(space=space, at=found[1])

    @property
    def _series(self) -> tuple[Fraction, ...]:
        return tuple(further_scales(self.boards[0].job.units))

    def _no_room(self) -> NoScaleFits:
        return NoScaleFits(f"the cutting diagram of {self.boards[0].piece.name} has more figures than the paper holds")

    def _largest(self, room: Area) -> tuple[int, Point] | None:
        """Return the place of the largest scale in the series at which the room holds the boards, and where they lie."""
        if min(room.width, room.height) < _LEAST:
            return None
        return next(
            ((n, at) for n, scale in enumerate(self._series) if (at := self._placed(scale, room)) is not None), None
        )

    def _placed(self, scale: Fraction, room: Area) -> Point | None:
        """Return where the boards' top left corner lies so that each drawing stands in the room."""
        blank = self.boards[0].piece.blank
        if float(blank.width * scale) > room.width or float(blank.height * scale) > room.height:
            return None
        bounds = self._bounds_at(scale)
        if bounds is None or bounds.width > room.width + 1e-6 or bounds.height > room.height + 1e-6:
            return None
        return room.centre[0] - bounds.centre[0], room.centre[1] - bounds.centre[1]

    def _bounds_at(self, scale: Fraction) -> Area | None:
        """Return the paper that the drawings take one over the other, from the boards' top left corner.

        `None` where numbers or letters find no room at that scale.
        """
        if scale not in self._bounds:
            self._bounds[scale] = self._measured(View(scale=scale, at=(0.0, 0.0), model=self.model, mirrored=True))
        return self._bounds[scale]

    def _measured(self, view: View) -> Area | None:
        parts = [part.readings for board in self.boards for part in board.divided(self.count)]
        if not all(has_room(part, view) for part in parts):
            return None
        if any(inscribed(board, view) is None for board in self.boards):
            return None
        rings = ringed(view, self.depths)
        marks = [_top_mark(part, view, rings)[1] for part in parts]
        return united([rings, *marks, *(placed.bounds for placed in self._dimensions(view))])

    @property
    def model(self) -> ModelBox:
        """The blank, which is that of every board."""
        return self.boards[0].model

    @property
    def depths(self) -> Depths:
        """What the rings of all boards take at most on each side."""
        return depths(r for board in self.boards for part in board.divided(self.count) for r in part.readings)

    def _dimensions(self, view: View) -> Iterator[Placed]:
        for board in self.boards:
            yield from place(board.dimensions, view, STYLE, part=ringed(view, self.depths))

    def drawn(self, part: Board, scale: Fraction, at: Point) -> Iterator[Item]:
        """Yield the drawing of a board, or of one of those that it is divided into."""
        view = View(scale=scale, at=at, model=self.model, mirrored=True)
        rings = ringed(view, self.depths)
        yield from board_items(part, view)
        yield from ring(part.readings, view, mark=mark_size(view, part.layer) + 0.6)
        yield from draw(place(part.dimensions, view, STYLE, part=rings), STYLE)
        yield from inscribed(part, view) or ()
        yield _top_mark(part.readings, view, rings)[0]

    def _spaces(self, area: Area) -> Iterator[Space]:
        """Return the ways to share out a page among drawing and tables, the plainest first."""
        middle = self._middle(area)
        for room, columns in (*self._below(middle.room), *self._beside(middle.room)):
            yield replace(middle, room=room, columns=columns)

    def _middle(self, area: Area) -> Space:
        """Return a page without tables."""
        heads = max(notes.head(board, x=0, y=0, width=area.width).area.height for board in self.boards)
        foot = max(notes.remarks(board, x=0, y=0, width=area.width).area.height for board in self.boards)
        room = area.inset(0, heads + GAP, 0, foot + GAP)
        return Space(area=area, room=room, columns=(), remarks=area.bottom - foot)

    def _below(self, area: Area) -> Iterator[_Share]:
        """Return the drawing over its tables."""
        columns = tables.side_by_side(area, self._width)
        high = self._height(columns, area.height - _LEAST)
        if high is not None:
            top = area.bottom - high
            yield (
                area.inset(0, 0, 0, high + GAP),
                tuple(Area(x=c.x, y=top, width=c.width, height=high) for c in columns),
            )

    def _beside(self, area: Area) -> Iterator[_Share]:
        """Return the drawing at the left of its tables."""
        for count in range(1, _COLUMNS_BESIDE + 1):
            wide = count * self._width + (count - 1) * tables.GAP
            if wide > area.width - _LEAST - GAP:
                return
            right = Area(x=area.right - wide, y=area.y, width=wide, height=area.height)
            columns = tables.side_by_side(right, self._width)
            if self._height(columns, area.height) is not None:
                yield area.inset(0, 0, wide + GAP, 0), columns
                return

    def _height(self, columns: Sequence[Area], most: float) -> float | None:
        """Return the least height at which the columns hold the tables of each board."""
        measured = [tables.Tables.of(one, columns[0].width) for one in self._listed]
        heights = [one.least_height(len(columns), most) for one in measured]
        found = [height for height in heights if height is not None]
        return max(found) if len(found) == len(heights) else None


type _Share = tuple[Area, tuple[Area, ...]]
"""The drawing's room and the columns for the tables."""


def ringed(view: View, deep: Depths) -> Area:
    """Return the board in that view with its ring."""
    left, above, right, below = deep
    return view.whole.inset(-left, -above, -right, -below)


def _top_mark(readings: Sequence[Reading], view: View, rings: Area) -> tuple[Item, Area]:
    whole = view.whole
    return top_mark(gap_above(readings, view), whole.centre[0], whole.y, rings.y)
