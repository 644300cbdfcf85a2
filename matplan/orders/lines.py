"""The order list: frames and mouldings, mats or ready-cut mats, backing, glazing and hardware, equal lines gathered.

Quantities are totals over each piece's `quantity`; prices are exact decimals where the job tells them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from matplan.catalogue import ReadyCut, Status
from matplan.job.records import Material, MatSupply
from matplan.lengths import Box, Size
from matplan.mats.records import SolvedPiece


class Item(StrEnum):
    """What a line of the order is."""

    FRAME = "frame"
    MOULDING = "moulding"
    MAT = "mat"
    READY_CUT = "ready-cut mat"
    GLAZING = "glazing"
    BACKING = "backing"
    SHEET = "sheet"
    HARDWARE = "hardware"


MADE_TO_MEASURE = "made to measure"


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    """One line: `openings` are the backs of that layer's openings; `note` says what a size cannot."""

    item: Item
    material: str
    size: Size | None = None
    openings: tuple[Box, ...] = ()
    quantity: int
    pieces: tuple[str, ...]
    unit_price: Decimal | None = None
    note: str = ""

    @property
    def price(self) -> Decimal | None:
        return None if self.unit_price is None else self.unit_price * self.quantity


def order_list(pieces: Iterable[SolvedPiece]) -> tuple[OrderLine, ...]:
    """The lines for those pieces in the order of `Item`, equal ones gathered in the order of their first piece."""
    gathered: dict[tuple[object, ...], OrderLine] = {}
    for piece in pieces:
        for line in _lines_of(piece):
            key = (line.item, line.material, line.size, line.openings, line.unit_price, line.note)
            known = gathered.get(key)
            gathered[key] = line if known is None else _joined(known, line)
    order = list(Item)
    return tuple(sorted(gathered.values(), key=lambda line: order.index(line.item)))


def _joined(one: OrderLine, other: OrderLine) -> OrderLine:
    names = one.pieces if other.pieces[0] in one.pieces else one.pieces + other.pieces
    return replace(one, quantity=one.quantity + other.quantity, pieces=names)


def _lines_of(piece: SolvedPiece) -> Iterator[OrderLine]:
    many, names, blank = piece.ask.quantity, (piece.name,), piece.blank
    yield _frame_line(piece)
    if piece.ready_cut is not None:
        yield _ready_cut_line(piece, piece.ready_cut)
    elif piece.ask.mat_supply is not MatSupply.SHEETS:
        for layer in piece.layers:
            backs = tuple(opening.back.box for opening in layer.openings)
            shapes = sorted({str(opening.shape) for opening in layer.openings} - {"rectangle"})
            note = ", ".join([f"layer {layer.number}", f"{layer.cut} cut", *shapes])
            yield OrderLine(item=Item.MAT, material=layer.board.name, size=blank, openings=backs, quantity=many, pieces=names, note=note)
    for item, material in ((Item.GLAZING, piece.ask.glazing), (Item.BACKING, piece.ask.backing)):
        if material is not None and not material.sheets:
            price = area_price(material, blank)
            yield OrderLine(item=item, material=material.name, size=blank, quantity=many, pieces=names, unit_price=price)
    yield from _hardware(piece)


def _frame_line(piece: SolvedPiece) -> OrderLine:
    frame, many, names = piece.frame.ask, piece.ask.quantity, (piece.name,)
    if not piece.frame.made_to_measure:
        size = frame.takes or piece.frame.rabbet
        note = "takes this sheet" if frame.takes is not None else "rabbet opening"
        return OrderLine(item=Item.FRAME, material=frame.name, size=size, quantity=many, pieces=names, unit_price=frame.price, note=note)
    name = frame.name or MADE_TO_MEASURE
    note = "frame made to this rabbet opening"
    price = None if frame.sticks else frame.price
    return OrderLine(item=Item.MOULDING, material=name, size=piece.frame.rabbet, quantity=many, pieces=names, unit_price=price, note=note)


def _ready_cut_line(piece: SolvedPiece, mat: ReadyCut) -> OrderLine:
    """The standard mat by its name and size in the tables, its opening in its own blank."""
    boards = ", ".join(layer.board.name for layer in piece.layers)
    note = f"{boards}, bevel cut, for a print of {mat.print_name}"
    if mat.status is not Status.COMMON_PRACTICE:
        note += "; ask whether it is stocked"
    return OrderLine(
        item=Item.READY_CUT,
        material=mat.name,
        size=mat.blank,
        openings=(Box.of(mat.opening).centred_in(Box.of(mat.blank)),),
        quantity=piece.ask.quantity,
        pieces=(piece.name,),
        note=note,
    )


def area_price(material: Material, size: Size) -> Decimal | None:
    """The price of that much of a material that is sold by area, to the cent; None where no price is known."""
    if material.price_per_m2 is None:
        return None
    exact = Fraction(material.price_per_m2) * size.area / 1_000_000
    return (Decimal(exact.numerator) / Decimal(exact.denominator)).quantize(Decimal("0.01"))


HINGE_EVERY = Fraction(12) * Fraction(127, 5)
"""One hinge every 10–15 in on large work, at least two (published: museum exhibition manual, TRADE 2); 12 in taken."""
HANGING_WIRE_SPARE = Fraction(200)
"""Wire for the two knots, whole (common practice)."""


def hinges(width: Fraction) -> int:
    """How many hinges hold a work of that width along its top edge."""
    return max(2, -(-width // HINGE_EVERY))


def _hardware(piece: SolvedPiece) -> Iterator[OrderLine]:
    """Hinges for the works, tape round the back, and what hangs the frame on a wire (common practice)."""
    many, names = piece.ask.quantity, (piece.name,)

    def line(material: str, quantity: int, note: str, size: Size | None = None) -> OrderLine:
        return OrderLine(item=Item.HARDWARE, material=material, size=size, quantity=quantity, pieces=names, note=note)

    if piece.layers:
        count = sum(hinges(aperture.image.width) for aperture in piece.apertures)
        yield line("T-hinges", count * many, "paper and paste that come off again, along the top edge")
    around = 2 * (piece.blank.width + piece.blank.height)
    yield line("backing tape", many, f"metres a frame: {_metres(around)}")
    yield line("strap hangers", 2 * many, "with screws that suit the rail")
    yield line("hanging wire", many, f"metres a frame: {_metres(piece.frame.rabbet.width + HANGING_WIRE_SPARE)}")
    yield line("wall hooks", many, "rated for the frame's weight and the wall")


def _metres(length: Fraction) -> str:
    """Metres, up to a tenth."""
    tenths = -(-length // 100)
    return f"{tenths // 10}.{tenths % 10}"
