"""Where the frames of a wall lie as a group: its dimensions above and at the right of a wall view."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from matplan.documents.wall.stretches import Stretch
from matplan.drawing.dimensions import Dimension, Side
from matplan.lengths import ZERO, Printer


def dimensions(part: Stretch, printer: Printer) -> list[Dimension]:
    """Return the group's place: above, where it begins and ends; at the right, its base and top, and the eye line.

    Nothing is measured to where a wall is divided.
    """
    wall, right = part.wall, part.right
    width, height = wall.ask.size.width, wall.ask.size.height
    across, up = _stops(), _stops()
    if wall.frames:
        group = wall.group
        ends = (*((ZERO,) if part.begins else ()), group.left, group.right, *((width,) if part.ends else ()))
        across, up = _stops(*ends), _stops(ZERO, group.bottom, group.top, height)
    found = [
        Dimension(start=(a, height), end=(b, height), side=Side.ABOVE, label=printer.number(b - a), id=f"across-{n}")
        for n, (a, b) in enumerate(across, 1)
    ]
    found += [
        Dimension(start=(right, a), end=(right, b), side=Side.RIGHT, label=printer.number(b - a), id=f"up-{n}")
        for n, (a, b) in enumerate(up, 1)
    ]
    for number, level in enumerate(wall.levels, 1):
        name = "eye-height" if number == 1 else f"eye-height-{number}"
        found.append(
            Dimension(start=(right, ZERO), end=(right, level), side=Side.RIGHT, label=printer.number(level), id=name)
        )
    return found


def _stops(*points: Fraction) -> list[tuple[Fraction, Fraction]]:
    return [(a, b) for a, b in pairwise(points) if a < b]
