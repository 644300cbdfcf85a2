"""What becomes of drop-outs: those that a sheet layout cuts mats from are kept, by number, all others are waste."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from matplan.job import parse_job
from matplan.job.records import LayerAsk, MatSupply, Piece, StockSheet
from matplan.lengths import Size
from matplan.orders.keeping import SPARE, fates
from matplan.orders.leftovers import keep_of, leftovers
from matplan.planning import Plan, plan
from tests.making import WHITE, frame, piece, planned, size, window

BOARD = replace(WHITE, sheets=(StockSheet(written="60x80 cm", size=size("60x80 cm")),))


def cut_here(name: str, image: str, takes: str, **changes: object) -> Piece:
    made = piece(
        name,
        file=name.lower(),
        frame=frame(takes),
        apertures=(window(name, image=image),),
        mat=(LayerAsk(board=BOARD, reveal=Fraction(0)),),
        glazing=None,
        backing=None,
        mat_supply=MatSupply.SHEETS,
    )
    return replace(made, **changes)  # type: ignore[arg-type]


def told(plan: Plan) -> dict[str, dict[str, str]]:
    return {one.name: fates(plan.cuttings, one, plan.job.dropout_trim, keep_of(plan.job))[1] for one in plan.pieces}


@pytest.mark.parametrize(
    ("larger", "smaller", "words"),
    [(1, 1, "keep: Fog"), (1, 2, "keep: Fog × 2"), (2, 2, "keep 1 of 2: Fog × 2"), (2, 4, "keep: Fog × 4")],
)
def test_a_kept_drop_out_names_the_mats_that_are_cut_from_it(larger: int, smaller: int, words: str) -> None:
    """An opening of 50 × 36 cm leaves room for two mats of 24 × 30 cm, one beside the other."""
    plan = planned(
        cut_here("Dawn", "506 x 366 mm", "60x50 cm", quantity=larger),
        cut_here("Fog", "106 x 166 mm", "24x30 cm", quantity=smaller),
    )
    assert told(plan) == {"Dawn": {"Dawn": words}, "Fog": {}}


def test_a_drop_out_that_no_layout_uses_is_not_named() -> None:
    plan = planned(cut_here("Dawn", "106 x 166 mm", "24x30 cm"))
    assert told(plan) == {"Dawn": {}}


def test_a_drop_out_that_the_shelf_keeps_says_so() -> None:
    """What the leftovers tell as a sheet of the next job must not be thrown away: 250 × 170 less twice 1.4."""
    text = '[board.white]\nsheets = [{ size = "60x80 cm" }]\n[[piece]]\nname = "Dawn"\nframe = "40x50 cm"\n'
    made = plan(parse_job(f'{text}image = "256 x 176 mm"\n', Path()))
    assert told(made) == {"Dawn": {"Dawn": SPARE}}
    ((_, sheets),) = leftovers(made.job, made.cuttings, made.racks, made.order, made.at_hand).sheets
    assert Size(Fraction("167.2"), Fraction("247.2")) in sheets
