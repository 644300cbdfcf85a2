"""The order of work: which hook is marked first, and how far each lies from the wall's corner, from the floor and from
the one before.

Every distance is taken anew from the wall's left edge and from the floor, so that errors do not add up; the steps from
mark to mark are there to check by. It must not know how a list looks.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from matplan.walls.records import Hook, HungFrame, SolvedWall


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """One hook to mark. `number` is its frame's in the order of work, with a letter where the frame has
    several hooks.
    """

    number: str
    hung: HungFrame
    hook: Hook
    from_right: Fraction
    across: Fraction | None
    """From the mark before, to the right; None for the first."""
    up: Fraction | None
    """The same, upwards; negative where it lies lower."""


def in_order(wall: SolvedWall) -> tuple[HungFrame, ...]:
    """Return the frames from left to right by their first hook, of frames above one another the highest first."""
    return tuple(sorted(wall.frames, key=lambda hung: (hung.hooks[0].left, -hung.hooks[0].height)))


def marks(wall: SolvedWall) -> tuple[Mark, ...]:
    """Return every hook in the order of work."""
    found: list[Mark] = []
    before: Hook | None = None
    for number, hung in enumerate(in_order(wall), 1):
        for place, hook in enumerate(hung.hooks):
            letter = "abcdefgh"[place] if len(hung.hooks) > 1 else ""
            found.append(
                Mark(
                    number=f"{number}{letter}",
                    hung=hung,
                    hook=hook,
                    from_right=wall.ask.size.width - hook.left,
                    across=None if before is None else hook.left - before.left,
                    up=None if before is None else hook.height - before.height,
                )
            )
            before = hook
    return tuple(found)
