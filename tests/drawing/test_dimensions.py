"""Dimensions: where lines, arrows and labels stand, as numbers; and that labels never meet anything."""

from collections.abc import Sequence
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matplan.drawing import clashes, lettering
from matplan.drawing.dimensions import SMALL, Dimension, Ends, Placed, Side, Style, arrange, chain, draw, place
from matplan.drawing.items import Area, Group, Line, Polyline, Rect
from matplan.drawing.pens import Pen
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import INCH, METRIC, NoScaleFits, View

BOARD = (Fraction(0), Fraction(0), Fraction(400), Fraction(500))
VIEW = View(scale=Fraction(1, 5), at=(60.0, 80.0), model=BOARD)
MIRRORED = View(scale=Fraction(1, 5), at=(60.0, 80.0), model=BOARD, mirrored=True)


def across(start: int, end: int, label: str, side: Side = Side.ABOVE) -> Dimension:
    return Dimension(start=(Fraction(start), Fraction(0)), end=(Fraction(end), Fraction(0)), side=side, label=label)


def down(start: int, end: int, label: str, side: Side = Side.LEFT) -> Dimension:
    return Dimension(start=(Fraction(0), Fraction(start)), end=(Fraction(0), Fraction(end)), side=side, label=label)


def exact(*box: int) -> tuple[Fraction, ...]:
    return tuple(map(Fraction, box))


def one(dimension: Dimension, view: View = VIEW) -> Placed:
    (placed,) = place((dimension,), view)
    return placed


def test_line_stands_on_the_first_row_between_its_points() -> None:
    placed = one(across(0, 400, "400"))
    assert placed.line == ((60.0, 72.0), (140.0, 72.0))  # 80 − first row 8; 400 mm at 1:5 are 80 mm
    assert placed.text.at == (100.0, 70.8)  # the middle, lifted by 1.2
    assert placed.ends is Ends.INSIDE


@pytest.mark.parametrize(
    ("side", "line"),
    [
        (Side.ABOVE, ((60.0, 72.0), (100.0, 72.0))),
        (Side.BELOW, ((60.0, 188.0), (100.0, 188.0))),
        (Side.LEFT, ((52.0, 80.0), (52.0, 120.0))),
        (Side.RIGHT, ((148.0, 80.0), (148.0, 120.0))),
    ],
)
def test_each_side_has_its_rows_outside_the_part(side: Side, line: tuple[tuple[float, float], ...]) -> None:
    dimension = across(0, 200, "200", side) if side.across else down(0, 200, "200", side)
    assert one(dimension).line == line


def test_mirrored_view_turns_places_over_and_keeps_the_model_box() -> None:
    placed = one(across(0, 100, "100"), MIRRORED)
    assert placed.line == ((120.0, 72.0), (140.0, 72.0))
    (group,) = draw((placed,))
    assert isinstance(group, Group)
    assert group.box == exact(0, 0, 100, 0)


def test_dimension_down_has_a_box_of_no_width() -> None:
    assert down(20, 420, "400").box == exact(0, 20, 0, 400)
    assert down(420, 20, "400").box == exact(0, 20, 0, 400)


def test_shortest_stands_nearest_the_part() -> None:
    placed = place((across(0, 400, "400"), across(50, 150, "100"), across(50, 300, "250")), VIEW)
    assert [p.row for p in placed] == [2, 0, 1]
    assert placed[0].line[0][1] == 80 - 8 - 2 * 8


def test_chain_stands_in_one_row() -> None:
    points = [(Fraction(x), Fraction(0)) for x in (0, 60, 340, 400)]
    placed = place(chain(points, ("60", "280", "60"), Side.ABOVE), VIEW)
    assert [p.row for p in placed] == [0, 0, 0]
    assert [p.dimension.box[2] for p in placed] == [60, 280, 60]


def test_chain_asks_for_a_label_for_each_span() -> None:
    with pytest.raises(ValueError, match="zip"):
        chain([(Fraction(0), Fraction(0)), (Fraction(9), Fraction(0))], (), Side.ABOVE)


def test_short_span_puts_arrows_outside() -> None:
    placed = one(across(100, 120, "20"))  # 4 mm of paper, less than two arrows of 2.6
    assert placed.ends is Ends.OUTSIDE
    assert placed.line[0][0] < placed.feet[0][0] == 80.0
    assert placed.line[1][0] > placed.feet[1][0] == 84.0
    arrows = [item for item in draw((placed,))[0].items if isinstance(item, Polyline)]
    assert arrows[0].points[0] == (80.0, 72.0)
    assert all(x < 80 for x, _ in arrows[0].points[1:])  # the body lies outside the span


def test_short_span_puts_its_label_beside_and_its_line_below_it() -> None:
    placed = one(across(100, 120, "1 13/16 in"))
    left, right = (
        lettering.setting(placed.text).start[0],
        lettering.setting(placed.text).start[0] + lettering.setting(placed.text).width,
    )
    assert right < 80 or left > 84
    assert placed.line[0][0] <= left + 1e-6
    assert placed.line[1][0] >= right - 1e-6


def test_short_span_between_neighbours_has_strokes_or_another_row() -> None:
    points = [(Fraction(x), Fraction(0)) for x in (0, 195, 205, 400)]
    placed = place(chain(points, ("195", "10", "195"), Side.ABOVE), VIEW)
    assert placed[0].row == placed[2].row == 0
    assert placed[1].row == 1
    assert placed[1].ends is Ends.OUTSIDE


def test_span_of_nothing_is_drawn() -> None:
    placed = one(across(100, 100, "0"))
    assert placed.feet[0] == placed.feet[1]
    assert draw((placed,))


def test_extension_lines_reach_from_the_point_past_the_line() -> None:
    inner = Dimension(
        start=(Fraction(50), Fraction(60)), end=(Fraction(350), Fraction(60)), side=Side.ABOVE, label="300"
    )
    placed = one(inner)
    assert placed.extensions == (
        ((70.0, 91.0), (70.0, 70.6)),
        ((130.0, 91.0), (130.0, 70.6)),
    )  # 60 mm are 12; gap 1; 1.4 past


def test_shared_extension_line_is_drawn_once() -> None:
    placed = place((across(0, 100, "100"), across(0, 400, "400")), VIEW)
    assert [len(p.extensions) for p in placed] == [1, 2]
    assert placed[1].extensions[0] == ((60.0, 79.0), (60.0, 80 - 16 - 1.4))


def test_label_is_the_callers_and_not_the_page_distance() -> None:
    assert one(across(0, 400, "15 3/4 in")).text.text == "15 3/4 in"


def test_small_style_is_small() -> None:
    (placed,) = place((across(0, 400, "400"),), VIEW, SMALL)
    assert placed.text.size == 2.5
    assert placed.line[0][1] == 80 - 6.5


def test_labels_keep_clear_of_what_must_be_avoided() -> None:
    sign = Area(x=90, y=60, width=20, height=11)
    (placed,) = place((across(0, 400, "400"),), VIEW, avoid=(sign,))
    corners = lettering.setting(placed.text).corners()
    assert all(x < 90 or x > 110 or y < 60 or y > 71 for x, y in corners)


def test_arrange_takes_the_largest_scale_with_room_for_dimensions() -> None:
    area = Area(x=10, y=10, width=100, height=120)
    bare = arrange(BOARD, (), area, METRIC)
    assert bare.view.scale == Fraction(1, 5)  # 80 × 100 mm
    rows = tuple(across(10 * n, 400 - 10 * n, "400") for n in range(6))
    crowded = arrange(BOARD, rows, area, METRIC)
    assert crowded.view.scale == Fraction(1, 10)
    assert crowded.bounds.y >= 10
    assert crowded.bounds.bottom <= 130
    assert abs(crowded.bounds.centre[0] - 60) < 1e-6


def test_arrange_says_when_only_the_dimensions_are_too_much() -> None:
    with pytest.raises(NoScaleFits, match="its dimensions do not"):
        arrange(BOARD, (across(0, 400, "400"),), Area(x=0, y=0, width=20, height=22), INCH)


def test_arrange_says_when_even_the_model_is_too_large() -> None:
    with pytest.raises(NoScaleFits, match=r"400 × 500 mm does not fit into 5 × 5 mm of paper at 1:50"):
        arrange(BOARD, (), Area(x=0, y=0, width=5, height=5), METRIC)


LABELS = st.sampled_from(["5", "58", "284", "1 13/16 in", "15 3/4 in", "402 (least)", "about 1200 mm"])
SIDES = st.sampled_from(list(Side))


@st.composite
def dimensions(draw_: st.DrawFn) -> list[Dimension]:
    found = []
    for _ in range(draw_(st.integers(1, 9))):
        side = draw_(SIDES)
        limit = 400 if side.across else 500
        first, second = draw_(st.integers(0, limit)), draw_(st.integers(0, limit))
        make = across if side.across else down
        found.append(make(first, second, draw_(LABELS), side))
    return found


@st.composite
def chains(draw_: st.DrawFn) -> list[Dimension]:
    found: list[Dimension] = []
    for side in draw_(st.lists(SIDES, min_size=1, max_size=4, unique=True)):
        limit = 400 if side.across else 500
        inner = draw_(st.lists(st.integers(1, limit - 1), max_size=7, unique=True))
        stops = [0, *sorted(inner), limit]
        points = [(Fraction(s), Fraction(0)) if side.across else (Fraction(0), Fraction(s)) for s in stops]
        found += chain(points, [draw_(LABELS) for _ in stops[1:]], side)
        found.append((across if side.across else down)(0, limit, draw_(LABELS), side))
    return found


def faults(found: Sequence[Dimension], view: View, style: Style) -> tuple[clashes.Clash, ...]:
    placed = place(found, view, style)
    whole = view.whole
    part = Rect(x=whole.x, y=whole.y, width=whole.width, height=whole.height, pen=Pen.OUTLINE)
    # the paper is as large as it takes: the page's edge is another test's subject
    sheet = Sheet(name="s", title="s", size=(4000, 4000), items=(part, *draw(placed, style)), scale=view.scale)
    return clashes.check(sheet, edge=-4000)


@given(
    st.one_of(dimensions(), chains()), st.sampled_from(METRIC[1:5]), st.booleans(), st.sampled_from([Style(), SMALL])
)
@settings(max_examples=100, deadline=None)
def test_labels_of_any_dimensions_never_meet_a_label_or_a_line(
    found: list[Dimension], scale: Fraction, mirrored: bool, style: Style
) -> None:
    view = View(scale=scale, at=(1500.0, 1500.0), model=BOARD, mirrored=mirrored)
    assert faults(found, view, style) == ()


@given(st.one_of(dimensions(), chains()))
@settings(max_examples=30, deadline=None)
def test_lines_in_one_row_never_overlap(found: list[Dimension]) -> None:
    placed = place(found, VIEW)
    for n, first in enumerate(placed):
        for second in placed[n + 1 :]:
            if first.dimension.side is second.dimension.side and first.row == second.row:
                axis = 0 if first.dimension.side.across else 1
                low = max(first.line[0][axis], second.line[0][axis])
                high = min(first.line[1][axis], second.line[1][axis])
                assert high - low < 1e-5


@given(st.one_of(dimensions(), chains()), st.booleans())
@settings(max_examples=30, deadline=None)
def test_feet_are_the_models_points_at_its_scale(found: list[Dimension], mirrored: bool) -> None:
    view = MIRRORED if mirrored else VIEW
    for placed in place(found, view):
        x, y, width, height = placed.dimension.box
        area = view.area((x, y, width, height))
        (x1, y1), (x2, y2) = placed.feet
        if placed.dimension.side.across:
            assert abs(x1 - area.x) < 1e-6
            assert abs(x2 - area.right) < 1e-6
        else:
            assert abs(y1 - area.y) < 1e-6
            assert abs(y2 - area.bottom) < 1e-6


def test_the_property_can_fail() -> None:
    """Two labels laid on one another, and one on a line, are found by the same check."""
    first, second = place((across(0, 400, "400"),), VIEW), place((across(2, 398, "396"),), VIEW)
    sheet = Sheet(name="s", title="s", size=(210, 297), items=(*draw(first), *draw(second)))
    assert {c.kind for c in clashes.check(sheet)} == {clashes.Kind.TEXT_ON_TEXT}
    struck = Line(start=(60, 70), end=(140, 70), pen=Pen.EDGE)
    sheet = Sheet(name="s", title="s", size=(210, 297), items=(*draw(first), struck))
    assert {c.kind for c in clashes.check(sheet)} == {clashes.Kind.TEXT_ON_LINE}
