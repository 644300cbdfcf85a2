"""Frames stacked in a given order, each at the lowest place that it finds, from the left: the skyline of what hangs
below decides.

A stack stands in a strip of the wall as wide as it is told; where something must be kept clear, a frame goes above it
or to its right.
"""

from __future__ import annotations

from collections.abc import Sequence

from matplan.walls.room import Box, Pair, Room

type Line = list[tuple[int, int, int]]
"""The skyline from left to right: where a level stretch begins, how high it is, where it ends."""


def stacked(
    order: Sequence[int], sizes: Sequence[Pair], room: Room, left: int, bottom: int, width: int
) -> list[Box] | None:
    """Return the frames' boxes in the order of `sizes`, or `None` where one finds no place in the strip."""
    gap = room.gap
    line: Line = [(left, bottom, left + width + gap)]
    found: list[Box] = [(0, 0, 0, 0)] * len(sizes)
    taken = [
        box
        for box in (thing.taken for thing in room.obstacles)
        if box[0] < left + width and box[2] > left and box[3] > bottom
    ]
    plain = not taken and not room.edge
    for number in order:
        across, high = sizes[number]
        spot = _lowest(line, across + gap) if plain else _free(line, across, high, room, taken)
        if spot is None:
            return None
        x, y, first = spot
        found[number] = (x, y, x + across, y + high)
        _raise(line, first, x, x + across + gap, y + high + gap)
    return found


def _lowest(line: Line, across: int) -> tuple[int, int, int] | None:
    """Return the lowest place that is so wide, the leftmost of several: where it begins, its height, and the stretch
    that it begins in.
    """
    best: tuple[int, int, int] | None = None
    end = line[-1][2]
    for first, (x, y, _) in enumerate(line):
        stop = x + across
        if stop > end:
            break
        if best is not None and y >= best[1]:
            continue
        for start, level, _ in line[first + 1 :]:
            if start >= stop:
                break
            if level > y:
                y = level
        if best is None or y < best[1]:
            best = (x, y, first)
    return best


def _free(line: Line, across: int, high: int, room: Room, taken: Sequence[Box]) -> tuple[int, int, int] | None:
    """Return the same round what is taken: above it, or at its right."""
    gap, begin, end = room.gap, line[0][0], line[-1][2]
    best: tuple[int, int, int] | None = None
    starts = [(x, first) for first, (x, _, _) in enumerate(line)]
    for _, _, x, _ in taken:
        if begin < x < end:
            starts.append((x, next(n for n, (_, _, right) in enumerate(line) if x < right)))
    for x, first in starts:
        stop = x + across
        y = line[first][1]
        if stop + gap > end or (best is not None and y >= best[1]):
            continue
        for start, level, _ in line[first + 1 :]:
            if start >= stop + gap:
                break
            if level > y:
                y = level
        y = _above(x, stop, y, high, taken)
        if best is not None and (y, x) >= (best[1], best[0]):
            continue
        if not room.edge or y + high <= room.ceiling(x, stop):
            best = (x, y, first)
    return best


def _above(left: int, right: int, bottom: int, high: int, taken: Sequence[Box]) -> int:
    """Return the lowest height, from `bottom` up, at which a frame over that stretch meets nothing."""
    rising = True
    while rising:
        rising = False
        for a, b, c, d in taken:
            if left < c and right > a and bottom < d and bottom + high > b:
                bottom, rising = d, True
    return bottom


def _raise(line: Line, first: int, left: int, right: int, level: int) -> None:
    """The skyline with the stretch at a new level; `first` is the stretch in which it begins."""
    start, before, _ = line[first]
    last = first
    while line[last][2] < right:
        last += 1
    _, behind, stop = line[last]
    new = [(left, level, right)]
    if start < left:
        new.insert(0, (start, before, left))
    if stop > right:
        new.append((right, behind, stop))
    line[first : last + 1] = new
    number = max(first - 1, 0)
    while number + 1 < min(len(line), first + 4):
        if line[number][1] == line[number + 1][1]:
            line[number : number + 2] = [(line[number][0], line[number][1], line[number + 1][2])]
        else:
            number += 1
