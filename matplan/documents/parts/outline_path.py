"""An opening's outline on paper: one function for every drawing, so that all of them show the same line.

Rectangles and whole ellipses are drawn as such, arcs stay arcs, and a curve that is none (the parallel of an oval)
becomes chords that are nearer to it than a pen can show.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, assert_never

from matplan.drawing.items import ArcTo, Ellipse, Outline, Path, Point, Polyline, Rect, To
from matplan.drawing.views import View
from matplan.mats.outlines import Outline as Line
from matplan.mats.shapes.segments import FINE, Arc, Parallel, Segment, Straight

_CHORD: Final = FINE / 2
"""How far a chord lies from its curve at most, in mm of the model."""


def outline_on_paper(line: Line, view: View) -> Outline:
    """Return the outline in the view, without a pen."""
    box = line.box
    area = view.area((box.x, box.y, box.width, box.height))
    if line.upright:
        return Rect(x=area.x, y=area.y, width=area.width, height=area.height)
    if line.ellipse:
        return Ellipse(centre=area.centre, rx=area.width / 2, ry=area.height / 2)
    if line.straight:
        return Polyline(points=tuple(view.point(*piece.start) for piece in line.segments), closed=True)
    return _path(line.segments, view, closed=True)


def piece_on_paper(piece: Segment, view: View) -> Path:
    """Return one piece of an outline in the view, open, without a pen."""
    return _path((piece,), view, closed=False)


def _path(pieces: tuple[Segment, ...], view: View, *, closed: bool) -> Path:
    return Path(
        start=view.point(*pieces[0].start),
        steps=tuple(step for piece in pieces for step in _steps(piece, view)),
        closed=closed,
    )


def _steps(piece: Segment, view: View) -> Iterator[To | ArcTo]:
    end: Point = view.point(*piece.end)
    match piece:
        case Straight():
            yield To(end=end)
        case Arc():
            yield ArcTo(
                end=end,
                rx=view.length(piece.rx),
                ry=view.length(piece.ry),
                large=piece.large,
                clockwise=view.mirrored == view.upward,
            )
        case Parallel():
            for x, y in piece.inner(_CHORD):
                yield To(end=view.point(x, y))
            yield To(end=end)
        case _:
            assert_never(piece)
