"""The lines of a template in the plan's coordinates: the blank's edge, every back opening of every layer, the works
that float on a mount, and centre lines.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from matplan.documents.parts.windowed import Bounds, bounds_of
from matplan.drawing.pens import Pen
from matplan.job.records import Shape
from matplan.lengths import Box
from matplan.mats.outlines import Outline
from matplan.mats.records import Layer, SolvedPiece
from matplan.mats.shapes.segments import Segment, Straight

LAYER_PENS: Final = (Pen.CUT, Pen.CUT_SECOND, Pen.CUT_THIRD)
"""A line style for each layer from the glazing inwards, the widest lines of the sheet; a fourth begins anew."""
WORK_PEN: Final = Pen.SCORE
"""The line style of a work that floats on its mount."""
_PAST: Final = Fraction(4)
"""How far a window's centre lines reach beyond it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ModelLine:
    """A line to draw: its pieces, its box and that in floats, its pen, and what names it on paper."""

    segments: tuple[Segment, ...]
    box: Box
    bounds: Bounds
    pen: Pen
    name: str
    data: tuple[tuple[str, str], ...] = ()


def layer_pen(layer: Layer) -> Pen:
    """The line style of a layer's openings."""
    return LAYER_PENS[(layer.number - 1) % len(LAYER_PENS)]


def template_lines(piece: SolvedPiece) -> tuple[ModelLine, ...]:
    """All lines of a piece's template: centre lines first, so that edges are drawn over them."""
    blank = Outline(shape=Shape.RECTANGLE, box=Box.of(piece.blank))
    edges = [
        ModelLine(segments=blank.segments, box=blank.box, bounds=bounds_of(blank.box), pen=Pen.OUTLINE, name="blank")
    ]
    edges += [
        ModelLine(
            segments=opening.back.segments,
            box=opening.back.box,
            bounds=bounds_of(opening.back.box),
            pen=layer_pen(layer),
            name="back-opening",
            data=(("layer", str(layer.number)), ("aperture", opening.aperture)),
        )
        for layer in piece.layers
        for opening in layer.openings
    ]
    if piece.ask.floats:
        edges += [
            ModelLine(
                segments=aperture.work.segments,
                box=aperture.work.box,
                bounds=bounds_of(aperture.work.box),
                pen=WORK_PEN,
                name="work",
                data=(("aperture", aperture.name),),
            )
            for aperture in piece.apertures
        ]
    return (*_centre_lines(piece), *edges)


def _centre_lines(piece: SolvedPiece) -> Iterator[ModelLine]:
    """The blank's own from edge to edge, and a window's across it where they are others."""
    blank = Box.of(piece.blank)
    middle = blank.centre
    yield _line((middle[0], blank.y), (middle[0], blank.bottom))
    yield _line((blank.x, middle[1]), (blank.right, middle[1]))
    for box in clear_openings(piece):
        x, y = box.box.centre
        left, right = max(blank.x, box.box.x - _PAST), min(blank.right, box.box.right + _PAST)
        top, bottom = max(blank.y, box.box.y - _PAST), min(blank.bottom, box.box.bottom + _PAST)
        if x != middle[0]:
            yield _line((x, top), (x, bottom))
        if y != middle[1]:
            yield _line((left, y), (right, y))


def clear_openings(piece: SolvedPiece) -> tuple[Outline, ...]:
    """The back openings of the last layer: what falls out of every board; none without a mat."""
    return tuple(opening.back for opening in piece.layers[-1].openings) if piece.layers else ()


def _line(start: tuple[Fraction, Fraction], end: tuple[Fraction, Fraction]) -> ModelLine:
    (x1, y1), (x2, y2) = start, end
    box = Box(x1, y1, x2 - x1, y2 - y1)
    return ModelLine(
        segments=(Straight(start=start, end=end),), box=box, bounds=bounds_of(box), pen=Pen.CENTRE, name="centre-line"
    )
