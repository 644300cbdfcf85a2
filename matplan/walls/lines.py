"""Frames lined up: along a centre line, flush, in a grid, in steps. Positions are exact and never snapped.

The four ways of lining pictures up are those of US Navy training manual 14065, p. 4-4 (published).
Every line-up is centred sideways in the wall's zone; all but the centre line have their group's box centred on the eye
line.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from itertools import accumulate

from matplan.job.records import Wall
from matplan.lengths import ZERO, Size
from matplan.walls.records import Spot, around


def middle(wall: Wall) -> Fraction:
    """Return the zone's middle, from the wall's left edge."""
    return (wall.zone.left + wall.zone.right) / 2


def centred(spots: Sequence[Spot], wall: Wall) -> tuple[Spot, ...]:
    """Return the same with their common box centred in the zone and on the eye line."""
    if not spots:
        return ()
    x, y = around(list(spots)).centre
    return tuple(spot.moved(middle(wall) - x, wall.eye - y) for spot in spots)


def _lefts(sizes: Sequence[Size], gap: Fraction) -> list[Fraction]:
    """Return the left edges of a row, the first at 0."""
    return list(accumulate((size.width + gap for size in sizes), initial=ZERO))[: len(sizes)]


def _row(sizes: Sequence[Size], bottoms: Sequence[Fraction], wall: Wall) -> tuple[Spot, ...]:
    lefts = _lefts(sizes, wall.gap)
    return tuple(
        Spot(left=x, bottom=y, width=s.width, height=s.height) for s, x, y in zip(sizes, lefts, bottoms, strict=True)
    )


def centre_line(sizes: Sequence[Size], wall: Wall) -> tuple[Spot, ...]:
    """Return every frame's centre at the eye line."""
    return centred(_row(sizes, [-size.height / 2 for size in sizes], wall), wall)


def flush_top(sizes: Sequence[Size], wall: Wall) -> tuple[Spot, ...]:
    """Return all tops on one line."""
    return centred(_row(sizes, [-size.height for size in sizes], wall), wall)


def flush_base(sizes: Sequence[Size], wall: Wall) -> tuple[Spot, ...]:
    """Return all bases on one line."""
    return centred(_row(sizes, [ZERO] * len(sizes), wall), wall)


def stepped(sizes: Sequence[Size], wall: Wall) -> tuple[Spot, ...]:
    """Return each base `rise` above that of the frame to its left."""
    rise = wall.rise or ZERO
    return centred(_row(sizes, [rise * number for number in range(len(sizes))], wall), wall)


def grid(sizes: Sequence[Size], wall: Wall) -> tuple[Spot, ...]:
    """Cells as large as the largest frame, row by row from the top left, each frame in the middle of its cell.

    The box of the cells is centred, so that a short last row begins at the left. It is never wider than there are
    frames.
    """
    if not sizes:
        return ()
    columns = min(wall.columns or math.isqrt(len(sizes) - 1) + 1, len(sizes))
    rows = -(-len(sizes) // columns)
    width, height = max(s.width for s in sizes), max(s.height for s in sizes)
    across, up = width + wall.gap, height + wall.gap
    left = middle(wall) - (columns * across - wall.gap) / 2
    bottom = wall.eye - (rows * up - wall.gap) / 2
    spots = []
    for number, size in enumerate(sizes):
        row, column = divmod(number, columns)
        x, y = left + column * across, bottom + (rows - 1 - row) * up
        spots.append(
            Spot(
                left=x + (width - size.width) / 2,
                bottom=y + (height - size.height) / 2,
                width=size.width,
                height=size.height,
            )
        )
    return tuple(spots)
