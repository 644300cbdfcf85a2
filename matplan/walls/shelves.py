"""Plain shelves: frames by falling height, each on the first shelf that has room within a width. What a cluster must
never be less compact than.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from matplan.walls.room import Box, Pair

type Rows = tuple[tuple[int, ...], ...]
"""The frames' numbers, shelf by shelf from the lowest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelves:
    """Frames on shelves `gap` apart, each row as high as its highest frame."""

    rows: Rows
    width: int
    height: int

    @property
    def area(self) -> int:
        return self.width * self.height


def shelves(sizes: Sequence[Pair], gap: int, width: int, order: Sequence[int] | None = None) -> Shelves:
    """Return the shelves of at most that width, or of the widest frame's where that is more: each frame stands on the
    first shelf that has room for it.
    """
    rows: list[list[int]] = []
    used: list[int] = []
    for number in falling(sizes) if order is None else order:
        across = sizes[number][0]
        room = width - gap - across
        for row, filled in enumerate(used):
            if filled <= room:
                rows[row].append(number)
                used[row] = filled + gap + across
                break
        else:
            rows.append([number])
            used.append(across)
    height = sum(sizes[row[0]][1] for row in rows) + gap * (len(rows) - 1)
    return Shelves(rows=tuple(map(tuple, rows)), width=max(used), height=height)


def falling(sizes: Sequence[Pair]) -> list[int]:
    """Return the frames' numbers by falling height, the wider of equal ones first."""
    return sorted(range(len(sizes)), key=lambda n: (-sizes[n][1], -sizes[n][0], n))


def every(sizes: Sequence[Pair], gap: int, most: int) -> Iterator[Shelves]:
    """Yield all shelves that differ, from the widest that stay within `most` to the narrowest: frames of equal height
    first by falling width, then as they are given.
    """
    narrowest = max(width for width, _ in sizes)
    given = sorted(range(len(sizes)), key=lambda n: -sizes[n][1])
    for order in {tuple(sizes[n] for n in order): order for order in (given, falling(sizes))}.values():
        width = max(most, narrowest)
        while width >= narrowest:
            made = shelves(sizes, gap, width, order)
            yield made
            width = made.width - 1


def boxes(
    made: Shelves, sizes: Sequence[Pair], gap: int, side: int = 1, level: int = 1, *, turned: bool = False
) -> list[Box]:
    """Return the frames on their shelves, in the order of `sizes`, the lowest at 0; `turned`: the lowest shelf on top.

    `side`: rows begin at the left (0), stand in the middle (1) or end at the right (2). `level`: frames stand on their
    shelf's lower line (0), hang from its upper one (2), or keep together (1): they hang below the middle and stand
    above it.
    """
    found: list[Box] = [(0, 0, 0, 0)] * len(sizes)
    bottom = 0
    for row in reversed(made.rows) if turned else made.rows:
        high = max(sizes[n][1] for n in row)
        left = (made.width - sum(sizes[n][0] for n in row) - gap * (len(row) - 1)) * side // 2
        hangs = level == 2 or (level == 1 and 2 * bottom + high < made.height)
        for n in row:
            width, height = sizes[n]
            low = bottom + high - height if hangs else bottom
            found[n] = (left, low, left + width, low + height)
            left += width + gap
        bottom += high + gap
    return found


def laid(made: Shelves, sizes: Sequence[Pair], gap: int) -> Iterator[list[Box]]:
    """Yield the shelves in every way that they may be set up."""
    for side, level, turned in product((1, 0, 2), (1, 0, 2), (False, True)):
        yield boxes(made, sizes, gap, side, level, turned=turned)
