"""Exact numbers as plain text and for JSON."""

from __future__ import annotations

from fractions import Fraction


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


def inch_fraction(inches: Fraction) -> str:
    sign = "-" if inches < 0 else ""
    whole, rest = divmod(abs(inches), 1)
    if not rest:
        return f"{sign}{whole}"
    fraction = f"{rest.numerator}/{rest.denominator}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"
