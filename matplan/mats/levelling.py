"""Justified rows of prints that exist: openings that never show more of a print than there is.

Each opening has bounds. The rows get one width and each row one height within all bounds; within a row the widths grow
or shrink together until they reach a bound.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from matplan.lengths import ZERO, Size, Step
from matplan.mats.block import Rows

NO_SIZE = Size(ZERO, ZERO)


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """One opening: its own size, the smallest and the largest that it may have, and whether its sides are equal.

    `most` is `None` where the image follows the opening, however large.
    """

    own: Size
    least: Size = NO_SIZE
    most: Size | None = None
    even: bool = False


class Unlevel(ValueError):
    """Rows that no width, or a row that no height suits."""


def levelled(openings: Sequence[Kept], rows: Rows, gutter: Fraction, step: Step, width: Fraction) -> list[Size]:
    """Return openings in whole steps whose rows are all as wide as `width`, or as the narrowest row can be.

    Raises `Unlevel`. A row of squares and circles alone ends up to a step for each short of that.
    """
    found: dict[int, Size] = {}
    spans = [_span([openings[place] for place in row]) for row in rows]
    boards = [(len(row) - 1) * gutter for row in rows]
    whole = min([width, *(high + board for (_, high), board in zip(spans, boards, strict=True) if high is not None)])
    for row, board, (low, _) in zip(rows, boards, spans, strict=True):
        if low > whole - board:
            raise Unlevel
        found |= dict(zip(row, _row([openings[place] for place in row], whole - board, step), strict=True))
    return [found[place] for place in range(len(openings))]


def _heights(row: Sequence[Kept]) -> tuple[Fraction, Fraction | None]:
    """Return the least and the greatest height that suits all openings of a row. Raises `Unlevel` where none does."""
    low = max(kept.least.height for kept in row)
    high = min((kept.most.height for kept in row if kept.most is not None), default=None)
    if high is not None and low > high:
        raise Unlevel
    return low, high


def _span(row: Sequence[Kept]) -> tuple[Fraction, Fraction | None]:
    """Return the least and the greatest width of a row's openings together; `None` where there is no greatest."""
    low, high = _heights(row)
    others = [kept for kept in row if not kept.even]
    evens = len(row) - len(others)
    least = sum((kept.least.width for kept in others), evens * low)
    if (evens and high is None) or any(kept.most is None for kept in others):
        return least, None
    return least, sum((kept.most.width for kept in others if kept.most), evens * (high or ZERO))


def _row(row: Sequence[Kept], width: Fraction, step: Step) -> list[Size]:
    """Return the openings of one row, together as wide as `width`."""
    low, high = _heights(row)
    others = [kept for kept in row if not kept.even]
    evens = len(row) - len(others)
    height = _height(row, width, step)
    if evens:  # what squares and circles must leave to the others, and must take from them
        height = min(height, step.down((width - sum((kept.least.width for kept in others), ZERO)) / evens))
        if all(kept.most for kept in others):
            most = sum((kept.most.width for kept in others if kept.most), ZERO)
            height = max(height, step.down((width - most) / evens))
    height = max(height, low) if high is None else min(max(height, low), high)
    widths = iter(_shared(others, height, width - evens * height, step))
    return [Size(height if kept.even else next(widths), height) for kept in row]


def _height(row: Sequence[Kept], width: Fraction, step: Step) -> Fraction:
    """Return the height at which the openings, scaled as they are, would be that wide together."""
    at_one = sum((kept.own.width / kept.own.height for kept in row), ZERO)
    return step.down(width / at_one)


def _shared(row: Sequence[Kept], height: Fraction, width: Fraction, step: Step) -> list[Fraction]:
    """Return the widths that make `width` together: each by its own aspect, all by one factor, within its bounds."""
    if not row or height <= 0:
        return [ZERO] * len(row)
    natural = [kept.own.width * height / kept.own.height for kept in row]
    bounds = [(kept.least.width, kept.most.width if kept.most else None) for kept in row]

    def at(factor: Fraction) -> list[Fraction]:
        pairs = zip(natural, bounds, strict=True)
        return [max(low, own * factor if high is None else min(own * factor, high)) for own, (low, high) in pairs]

    turns = sorted({ZERO, *(b / own for own, pair in zip(natural, bounds, strict=True) for b in pair if b is not None)})
    begin = max(turn for turn in turns if sum(at(turn)) <= width)
    there, missing = at(begin), width - sum(at(begin))
    free = [
        low <= own * begin and (high is None or own * begin < high)
        for own, (low, high) in zip(natural, bounds, strict=True)
    ]
    grows = sum((own for own, moves in zip(natural, free, strict=True) if moves), ZERO)
    exact = [
        length + (own * missing / grows if moves and grows else 0)
        for length, own, moves in zip(there, natural, free, strict=True)
    ]
    return _whole_steps(exact, width, step)


def _whole_steps(lengths: Sequence[Fraction], whole: Fraction, step: Step) -> list[Fraction]:
    """Return the lengths in whole steps, together as long as before: the largest remainders are rounded up."""
    found = [step.down(length) for length in lengths]
    left = int((whole - sum(found)) / step.size)
    for place in sorted(range(len(lengths)), key=lambda n: found[n] - lengths[n])[:left]:
        found[place] += step.size
    return found
