"""Cutting diagrams of boards with many windows: leaders that the eye can follow, drawings in shares, tables beside
them.
"""

from __future__ import annotations

from fractions import Fraction
from math import atan2, degrees
from random import Random

import pytest

from matplan.documents.cutting.board import Board
from matplan.documents.cutting.diagram import cutting_diagram
from matplan.documents.cutting.shares import WAYS, Way
from matplan.drawing.items import Group, Line, Polyline, Text
from matplan.drawing.pens import Pen
from matplan.drawing.sheet import Sheet
from matplan.planning import Plan
from tests.drawn import plans
from tests.making import border, frame, piece, planned, window

FLATTEST = 25.0
"""No leader makes a smaller angle with the board's edge, in degrees (the project's own rule)."""


def unlike(count: int, across: int) -> Plan:
    """A piece whose windows all differ."""
    chance = Random(5)
    windows = tuple(window(f"w{n}", image=f"{chance.randint(30, 60)} x {chance.randint(25, 45)}") for n in range(count))
    rows = tuple(tuple(range(n, n + across)) for n in range(0, count, across))
    return planned(piece(apertures=windows, rows=rows, gutter=Fraction(20), border=border("50"), frame=frame()))


def sheets_of(plan: Plan) -> tuple[Sheet, ...]:
    solved = plan.pieces[0]
    return tuple(sheet for layer in solved.layers for sheet in cutting_diagram(plan.job, solved, layer))


def angles(sheet: Sheet) -> list[float]:
    """The angles of the slanting ends of leaders with the board's edge, which the leaders' straight parts cross."""
    found = []
    for group in sheet.items:
        if isinstance(group, Group) and "reading" in group.classes:
            line = group.items[0]
            assert isinstance(line, Polyline)
            foot, stub, end = line.points
            axis = 0 if abs(foot[0] - stub[0]) < 1e-9 else 1
            found.append(degrees(atan2(abs(end[1 - axis] - stub[1 - axis]), abs(end[axis] - stub[axis]))))
    return found


@pytest.mark.parametrize("plan", [unlike(8, 4), unlike(40, 8), unlike(40, 40), *plans(12, 3)])
def test_no_leader_runs_nearly_flat(plan: Plan) -> None:
    assert min((angle for sheet in sheets_of(plan) for angle in angles(sheet)), default=90.0) > FLATTEST - 1e-6


@pytest.mark.parametrize("way", WAYS)
@pytest.mark.parametrize("count", [2, 3, 7, 40])
def test_shares_hold_each_window_once_and_have_about_one_size(way: Way, count: int) -> None:
    plan = unlike(40, 8)
    board = Board.of(plan.job, plan.pieces[0], plan.pieces[0].layers[0], {})
    shares = [list(share) for share in way(board, count)]
    assert sorted(number for share in shares for number in share) == list(range(40))
    assert len(shares) <= count
    assert max(map(len, shares)) <= 40 / count + 1


def test_scattered_windows_share_neither_a_row_nor_a_place_in_it() -> None:
    plan = unlike(40, 8)
    board = Board.of(plan.job, plan.pieces[0], plan.pieces[0].layers[0], {})
    for share in WAYS[1](board, 8):
        assert len({number // 8 for number in share}) == len({number % 8 for number in share}) == len(share) == 5


def test_no_letter_hides_a_cut() -> None:
    """Letters of small windows stand on their paper over a cut's line: the cut is drawn later."""
    for sheet in sheets_of(unlike(40, 8)):
        items = list(sheet.flat())
        letters = [n for n, item in enumerate(items) if isinstance(item, Text) and item.halo]
        cuts = [n for n, item in enumerate(items) if isinstance(item, Line) and item.pen is Pen.CUT]
        assert len(cuts) == 160
        assert max(n for n in letters if not items[n].classes) < min(cuts)


def test_tables_go_on_beside_the_drawings_of_a_divided_board() -> None:
    """160 cuts and 40 windows on four pages; each has a drawing and rows of the tables."""
    sheets = sheets_of(unlike(40, 8))
    assert len(sheets) == 4
    for sheet in sheets:
        assert any(isinstance(item, Group) and "reading" in item.classes for item in sheet.items)
        assert any(isinstance(item, Group) and "table" in item.classes for item in sheet.items)
