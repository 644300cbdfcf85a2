"""Plain shelves: frames by falling height in rows that are filled up to a width. What a cluster must never be less
compact than.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

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


def shelves(sizes: Sequence[Pair], gap: int, width: int) -> Shelves:
    """Return the shelves of at most that width, or of the widest frame's where that is more."""
    rows: list[list[int]] = []
    used = 0
    for number in sorted(range(len(sizes)), key=lambda n: (-sizes[n][1], -sizes[n][0], n)):
        across = sizes[number][0]
        if rows and used + gap + across <= width:
            rows[-1].append(number)
            used += gap + across
        else:
            rows.append([number])
            used = across
    widest = max(sum(sizes[n][0] for n in row) + gap * (len(row) - 1) for row in rows)
    height = sum(max(sizes[n][1] for n in row) for row in rows) + gap * (len(rows) - 1)
    return Shelves(rows=tuple(map(tuple, rows)), width=widest, height=height)


def every(sizes: Sequence[Pair], gap: int, most: int) -> Iterator[Shelves]:
    """Yield all shelves that differ, from the widest that stay within `most` to the narrowest."""
    narrowest = max(width for width, _ in sizes)
    width = max(most, narrowest)
    while True:
        made = shelves(sizes, gap, width)
        yield made
        if made.width <= narrowest:
            return
        width = made.width - 1


def boxes(made: Shelves, sizes: Sequence[Pair], gap: int) -> list[Box]:
    """Return the frames on their shelves, in the order of `sizes`, each row in the middle, the lowest at 0.

    Shelves below the middle hang from their upper line and those above it stand on their lower one, so that frames keep
    together.
    """
    found: list[Box] = [(0, 0, 0, 0)] * len(sizes)
    bottom = 0
    for row in made.rows:
        high = max(sizes[n][1] for n in row)
        left = (made.width - sum(sizes[n][0] for n in row) - gap * (len(row) - 1)) // 2
        hangs = 2 * bottom + high < made.height
        for n in row:
            width, height = sizes[n]
            low = bottom + high - height if hangs else bottom
            found[n] = (left, low, left + width, low + height)
            left += width + gap
        bottom += high + gap
    return found
