"""A stock sheet with what is cut from it: parts with their keys, cuts numbered in the order in which they are made.

Boxes are in the sheet's own frame of reference, from its top left corner. The lists stand on the same page where that
costs the drawing no more than one scale, else on the next one.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import repeat

from matplan.documents.parts.cautions import brief, cutting_of
from matplan.documents.parts.columns import rooms, set_in
from matplan.documents.parts.folio import Folio, SheetOf
from matplan.documents.parts.framed import model_box
from matplan.documents.parts.labels import MOST_ROWS, UTMOST_ROWS, NoRoom, depth
from matplan.documents.parts.page import further_scales, title_block
from matplan.documents.parts.paper import best_paper
from matplan.documents.stock.keys import keyed
from matplan.documents.stock.lists import lists
from matplan.documents.stock.marked import marked
from matplan.documents.stock.marks import Marks, marks
from matplan.drawing import blocks
from matplan.drawing.blocks import Table
from matplan.drawing.dimensions import SMALL, Dimension, Side, arrange
from matplan.drawing.frame import drawing_area, frame
from matplan.drawing.items import Area, Item, Size
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import NoScaleFits, View
from matplan.faults import LengthError, printable
from matplan.job.records import Job, Material
from matplan.lengths import Box, Printer, Units, parse_size
from matplan.stock.records import LaidSheet


@dataclass(frozen=True, slots=True, kw_only=True)
class _Page:
    """The drawing on its page; `listed` tells that the lists stand beside it."""

    items: tuple[Item, ...]
    listed: bool


def drawn(folio: Folio, one: SheetOf) -> tuple[Sheet, ...]:
    """Return the drawing of a sheet of a material that is cut, and the pages that its lists go on on."""
    material, sheets = one.cutting.material, one.cutting.layout.sheets
    title, sheet = f"{material.name} {one.number}", sheets[one.number - 1]
    return sheet_layout(folio.job, sheet, material=material, number=one.number, of=len(sheets), title=title)


def sheet_layout(
    job: Job, sheet: LaidSheet, *, title: str, number: int, of: int, material: Material | None = None
) -> tuple[Sheet, ...]:
    """Return the drawing of a laid sheet, the `number`th `of` its material's, and the pages that its lists go on on."""
    keys, kinds = keyed(sheet.pieces)
    tables = lists(sheet.cuts, kinds, job.printer)
    care = () if material is None else brief(*cutting_of(material), units=job.units)
    layout = _Layout(job=job, sheet=sheet, keys=keys, tables=tables, words=(_head(sheet, job.printer), *care))
    try:
        best = best_paper(job.units, sheet.stock.size, layout.on)
    except NoScaleFits:
        best = best_paper(job.units, sheet.stock.size, replace(layout, rows=UTMOST_ROWS).on)
    pages = [best.made.items]
    if not best.made.listed:
        pages.extend(set_in(tables, repeat(drawing_area(best.size)), ("list",)))
    name = sheet.stock.name if material is None else material.name
    further = (("Material", name), ("Quantity", f"{sheet.count} ×"))
    made = []
    for page, items in enumerate(pages, 1):
        block = title_block(
            job,
            document="Sheet layout" if page == 1 else "Sheet layout, lists",
            title=title,
            scale=best.scale if page == 1 else None,
            sheet=(number, of),
            further=further,
        )
        made.append(
            Sheet(
                name=f"sheet {name} {number}" + ("" if page == 1 else f" {page}"),
                title=title if page == 1 else f"{title}, page {page}",
                size=best.size,
                items=(*frame(best.size, block).items, *items),
                scale=best.scale if page == 1 else None,
            )
        )
    return tuple(made)


# --- the page --------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, kw_only=True)
class _Layout:
    """A sheet to be laid on paper. `words` stand above the drawing."""

    job: Job
    sheet: LaidSheet
    keys: tuple[str, ...]
    tables: tuple[Table, ...]
    words: tuple[str, ...]
    rows: int = MOST_ROWS
    """So many rows of labels may stand outside the drawing."""
    _known: dict[tuple[Fraction, int], Marks | None] = field(default_factory=dict)

    def on(self, area: Area) -> tuple[Fraction, _Page]:
        """Return the drawing at the best scale: with the lists below it or at its right, or on the next page."""
        heads, y = list[Item](), area.y
        for text in self.words:
            head = blocks.paragraph(text, x=area.x, y=y, width=area.width, size=Size.SMALL)
            heads.extend(head.items)
            y = head.bottom + 0.5
        room = area.inset(0, y + 1.5 - area.y, 0, 0)
        series = sorted(further_scales(self.job.units), reverse=True)
        found: list[tuple[float, int, View, tuple[Item, ...], bool]] = []
        for order, (drawing, listing) in enumerate(rooms(room, self.tables)):
            try:
                view, items, crowded = self._drawn(drawing)
            except NoScaleFits:
                continue
            if listing is not None:
                items = (*items, *next(set_in(self.tables, repeat(listing), ("list",))))
            # lists stand apart where that gains two scales, or one where the drawing is crowded
            rank = series.index(view.scale) + (crowded if listing is not None else 1.75)
            found.append((rank, order, view, items, listing is not None))
        if not found:
            count = len(self.sheet.pieces)
            raise NoScaleFits(
                f"the sheet {printable(self.sheet.stock.name, 60)} has {count} parts, and no page has room for their "
                "numbers; cut from smaller sheets"
            )
        _, _, view, items, listed = min(found, key=lambda one: one[:2])
        return view.scale, _Page(items=(*heads, *items), listed=listed)

    def _drawn(self, room: Area) -> tuple[View, tuple[Item, ...], float]:
        """Return the drawing and how crowded it is, with room for labels outside it where they need it.

        Its outer dimensions are left out where they would cost a scale: the words above it say the sheet's size.
        """
        found = [one for sized in (True, False) for one in (self._placed(room, sized=sized),) if one is not None]
        if not found:
            raise NoScaleFits("the numbers find no room round the sheet")
        return max(found, key=lambda one: one[0].scale)

    def _placed(self, room: Area, *, sized: bool) -> tuple[View, tuple[Item, ...], float] | None:
        whole, printer = Box.of(self.sheet.stock.size), self.job.printer
        corners = (whole.x, whole.bottom), (whole.right, whole.bottom), (whole.right, whole.y)
        dimensions = (
            Dimension(start=corners[0], end=corners[1], side=Side.BELOW, label=printer.number(whole.width)),
            Dimension(start=corners[2], end=corners[1], side=Side.RIGHT, label=printer.number(whole.height)),
        )
        for rows in range(self.rows + 1):
            above, left = depth(rows)
            inner = room.inset(left, above, 0, 0)
            if min(inner.width, inner.height) <= 0:
                return None
            series = further_scales(self.job.units)
            try:
                placed = arrange(model_box(whole), dimensions if sized else (), inner, series, style=SMALL)
            except NoScaleFits:
                return None
            found = self._marks(placed.view.scale, rows)
            if found is not None:
                items = marked(self.sheet, self.keys, found, placed.view, printer)
                return placed.view, (*items, *placed.items), found.crowded
        return None

    def _marks(self, scale: Fraction, rows: int) -> Marks | None:
        """Return the marks at a scale with so many rows outside, or `None` where they find no room."""
        if (scale, rows) not in self._known:
            try:
                self._known[scale, rows] = marks(self.sheet, self.keys, scale, self.job.printer, rows=rows)
            except NoRoom:
                self._known[scale, rows] = None
        return self._known[scale, rows]


# --- what is written -------------------------------------------------------------------------------------------------


def _head(sheet: LaidSheet, printer: Printer) -> str:
    words = printer.size(sheet.stock.size)
    if not _is_size(sheet.stock.name):
        words = f"{sheet.stock.name}: {words}"
    if sheet.count > 1:
        words += f"; cut {sheet.count} like this"
    if sheet.stock.falls_from is not None:
        words += "; it falls out when that mat's window is cut"
    if sheet.stock.trim:
        words += f"; dashed: trim {printer.length(sheet.stock.trim)} off every edge first"
    return words


def _is_size(name: str) -> bool:
    """Return whether a sheet is named by its size alone."""
    try:
        parse_size(name, Units.MM)
    except LengthError:
        return False
    return True
