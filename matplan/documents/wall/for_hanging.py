"""The wall for the people who hang it, in one file: its view, then the hanging list with boxes to tick."""

from __future__ import annotations

from matplan.documents.parts.folio import Folio
from matplan.documents.wall import hanging_list, view
from matplan.drawing.sheet import Sheet
from matplan.walls.records import SolvedWall


def drawn(folio: Folio, wall: SolvedWall) -> tuple[Sheet, ...]:
    """Return the view of a wall and its hanging list."""
    return (*view.drawn(folio, wall), *hanging_list.drawn(folio, wall))
