"""Lengths and sizes as people write them: `16 3/8 in`, `1' 4"`, `25 cm`."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction

from matplan.faults import LengthError, printable
from matplan.lengths.planes import Size
from matplan.lengths.units import LONGEST, SPELLINGS, Number, Units, exact, unit_factor

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
        return Fraction(found["plain"])
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
        if unit is not None and unit not in SPELLINGS:
            raise _refuse(text, f"{printable(unit, 20)} is no unit here; use mm, cm, m, in or ft")
        try:
            amount = _amount(found["amount"])
        except LengthError as error:
            raise _refuse(text, str(error)) from None
        parts.append((amount, None if unit is None else SPELLINGS[unit]))
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
        return _within(_sum_of(_units_of(value), units.factor, value), value)
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
            return Fraction(text)
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
