"""What the people who hang a wall should know before they drill: the findings, in words.

Every threshold has its source beside it. Findings never move a frame.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations, product
from typing import Final

from matplan.job.records import Arrange, ByWire, Group, Wall
from matplan.lengths import INCH, Printer, plain_decimal
from matplan.mats.findings import LIFTING_LIMIT_KG
from matplan.mats.records import Finding, note, warning
from matplan.walls.cables import along_edges, holds, is_wired, zones
from matplan.walls.furniture import furniture_findings
from matplan.walls.limits import listed, names
from matplan.walls.outline import floor_below, highest, lowest
from matplan.walls.perspective import Shown, shown
from matplan.walls.records import HungFrame, SolvedWall, Spot, ToHang, around, place_of
from matplan.walls.wishes import granted
from matplan.weights import mass

FLAT_DEG: Final = 10
"""Degrees: below this each half of a wire pulls with nearly three times the frame's weight (own choice)."""
STEEP_ENOUGH: Final = Fraction(17633, 100_000)
"""Rise to run of a wire at that angle, rounded up (derived: tan 10° = 0.176327)."""
PROTRUDING: Final = 4 * INCH
"""Millimetres: how far a thing may stand out into a path (published: 2010 ADA Standards, 307.2)."""
PROTRUDING_FROM: Final = 27 * INCH
"""Millimetres: the height above the floor from which that counts (published: 2010 ADA Standards, 307.2)."""
PROTRUDING_TO: Final = 80 * INCH
"""Millimetres: the height above the floor up to which that counts (published: 2010 ADA Standards, 307.2)."""
LOWEST_CHARACTERS: Final = 40 * INCH
"""Millimetres: the least height above the floor of characters on signs that tell of rooms (published: 2010 ADA
Standards, 703.5.6); labels of works are not bound by it.
"""
MOST_LUX: Final = 50
"""Lux: the light on photographs and works on paper (published: National Gallery, London, policy on lighting)."""
MOST_LUX_HOURS: Final = 150_000
"""Lux hours: the light that they take up in a year (published: National Gallery, London, policy on lighting)."""


def findings(wall: SolvedWall, printer: Printer) -> Iterator[Finding]:
    """Yield all findings of a hung wall."""
    yield from _gaps(wall, printer)
    yield from _off_centre(wall, printer)
    yield from _wishes(wall)
    yield from furniture_findings(wall, printer)
    yield from _hanging(wall, printer)
    yield from _cables(wall)
    yield from _path(wall, printer)
    yield from _labels(wall, printer)
    yield from _photo(wall)
    yield from _advice(wall)


def _names(hung: Sequence[HungFrame]) -> str:
    return names([one.frame for one in hung])


def _gaps(wall: SolvedWall, printer: Printer) -> Iterator[Finding]:
    """Yield frames nearer than the gap: where people placed them themselves, and of two groups."""
    for one, other in combinations(wall.frames, 2):
        gap = min(one.group.gap, other.group.gap)
        apart = one.pinned or other.pinned or one.group != other.group
        if not apart or not one.spot.nearer_than(gap, other.spot):
            continue
        across, up = one.spot.beside(other.spot)
        text = (
            f"{one.frame.called} and {other.frame.called} are {_apart(across, up, printer)}, nearer than the "
            f"gap of {printer.length(gap)}"
        )
        yield warning("close-frames", one.name, text)


def _apart(across: Fraction, up: Fraction, printer: Printer) -> str:
    if across > 0 and up > 0:
        return f"{printer.length(across)} apart sideways and {printer.length(up)} upwards"
    return f"{printer.length(max(across, up))} apart"


def _off_centre(wall: SolvedWall, printer: Printer) -> Iterator[Finding]:
    """Yield a cluster that had to move aside."""
    for group in wall.ask.flows:
        arranged = [hung.spot for hung in wall.frames if not hung.pinned and hung.group == group]
        if group.arrange is Arrange.CLUSTER and arranged:
            yield from _beside_middle(around(arranged), group, wall.ask, printer)


def _beside_middle(box: Spot, group: Group, wall: Wall, printer: Printer) -> Iterator[Finding]:
    x, y = box.centre
    across, up = x - group.middle, y - group.eye - floor_below(wall.floor, group.middle)
    middle = "the zone's middle" if group.about is None else f'the middle of "{group.over}"'
    parts = [
        f"{printer.length(abs(off))} {ahead if off > 0 else behind}"
        for off, ahead, behind in (
            (across, f"right of {middle}", f"left of {middle}"),
            (up, "above", "below"),
        )
        if off
    ]
    if parts:
        line = " the eye line" if up else ""
        yield note(
            "off-centre", "", f"the cluster hangs {' and '.join(parts)}{line}, because of what is kept clear and pinned"
        )


def _wishes(wall: SolvedWall) -> Iterator[Finding]:
    """Yield the wishes of clusters that could not be granted."""
    for group in wall.ask.flows:
        own = [hung for hung in wall.frames if hung.group == group and group.arrange is Arrange.CLUSTER]
        wishes = [*((True, pair) for pair in group.near), *((False, pair) for pair in group.apart)]
        for beside, pair in wishes:
            one, other = ([hung for hung in own if hung.name == name] for name in pair)
            found = [
                granted(*first.spot.beside(second.spot), group.gap, beside=beside)
                for first, second in product(one, other)
            ]
            if found and not (any(found) if beside else all(found)):
                names = " and ".join(f'"{name}"' for name in pair)
                text = "do not hang beside each other, against the wish near" if beside else ""
                text = text or "hang beside each other, against the wish apart"
                text += ": no cluster was found that grants it and is as compact as plain shelves; pin them (at)"
                yield warning("wish-not-granted", pair[0], f"{names} {text}")


# --- frames and hooks ------------------------------------------------------------------------------------------------


def _alike(wall: SolvedWall) -> Iterator[HungFrame]:
    """Yield one frame of each piece: what concerns the frame and not its place is said once."""
    seen: set[int] = set()
    for hung in wall.frames:
        if hung.frame.index not in seen:
            seen.add(hung.frame.index)
            yield hung


def _hanging(wall: SolvedWall, printer: Printer) -> Iterator[Finding]:
    units = printer.units
    rating = wall.ask.hang.rating
    for hung in _alike(wall):
        name, weight = hung.frame.piece.name, hung.frame.mass
        if weight > LIFTING_LIMIT_KG:
            text = (
                f'"{name}" weighs {mass(weight, units, 1)}, more than one person should lift '
                f"({mass(Fraction(LIFTING_LIMIT_KG), units, 0)} in ideal conditions); hang it by two, from two points "
                "of the wall to two of the frame"
            )
            yield warning("heavy", name, text)
        load = max(hook.load for hook in hung.hooks)
        if rating is not None and load > rating:
            text = f'each hook of "{name}" carries {mass(load, units)} and is rated for {mass(rating, units)}'
            yield warning("rating-exceeded", name, text)
        wire = hung.wire
        if wire is not None and wire.angle_deg < FLAT_DEG and isinstance(wall.ask.hang, ByWire):
            times = Fraction(wire.tension_n / float(wire.weight)) if wire.weight else None
            pull = "" if times is None else f" and pulls with {plain_decimal(times, 1)} times the weight"
            text = (
                f'the wire of "{name}" rises by only {plain_decimal(Fraction(wire.angle_deg), 1)}°{pull}; '
                "anchor it further down the frame, or take a smaller drop"
            )
            most = wall.ask.hang.anchors * hung.spot.height - wire.run * STEEP_ENOUGH
            if (drop := printer.step.down(most)) > 0:
                text += f': drop = "{printer.length(drop)}" or less'
            yield warning("flat-wire", name, text)


def _cables(wall: SolvedWall) -> Iterator[Finding]:
    """Yield the hooks where cables may run: in the bands of each fitting, and along ceiling and corners."""
    wired = [thing for thing in wall.ask.keep_clear if is_wired(thing)]
    along = [hung for hung in wall.frames if any(along_edges(wall.ask, hook.left, hook.height) for hook in hung.hooks)]
    if wired and along:
        text = (
            f"hooks of {_names(along)} lie within 150 mm of the ceiling or a corner, where cables of fittings may run "
            "by some countries' rules; use a detector before drilling, and follow local rules"
        )
        yield warning("cable-zone", "", text)
    for thing in wall.ask.keep_clear:
        strips = zones(wall.ask, thing)
        struck = [
            hung for hung in wall.frames if any(holds(s, hook.left, hook.height) for s in strips for hook in hung.hooks)
        ]
        if struck:
            text = (
                f'hooks of {_names(struck)} lie straight above, below or beside "{thing.name}", '
                "where its cable may run; use a detector before drilling, and follow local rules"
            )
            yield warning("cable-zone", thing.name, text)


def standing_out(frame: ToHang) -> Fraction | None:
    """Return how far the frame stands out from the wall: the moulding's height, at least the rabbet's depth; `None`
    where neither is known.
    """
    ask = frame.piece.frame.ask
    return ask.height if ask.height is not None else ask.depth


def _in_the_way(spot: Spot, wall: Wall) -> bool:
    """Return whether a part of it hangs at a height at which people walk into it, above the floor below."""
    low, high = Fraction(0), Fraction(0)
    if wall.floor:
        low, high = lowest(wall.floor, spot.left, spot.right), highest(wall.floor, spot.left, spot.right)
    return spot.bottom - high < PROTRUDING_TO and spot.top - low > PROTRUDING_FROM


def _path(wall: SolvedWall, printer: Printer) -> Iterator[Finding]:
    if not wall.ask.path:
        return
    reach = [hung for hung in wall.frames if _in_the_way(hung.spot, wall.ask)]
    out = [hung for hung in reach if (standing_out(hung.frame) or 0) > PROTRUDING]
    if out:
        text = (
            f"{_names(out)} {'stands' if len(out) == 1 else 'stand'} more than {printer.length(PROTRUDING)} out "
            "into the path, "
            f"between {printer.length(PROTRUDING_FROM)} and {printer.length(PROTRUDING_TO)} above the floor "
            "(2010 ADA Standards 307.2); local codes decide"
        )
        yield warning("protrudes", "", text)
    unknown = [hung for hung in reach if standing_out(hung.frame) is None]
    if unknown:
        text = (
            f"frame depth not given: {_names(unknown)}; no more than {printer.length(PROTRUDING)} may stand out into "
            "the path (2010 ADA Standards 307.2); write the frame's height"
        )
        yield note("protrudes", "", text)


def _labels(wall: SolvedWall, printer: Printer) -> Iterator[Finding]:
    """Yield labels that are hard to see or read, and a wall that has none to hang."""
    if wall.ask.labels is None:
        return
    labelled = [(hung, hung.label) for hung in wall.frames if hung.label is not None]
    if not labelled:
        text = 'the wall has labels, but none of its pieces has words for one; write label = "…" for a piece'
        yield note("no-labels", "", text)
    for thing in wall.ask.furniture:
        behind = [hung for hung, label in labelled if label.overlaps(place_of(thing))]
        if behind:
            text = f'the labels of {_names(behind)} hang behind "{thing.name}"; hang them at another side or higher'
            yield warning("behind-furniture", behind[0].name, text)
    low = [hung for hung, label in labelled if wall.above_floor(label.centre[0], label.bottom) < LOWEST_CHARACTERS]
    if low and wall.ask.path:
        text = (
            f"the labels of {_names(low)} hang lower than {printer.length(LOWEST_CHARACTERS)} above the floor, the "
            "least for characters of signs that tell of rooms (2010 ADA Standards 703.5.6); they do not bind labels of "
            "works, but serve readers"
        )
        yield note("low-labels", "", text)


def _photo(wall: SolvedWall) -> Iterator[Finding]:
    """Yield the frames that the wall's photograph does not show, or not whole."""
    if wall.ask.photo is None:
        return
    for much, told in ((Shown.PART, "cuts off a part of {}"), (Shown.NOT, "does not show the place of {}")):
        frames = [hung for hung in wall.frames if shown(wall.ask.photo, hung.spot) is much]
        if frames:
            text = f"the photograph {told.format(_names(frames))}; take one of more of the wall, or correct the corners"
            yield note("off-photo", "photo", text)


def _advice(wall: SolvedWall) -> Iterator[Finding]:
    light = [hung for hung in wall.frames if hung.frame.piece.apertures]
    if light:
        text = (
            f"photographs and works on paper keep best at {MOST_LUX} lx and no more than "
            f"{MOST_LUX_HOURS // 1000} 000 lx·h a year (National Gallery, London); no direct sun"
        )
        yield note("light", "", text)
    unweighed = [hung for hung in _alike(wall) if hung.frame.piece.frame_mass is None]
    if unweighed:
        called = listed([f'"{hung.name}"' for hung in unweighed])
        text = f"the loads leave out the rails of {called}: the moulding's height or density is not known"
        yield note("loads-incomplete", "", text)
