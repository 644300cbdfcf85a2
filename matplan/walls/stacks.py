"""Stacks: frames one above the other that stand in one frame's place in a row, and rows within them, to any depth.

Frames and rows of a stack are centred on one another; frames of an inner row are centred in height.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from matplan.job.records import Tree
from matplan.lengths import ZERO, Size
from matplan.walls.records import Spot


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """What stands in one frame's place: its size, and where each frame lies in it, by its number."""

    size: Size
    spots: tuple[tuple[int, Spot], ...]

    def at(self, left: Fraction, bottom: Fraction) -> dict[int, Spot]:
        """Return where its frames hang when its lower left corner is there."""
        return {number: spot.moved(left, bottom) for number, spot in self.spots}


def block_of(entry: int | Tree, sizes: Mapping[int, Size], gap: Fraction, *, upright: bool = True) -> Block | None:
    """Return an entry of a row as a block: one frame, or a stack of what is in the list, upper first.

    `upright`: the list stands upright; one within it lies. `None` where none of its frames is in `sizes`.
    """
    if isinstance(entry, int):
        size = sizes.get(entry)
        return None if size is None else Block(size=size, spots=((entry, _spot(size)),))
    parts = [part for one in entry if (part := block_of(one, sizes, gap, upright=not upright)) is not None]
    if not parts:
        return None
    wide = max(part.size.width for part in parts) if upright else _along(parts, gap, upright=False)
    high = _along(parts, gap, upright=True) if upright else max(part.size.height for part in parts)
    spots: dict[int, Spot] = {}
    run = ZERO
    for part in parts:
        if upright:
            run += part.size.height
            spots |= part.at((wide - part.size.width) / 2, high - run)
            run += gap
        else:
            spots |= part.at(run, (high - part.size.height) / 2)
            run += part.size.width + gap
    return Block(size=Size(wide, high), spots=tuple(spots.items()))


def _along(parts: list[Block], gap: Fraction, *, upright: bool) -> Fraction:
    """Return how long the parts are together, one behind the other."""
    sides = [part.size.height if upright else part.size.width for part in parts]
    return sum(sides, ZERO) + gap * (len(parts) - 1)


def _spot(size: Size) -> Spot:
    return Spot(left=ZERO, bottom=ZERO, width=size.width, height=size.height)
