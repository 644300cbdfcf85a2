"""Laws of every drawing, held on seeded pieces of all kinds; `python -m tests.documents.seeded` measures many more."""

from __future__ import annotations

from tests.documents.seeded import measured


def test_no_number_is_missing_and_nothing_clashes() -> None:
    found = measured(16, seed=5)
    assert found.diagrams > 12
    assert found.together
    assert found.missing == []
    assert found.clashes == []
    assert found.smallest >= 1.8
    assert {tuple(sorted(size)) for size in found.papers} <= {(210, 297), (297, 420), (215.9, 279.4), (279.4, 431.8)}
