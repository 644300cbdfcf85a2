"""Rows of apertures: one block that is placed in the blank like one opening.

`gutter` is the board between two neighbouring clear openings, in whole steps. Each row is centred in the block, the odd
step right and below. Time grows with the number of windows.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from matplan.job.records import RowAlign
from matplan.lengths import ZERO, Box, Size, Step

type Rows = tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """The block's size and the box of each opening in it, in the apertures' order."""

    size: Size
    boxes: tuple[Box, ...]


def arranged(openings: Sequence[Size], rows: Rows, gutter: Fraction, align: RowAlign, step: Step) -> Block:
    """Return the openings in their rows."""
    width = max(row_width(openings, row, gutter) for row in rows)
    boxes: dict[int, Box] = {}
    y = ZERO
    for row in rows:
        x = step.down((width - row_width(openings, row, gutter)) / 2)
        high = max(openings[i].height for i in row)
        for i in row:
            spare = high - openings[i].height
            match align:
                case RowAlign.TOP:
                    below = ZERO
                case RowAlign.BOTTOM:
                    below = spare
                case RowAlign.CENTRE:
                    below = step.down(spare / 2)
            boxes[i] = Box.of(openings[i], x, y + below)
            x += openings[i].width + gutter
        y += high + gutter
    return Block(size=Size(width, y - gutter), boxes=tuple(boxes[i] for i in range(len(openings))))


def row_width(openings: Sequence[Size], row: Sequence[int], gutter: Fraction) -> Fraction:
    """Return the width of one row: its openings and the gutters between them."""
    return sum((openings[i].width for i in row), (len(row) - 1) * gutter)


@dataclass(frozen=True, slots=True, kw_only=True)
class Scaled:
    """One opening whose image is `factor` × `image`: factor × image + `fixed`, on each axis."""

    image: Size
    fixed: Size

    def at(self, factor: Fraction) -> Size:
        """Return the opening before it is snapped."""
        return Size(factor * self.image.width + self.fixed.width, factor * self.image.height + self.fixed.height)


def largest_factor(windows: Sequence[Scaled], rows: Rows, gutter: Fraction, room: Size) -> Fraction | None:
    """Return the largest factor whose block, before it is snapped, lies within `room`, or `None` if nothing scales.

    The factor may be zero or less. The block's width is the widest row, its height the sum of each row's highest
    opening: both grow with the factor in straight pieces that bend upwards, so that Newton's steps from above end on
    the exact answer after finitely many.
    """
    across: list[tuple[Fraction, Fraction]] = [
        (
            sum((windows[i].image.width for i in row), ZERO),
            sum((windows[i].fixed.width for i in row), (len(row) - 1) * gutter),
        )
        for row in rows
    ]
    limits = [(room.width - fixed) / grows for grows, fixed in across if grows]
    if not any(window.image.height for window in windows):
        return min(limits) if limits else None
    factor = min(limits) if limits else max(room.height / w.image.height for w in windows if w.image.height)
    while True:
        highest = [max(row, key=lambda i: (windows[i].at(factor).height, windows[i].image.height)) for row in rows]
        grows = sum((windows[i].image.height for i in highest), ZERO)
        fixed = sum((windows[i].fixed.height for i in highest), (len(rows) - 1) * gutter)
        if factor * grows + fixed <= room.height or not grows:
            return factor
        factor = (room.height - fixed) / grows


def justified(
    aspects: Sequence[Fraction], edges: Sequence[Fraction], rows: Rows, gutter: Fraction, step: Step, width: Fraction
) -> list[Size]:
    """Return openings that fill rows of one `width`: one height in each row, all in whole steps.

    An opening's image has `aspects[i]` (width ÷ height); the opening is it plus twice `edges[i]`. Widths are within a
    step of their own aspect: each ends where the exact row would, to the nearest step. Heights may come out as zero or
    less where the width is too small.
    """
    openings: dict[int, Size] = {}
    for row in rows:
        board = (len(row) - 1) * gutter
        height = step.down(row_height(aspects, edges, row, width - board))
        natural = [aspects[i] * (height - 2 * edges[i]) + 2 * edges[i] for i in row]
        total = sum(natural, ZERO)
        run, done = ZERO, ZERO
        for i, own in zip(row, natural, strict=True):
            run += own
            end = step.nearest(run * (width - board) / total) if total > 0 else ZERO
            openings[i] = Size(end - done, height)
            done = end
    return [openings[i] for i in range(len(aspects))]


def evened(openings: Sequence[Size], rows: Rows, even: Sequence[bool]) -> list[Size]:
    """Return the openings with equal sides where `even` says so; the row's last other opening takes the width left
    over.

    A row of squares and circles alone ends up to a step for each short of the width.
    """
    found = list(openings)
    for row in rows:
        spare = ZERO
        for i in row:
            if even[i]:
                spare += found[i].width - found[i].height
                found[i] = Size(found[i].height, found[i].height)
        others = [i for i in row if not even[i]]
        if others:
            found[others[-1]] = Size(found[others[-1]].width + spare, found[others[-1]].height)
    return found


def row_height(aspects: Sequence[Fraction], edges: Sequence[Fraction], row: Sequence[int], width: Fraction) -> Fraction:
    """Return the one height at which the row's openings together are `width` wide."""
    fixed = sum((2 * edges[i] * (1 - aspects[i]) for i in row), ZERO)
    return (width - fixed) / sum((aspects[i] for i in row), ZERO)


def justified_width(
    aspects: Sequence[Fraction], edges: Sequence[Fraction], rows: Rows, gutter: Fraction, room: Size
) -> Fraction:
    """Return the largest width of justified rows that lies within `room` on both axes, before it is snapped."""
    slope = sum((1 / sum((aspects[i] for i in row), ZERO) for row in rows), ZERO)
    at_zero = sum((row_height(aspects, edges, row, -(len(row) - 1) * gutter) for row in rows), (len(rows) - 1) * gutter)
    return min(room.width, (room.height - at_zero) / slope)
