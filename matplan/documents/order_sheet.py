"""The order list: as sheets to take to the shop or to send, and as rows for a table of comma-separated values."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Final

from matplan.documents.page import paper, title_block
from matplan.documents.running_sheets import Running
from matplan.drawing import blocks
from matplan.drawing.blocks import Align, Column
from matplan.drawing.frame import frame
from matplan.drawing.sheet import Sheet
from matplan.lengths import Box, Printer, Size
from matplan.mats.records import SolvedPiece
from matplan.orders.lines import Item, OrderLine
from matplan.planning import Plan

HEADER: Final = (
    "item", "material", "width", "height", "quantity", "for", "unit_price", "price", "units", "currency", "openings", "note"
)  # fmt: skip
"""The columns of `order.csv`. Lengths print as on every document: plain numbers in `units`, inches as fractions."""

_FORMULA: Final = "=+-@＝＋－＠\t\r\n"
"""What a spreadsheet takes for the beginning of a formula, full-width forms and leading blanks that it drops included."""


def order_rows(plan: Plan) -> tuple[tuple[str, ...], ...]:
    """The header and one row for each line of the order. No cell begins like a formula.

    `openings` has one for each window of a mat, `x y width height` from the blank's top left corner, seen from the front.
    """
    printer = plan.job.printer
    rows = [_row(line, printer, plan.job.currency) for line in plan.order]
    return (HEADER, *(tuple(map(guarded, row)) for row in rows))


def guarded(cell: str) -> str:
    """The cell, behind an apostrophe where a spreadsheet would take it for a formula.

    >>> guarded("=1+1"), guarded("ash")
    ("'=1+1", 'ash')
    """
    return f"'{cell}" if cell.startswith(tuple(_FORMULA)) or cell.lstrip().startswith(tuple(_FORMULA)) else cell


def _row(line: OrderLine, printer: Printer, currency: str) -> tuple[str, ...]:
    width, height = ("", "") if line.size is None else (printer.number(line.size.width), printer.number(line.size.height))
    priced = line.unit_price is not None
    return (
        str(line.item),
        line.material,
        width,
        height,
        str(line.quantity),
        "; ".join(line.pieces),
        _money(line.unit_price),
        _money(line.price),
        printer.units.value if line.size is not None or line.openings else "",
        currency if priced else "",
        "; ".join(" ".join(printer.number(v) for v in (o.x, o.y, o.width, o.height)) for o in line.openings),
        line.note,
    )


def _money(amount: Decimal | None) -> str:
    return "" if amount is None else f"{amount:.2f}"


# --- sheets ----------------------------------------------------------------------------------------------------------

_HEADINGS: Final = {
    Item.FRAME: "Frames",
    Item.MOULDING: "Frames to be made",
    Item.MAT: "Mats, cut to size",
    Item.READY_CUT: "Ready-cut mats",
    Item.GLAZING: "Glazing, cut to size",
    Item.BACKING: "Backing, cut to size",
    Item.SHEET: "Sheets",
    Item.HARDWARE: "Hardware",
}


def order_sheet(plan: Plan) -> tuple[Sheet, ...]:
    """The order list on as many sheets as it needs, what belongs together under one heading, the total at its end."""
    size = paper(plan.job.units).portrait
    running = Running(frame(size, title_block(plan.job, title="", document="")).area)
    priced = any(line.unit_price is not None for line in plan.order)
    for item in Item:
        lines = [line for line in plan.order if line.item is item]
        if lines:
            _group(running, item, lines, plan, priced)
    _total(running, plan)
    return _numbered(running, plan, size)


def _group(running: Running, item: Item, lines: Sequence[OrderLine], plan: Plan, priced: bool) -> None:
    printer = plan.job.printer
    running.space(1.5)
    running.add(lambda x, y, width: blocks.paragraph(_HEADINGS[item], x=x, y=y, width=width, size=3.0, bold=True), gap=1.6, with_next=24)
    sized = any(line.size is not None for line in lines)
    details = [_details(line, plan, printer) for line in lines]
    columns = [Column(head="Quantity", align=Align.RIGHT), Column(head="What", share=1.0)]
    columns += [Column(head="Width × height")] if sized else []
    columns += [Column(head="Details", share=1.6)] if any(details) else []
    columns += [Column(head="For", share=1.0)]
    columns += [Column(head="Each", align=Align.RIGHT), Column(head="Price", align=Align.RIGHT)] if priced else []
    rows = []
    for line, detail in zip(lines, details, strict=True):
        row = [str(line.quantity), line.material]
        row += [_size(line.size, printer)] if sized else []
        row += [detail] if any(details) else []
        row += [", ".join(line.pieces)]
        row += [_money(line.unit_price), _money(line.price)] if priced else []
        rows.append(row)
    running.table(columns, rows, classes=("order", item.value.replace(" ", "-")))


def _size(size: Size | None, printer: Printer) -> str:
    return "" if size is None else printer.size(size)


def _details(line: OrderLine, plan: Plan, printer: Printer) -> str:
    """What a supplier needs beyond the size: each opening with its borders, then the note."""
    parts = [] if line.size is None else [_opening(o, line.size, printer) for o in line.openings]
    if len(parts) > 1:
        names = _window_names(line, plan)
        parts = [f"{name}: {part}" for name, part in zip(names, parts, strict=True)]
    return "\n".join([*parts, line.note] if line.note else parts)


def _opening(opening: Box, blank: Size, printer: Printer) -> str:
    """An opening's size on the back and what the board keeps on each side, seen from the front."""
    sides = opening.inset_in(Box.of(blank))
    borders = ", ".join(f"{name} {printer.number(getattr(sides, name))}" for name in ("top", "right", "bottom", "left"))
    return f"opening {printer.size(opening.size)}; {borders}"


def _window_names(line: OrderLine, plan: Plan) -> list[str]:
    """What the windows are called in the first piece that the line is for."""
    piece: SolvedPiece | None = next((p for p in plan.pieces if p.name in line.pieces), None)
    if piece is None or len(piece.apertures) != len(line.openings):
        return [str(n) for n in range(1, len(line.openings) + 1)]
    return [aperture.name for aperture in piece.apertures]


def total(lines: Sequence[OrderLine]) -> Decimal | None:
    """What the priced lines come to, None where no line has a price."""
    prices = [line.price for line in lines if line.price is not None]
    return sum(prices, Decimal(0)) if prices else None


def _total(running: Running, plan: Plan) -> None:
    known = total(plan.order)
    if known is None:
        return
    missing = sum(line.price is None for line in plan.order)
    text = f"Total {_money(known)} {plan.job.currency}"
    if missing:
        text += f" without {missing} line{'s' if missing > 1 else ''} whose price is not known"
    running.add(lambda x, y, width: blocks.paragraph(text, x=x, y=y, width=width, size=3.0, bold=True))


def _numbered(running: Running, plan: Plan, size: tuple[float, float]) -> tuple[Sheet, ...]:
    pages = running.pages
    sheets = []
    for number, items in enumerate(pages, 1):
        block = title_block(plan.job, title=plan.job.title, document="Order list", sheet=(number, len(pages)))
        title = "Order list" if len(pages) == 1 else f"Order list, sheet {number}"
        sheets.append(Sheet(name=f"order {number}", title=title, size=size, items=(*frame(size, block).items, *items)))
    return tuple(sheets)
