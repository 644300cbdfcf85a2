"""The saw list of a moulding: each stick as a bar with its rails in order, and below it which rail is which."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby
from typing import Final

from matplan.documents.parts import wording
from matplan.documents.parts.cautions import Work, brief
from matplan.documents.parts.folio import Folio
from matplan.documents.parts.page import further_scales, title_block
from matplan.documents.parts.paper import best_paper
from matplan.documents.stock.saw_bars import BAR, Numbers, bar, numbers_of
from matplan.drawing import blocks, lettering
from matplan.drawing.blocks import CELL_X, Align, Column, Table
from matplan.drawing.frame import drawing_area, frame
from matplan.drawing.items import Area, Item, Size
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import NoScaleFits, View
from matplan.job.records import Job
from matplan.lengths import ZERO
from matplan.lengths import Size as Sized
from matplan.orders.cutting import Rack
from matplan.orders.sawing import SawnStick, sawn
from matplan.stock.sticks import ROOT_TWO

_APART: Final = 6.0
"""Between one stick and the next."""
_BETWEEN: Final = 7.0
"""Between two columns of a table."""
_LONGEST_NAME: Final = 24
_LARGE: Final = (5.0, 4.2)
"""Sizes of the table's lettering, read from across the saw, where they take no more pages and no second line."""

_SIDES: Final = "20 top, 20 bottom,"
"""A line of the column of sides is no wider."""
_NAME: Final = 1
"""The column of the pieces' names."""

type _Row = tuple[str, ...]


def drawn(folio: Folio, rack: Rack) -> tuple[Sheet, ...]:
    """Return the saw list of a rack, on as many sheets as it takes."""
    return () if folio.plan is None else saw_list(folio.job, rack, sawn(rack, folio.plan.pieces))


def saw_list(job: Job, rack: Rack, sticks: Sequence[SawnStick]) -> tuple[Sheet, ...]:
    """Return the sticks one below the other, all at one scale."""
    longest = max(one.stick.kind.length for one in sticks)
    face = rack.frame.rail or ZERO
    model = Sized(face, longest)  # upright pages hold more of a list; a lying one is taken where it gains a scale

    def lay(area: Area) -> tuple[Fraction, Numbers | None]:
        scale = _scale(job, longest, area.width)
        return scale, numbers_of(rack, sticks, scale, area.width)

    try:
        best = best_paper(job.units, model, lay)
    except NoScaleFits:  # too many rails for their numbers: the table has them in the stick's order
        best = best_paper(job.units, model, lambda area: (_scale(job, longest, area.width), None))
    area = drawing_area(best.size)
    plain = _List(job=job, rack=rack, sticks=tuple(sticks), scale=best.scale, numbers=best.made)
    pages = list(plain.pages(area))
    for larger in (replace(plain, size=size) for size in _LARGE):
        if larger.broad <= area.width and len(found := list(larger.pages(area))) <= len(pages):
            pages = found
            break
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


@dataclass(frozen=True, slots=True, kw_only=True)
class _List:
    """Sticks to be set on pages at a scale."""

    job: Job
    rack: Rack
    sticks: tuple[SawnStick, ...]
    scale: Fraction
    numbers: Numbers | None
    size: float = Size.NORMAL
    """The height of the table's lettering."""

    @property
    def broad(self) -> float:
        """How broad the table is where no name is wrapped."""
        return sum(self._set(self._rows()[0], None).widths)

    def pages(self, area: Area) -> Iterator[tuple[Item, ...]]:
        """Yield each page's items: a bar and its table stay together where one page holds them."""
        items, y = self._head(area)
        top, first, rail_number, stick_number = y, 0, 1, 1
        table, ends = self._table(area.width)
        for order, (one, last) in enumerate(zip(self.sticks, ends, strict=True)):
            heading = blocks.paragraph(
                self._heading(one, stick_number), x=area.x, y=0.0, width=area.width, size=Size.SMALL, bold=True
            )
            above = 0.0 if self.numbers is None else self.numbers.room(order)
            room = heading.area.height + 1.0 + above + BAR + 2.0
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
            outline = (ZERO, ZERO, one.stick.kind.length, self.rack.frame.rail or ZERO)
            view = View(scale=self.scale, at=(area.x, y + room - 2.0 - BAR), model=outline)
            items.extend(bar(self.rack, one, order, rail_number, self.numbers, view))
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
                f"Kerf {printer.fine(frame_.kerf)}: a mitred cut takes {printer.fine(cut)} along the stick, "
                "which lies between two rails."
                + (f" Take {printer.fine(frame_.spare)} off each end first." if frame_.spare else ""),
            )
        elif frame_.spare:
            words.insert(1, f"Take {printer.fine(frame_.spare)} off each end first.")
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
        rows, ends = self._rows()
        for longest in (None, lettering.width("n" * _LONGEST_NAME, self.size)):
            found = self._set(rows, longest)
            if 2 * sum(found.widths) + _BETWEEN <= width:
                return found, ends
        whole = self._set(rows, None)
        over = sum(whole.widths) - width
        return (whole if over <= 0 else self._set(rows, whole.widths[_NAME] - 2 * CELL_X - over)), ends

    def _rows(self) -> tuple[list[_Row], tuple[int, ...]]:
        rows, ends = list[_Row](), list[int]()
        first = 1
        for one in self.sticks:
            for (name, edge, rabbet), run in groupby(one.rails, lambda rail: (rail.piece, rail.long_edge, rail.rabbet)):
                sides = Counter(rail.side for rail in run)
                last = first + sides.total() - 1
                named = str(first) if last == first else f"{first}–{last}"
                said = ", ".join(side if sides.total() == len(sides) else f"{n} {side}" for side, n in sides.items())
                said = "\n".join(lettering.wrapped(said, lettering.width(_SIDES, self.size), self.size))
                rows.append((named, wording.short(name), said, *map(self.job.printer.length, (edge, rabbet))))
                first = last + 1
            ends.append(len(rows))
        return rows, tuple(ends)

    def _set(self, rows: Sequence[_Row], longest: float | None) -> Table:
        """Return the table of those rows, names in lines no wider than `longest`."""
        columns = (
            Column(head="Rail", align=Align.RIGHT, bold=True),
            Column(head="Piece"),
            Column(head="Side"),
            Column(head="Long edge", align=Align.RIGHT),
            Column(head="Rabbet", align=Align.RIGHT),
        )
        if longest is not None:
            rows = [(a, "\n".join(lettering.wrapped(name, longest, self.size)), *rest) for a, name, *rest in rows]
        return Table(columns, rows, size=self.size, head_size=Size.SMALL, pad=1.0)


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
