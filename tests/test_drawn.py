"""Laws of every document, held on a few seeded jobs; `python -m tests.drawn` measures many more."""

from __future__ import annotations

from tests.documents.seeded import Measured
from tests.drawn import plans, rows_of


def test_nothing_clashes_and_no_letter_is_too_small() -> None:
    rows = rows_of(plans(3, seed=3), Measured())
    assert sum(row.sheets for row in rows.values()) > 15
    assert {title: row.clashes for title, row in rows.items() if row.clashes} == {}
    assert min(row.smallest for row in rows.values()) >= 1.8
