"""What a job costs, what its drop-outs save and what its rails take: tables behind the order list."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from matplan.documents.parts import wording
from matplan.documents.parts.running import Running
from matplan.documents.parts.wording import counted
from matplan.drawing import blocks
from matplan.drawing.blocks import Align, Column
from matplan.orders.money import Currency
from matplan.orders.moulding import quick_rule
from matplan.planning import Plan
from matplan.weights import area


def add_costs(running: Running, plan: Plan) -> None:
    """The costs of each piece, where the job tells any price: share by share, one copy and its selling price."""
    costs, currency = plan.costs, Currency.of(plan.job.currency)
    if costs.total is None:
        return
    sold = any(cost.selling is not None for cost in costs.pieces)
    columns = [
        Column(head="Piece", share=1.0),
        Column(head="Cost breakdown", share=2.2),
        Column(head="Each", align=Align.RIGHT),
        Column(head="Total", align=Align.RIGHT),
    ]
    columns += [Column(head="Selling price, each", align=Align.RIGHT)] if sold else []
    rows: list[tuple[str, ...]] = []
    for cost in costs.pieces:
        if not cost.shares:
            continue
        parts = " · ".join(f"{share.what} {currency.written(share.amount)}" for share in cost.shares)
        name = wording.short(cost.name) + (f" × {cost.quantity}" if cost.quantity > 1 else "")
        row = (name, parts, currency.written(cost.each), currency.written(cost.total))
        rows.append((*row, currency.written(cost.selling)) if sold else row)
    last = ("Job total", "priced items only" if costs.unpriced else "", "", currency.written(costs.total))
    rows.append((*last, "") if sold else last)
    if costs.budget is not None and costs.left is not None:
        over = "over" if costs.left < 0 else "left of it"
        for what, amount in (("Budget", costs.budget), (f"Budget, {over}", abs(costs.left))):
            told = (what, "", "", currency.written(amount))
            rows.append((*told, "") if sold else told)
    named = f", {currency.code}" if currency.code else ""
    running.table(columns, rows, title=f"Costs{named}", classes=("costs",), gap=5.5)
    _add_selling_prices(running, plan, named)
    for finding in plan.findings:
        if finding.code == "no-selling-price":
            _say(running, finding.text)


def _add_selling_prices(running: Running, plan: Plan, named: str) -> None:
    """How each selling price comes about."""
    rows = [
        (wording.short(cost.name), cost.sold.in_words(cost.currency))
        for cost in plan.costs.pieces
        if cost.sold is not None and cost.shares
    ]
    columns = [Column(head="Piece", share=1.0), Column(head="How it comes about, each", share=3.0)]
    running.table(columns, rows, title=f"Selling prices{named}", classes=("selling",), gap=5.5)


def add_sticks(running: Running, plan: Plan) -> None:
    """What each moulding's rails take, beside the trade's quick rule; saw lists tell how they come out of sticks."""
    for rack in plan.racks:
        _say(running, f"{wording.short(rack.frame.name)}: {_quick_rule(plan, rack.frame.name)}")


def _say(running: Running, text: str) -> None:
    running.add(lambda x, y, width: blocks.paragraph(text, x=x, y=y, width=width))


def add_drop_outs(running: Running, plan: Plan) -> None:
    """What the drop-outs save."""
    for text in saved_by_drop_outs(plan):
        _say(running, text)


def _quick_rule(plan: Plan, name: str) -> str:
    """Return what the trade's quick rule would order, and why that is more than the rails take."""
    printer = plan.job.printer
    quick = exact = lips = Fraction(0)
    for piece in plan.pieces:
        frame, edges = piece.frame.ask, piece.frame.long_edges
        if not piece.frame.made_to_measure or frame.name != name or edges is None or frame.rail is None:
            continue
        many = piece.ask.quantity
        quick += many * quick_rule(piece.frame.rabbet, frame.rail)
        exact += many * 2 * (edges.width + edges.height)
        lips += many * 8 * frame.lip
    return (
        f"by the quick rule, perimeter + 8 × face, {printer.length(quick)}; the rails take "
        f"{printer.length(exact)}. The rule counts "
        f"the lip, which the rabbet takes back, eight times a frame: {printer.length(lips)} too much."
    )


def saved_by_drop_outs(plan: Plan) -> Iterator[str]:
    """Yield a sentence for each material of which drop-outs serve again."""
    for cutting in plan.cuttings:
        falls = [sheet for sheet in cutting.layout.sheets if sheet.stock.falls_from is not None]
        if not falls:
            continue
        parts = sum(len(sheet.pieces) * sheet.count for sheet in falls)
        saved = sum((piece.box.size.area * sheet.count for sheet in falls for piece in sheet.pieces), Fraction(0))
        count = sum(sheet.count for sheet in falls)
        yield (
            f"{wording.short(cutting.material.name)}: {counted(parts, 'part')} cut from {counted(count, 'drop-out')}, "
            f"{area(saved, plan.job.units)} of board saved."
        )
