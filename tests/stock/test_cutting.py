"""Layouts under laws: the checker accepts every answer, refuses broken ones, and drop-outs never come before their
mats.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from itertools import combinations, permutations
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matplan.faults import StockError
from matplan.lengths import Size
from matplan.stock.checker import check_layout
from matplan.stock.dropouts import cut_mats
from matplan.stock.filled_sticks import Looks, RackKind, from_ready
from matplan.stock.records import Layout, Measure, Part, StockKind
from matplan.stock.search import Budget
from matplan.stock.solver import cut_sheets
from matplan.stock.sticks import ROOT_TWO, StickKind, check_sticks, cut_sticks

QUICK = Budget(seconds=0.3)


def size(width: object, height: object) -> Size:
    return Size(Fraction(str(width)), Fraction(str(height)))


BOARD = StockKind(name="815 x 1120 mm", size=size(815, 1120), price=Decimal("14.50"), trim=Fraction(3))


@st.composite
def tasks(draw: st.DrawFn) -> tuple[list[Part], list[StockKind], Fraction]:
    sides = st.integers(20, 400)
    parts = [
        Part(
            name=f"p{n}",
            size=size(draw(sides), draw(sides)),
            quantity=draw(st.integers(1, 4)),
            turn=draw(st.booleans()),
        )
        for n in range(draw(st.integers(1, 8)))
    ]
    priced = draw(st.booleans())
    kinds = [
        StockKind(
            name=f"s{n}",
            size=size(draw(st.integers(200, 900)), draw(st.integers(200, 900))),
            price=Decimal(draw(st.integers(1, 40))) if priced else None,
            have=draw(st.integers(0, 2)),
            limit=draw(st.none() | st.integers(0, 3)),
            trim=Fraction(draw(st.integers(0, 6))),
        )
        for n in range(draw(st.integers(1, 2)))
    ]
    return parts, kinds, Fraction(draw(st.sampled_from([0, 1, 3])))


@settings(max_examples=25, deadline=None)
@given(task=tasks())
def test_every_answer_can_be_cut_and_counts_every_part(task: tuple[list[Part], list[StockKind], Fraction]) -> None:
    parts, kinds, kerf = task
    layout = cut_sheets(parts, kinds, kerf=kerf, budget=QUICK)  # checked inside: an answer that does not hold raises
    placed = sum(len(sheet.pieces) * sheet.count for sheet in layout.sheets)
    assert placed + sum(lost.quantity for lost in layout.unplaced) == sum(part.quantity for part in parts)
    if layout.unplaced:
        assert not layout.optimal
    else:
        assert layout.lower_bound <= layout.value


def laid() -> tuple[Layout, list[Part], list[StockKind]]:
    parts = [
        Part(name="mat", size=size(400, 500), quantity=5),
        Part(name="slip", size=size(100, 300), quantity=3, turn=False),
    ]
    return cut_sheets(parts, [BOARD], kerf=Fraction(1), budget=QUICK), parts, [BOARD]


def _first_piece(layout: Layout, **changes: Any) -> Layout:
    sheet = layout.sheets[0]
    piece = replace(sheet.pieces[0], **changes)
    return replace(layout, sheets=(replace(sheet, pieces=(piece, *sheet.pieces[1:])), *layout.sheets[1:]))


@pytest.mark.parametrize(
    "broken",
    [
        lambda layout: _first_piece(layout, x=layout.sheets[0].pieces[0].x + 1),
        lambda layout: _first_piece(layout, width=Fraction(399)),
        lambda layout: _first_piece(layout, name="nobody's"),
        lambda layout: _first_piece(layout, turned=not layout.sheets[0].pieces[0].turned),
        lambda layout: replace(layout, sheets=layout.sheets[:-1]),
        lambda layout: replace(
            layout, sheets=(replace(layout.sheets[0], cuts=layout.sheets[0].cuts[1:]), *layout.sheets[1:])
        ),
        lambda layout: replace(
            layout, sheets=(replace(layout.sheets[0], cuts=layout.sheets[0].cuts[::-1]), *layout.sheets[1:])
        ),
        lambda layout: replace(layout, sheets=(replace(layout.sheets[0], count=2), *layout.sheets[1:])),
        lambda layout: replace(layout, cost=Decimal(1)),
        lambda layout: replace(layout, lower_bound=layout.value + 1),
        lambda layout: replace(layout, measure=Measure.AREA),
    ],
)
def test_the_checker_notices_a_broken_answer(broken: Any) -> None:
    layout, parts, kinds = laid()
    check_layout(layout, parts, kinds, Fraction(1))
    with pytest.raises(StockError, match="does not hold"):
        check_layout(broken(layout), parts, kinds, Fraction(1))


def test_sheets_at_hand_come_first_and_cost_nothing() -> None:
    layout = cut_sheets([Part(name="mat", size=size(700, 1000), quantity=2)], [replace(BOARD, have=1)], budget=QUICK)
    assert layout.used == {BOARD.name: 2}  # 809 × 1114 holds one, whatever the search has time for
    assert layout.bought(layout.kinds[0]) == 1
    assert layout.cost == Decimal("14.50")


def test_what_no_sheet_holds_and_what_no_sheet_is_left_for_say_so() -> None:
    parts = [Part(name="giant", size=size(900, 1200)), Part(name="mat", size=size(400, 500), quantity=40)]
    layout = cut_sheets(parts, [replace(BOARD, limit=2)], budget=QUICK)
    reasons = {lost.name: (lost.quantity, lost.reason) for lost in layout.unplaced}
    assert "larger than every sheet" in reasons["giant"][1]
    assert reasons["mat"][1] == "no sheet is left for it"
    assert reasons["mat"][0] == 40 - sum(len(sheet.pieces) * sheet.count for sheet in layout.sheets)


def test_a_kind_that_cannot_be_had_leaves_the_measure_as_it_is() -> None:
    kinds = [StockKind(name="gone", size=size(200, 200), limit=0), StockKind(name="ready", size=size(200, 200), have=1)]
    layout = cut_sheets([Part(name="a", size=size(20, 20), quantity=4)], kinds, budget=QUICK)
    assert layout.measure is Measure.AREA
    assert layout.value == layout.lower_bound == 0


def test_grain_forbids_turning() -> None:
    narrow = StockKind(name="strip", size=size(300, 1000))
    assert cut_sheets([Part(name="a", size=size(900, 200), turn=False)], [narrow], budget=QUICK).unplaced
    assert not cut_sheets([Part(name="a", size=size(900, 200))], [narrow], budget=QUICK).unplaced


def test_drop_outs_serve_at_no_cost() -> None:
    """Six mats of 400 × 500 on two sheets; what falls out of each, 241.2 × 361.2, gives two of 180 × 240."""
    parts = [
        Part(name="Slipway layer 1", size=size(400, 500), quantity=6, drops=(size("241.2", "361.2"),)),
        Part(name="Gull layer 1", size=size(180, 240), quantity=12, drops=(size(97, 147),)),
    ]
    layout = cut_mats(parts, [BOARD], budget=QUICK)
    without = cut_sheets(parts, [BOARD], budget=QUICK)
    assert layout.cost is not None
    assert without.cost is not None
    assert layout.cost < without.cost
    assert layout.optimal
    falls = [sheet for sheet in layout.sheets if sheet.stock.falls_from]
    assert {sheet.stock.name for sheet in falls} == {"drop-out of Slipway layer 1"}
    assert sum(len(sheet.pieces) * sheet.count for sheet in falls) == 12


def test_a_drop_out_that_is_used_before_it_falls_is_noticed() -> None:
    parts = [
        Part(name="large", size=size(400, 500), quantity=2, drops=(size(241, 361),)),
        Part(name="small", size=size(180, 240), quantity=4),
    ]
    layout = cut_mats(parts, [BOARD], budget=QUICK)
    drops = [sheet for sheet in layout.sheets if sheet.stock.falls_from]
    others = [sheet for sheet in layout.sheets if not sheet.stock.falls_from]
    if drops:
        with pytest.raises(StockError, match="before it falls out"):
            check_layout(replace(layout, sheets=(*drops, *others)), parts, [BOARD], Fraction(0))


def test_a_mat_never_lies_in_its_own_drop_out() -> None:
    parts = [Part(name="mat", size=size(200, 200), quantity=8, drops=(size(198, 198),))]
    layout = cut_mats(parts, [BOARD], budget=QUICK)
    assert not any(sheet.stock.falls_from for sheet in layout.sheets)


# --- sticks ----------------------------------------------------------------------------------------------------------


def test_rails_of_one_frame_from_three_metre_sticks() -> None:
    """2 × 629 + 2 × 404 + 2 × 399 + 2 × 411 = 3686 mm: two sticks, and no fewer."""
    rails = [Fraction(n) for n in (629, 404, 629, 404, 399, 411, 399, 411)]
    made = cut_sticks(rails, [StickKind(length=Fraction(3000))], Fraction(3))
    assert len(made.sticks) == 2
    assert made.optimal


def test_a_mitred_cut_takes_kerf_times_root_two() -> None:
    """Two rails of 998 and a cut of 3 × √2 = 4.243 need 2000.243 of 2000 mm; of 997.8 they need 1999.843."""
    assert ROOT_TWO**2 > 2
    kind = StickKind(length=Fraction(2000))
    assert len(cut_sticks([Fraction(998)] * 2, [kind], Fraction(3)).sticks) == 2
    assert len(cut_sticks([Fraction("997.8")] * 2, [kind], Fraction(3)).sticks) == 1


def test_several_lengths_are_weighed_by_their_price() -> None:
    kinds = [StickKind(length=Fraction(3000), price=Decimal(21)), StickKind(length=Fraction(2000), price=Decimal(12))]
    made = cut_sticks([Fraction(950)] * 4, kinds, Fraction(0))
    assert made.by_cost
    assert made.value == 24
    assert made.optimal


@settings(max_examples=60, deadline=None)
@given(
    rails=st.lists(st.integers(100, 1500), min_size=1, max_size=24),
    kerf=st.sampled_from([0, 2, 3]),
    spare=st.sampled_from([0, 20]),
)
def test_sticks_hold_their_rails_and_never_beat_their_bound(rails: list[int], kerf: int, spare: int) -> None:
    kinds = [
        StickKind(length=Fraction(2400), spare=Fraction(spare)),
        StickKind(length=Fraction(3000), spare=Fraction(spare)),
    ]
    for chosen in (kinds[:1], kinds):
        made = cut_sticks([Fraction(rail) for rail in rails], chosen, Fraction(kerf))  # checked inside
        assert made.lower_bound <= made.value
        assert not made.unplaced


def test_a_rail_longer_than_every_stick_is_left_over() -> None:
    made = cut_sticks([Fraction(3100), Fraction(500)], [StickKind(length=Fraction(3000))], Fraction(0))
    assert made.unplaced == (Fraction(3100),)
    assert not made.optimal


def kept_apart(rails: list[int], room: int) -> int:
    """Return the bound L2 as its book writes it: over every mark, each rail looked at by itself."""
    found = []
    for mark in range(room // 2 + 1):
        alone = [rail for rail in rails if rail > room - mark]
        halves = [rail for rail in rails if room - mark >= rail and 2 * rail > room]
        small = [rail for rail in rails if mark <= rail and 2 * rail <= room]
        over = sum(small) - (len(halves) * room - sum(halves))
        found.append(len(alone) + len(halves) + max(0, -(-over // room)))
    return max(found)


@settings(max_examples=100, deadline=None)
@given(rails=st.lists(st.integers(1, 60), min_size=1, max_size=24))
def test_the_bound_of_shared_sticks_is_the_books(rails: list[int]) -> None:
    made = cut_sticks([Fraction(rail) for rail in rails], [StickKind(length=Fraction(60))], Fraction(0))
    assert made.lower_bound == max(kept_apart(rails, 60), -(-sum(rails) // 60))


@settings(max_examples=200, deadline=None)
@given(needs=st.lists(st.integers(3, 60), min_size=1, max_size=10), cut=st.sampled_from([0, 2]))
def test_a_filled_stick_leaves_less_than_a_cut_or_as_little_as_can_be(needs: list[int], cut: int) -> None:
    """The longest rail is always cut; every choice of the others is tried."""
    kind = RackKind(room=60, weight=Fraction(1), have=1, length=Fraction(60), number=0)
    needs.sort(reverse=True)
    sticks, rest = next(from_ready(needs, [kind], cut, Looks(left=100_000)))
    ((_, held),) = sticks
    assert sorted((*held, *rest), reverse=True) == needs
    longest, *others = needs
    choices = (longest + sum(some) for size in range(len(needs)) for some in combinations(others, size))
    left = 60 - max(need for need in choices if need <= 60)
    assert held[0] == longest
    assert left <= 60 - sum(held) < max(cut, left + 1)


@settings(max_examples=40, deadline=None)
@given(rails=st.lists(st.integers(100, 1500), min_size=1, max_size=40), looks=st.sampled_from([0, 1, 5, 50]))
def test_sticks_hold_their_rails_when_few_looks_are_left(rails: list[int], looks: int) -> None:
    kinds = [
        StickKind(length=Fraction(2400), price=Decimal(15), have=1),
        StickKind(length=Fraction(3000), price=Decimal(17)),
    ]
    wanted = [Fraction(rail) for rail in rails]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("matplan.stock.sticks.ALL_LOOKS", looks)
        made = cut_sticks(wanted, kinds, Fraction(3))  # checked inside
    assert not made.unplaced
    assert made.lower_bound <= made.value


# --- sticks that lie ready -------------------------------------------------------------------------------------------


def test_sticks_at_hand_are_used_first_and_are_not_bought() -> None:
    """Four rails of 900: a stick of 2 m at hand takes two, and one of 2 m is bought for the others."""
    kind = StickKind(length=Fraction(2000), price=Decimal(12), have=1)
    made = cut_sticks([Fraction(900)] * 4, [kind], Fraction(0))
    assert [(len(stick.rails), ready) for stick, ready in made.told()] == [(2, True), (2, False)]
    assert made.value == made.lower_bound == 1
    assert made.optimal
    enough = cut_sticks([Fraction(900)] * 4, [replace(kind, have=1_000_000)], Fraction(0))
    assert len(enough.sticks) == 2
    assert enough.value == 0
    assert enough.optimal


def test_a_rail_that_only_a_stick_at_hand_gives_is_cut_from_it_once() -> None:
    kinds = [
        StickKind(length=Fraction(3000), have=1, sold=False),
        StickKind(length=Fraction(2000), price=Decimal(12)),
    ]
    one = cut_sticks([Fraction(500), Fraction(2500)], kinds, Fraction(0))
    assert one.value == 0
    assert one.optimal
    two = cut_sticks([Fraction(2500)] * 2, kinds, Fraction(0))
    assert two.unplaced == (Fraction(2500),)


def test_more_sticks_at_hand_than_there_are_is_noticed() -> None:
    kinds = [StickKind(length=Fraction(3000), have=1, sold=False), StickKind(length=Fraction(2000))]
    made = cut_sticks([Fraction(2500)], kinds, Fraction(0))
    twice = replace(made, sticks=made.sticks * 2)
    with pytest.raises(StockError, match="more sticks of 3000 mm are cut than lie ready"):
        check_sticks(twice, [Fraction(2500)] * 2, Fraction(0))


def cheapest(rails: list[Fraction], kinds: list[StickKind], cut: Fraction, by_cost: bool) -> Fraction | None:
    """Return what the best answer buys, by trying every way to share the rails out."""
    ready = [kind for kind in kinds for _ in range(kind.have)]
    best: list[Fraction] = []

    def look(at: int, groups: list[list[Fraction]]) -> None:
        if at < len(rails):
            for group in [*groups]:
                group.append(rails[at])
                look(at + 1, groups)
                group.pop()
            look(at + 1, [*groups, [rails[at]]])
            return
        needs = [sum(group, Fraction(0)) + (len(group) - 1) * cut for group in groups]
        needs += [Fraction(0)] * (len(ready) - len(needs))
        for free in permutations(range(len(needs)), len(ready)):
            paid = Fraction(0)
            for i, need in enumerate(needs):
                if need == 0:
                    continue
                if i in free and need <= ready[free.index(i)].usable:
                    continue
                fits = [
                    (Fraction(kind.price or 0) if by_cost else Fraction(1))
                    for kind in kinds
                    if kind.sold and need <= kind.usable
                ]
                if not fits:
                    break
                paid += min(fits)
            else:
                best.append(paid)

    look(0, [])
    return min(best, default=None)


@settings(max_examples=60, deadline=None)
@given(
    rails=st.lists(st.integers(100, 1900), min_size=1, max_size=5),
    have=st.tuples(st.integers(0, 2), st.integers(0, 1), st.integers(0, 1)),
    kinds=st.integers(1, 2),
)
def test_what_is_proven_of_bought_sticks_holds_against_every_answer(
    rails: list[int], have: tuple[int, int, int], kinds: int
) -> None:
    sold = [
        StickKind(length=Fraction(2000), price=Decimal(12), have=have[0]),
        StickKind(length=Fraction(3000), price=Decimal(17), have=have[1]),
    ][:kinds]
    offered = [*sold, StickKind(length=Fraction(1200), have=have[2], sold=False)]
    wanted = [Fraction(rail) for rail in rails]
    made = cut_sticks(wanted, offered, Fraction(3))
    best = cheapest(wanted, offered, 3 * ROOT_TWO, made.by_cost)
    assert best is not None
    assert made.lower_bound <= best <= made.value
    assert not made.optimal or made.value == best
