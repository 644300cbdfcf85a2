"""Every size with the sum that made it, and the budgets: as text for a terminal, and for machines."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from matplan.faults import MESSAGE, LookupFault, printable
from matplan.lengths import Printer
from matplan.mats.records import Budget, SolvedPiece
from matplan.orders.money import Currency
from matplan.planning import Plan
from matplan.sums import Exact, Sum, tree_json
from matplan.walls.records import SolvedWall
from matplan.walls.sums import wall_sums


def chosen(plan: Plan, name: str | None) -> tuple[SolvedPiece, ...]:
    """Return the piece of that name, or all without a name. Raises `LookupFault` that names the near ones."""
    if name is None:
        return plan.pieces
    found = tuple(piece for piece in plan.pieces if name in (piece.name, piece.ask.file))
    if not found:
        import difflib

        names = [piece.name for piece in plan.pieces]
        near = difflib.get_close_matches(name[:200], names, n=3) or names[:5]
        raise LookupFault(f'{plan.job.file}: no piece is called "{printable(name, 60)}"; there are {", ".join(near)}')
    return found


def sums_text(plan: Plan, pieces: Sequence[SolvedPiece]) -> str:
    """Return every size of the pieces, a line each: `opening width 244 mm = image 250 − 2 × overlap 3`; then how a
    piece's selling price comes about.

    With all pieces the walls' hooks follow.
    """
    printer = plan.job.printer
    blocks = [
        (
            piece.name,
            [
                *_words(piece.sums, printer),
                *(sold.in_words(money) for sold, money in _sold(plan, piece)),
                *_budgets(piece, printer),
            ],
        )
        for piece in pieces
    ]
    blocks += [(wall.name, _words(wall_sums(wall), printer)) for wall in _explained(plan, pieces)]
    return "\n\n".join(
        "\n".join([printable(name), *(f"  {printable(text, MESSAGE)}" for text in lines)]) for name, lines in blocks
    )


def _words(sums: Iterable[Sum], printer: Printer) -> list[str]:
    return [made.in_words(printer) for made in sums]


def _budgets(piece: SolvedPiece, printer: Printer) -> list[str]:
    """Return the table of budgets: slack, what is left of it, and below what spends it; like ones stand once."""
    fine, rows = printer.fine, list[tuple[str, ...]]()
    alike: dict[tuple[object, ...], list[Budget]] = {}
    for one in piece.budgets:
        alike.setdefault((one.what, one.aperture, one.slack, one.spends), []).append(one)
    for found in alike.values():
        one, sides = found[0], ", ".join(budget.side for budget in found)
        of = f"{one.aperture}, {sides}" if len(piece.apertures) > 1 and one.aperture else sides
        rows.append(
            (
                one.what,
                of,
                f"{fine(one.slack)} of slack",
                f"worst {_left(one.worst, printer)}, likely {_left(one.likely, printer)}",
            )
        )
        rows += [("", "", fine(spend.amount), f"{spend.of} ({spend.status})") for spend in one.spends]
    if not rows:
        return []
    widths = [max(len(row[n]) for row in rows) for n in range(3)]
    lines = ("  ".join((*(cell.ljust(wide) for cell, wide in zip(row, widths, strict=False)), row[3])) for row in rows)
    return ["budgets: what is left of each slack in the worst and in the likely case", *lines]


def _left(length: Fraction, printer: Printer) -> str:
    return printer.fine(length) if length >= 0 else f"{printer.fine(-length)} short"


def _sold(plan: Plan, piece: SolvedPiece) -> Iterator[tuple[Sum, Currency]]:
    """Yield how the piece's selling price comes about, where it has one, and its currency."""
    for cost in plan.costs.pieces:
        if cost.name == piece.name and cost.sold is not None:
            yield cost.sold, cost.currency


def _explained(plan: Plan, pieces: Sequence[SolvedPiece]) -> tuple[SolvedWall, ...]:
    return plan.walls if len(pieces) == len(plan.pieces) else ()


def _sums(sums: Iterable[Sum], printer: Exact) -> list[dict[str, object]]:
    from matplan.planning.written.values import number

    return [
        {
            "what": made.title,
            "value": number(made.value),
            "text": made.in_words(printer),
            "tree": tree_json(made.tree),
        }
        for made in sums
    ]


def sums_document(plan: Plan, pieces: Sequence[SolvedPiece]) -> dict[str, object]:
    """Return the sums for machines: what, value in mm, the sum in words and as a tree of named terms; and budgets."""
    from matplan.planning.written.pieces import budgets_json

    printer = plan.job.printer
    return {
        "schema": "matplan-sums/1",
        "units": str(plan.job.units),
        "pieces": [
            {
                "name": piece.name,
                "sums": [
                    *_sums(piece.sums, printer),
                    *(one for sold, money in _sold(plan, piece) for one in _sums([sold], money)),
                ],
                "budgets": budgets_json(piece),
            }
            for piece in pieces
        ],
        "walls": [{"name": wall.name, "sums": _sums(wall_sums(wall), printer)} for wall in _explained(plan, pieces)],
    }
