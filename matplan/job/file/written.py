"""The values of a job file as people write them: lengths, sizes, numbers, names, choices, and what is said of one that
is wrong.

Each kind of value is a `Written`: a check that turns what TOML gave into an exact value or raises `ValueError` with
words for the user, and the JSON Schema of what may be written. pydantic calls the check with the job's units as its
context.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, time
from decimal import Decimal
from difflib import get_close_matches
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from typing import Annotated, Any

from pydantic_core import CoreSchema, core_schema

from matplan.faults import LengthError, printable
from matplan.job.file.colours import colour_code
from matplan.job.records import AddedWeight, OpticalWeight, RatioWeight, Weight
from matplan.lengths import Step, Units, parse_length, parse_number, shown_number

LONGEST_NAME = 1000


@dataclass(frozen=True, slots=True)
class Unplain:
    """A TOML number that is no plain decimal: one with an exponent, `inf` or `nan`. `text` is as written."""

    text: str


def read_float(text: str) -> Decimal | Unplain:
    """A TOML float, exactly; `Unplain` where it is no plain decimal, so that an exponent of a billion costs nothing."""
    return Unplain(text) if any(letter in text for letter in "eEin") else Decimal(text)


def got(value: object) -> str:
    """`got …` with that value as the job wrote it, short and safe for a terminal."""
    match value:
        case bool():
            return f"got {str(value).lower()}"
        case str():
            return f'got "{printable(value, 60)}"'
        case int() | Decimal() | Fraction():
            return f"got {shown_number(value)}"
        case Unplain(text):
            return f"got {printable(text, 40)}"
        case dict():
            return "got a table"
        case list() | tuple():
            return "got a list"
        case date() | time():
            return f"got the date or time {value.isoformat()}"
    return f"got {printable(repr(value), 60)}"


def quoted(name: str) -> str:
    """That name in quotes, short and safe for a terminal."""
    return f'"{printable(name, 60)}"'


def listed(words: Iterable[object]) -> str:
    """Those words quoted and joined for a message: `"a", "b" or "c"`."""
    shown = [quoted(str(word)) for word in words]
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} or {shown[-1]}"


def nearest(word: str, known: Iterable[str], most: int = 3) -> list[str]:
    """Up to `most` of the known words that are spelt most like that one, nearest first."""
    by_key = {other.casefold(): other for other in known}
    return [by_key[key] for key in get_close_matches(word[:60].casefold(), by_key, n=most)]


# --- how a value is checked ------------------------------------------------------------------------------------------

type Check = Callable[[object, Units], Any]


@dataclass(frozen=True, slots=True)
class Written:
    """A kind of value: its check, and the JSON Schema of what may be written for it."""

    check: Check
    schema: dict[str, Any]

    def __get_pydantic_core_schema__(self, source: object, handler: object) -> CoreSchema:
        check = self.check
        return core_schema.with_info_plain_validator_function(lambda value, info: check(value, info.context))

    def __get_pydantic_json_schema__(self, core: object, handler: object) -> dict[str, Any]:
        return dict(self.schema)


LENGTH_SCHEMA: dict[str, Any] = {
    "anyOf": [{"type": "number", "minimum": 0}, {"type": "string"}],
    "examples": ["250 mm", "25 cm", "16 3/8 in", "1 ft 4 in"],
}
_SIZE_SCHEMA: dict[str, Any] = {"type": "string", "examples": ["403 x 503 mm", "16x20 in", "A4"]}
_NUMBER_SCHEMA: dict[str, Any] = {
    "anyOf": [{"type": "number", "minimum": 0}, {"type": "string", "pattern": r"^\s*[0-9]*\.?[0-9]+\s*$"}]
}


@lru_cache(maxsize=4096)
def _length_text(text: str, units: Units) -> Fraction:
    return parse_length(text, units)


def read_length(value: object, units: Units) -> Fraction:
    """A length in millimetres; a bare number is in the job's units."""
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
        case Fraction():  # read already, within a short form
            return value
    raise LengthError(f'{got(value)}, which is no length; write it like "250 mm", "25 cm", "16 3/8 in" or "1 ft 4 in"')


def _some_length(value: object, units: Units) -> Fraction:
    length = read_length(value, units)
    if not length:
        raise LengthError(f"{got(value)}; it must be longer than nought")
    return length


def read_number(
    value: object, least: Fraction | None = None, most: Fraction | None = None, what: str = "a plain decimal"
) -> Fraction:
    """A number without a unit between those bounds, exactly; a text of digits alone counts."""
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
    """A whole number between those two."""
    right = f"a whole number from {least} to {most:,}"

    def check(value: object, _: Units) -> int:
        number = read_number(value, Fraction(least), Fraction(most), right)
        if number.denominator != 1:
            raise LengthError(f"{got(value)}; write {right}")
        return int(number)

    return Written(check, {"type": "integer", "minimum": least, "maximum": most})


def numbered(what: str, least: Fraction, most: Fraction) -> Written:
    """A number between those two, `what` saying so."""
    return Written(lambda value, _: read_number(value, least, most, what), _NUMBER_SCHEMA)


MOST_MONEY = 1_000_000_000


def read_money(value: object, _: Units) -> Decimal:
    """A price as an exact decimal, nought or more."""
    right = "a price such as 18.50, nought or more"
    number = read_number(value, Fraction(0), Fraction(MOST_MONEY), right)
    money = (
        Decimal(value.strip())
        if isinstance(value, str)
        else Decimal(value)
        if isinstance(value, int | Decimal)
        else Decimal(0)
    )
    if Fraction(money) != number or len(money.as_tuple().digits) > 24:
        raise LengthError(f"{got(value)}; write {right}")
    return money


def _flag(value: object, _: Units) -> bool:
    if isinstance(value, bool):
        return value
    raise ValueError(f"{got(value)}; write true or false, without quotes")


def _controls(text: str) -> str | None:
    """The first character that no name may hold, as an escape."""
    for character in text:
        if unicodedata.category(character) in {"Cc", "Zl", "Zp", "Cs"}:
            return character.encode("unicode_escape").decode()
    return None


def read_text(value: object, _: Units) -> str:
    """One line of text, which may be empty."""
    if not isinstance(value, str):
        raise ValueError(f"{got(value)}; write a text in quotes")
    if found := _controls(value):
        raise ValueError(f"{got(value)}, which holds the control character {found}; write one line without any")
    if len(value) > LONGEST_NAME:
        raise ValueError(f"{got(value)}, which has {len(value):,} characters; write at most {LONGEST_NAME:,}")
    return value


def read_name(value: object, units: Units) -> str:
    """One line of text in which something can be seen."""
    text = read_text(value, units)
    if all(unicodedata.category(character)[0] in "ZC" for character in text):
        raise ValueError(f"{got(value)}, which is blank; write a name that can be read")
    return text


def _colour(value: object, _: Units) -> str:
    if not isinstance(value, str):
        raise ValueError(f'{got(value)}; write a colour like "#f6f2e8" or "warm white"')
    return colour_code(value)


def chosen[E: StrEnum](kind: type[E], *, any_case: bool = False) -> Written:
    """One of the words of that enumeration."""
    words = [member.value for member in kind]

    def check(value: object, _: Units) -> E:
        word = value.casefold().strip() if any_case and isinstance(value, str) else value
        if isinstance(word, str) and word in words:
            return kind(word)
        raise ValueError(f"{got(value)}; write {listed(words)}")

    return Written(check, {"type": "string", "enum": words})


def read_weight(value: object, units: Units) -> Weight:
    """How much wider the bottom border is: a length, a bare factor or `"optical"`."""
    form = 'write a length like "12 mm", a bare factor like 1.2, or "optical"'
    if value == "optical":
        return OpticalWeight()
    try:
        ratio = read_number(value)
    except LengthError:
        if not isinstance(value, str):
            raise LengthError(f"{got(value)}; {form}") from None
        try:
            return AddedWeight(extra=_length_text(value, units))
        except LengthError:
            raise LengthError(f"{got(value)}, which is no weight; {form}") from None
    if ratio > 100:
        raise LengthError(
            f"{got(value)}: a bare number is the bottom border over the top one; write a factor of at most 100, or a length with its unit"
        )
    return RatioWeight(ratio=ratio) if ratio else AddedWeight(extra=Fraction(0))


def read_aspect(value: object, _: Units) -> tuple[Fraction, Fraction]:
    """Width : height, both above nought and neither a hundred times the other.

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
        raise LengthError(f"{got(value)}, where a side is nought; {form}")
    if max(width / height, height / width) > 100:
        raise LengthError(f"{got(value)}, which is more than a hundred times as long as wide; {form}")
    return width, height


def _step(value: object, units: Units) -> Step:
    return Step(read_length(value, units))


def _share(value: object, _: Units) -> Fraction:
    """A part of the whole between 0 and 1: `"1/3"` or a number."""
    form = 'write a part of the height between 0 and 1, like "1/3" or 0.25'
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


# --- the kinds of value ----------------------------------------------------------------------------------------------

Length = Annotated[Fraction | None, Written(read_length, LENGTH_SCHEMA)]
SomeLength = Annotated[Fraction | None, Written(_some_length, LENGTH_SCHEMA)]
SizeText = Annotated[str | None, Written(read_name, _SIZE_SCHEMA)]
StepLength = Annotated[Step | None, Written(_step, LENGTH_SCHEMA)]
Name = Annotated[str | None, Written(read_name, {"type": "string", "minLength": 1})]
Text = Annotated[str | None, Written(read_text, {"type": "string"})]
Key = Annotated[str, Written(read_name, {"type": "string"})]
Flag = Annotated[bool | None, Written(_flag, {"type": "boolean"})]
Money = Annotated[Decimal | None, Written(read_money, _NUMBER_SCHEMA)]
Colour = Annotated[str | None, Written(_colour, {"type": "string", "examples": ["#f6f2e8", "warm white"]})]
Density = Annotated[
    Fraction | None, numbered("a density in kg/m³, above 0 and at most 30,000", Fraction(1, 1000), Fraction(30_000))
]
Pixels = Annotated[Fraction | None, numbered("pixels per inch, from 1 to 10,000", Fraction(1), Fraction(10_000))]
Mass = Annotated[
    Fraction | None, numbered("a mass in kg, above 0 and at most 100,000", Fraction(1, 1000), Fraction(100_000))
]
Minutes = Annotated[Fraction | None, numbered("a number of minutes from 0 to 100,000", Fraction(0), Fraction(100_000))]
Markup = Annotated[Fraction | None, numbered("a factor from 1 to 100, such as 2.2", Fraction(1), Fraction(100))]
Fractional = Annotated[Fraction, numbered("a fraction of the opening from 0 to 1", Fraction(0), Fraction(1))]
Share = Annotated[
    Fraction | None, Written(_share, {"anyOf": [{"type": "number"}, {"type": "string"}], "examples": ["1/3", 0.25]})
]
Aspect = Annotated[
    tuple[Fraction, Fraction] | None,
    Written(read_aspect, {"type": "string", "pattern": "^[^:]+:[^:]+$", "examples": ["3:2"]}),
]
WrittenWeight = Annotated[
    Weight | None,
    Written(
        read_weight,
        {"anyOf": [{"type": "number", "minimum": 0}, {"type": "string"}], "examples": ["12 mm", 1.2, "optical"]},
    ),
]
