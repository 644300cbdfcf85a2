"""`matplan sheets`: its options into stock, its answer as text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction

import click

from matplan.faults import LengthError, printable
from matplan.habits import habits_of
from matplan.job.file.money import read_money
from matplan.job.file.written import read_size
from matplan.lengths import Printer, Step, Units, parse_length, plain_decimal
from matplan.stock.records import LaidSheet, Layout, Measure, StockKind


def read_length(text: str | None, option: str, units: Units) -> Fraction:
    """Return an option's length, 0 if it is not given."""
    if text is None:
        return Fraction(0)
    try:
        return parse_length(text, units)
    except LengthError as error:
        raise click.BadParameter(str(error), param_hint=option) from error


def read_kinds(written: Sequence[str], units: Units, trim: Fraction, limit: int | None) -> tuple[StockKind, ...]:
    """Return the sheets that `--sheet SIZE[@PRICE]` name. All have a price or none has; no size stands twice."""
    kinds = tuple(_kind(text, units, trim, limit) for text in written)
    priced = [kind for kind in kinds if kind.price is not None]
    if priced and len(priced) < len(kinds):
        bare = next(kind.name for kind in kinds if kind.price is None)
        raise click.BadParameter(
            f'"{printable(bare, 60)}" has no price and others have one; give all of them one, or none',
            param_hint="--sheet",
        )
    for number, kind in enumerate(kinds):
        if kind.name in [other.name for other in kinds[:number]]:
            raise click.BadParameter(f'"{printable(kind.name, 60)}" stands twice', param_hint="--sheet")
    return kinds


def _kind(text: str, units: Units, trim: Fraction, limit: int | None) -> StockKind:
    size, at, price = text.partition("@")
    try:
        read = read_size(size, units)
    except ValueError as error:
        raise click.BadParameter(str(error), param_hint="--sheet") from error
    if 2 * trim >= min(read.width, read.height):
        raise click.BadParameter(f'the trim leaves nothing of "{printable(size.strip(), 60)}"', param_hint="--trim")
    return StockKind(name=size.strip(), size=read, price=_price(price) if at else None, limit=limit, trim=trim)


def _price(text: str) -> Decimal:
    try:
        return read_money(text, Units.MM)
    except ValueError as error:
        raise click.BadParameter(str(error), param_hint="--sheet") from error


def layout_text(layout: Layout, units: Units) -> str:
    """Return the sheets, each with its pieces and numbered cuts, and how good the answer is proven to be."""
    printer = Printer(units, Step(habits_of(units).figure(Fraction(1, 16), Fraction(1, 100))))
    lines: list[str] = []
    for number, sheet in enumerate(layout.sheets, 1):
        lines.extend(_sheet_lines(number, sheet, printer))
    for name, count in layout.used.items():
        lines.append(f"{count} × {name}")
    lines.extend(f"not placed: {lost.quantity} × {printable(lost.name)}: {lost.reason}" for lost in layout.unplaced)
    lines.append(_proof(layout))
    return "\n".join(lines)


def _sheet_lines(number: int, sheet: LaidSheet, printer: Printer) -> Iterator[str]:
    times = f", cut {sheet.count} like this" if sheet.count > 1 else ""
    yield f"sheet {number}: {printable(sheet.stock.name)}{times}"
    for piece in sheet.pieces:
        turned = ", turned" if piece.turned else ""
        place = f"{printer.number(piece.x)}, {printer.number(piece.y)}"
        yield f"  {printable(piece.name)}  {printer.size(piece.box.size)} at {place}{turned}"
    for count, cut in enumerate(sheet.cuts, 1):
        way = "down" if cut.x1 == cut.x2 else "across"
        yield (
            f"  cut {count}: fence {printer.length(cut.setting)}, {way} from {printer.number(cut.x1)}, "
            f"{printer.number(cut.y1)}"
        )
    for offcut in sheet.offcuts:
        yield f"  offcut {printer.size(offcut.size)}"
    yield ""


def _proof(layout: Layout) -> str:
    match layout.measure:
        case Measure.COST:
            words = (
                f"cost {plain_decimal(layout.value, 2)}, proven to be at least {plain_decimal(layout.lower_bound, 2)}"
            )
        case Measure.COUNT:
            words = (
                f"{plain_decimal(layout.value, 0)} sheets, proven to be at least {plain_decimal(layout.lower_bound, 0)}"
            )
        case Measure.AREA:
            metres = [plain_decimal(area / 1_000_000, 2) for area in (layout.value, layout.lower_bound)]
            words = f"{metres[0]} m² of sheets, proven to be at least {metres[1]} m²"
    return f"{words}: the best there is" if layout.optimal else words
