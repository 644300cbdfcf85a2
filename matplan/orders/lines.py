"""The order list: frames and mouldings, mats or ready-cut mats, backing, glazing, sheets and hardware, equal lines
gathered.

Quantities are totals over each piece's `quantity`; prices are exact decimals where the job tells them.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from matplan.catalogue import ReadyCut, Status
from matplan.job.records import Cut, Hang, Material, Rates
from matplan.lengths import Box, Printer, Size, Step, Units, plain_decimal
from matplan.mats.records import Layer, SolvedPiece
from matplan.orders.at_hand import frames_at_hand
from matplan.orders.cutting import Cutting, Rack, is_cut_here
from matplan.orders.hardware import hardware, length_line
from matplan.orders.moulding import rails_length
from matplan.orders.records import CUT_HERE, MADE_TO_MEASURE, Item, OrderLine

NO_RATES = Rates()
NOT_HUNG: Mapping[str, Hang] = {}


def own_lines(
    pieces: Sequence[SolvedPiece],
    *,
    rates: Rates = NO_RATES,
    hung: Mapping[str, Hang] = NOT_HUNG,
    racks: Sequence[Rack] = (),
    units: Units = Units.MM,
) -> tuple[OrderLine, ...]:
    """Return what each piece needs for itself, a line for one piece at a time: everything but the sheets and sticks
    that pieces share.

    `hung` tells how a piece hangs, by its name.
    """
    sawn = {rack.frame.name for rack in racks}
    ready = frames_at_hand(piece.ask for piece in pieces)
    return tuple(
        line
        for piece in pieces
        for lines in (
            _frames_to_order(piece, sawn, ready[piece.name]),
            _lines_of(piece, rates, hung.get(piece.name), units),
        )
        for line in lines
    )


def _frames_to_order(piece: SolvedPiece, sawn: Container[str], ready: int) -> Iterator[OrderLine]:
    """Yield the frames of a piece beyond those that lie ready, but for those that are sawn from sticks."""
    many = piece.ask.quantity - ready
    if many and not (piece.frame.made_to_measure and piece.frame.ask.name in sawn):
        yield replace(_frame_line(piece), quantity=many)


def order_list(
    own: Sequence[OrderLine], *, cuttings: Sequence[Cutting] = (), racks: Sequence[Rack] = ()
) -> tuple[OrderLine, ...]:
    """Return the order: the pieces' own lines, and the sheets and sticks to cut from; equal ones gathered in the order
    of their first piece.
    """
    gathered: dict[tuple[object, ...], list[OrderLine]] = {}
    for line in (*own, *_sheet_lines(cuttings), *_stick_lines(racks)):
        key = (line.item, line.material, line.size, line.openings, line.unit_price, line.note)
        gathered.setdefault(key, []).append(line)
    order = {item: number for number, item in enumerate(Item)}
    return tuple(sorted(map(_joined, gathered.values()), key=lambda line: order[line.item]))


def _joined(lines: Sequence[OrderLine]) -> OrderLine:
    """Return equal lines as one; time grows with their number."""
    if len(lines) == 1:
        return lines[0]
    names = dict.fromkeys(name for line in lines for name in line.pieces)
    return replace(lines[0], quantity=sum(line.quantity for line in lines), pieces=tuple(names))


def _lines_of(piece: SolvedPiece, rates: Rates, hang: Hang | None, units: Units) -> Iterator[OrderLine]:
    many, names, blank = piece.ask.quantity, (piece.name,), piece.blank
    if piece.ready_cut is not None:
        yield _ready_cut_line(piece, piece.ready_cut)
    elif not piece.comes_cut:
        for layer in piece.layers:
            if is_cut_here(piece, layer):
                continue
            backs = tuple(opening.back.box for opening in layer.openings)
            note = ", ".join([f"layer {layer.number}", f"{layer.cut} cut", *_shapes(layer)])
            yield OrderLine(
                item=Item.MAT,
                material=layer.board.name,
                size=blank,
                openings=backs,
                seen=tuple(opening.face.box for opening in layer.openings) if layer.cut is Cut.REVERSE else (),
                quantity=many,
                pieces=names,
                unit_price=area_price(layer.board, blank),
                note=note,
            )
    for item, material in (
        (Item.GLAZING, piece.ask.glazing),
        (Item.MOUNT, piece.ask.mount),
        (Item.BACKING, piece.ask.backing),
    ):
        if material is not None and not material.sheets and str(item) not in piece.brings:
            price = area_price(material, blank)
            yield OrderLine(
                item=item, material=material.name, size=blank, quantity=many, pieces=names, unit_price=price
            )
    if piece.ask.spacer is not None:
        around = 2 * (blank.width + blank.height) * many
        note = f"{Printer(units, Step.usual(units)).fine(piece.ask.spacer)} high, under the lip"
        yield length_line(Item.SPACER, "spacer", around, None, names, units, note=note)
    yield from hardware(piece, rates, hang, units)


def _shapes(layer: Layer) -> Iterator[str]:
    """Yield the shape of a mat's openings where it is not a rectangle, with the openings' numbers in the order's own
    sequence where they differ.

    Numbers rather than names, so that equal mats of two pieces are gathered, and mats with the same boxes and other
    shapes are not.
    """
    shapes = [str(opening.shape) for opening in layer.openings]
    if len(set(shapes)) == 1:
        yield from {*shapes} - {"rectangle"}
        return
    yield from (f"opening {number} {shape}" for number, shape in enumerate(shapes, start=1) if shape != "rectangle")


def _frame_line(piece: SolvedPiece) -> OrderLine:
    frame, many, names = piece.frame.ask, piece.ask.quantity, (piece.name,)
    if not piece.frame.made_to_measure:
        size = frame.takes or piece.frame.rabbet
        note = "ready-made, for a sheet of this size" if frame.takes is not None else "rabbet opening"
        if frame.turned:
            size, note = size.turned, f"{note}; hung {size.orientation}"
        return OrderLine(
            item=Item.FRAME,
            material=frame.name,
            size=size,
            quantity=many,
            pieces=names,
            unit_price=frame.price,
            note=note,
        )
    name = frame.name or MADE_TO_MEASURE
    note = "frame made to this rabbet opening"
    price = frame.price
    if frame.rail is not None and piece.frame.long_edges is not None:
        note += f"; {plain_decimal(rails_length(piece.frame.long_edges) / 1000, 2)} m of rails"
    return OrderLine(
        item=Item.MOULDING,
        material=name,
        size=piece.frame.rabbet,
        quantity=many,
        pieces=names,
        unit_price=price,
        note=note,
    )


def _ready_cut_line(piece: SolvedPiece, mat: ReadyCut) -> OrderLine:
    """Return the standard mat by its name and size in the tables, its opening in its own blank."""
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


def _sheet_lines(cuttings: Iterable[Cutting]) -> Iterator[OrderLine]:
    """Yield the sheets to buy, beyond those that lie ready."""
    for cutting in cuttings:
        for kind in cutting.kinds:
            count = cutting.layout.bought(kind)
            if count:
                yield OrderLine(
                    item=Item.SHEET,
                    material=cutting.material.name,
                    size=kind.size,
                    quantity=count,
                    pieces=cutting.pieces,
                    unit_price=kind.price,
                    note=f"{cutting.material.kind}, sold as {kind.name}",
                )


def _stick_lines(racks: Iterable[Rack]) -> Iterator[OrderLine]:
    """Yield the sticks of moulding to buy."""
    for rack in racks:
        for stick, count in rack.bought():
            yield OrderLine(
                item=Item.MOULDING,
                material=rack.frame.name,
                size=Size(stick.length, rack.frame.rail or Fraction(0)),
                quantity=count,
                pieces=rack.pieces,
                unit_price=stick.price,
                note=CUT_HERE,
            )


def area_price(material: Material, size: Size) -> Decimal | None:
    """Return the price of so large a part of a material that is sold by area, to the cent, or `None` where no price is
    known.
    """
    if material.price_per_m2 is None:
        return None
    exact = Fraction(material.price_per_m2) * size.area / 1_000_000
    return (Decimal(exact.numerator) / Decimal(exact.denominator)).quantize(Decimal("0.01"))
