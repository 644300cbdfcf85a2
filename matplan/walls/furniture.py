"""What furniture before a wall tells of the frames above it: findings, with the level that mends them."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from matplan.habits import habits_of
from matplan.job.records import Furniture
from matplan.lengths import Printer, plain_decimal
from matplan.mats.records import Finding, note, warning
from matplan.walls.records import SolvedWall, Spot, around, place_of

LEAST_ABOVE: Final = (6, 150)
"""Inches, millimetres: the least between a sofa and the lowest frame above it (common practice)."""
MOST_ABOVE: Final = (8, 200)
"""Inches, millimetres: the most between a sofa and the lowest frame above it (common practice)."""
OF_FURNITURE: Final = (Fraction(1, 2), Fraction(5, 6))
"""A group is about 2/3 as wide as the furniture below it (common practice); these bounds are wider (own choice)."""


def furniture_findings(wall: SolvedWall, printer: Printer) -> Iterator[Finding]:
    """Yield what hangs behind furniture or not as usual above it, and furniture that reaches past the wall."""
    for thing in wall.ask.furniture:
        yield from _beyond(wall, thing, printer)
        place = place_of(thing)
        behind = [hung for hung in wall.frames if hung.spot.overlaps(place)]
        cure = ""
        if behind:
            up = place.top - min(hung.spot.bottom for hung in behind) + habits_of(printer.units).figure(*LEAST_ABOVE)
            cure = _cure(wall, up, printer, "hangs it above")
        for hung in behind:
            hidden = printer.length(place.top - hung.spot.bottom)
            text = f'{hung.frame.called} hangs behind "{thing.name}": {hidden} of it are hidden{cure}'
            yield warning("behind-furniture", hung.name, text)
        if not behind:
            yield from _above(wall, thing, place, printer)


def _beyond(wall: SolvedWall, thing: Furniture, printer: Printer) -> Iterator[Finding]:
    """Yield where a piece of furniture reaches past the wall that it stands before."""
    for over, way, key, right in (
        (thing.left + thing.width - wall.ask.size.width, "right edge", "left", wall.ask.size.width - thing.width),
        (thing.height - wall.ask.size.height, "top", "height", wall.ask.size.height),
    ):
        if over > 0:
            cure = (
                f'; write {key} = "{printer.length(right)}" or less' if right >= 0 else "; measure it and the wall anew"
            )
            text = f'"{thing.name}" reaches {printer.length(over)} past the wall\'s {way}{cure}'
            yield warning("furniture-beyond", thing.name, text)


def _above(wall: SolvedWall, thing: Furniture, place: Spot, printer: Printer) -> Iterator[Finding]:
    """Yield what hangs over a piece of furniture, where most of the group does."""
    above = [
        hung for hung in wall.frames if place.left < hung.spot.centre[0] < place.right and hung.spot.bottom >= place.top
    ]
    if len(above) * 2 <= len(wall.frames):
        return
    group = around([hung.spot for hung in above])
    low, high = (habits_of(printer.units).figure(*pair) for pair in (LEAST_ABOVE, MOST_ABOVE))
    over = group.bottom - place.top
    if not low <= over <= high:
        text = (
            f'the lowest frame hangs {printer.length(over)} above "{thing.name}"; '
            f"{printer.length(low)} to {printer.length(high)} are usual above a seat (common practice)"
        )
        text += _cure(wall, (low + high) / 2 - over, printer, "hangs the group there")
        yield note("above-furniture", thing.name, text)
    part = group.width / place.width
    if not OF_FURNITURE[0] <= part <= OF_FURNITURE[1]:
        share = plain_decimal(part * 100, 0)
        text = f'the group is {share} % as wide as "{thing.name}"; about two thirds look balanced (common practice)'
        yield note("group-width", thing.name, text)


def _cure(wall: SolvedWall, up: Fraction, printer: Printer, does: str) -> str:
    """Return the key that hangs all frames higher by so much, "" where they do not all follow it and stay in their
    zones.
    """
    ask = wall.ask
    key, level = ask.level
    follow = all((group.top, group.base, group.eye) == (ask.top, ask.base, ask.eye) for group in ask.flows)
    clear = not ask.keep_clear and not any(hung.pinned for hung in wall.frames) and not ask.outline
    spots = [(hung.spot.moved(Fraction(0), up), hung.group.zone) for hung in wall.frames]
    room = all(zone.bottom <= spot.bottom and spot.top <= zone.top for spot, zone in spots)
    return f'; {key} = "{printer.length(level + up)}" {does}' if follow and clear and room else ""
