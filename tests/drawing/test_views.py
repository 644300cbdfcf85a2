"""Views and scales."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from matplan.drawing.items import Area
from matplan.drawing.pens import STROKES, Pen
from matplan.drawing.views import INCH, METRIC, NoScaleFits, View, fit, scale_name

BOARD = (Fraction(0), Fraction(0), Fraction(400), Fraction(500))
LENGTHS = st.fractions(min_value=1, max_value=3000, max_denominator=64)


def test_series_are_the_standards() -> None:
    """ISO 5455 names 1:2, 1:5, 1:10, 1:20, 1:50 as reductions; the inch series is common practice."""
    assert [scale_name(s) for s in METRIC] == ["1:1", "1:2", "1:5", "1:10", "1:20", "1:50"]
    assert [scale_name(s) for s in INCH] == ["1:1", "1:2", "1:4", "1:8", "1:16", "1:24"]


def test_point_of_a_plain_view() -> None:
    view = View(scale=Fraction(1, 5), at=(20.0, 30.0), model=BOARD)
    assert view.point(Fraction(100), Fraction(50)) == (40.0, 40.0)
    assert view.whole == Area(x=20, y=30, width=80, height=100)


def test_mirrored_view_turns_left_and_right_over() -> None:
    view = View(scale=Fraction(1, 5), at=(20.0, 30.0), model=BOARD, mirrored=True)
    assert view.point(Fraction(0), Fraction(0)) == (100.0, 30.0)
    assert view.area((Fraction(0), Fraction(0), Fraction(60), Fraction(500))) == Area(x=88, y=30, width=12, height=100)


def test_upward_view_has_the_floor_below() -> None:
    view = View(
        scale=Fraction(1, 20),
        at=(20.0, 30.0),
        model=(Fraction(0), Fraction(0), Fraction(3600), Fraction(2400)),
        upward=True,
    )
    assert view.point(Fraction(0), Fraction(0)) == (20.0, 150.0)
    assert view.area((Fraction(0), Fraction(2000), Fraction(400), Fraction(400))) == Area(
        x=20, y=30, width=20, height=20
    )


def test_view_of_a_box_that_does_not_begin_at_zero() -> None:
    view = View(
        scale=Fraction(1),
        at=(10.0, 10.0),
        model=(Fraction(50), Fraction(60), Fraction(20), Fraction(10)),
        mirrored=True,
    )
    assert view.point(Fraction(50), Fraction(60)) == (30.0, 10.0)
    assert view.length(Fraction(5)) == 5.0


def test_fit_takes_the_largest_that_goes_in_and_centres_it() -> None:
    view = fit(BOARD, Area(x=10, y=10, width=180, height=240))
    assert view.scale == Fraction(1, 5)
    assert view.whole.centre == (100.0, 130.0)


def test_fit_uses_the_whole_area() -> None:
    assert fit(BOARD, Area(x=0, y=0, width=200, height=250)).scale == Fraction(1, 2)


def test_fit_says_what_would_help() -> None:
    with pytest.raises(NoScaleFits, match="a larger paper or a smaller scale would"):
        fit(BOARD, Area(x=0, y=0, width=7, height=250), METRIC)


@given(LENGTHS, LENGTHS, st.floats(20, 400), st.floats(20, 400), st.sampled_from([METRIC, INCH]))
def test_no_larger_scale_of_the_series_would_fit(
    width: Fraction, height: Fraction, wide: float, high: float, series: tuple[Fraction, ...]
) -> None:
    model = (Fraction(0), Fraction(0), width, height)
    try:
        view = fit(model, Area(x=0, y=0, width=wide, height=high), series)
    except NoScaleFits:
        assert float(width * series[-1]) > wide or float(height * series[-1]) > high
        return
    assert view.whole.width <= wide + 1e-6
    assert view.whole.height <= high + 1e-6
    larger = [s for s in series if s > view.scale]
    assert all(float(width * s) > wide or float(height * s) > high for s in larger)


@given(LENGTHS, LENGTHS, st.booleans(), st.booleans())
def test_turning_a_view_over_keeps_every_distance(x: Fraction, y: Fraction, mirrored: bool, upward: bool) -> None:
    model = (Fraction(0), Fraction(0), Fraction(3000), Fraction(3000))
    view = View(scale=Fraction(1, 10), at=(0.0, 0.0), model=model, mirrored=mirrored, upward=upward)
    (x1, y1), (x2, y2) = view.point(Fraction(0), Fraction(0)), view.point(x, y)
    assert abs(abs(x2 - x1) - float(x) / 10) < 1e-9
    assert abs(abs(y2 - y1) - float(y) / 10) < 1e-9


def test_wide_lines_are_twice_the_narrow() -> None:
    """ISO 128: wide to narrow is 2 to 1 (from memory)."""
    widths = {STROKES[p].width for p in (Pen.OUTLINE, Pen.CUT, Pen.BORDER)}
    narrow = {STROKES[p].width for p in (Pen.EDGE, Pen.HIDDEN, Pen.CENTRE, Pen.DIMENSION, Pen.SCORE)}
    assert widths == {0.5}
    assert narrow == {0.25}


def test_dashes_follow_the_lines_width() -> None:
    """ISO 128-20: dash 12 d, gap 3 d, long dash 24 d, dot at most 0.5 d (from memory)."""
    assert STROKES[Pen.HIDDEN].dashes == (12 * 0.25, 3 * 0.25)
    assert STROKES[Pen.CENTRE].dashes == (24 * 0.25, 3 * 0.25, 0.5 * 0.25, 3 * 0.25)
    assert not STROKES[Pen.OUTLINE].dashes


def test_every_pen_has_a_stroke() -> None:
    assert set(STROKES) == set(Pen)
