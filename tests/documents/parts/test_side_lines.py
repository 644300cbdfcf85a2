"""Lines of dimensions: labels along their line where they fit, else all turned; one level a line; outermost last."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest

from matplan.documents.parts.side_lines import Lined, lined
from matplan.drawing.dimensions import NORMAL, SMALL, Dimension, Side
from matplan.drawing.items import Area, Group, Line, Polyline, Text
from matplan.drawing.pens import Pen

MODEL = (Fraction(0), Fraction(0), Fraction(400), Fraction(300))
AREA = Area(x=12.0, y=12.0, width=186.0, height=240.0)


def chain(*stops: int, side: Side = Side.ABOVE) -> list[Dimension]:
    level = Fraction(0) if side in (Side.ABOVE, Side.LEFT) else Fraction(300 if side.across else 400)

    def point(stop: int) -> tuple[Fraction, Fraction]:
        return (Fraction(stop), level) if side.across else (level, Fraction(stop))

    return [Dimension(start=point(a), end=point(b), side=side, label=str(b - a)) for a, b in pairwise(stops)]


def drawn(*lines: list[Dimension], scale: int = 5, turned: bool = True) -> Lined:
    found = lined(MODEL, [(line,) for line in lines], AREA, Fraction(1, scale), NORMAL, turned=turned)
    assert found is not None
    return found


def texts(found: Lined) -> list[Text]:
    return [item for group in found.items if isinstance(group, Group) for item in group.items if isinstance(item, Text)]


def leaders(found: Lined) -> list[Polyline]:
    return [
        item
        for group in found.items
        if isinstance(group, Group)
        for item in group.items
        if isinstance(item, Polyline) and not item.closed
    ]


def levels(found: Lined) -> list[float]:
    """The height of each dimension's line above or below the part."""
    return [
        line.start[1]
        for group in found.items
        if isinstance(group, Group)
        for line in group.items
        if isinstance(line, Line) and line.pen is Pen.DIMENSION and line.start[1] == line.end[1]
    ]


def test_labels_that_fit_stand_along_their_line() -> None:
    found = drawn(chain(0, 100, 300, 400))
    assert {text.turn for text in texts(found)} == {0.0}
    assert len(set(levels(found))) == 1


def test_one_label_without_room_turns_all_of_its_line() -> None:
    found = drawn(chain(0, 20, 380, 400))
    assert {text.turn for text in texts(found)} == {-90.0}
    (level,) = set(levels(found))
    assert max(text.at[1] for text in texts(found)) < level < found.view.whole.y


@pytest.mark.parametrize("side", list(Side))
def test_turned_labels_never_meet_and_those_that_move_have_leaders(side: Side) -> None:
    found = drawn(chain(*range(100, 200, 10), side=side))
    axis = 0 if side.across else 1
    places = sorted(text.at[axis] for text in texts(found))
    assert all(b - a >= NORMAL.size for a, b in pairwise(places))
    assert len(leaders(found)) >= 6
    for text in texts(found):  # outside the part
        out = (text.at[1 - axis] - found.view.whole.centre[1 - axis]) * side.outward
        half = (found.view.whole.height if side.across else found.view.whole.width) / 2
        assert out > half


def test_no_label_is_turned_where_that_is_not_wanted() -> None:
    full, short = chain(0, 20, 380, 400), chain(0, 400)
    assert lined(MODEL, [(full, short)], AREA, Fraction(1, 5), NORMAL, turned=False) is None


def test_a_shorter_version_is_drawn_where_the_full_one_has_no_room() -> None:
    full, short = chain(*range(0, 401, 5)), chain(0, 200, 400)
    found = lined(MODEL, [(full, short)], AREA, Fraction(1, 5), SMALL)
    assert found is not None
    assert [text.text for text in texts(found)] == ["200", "200"]
    assert lined(MODEL, [(full,)], AREA, Fraction(1, 5), SMALL) is None


def test_further_lines_of_a_side_stand_further_out() -> None:
    found = drawn(chain(50, 350, side=Side.BELOW), chain(0, 400, side=Side.BELOW))
    inner, outer = levels(found)
    assert found.view.whole.bottom < inner < outer <= found.bounds.bottom


def test_what_the_area_does_not_hold_is_not_drawn() -> None:
    assert lined(MODEL, [(chain(0, 400),)], AREA, Fraction(1, 2), NORMAL) is None
    small = Area(x=12.0, y=12.0, width=186.0, height=61.0)  # the part is 60 mm high, its line needs more
    assert lined(MODEL, [(chain(0, 400),)], small, Fraction(1, 5), NORMAL) is None
