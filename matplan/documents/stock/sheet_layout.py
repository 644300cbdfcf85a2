"""A stock sheet with what is cut from it: pieces named with their sizes, cuts numbered in the order in which they are
made.

Boxes are in the sheet's own frame of reference, from its top left corner.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import groupby
from math import hypot
from typing import Final

from matplan.documents.parts.cautions import Work, cautions
from matplan.documents.parts.folio import Folio, SheetOf
from matplan.documents.parts.framed import model_box
from matplan.documents.parts.page import further_scales, paper, title_block
from matplan.drawing import blocks, lettering
from matplan.drawing.blocks import Align, Block, Column
from matplan.drawing.dimensions import SMALL, Dimension, Side, arrange
from matplan.drawing.frame import frame
from matplan.drawing.items import Anchor, Area, Ellipse, Group, Item, Level, Line, Point, Size, Text
from matplan.drawing.pens import PAPER, SECONDARY, TINT, Pen
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import NoScaleFits, View
from matplan.job.records import Job, MaterialKind
from matplan.lengths import Box, Printer
from matplan.stock.records import CutLine, LaidSheet, Piece

_RING: Final = 2.1
_PLACES: Final = (0.5, 0.35, 0.65, 0.22, 0.78, 0.12, 0.88)
"""Where along a cut its number may stand."""
_PAD: Final = _RING + 0.6
"""Left free inside a piece, so that no number touches its name."""
_GAP: Final = 6.0
_MOST_ROWS: Final = (24, 14, 8, 5)
"""Rows of the lists: as many as leave room for the sheet."""


def drawn(folio: Folio, one: SheetOf) -> tuple[Sheet, ...]:
    """Return the drawing of a sheet of a material that is cut."""
    material, sheets = one.cutting.material, one.cutting.layout.sheets
    title = f"{material.name} {one.number}"
    sheet = sheets[one.number - 1]
    drawn = sheet_layout(
        folio.job,
        sheet,
        material=material.name,
        number=one.number,
        of=len(sheets),
        title=title,
        kind=material.kind,
    )
    return (drawn,)


def sheet_layout(
    job: Job,
    sheet: LaidSheet,
    *,
    material: str,
    number: int,
    of: int,
    title: str,
    kind: MaterialKind = MaterialKind.BOARD,
) -> Sheet:
    """Return the drawing of one laid sheet, the `number`th `of` those of its material."""
    page = paper(job.units)
    errors: list[NoScaleFits] = []
    drawn: list[tuple[Fraction, tuple[float, float], tuple[Item, ...]]] = []
    for most in _MOST_ROWS:
        for size in (page.portrait, page.landscape):
            try:
                scale, items = _laid(job, sheet, size, kind, most)
            except NoScaleFits as error:
                errors.append(error)
                continue
            drawn.append((scale, size, items))
        if drawn:
            break
    if not drawn:
        raise errors[0]
    scale, size, items = max(drawn, key=lambda one: one[0])
    further = (("Material", material), ("Count", f"{sheet.count} ×"))
    view = "face up" if kind is MaterialKind.BOARD else ""
    block = title_block(
        job, document="Sheet layout", title=title, view=view, scale=scale, sheet=(number, of), further=further
    )
    return Sheet(
        name=f"sheet {material} {number}",
        title=title,
        size=size,
        items=(*frame(size, block).items, *items),
        scale=scale,
    )


def _laid(
    job: Job, sheet: LaidSheet, size: tuple[float, float], kind: MaterialKind, most: int
) -> tuple[Fraction, tuple[Item, ...]]:
    further = (("Material", "m"), ("Count", "1 ×"))
    area = frame(size, title_block(job, title="", document="", sheet=(1, 1), further=further)).area
    printer = job.printer
    head = _head(sheet, printer, area)
    below = _below(sheet, printer, area, area.y, kind, job, most)
    high = max(block.area.bottom for block in below) - area.y
    figures = _below(sheet, printer, area, area.bottom - high, kind, job, most)
    room = Area(
        x=area.x, y=head.area.bottom + 3, width=area.width, height=area.height - head.area.height - 3 - high - _GAP
    )
    if room.height < 40:
        raise NoScaleFits("the lists leave no room for the sheet")
    whole = Box.of(sheet.stock.size)
    dimensions = [
        Dimension(
            start=(whole.x, whole.bottom),
            end=(whole.right, whole.bottom),
            side=Side.BELOW,
            label=printer.number(whole.width),
        ),
        Dimension(
            start=(whole.right, whole.y),
            end=(whole.right, whole.bottom),
            side=Side.RIGHT,
            label=printer.number(whole.height),
        ),
    ]
    drawn = arrange(model_box(whole), dimensions, room, further_scales(job.units), style=SMALL)
    items = (
        *head.items,
        *_sheet(sheet, drawn.view, printer),
        *drawn.items,
        *(item for block in figures for item in block.items),
    )
    return drawn.view.scale, items


# --- what is drawn ---------------------------------------------------------------------------------------------------


def _sheet(sheet: LaidSheet, view: View, printer: Printer) -> Iterator[Item]:
    whole = Box.of(sheet.stock.size)
    yield view.rect(model_box(whole), pen=Pen.OUTLINE, fill=TINT, name="stock", classes=("stock",))
    if sheet.stock.trim:
        yield view.rect(model_box(sheet.stock.usable), pen=Pen.HIDDEN, classes=("trim",))
    for offcut in sheet.offcuts:
        yield view.rect(model_box(offcut), fill=TINT, classes=("offcut",))
        yield from _named(("offcut", printer.size(offcut.size)), view.area(model_box(offcut)), colour=SECONDARY)
    for number, piece in enumerate(sheet.pieces, 1):
        yield view.rect(
            model_box(piece.box), fill=PAPER, classes=("piece",), data=(("name", piece.name), ("number", str(number)))
        )
        names = (piece.name, printer.size(piece.box.size) + (", turned" if piece.turned else ""))
        yield from _named(names, view.area(model_box(piece.box)), short=str(number))
    edges = [*_edges(whole, view), *(_edges(sheet.stock.usable, view) if sheet.stock.trim else ())]
    yield from _cuts(sheet.cuts, view, edges)


def _named(lines: Sequence[str], area: Area, *, short: str = "", colour: str | None = None) -> Iterator[Item]:
    """Yield the lines in the middle of an area, upright or on their side, large or small; else the short name; else
    nothing.
    """
    wide, high = area.width - 2 * _PAD, area.height - 2 * _PAD
    for size in (Size.SMALL, Size.CAPTION):
        pitch = size * 1.7
        need = max(lettering.width(line, size) for line in lines), size + (len(lines) - 1) * pitch
        for turn, room in ((0.0, (wide, high)), (-90.0, (high, wide))):
            if need[0] <= room[0] and need[1] <= room[1]:
                yield from _lines(lines, area.centre, size, pitch, turn, colour)
                return
    if short and lettering.width(short, Size.SMALL) <= wide and high >= Size.SMALL:
        yield from _lines((short,), area.centre, Size.SMALL, 0.0, 0.0, colour)


def _lines(
    lines: Sequence[str], centre: Point, size: float, pitch: float, turn: float, colour: str | None
) -> Iterator[Item]:
    for number, line in enumerate(lines):
        off = (number - (len(lines) - 1) / 2) * pitch
        at = (centre[0] + off, centre[1]) if turn else (centre[0], centre[1] + off)
        made = Text(
            at=at,
            text=line,
            size=size,
            anchor=Anchor.MIDDLE,
            level=Level.MIDDLE,
            turn=turn,
            bold=number == 0 and len(lines) > 1,
        )
        if colour is not None:
            made = Text(at=at, text=line, size=size, anchor=Anchor.MIDDLE, level=Level.MIDDLE, turn=turn, colour=colour)
        yield made


def _edges(box: Box, view: View) -> tuple[tuple[Point, Point], ...]:
    """Return the four sides of a box on paper."""
    corners = [
        view.point(x, y) for x, y in ((box.x, box.y), (box.right, box.y), (box.right, box.bottom), (box.x, box.bottom))
    ]
    return tuple(zip(corners, [*corners[1:], corners[0]], strict=True))


def _cuts(cuts: Sequence[CutLine], view: View, edges: Sequence[tuple[Point, Point]]) -> Iterator[Item]:
    """Yield each cut with its number in a ring on it, where one finds room that no other has and no
    edge runs through.
    """
    rings: list[Point] = []
    lines = [(view.point(cut.x1, cut.y1), view.point(cut.x2, cut.y2)) for cut in cuts]
    for number, (cut, (start, end)) in enumerate(zip(cuts, lines, strict=True), 1):
        box = (min(cut.x1, cut.x2), min(cut.y1, cut.y2), abs(cut.x2 - cut.x1), abs(cut.y2 - cut.y1))
        ring = _place(start, end, rings, [*edges, *(line for other, line in enumerate(lines, 1) if other != number)])
        parts: tuple[Item, ...] = (Line(start=start, end=end, pen=Pen.CUT),)
        if ring is not None:
            rings.append(ring)
            parts = (*_broken(start, end, ring), *_ring(ring, number))
        yield Group(
            items=parts, classes=("cut",), box=box, data=(("number", str(number)), ("setting", _plain(cut.setting)))
        )


def _plain(length: Fraction) -> str:
    from matplan.lengths import plain_decimal

    return plain_decimal(length)


def _place(start: Point, end: Point, rings: Sequence[Point], others: Sequence[tuple[Point, Point]]) -> Point | None:
    length = hypot(end[0] - start[0], end[1] - start[1])
    for part in _PLACES:
        at = (start[0] + (end[0] - start[0]) * part, start[1] + (end[1] - start[1]) * part)
        if min(part, 1 - part) * length < _RING + 0.3:
            continue
        if any(hypot(at[0] - x, at[1] - y) < 2 * _RING + 0.4 for x, y in rings):
            continue
        if any(_distance(at, line) < _RING + 0.3 for line in others):
            continue
        return at
    return None


def _distance(point: Point, line: tuple[Point, Point]) -> float:
    """Return from a point to a level or upright line."""
    (x1, y1), (x2, y2) = line
    x, y = min(max(point[0], min(x1, x2)), max(x1, x2)), min(max(point[1], min(y1, y2)), max(y1, y2))
    return hypot(point[0] - x, point[1] - y)


def _broken(start: Point, end: Point, ring: Point) -> Iterator[Item]:
    """Yield the line up to the ring and on from it."""
    length = hypot(end[0] - start[0], end[1] - start[1])
    along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    before = (ring[0] - along[0] * _RING, ring[1] - along[1] * _RING)
    after = (ring[0] + along[0] * _RING, ring[1] + along[1] * _RING)
    yield Line(start=start, end=before, pen=Pen.CUT)
    yield Line(start=after, end=end, pen=Pen.CUT)


def _ring(centre: Point, number: int) -> Iterator[Item]:
    yield Ellipse(centre=centre, rx=_RING, ry=_RING, pen=Pen.EDGE, fill=PAPER)
    most = 2 * _RING - 1
    yield Text(
        at=centre,
        text=str(number),
        size=Size.CAPTION,
        anchor=Anchor.MIDDLE,
        level=Level.MIDDLE,
        bold=True,
        max_width=most,
    )


# --- what is written -------------------------------------------------------------------------------------------------


def _head(sheet: LaidSheet, printer: Printer, area: Area) -> Block:
    words = f"{sheet.stock.name}: {printer.size(sheet.stock.size)}"
    if sheet.count > 1:
        words += f"; cut {sheet.count} of them so"
    if sheet.stock.falls_from is not None:
        words += "; it falls out when that mat's window is cut"
    if sheet.stock.trim:
        words += f"; dashed: {printer.length(sheet.stock.trim)} are trimmed off every edge first"
    return blocks.paragraph(words, x=area.x, y=area.y, width=area.width, size=Size.SMALL)


def _below(
    sheet: LaidSheet, printer: Printer, area: Area, y: float, kind: MaterialKind, job: Job, most: int
) -> tuple[Block, ...]:
    """Return the pieces and the settings of the fence beside one another, the cautions below."""
    half = (area.width - 8) / 2
    settings = list(_settings(sheet.cuts, printer))
    pieces = list(_pieces(sheet.pieces, printer))
    left = _table(("Cuts", "Fence set to"), settings, area.x, y, half, most)
    right = _table(("No.", "Piece", "Size"), pieces, area.x + half + 8, y, half, most)
    work = (Work.GLASS,) if kind is MaterialKind.GLAZING else (Work.CUTTING,)
    care = blocks.cautions(
        cautions(*work, units=job.units), x=area.x, y=max(left.bottom, right.bottom) + 4, width=area.width
    )
    return left, right, care


def _table(heads: Sequence[str], rows: Sequence[tuple[str, ...]], x: float, y: float, width: float, most: int) -> Block:
    shares = (1.0, 1.0) if len(heads) == 2 else (0.0, 1.0, 0.0)
    columns = tuple(
        Column(head=head, share=share, align=Align.RIGHT if head in ("Fence set to", "Size") else Align.LEFT)
        for head, share in zip(heads, shares, strict=True)
    )
    shown = list(rows[:most])
    if len(rows) > most:
        shown[-1] = (f"and {len(rows) - most + 1} more", *("" for _ in heads[1:]))
    return blocks.table(columns, shown, x=x, y=y, width=width)


def _settings(cuts: Sequence[CutLine], printer: Printer) -> Iterator[tuple[str, ...]]:
    """Runs of cuts at one setting of the fence: `1–3`, `40 cm`."""
    numbered = list(enumerate(cuts, 1))
    for setting, run in groupby(numbered, key=lambda one: one[1].setting):
        numbers = [number for number, _ in run]
        yield (str(numbers[0]) if len(numbers) == 1 else f"{numbers[0]}–{numbers[-1]}"), printer.length(setting)


def _pieces(pieces: Sequence[Piece], printer: Printer) -> Iterator[tuple[str, ...]]:
    """Yield equal pieces gathered: their numbers, the name, the size."""
    gathered: dict[tuple[str, str], list[int]] = {}
    for number, piece in enumerate(pieces, 1):
        gathered.setdefault((piece.name, printer.size(piece.box.size)), []).append(number)
    for (name, size), numbers in gathered.items():
        runs = (
            str(numbers[0])
            if len(numbers) == 1
            else f"{numbers[0]}–{numbers[-1]}"
            if _run(numbers)
            else ", ".join(map(str, numbers))
        )
        yield runs, name, size


def _run(numbers: Sequence[int]) -> bool:
    return numbers[-1] - numbers[0] == len(numbers) - 1
