"""Lengths as the trade writes them, steps, and printing that reads back."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matplan.faults import LengthError
from matplan.lengths import (
    Box,
    Printer,
    Sides,
    Size,
    Step,
    Units,
    parse_length,
    parse_number,
    parse_size,
    plain_decimal,
    unit_factor,
)

INCH = Fraction(254, 10)


@pytest.mark.parametrize(
    ("written", "length"),
    [
        ("25 cm", Fraction(250)),
        ("250 mm", Fraction(250)),
        ("0.25 m", Fraction(250)),
        ("16 in", 16 * INCH),
        ('16"', 16 * INCH),
        ("16″", 16 * INCH),
        ("16 3/8 in", Fraction(131, 8) * INCH),
        ("16⅜ in", Fraction(131, 8) * INCH),
        ("16 ⅜ in", Fraction(131, 8) * INCH),
        ("⅜ in", Fraction(3, 8) * INCH),
        ("3/8 in", Fraction(3, 8) * INCH),
        ("1' 4\"", 16 * INCH),
        ("1′ 4″", 16 * INCH),
        ("1 ft 4 in", 16 * INCH),
        ("1 ft 4 3/8 in", Fraction(131, 8) * INCH),
        ("2 FT", 24 * INCH),
        (".9 mm", Fraction(9, 10)),
        ("25CM", Fraction(250)),
        ("250", Fraction(250)),
        ("16-3/8", Fraction(131, 8)),
        ("16 3/8", Fraction(131, 8)),
        ("12\u202f3/4 in", Fraction(51, 4) * INCH),
    ],
)
def test_written_lengths_are_read_exactly(written: str, length: Fraction) -> None:
    assert parse_length(written, Units.MM) == length


@pytest.mark.parametrize(("units", "factor"), [(Units.MM, Fraction(1)), (Units.CM, Fraction(10)), (Units.IN, INCH)])
def test_bare_numbers_are_in_the_units_of_the_job(units: Units, factor: Fraction) -> None:
    assert parse_length(25, units) == 25 * factor
    assert parse_length(Decimal("0.1"), units) == Fraction(1, 10) * factor
    assert parse_length("16-3/8", units) == Fraction(131, 8) * factor


@pytest.mark.parametrize(
    ("written", "says"),
    [
        ("25,5 cm", "a point, not a comma: 25.5 cm"),
        ("-3 mm", "no sign"),
        ("+3 mm", "no sign"),
        ("1e3", "exponent"),
        ("1e-3 m", "exponent"),
        ("16 9/8 in", "reduce it"),
        ("1/0 in", "divides by 0"),
        ("5 miles", "miles is no unit here"),
        ("", "empty"),
        ("   ", "empty"),
        ("2 m 3 cm", "no length"),
        ("1 in 2 ft", "no length"),
        ("5.", "no length"),
        ("1.5 3/8 in", "no length"),
        ("cm", "no length"),
        ("101 m", "longer than 100 m"),
        ("٣ mm", "no length"),
        ("1" * 90, "no length"),
        ("nan", "no length"),
        (True, "no length"),
        (None, "no length"),
        (Decimal("NaN"), "no number"),
        (Decimal("Infinity"), "no number"),
        (Decimal("1e999999"), "out of range"),
        (-1, "no sign"),
        pytest.param(10**5000, "longer than 100 m", id="five thousand digits"),
    ],
)
def test_what_is_no_length_is_refused_with_a_reason(written: object, says: str) -> None:
    with pytest.raises(LengthError) as refused:
        parse_length(written, Units.MM)
    assert says in str(refused.value)
    assert "got" in str(refused.value)
    assert len(str(refused.value)) < 300


def test_a_message_carries_no_control_characters() -> None:
    with pytest.raises(LengthError) as refused:
        parse_length("5 \x1b[31m", Units.MM)
    assert "\x1b" not in str(refused.value)


@pytest.mark.parametrize(
    ("written", "size"),
    [
        ("403 x 503 mm", Size(Fraction(403), Fraction(503))),
        ("16x20 in", Size(16 * INCH, 20 * INCH)),
        ("16X20 in", Size(16 * INCH, 20 * INCH)),
        ("8 1/2 x 11 in", Size(Fraction(17, 2) * INCH, 11 * INCH)),
        ("40×50 cm", Size(Fraction(400), Fraction(500))),
        ('16" x 20"', Size(16 * INCH, 20 * INCH)),
        ("16 in x 50 cm", Size(16 * INCH, Fraction(500))),
        ("1' x 1' 4\"", Size(12 * INCH, 16 * INCH)),
        ("400x500", Size(Fraction(400), Fraction(500))),
    ],
)
def test_written_sizes(written: str, size: Size) -> None:
    assert parse_size(written, Units.MM) == size


@pytest.mark.parametrize(
    "written", ["", "400", "400x", "x500", "3x4x5", '16" x 20', "0 x 5 mm", 5, None, "a x b", "40 by 50 cm"]
)
def test_what_is_no_size_is_refused(written: object) -> None:
    with pytest.raises(LengthError, match="got"):
        parse_size(written, Units.MM)


@pytest.mark.parametrize(
    ("written", "number"),
    [("1.2", Fraction(6, 5)), (" 3 ", Fraction(3)), (".5", Fraction(1, 2)), (Decimal("1.2"), Fraction(6, 5))],
)
def test_numbers_without_a_unit(written: object, number: Fraction) -> None:
    assert parse_number(written) == number


@pytest.mark.parametrize("written", ["1,2", "1.2 mm", "1e3", "-1", True, [], -2])
def test_what_is_no_number_is_refused(written: object) -> None:
    with pytest.raises(LengthError):
        parse_number(written)


def test_units_agree_with_pints_own_registry() -> None:
    """Source: pint's default registry (a general-purpose library): mm, cm, m, inch, foot."""
    registry = pint.UnitRegistry(non_int_type=Fraction)
    for ours, theirs in (("mm", "millimeter"), ("cm", "centimeter"), ("m", "meter"), ("in", "inch"), ("ft", "foot")):
        expected = registry.Quantity(Fraction(1), theirs).to("millimeter").magnitude
        assert float(unit_factor(ours)) == pytest.approx(float(expected), rel=1e-15)


def test_conversion_is_exact() -> None:
    assert parse_length("1 in", Units.MM) == Fraction("25.4")
    assert parse_length("0.1 mm", Units.MM) * 10 == 1


# --- the step --------------------------------------------------------------------------------------------------------

lengths = st.fractions(min_value=0, max_value=5000, max_denominator=10_000)
steps = st.sampled_from([Fraction(1), Fraction(1, 2), Fraction(1, 10), INCH / 16, INCH / 32, INCH / 64])


@given(length=lengths, step=steps)
def test_snapping_gives_whole_steps_next_to_the_length(length: Fraction, step: Fraction) -> None:
    rule = Step(step)
    for snapped in (rule.down(length), rule.up(length), rule.nearest(length)):
        assert rule.is_whole(snapped)
        assert abs(snapped - length) < step
    assert rule.down(length) <= length <= rule.up(length)
    assert abs(rule.nearest(length) - length) <= step / 2


def test_ties_go_up() -> None:
    assert Step(Fraction(1)).nearest(Fraction(5, 2)) == 3


@pytest.mark.parametrize("step", [Fraction(0), Fraction(1, 1000), Fraction(26)])
def test_absurd_steps_are_refused(step: Fraction) -> None:
    with pytest.raises(LengthError, match="between"):
        Step(step)


# --- printing --------------------------------------------------------------------------------------------------------


@given(count=st.integers(0, 20_000), step=steps, units=st.sampled_from(list(Units)))
@settings(max_examples=300)
def test_printing_a_whole_number_of_steps_and_reading_it_back_is_the_identity(
    count: int, step: Fraction, units: Units
) -> None:
    printer = Printer(units, Step(step))
    length = min(count * step, Fraction(99_000) // step * step)
    assert parse_length(printer.length(length), Units.MM) == length
    assert parse_length(printer.number(length), units) == length


@given(length=lengths, units=st.sampled_from([Units.MM, Units.CM]))
def test_a_metric_label_is_within_a_twentieth_of_a_millimetre(length: Fraction, units: Units) -> None:
    printed = Printer(units, Step(Fraction(1))).length(length)
    assert abs(parse_length(printed, Units.MM) - length) <= Fraction(1, 20)


@given(length=lengths, parts=st.sampled_from([8, 16, 32, 64]))
def test_an_inch_label_is_a_reduced_fraction_of_the_nearest_step(length: Fraction, parts: int) -> None:
    printer = Printer(Units.IN, Step(INCH / parts))
    printed = printer.length(length)
    assert "." not in printed
    assert abs(parse_length(printed, Units.MM) - length) <= INCH / parts / 2
    assert printer.length(parse_length(printed, Units.MM)) == printed


@pytest.mark.parametrize(
    ("eighths", "printed"), [(131, "16 3/8 in"), (4, "1/2 in"), (16, "2 in"), (0, "0 in"), (-12, "-1 1/2 in")]
)
def test_inches_print_as_reduced_fractions(eighths: int, printed: str) -> None:
    assert Printer(Units.IN, Step.usual(Units.IN)).length(eighths * INCH / 8) == printed


def test_a_metric_step_in_an_inch_job_prints_in_millimetres_with_their_unit() -> None:
    printer = Printer(Units.IN, Step(Fraction(1)))
    assert printer.number(Fraction(403)) == "403 mm"


def test_sizes_print_with_one_unit() -> None:
    assert Printer(Units.CM, Step(Fraction(1))).size(Size(Fraction(403), Fraction(500))) == "40.3 × 50 cm"
    assert Printer(Units.IN, Step.usual(Units.IN)).size(Size(16 * INCH, 20 * INCH)) == "16 × 20 in"


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [
        (Fraction(1, 3), 2, "0.33"),
        (Fraction(2, 3), 1, "0.7"),
        (Fraction(-1, 2), 6, "-0.5"),
        (Fraction(-1, 300), 1, "0"),
        (Fraction(100), 0, "100"),
    ],
)
def test_plain_decimals(value: Fraction, places: int, text: str) -> None:
    assert plain_decimal(value, places) == text


# --- plane figures ---------------------------------------------------------------------------------------------------


def test_a_box_measures_its_distance_from_another() -> None:
    outer = Box.of(Size(Fraction(400), Fraction(500)))
    inner = Box(Fraction(60), Fraction(50), Fraction(280), Fraction(370))
    assert inner.inset_in(outer) == Sides(top=Fraction(50), right=Fraction(60), bottom=Fraction(80), left=Fraction(60))
    assert inner.within(outer)
    assert not outer.within(inner)
    assert inner.grown(Fraction(2)).size == Size(Fraction(284), Fraction(374))
    assert Box.of(Size(Fraction(100), Fraction(50))).centred_in(outer) == Box(
        Fraction(150), Fraction(225), Fraction(100), Fraction(50)
    )
