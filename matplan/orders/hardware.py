"""What holds a work in its frame and the frame on its wall."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction
from typing import assert_never

from matplan.job.records import ByCleat, BySawtooth, ByTwoHooks, ByWire, Hang, Rates
from matplan.lengths import INCH
from matplan.mats.records import SolvedPiece
from matplan.orders.costs import cents
from matplan.orders.records import Item, OrderLine

HINGE_EVERY = 12 * INCH
"""One hinge every 10–15 in on large work, at least two (published: a museum's exhibition manual); 12 in taken."""
WIRE_SPARE = Fraction(200)
"""Wire for the two knots, whole (common practice)."""


def hinges(width: Fraction) -> int:
    """Return how many hinges hold a work of the width along its top edge."""
    return max(2, -(-width // HINGE_EVERY))


def hardware(piece: SolvedPiece, rates: Rates, hang: Hang | None) -> Iterator[OrderLine]:
    """Yield hinges for the works, tape round the back, and what hangs the frame: on a wire where no wall says otherwise
    (common practice).
    """
    many, names = piece.ask.quantity, (piece.name,)

    def line(material: str, each: int, note: str, price: Decimal | None = None) -> OrderLine:
        return OrderLine(
            item=Item.HARDWARE, material=material, quantity=each * many, pieces=names, unit_price=price, note=note
        )

    def metres(material: str, length: Fraction, price: Decimal | Fraction | None) -> OrderLine:
        """Return by the metre, up to the next whole one for all copies together; a price by the foot to the cent."""
        count = int(-(-length * many // 1000))
        return OrderLine(
            item=Item.HARDWARE,
            material=material,
            quantity=count,
            pieces=names,
            unit_price=cents(price) if isinstance(price, Fraction) else price,
            note="metres",
        )

    if piece.layers or piece.ask.mount is not None:
        count = sum(hinges(aperture.image.width) for aperture in piece.apertures)
        yield line("T-hinges", count, "reversible paper and paste, along the top edge", rates.hinge)
    around = 2 * (piece.blank.width + piece.blank.height)
    yield metres("backing tape", around, rates.tape_per_m)
    match hang or ByWire():
        case ByWire():
            yield line("strap hangers", 2, "with screws that suit the rail", rates.hanger)
            yield metres("hanging wire", piece.frame.rabbet.width + WIRE_SPARE, rates.wire_per_m)
            yield line("wall hooks", 1, "rated for the frame's weight and the wall", rates.hook)
        case ByTwoHooks():
            yield line("strap hangers", 2, "with screws that suit the rail", rates.hanger)
            yield line("wall hooks", 2, "rated for the frame's weight and the wall", rates.hook)
        case BySawtooth():
            yield line("sawtooth hangers", 1, "with screws that suit the rail", rates.hanger)
            yield line("wall hooks", 1, "rated for the frame's weight and the wall", rates.hook)
        case ByCleat():
            yield line("hanging cleats", 1, "a pair: one on the frame, one on the wall", rates.hanger)
            yield line("wall fixings", 2, "screws and plugs that suit the wall", rates.hook)
        case never:
            assert_never(never)
