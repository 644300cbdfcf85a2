"""Ten published cut lists (sources in `sheets/README.md`): the count of sheets against the fewest found and the proven
bound.
"""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from matplan.lengths import Size, Units
from matplan.stock.cutlist import read_cut_list
from matplan.stock.records import StockKind
from matplan.stock.search import Budget
from matplan.stock.solver import cut_sheets

HERE = Path(__file__).with_name("sheets")
LISTS: list[dict[str, Any]] = json.loads((HERE / "index.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("known", LISTS, ids=lambda known: str(known["name"]))
def test_every_list_is_cut_whole_with_a_bound_that_holds(known: dict[str, Any]) -> None:
    """Valid (the checker cuts every sheet up), at most one sheet above the fewest found, the bound no
    higher than it.
    """
    parts = read_cut_list(HERE / known["file"], Units.MM)
    kind = StockKind(name="sheet", size=Size(*(Fraction(side) for side in known["sheet"])))
    layout = cut_sheets(parts, [kind], budget=Budget(seconds=1.5))
    used = sum(layout.used.values())
    assert not layout.unplaced
    assert known["area_bound"] <= layout.lower_bound <= known["best"] <= used <= known["best"] + 1
    assert layout.optimal == (used == layout.lower_bound)
    if known["name"] in ("bw01-20-09", "beng01", "cgcut01"):
        assert used == known["best"] == layout.lower_bound
