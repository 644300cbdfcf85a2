"""Frames lined up: along a centre line, flush, in a grid, in steps. Positions are exact and never snapped.

The four ways of lining pictures up are those of US Navy training manual 14065, p. 4-4 (published).
Every line-up is centred sideways in its group's zone, or above a thing; all but the centre line have the group's box
centred on the eye line, or at a height of its top or base.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from itertools import accumulate

from matplan.job.records import Group, Pin
from matplan.lengths import ZERO, Size
from matplan.walls.records import Spot, around

type Pins = Mapping[int, Pin]
"""Pins that name one coordinate, by the frame's place in its row."""
NOT_PINNED: Pins = {}


def centred(spots: Sequence[Spot], group: Group, floor: Fraction = ZERO) -> tuple[Spot, ...]:
    """Return the same with their common box centred on the group's middle, and on its eye line or at its top or base
    above the floor.
    """
    if not spots:
        return ()
    box = around(list(spots))
    x, y = box.centre
    if group.top is not None:
        up = group.top - box.top
    elif group.base is not None:
        up = group.base - box.bottom
    else:
        up = group.eye - y
    return tuple(spot.moved(group.middle - x, up + floor) for spot in spots)


def _lefts(sizes: Sequence[Size], gap: Fraction) -> list[Fraction]:
    """Return the left edges of a row, the first at 0."""
    return list(accumulate((size.width + gap for size in sizes), initial=ZERO))[: len(sizes)]


def _row(sizes: Sequence[Size], bottoms: Sequence[Fraction], group: Group) -> tuple[Spot, ...]:
    lefts = _lefts(sizes, group.gap)
    return tuple(
        Spot(left=x, bottom=y, width=s.width, height=s.height) for s, x, y in zip(sizes, lefts, bottoms, strict=True)
    )


def around_pins(spots: Sequence[Spot], pins: Pins) -> tuple[Spot, ...]:
    """Return a row that goes on round its pinned frames: those before the first and behind the last keep their gaps to
    it, those between two are centred between them.
    """
    fixed = [(number, pin.left - spots[number].left) for number, pin in sorted(pins.items()) if pin.left is not None]
    made = list(spots)
    for number in range(len(spots)):
        before = [shift for at, shift in fixed if at <= number]
        behind = [shift for at, shift in fixed if at >= number]
        if fixed:
            both = before[-1:] + behind[:1]
            made[number] = made[number].moved(sum(both, ZERO) / len(both), ZERO)
    for number, pin in pins.items():
        if pin.bottom is not None:
            made[number] = made[number].moved(ZERO, pin.bottom - made[number].bottom)
    return tuple(made)


def centre_line(
    sizes: Sequence[Size], group: Group, floor: Fraction = ZERO, pins: Pins = NOT_PINNED
) -> tuple[Spot, ...]:
    """Return every frame's centre at the eye line."""
    return around_pins(centred(_row(sizes, [-size.height / 2 for size in sizes], group), group, floor), pins)


def flush_top(sizes: Sequence[Size], group: Group, floor: Fraction = ZERO, pins: Pins = NOT_PINNED) -> tuple[Spot, ...]:
    """Return all tops on one line."""
    return around_pins(centred(_row(sizes, [-size.height for size in sizes], group), group, floor), pins)


def flush_base(
    sizes: Sequence[Size], group: Group, floor: Fraction = ZERO, pins: Pins = NOT_PINNED
) -> tuple[Spot, ...]:
    """Return all bases on one line."""
    return around_pins(centred(_row(sizes, [ZERO] * len(sizes), group), group, floor), pins)


def stepped(sizes: Sequence[Size], group: Group, floor: Fraction = ZERO, pins: Pins = NOT_PINNED) -> tuple[Spot, ...]:
    """Return each base `rise` above that of the frame to its left."""
    rise = group.rise or ZERO
    return around_pins(centred(_row(sizes, [rise * n for n in range(len(sizes))], group), group, floor), pins)


def along_floor(
    sizes: Sequence[Size], group: Group, floor: Callable[[Fraction], Fraction], pins: Pins
) -> tuple[Spot, ...]:
    """Return each frame's centre at the eye line above the floor below it, as on a stair."""
    spots = around_pins(centred(_row(sizes, [-size.height / 2 for size in sizes], group), group), pins)
    up = [
        ZERO if number in pins and pins[number].bottom is not None else floor(spot.centre[0])
        for number, spot in enumerate(spots)
    ]
    return tuple(spot.moved(ZERO, height) for spot, height in zip(spots, up, strict=True))


def grid(sizes: Sequence[Size], group: Group, floor: Fraction = ZERO) -> tuple[Spot, ...]:
    """Cells as large as the largest frame, row by row from the top left, each frame in the middle of its cell.

    The box of the cells is centred, so that a short last row begins at the left. It is never wider than there are
    frames.
    """
    if not sizes:
        return ()
    columns = min(group.columns or math.isqrt(len(sizes) - 1) + 1, len(sizes))
    rows = -(-len(sizes) // columns)
    width, height = max(s.width for s in sizes), max(s.height for s in sizes)
    across, up = width + group.gap, height + group.gap
    whole = Spot(left=ZERO, bottom=ZERO, width=columns * across - group.gap, height=rows * up - group.gap)
    (box,) = centred((whole,), group, floor)
    spots = []
    for number, size in enumerate(sizes):
        row, column = divmod(number, columns)
        x, y = box.left + column * across, box.bottom + (rows - 1 - row) * up
        spots.append(
            Spot(
                left=x + (width - size.width) / 2,
                bottom=y + (height - size.height) / 2,
                width=size.width,
                height=size.height,
            )
        )
    return tuple(spots)
