"""Sums as trees: what they come to, what they are called and how they read."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor

import pytest
from hypothesis import given
from hypothesis import strategies as st

from matplan.lengths import INCH, Printer, Step, Units
from matplan.sums import (
    Kind,
    Sum,
    Sums,
    Term,
    count,
    down,
    figures,
    greatest,
    half,
    least,
    length,
    nearest,
    ratio,
    total,
    tree_json,
    up,
)

MM = Printer(Units.MM, Step.usual(Units.MM))
IN = Printer(Units.IN, Step.usual(Units.IN))
A, B, C = length("a", Fraction(10)), length("b", Fraction(4)), length("c", Fraction(3))


def read(tree: Term, printer: Printer = MM) -> str:
    return Sum(what="x", value=tree.value, tree=tree).in_words(printer)


@pytest.mark.parametrize(
    ("tree", "words"),
    [
        (A + B - C, "x 11 mm = a 10 + b 4 − c 3"),
        (A - (B - C), "x 9 mm = a 10 − (b 4 − c 3)"),
        (A - (B + C), "x 3 mm = a 10 − (b 4 + c 3)"),
        (A + (B + C), "x 17 mm = a 10 + b 4 + c 3"),
        ((A + B) * 2, "x 28 mm = (a 10 + b 4) × 2"),
        (2 * A - B, "x 16 mm = 2 × a 10 − b 4"),
        (A / (B / 2), "x 5 mm = a 10 ÷ (b 4 ÷ 2)"),
        (half(A - B), "x 3 mm = (a 10 − b 4) ÷ 2"),
        (1 + A, "x 11 mm = 1 + a 10"),
        (A * ratio("weight", Fraction(6, 5)), "x 12 mm = a 10 × weight 1.2"),
        (total(A, B, C), "x 17 mm = a 10 + b 4 + c 3"),
        (total(A), "x 10 mm = a 10"),
        (least(A, B), "x 4 mm = the smaller of a 10 and b 4"),
        (greatest(A, B, C), "x 10 mm = the largest of a 10, b 4 and c 3"),
        (B + down(half(C), MM.step), "x 5 mm = b 4 + (c 3 ÷ 2, down to a step)"),
        (down(half(C), MM.step), "x 1 mm = c 3 ÷ 2 = 1.5, down to a step"),
        (up(half(C), MM.step), "x 2 mm = c 3 ÷ 2 = 1.5, up to a step"),
        (nearest(half(C), MM.step), "x 2 mm = c 3 ÷ 2 = 1.5, to the nearest step"),
        (down(half(B), MM.step), "x 2 mm = b 4 ÷ 2"),
        (down(length("a", Fraction("4.7")), MM.step), "x 4 mm = a 4.7, down to a step"),
        (A / C, "x about 3.333 mm = a 10 ÷ c 3"),
    ],
)
def test_a_sum_reads_as_one_would_work_it_out(tree: Term, words: str) -> None:
    assert read(tree) == words


def test_in_inches_what_is_no_step_shows_as_the_fraction_that_it_is() -> None:
    tree = down(length("image", 16 * INCH) * 2 / 3, IN.step)
    assert read(tree, IN) == "x 10 5/8 in = image 16 × 2 ÷ 3 = 10 2/3, down to a step"


def test_in_inches_a_figure_of_another_unit_is_told_to_be_rounded() -> None:
    assert read(length("board", Fraction("1.4")) + length("setback", Fraction(0)), IN) == (
        "x about 0.055 in = board about 0.055 + setback 0"
    )


def test_a_collector_keeps_the_sums_and_whom_they_are_of() -> None:
    sums = Sums()
    assert sums.about("left").add("opening", A - B) == 6
    assert [one.title for one in sums.found] == ["left: opening"]


def test_terms_are_read_by_name_and_kind() -> None:
    tree = down(2 * A + least(B, C) * ratio("weight", Fraction(2)), MM.step)
    assert [(f.name, f.kind) for f in figures(tree)] == [
        ("", Kind.COUNT),
        ("a", Kind.LENGTH),
        ("b", Kind.LENGTH),
        ("c", Kind.LENGTH),
        ("weight", Kind.RATIO),
    ]
    assert tree_json(half(A)) == {
        "operation": "divided",
        "terms": [{"name": "a", "value": 10, "kind": "length"}, {"name": "", "value": 2, "kind": "count"}],
    }


def test_what_is_no_figure_is_refused() -> None:
    with pytest.raises(TypeError, match="no term of a sum"):
        A + "b"  # type: ignore[operator]


numbers = st.fractions(min_value=1, max_value=500, max_denominator=12)


@st.composite
def trees(draw: st.DrawFn, deep: int = 4) -> tuple[Term, Fraction]:
    """A tree and what it comes to, worked out beside it."""
    if deep == 0 or draw(st.booleans()):
        value = draw(numbers)
        return length("a", value), value
    (one, first), (other, second) = draw(trees(deep - 1)), draw(trees(deep - 1))
    made: dict[str, tuple[Term, Fraction]] = {
        "plus": (one + other, first + second),
        "minus": (one - other, first - second),
        "times": (one * other, first * second),
        "least": (least(one, other), min(first, second)),
        "greatest": (greatest(one, other), max(first, second)),
        "divided": (half(one) / count(3), first / 6),
        "down": (down(one, MM.step), Fraction(floor(first))),
        "up": (up(one, MM.step), Fraction(ceil(first))),
    }
    return made[draw(st.sampled_from(sorted(made)))]


@given(made=trees())
def test_a_tree_comes_to_what_its_arithmetic_says(made: tuple[Term, Fraction]) -> None:
    tree, value = made
    assert tree.value == value
