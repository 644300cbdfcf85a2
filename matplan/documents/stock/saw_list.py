"""The saw list of a moulding: each stick as a bar with its rails in order, and below it which rail is which.

A bar's length is to scale and so are its mitres along it; its height is not, so that a number has room on each rail.
Boxes are in the stick's own frame of reference: x from its end along its outer edge, y from its inner edge.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby
from typing import Final

from matplan.documents.parts import wording
from matplan.documents.parts.cautions import Work, brief
from matplan.documents.parts.folio import Folio
from matplan.documents.parts.page import further_scales, title_block
from matplan.documents.parts.paper import best_paper
from matplan.documents.parts.spreading import spread
from matplan.drawing import blocks, lettering
from matplan.drawing.blocks import CELL_X, Align, Column, Table
from matplan.drawing.frame import drawing_area, frame
from matplan.drawing.items import Anchor, Area, Ellipse, Group, Item, Level, ModelBox, Polyline, Size, Text
from matplan.drawing.pens import PAPER, SECONDARY, TINT, Pen
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import NoScaleFits, View
from matplan.job.records import Job
from matplan.lengths import ZERO, plain_decimal
from matplan.lengths import Size as Sized
from matplan.orders.cutting import Rack
from matplan.orders.sawing import SawnStick, sawn
from matplan.stock.sticks import ROOT_TWO

_BAR: Final = 8.0
"""A bar's height in mm of paper."""
_SIZES: Final = (Size.NORMAL, Size.SMALL, Size.LEAST)
_MOST_ROWS: Final = 2
"""Rows of numbers above a bar."""
_ROW: Final = 5.6
_STUB: Final = 1.0
_SLANT: Final = 2.6
_FREE: Final = 1.2
"""Between two numbers beside one another."""
_APART: Final = 6.0
"""Between one stick and the next."""
_BETWEEN: Final = 7.0
"""Between two columns of a table."""
_LONGEST_NAME: Final = 24
_FAR: Final = 12.0
"""A number above a bar stands no further from its rail along the stick."""

_SIDES: Final = "20 top, 20 bottom,"
"""A line of the column of sides is no wider."""
_NAME: Final = 1
"""The column of the pieces' names."""

type _Row = tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Numbers:
    """How the rails' numbers are set: their size, and the middles of those above each bar, `None` for those on it."""

    size: float
    rows: int
    above: tuple[tuple[float | None, ...], ...]


def drawn(folio: Folio, rack: Rack) -> tuple[Sheet, ...]:
    """Return the saw list of a rack, on as many sheets as it takes."""
    return () if folio.plan is None else saw_list(folio.job, rack, sawn(rack, folio.plan.pieces))


def saw_list(job: Job, rack: Rack, sticks: Sequence[SawnStick]) -> tuple[Sheet, ...]:
    """Return the sticks one below the other, all at one scale."""
    longest = max(one.stick.kind.length for one in sticks)
    face = rack.frame.rail or ZERO
    model = Sized(face, longest)  # upright pages hold more of a list; a lying one is taken where it gains a scale

    def lay(area: Area) -> tuple[Fraction, _Numbers | None]:
        scale = _scale(job, longest, area.width)
        return scale, _numbers(rack, sticks, scale, area.width)

    try:
        best = best_paper(job.units, model, lay)
    except NoScaleFits:  # too many rails for their numbers: the table has them in the stick's order
        best = best_paper(job.units, model, lambda area: (_scale(job, longest, area.width), None))
    list_ = _List(job=job, rack=rack, sticks=tuple(sticks), scale=best.scale, numbers=best.made)
    pages = list(list_.pages(drawing_area(best.size)))
    name = wording.short(rack.frame.name)
    further = (("Sticks", str(sum(one.count for one in sticks))),)
    sheets = []
    for number, items in enumerate(pages, 1):
        block = title_block(
            job,
            title=name,
            document="Saw list",
            scale=best.scale,
            sheet=(number, len(pages)),
            further=further,
        )
        sheets.append(
            Sheet(
                name=f"sticks {rack.frame.name}" + ("" if number == 1 else f" {number}"),
                title=f"Saw list {name}" + ("" if number == 1 else f", page {number}"),
                size=best.size,
                items=(*frame(best.size, block).items, *items),
                scale=best.scale,
            )
        )
    return tuple(sheets)


def _scale(job: Job, longest: Fraction, width: float) -> Fraction:
    """Return the largest scale at which the longest stick is no wider than the page."""
    for scale in sorted(further_scales(job.units), reverse=True):
        if float(longest * scale) <= width:
            return scale
    raise NoScaleFits("a stick is too long for every scale")


# --- numbers ---------------------------------------------------------------------------------------------------------


def _numbers(rack: Rack, sticks: Sequence[SawnStick], scale: Fraction, width: float) -> _Numbers:
    """Return the numbers' places: on their rails, else above the bar. Raises `NoScaleFits` where they find no room."""
    for size in _SIZES:
        for rows in range(1, _MOST_ROWS + 1):
            first, above = 1, list[tuple[float | None, ...]]()
            for one in sticks:
                found = _above(rack, one, first, scale, width, size, rows)
                if found is None:
                    break
                above.append(found)
                first += len(one.rails)
            else:
                return _Numbers(size=size, rows=rows, above=tuple(above))
    raise NoScaleFits("the numbers find no room above a stick")


def _above(
    rack: Rack, one: SawnStick, first: int, scale: Fraction, width: float, size: float, rows: int
) -> tuple[float | None, ...] | None:
    """Return the middle of each number above the bar, from the bar's end; `None` where there is no room for all."""
    mitre = float((rack.frame.rail or ZERO) * scale)
    places: list[float | None] = [None] * len(one.rails)
    wanted, widths, numbers = list[float](), list[float](), list[int]()
    for order, (rail, start) in enumerate(zip(one.rails, one.starts(rack.frame.kerf), strict=True)):
        wide = lettering.width(str(first + order), size, True)
        if wide + 1.0 > float(rail.long_edge * scale) - mitre:
            numbers.append(order)
            wanted.append(float((start + rail.long_edge / 2) * scale))
            widths.append(wide + _FREE)
    if rows > 1:
        widths = [max(widths, default=0.0) / rows] * len(widths)
    found = spread(wanted, widths, 0.0, width)
    if found is None or any(abs(place - at) > _FAR for place, at in zip(found, wanted, strict=True)):
        return None
    for order, place in zip(numbers, found, strict=True):
        places[order] = place
    return tuple(places)


# --- pages -----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _List:
    """Sticks to be set on pages at a scale."""

    job: Job
    rack: Rack
    sticks: tuple[SawnStick, ...]
    scale: Fraction
    numbers: _Numbers | None

    def pages(self, area: Area) -> Iterator[tuple[Item, ...]]:
        """Yield each page's items: a bar and its table stay together where one page holds them."""
        items, y = self._head(area)
        top, first, rail_number, stick_number = y, 0, 1, 1
        table, ends = self._table(area.width)
        for order, (one, last) in enumerate(zip(self.sticks, ends, strict=True)):
            heading = blocks.paragraph(
                self._heading(one, stick_number), x=area.x, y=0.0, width=area.width, size=Size.SMALL, bold=True
            )
            room = heading.area.height + 1.0 + self._room_above(order) + _BAR + 2.0
            chunks, end, high = _chunks(table, first, last, area.width, area.bottom - y - room)
            if end < last and y > area.y and y > top:  # this page does not hold it: a fresh one holds more
                yield tuple(items)
                items, y = [], area.y
                chunks, end, high = _chunks(table, first, last, area.width, area.bottom - y - room)
            items.extend(
                blocks.paragraph(
                    self._heading(one, stick_number), x=area.x, y=y, width=area.width, size=Size.SMALL, bold=True
                ).items
            )
            bar = y + room - 2.0 - _BAR
            items.extend(self._bar(order, rail_number, area.x, bar))
            y += room
            while True:
                x = area.x
                for start, stop in chunks:
                    items.extend(table.block(start, stop, x, y, ("list",)).items)
                    x += sum(table.widths) + _BETWEEN
                if end == last:
                    break
                yield tuple(items)
                items, y = [], area.y
                chunks, end, high = _chunks(table, end, last, area.width, area.height)
            y += high + _APART
            first, rail_number, stick_number = last, rail_number + len(one.rails), stick_number + one.count
        yield tuple(items)

    def _head(self, area: Area) -> tuple[list[Item], float]:
        frame_, printer = self.rack.frame, self.job.printer
        cut = frame_.kerf * ROOT_TWO
        words = [
            "Long edge: the outer edge, below in the drawing; rabbet: what the rail is long at its rabbet. "
            "Lengths and mitres are to scale along the stick, its width is not.",
            *brief(Work.SAW),
        ]
        if self.numbers is None:
            words.insert(1, "The rails are too many for numbers on the drawing: the table has them from left to right.")
        if cut:
            words.insert(
                1,
                f"Kerf {printer.length(frame_.kerf)}: a mitred cut takes {printer.fine(cut)} along the stick, "
                "which lies between two rails."
                + (f" Take {printer.length(frame_.spare)} off each end first." if frame_.spare else ""),
            )
        elif frame_.spare:
            words.insert(1, f"Take {printer.length(frame_.spare)} off each end first.")
        items, y = list[Item](), area.y
        for text in words:
            block = blocks.paragraph(text, x=area.x, y=y, width=area.width, size=Size.SMALL)
            items.extend(block.items)
            y = block.bottom + 1.0
        return items, y + 3.5

    def _heading(self, one: SawnStick, number: int) -> str:
        """Return `Sticks 3–4, at hand: cut 2 like this; 3000 mm each; offcut after kerf 214 mm each`."""
        printer, each = self.job.printer, " each" if one.count > 1 else ""
        named = f"Stick {number}" if one.count == 1 else f"Sticks {number}–{number + one.count - 1}"
        named += ", at hand" if one.ready else ""
        like = f"cut {one.count} like this; " if one.count > 1 else ""
        offcut = printer.length(self.rack.offcut(one.stick))
        return f"{named}: {like}{printer.length(one.stick.kind.length)}{each}; offcut after kerf {offcut}{each}"

    def _table(self, width: float) -> tuple[Table, tuple[int, ...]]:
        """Return one table of all rails, and the row at which each stick's rows end.

        Names are wrapped where two columns of the table then stand beside one another.
        """
        rows, ends = list[_Row](), list[int]()
        first = 1
        for one in self.sticks:
            for (name, edge, rabbet), run in groupby(one.rails, lambda rail: (rail.piece, rail.long_edge, rail.rabbet)):
                sides = Counter(rail.side for rail in run)
                last = first + sides.total() - 1
                named = str(first) if last == first else f"{first}–{last}"
                said = ", ".join(side if sides.total() == len(sides) else f"{n} {side}" for side, n in sides.items())
                said = "\n".join(lettering.wrapped(said, lettering.width(_SIDES, Size.NORMAL), Size.NORMAL))
                rows.append((named, wording.short(name), said, *map(self.job.printer.length, (edge, rabbet))))
                first = last + 1
            ends.append(len(rows))
        for narrow in (False, True):
            found = _table(rows, None if not narrow else lettering.width("n" * _LONGEST_NAME, Size.NORMAL))
            if 2 * sum(found.widths) + _BETWEEN <= width:
                return found, tuple(ends)
        whole = _table(rows, None)
        over = sum(whole.widths) - width
        return (whole if over <= 0 else _table(rows, whole.widths[_NAME] - 2 * CELL_X - over)), tuple(ends)

    def _room_above(self, order: int) -> float:
        numbers = self.numbers
        if numbers is None or all(place is None for place in numbers.above[order]):
            return 0.0
        return _STUB + _SLANT + numbers.rows * _ROW

    # --- a bar -------------------------------------------------------------------------------------------------------

    def _bar(self, order: int, first: int, x: float, y: float) -> Iterator[Item]:
        one, frame_ = self.sticks[order], self.rack.frame
        face, kind = frame_.rail or ZERO, self.sticks[order].stick.kind
        view = View(scale=self.scale, at=(x, y), model=(ZERO, ZERO, kind.length, face))

        def part(start: Fraction, length: Fraction) -> tuple[Area, ModelBox]:
            left, right = view.point(start, ZERO)[0], view.point(start + length, ZERO)[0]
            return Area(x=left, y=y, width=right - left, height=_BAR), (start, ZERO, length, face)

        whole, box = part(ZERO, kind.length)
        yield whole.rect(pen=Pen.OUTLINE, fill=TINT, classes=("stick",), box=box, data=(("count", str(one.count)),))
        if kind.spare:
            usable, box = part(kind.spare, kind.usable)
            yield usable.rect(pen=Pen.HIDDEN, classes=("spare",), box=box)
        mitre = view.length(face)
        areas = list[Area]()
        for number, (rail, start) in enumerate(zip(one.rails, one.starts(frame_.kerf), strict=True), first):
            area, box = part(start, rail.long_edge)
            areas.append(area)
            yield Polyline(
                points=(
                    (area.x, area.bottom),
                    (area.x + mitre, area.y),
                    (area.right - mitre, area.y),
                    (area.right, area.bottom),
                ),
                closed=True,
                pen=Pen.CUT,
                fill=PAPER,
                classes=("rail",),
                box=box,
                data=(
                    ("number", str(number)),
                    ("piece", rail.piece),
                    ("side", rail.side),
                    ("rabbet", plain_decimal(rail.rabbet)),
                ),
            )
        offcut = self.rack.offcut(one.stick)
        if offcut:
            _, box = part(kind.length - kind.spare - offcut, offcut)
            area, _ = part(kind.length - kind.spare - offcut, offcut)
            yield area.rect(classes=("offcut",), box=box)
        if self.numbers is not None:
            yield from self._numbered(self.numbers, order, first, areas, x)

    def _numbered(self, numbers: _Numbers, order: int, first: int, areas: Sequence[Area], x: float) -> Iterator[Item]:
        outside = 0
        for number, (area, place) in enumerate(zip(areas, numbers.above[order], strict=True), first):
            at = area.centre
            if place is not None:
                row = outside % numbers.rows
                outside += 1
                bend, foot = (x + place, area.y - _STUB - _SLANT), (at[0], area.y + _BAR / 2)
                low = bend[1] - row * _ROW
                points = ((bend[0], low), bend, (at[0], area.y - _STUB), foot)
                yield Polyline(points=points[0 if row else 1 :], pen=Pen.DIMENSION)
                yield Ellipse(centre=foot, rx=0.5, ry=0.5, fill=SECONDARY)
                at = (bend[0], low - _ROW / 2)
            text = Text(at=at, text=str(number), size=numbers.size, anchor=Anchor.MIDDLE, level=Level.MIDDLE, bold=True)
            yield Group(classes=("rail-number",), items=(text,), data=(("number", str(number)),))


def _table(rows: Sequence[_Row], longest: float | None) -> Table:
    """Return the table of those rows, names in lines no wider than `longest`."""
    columns = (
        Column(head="Rail", align=Align.RIGHT, bold=True),
        Column(head="Piece"),
        Column(head="Side"),
        Column(head="Long edge", align=Align.RIGHT),
        Column(head="Rabbet", align=Align.RIGHT),
    )
    if longest is not None:
        rows = [(a, "\n".join(lettering.wrapped(name, longest, Size.NORMAL)), *rest) for a, name, *rest in rows]
    return Table(columns, rows, size=Size.NORMAL, head_size=Size.SMALL, pad=1.0)


def _chunks(
    table: Table, first: int, last: int, width: float, height: float
) -> tuple[list[tuple[int, int]], int, float]:
    """Return the rows in columns that are as even as may be, the row after the last that has room, and their height."""
    abreast = max(1, int((width + _BETWEEN) / (sum(table.widths) + _BETWEEN)))
    most = -(-(last - first) // abreast)
    chunks: list[tuple[int, int]] = []
    high, at = 0.0, first
    while at < last and len(chunks) < abreast:
        stop, low = at, table.head_height
        while stop < last and stop - at < max(most, 1):
            if low + table.heights[stop] > height:
                break
            low += table.heights[stop]
            stop += 1
        if stop == at:
            break
        chunks.append((at, stop))
        high, at = max(high, low), stop
    return chunks, at, high
