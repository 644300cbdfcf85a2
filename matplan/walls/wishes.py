"""Wishes for pairs of frames in a cluster: beside each other, or never."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from matplan.walls.room import Box, Pair, Room, Wish, neighbours, round_all

FAR = 2
"""Frames that face each other from no further than so many gaps are neighbours where they should not be: no frame hangs
between them.
"""


def granted[L: (int, Fraction)](across: L, up: L, gap: L, *, beside: bool) -> bool:
    """Return whether two frames so far from each other hang as wished: beside or above each other exactly `gap` apart,
    or no neighbours. Less than 0 is by how much they overlap that way.
    """
    if beside:
        return (across == gap and up < 0) or (up == gap and across < 0)
    return (across > FAR * gap or up >= 0) and (up > FAR * gap or across >= 0)


def broken(boxes: Sequence[Box], room: Room) -> int:
    """Return how many wishes the grouping does not grant."""
    return sum(not _granted(wish, pairs, room.gap) for wish, pairs in _asked(boxes, room))


def strain(boxes: Sequence[Box], room: Room) -> float:
    """Return the wishes that are not granted, each the more the further its frames are from what is wished: 1 to 2."""
    left, bottom, right, top = round_all(boxes)
    reach = right - left + top - bottom
    found = 0.0
    for wish, pairs in _asked(boxes, room):
        if not _granted(wish, pairs, room.gap):
            found += 1
            if wish.beside:
                found += min(1.0, min(sum(max(way, 0) for way in _between(*pair)) for pair in pairs) / reach)
    return found


def _asked(boxes: Sequence[Box], room: Room) -> Iterator[tuple[Wish, list[tuple[Box, Box]]]]:
    """Yield each wish with the pairs of frames that it is about, where both pieces hang in the room."""
    every = [*boxes, *neighbours(room)] if room.wishes else []
    for wish in room.wishes:
        pairs = [(every[n], every[m]) for n in wish.one for m in wish.other if max(n, m) < len(every)]
        if pairs:
            yield wish, pairs


def _granted(wish: Wish, pairs: Sequence[tuple[Box, Box]], gap: int) -> bool:
    """Return whether one pair of copies hangs together, or every pair apart."""
    found = (granted(*_between(one, other), gap, beside=wish.beside) for one, other in pairs)
    return any(found) if wish.beside else all(found)


def _between(one: Box, other: Box) -> Pair:
    """Return how far one frame is from the other, across and up; less than 0 where they overlap that way."""
    return max(one[0], other[0]) - min(one[2], other[2]), max(one[1], other[1]) - min(one[3], other[3])
