"""The order list: as sheets to take to the shop or to send, and as rows for a table of comma-separated values."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Final

from matplan.documents.ordering.costs import add_costs, add_drop_outs, add_sticks
from matplan.documents.parts import wording
from matplan.documents.parts.folio import Folio
from matplan.documents.parts.page import paper, title_block
from matplan.documents.parts.running import Pages, Running, flowed
from matplan.documents.parts.wording import counted
from matplan.drawing import blocks
from matplan.drawing.blocks import Align, Column
from matplan.drawing.frame import drawing_area, frame
from matplan.drawing.sheet import Sheet
from matplan.lengths import Box, Printer, Size
from matplan.mats.records import SolvedPiece
from matplan.orders.money import Currency
from matplan.orders.records import CUT_HERE, Item, OrderLine
from matplan.orders.store import sold_length
from matplan.planning import Plan

HEADER: Final = (
    "item", "material", "width", "height", "quantity", "for", "unit_price", "price", "units", "currency",
    "openings", "note", "supplier",
)  # fmt: skip
"""The columns of `order.csv`. Lengths print as on every document: plain numbers in `units`, inches as fractions."""

_FORMULA: Final = "=+-@＝＋－＠\t\r\n"
"""What a spreadsheet takes for the beginning of a formula, full-width forms and leading blanks that it drops included.
"""


def order_rows(plan: Plan) -> tuple[tuple[str, ...], ...]:
    """Return the header and one row for each line of the order. No cell begins like a formula.

    `openings` has one for each window of a mat, `x y width height` from the blank's top left corner, seen from the
    front.
    """
    printer = plan.job.printer
    currency = Currency.of(plan.job.currency)
    rows = [_row(line, printer, currency) for line in plan.order]
    return (HEADER, *(tuple(map(guarded, row)) for row in rows))


def guarded(cell: str) -> str:
    """The cell, behind an apostrophe where a spreadsheet would take it for a formula.

    >>> guarded("=1+1"), guarded("ash")
    ("'=1+1", 'ash')
    """
    return f"'{cell}" if cell.startswith(tuple(_FORMULA)) or cell.lstrip().startswith(tuple(_FORMULA)) else cell


def _row(line: OrderLine, printer: Printer, money: Currency) -> tuple[str, ...]:
    width, height = (
        ("", "") if line.size is None else (printer.number(line.size.width), printer.number(line.size.height))
    )
    priced = line.unit_price is not None
    return (
        str(line.item),
        line.material,
        width,
        height,
        str(line.quantity),
        "; ".join(line.pieces),
        money.written(line.unit_price),
        money.written(line.price),
        printer.units.value if line.size is not None or line.openings else "",
        money.code if priced else "",
        "; ".join(" ".join(printer.number(v) for v in (o.x, o.y, o.width, o.height)) for o in line.openings),
        ", ".join(part for part in (_UNIT_WORDS.get(line.unit, ""), line.note) if part),
        line.where,
    )


_UNIT_WORDS: Final = {"m": "metres", "ft": "feet"}


def _quantity(line: OrderLine) -> str:
    return f"{line.quantity} {line.unit}".rstrip()


# --- sheets ----------------------------------------------------------------------------------------------------------

_HEADINGS: Final = {
    Item.FRAME: "Frames",
    Item.MOULDING: "Frames made to measure",
    Item.MAT: "Mats, cut to size; openings and borders as seen from the front, at the narrow edge of the cut",
    Item.READY_CUT: "Ready-cut mats",
    Item.GLAZING: "Glazing, cut to size",
    Item.BACKING: "Backing, cut to size",
    Item.MOUNT: "Mounts, cut to size",
    Item.SPACER: "Spacers",
    Item.SHEET: "Sheets",
    Item.HARDWARE: "Hardware",
    Item.PAPER: "Paper",
}
_STICKS: Final = "Moulding, in sticks"
_AT_HAND: Final = "At hand and used, not ordered"


def drawn(_folio: Folio, plan: Plan) -> tuple[Sheet, ...]:
    """Return the sheets of the order list."""
    return order_sheet(plan)


def order_sheet(plan: Plan) -> tuple[Sheet, ...]:
    """Return the order list on as many sheets as it needs, what belongs together under one heading, the total at its
    end.
    """
    size = paper(plan.job.units).landscape
    return _numbered(flowed(drawing_area(size), lambda running: _fill(running, plan)), plan, size)


def _fill(running: Running, plan: Plan) -> None:
    running.add(lambda x, y, width: blocks.paragraph(_summary(plan), x=x, y=y, width=width))
    shops = dict.fromkeys(line.where for line in plan.order)
    for shop in shops:
        _shop(running, shop, [line for line in plan.order if line.where == shop], plan)
    if plan.at_hand:
        _group(running, _AT_HAND, plan.at_hand, plan)
    add_drop_outs(running, plan)
    add_sticks(running, plan)
    add_costs(running, plan)


def _shop(running: Running, shop: str, lines: Sequence[OrderLine], plan: Plan) -> None:
    """Add what one buys in one place, a table for each kind of thing."""
    first = f"{shop[:1].upper()}{shop[1:]}: "
    for item in Item:
        of_it = [line for line in lines if line.item is item]
        for sticks in (False, True):
            alike = [line for line in of_it if (line.note == CUT_HERE) is sticks]
            if alike:
                heading = _STICKS if sticks else _HEADINGS[item]
                told = "" if heading.casefold() == shop.casefold() else first
                _group(running, f"{told}{heading[:1].lower()}{heading[1:]}" if told else heading, alike, plan)


type _Row = tuple[OrderLine, bool, tuple[str, ...]]
"""The line, whether this is its first row, and the cells."""


def _group(running: Running, title: str, lines: Sequence[OrderLine], plan: Plan) -> None:
    columns, rows = _mats(lines, plan) if any(line.openings for line in lines) else _things(lines, plan)
    cells = [row for _, _, row in rows]
    if any(line.unit_price is not None for line in lines):
        money = Currency.of(plan.job.currency)
        columns = [*columns, Column(head="Each", align=Align.RIGHT), Column(head="Total", align=Align.RIGHT)]
        cells = [
            (*row, money.written(line.unit_price) if first else "", money.written(line.price) if first else "")
            for line, first, row in rows
        ]
    running.table(columns, cells, title=title, classes=("order", lines[0].item.value.replace(" ", "-")), gap=5.5)


def _things(lines: Sequence[OrderLine], plan: Plan) -> tuple[list[Column], list[_Row]]:
    """Return a row for each line; columns that all lines leave empty are left out."""
    printer = plan.job.printer
    sized, sticks = any(line.size is not None for line in lines), all(line.note == CUT_HERE for line in lines)
    noted = not sticks and any(line.note for line in lines)
    columns = [Column(head="Quantity", align=Align.RIGHT), Column(head="Item", share=1.0)]
    columns += [Column(head="Lengths, face" if sticks else "Width × height")] if sized else []
    columns += [Column(head="Note", share=1.2)] if noted else []
    columns += [Column(head="For", share=1.4)]
    rows: list[_Row] = []
    for line in lines:
        cells = [_quantity(line), wording.short(line.material)]
        cells += [_stick(line, printer) if sticks else _size(line.size, printer)] if sized else []
        cells += [line.note] if noted else []
        rows.append((line, True, (*cells, _for(line, plan))))
    return columns, rows


_BORDERS: Final = ("top", "right", "bottom", "left")


def _mats(lines: Sequence[OrderLine], plan: Plan) -> tuple[list[Column], list[_Row]]:
    """Return a row for each opening with what the board keeps on each side of it, as a supplier cuts it; seen from the
    front.
    """
    printer = plan.job.printer
    named = any(len(line.openings) > 1 for line in lines)
    columns = [Column(head="Quantity", align=Align.RIGHT), Column(head="Board", share=1.0), Column(head="Blank")]
    columns += [Column(head="Window", share=0.8)] if named else []
    columns += [Column(head="Clear opening")]
    columns += [Column(head=side.capitalize(), align=Align.RIGHT) for side in _BORDERS]
    columns += [Column(head="Cut"), Column(head="For", share=1.2)]
    rows: list[_Row] = []
    for line in lines:
        names = _window_names(line, plan)
        for number, (name, opening) in enumerate(zip(names, line.seen or line.openings, strict=True)):
            first = number == 0
            cells = (
                [str(line.quantity), wording.short(line.material), _size(line.size, printer)] if first else ["", "", ""]
            )
            cells += [wording.short(name) if len(names) > 1 else ""] if named else []
            cells += [printer.size(opening.size), *_borders(opening, line.size, printer)]
            rows.append((line, first, (*cells, *((line.note, _for(line, plan)) if first else ("", "")))))
    return columns, rows


def _borders(opening: Box, blank: Size | None, printer: Printer) -> list[str]:
    if blank is None:
        return [""] * len(_BORDERS)
    sides = opening.inset_in(Box.of(blank))
    return [printer.number(side) for side in (sides.top, sides.right, sides.bottom, sides.left)]


def _size(size: Size | None, printer: Printer) -> str:
    return "" if size is None else printer.size(size)


def _stick(line: OrderLine, printer: Printer) -> str:
    """Return how many sticks of which length, what they come to, and their face width where the job tells it."""
    if line.size is None:
        return ""
    length, face = line.size.width, line.size.height
    each, all_of_them = (sold_length(part, printer.units) for part in (length, length * int(line.quantity)))
    return f"{line.quantity} × {each} = {all_of_them}" + (f", face {printer.length(face)}" if face else "")


_MOST_NAMES: Final = 6


def _for(line: OrderLine, plan: Plan) -> str:
    """Return the pieces' names; where they are many, the first of them."""
    if len(line.pieces) == len(plan.pieces) > 2:
        return f"all {len(line.pieces)} pieces"
    shown = [wording.short(name) for name in line.pieces[:_MOST_NAMES]]
    more = len(line.pieces) - len(shown)
    return ", ".join(shown) + (f" and {more} more" if more else "")


def _window_names(line: OrderLine, plan: Plan) -> list[str]:
    """Return what the windows are called in the first piece that the line is for."""
    piece: SolvedPiece | None = next((p for p in plan.pieces if p.name in line.pieces), None)
    if piece is None or len(piece.apertures) != len(line.openings):
        return [str(n) for n in range(1, len(line.openings) + 1)]
    return [aperture.name for aperture in piece.apertures]


def total(lines: Sequence[OrderLine]) -> Decimal | None:
    """Return what the priced lines come to, or `None` where no line has a price."""
    prices = [line.price for line in lines if line.price is not None]
    return sum(prices, Decimal(0)) if prices else None


def _summary(plan: Plan) -> str:
    """Return how much is on the list, and what it comes to where prices are known."""
    frames = sum(piece.ask.quantity for piece in plan.pieces)
    parts = [
        counted(len(plan.pieces), "piece"),
        f"{counted(frames, 'frame')} in all",
        counted(len(plan.order), "line"),
    ]
    known = total(plan.order)
    if known is not None:
        missing = sum(line.price is None for line in plan.order)
        unknown = f" ({counted(missing, 'line')} without a price)" if missing else ""
        parts.append(f"total {Currency.of(plan.job.currency).named(known)}{unknown}")
    return " · ".join(parts)


def _numbered(pages: Pages, plan: Plan, size: tuple[float, float]) -> tuple[Sheet, ...]:
    sheets = []
    for number, items in enumerate(pages, 1):
        block = title_block(plan.job, title=plan.job.title, document="Order list", sheet=(number, len(pages)))
        title = "Order list" if len(pages) == 1 else f"Order list, sheet {number}"
        sheets.append(Sheet(name=f"order {number}", title=title, size=size, items=(*frame(size, block).items, *items)))
    return tuple(sheets)
