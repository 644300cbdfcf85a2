"""The values of a job file as people write them: lengths, sizes, numbers, names, choices.

Each kind of value is a `Written`: a check that turns what TOML gave into an exact value, in the job's units, or raises
`ValueError` with words for the user; and the JSON Schema of what may be written.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from typing import Any

from matplan import catalogue
from matplan.catalogue import Kind
from matplan.faults import LengthError
from matplan.job.file.colours import colour_code
from matplan.job.file.table import Written
from matplan.job.file.texts import read_name, read_text
from matplan.job.file.wrong import Unplain, got, listed, near_names
from matplan.lengths import Size, Step, Units, parse_length, parse_number, parse_size

# --- how a value is checked ------------------------------------------------------------------------------------------

LENGTH_SCHEMA: dict[str, Any] = {
    "title": "a length",
    "anyOf": [{"type": "number", "minimum": 0}, {"type": "string"}],
    "examples": ["250 mm", "25 cm", "16 3/8 in", "1 ft 4 in"],
}
_MASS_IN_WORDS = 'a mass in kg, above 0 and at most 100,000, or one with its unit like "15 kg" or "30 lb"'
_SHARE = 'a part of the height between 0 and 1, like "1/3" or 0.25'


def number_schema(title: str) -> dict[str, Any]:
    """Return the schema of a plain number, 0 or more."""
    plain = {"type": "string", "pattern": r"^\s*[0-9]*\.?[0-9]+\s*$"}
    return {"title": title, "anyOf": [{"type": "number", "minimum": 0}, plain]}


@lru_cache(maxsize=4096)
def _length_text(text: str, units: Units) -> Fraction:
    return parse_length(text, units)


def read_length(value: object, units: Units) -> Fraction:
    """Return a length in millimetres; a bare number is in the job's units."""
    match value:
        case str():
            return _length_text(value, units)
        case Unplain():
            raise LengthError(
                f"{got(value)}; write a plain decimal without an exponent, or a length with its unit in quotes"
            )
        case bool():
            pass
        case int() | Decimal():
            return parse_length(value, units)
    raise LengthError(f'{got(value)}, which is no length; write it like "250 mm", "25 cm", "16 3/8 in" or "1 ft 4 in"')


def _some_length(value: object, units: Units) -> Fraction:
    length = read_length(value, units)
    if not length:
        raise LengthError(f"{got(value)}; it must be longer than 0")
    return length


def read_number(
    value: object, least: Fraction | None = None, most: Fraction | None = None, what: str = "a plain decimal"
) -> Fraction:
    """Return a number without a unit between the bounds, exactly; a text of digits alone counts."""
    right = what
    if isinstance(value, bool | Unplain) or not isinstance(value, str | int | Decimal):
        raise LengthError(
            f"{got(value)}; write {right}, without an exponent"
            if isinstance(value, Unplain)
            else f"{got(value)}; write {right}"
        )
    try:
        number = parse_number(value)
    except LengthError:
        raise LengthError(f"{got(value)}; write {right}") from None
    if (least is not None and number < least) or (most is not None and number > most):
        raise LengthError(f"{got(value)}; write {right}")
    return number


def counted(least: int, most: int) -> Written:
    """Return the kind of whole numbers from `least` to `most`."""
    right = f"a whole number from {least} to {most:,}"

    def check(value: object, _: Units) -> int:
        number = read_number(value, Fraction(least), Fraction(most), right)
        if number.denominator != 1:
            raise LengthError(f"{got(value)}; write {right}")
        return int(number)

    return Written(check, {"title": right, "type": "integer", "minimum": least, "maximum": most})


def numbered(what: str, least: Fraction, most: Fraction) -> Written:
    """Return the kind of numbers from `least` to `most`; `what` says so in words."""
    return Written(lambda value, _: read_number(value, least, most, what), number_schema(what))


_MASS = re.compile(r"\s*(?P<number>[0-9.]+)\s*(?P<unit>[A-Za-z]+\.?)\s*", re.ASCII)
_MASSES = {
    "kg": "kg", "kgs": "kg", "kilogram": "kg", "kilograms": "kg", "g": "g", "gram": "g", "grams": "g",
    "lb": "lb", "lb.": "lb", "lbs": "lb", "lbs.": "lb", "pound": "lb", "pounds": "lb",
    "oz": "oz", "oz.": "oz", "ounce": "oz", "ounces": "oz",
}  # fmt: skip
"""How people write the units of mass that `units.txt` knows."""

MOST_AT_HAND = 1_000_000
_AT_HAND = f"a whole number from 0 to {MOST_AT_HAND:,}, or a length such as 12 m"


def read_mass(value: object, _: Units) -> Fraction:
    """Return a mass in kg: a bare number, or a text with its unit.

    >>> read_mass("30 lb", Units.MM)
    Fraction(136077711, 10000000)
    """
    found = _MASS.fullmatch(value) if isinstance(value, str) else None
    if found is None or found["unit"].casefold() not in _MASSES:
        return read_number(value, Fraction(1, 1000), Fraction(100_000), _MASS_IN_WORDS)
    from matplan.weights import converted

    mass = converted(read_number(found["number"], what=_MASS_IN_WORDS), _MASSES[found["unit"].casefold()], "kg")
    if not Fraction(1, 1000) <= mass <= 100_000:
        raise LengthError(f"{got(value)}; write {_MASS_IN_WORDS}")
    return mass


def _flag(value: object, _: Units) -> bool:
    if isinstance(value, bool):
        return value
    raise ValueError(f"{got(value)}; write true or false, without quotes")


def _colour(value: object, _: Units) -> str:
    if not isinstance(value, str):
        raise ValueError(f'{got(value)}; write a colour like "#f6f2e8" or "warm white"')
    return colour_code(value)


def chosen[E: StrEnum](kind: type[E], *, any_case: bool = False) -> Written:
    """Return the kind of words of an enumeration."""
    words = [member.value for member in kind]

    def check(value: object, _: Units) -> E:
        word = value.casefold().strip() if any_case and isinstance(value, str) else value
        if isinstance(word, str) and word in words:
            return kind(word)
        raise ValueError(f"{got(value)}; write {listed(words)}")

    return Written(check, {"type": "string", "enum": words})


def read_aspect(value: object, _: Units) -> tuple[Fraction, Fraction]:
    """Return width and height, both above 0 and neither a hundred times the other.

    >>> read_aspect("3:2", Units.MM)
    (Fraction(3, 1), Fraction(2, 1))
    """
    form = 'write width and height like "3:2"'
    halves = value.split(":") if isinstance(value, str) else []
    if len(halves) != 2:
        raise LengthError(f"{got(value)}, which is no aspect; {form}")
    try:
        width, height = (parse_number(half) for half in halves)
    except LengthError:
        raise LengthError(f"{got(value)}, which is no aspect; {form}") from None
    if not width or not height:
        raise LengthError(f"{got(value)}, where a side is 0; {form}")
    if max(width / height, height / width) > 100:
        raise LengthError(f"{got(value)}, which is more than a hundred times as long as wide; {form}")
    return width, height


def _step(value: object, units: Units) -> Step:
    return Step(read_length(value, units))


def _share(value: object, _: Units) -> Fraction:
    """Return a part of the whole between 0 and 1, from `"1/3"` or a number."""
    form = f"write {_SHARE}"
    try:
        if isinstance(value, str) and "/" in value:
            top, bottom = (parse_number(half) for half in value.split("/"))
            share = top / bottom
        else:
            share = read_number(value)
    except (LengthError, ValueError, ZeroDivisionError):
        raise LengthError(f"{got(value)}; {form}") from None
    if not 0 < share < 1:
        raise LengthError(f"{got(value)}; {form}")
    return share


_SIGN = re.compile(r"^\s*[-+−]|[x×*]\s*[-+−]|[-+−]\s*[x×*]|[x×*].*[-+−]\s*[^\d\s]*\s*$")


def is_signed(text: str) -> bool:
    """Return whether one of a size's lengths has a sign, which the search for a name in the tables would pass over."""
    return bool(re.search(r"\d", text) and _SIGN.search(text))


def parse_unsigned(text: str, units: Units) -> Size:
    """Return the size written there. Raises `LengthError`."""
    if is_signed(text):
        raise LengthError(f"{got(text)}, which is no size; a length has no sign")
    return parse_size(text, units)


@dataclass(frozen=True, slots=True)
class AtHand:
    """What lies ready: how many, where a bare number says so, and what length (in millimetres)."""

    count: int | None
    length: Fraction


NOTHING_AT_HAND = AtHand(0, Fraction(0))


def _at_hand(value: object, units: Units) -> AtHand:
    """Return a number of things, which in the job's units may be a length too, or a length with its unit."""
    try:
        number = read_number(value, Fraction(0), Fraction(MOST_AT_HAND), _AT_HAND)
    except LengthError:
        if not isinstance(value, str) or not any(letter.isalpha() or letter in "\"″'" for letter in value):
            raise
        return AtHand(None, read_length(value, units))
    return AtHand(int(number) if number.denominator == 1 else None, number * units.factor)


def _hardware_name(value: object, units: Units) -> str:
    name = read_name(value, units)
    row = catalogue.hardware(name)
    if row is None:
        close = catalogue.near(name, Kind.HARDWARE)
        near = near_names(name, close or catalogue.names(Kind.HARDWARE), kind="hardware")
        raise ValueError(f"{got(name)}, which is no hardware of the tables; {near}")
    return row.name


def read_size(value: object, units: Units) -> Size:
    """Return the size written there, as a size or a name from the tables. Raises `LengthError`."""
    text = read_name(value, units)
    try:
        return parse_unsigned(text, units)
    except LengthError as error:
        if row := not is_signed(text) and (catalogue.paper(text) or catalogue.frame(text)):
            return row.size
        if text[:1].isdigit() or is_signed(text):
            if str(error).startswith(got(text)):
                raise
            form = 'write it like "403 x 503 mm" or "16x20 in"'
            raise LengthError(f"{got(text)}, which is no size ({error}); {form}") from None
        close = (*catalogue.near(text, Kind.PAPERS), *catalogue.near(text, Kind.FRAMES))
        near = near_names(text, close, kind="sizes") if close else "write it like 403 x 503 mm, 16x20 in or A4"
        raise LengthError(f"{got(text)}, which is no size and no name of one; {near}") from error


# --- the kinds of value ----------------------------------------------------------------------------------------------

LENGTH = Written(read_length, LENGTH_SCHEMA)
SOME_LENGTH = Written(_some_length, LENGTH_SCHEMA)
SIZE = Written(
    read_size,
    {"title": "a size, or its name in the tables", "type": "string", "examples": ["403 x 503 mm", "16x20 in", "A4"]},
)
STEP = Written(_step, LENGTH_SCHEMA)
NAME = Written(read_name, {"title": "a name", "type": "string", "minLength": 1})
OWN_NAME = Written(read_name, {"title": "a name of your own", "type": "string", "minLength": 1})
"""A name that the job gives, not one that it looks up."""
TEXT = Written(read_text, {"title": "a text", "type": "string"})
FLAG = Written(_flag, {"title": "true or false", "type": "boolean"})
COLOUR = Written(_colour, {"title": "a colour", "type": "string", "examples": ["#f6f2e8", "warm white"]})
DENSITY = numbered("a density in kg/m³, above 0 and at most 30,000", Fraction(1, 1000), Fraction(30_000))
PIXELS = numbered("pixels per inch, from 1 to 10,000", Fraction(1), Fraction(10_000))
MASS = Written(
    read_mass,
    {
        "title": _MASS_IN_WORDS,
        "anyOf": [{"type": "number", "minimum": 0}, {"type": "string"}],
        "examples": [15, "30 lb"],
    },
)
MINUTES = numbered("a number of minutes from 0 to 100,000", Fraction(0), Fraction(100_000))
FRACTION = numbered("a fraction of the opening from 0 to 1", Fraction(0), Fraction(1))
SHARE = Written(_share, {"title": _SHARE, "anyOf": [{"type": "number"}, {"type": "string"}], "examples": ["1/3", 0.25]})
AT_HAND = Written(
    _at_hand,
    {"title": _AT_HAND, "anyOf": [{"type": "integer", "minimum": 0}, {"type": "string"}], "examples": [40, "12 m"]},
)
HARDWARE_NAME = Written(_hardware_name, {"title": "a name", "type": "string", "minLength": 1})
ASPECT = Written(
    read_aspect, {"title": "width : height", "type": "string", "pattern": "^[^:]+:[^:]+$", "examples": ["3:2"]}
)
