"""The order list: frames and mouldings, mats or ready-cut mats, backing, glazing, sheets and hardware, equal lines
gathered.

Quantities are totals over each piece's `quantity`; prices are exact decimals where the job tells them.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from matplan.catalogue import ReadyCut, Status
from matplan.habits import habits_of
from matplan.job.records import Cut, Hang, Job, Material, Shape
from matplan.lengths import ZERO, Box, Size
from matplan.mats.records import Layer, SolvedPiece
from matplan.orders.cutting import Cutting, Rack, is_cut_here
from matplan.orders.hardware import needs
from matplan.orders.money import Currency
from matplan.orders.moulding import rails_length
from matplan.orders.records import AT_HAND, CUT_HERE, MADE_TO_MEASURE, SHOPS, Item, OrderLine
from matplan.orders.store import Store, as_sold, less_at_hand
from matplan.stock.records import StockKind
from matplan.stock.sticks import StickKind

NO_STORE = Store()
NOT_HUNG: Mapping[str, Hang] = {}
NOTHING_READY: Mapping[str, Decimal] = {}


def own_lines(
    pieces: Sequence[SolvedPiece],
    *,
    store: Store = NO_STORE,
    hung: Mapping[str, Hang] = NOT_HUNG,
    racks: Sequence[Rack] = (),
) -> tuple[OrderLine, ...]:
    """Return what each piece needs for itself, a line for one piece at a time: everything but the sheets and sticks
    that pieces share; what of it lies ready is among it.

    `hung` tells how a piece hangs, by its name.
    """
    sawn = {rack.frame.name for rack in racks}
    return tuple(
        line
        for piece in pieces
        for line in (*_frame(piece, sawn, store), *_lines_of(piece, store, hung.get(piece.name)))
    )


def _frame(piece: SolvedPiece, sawn: Container[str], store: Store) -> Iterator[OrderLine]:
    """Yield the frames of a piece, but for those that are sawn from sticks."""
    if not (piece.frame.made_to_measure and piece.frame.ask.name in sawn):
        yield _frame_line(piece, store)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shopping:
    """What a job takes: `own` are the pieces' lines of what is bought for each, `order` what is bought, gathered and in
    packs and rolls as sold, `at_hand` what lies ready and is used.
    """

    own: tuple[OrderLine, ...]
    order: tuple[OrderLine, ...]
    at_hand: tuple[OrderLine, ...]


def shopping(
    wanted: Sequence[OrderLine],
    *,
    store: Store = NO_STORE,
    ready: Mapping[str, Decimal] = NOTHING_READY,
    cuttings: Sequence[Cutting] = (),
    racks: Sequence[Rack] = (),
) -> Shopping:
    """Return what is bought of what the pieces need, and of the sheets and sticks that they share; equal articles are
    one line, whichever way up they hang. `ready` is how much lies ready, by `OrderLine.thing`.
    """
    own, taken = less_at_hand(wanted, ready)
    bought = as_sold(store, _gathered((*own, *_sheet_lines(cuttings), *_stick_lines(racks))))
    here = (*taken, *_ready_sheets(cuttings), *_ready_sticks(racks))
    return Shopping(own=tuple(own), order=_in_order(bought), at_hand=_in_order(_gathered(here)))


def ready_of(job: Job, store: Store) -> dict[str, Decimal]:
    """Return how much of each small thing, paper and ready-made frame of a job lies ready."""
    papers = {f"paper {paper.name}": Decimal(paper.have) for paper in job.papers if paper.have}
    frames = {f"frame {frame.name}": Decimal(frame.have) for frame in job.frames if frame.have and frame.ready_made}
    return {name: store.ready(name) for name in store.hardware} | papers | frames


def _gathered(lines: Iterable[OrderLine]) -> list[OrderLine]:
    """Return the lines with equal articles as one, in the order of their first piece."""
    found: dict[tuple[object, ...], list[OrderLine]] = {}
    for line in lines:
        size = line.size.upright if line.size is not None and not line.openings else line.size
        note = "" if line.thing else line.article or line.note
        key = (line.item, line.material, size, line.openings, line.unit_price, note, line.where)
        found.setdefault(key, []).append(line)
    return [_joined(lines) for lines in found.values()]


def _in_order(lines: Iterable[OrderLine]) -> tuple[OrderLine, ...]:
    """Return the lines by where one buys: shops of a kind first, those with a name behind them, in the job's order."""
    items = {item: number for number, item in enumerate(Item)}
    made = list(lines)
    shops = {shop: number for number, shop in enumerate(dict.fromkeys([*SHOPS.values(), *(one.where for one in made)]))}
    return tuple(sorted(made, key=lambda line: (shops[line.where], items[line.item])))


def _joined(lines: Sequence[OrderLine]) -> OrderLine:
    """Return equal lines as one; time grows with their number."""
    if len(lines) == 1:
        return lines[0]
    names = dict.fromkeys(name for line in lines for name in line.pieces)
    first = max(lines, key=lambda line: line.rank or ZERO)
    notes = dict.fromkeys(line.note for line in (lines if first.rank is None else (first,)) if line.note)
    return replace(lines[0], quantity=sum(line.quantity for line in lines), pieces=tuple(names), note="; ".join(notes))


def _lines_of(piece: SolvedPiece, store: Store, hang: Hang | None) -> Iterator[OrderLine]:
    many, names, blank = piece.ask.quantity, (piece.name,), piece.blank
    if piece.ready_cut is not None:
        yield _ready_cut_line(piece, piece.ready_cut)
    elif not piece.comes_cut:
        for layer in piece.layers:
            if is_cut_here(piece, layer):
                continue
            backs = tuple(opening.back.box for opening in layer.openings)
            cut = (f"layer {layer.number}", f"{layer.cut} cut")
            yield OrderLine(
                item=Item.MAT,
                material=layer.board.name,
                size=blank,
                openings=backs,
                seen=tuple(opening.face.box for opening in layer.openings) if layer.cut is Cut.REVERSE else (),
                quantity=many,
                pieces=names,
                unit_price=area_price(layer.board, blank, store.currency),
                layer=layer.number,
                note=", ".join([*cut, *_shapes(layer)]),
                article=", ".join([*cut, *(str(opening.shape) for opening in layer.openings)]),
                rank=ZERO,
                supplier=layer.board.supplier,
            )
    for item, material in (
        (Item.GLAZING, piece.ask.glazing),
        (Item.MOUNT, piece.ask.mount),
        (Item.BACKING, piece.ask.backing),
    ):
        if material is not None and not material.sheets and str(item) not in piece.brings:
            price = area_price(material, blank, store.currency)
            yield OrderLine(
                item=item,
                material=material.name,
                size=blank,
                quantity=many,
                pieces=names,
                unit_price=price,
                supplier=material.supplier,
            )
    yield from _papers(piece)
    yield from (store.line(need, many, piece.name) for need in needs(piece, hang, store.units))


def _papers(piece: SolvedPiece) -> Iterator[OrderLine]:
    """Yield the sheets that the prints take, one each, and the small ones for their test strips, one a print."""
    for aperture in piece.apertures:
        paper = None if aperture.print is None else aperture.print.paper
        if paper is None:
            continue
        line = OrderLine(
            item=Item.PAPER,
            material=paper.name,
            size=paper.size,
            quantity=piece.ask.quantity,
            pieces=(piece.name,),
            unit_price=paper.price,
            supplier=paper.supplier,
            thing=f"paper {paper.name}",
        )
        yield line
        if paper.test_strip is not None:
            yield replace(
                line, size=paper.test_strip, quantity=1, unit_price=None, note="for test strips", thing="", small=True
            )


def _shapes(layer: Layer) -> Iterator[str]:
    """Yield the shape of a mat's openings where it is not a rectangle, with the windows' names where they differ."""
    shapes = [str(opening.shape) for opening in layer.openings]
    if len(set(shapes)) == 1:
        yield from {*shapes} - {str(Shape.RECTANGLE)}
        return
    yield from (f"{one.aperture}: {one.shape}" for one in layer.openings if one.shape is not Shape.RECTANGLE)


def _frame_line(piece: SolvedPiece, store: Store) -> OrderLine:
    """Return the frame as it is bought: which way up it hangs is no matter of the shop's."""
    frame, rails = piece.frame.ask, piece.frame.long_edges
    line = OrderLine(
        item=Item.FRAME,
        material=frame.name or MADE_TO_MEASURE,
        quantity=piece.ask.quantity,
        pieces=(piece.name,),
        unit_price=frame.price,
        supplier=frame.supplier,
    )
    if not piece.frame.made_to_measure:
        size = frame.takes or piece.frame.rabbet
        note = "ready-made, for a sheet of this size" if frame.takes is not None else "rabbet opening"
        return replace(line, size=size.turned if frame.turned else size, note=note, thing=f"frame {frame.name}")
    note = "frame made to this rabbet opening"
    if frame.rail is None or rails is None:
        return replace(line, item=Item.MOULDING, size=piece.frame.rabbet, note=note)
    length = rails_length(rails)
    price = frame.price if frame.price_per_m is None else metre_price(frame.price_per_m, length, store.currency)
    note += f"; {habits_of(store.units).bought.text(length, 2)} of rails"
    return replace(line, item=Item.MOULDING, size=piece.frame.rabbet, note=note, unit_price=price)


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
            if count := cutting.layout.bought(kind):
                yield _sheets(cutting, kind, count, kind.price, f"sold as {kind.name}")


def _ready_sheets(cuttings: Iterable[Cutting]) -> Iterator[OrderLine]:
    """Yield the sheets that lie ready and are cut."""
    for cutting in cuttings:
        for kind in cutting.kinds:
            if count := min(cutting.layout.count(kind), kind.have):
                yield _sheets(cutting, kind, count, Decimal(0), AT_HAND)


def _sheets(cutting: Cutting, kind: StockKind, count: int, price: Decimal | None, note: str) -> OrderLine:
    return OrderLine(
        item=Item.SHEET,
        material=cutting.material.name,
        size=kind.size,
        quantity=count,
        pieces=cutting.pieces,
        supplier=cutting.material.supplier,
        unit_price=price,
        note=f"{cutting.material.kind}, {note}",
    )


def _stick_lines(racks: Iterable[Rack]) -> Iterator[OrderLine]:
    """Yield the sticks of moulding to buy, beyond those that lie ready."""
    for rack in racks:
        for kind, count in rack.bought():
            yield _sticks(rack, kind, count, kind.price)


def _ready_sticks(racks: Iterable[Rack]) -> Iterator[OrderLine]:
    """Yield the sticks that lie ready and are cut."""
    for rack in racks:
        for kind, used in rack.used():
            if count := min(used, kind.have):
                yield _sticks(rack, kind, count, Decimal(0))


def _sticks(rack: Rack, kind: StickKind, count: int, price: Decimal | None) -> OrderLine:
    return OrderLine(
        item=Item.MOULDING,
        material=rack.frame.name,
        size=Size(kind.length, rack.frame.rail or ZERO),
        quantity=count,
        pieces=rack.pieces,
        supplier=rack.frame.supplier,
        unit_price=price,
        note=CUT_HERE,
    )


def metre_price(per_metre: Decimal | Fraction, length: Fraction, currency: Currency) -> Decimal:
    """Return the price of a length in millimetres, to the minor unit."""
    return currency.rounded(Fraction(per_metre) * length / 1000)


def area_price(material: Material, size: Size, currency: Currency) -> Decimal | None:
    """Return the price of so large a part of a material that is sold by area, to the minor unit, or `None` where no
    price is known.
    """
    if material.price_per_m2 is None:
        return None
    return currency.rounded(Fraction(material.price_per_m2) * size.area / 1_000_000)
