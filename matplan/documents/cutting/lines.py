"""What is drawn on the board of a cutting diagram: its edges, openings, cuts with their marks, and the waste."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from typing import Final

from matplan.documents.cutting.board import Board
from matplan.documents.cutting.marks import MARK, start_mark, stop_mark
from matplan.documents.cutting.shaped_lines import axes, outline_cut_items
from matplan.documents.parts.framed import model_box, traced
from matplan.drawing import lettering
from matplan.drawing.items import Area, Group, Item, Line, Polyline, Size, Text
from matplan.drawing.items import Outline as Drawn
from matplan.drawing.pens import INK, Pen
from matplan.drawing.views import View
from matplan.lengths import plain_decimal
from matplan.mats.gauge import GaugeCut
from matplan.mats.outlines import Outline
from matplan.mats.records import Layer

_CLEAR_OF_RING: Final = 2.0
"""Between the mark of the top edge and a reading beside it, in mm of paper."""
_CLEAR: Final = 0.9
"""A face's edge that is drawn nearer to the cut is left out: two lines would look like one."""


def board_items(board: Board, view: View) -> Iterator[Item]:
    """Yield the board as it lies without its cuts: its edge, the waste, the openings, the axes of rounds."""
    layer = board.layer
    yield view.rect(view.model, pen=Pen.OUTLINE, name="blank", classes=("blank",))
    for opening in layer.openings:
        facts = (("aperture", opening.aperture),)
        area = view.area(model_box(opening.back.box))
        yield Group(
            classes=("waste",),
            items=(
                Line(start=(area.x, area.y), end=(area.right, area.bottom), pen=Pen.WASTE),
                Line(start=(area.right, area.y), end=(area.x, area.bottom), pen=Pen.WASTE),
            ),
            clip=None if opening.back.upright else traced(opening.back, view),
        )
        seen = view.length(layer.board.thickness) >= _CLEAR and opening.face.box != opening.back.box
        yield _outline(opening.face, view, Pen.HIDDEN if seen else None, "face-opening", facts)
        yield _outline(opening.back, view, Pen.SCORE, "back-opening", facts)
    for round_cut in board.outlines:
        yield from axes(view, round_cut)


def cut_items(board: Board, view: View) -> Iterator[Item]:
    """Yield the board's cuts with their marks."""
    openings, size = board.layer.openings, mark_size(view, board.layer)
    for cut in board.cuts:
        yield from _cut(view, cut, openings[cut.window].aperture, size)
    for round_cut in board.outlines:
        yield from outline_cut_items(view, round_cut, openings[round_cut.window], size)


def _outline(line: Outline, view: View, pen: Pen | None, name: str, data: tuple[tuple[str, str], ...]) -> Drawn:
    """Return an opening's outline on paper in that pen, with its bounds as the model box."""
    return replace(traced(line, view), pen=pen, classes=(name,), box=model_box(line.box), data=data)


def top_mark(gap: tuple[float, float], middle: float, edge: float, ring: float) -> tuple[Item, Area]:
    """Return a filled triangle that points at the top edge with its words, and what they take.

    They stand in the `gap` above the board's `edge` where they find room there, else above the `ring` in the `middle`.
    """
    words, half, between = "top edge", 1.7, 1.6
    width = lettering.width(words, Size.NORMAL, True) + between + 2 * half
    inside = gap[1] - gap[0] >= width + 2 * _CLEAR_OF_RING
    left, y = (sum(gap) / 2 if inside else middle) - width / 2, (edge - 2.4 if inside else ring - 1.6)
    triangle = Polyline(points=((left, y), (left + half, y - Size.NORMAL), (left + 2 * half, y)), closed=True, fill=INK)
    at = (left + 2 * half + between, y)  # a sharp corner of a polygon may reach past a narrow border
    text = Text(at=at, text=words, size=Size.NORMAL, bold=True, classes=("top-words",), halo=True)
    area = Area(x=left, y=y - Size.NORMAL, width=width, height=Size.NORMAL)
    return Group(classes=("top-edge",), items=(triangle, text)), area


def mark_size(view: View, layer: Layer) -> float:
    """Return how long start and stop marks are.

    They are smaller where openings are small or stand close together, so that they do not meet.
    """
    areas = [view.area(model_box(opening.back.box)) for opening in layer.openings]
    gaps = (
        max(a.x - b.right, b.x - a.right, a.y - b.bottom, b.y - a.bottom) - 2 * view.length(layer.overcut)
        for a, b in combinations(areas, 2)
    )
    sides = min((min(area.width, area.height) for area in areas), default=MARK)
    return min(MARK, max(0.8, min(gaps, default=2 * MARK) / 2), max(0.8, sides / 5))


def _cut(view: View, cut: GaugeCut, aperture: str, size: float) -> Iterator[Item]:
    """Return the line that the blade follows, from start to stop, and the marks at its ends."""
    start, stop = view.point(*cut.start), view.point(*cut.stop)
    along = ((stop[0] > start[0]) - (stop[0] < start[0]), (stop[1] > start[1]) - (stop[1] < start[1]))
    facts = (
        ("number", str(cut.number)),
        ("aperture", aperture),
        ("edge", cut.edge.value),
        ("setting", plain_decimal(cut.setting)),
        ("start", _point(cut.start)),
        ("stop", _point(cut.stop)),
    )
    yield Line(start=start, end=stop, pen=Pen.CUT, id=f"cut-{cut.number}", classes=("cut",), box=cut.box, data=facts)
    yield Group(classes=("start-mark",), items=(start_mark(start, along, size),))
    yield Group(classes=("stop-mark",), items=(stop_mark(stop, along, size),))


def _point(point: tuple[Fraction, Fraction]) -> str:
    return " ".join(map(plain_decimal, point))
