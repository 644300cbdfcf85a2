"""What each piece costs and what it may sell for, in exact decimals; as far as the job tells prices.

Sheets and sticks that several pieces are cut from are shared by the area and length that each takes. Sheets that lie
ready cost nothing. Amounts are rounded to the currency's minor unit only where they are shared, so that the shares add
up to what was paid.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from matplan.job.records import Rates
from matplan.lengths import Multiple
from matplan.mats.records import SolvedPiece
from matplan.orders.cutting import Cutting, Rack
from matplan.orders.money import Currency
from matplan.orders.records import Item, OrderLine
from matplan.sums import Sum, Term, count, money, nearest, ratio, up

USUAL = Currency()


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """One reason why a piece costs something: `what` it is and the amount for all copies."""

    what: str
    amount: Decimal


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceCost:
    """A piece's costs for all its copies; `each` is one copy's, `sold` how what one copy sells for comes about, `None`
    where the job asks for no selling price or while a part of the piece has no price.
    """

    name: str
    quantity: int
    shares: tuple[Share, ...]
    sold: Sum | None = None
    currency: Currency = USUAL
    unpriced: tuple[str, ...] = ()
    """The parts of the piece that have no price."""

    @property
    def total(self) -> Decimal:
        return sum((share.amount for share in self.shares), Decimal(0))

    @property
    def each(self) -> Decimal:
        return self.currency.rounded(Fraction(self.total) / self.quantity)

    @property
    def selling(self) -> Decimal | None:
        """What one copy sells for."""
        return None if self.sold is None else self.currency.whole(self.sold.value)


@dataclass(frozen=True, slots=True, kw_only=True)
class Costs:
    """The job's costs. `total` is None where nothing has a price; `unpriced` names what is ordered without one."""

    pieces: tuple[PieceCost, ...]
    total: Decimal | None
    ordered: Decimal | None
    """What the order list comes to, of the lines that have a price."""
    unpriced: tuple[str, ...]
    """What is ordered without a price, but for the smallest things."""
    budget: Decimal | None = None

    @property
    def left(self) -> Decimal | None:
        """What is left of the budget, below zero where the job costs more; `None` without a budget or a price."""
        return None if self.budget is None or self.total is None else self.budget - self.total


def shared(amount: Decimal, weights: Sequence[Fraction], currency: Currency = USUAL) -> tuple[Decimal, ...]:
    """Return the amount in parts as the weights, each to the minor unit, that add up to it exactly."""
    whole, run, done = sum(weights, Fraction(0)), Fraction(0), Decimal(0)
    parts = []
    for weight in weights:
        run += weight
        until = amount if run == whole else currency.rounded(Fraction(amount) * run / whole)
        parts.append(until - done)
        done = until
    return tuple(parts)


def costs_of(
    pieces: Sequence[SolvedPiece],
    own: Sequence[OrderLine],
    order: Sequence[OrderLine],
    cuttings: Sequence[Cutting],
    racks: Sequence[Rack],
    rates: Rates,
    currency: Currency = USUAL,
) -> Costs:
    """Return what the job and each of its pieces cost; `own` are the pieces' own lines, `order` the whole order."""
    found: dict[str, dict[str, Decimal]] = {piece.name: {} for piece in pieces}

    def charge(name: str, what: str, amount: Decimal) -> None:
        if amount:
            found[name][what] = found[name].get(what, Decimal(0)) + amount

    for line in own:
        if line.price is not None:
            charge(line.pieces[0], _called(line), line.price)
    for cutting in cuttings:
        if cutting.layout.cost:
            areas = [part.size.area * part.quantity for part in cutting.parts]
            for owner, part in zip(cutting.owners, shared(cutting.layout.cost, areas, currency), strict=True):
                charge(owner, f"sheets of {cutting.material.name}", part)
    for rack in racks:
        paid = sum((stick.price * count for stick, count in rack.bought() if stick.price is not None), Decimal(0))
        lengths = [length for _, length in rack.owners]
        for (owner, _), part in zip(rack.owners, shared(paid, lengths, currency), strict=True):
            charge(owner, f"sticks of {rack.frame.name}", part)
    for piece in pieces:
        for what, amount in _made(piece, rates, currency):
            charge(piece.name, what, amount)
    lacking = _unpriced(pieces, own, cuttings, racks)
    made = tuple(
        _piece_cost(
            piece,
            tuple(Share(what=what, amount=amount) for what, amount in found[piece.name].items()),
            lacking[piece.name],
            rates,
            currency,
        )
        for piece in pieces
    )
    priced = [line.price for line in order if line.price is not None]
    known = bool(priced) or any(cost.shares for cost in made)
    return Costs(
        pieces=made,
        total=sum((cost.total for cost in made), Decimal(0)) if known else None,
        ordered=sum(priced, Decimal(0)) if priced else None,
        unpriced=tuple(
            dict.fromkeys(f"{line.item} {line.material}" for line in order if line.price is None and not line.small)
        ),
        budget=rates.budget,
    )


def _called(line: OrderLine) -> str:
    """Return what a line is called among a piece's costs; small things go by their own names."""
    return line.material if line.item is Item.HARDWARE else f"{line.item} {line.material}"


def _made(piece: SolvedPiece, rates: Rates, currency: Currency) -> list[tuple[str, Decimal]]:
    """Return what ink and work of all copies cost."""
    many = piece.ask.quantity
    shares: list[tuple[str, Decimal]] = []
    if rates.ink_per_m2 is not None:
        ink = Fraction(rates.ink_per_m2) * many / 1_000_000
        shares += [("ink", currency.rounded(ink * aperture.image.size.area)) for aperture in piece.apertures]
    if rates.labour_per_hour is not None and piece.ask.minutes is not None:
        shares.append(("work", currency.rounded(Fraction(rates.labour_per_hour) * piece.ask.minutes * many / 60)))
    return shares


def _unpriced(
    pieces: Sequence[SolvedPiece], own: Sequence[OrderLine], cuttings: Sequence[Cutting], racks: Sequence[Rack]
) -> dict[str, tuple[str, ...]]:
    """Return the parts of each piece that have no price; what lies ready costs nothing and needs none."""
    found: dict[str, dict[str, None]] = {piece.name: {} for piece in pieces}
    for line in own:
        if line.price is None and not line.small:
            found[line.pieces[0]][f"{line.item} {line.material}"] = None
    for cutting in cuttings:
        if any(kind.price is None and cutting.layout.bought(kind) for kind in cutting.kinds):
            for name in cutting.pieces:
                found[name][f"sheets of {cutting.material.name}"] = None
    for rack in racks:
        if any(kind.price is None for kind, _ in rack.bought()):
            for name in rack.pieces:
                found[name][f"sticks of {rack.frame.name}"] = None
    return {name: tuple(parts) for name, parts in found.items()}


def _piece_cost(
    piece: SolvedPiece, shares: tuple[Share, ...], unpriced: tuple[str, ...], rates: Rates, currency: Currency
) -> PieceCost:
    many = piece.ask.quantity
    bare = PieceCost(name=piece.name, quantity=many, shares=shares, currency=currency, unpriced=unpriced)
    if not rates.sells or unpriced:
        return bare
    return replace(bare, sold=_selling(Fraction(bare.total), many, rates, currency))


def _selling(cost: Fraction, many: int, rates: Rates, currency: Currency) -> Sum:
    """Return how the selling price of one of so many copies comes about, which cost `cost` together."""
    tree: Term = money("cost", cost)
    if many > 1:
        tree = tree / count(many)
    if rates.markup is not None:
        tree = tree * ratio("mark-up", rates.markup)
    if rates.commission:
        tree = tree / (count(1) - ratio("commission", rates.commission))
    if rates.tax:
        tree = tree * (count(1) + ratio("tax", rates.tax))
    tree = nearest(tree, currency.minor) if rates.round_to is None else up(tree, Multiple(Fraction(rates.round_to)))
    return Sum(what="selling price", value=tree.value, tree=tree)
