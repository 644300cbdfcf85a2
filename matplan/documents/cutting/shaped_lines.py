"""What is drawn of a shaped opening on a cutting diagram: its cuts with their marks, the axes of rounds, room for
words.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, Any, Final

from matplan.documents.cutting.marks import start_mark, stop_mark
from matplan.documents.parts.outline_path import outline_on_paper, piece_on_paper
from matplan.drawing.items import Area, Group, Item, Line, Point
from matplan.drawing.pens import Pen
from matplan.drawing.views import View
from matplan.lengths import plain_decimal
from matplan.mats.outline_cuts import OutlineCut, Way
from matplan.mats.outlines import Outline
from matplan.mats.records import LayerOpening

if TYPE_CHECKING:
    from shapely import Polygon

_BEYOND: Final = 3.0
"""How far an axis goes past what it is the axis of, in mm of paper."""
_ROOMY: Final = 13.0
"""From this half axis on there is room for a name and a number beside the centre lines, in mm of paper."""


def way_on_paper(view: View, way: Way) -> Point:
    """Return a direction of the model as it is seen."""
    across, down = float(way[0]), float(way[1])
    return (-across if view.mirrored else across, -down if view.upward else down)


def outline_cut_items(view: View, cut: OutlineCut, opening: LayerOpening, size: float) -> Iterator[Item]:
    """Yield the line that the blade follows, and the marks at its ends; a round that closes has a start alone."""
    facts = (
        ("number", str(cut.number)),
        ("aperture", opening.aperture),
        ("start", " ".join(map(plain_decimal, cut.start))),
        ("stop", " ".join(map(plain_decimal, cut.stop))),
    )
    name, classes, box = f"cut-{cut.number}", ("cut",), cut.box
    bounds = (box.x, box.y, box.width, box.height)
    start, stop = view.point(*cut.start), view.point(*cut.stop)
    if cut.whole:
        yield replace(
            outline_on_paper(opening.back, view), pen=Pen.CUT, id=name, classes=classes, box=bounds, data=facts
        )
    elif cut.round is not None:
        yield replace(
            piece_on_paper(cut.pieces[0], view), pen=Pen.CUT, id=name, classes=classes, box=bounds, data=facts
        )
    else:
        yield Line(start=start, end=stop, pen=Pen.CUT, id=name, classes=classes, box=bounds, data=facts)
    yield Group(classes=("start-mark",), items=(start_mark(start, way_on_paper(view, cut.heading), size),))
    if not cut.whole:
        yield Group(classes=("stop-mark",), items=(stop_mark(stop, way_on_paper(view, cut.leaving), size),))


def axes(view: View, cut: OutlineCut) -> Iterator[Item]:
    """Yield the centre lines of a round: those of a whole one through its line, or its ends alone where it is small; of
    an arc a cross.
    """
    arc = cut.round
    if arc is None:
        return
    x, y = view.point(*arc.centre)
    rx, ry = view.length(arc.rx), view.length(arc.ry)
    if not cut.whole:
        lines = [((x - _BEYOND, y), (x + _BEYOND, y)), ((x, y - _BEYOND), (x, y + _BEYOND))]
    elif min(rx, ry) >= _ROOMY:
        lines = [((x - rx - _BEYOND, y), (x + rx + _BEYOND, y)), ((x, y - ry - _BEYOND), (x, y + ry + _BEYOND))]
    else:
        lines = [((x + s * rx, y), (x + s * (rx + _BEYOND), y)) for s in (-1, 1)]
        lines += [((x, y + s * ry), (x, y + s * (ry + _BEYOND))) for s in (-1, 1)]
    yield Group(classes=("axes",), items=tuple(Line(start=start, end=end, pen=Pen.CENTRE) for start, end in lines))


def free_room(line: Outline, view: View) -> Area:
    """Return the largest area for a few words inside a shaped opening: a rectangle in the largest circle there."""
    from shapely import maximum_inscribed_circle

    free = _drawn(line, view).buffer(-1.2)
    if free.is_empty:
        x, y = view.area((line.box.x, line.box.y, line.box.width, line.box.height)).centre
        return Area(x=x, y=y, width=0.0, height=0.0)
    spoke: Any = maximum_inscribed_circle(free, tolerance=0.1)
    (x, y), reach = spoke.coords[0], spoke.length
    high = min(reach * 0.9, 16.0)
    half = math.sqrt(reach**2 - (high / 2) ** 2)
    return Area(x=x - half, y=y - high / 2, width=2 * half, height=high)


def _drawn(line: Outline, view: View) -> Polygon:
    from shapely import Polygon

    return Polygon([view.point(*point) for point in line.points()])
