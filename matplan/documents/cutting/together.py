"""All boards of a piece measured and drawn together, so that they have one scale and lie at one place."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Final

from matplan.documents.cutting import notes
from matplan.documents.cutting.board import Board
from matplan.documents.cutting.dimensions import STYLE
from matplan.documents.cutting.inscribed import WORDS_HEIGHT, inscribed
from matplan.documents.cutting.lines import board_items, cut_items, mark_size, top_mark
from matplan.documents.cutting.ring import Reading, depths, gap_above, has_room, ring
from matplan.documents.cutting.shares import Way
from matplan.documents.cutting.tables import tables
from matplan.documents.parts.columns import least_height, width_of
from matplan.documents.parts.framed import model_box
from matplan.documents.parts.page import further_scales
from matplan.drawing.blocks import Table
from matplan.drawing.dimensions import draw, place, united
from matplan.drawing.items import Area, Item, ModelBox, Point
from matplan.drawing.pens import PAPER
from matplan.drawing.views import View

_INSET: Final = 4.0
"""Left free between a window's sides and the tables in it."""
_SLACK: Final = 1e-3
_BETWEEN: Final = 2.4
"""Between words, tables and remarks in a window."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Inside:
    """What stands in a board's only window: its words, a column of tables, its remarks."""

    words: Area
    column: Area
    remarks: Area


@dataclass(slots=True)
class Together:
    """The boards of a piece; `parts` are the drawings of each, of which one is enough where it holds all numbers."""

    boards: tuple[Board, ...]
    listed: tuple[tuple[Table, ...], ...] = ()
    """The tables of each board."""
    parts: tuple[tuple[Board, ...], ...] = ()
    _bounds: dict[Fraction, Area | None] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.listed = tuple(tables(board) for board in self.boards)
        self.parts = tuple((board,) for board in self.boards)

    def without(self, dimension: str) -> Together:
        """Return the boards without the dimension of that id, undivided."""
        return Together(
            boards=tuple(
                replace(board, dimensions=tuple(one for one in board.dimensions if one.id != dimension))
                for board in self.boards
            )
        )

    def divide(self, shared: Way, count: int) -> None:
        """Divide each drawing over about so many pages, each with the numbers of a share of the windows."""
        self.parts = tuple(
            tuple(board.with_numbers_of(share) for share in shared(board, count)) for board in self.boards
        )
        self._bounds.clear()

    @property
    def series(self) -> tuple[Fraction, ...]:
        """The scales of the job, the largest first."""
        return tuple(further_scales(self.boards[0].job.units))

    @property
    def model(self) -> ModelBox:
        """The blank, which is that of every board."""
        return self.boards[0].model

    def view(self, scale: Fraction, at: Point) -> View:
        """Return the boards' view with their top left corner there."""
        return View(scale=scale, at=at, model=self.model, mirrored=True)

    # --- room --------------------------------------------------------------------------------------------------------

    def placed(self, scale: Fraction, room: Area) -> Point | None:
        """Return where the boards' top left corner lies so that each drawing stands in the room."""
        _, _, width, height = self.model
        if float(width * scale) > room.width or float(height * scale) > room.height:
            return None
        bounds = self.bounds(scale)
        if bounds is None or bounds.width > room.width + 1e-6 or bounds.height > room.height + 1e-6:
            return None
        return room.centre[0] - bounds.centre[0], room.centre[1] - bounds.centre[1]

    def bounds(self, scale: Fraction) -> Area | None:
        """Return the paper that each drawing takes, its board's corner at zero; `None` where a figure has no room."""
        if scale not in self._bounds:
            self._bounds[scale] = self._measured(self.view(scale, (0.0, 0.0)))
        return self._bounds[scale]

    def free(self, scale: Fraction, room: Area) -> tuple[float, float]:
        """Return how much of the room's width and height the drawings leave at a scale at which they fit."""
        bounds = self._bounds[scale]
        return (0.0, 0.0) if bounds is None else (room.width - bounds.width, room.height - bounds.height)

    def _measured(self, view: View) -> Area | None:
        """Return the paper that the drawings take one over the other, or `None` where a figure finds no room."""
        parts = [part.readings for own in self.parts for part in own]
        if not all(has_room(part, view) for part in parts):
            return None
        if any(inscribed(board, view) is None for board in self.boards):
            return None
        rings = self._ringed(view)
        marks = self._marks(view, rings)
        placed = [
            p.bounds for board in self.boards for p in place(board.dimensions, view, STYLE, part=rings, avoid=marks)
        ]
        return united([rings, *marks, *placed])

    def _marks(self, view: View, rings: Area) -> tuple[Area, ...]:
        """Return what the marks of the top edge take on all drawings; no figure of any of them stands there."""
        parts = (part.readings for own in self.parts for part in own)
        return tuple(_top_mark(readings, view, rings)[1] for readings in parts)

    def _ringed(self, view: View) -> Area:
        """Return the board in that view with a ring that is deep enough for each board."""
        found = (depths(part.readings, view) for own in self.parts for part in own)
        left, above, right, below = map(max, zip(*found, strict=True))
        return view.whole.inset(-left, -above, -right, -below)

    @property
    def width(self) -> float:
        """The width of the widest table."""
        return max(sum(table.widths) for listed in self.listed for table in listed)

    def height(self, width: float, most: float) -> float | None:
        """Return the least height at which a width holds the tables of each board, or `None` above `most`."""
        heights = [least_height(listed, width, most) for listed in self.listed]
        found = [height for height in heights if height is not None]
        return max(found) if len(found) == len(heights) else None

    def beside(self, height: float) -> float:
        """Return the width of the tables of each board in columns of a height."""
        return max(width_of(listed, height) for listed in self.listed)

    # --- in the window -----------------------------------------------------------------------------------------------

    def fits_inside(self, view: View) -> bool:
        """Return whether the window of each board holds its words, its tables and its remarks."""
        return all(self.inside(board, view) is not None for board in self.boards)

    def inside(self, board: Board, view: View) -> Inside | None:
        """Return where words, tables and remarks stand in a board's only window, or `None` without room."""
        if board.several or not board.layer.openings[0].back.upright:
            return None
        area = view.area(model_box(board.layer.openings[0].back.box)).inset(_INSET, _INSET, _INSET, _INSET)
        if area.width < self.width:
            return None
        listed = self.listed[board.layer.number - 1]
        high = least_height(listed, area.width, area.height)
        if high is None:
            return None
        width = width_of(listed, high + _SLACK)
        left = area.x + (area.width - width) / 2
        below = notes.remarks((board,), x=0, y=0, width=width).area.height
        if WORDS_HEIGHT + high + below + 2 * _BETWEEN > area.height:
            return None
        top = area.centre[1] - (WORDS_HEIGHT + high + below + 2 * _BETWEEN) / 2
        words = Area(x=area.x, y=top, width=area.width, height=WORDS_HEIGHT)
        column = Area(x=left, y=words.bottom + _BETWEEN, width=width + _SLACK, height=high + _SLACK)
        return Inside(
            words=words, column=column, remarks=Area(x=left, y=column.bottom + _BETWEEN, width=width, height=below)
        )

    # --- drawn -------------------------------------------------------------------------------------------------------

    def drawn(self, part: Board, view: View, inside: Inside | None) -> Iterator[Item]:
        """Yield the drawing of a board, or of one of those that it is divided into; no letter's paper hides a cut."""
        rings = self._ringed(view)
        yield from board_items(part, view)
        yield from ring(part.readings, view, mark=mark_size(view, part.layer) + 0.6)
        yield from draw(place(part.dimensions, view, STYLE, part=rings, avoid=self._marks(view, rings)), STYLE)
        if inside is not None:
            yield united([inside.column, inside.remarks]).inset(-1.0, -1.0, -1.0, -1.0).rect(fill=PAPER)
        yield from inscribed(part, view, None if inside is None else inside.words) or ()
        yield from cut_items(part, view)
        yield _top_mark(part.readings, view, rings)[0]


def _top_mark(readings: Sequence[Reading], view: View, rings: Area) -> tuple[Item, Area]:
    whole = view.whole
    return top_mark(gap_above(readings, view), whole.centre[0], whole.y, rings.y)
