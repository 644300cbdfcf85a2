"""order.csv: a line of the order a row, for spreadsheets and shops' programs."""

from __future__ import annotations

from matplan.documents.ordering.order_list import order_rows
from matplan.documents.parts.folio import Folio
from matplan.planning import Plan


def drawn(_folio: Folio, plan: Plan) -> tuple[tuple[str, ...], ...]:
    """Return the header and the rows of the order."""
    return order_rows(plan)
