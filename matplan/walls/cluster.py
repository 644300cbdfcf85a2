"""A cluster: frames gathered round the zone's middle on the eye line, every one exactly `gap` from a neighbour and none
nearer.

Compactness is the area of the group's box. Groupings come from a search (`grouping`), are drawn together (`settling`)
and measured again; none is taken that is larger than plain shelves: the shelves as wide as the zone, and those of every
width that give a box no longer than twice its other side. The rest of the measure (`grouping.Measure`) is shape,
balance about the middle, and equal sizes kept apart.

Whole numbers throughout: all lengths over a common part, times a power of two, so that halves stay whole.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from random import Random

from matplan.habits import habits_of
from matplan.job.records import Group, Wall
from matplan.lengths import Printer
from matplan.walls.grouping import Measure, groupings
from matplan.walls.limits import kept_clear
from matplan.walls.records import Problem, Spot, ToHang, Unhangable
from matplan.walls.room import Box, Mirror, Obstacle, Pair, Room, moved, off_middle, round_all
from matplan.walls.settling import aside, centred, joined, settled
from matplan.walls.shelves import Shelves, boxes, every

_HALVINGS = 64
FEW = 3
"""So many frames are no rows yet: they are compared with one shelf."""
LONGEST = 2
"""The most slender shelves that a cluster is compared with, but for those as wide as the zone."""


type Search = Callable[[tuple[Pair, ...], Room, int], Sequence[Box] | None]
"""Arranges frames of given sizes in a room, as `arranged` does; the number is the variant."""


def cluster(
    frames: Sequence[ToHang], pinned: Sequence[Spot], wall: Wall, group: Group, printer: Printer, search: Search
) -> tuple[Spot, ...]:
    """Return where each frame hangs. Raises `Unhangable` if the zone has no room for them.

    The same wall gives the same answer; `group.variant` chooses another one.
    """
    if not frames:
        return ()
    scale = _scale(frames, pinned, wall, group, printer)
    room = _room(pinned, wall, group, printer, scale)
    sizes = tuple((_whole(frame.size.width, scale), _whole(frame.size.height, scale)) for frame in frames)
    found = search(sizes, room, group.variant)
    if found is None:
        raise Unhangable((_no_room(sizes, room, group, printer, scale),))
    return tuple(
        Spot(
            left=Fraction(a, scale),
            bottom=Fraction(b, scale),
            width=Fraction(c - a, scale),
            height=Fraction(d - b, scale),
        )
        for a, b, c, d in found
    )


# --- whole numbers ---------------------------------------------------------------------------------------------------


def _scale(frames: Sequence[ToHang], pinned: Sequence[Spot], wall: Wall, group: Group, printer: Printer) -> int:
    """Return how many parts a millimetre has, so that every length is whole and stays so when halved."""
    zone = group.zone
    lengths = [group.gap, group.eye, group.middle, zone.left, zone.right, zone.bottom, zone.top, printer.step.size]
    lengths += [length for frame in frames for length in (frame.size.width, frame.size.height)]
    lengths += [length for spot in pinned for length in (spot.left, spot.bottom, spot.right, spot.top)]
    lengths += [length for t in wall.keep_clear for length in (t.left, t.bottom, t.width, t.height, t.margin)]
    lengths += [length for point in wall.outline for length in point]
    return math.lcm(*(length.denominator for length in lengths)) * _HALVINGS


def _whole(length: Fraction, scale: int) -> int:
    return int(length * scale)


def _room(pinned: Sequence[Spot], wall: Wall, group: Group, printer: Printer, scale: int) -> Room:
    zone = group.zone

    def box(spot: Spot) -> Box:
        return (
            _whole(spot.left, scale),
            _whole(spot.bottom, scale),
            _whole(spot.right, scale),
            _whole(spot.top, scale),
        )

    gap = _whole(group.gap, scale)
    things = [Obstacle(box=box(spot), margin=gap, neighbour=True) for spot in pinned]
    for thing in wall.keep_clear:
        bare = 0 if thing.margin else _whole(printer.step.size, scale)  # it may not even be touched
        things.append(Obstacle(box=box(kept_clear(thing)), margin=bare))
    left, right, bottom, top = (_whole(side, scale) for side in (zone.left, zone.right, zone.bottom, zone.top))
    return Room(
        box=(left, bottom, right, top),
        middle=(_whole(group.middle, scale), _whole(group.eye, scale)),
        gap=gap,
        obstacles=tuple(things),
        edge=tuple((_whole(x, scale), _whole(y, scale)) for x, y in wall.outline),
    )


# --- arranging -------------------------------------------------------------------------------------------------------


def arranged(sizes: Sequence[Pair], room: Room, variant: int = 1) -> list[Box] | None:
    """Return the frames as a cluster, or `None` where the room does not hold them.

    A grouping that takes no notice of what is kept clear often misses it all the same. Where each does, one is sought
    that goes round it, still in the middle; where none does that either, the cluster moves aside by as little as may
    be.

    Four variants each are the same search begun otherwise, mirrored across, up or both; the next four take the next
    best grouping.
    """
    rank, turned = divmod(variant - 1, 4)
    turn = Mirror(middle=room.middle, across=bool(turned & 1), up=bool(turned & 2))
    seen = room.mirrored(turn.across, turn.up)
    bare = replace(seen, obstacles=(), edge=())
    free = _candidates(sizes, bare, Random(variant), rounds(len(sizes)))
    found = _best(free, sizes, seen, rank)
    if found is None and not seen.plain:
        around = _candidates(sizes, seen, Random(variant), rounds(len(sizes)) // 3)
        found = _best(around, sizes, seen, rank) or _nearest(free, sizes, seen)
    return None if found is None else [turn.box(box) for box in found]


def rounds(count: int) -> int:
    """Return how long the search goes on: enough for a few frames, and no longer than people wait for a hundred."""
    return min(7200, 600 * count)


def _candidates(sizes: Sequence[Pair], room: Room, chance: Random, turns: int) -> list[list[Box]]:
    """Groupings that no frame floats in, about the middle of the room."""
    if len(sizes) == 1:
        return [moved([(0, 0, *sizes[0])], room.middle[0] - sizes[0][0] // 2, room.middle[1] - sizes[0][1] // 2)]
    plain = plain_shelves(sizes, room)
    found = groupings(Measure(sizes, room, _most(plain)), plain[:1], chance, turns)
    made = [list(grouping.boxes) for grouping in found]
    made += [settled(boxes, room) for boxes in made]
    made += [hung for shelf in plain for hung in _hung_shelves(shelf, sizes, room)]
    return [boxes for boxes in (joined(boxes, room) for boxes in made) if boxes is not None]


def _best(candidates: Sequence[list[Box]], sizes: Sequence[Pair], room: Room, rank: int = 0) -> list[Box] | None:
    """Return the best of the groupings that may hang in the middle of the room, or the next best one that differs."""
    cost = _Cost(sizes, room)
    placed = {
        tuple(boxes): cost(boxes) for boxes in (centred(boxes, room) for boxes in candidates) if boxes is not None
    }
    ranked = sorted(placed, key=lambda boxes: (cost.larger(boxes), placed[boxes], boxes))
    compact = [boxes for boxes in ranked if not cost.larger(boxes)] or ranked
    return list(compact[rank % len(compact)]) if compact else None


def _nearest(candidates: Sequence[list[Box]], sizes: Sequence[Pair], room: Room) -> list[Box] | None:
    """Return the grouping that may hang nearest to the middle; a shift sideways counts twice."""
    cost = _Cost(sizes, room)
    found: list[tuple[float, float, list[Box]]] = []
    for grouping in candidates:
        across, up = off_middle(grouping, room)
        placed = aside(moved(grouping, -across, -up), room)
        if placed is not None:
            across, up = off_middle(placed, room)
            found.append((2 * abs(across) + abs(up), cost(placed), placed))
    return min(found, default=(0.0, 0.0, None))[2]


class _Cost:
    """The measure of a finished cluster: that of the search, and how much bare wall the frames leave in their box."""

    def __init__(self, sizes: Sequence[Pair], room: Room) -> None:
        self._room, self._most = room, _most(plain_shelves(sizes, room))
        self._measure = Measure(sizes, room, self._most)

    def larger(self, boxes: Sequence[Box]) -> bool:
        """Return whether they take more wall than plain shelves would."""
        left, bottom, right, top = round_all(boxes)
        return self._most is not None and (right - left) * (top - bottom) > self._most

    def __call__(self, boxes: Sequence[Box]) -> float:
        return self._measure.cost(boxes) + 0.2 * self._measure.gross * _spread(boxes, self._room)


def _most(plain: Sequence[Shelves]) -> int | None:
    """Return the area that a cluster must not exceed."""
    return plain[0].area if plain else None


def _spread(boxes: Sequence[Box], room: Room) -> float:
    """Return how far the frames' free edges stray: the wall inside the box's outer gap that is not frame, as a part of
    the box. From 0 to 1.
    """
    left, bottom, right, top = round_all(boxes)
    total = sum((c - a + room.gap) * (d - b + room.gap) for a, b, c, d in boxes)
    return 1 - total / ((right - left + room.gap) * (top - bottom + room.gap))


def plain_shelves(sizes: Sequence[Pair], room: Room) -> list[Shelves]:
    """Return the shelves that a cluster is measured by, the most compact first, within the room: no single row, but for
    a few frames.
    """
    wide, high = room.most
    least, most = (1, 1) if len(sizes) <= FEW else (2, len(sizes) - 1)
    fitting = [
        made
        for made in every(sizes, room.gap, wide)
        if least <= len(made.rows) <= most and made.width <= wide and made.height <= high
    ]
    even = [made for made in fitting if made.width <= LONGEST * made.height and made.height <= LONGEST * made.width]
    return sorted({*even, *fitting[:1]}, key=lambda made: (made.area, made.rows))


def _hung_shelves(shelf: Shelves, sizes: Sequence[Pair], room: Room) -> list[list[Box]]:
    """Return the shelves as they are and drawn together, in the middle of the room."""
    bare = boxes(shelf, sizes, room.gap)
    across, up = off_middle(bare, room)
    placed = moved(bare, -across, -up)
    free = replace(room, obstacles=(), edge=())
    return [placed, settled(placed, free)]


def _no_room(sizes: Sequence[Pair], room: Room, group: Group, printer: Printer, scale: int) -> Problem:
    """Return how much larger than the zone the frames are when they are gathered with nothing in their way."""
    reach = 4 * sum(max(size) + room.gap for size in sizes)
    x, y = room.middle
    free = Room(box=(x - reach, y - reach, x + reach, y + reach), middle=room.middle, gap=room.gap)
    left, bottom, right, top = round_all(
        _best(_candidates(sizes, free, Random(1), 600), sizes, free) or [(0, 0, *sizes[0])]
    )
    wide, high = room.most
    step = printer.step

    def length(value: int) -> str:
        exact = Fraction(value, scale)
        return printer.length(step.up(exact) if habits_of(printer.units).whole_steps else exact)

    over = [
        f"{length(need - have)} too {word}"
        for need, have, word in ((right - left, wide, "narrow"), (top - bottom, high, "low"))
        if need > have
    ]
    whom = "frame" if len(sizes) == 1 else f"{len(sizes)} frames"
    needs = f"closely packed they take {length(right - left)} × {length(top - bottom)}"
    free_room = f"{length(max(wide, 0))} × {length(max(high, 0))}"
    room_is = f"round the eye line at {printer.length(group.eye)} the zone has {free_room}"
    if over:
        text = f"the cluster finds no room for its {whom}: {needs}, and {room_is}: {' and '.join(over)}"
    else:
        text = f"the cluster finds no room for its {whom} round what is kept clear and pinned: {needs}, and {room_is}"
    return Problem(where=group.place, text=f"{text}; take a larger zone, a smaller gap or fewer frames")
