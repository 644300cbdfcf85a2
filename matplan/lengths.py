"""Exact lengths: how the trade writes them, the step a workshop cuts to, sizes, boxes and sides.

A length is a `Fraction` of a millimetre from the moment it is read until it is drawn or written to JSON. This module
reads what people write (`16 3/8 in`, `1' 4"`, `25 cm`), snaps to steps and prints lengths back. The units are those of
`units.txt`. It knows nothing of frames, jobs or paper names.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from typing import Self

from matplan.faults import LengthError, printable

type Number = int | Decimal | Fraction
"""A number without a unit, exact."""

ZERO = Fraction(0)
LONGEST = Fraction(100_000)
"""No length exceeds 100 m."""

INCH = Fraction(127, 5)
"""One inch in millimetres: 25.4, exactly (international yard and pound agreement, 1959); pint's table agrees."""

SMALLEST_STEP = Fraction(1, 100)
LARGEST_STEP = Fraction(254, 10)


class Units(StrEnum):
    """The units of a job: what bare numbers mean and how lengths are printed."""

    MM = "mm"
    CM = "cm"
    IN = "in"

    @property
    def factor(self) -> Fraction:
        """How many millimetres one of it is."""
        return unit_factor(self.value)


def exact(value: Number) -> Fraction:
    """That number as a fraction, exactly."""
    return value if isinstance(value, Fraction) else Fraction(value)


# --- units -----------------------------------------------------------------------------------------------------------

_SPELLINGS = {
    "mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "cm": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "in": "in", "in.": "in", "inch": "in", "inches": "in", '"': "in", "″": "in", "”": "in", "“": "in",
    "''": "in", "′′": "in", "’’": "in",
    "ft": "ft", "ft.": "ft", "foot": "ft", "feet": "ft", "'": "ft", "′": "ft", "’": "ft",
}  # fmt: skip


_FACTORS = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000), "in": INCH, "ft": 12 * INCH}
"""What pint reads from `units.txt`, kept here because every job needs it and pint takes a tenth of a second to wake; a
test compares.
"""


def unit_factor(unit: str) -> Fraction:
    """Millimetres in one of that unit (`mm`, `cm`, `m`, `in`, `ft`), exact."""
    return _FACTORS[unit]


# --- reading ---------------------------------------------------------------------------------------------------------

_VULGAR = {
    "½": (1, 2), "⅓": (1, 3), "⅔": (2, 3), "¼": (1, 4), "¾": (3, 4), "⅕": (1, 5), "⅖": (2, 5), "⅗": (3, 5), "⅘": (4, 5),
    "⅙": (1, 6), "⅚": (5, 6), "⅐": (1, 7), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8), "⅑": (1, 9),
    "⅒": (1, 10),
}  # fmt: skip
_SPACES = re.compile(r"[\s\u00a0\u2007\u2009\u200a\u202f]+")
_UNIT = r"(?:[a-z]+\.?|''|′′|’’|[\"″”“'′’])"
_NUMBER = r"(?:\d+(?:\.\d+)?|\.\d+)"
_AMOUNT = re.compile(
    rf"(?P<whole>\d+)[ -]+(?P<mixed_top>\d+) ?[/⁄] ?(?P<mixed_bottom>\d+)"
    rf"|(?P<top>\d+) ?[/⁄] ?(?P<bottom>\d+)"
    rf"|(?P<before>\d*)[ -]?(?P<vulgar>[{''.join(_VULGAR)}])"
    rf"|(?P<plain>{_NUMBER})",
    re.ASCII,
)
_PART = re.compile(rf" ?(?P<amount>(?:{_AMOUNT.pattern.replace('?P<', '?P<_')})) ?(?P<unit>{_UNIT})?", re.ASCII)
_FORMS = 'write it like "250 mm", "25 cm", "16 3/8 in" or "1 ft 4 in"'


def _amount(text: str) -> Fraction:
    """The number written there: plain, a fraction, or a whole number and a fraction."""
    found = _AMOUNT.fullmatch(text)
    if found is None:
        raise LengthError(f"{text!r} is no number")
    if found["plain"] is not None:
        return Fraction(found["plain"] if not found["plain"].startswith(".") else "0" + found["plain"])
    if found["vulgar"] is not None:
        top, bottom = _VULGAR[found["vulgar"]]
        return int(found["before"] or 0) + Fraction(top, bottom)
    whole, top, bottom = (
        (int(found["whole"]), int(found["mixed_top"]), int(found["mixed_bottom"]))
        if found["whole"] is not None
        else (0, int(found["top"]), int(found["bottom"]))
    )
    if bottom == 0:
        raise LengthError(f"{printable(text, 40)} divides by 0")
    if found["whole"] is not None and top >= bottom:
        raise LengthError(f"{printable(text, 40)} is a whole number with a fraction of one or more; reduce it")
    return whole + Fraction(top, bottom)


def _refuse(text: str, because: str = "") -> LengthError:
    """The error for that text: a known slip of the pen where there is one, else `because`, else the written forms."""
    if re.search(r"\d,\d", text):
        because = "decimals take a point, not a comma: " + re.sub(r"(\d),(\d)", r"\1.\2", text)
    elif re.match(r"\s*[-+−]", text):
        because = "a length has no sign"
    elif re.search(r"\d\s*e\s*[-+]?\d", text, re.IGNORECASE):
        because = "numbers are plain decimals without an exponent"
    return LengthError(f'got "{printable(text, 60)}", which is no length; {because or _FORMS}')


def _units_of(text: str) -> list[tuple[Fraction, str | None]]:
    """The amounts in that text, each with its unit (`mm` … `ft`) or None."""
    if not text.strip():
        raise LengthError(f"got an empty text, which is no length; {_FORMS}")
    if len(text) > 80:
        raise _refuse(text, _FORMS)
    plain = _SPACES.sub(" ", text).strip().lower()
    parts: list[tuple[Fraction, str | None]] = []
    at = 0
    while at < len(plain):
        found = _PART.match(plain, at)
        if found is None:
            raise _refuse(text)
        unit = found["unit"]
        if unit is not None and unit not in _SPELLINGS:
            raise _refuse(text, f"{printable(unit, 20)} is no unit here; use mm, cm, m, in or ft")
        try:
            amount = _amount(found["amount"])
        except LengthError as error:
            raise _refuse(text, str(error)) from None
        parts.append((amount, None if unit is None else _SPELLINGS[unit]))
        at = found.end()
    return parts


def _within(length: Fraction, written: str) -> Fraction:
    if length > LONGEST:
        raise LengthError(f"got {printable(written, 40)}, which is longer than 100 m; nothing here is")
    return length


def _sum_of(parts: list[tuple[Fraction, str | None]], bare: Fraction, text: str) -> Fraction:
    """One amount, or feet followed by inches."""
    match parts:
        case [(amount, None)]:
            return amount * bare
        case [(amount, str(unit))]:
            return amount * unit_factor(unit)
        case [(feet, "ft"), (inches, None | "in")]:
            return feet * unit_factor("ft") + inches * unit_factor("in")
    raise _refuse(text)


def parse_length(value: object, units: Units) -> Fraction:
    """That length in millimetres, exactly; never negative.

    `value` is a text such as `"16 3/8 in"` or a number, which is in the job's `units`. Raises `LengthError`.

    >>> parse_length("16-3/8", Units.IN)
    Fraction(16637, 40)
    >>> parse_length(25, Units.CM)
    Fraction(250, 1)
    """
    if isinstance(value, bool) or not isinstance(value, int | Decimal | Fraction | str):
        raise LengthError(f"got {printable(repr(value), 60)}, which is no length; {_FORMS}")
    if isinstance(value, str):
        return _within(_sum_of(_units_of(value), units.factor if units else Fraction(1), value), value)
    return _within(bare_number(value) * units.factor, f"{shown_number(value)} {units}")


def shown_number(value: Number) -> str:
    """That number for a message, cut where nobody could read it."""
    if isinstance(value, int) and abs(value) >= 10**30:
        return "a number of more than thirty digits"
    return printable(str(value), 40)


def bare_number(value: Number) -> Fraction:
    """A number from a job file as an exact fraction; refuses what is no plain decimal, or negative."""
    if isinstance(value, Decimal):
        if not value.is_finite():
            raise LengthError(f"got {value}, which is no number of use; {_FORMS}")
        if abs(value.adjusted()) > 30:  # an exponent of a billion would fill the memory as a fraction
            raise LengthError(f"got {shown_number(value)}, which is far out of range; {_FORMS}")
    if value < 0:
        raise LengthError(f"got {shown_number(value)}; a length has no sign")
    return exact(value)


def parse_number(value: object) -> Fraction:
    """Return a number without a unit, such as a factor: a plain decimal, as a number or as a text of digits alone."""
    if isinstance(value, str):
        text = value.strip()
        if len(text) <= 80 and re.fullmatch(_NUMBER, text, re.ASCII):
            return Fraction(text if not text.startswith(".") else "0" + text)
        raise LengthError(f'got "{printable(value, 60)}", which is no number; write a plain decimal such as 1.2')
    if isinstance(value, bool) or not isinstance(value, int | Decimal | Fraction):
        raise LengthError(f"got {printable(repr(value), 60)}, which is no number; write a plain decimal such as 1.2")
    return bare_number(value)


_TIMES = re.compile(r"[x×*]")


def parse_size(text: object, units: Units) -> Size:
    """Width × height in millimetres; a unit behind the last length holds for both.

    >>> parse_size("8 1/2 x 11 in", Units.MM).width
    Fraction(2159, 10)
    """
    form = 'write it like "403 x 503 mm" or "16x20 in"'
    if not isinstance(text, str):
        raise LengthError(f"got {printable(repr(text), 60)}, which is no size; {form}")
    halves = _TIMES.split(text.lower()) if len(text) <= 120 else []
    if len(halves) != 2 or not all(half.strip() for half in halves):
        raise LengthError(f'got "{printable(text, 60)}", which is no size; {form}')
    first, second = (_units_of(half) for half in halves)
    if second[-1][1] is None and first[-1][1] is not None:
        raise LengthError(f'got "{printable(text, 60)}", where only the width has a unit; {form}')
    bare = units.factor
    if first[-1][1] is None and second[-1][1] is not None and len(first) == 1:
        bare = unit_factor(second[-1][1])
    width, height = _sum_of(first, bare, text), _sum_of(second, units.factor, text)
    if not width or not height:
        raise LengthError(f'got "{printable(text, 60)}", where a side is 0; {form}')
    return Size(_within(width, text), _within(height, text))


# --- the step --------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Multiple:
    """Whole multiples of `size`, which is above 0: what figures are brought down, up or nearest to."""

    size: Fraction

    def down(self, figure: Fraction) -> Fraction:
        """Return the largest whole multiple that is no larger."""
        return figure // self.size * self.size

    def up(self, figure: Fraction) -> Fraction:
        """Return the smallest whole multiple that is no smaller."""
        return -(-figure // self.size) * self.size

    def nearest(self, figure: Fraction) -> Fraction:
        """Return the nearest whole multiple, ties up."""
        return self.down(figure + self.size / 2)

    def is_whole(self, figure: Fraction) -> bool:
        """Return whether the figure is a whole multiple."""
        return figure % self.size == 0


@dataclass(frozen=True, slots=True)
class Step(Multiple):
    """The smallest division that the workshop measures and cuts to, in millimetres."""

    def __post_init__(self) -> None:
        if not SMALLEST_STEP <= self.size <= LARGEST_STEP:
            raise LengthError(f"got a step of {plain_decimal(self.size)} mm; it lies between 0.01 mm and 1 in")

    @classmethod
    def usual(cls, units: Units) -> Self:
        """1 mm, or 1/16 in in an inch job."""
        return cls(unit_factor("in") / 16 if units is Units.IN else Fraction(1))


# --- printing --------------------------------------------------------------------------------------------------------


def plain_decimal(value: Fraction, places: int = 6) -> str:
    """The number as a plain decimal: exact where it has at most `places` decimals, else rounded half up to that many.

    >>> plain_decimal(Fraction(1, 3), 2), plain_decimal(Fraction(5, 2)), plain_decimal(Fraction(-4))
    ('0.33', '2.5', '-4')
    """
    scaled = abs(value) * 10**places
    whole = int(scaled + Fraction(1, 2))
    digits = str(whole).rjust(places + 1, "0")
    text = f"{digits[:-places]}.{digits[-places:]}".rstrip("0").rstrip(".") if places else digits
    return f"-{text}" if value < 0 and text.strip("0.") else text


def json_number(value: Fraction) -> int | float:
    """That number for a JSON document, exact to 1e-9: a whole number where it is one.

    >>> json_number(Fraction(244)), json_number(Fraction(9, 2))
    (244, 4.5)
    """
    return value.numerator if value.denominator == 1 else round(float(value), 9)


def _inch_fraction(inches: Fraction) -> str:
    sign = "-" if inches < 0 else ""
    whole, rest = divmod(abs(inches), 1)
    if not rest:
        return f"{sign}{whole}"
    fraction = f"{rest.numerator}/{rest.denominator}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


@dataclass(frozen=True, slots=True)
class Printer:
    """How a job prints its lengths: in its units, inches as reduced fractions of the step.

    A whole number of steps prints exactly, so that reading it back gives the same length. Any other length is rounded
    to 0.1 mm (a label stays within 0.05 mm) or, in an inch job, to the nearest step. Steps of an inch job that no inch
    fraction holds print in millimetres, with their unit.
    """

    units: Units
    step: Step

    def number(self, length: Fraction) -> str:
        """The bare number for a drawing whose units are stated once: `244`, `16 3/8`."""
        return self._split(length)[0] if self._in_own_units() else self.length(length)

    def length(self, length: Fraction) -> str:
        """The number with its unit: `244 mm`, `16 3/8 in`."""
        number, unit = self._split(length)
        return f"{number} {unit}"

    def tape(self, length: Fraction) -> str:
        """Return a figure to read on a tape: the bare number of the nearest whole step.

        >>> Printer(Units.MM, Step.usual(Units.MM)).tape(Fraction("1021.5"))
        '1022'
        """
        return self.number(self.step.nearest(length))

    def exact(self, length: Fraction, *, unit: bool = False) -> str:
        """Return the number without rounding it to a step, with its unit on demand: `10 2/3`.

        Where no short figure is exact the number is rounded and says so: `about 166.667`.
        """
        units = self.units if self._in_own_units() else Units.MM
        number = length / units.factor
        if units is Units.IN and (number.denominator <= 100 or self.step.is_whole(length)):
            text = _inch_fraction(number)
        elif 10**6 % number.denominator == 0:
            text = plain_decimal(number, 6)
        else:
            text = f"about {plain_decimal(number, 3)}"
        return f"{text} {units}" if unit or units is not self.units else text

    def fine(self, length: Fraction) -> str:
        """Return a length that is finer than a step, such as a board's thickness: `1.4 mm`, or `5/8 in`.

        In inches it is a fraction; one that is neither a step nor a 64th is rounded to a 64th and says so. Less than
        half a 64th stays a decimal.

        >>> Printer(Units.CM, Step.usual(Units.CM)).fine(Fraction("1.4"))
        '1.4 mm'
        >>> inches = Printer(Units.IN, Step.usual(Units.IN))
        >>> inches.fine(INCH * 5 / 8), inches.fine(Fraction("8.4")), inches.fine(Fraction("0.15"))
        ('5/8 in', 'about 21/64 in', '0.006 in')
        """
        if self.units is not Units.IN:
            return f"{plain_decimal(length, 1)} mm"
        finest = Step(self.step.size if self._dyadic() and self.step.is_whole(length) else INCH / 64)
        near = finest.nearest(length)
        if length and not near:
            return f"{plain_decimal(length / INCH, 3)} in"
        return f"{'' if near == length else 'about '}{_inch_fraction(near / INCH)} in"

    def exact_size(self, size: Size) -> str:
        """Return both sides without rounding them to a step, with the unit: `190.5 × 280 mm`."""
        return f"{self.exact(size.width)} × {self.exact(size.height, unit=True)}"

    def size(self, size: Size, times: str = "×") -> str:
        """`400 × 500 mm`."""
        width, unit = self._split(size.width)
        return f"{width} {times} {self._split(size.height)[0]} {unit}"

    def sides(self, sides: Sides) -> str:
        """Return `60 mm` if the four sides are the same, else their numbers: top / right / bottom / left."""
        if sides.even:
            return self.length(sides.top)
        return " / ".join(self.number(side) for side in (sides.top, sides.right, sides.bottom, sides.left))

    def _in_own_units(self) -> bool:
        return self.units is not Units.IN or self._dyadic()

    def _dyadic(self) -> bool:
        bottom = (self.step.size / unit_factor("in")).denominator
        return bottom & (bottom - 1) == 0 and bottom <= 128

    def _split(self, length: Fraction) -> tuple[str, str]:
        whole = self.step.is_whole(length)
        if self.units is Units.IN and self._dyadic():
            return _inch_fraction((length if whole else self.step.nearest(length)) / unit_factor("in")), "in"
        if self.units is Units.CM:
            return self._decimal(length / 10, whole, 2), "cm"
        return self._decimal(length, whole, 1), "mm"

    @staticmethod
    def _decimal(number: Fraction, whole: bool, places: int) -> str:
        return plain_decimal(number, 8 if whole and 10**8 % number.denominator == 0 else places)


# --- plane figures ---------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Size:
    """Width and height in millimetres."""

    width: Fraction
    height: Fraction

    @property
    def upright(self) -> Size:
        """The same with its longer side upright."""
        return self if self.width <= self.height else self.turned

    @property
    def turned(self) -> Size:
        """The same by a quarter turn."""
        return Size(self.height, self.width)

    @property
    def orientation(self) -> str:
        """`portrait` or `landscape`, as a print dialog calls it; a square is portrait."""
        return "landscape" if self.width > self.height else "portrait"

    @property
    def area(self) -> Fraction:
        """In square millimetres."""
        return self.width * self.height

    def grown(self, by: Fraction) -> Size:
        """Larger by `by` on every side."""
        return Size(self.width + 2 * by, self.height + 2 * by)

    def each(self, snap: Callable[[Fraction], Fraction]) -> Size:
        """Both sides passed through `snap`."""
        return Size(snap(self.width), snap(self.height))

    def holds(self, other: Size) -> bool:
        """Whether the other lies within, unturned."""
        return self.width >= other.width and self.height >= other.height

    def lacks(self, other: Size) -> Fraction:
        """Return by how much it is too small for the other, unturned; zero where it holds it."""
        return max(other.width - self.width, other.height - self.height, ZERO)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sides:
    """One length for each side, in millimetres."""

    top: Fraction
    right: Fraction
    bottom: Fraction
    left: Fraction

    @classmethod
    def all(cls, length: Fraction) -> Self:
        """The same on every side."""
        return cls(top=length, right=length, bottom=length, left=length)

    def each(self, change: Callable[[Fraction], Fraction]) -> Sides:
        """Every side passed through `change`."""
        return Sides(top=change(self.top), right=change(self.right), bottom=change(self.bottom), left=change(self.left))

    @property
    def across(self) -> Fraction:
        """Left and right together."""
        return self.left + self.right

    @property
    def down(self) -> Fraction:
        """Top and bottom together."""
        return self.top + self.bottom

    @property
    def least(self) -> Fraction:
        """The smallest of the four."""
        return min(self.top, self.right, self.bottom, self.left)

    @property
    def even(self) -> bool:
        """Whether the four are the same."""
        return self.top == self.right == self.bottom == self.left


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle in millimetres: x to the right and y down from the blank's top left corner, seen from the
    front.
    """

    x: Fraction
    y: Fraction
    width: Fraction
    height: Fraction

    @classmethod
    def of(cls, size: Size, x: Fraction = Fraction(0), y: Fraction = Fraction(0)) -> Self:
        """A box of that size with its top left corner at x, y."""
        return cls(x, y, size.width, size.height)

    @classmethod
    def around(cls, boxes: Iterable[Box]) -> Self:
        """Return the smallest box that holds all of `boxes`."""
        found = list(boxes)
        x, y = min(box.x for box in found), min(box.y for box in found)
        return cls(x, y, max(box.right for box in found) - x, max(box.bottom for box in found) - y)

    @property
    def size(self) -> Size:
        return Size(self.width, self.height)

    @property
    def right(self) -> Fraction:
        return self.x + self.width

    @property
    def bottom(self) -> Fraction:
        return self.y + self.height

    @property
    def centre(self) -> tuple[Fraction, Fraction]:
        return self.x + self.width / 2, self.y + self.height / 2

    def grown(self, by: Fraction) -> Box:
        """Larger by `by` on every side, smaller where it is negative."""
        return Box(self.x - by, self.y - by, self.width + 2 * by, self.height + 2 * by)

    def moved(self, dx: Fraction, dy: Fraction) -> Box:
        """The same, elsewhere."""
        return Box(self.x + dx, self.y + dy, self.width, self.height)

    def centred_in(self, other: Box) -> Box:
        """The same size about the other's centre, exactly."""
        x, y = other.centre
        return Box(x - self.width / 2, y - self.height / 2, self.width, self.height)

    def within(self, other: Box) -> bool:
        """Whether it lies inside the other, edges included."""
        return self.x >= other.x and self.y >= other.y and self.right <= other.right and self.bottom <= other.bottom

    def inset_in(self, other: Box) -> Sides:
        """How far each of its sides lies inside the other's; negative outside."""
        return Sides(
            top=self.y - other.y,
            right=other.right - self.right,
            bottom=other.bottom - self.bottom,
            left=self.x - other.x,
        )
