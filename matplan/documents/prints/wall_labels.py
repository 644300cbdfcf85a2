"""Labels of works at full size, to hang beside their frames: each piece's words, with cut marks, several a page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import batched
from typing import Final

from matplan.documents.parts import wording
from matplan.documents.parts.framed import model_box
from matplan.documents.parts.page import paper
from matplan.documents.prints.label_pages import EDGE, FOOT, below, label_sheets
from matplan.documents.prints.marks import cut_marks
from matplan.drawing import lettering
from matplan.drawing.blocks import set_lines
from matplan.drawing.items import Area, Group, Item
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import View
from matplan.job.records import Job
from matplan.lengths import Box
from matplan.lengths import Size as Sized
from matplan.walls.records import HungFrame, SolvedWall
from matplan.walls.work import in_order

_GAP: Final = 10.0
_PAD: Final = 5.0
_LARGEST: Final = 4.2
"""Millimetres: the height of the capitals, to be read from about 1.5 m (own choice)."""


def sheets(job: Job, walls: Sequence[SolvedWall]) -> Iterator[Sheet]:
    """Yield the labels of the walls, wall by wall in the order of work; nothing where no frame has one."""
    for wall in walls:
        hung = [one for one in in_order(wall) if one.label is not None]
        if wall.ask.labels is not None and hung:
            yield from _of_wall(job, wall, hung, wall.ask.labels.size)


def _of_wall(job: Job, wall: SolvedWall, hung: Sequence[HungFrame], size: Sized) -> Iterator[Sheet]:
    page = paper(job.units).portrait
    wide = float(size.width)
    if wide > page[0] - 2 * EDGE:
        page = page[1], page[0]
    many = max(int((page[0] - 2 * EDGE + _GAP) // (wide + _GAP)), 1)
    left = (page[0] - many * wide - (many - 1) * _GAP) / 2
    pages: list[list[Item]] = [[]]
    y = EDGE
    for row in batched(hung, many):
        made = [_label(job, one, size, left + n * (wide + _GAP), y) for n, one in enumerate(row)]
        high = max(area.height for _, area in made)
        if pages[-1] and y + high > page[1] - FOOT:
            pages.append([])
            made = [_label(job, one, size, left + n * (wide + _GAP), EDGE) for n, one in enumerate(row)]
            y = EDGE
        pages[-1].extend(group for group, _ in made)
        y += high + _GAP
    yield from label_sheets(f"wall labels {wall.ask.file}", f"Wall labels, {wording.short(wall.name)}", page, pages)


def _label(job: Job, hung: HungFrame, size: Sized, x: float, y: float) -> tuple[Group, Area]:
    """Return a label with its cut marks; higher than asked for, and told so, where its words need that."""
    wide, high = float(size.width), float(size.height)
    pad = min(_PAD, wide / 12, high / 8)
    words = lettering.isolated(hung.frame.piece.ask.label)
    found = lettering.held(words, wide - 2 * pad, high - 2 * pad, _LARGEST)
    need = job.printer.step.up(Fraction(found.height + 2 * pad + 0.3 * found.size))
    grown = found.height + 2 * pad > high + 1e-6
    box = Box.of(Sized(size.width, need if grown else size.height))
    area = Area(x=x, y=y, width=wide, height=float(box.height))
    view = View(scale=Fraction(1), at=(x, y), model=model_box(box))
    printer = job.printer
    text = f"needs {printer.length(need)} of height, not {printer.length(size.height)}"
    told = [below(area, text)] if grown else []
    items: tuple[Item, ...] = (
        view.rect(model_box(box), classes=("label",)),
        *cut_marks(view, box),
        *set_lines(found, x + pad, y + pad, classes=("words",)),
        *told,
    )
    data = (("piece", hung.name), ("copy", str(hung.copy)))
    return Group(classes=("wall-label",), items=items, data=data), area.inset(0, 0, 0, -5.0 if told else 0.0)
