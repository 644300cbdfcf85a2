"""Plain values of a JSON document: lengths in mm as numbers, whole ones where they are whole."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction

from matplan.lengths import Box, Sides, Size, json_number
from matplan.mats.records import Finding

type Plain = bool | int | float | str | list[Plain] | dict[str, Plain] | None


def number(value: Fraction | None) -> int | float | None:
    """Return a length for JSON: a whole number if it is one."""
    return None if value is None else json_number(value)


def numbers(values: Iterable[Fraction]) -> list[Plain]:
    """Return several lengths, such as the two of a point."""
    return [number(value) for value in values]


def pair(values: Sequence[int] | None) -> Plain:
    """Return a width and a height in pixels."""
    return None if values is None else list(values)


def money(value: Decimal | None) -> int | float | None:
    """Return an amount for JSON."""
    return None if value is None else number(Fraction(value))


def size(value: Size | None) -> Plain:
    """Return `[width, height]`."""
    return None if value is None else numbers((value.width, value.height))


def box(value: Box | None) -> Plain:
    """Return `[x, y, width, height]`."""
    return None if value is None else numbers((value.x, value.y, value.width, value.height))


def sides(value: Sides | None) -> Plain:
    """Return the four sides by name."""
    if value is None:
        return None
    return {side: number(getattr(value, side)) for side in ("top", "right", "bottom", "left")}


def findings(found: Sequence[Finding]) -> Plain:
    """Return findings by level, code, place and text."""
    return [{"level": str(f.level), "code": f.code, "where": f.where, "text": f.text} for f in found]
