"""Justified rows of prints that exist: a print is never enlarged; rows get alike by covering more."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from matplan.job.records import ApertureAsk, ImageAsk, Shape, Show
from matplan.lengths import Step, Units
from matplan.mats.records import SolvedPiece
from matplan.mats.windows import Unsolvable, opening_size
from matplan.sums import Sums
from tests.laws.strategies import STEPS, lengths
from tests.laws.test_laws_of_a_piece import relaxed, solved_or_not
from tests.making import border, frame, mm, piece, size, solved, window

IN_ROWS: dict[str, Any] = {"border": border("60 mm"), "gutter": mm(20), "justify": True}


def justified(*windows: ApertureAsk, rows: tuple[tuple[int, ...], ...], **changes: Any) -> SolvedPiece:
    return solved(apertures=windows, rows=rows, **(IN_ROWS | changes))


def test_prints_of_one_size_are_left_as_they_are() -> None:
    """The prints of 152 × 102 that were made 160 wide: two beside each other in each of two rows."""
    prints = [window(name, image="152x102 mm") for name in "abcd"]
    made = justified(*prints, rows=((0, 1), (2, 3)))
    assert {shown.image.size for shown in made.apertures} == {size("152x102 mm")}
    assert {shown.opening.size for shown in made.apertures} == {size("146x96 mm")}
    assert "covers-more" not in {finding.code for finding in made.findings}


def test_a_row_of_unlike_prints_gets_one_height_by_covering_the_higher() -> None:
    """Openings 146 × 96 and 96 × 146 and 146 × 96: the row gets the height of 96, the others keep their widths."""
    made = justified(
        window("a", image="152x102 mm"),
        window("b", image="102x152 mm"),
        window("c", image="152x102 mm"),
        rows=((0, 1, 2),),
    )
    assert [shown.opening.size for shown in made.apertures] == [size("146x96 mm"), size("96x96 mm"), size("146x96 mm")]
    assert made.apertures[1].image.size == size("102x152 mm")
    (found,) = [finding for finding in made.findings if finding.code == "covers-more"]
    assert found.where == "b"
    assert "covers 3 mm of the print at the sides and 28 mm above and below, where 3 mm are asked for" in found.text


@pytest.mark.parametrize(("units", "overlap", "told"), [(Units.MM, "10 mm", False), (Units.MM, "10.5 mm", True)])
def test_covering_ten_millimetres_more_is_told(units: Units, overlap: str, *, told: bool) -> None:
    more = 2 * (mm(overlap))
    asked = (
        window("a", image="106x106 mm"),
        replace(window("b", image="106x106 mm"), image=both(mm(106), mm(106) + more)),
    )
    made = justified(*asked, rows=((0, 1),), units=units)
    assert ("covers-more" in {finding.code for finding in made.findings}) is told


def both(width: Fraction, height: Fraction) -> ImageAsk:
    return ImageAsk(width=width, height=height)


def test_a_wider_row_is_covered_more_until_it_is_as_wide_as_the_narrower() -> None:
    """Rows of two and three openings of 146: 312 and 478 with their gutters; the three become (312 − 40) ÷ 3 each."""
    prints = [window(name, image="152x102 mm") for name in "abcde"]
    made = justified(*prints, rows=((0, 1), (2, 3, 4)))
    assert [shown.opening.width for shown in made.apertures] == [146, 146, 91, 91, 90]
    assert {shown.opening.height for shown in made.apertures[2:]} == {59}  # 272 ÷ (3 × 146/96), down


def test_an_image_with_one_side_given_follows_its_opening() -> None:
    """The print keeps its 146 × 96; the other, as high, is 64 wide at its own aspect, and its image has no ceiling."""
    free = window("b", image="300 mm wide", aspect="2:3")
    made = justified(window("a", image="152x102 mm"), free, rows=((0, 1),))
    assert made.apertures[0].image.size == size("152x102 mm")
    assert made.apertures[0].opening.height == made.apertures[1].opening.height <= 96


def test_a_print_shown_whole_is_not_covered() -> None:
    """Openings at least 172 × 122 round 152 × 102 with 10 mm of white."""
    prints = [window(name, image=image, show=Show.MARGIN) for name, image in (("a", "152x102 mm"), ("b", "102x152 mm"))]
    made = justified(*prints, rows=((0, 1),))
    for shown in made.apertures:
        assert shown.reveal is not None
        assert shown.reveal.least >= 10
    assert [shown.image.size for shown in made.apertures] == [size("152x102 mm"), size("102x152 mm")]


def test_a_print_to_be_shown_whole_beside_a_lower_one_is_refused() -> None:
    prints = (window("a", image="152x102 mm"), window("b", image="102x152 mm", show=Show.MARGIN))
    with pytest.raises(Unsolvable, match=r"show b whole and no more of the other prints than there is"):
        justified(*prints, rows=((0, 1),))


@st.composite
def prints(draw: st.DrawFn, name: str) -> ApertureAsk:
    asked = both(draw(lengths(60, 300)), draw(lengths(60, 300)))
    shape = draw(st.sampled_from([Shape.RECTANGLE, Shape.RECTANGLE, Shape.OVAL, Shape.CIRCLE]))
    made = window(name, overlap=draw(lengths(0, 6)), shape=shape, aspect="3:2")
    kind = draw(st.sampled_from(["print", "print", "free", "whole"]))
    if kind == "free":
        return replace(made, image=ImageAsk(width=asked.width))
    return replace(made, image=asked, show=Show.MARGIN if kind == "whole" else Show.IMAGE)


@given(data=st.data(), step=STEPS)
@relaxed
def test_no_print_is_enlarged_nor_covered_less_than_asked_for(data: st.DataObject, step: Fraction) -> None:
    count = data.draw(st.integers(2, 6))
    asks = tuple(data.draw(prints(f"w{number}")) for number in range(count))
    cut = data.draw(st.integers(1, count))
    rows = tuple(row for row in (tuple(range(cut)), tuple(range(cut, count))) if row)
    made = solved_or_not(piece(apertures=asks, rows=rows, **IN_ROWS), step)
    widths = []
    for row in rows:
        boxes = [made.apertures[place].opening for place in row]
        assert len({box.height for box in boxes}) == 1
        assert all(other.x - one.right == Step(step).nearest(mm(20)) for one, other in pairwise(boxes))
        if not all(asks[place].shape is Shape.CIRCLE for place in row):
            widths.append(boxes[-1].right - boxes[0].x)
    assert len(set(widths)) <= 1
    for ask, shown in zip(asks, made.apertures, strict=True):
        if ask.image == both(shown.image.width, shown.image.height):
            own = opening_size(ask, shown.image.size, Step(step), Sums(), Fraction(0))
            inner, outer = (shown.opening.size, own) if ask.show is Show.IMAGE else (own, shown.opening.size)
            assert outer.holds(inner)
        else:
            assert ask.image is not None
            assert ask.image.height is None


def test_openings_of_a_frame_are_larger_where_no_print_exists() -> None:
    """Without images the rows fill what the borders leave, as ever."""
    asks = [replace(window(name, aspect="3:2")) for name in "ab"]
    made = justified(*asks, rows=((0, 1),), frame=frame("40x50 cm"))
    assert made.apertures[0].opening.width == 125  # (400 − 2 × 65 − 20) ÷ 2
