"""Cards for the shop that cuts mats: one for each mat that is bought cut, four a page, to be cut apart.

A card says all that the shop asks, seen from the front. Where a mat has more openings than its card holds beside the
sketch, they are told on the next card.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from fractions import Fraction
from itertools import count, pairwise
from typing import Final

from matplan.documents.ordering.mats import CUTS, MatWindow, OrderedMat, ordered_mats
from matplan.documents.parts import wording
from matplan.documents.parts.facts import fact_list
from matplan.documents.parts.folio import Folio
from matplan.documents.parts.outline_path import outline_on_paper
from matplan.documents.parts.page import further_scales, paper
from matplan.documents.parts.wording import Fact
from matplan.drawing import lettering
from matplan.drawing.blocks import Align, Column, Table, paragraph, set_lines
from matplan.drawing.dimensions import Arranged, Dimension, ModelPoint, Side, arrange
from matplan.drawing.items import Anchor, Area, Group, Item, Level, Line, ModelBox, Size, Text
from matplan.drawing.measure import SMALL
from matplan.drawing.pens import PAPER, SECONDARY, TINT, Pen
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import NoScaleFits, View
from matplan.job.records import Job, Shape
from matplan.lengths import ZERO, Printer
from matplan.planning import Plan

_EDGE: Final = 7.0
"""Left free at a card's edges, in mm."""
_HEAD: Final = 9.0
_FOOT: Final = 9.0
_GAP: Final = 2.5
_LEAST_SKETCH: Final = 48.0
_LEAST_OF_ONE: Final = 36.0
"""The least height of a sketch: with letters in its openings, and of a mat with one opening."""
_ROUND: Final = 0.5
"""The part of a shaped opening's width and height that is free for a letter: as an arch's bow is there."""


def drawn(_folio: Folio, plan: Plan) -> tuple[Sheet, ...]:
    """Return the cards, four a page; nothing where no mat is bought cut."""
    size = paper(plan.job.units).portrait
    mats, places = ordered_mats(plan), _places(size)
    pages: dict[int, list[Item]] = {}
    for mat in mats:
        for number, card in _cards(mat, len(mats), plan.job, places):
            pages.setdefault(number, []).append(card)
    title = "Mats to be cut"
    return tuple(
        Sheet(
            name=f"mats {number}",
            title=title if len(pages) == 1 else f"{title}, sheet {number}",
            size=size,
            items=(*_edges(size), *cards),
        )
        for number, cards in pages.items()
    )


type _Place = tuple[int, Area]
"""The number of a page, and a quarter of it without its edge."""


def _places(size: tuple[float, float]) -> Iterator[_Place]:
    width, height = size[0] / 2, size[1] / 2
    for page in count(1):
        for x, y in ((0.0, 0.0), (width, 0.0), (0.0, height), (width, height)):
            yield page, Area(x=x, y=y, width=width, height=height).inset(_EDGE, _EDGE, _EDGE, _EDGE)


def _edges(size: tuple[float, float]) -> Iterator[Item]:
    """Yield the lines along which the cards are cut apart."""
    width, height = size
    yield Line(start=(width / 2, 0), end=(width / 2, height), pen=Pen.RULE, classes=("cut-mark",))
    yield Line(start=(0, height / 2), end=(width, height / 2), pen=Pen.RULE, classes=("cut-mark",))


def _cards(mat: OrderedMat, of: int, job: Job, places: Iterator[_Place]) -> Iterator[tuple[int, Item]]:
    """Yield each card of a mat with its page: facts, openings and sketch; openings that find no room on cards of their
    own.
    """
    name, printer = f"Mat {mat.number} of {of}", job.printer
    page, area = next(places)
    facts = fact_list("", tuple(_facts(mat, printer)), x=area.x, y=area.y + _HEAD, width=area.width)
    table = _openings(mat, printer, area.width)
    top = facts.bottom + _GAP
    last, items = 0, facts.items
    least = _LEAST_SKETCH if len(mat.windows) > 1 else _LEAST_OF_ONE
    if table.head_height + sum(table.heights) <= area.bottom - _FOOT - least - top:
        last = len(table.heights)
        block = table.block(0, last, area.x, top, ("openings",))
        top, items = block.bottom + _GAP, (*items, *block.items)
    room = area.inset(0, top - area.y, 0, _FOOT)
    yield page, _card(name, job, area, (*items, *_sketch(mat, printer, room)))
    while last < len(table.heights):
        page, area = next(places)
        top, first = area.y + _HEAD, last
        last = _rows(table, first, area.bottom - _FOOT - top)
        block = table.block(first, last, area.x, top, ("openings",))
        yield page, _card(f"{name}, continued", job, area, block.items)


def _rows(table: Table, first: int, room: float) -> int:
    """Return the row before which a table that begins with `first` ends, so that it fits; one row at least."""
    last, height = first, table.head_height
    while last < len(table.heights) and (last == first or height + table.heights[last] <= room):
        height += table.heights[last]
        last += 1
    return last


def _card(name: str, job: Job, area: Area, items: tuple[Item, ...]) -> Group:
    """Return a card with what stands on it between its head and its foot."""
    wide = lettering.width(name, Size.NORMAL, True) + 4
    units = wording.UNITS[job.units]
    foot = (
        f"Figures in {units}, seen from the front. A clear opening is what one sees through this board: it is measured "
        "at the narrow edge of the cut."
    )
    lines = paragraph(foot, x=area.x, y=area.bottom - 5.6, width=area.width, size=Size.CAPTION, colour=SECONDARY)
    title = lettering.held(job.title, area.width - wide, Size.NORMAL + 1.0, Size.SMALL)
    head = (
        Text(at=(area.x, area.y), text=name, size=Size.NORMAL, level=Level.TOP, bold=True),
        *set_lines(title, area.right, area.y + 0.4, colour=SECONDARY, anchor=Anchor.END),
    )
    return Group(classes=("card",), items=(*(text for text in head if text.text), *items, *lines.items))


def _facts(mat: OrderedMat, printer: Printer) -> Iterator[Fact]:
    line = mat.line
    yield "Quantity", str(line.quantity)
    if mat.ready_cut:
        yield "Standard mat", wording.short(line.material)
    yield "Outer size", printer.size(mat.size)
    yield "Board", f"{mat.board}, {printer.fine(mat.layer.board.thickness)}"
    yield "Cut", CUTS[mat.layer.cut]
    for layers in mat.layers():
        yield "Layer", layers
    for window in mat.windows:
        if shape := window.shape_in_words(printer):
            yield (f"Shape, {window.letter}" if len(mat.windows) > 1 else "Shape"), shape
    if mat.ready_cut:
        yield "Note", line.note
    yield "For", mat.wanted_for()
    if line.supplier:
        yield "From", wording.short(line.supplier)


def _openings(mat: OrderedMat, printer: Printer, width: float) -> Table:
    """Return the table of the openings: each clear opening, and its distances from the edges."""
    several = len(mat.windows) > 1
    columns = [Column(head="", bold=True)] if several else []
    columns += [Column(head="Clear opening")]
    columns += [Column(head=f"From\n{side}", align=Align.RIGHT) for side in ("left", "top", "right", "bottom")]
    rows = []
    for window in mat.windows:
        sides, size = window.sides, window.size
        clear = f"{printer.number(size.width)} × {printer.number(size.height)}"
        edges = [printer.number(side) for side in (sides.left, sides.top, sides.right, sides.bottom)]
        rows.append((*((window.letter,) if several else ()), clear, *edges))
    return Table(columns, rows, width=width)


def _sketch(mat: OrderedMat, printer: Printer, room: Area) -> Iterator[Item]:
    """Yield the mat to scale, its openings with their letters; where there is one, all its dimensions."""
    model = (ZERO, ZERO, mat.size.width, mat.size.height)
    laid = _laid(model, tuple(_dimensions(mat, printer)), room, printer)
    if laid is None:
        yield from paragraph(_NO_SKETCH, x=room.x, y=room.y, width=room.width, size=Size.CAPTION).items
        return
    yield laid.view.rect(model, pen=Pen.OUTLINE, fill=TINT, name=f"blank-{mat.number}", classes=("blank",))
    for window in mat.windows:
        yield from _window(window, laid.view, lettered=len(mat.windows) > 1)
    yield from laid.items


_NO_SKETCH: Final = "A sketch finds no room here; the distances tell where each opening lies."


def _laid(model: ModelBox, dimensions: tuple[Dimension, ...], room: Area, printer: Printer) -> Arranged | None:
    """Return the sketch with its dimensions, without them where they would make it less than half as large, or `None`
    where there is no room.
    """
    found: list[Arranged] = []
    for shown in (dimensions, ()):
        with suppress(NoScaleFits):
            found.append(arrange(model, shown, room, further_scales(printer.units), style=SMALL))
    return next((one for one in found if 2 * one.view.scale >= found[-1].view.scale), None)


def _window(window: MatWindow, view: View, *, lettered: bool) -> Iterator[Item]:
    """Yield an opening, and its letter where it is large enough; its distances tell which it is."""
    box = window.outline.box
    yield replace(
        outline_on_paper(window.outline, view),
        pen=Pen.EDGE,
        fill=PAPER,
        classes=("opening",),
        box=(box.x, box.y, box.width, box.height),
    )
    if lettered and window.outline.shape is not Shape.POLYGON:  # whose middle may lie on its edge
        area = view.area((box.x, box.y, box.width, box.height))
        part = 1.0 if window.outline.upright else _ROUND
        for size in (Size.SMALL, Size.LEAST):
            wide = lettering.width(window.letter, size, True)
            if wide + 1.2 <= part * area.width and 1.3 * size + 0.6 <= part * area.height:
                yield Text(
                    at=area.centre, text=window.letter, size=size, anchor=Anchor.MIDDLE, level=Level.MIDDLE, bold=True
                )
                return


def _dimensions(mat: OrderedMat, printer: Printer) -> Iterator[Dimension]:
    width, height = mat.size.width, mat.size.height
    if len(mat.windows) == 1:
        (window,) = mat.windows
        box = window.outline.box
        middle = box.centre if window.outline.shape in (Shape.CIRCLE, Shape.OVAL) else (box.x, box.bottom)
        across = ((ZERO, height), (box.x, middle[1]), (box.right, middle[1]), (width, height))
        down = ((ZERO, ZERO), (middle[0], box.y), (middle[0], box.bottom), (ZERO, height))
        yield from _chain(across, Side.BELOW, printer)
        yield from _chain(down, Side.LEFT, printer)
    yield from _chain(((ZERO, height), (width, height)), Side.BELOW, printer)
    yield from _chain(((ZERO, ZERO), (ZERO, height)), Side.LEFT, printer)


def _chain(points: tuple[ModelPoint, ...], side: Side, printer: Printer) -> Iterator[Dimension]:
    for start, end in pairwise(points):
        long: Fraction = end[0] - start[0] if side.across else end[1] - start[1]
        if long:
            yield Dimension(start=start, end=end, side=side, label=printer.number(long))
