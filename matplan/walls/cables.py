"""Where cables are to be expected: straight up, down and sideways from every switch, socket and other fitting.

The prescribed zones of UK wiring practice (BS 7671, 522.6.202, from memory): as wide (or high) as the fitting, over the
whole wall, and within 150 mm of the ceiling and of corners. Other countries differ, older walls keep no rule, pipes may
be anywhere: every text that comes of this defers to a detector and to local rules.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Final

from matplan.job.records import KeepClear, Wall
from matplan.lengths import ZERO
from matplan.walls.outline import lowest
from matplan.walls.records import Spot

CORNER: Final = Fraction(150)
"""Millimetres: the zone along ceiling and corners (memory: BS 7671, 522.6.202, the prescribed zones of the UK)."""
_WIRED: Final = (
    "switch",
    "socket",
    "outlet",
    "fitting",
    "lamp",
    "light",
    "thermostat",
    "alarm",
    "intercom",
    "bell",
    "router",
    "fuse",
)
"""Words in a thing's kind, or where it has none in its name, that tell of a cable."""


def is_wired(thing: KeepClear) -> bool:
    """Whether a cable leads to it, by its kind or name.

    >>> from fractions import Fraction as F
    >>> is_wired(KeepClear(name="Light switch", left=F(0), bottom=F(0), width=F(80), height=F(80)))
    True
    >>> is_wired(KeepClear(name="switch board", kind="door", left=F(0), bottom=F(0), width=F(80), height=F(80)))
    False
    """
    told = (thing.kind or thing.name).casefold()
    return any(word in told for word in _WIRED)


def zones(wall: Wall, thing: KeepClear) -> tuple[Spot, ...]:
    """Return the upright and the level strip through a wired thing, over the whole wall; nothing for another thing."""
    if not is_wired(thing):
        return ()
    left, right = max(thing.left, ZERO), min(thing.left + thing.width, wall.size.width)
    bottom, top = max(thing.bottom, ZERO), min(thing.bottom + thing.height, wall.size.height)
    found = []
    if left < right:
        found.append(Spot(left=left, bottom=ZERO, width=right - left, height=wall.size.height))
    if bottom < top:
        found.append(Spot(left=ZERO, bottom=bottom, width=wall.size.width, height=top - bottom))
    return tuple(found)


def along_edges(wall: Wall, left: Fraction, height: Fraction) -> bool:
    """Return whether a hook there lies in the zone along the wall's ceiling or one of its corners."""
    top = lowest(wall.outline, left, left) if wall.outline else wall.size.height
    return min(left, wall.size.width - left, top - height) <= CORNER


def holds(zone: Spot, left: Fraction, height: Fraction) -> bool:
    """Return whether a hook there lies in the zone, its edge included."""
    return zone.left <= left <= zone.right and zone.bottom <= height <= zone.top
