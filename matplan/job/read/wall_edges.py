"""Where frames may hang on a wall: its zone and those of its groups, its top edge and its floor."""

from __future__ import annotations

from dataclasses import MISSING
from fractions import Fraction
from itertools import pairwise
from typing import Any

from matplan.job.file.table import Opened
from matplan.job.records import Wall, Zone
from matplan.lengths import ZERO, Size

_SIDES = ("left", "right", "bottom", "top")


def read_zone(table: Opened[Any], size: Size, outer: Zone | None = None) -> Zone | None:
    """Return the zone of a wall or of a group on it, `None` where it cannot be told.

    A side that it leaves out is that of the `outer` zone, else the wall's.
    """
    shown = table.reader.shown
    whole = outer or Zone(left=ZERO, right=size.width, bottom=ZERO, top=size.height)
    if not table.says("zone"):
        return None if table.faulty("zone") else whole
    try:
        asked = table.reader.open(Zone, table.table["zone"], (*table.place, "zone"))
    except ValueError as error:
        table.wrong("zone", text=str(error))
        return None
    zone = asked.make(
        **{side: getattr(whole, side) for side in _SIDES if not asked.says(side) or asked.value(side) is MISSING}
    )
    if table.faulty("zone"):
        return None
    for low, high, most, below, edge in (
        ("left", "right", size.width, "wide", "left edge"),
        ("bottom", "top", size.height, "high", "floor"),
    ):
        start, end = getattr(zone, low), getattr(zone, high)
        if end > most:
            text = f"got {shown(end)}, which is outside the wall, {shown(most)} {below}; {high} counts from the {edge}"
            asked.wrong(high, text=text, sized=True)
        elif start >= end:
            text = (
                f"{low} ({shown(start)}) is not below {high} ({shown(end)}), so nothing can hang between;"
                f" both count from the wall's {edge}"
            )
            asked.wrong(low if asked.says(low) else high, text=text)
    return zone


def read_edge(table: Opened[Wall], key: str, called: str, size: Size) -> tuple[tuple[Fraction, Fraction], ...]:
    """Return the points of the wall's top edge or of its floor."""
    shown = table.reader.shown
    points: tuple[tuple[Fraction, Fraction], ...] = table.value(key)
    if not table.says(key) or table.faulty(key):
        return ()
    text = ""
    example = "[[0, 2400], [3600, 1800]]" if key == "outline" else "[[0, 0], [3600, 600]]"
    if len(points) < 2:
        text = f"got {len(points)} points; a {called} has at least two, like {example}"
    elif any(after[0] < before[0] for before, after in pairwise(points)):
        text = f"the points of the {called} do not run from left to right; write them in order"
    elif points[0][0] != 0 or points[-1][0] != size.width:
        width = shown(size.width)
        text = f"the {called} does not run from 0 to the wall's width ({width}); write its first and last point there"
    elif any(height > size.height for _, height in points):
        text = f"the {called} lies above the wall, which is {shown(size.height)} high; write less"
    if text:
        table.wrong(key, text=text, sized=True)
    return points
