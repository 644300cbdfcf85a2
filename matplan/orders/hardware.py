"""What holds a work in its frame and the frame on its wall."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from typing import Final, assert_never

from matplan.habits import habits_of
from matplan.job.records import ByCleat, BySawtooth, ByTwoHooks, ByWire, Hang, Included, Rates
from matplan.lengths import INCH, Units
from matplan.mats.records import SolvedPiece
from matplan.orders.records import Item, OrderLine

HINGE_EVERY = 12 * INCH
"""One hinge every 10–15 in on large work, at least two (published: a museum's exhibition manual); 12 in taken."""
WIRE_SPARE = Fraction(200)
"""Wire for the two knots, whole (common practice)."""


_FINE: Final = Decimal("0.000001")


def length_line(
    item: Item,
    material: str,
    length: Fraction,
    per_metre: Decimal | Fraction | None,
    pieces: tuple[str, ...],
    units: Units,
    *,
    note: str = "",
) -> OrderLine:
    """Return the line of something bought by its length: in metres or feet, up to the next tenth."""
    bought = habits_of(units).bought
    tenths = -(-length * 10 // bought.factor)
    price = None
    if per_metre is not None:
        exact = Fraction(per_metre) * bought.factor / 1000
        price = (Decimal(exact.numerator) / exact.denominator).quantize(_FINE)
    return OrderLine(
        item=item,
        material=material,
        quantity=Decimal(int(tenths)) / 10,
        unit=bought.name,
        pieces=pieces,
        unit_price=price,
        note=note,
    )


def hinges(width: Fraction) -> int:
    """Return how many hinges hold a work of the width along its top edge."""
    return max(2, -(-width // HINGE_EVERY))


def hardware(piece: SolvedPiece, rates: Rates, hang: Hang | None, units: Units = Units.MM) -> Iterator[OrderLine]:
    """Yield hinges for the works, tape round the back, and what hangs the frame: on a wire where no wall says otherwise
    (common practice).
    """
    many, names = piece.ask.quantity, (piece.name,)

    def line(material: str, each: int, note: str, price: Decimal | None = None) -> OrderLine:
        return OrderLine(
            item=Item.HARDWARE, material=material, quantity=each * many, pieces=names, unit_price=price, note=note
        )

    def by_length(material: str, length: Fraction, per_metre: Decimal | Fraction | None) -> OrderLine:
        return length_line(Item.HARDWARE, material, length * many, per_metre, names, units)

    if piece.layers or piece.ask.mount is not None:
        count = sum(hinges(aperture.image.width) for aperture in piece.apertures)
        yield line("T-hinges", count, "reversible paper and paste, along the top edge", rates.hinge)
    around = 2 * (piece.blank.width + piece.blank.height)
    yield by_length("backing tape", around, rates.tape_per_m)
    bare = Included.HANGERS not in piece.brings
    match hang or ByWire():
        case ByWire():
            if bare:
                yield line("strap hangers", 2, "with screws that suit the rail", rates.hanger)
            yield by_length("hanging wire", piece.frame.rabbet.width + WIRE_SPARE, rates.wire_per_m)
            yield line("wall hooks", 1, "rated for the frame's weight and the wall", rates.hook)
        case ByTwoHooks():
            if bare:
                yield line("strap hangers", 2, "with screws that suit the rail", rates.hanger)
            yield line("wall hooks", 2, "rated for the frame's weight and the wall", rates.hook)
        case BySawtooth():
            if bare:
                yield line("sawtooth hangers", 1, "with screws that suit the rail", rates.hanger)
            yield line("wall hooks", 1, "rated for the frame's weight and the wall", rates.hook)
        case ByCleat():
            yield line("French cleat (split batten)", 1, "a pair: one on the frame, one on the wall", rates.hanger)
            yield line("wall fixings", 2, "screws and plugs that suit the wall", rates.hook)
        case never:
            assert_never(never)
