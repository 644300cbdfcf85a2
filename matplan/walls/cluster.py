"""A cluster: frames gathered round the zone's middle on the eye line, every one exactly `gap` from a neighbour and none
nearer.

Compactness is the area of the group's box. Groupings come from a search (`grouping`), are drawn together (`settling`)
and measured again. Every answer's box is at most as large as that of plain shelves of any width that hang in the zone:
the most compact ones are an answer themselves. The rest of the measure (`grouping.Measure`) is shape, balance about the
middle, equal sizes kept apart, and the wishes for pairs.

Whole numbers throughout: all lengths over a common part, times a power of two, so that halves stay whole.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from random import Random

from matplan.job.records import Group, Wall
from matplan.lengths import Printer
from matplan.walls.grouping import Measure, groupings
from matplan.walls.limits import kept_clear, mending
from matplan.walls.records import Problem, Spot, ToHang, Unhangable
from matplan.walls.room import (
    Box,
    Mirror,
    Obstacle,
    Pair,
    Room,
    Wish,
    area,
    in_middle,
    is_centred,
    moved,
    off_middle,
    round_all,
)
from matplan.walls.settling import aside, joined, loose, mended, settled
from matplan.walls.shelves import Shelves, boxes, every, laid
from matplan.walls.wishes import broken

_HALVINGS = 64
LONGEST = 2
"""The most slender shelves that the search begins with."""
SHELVES = 2
"""How many plain shelves are drawn together beside what the search finds."""

type Boxes = tuple[Box, ...]

type Search = Callable[[tuple[Pair, ...], Room, int], Sequence[Box] | None]
"""Arranges frames of given sizes in a room, as `arranged` does; the number is the variant."""


def cluster(
    frames: Sequence[ToHang],
    pinned: Sequence[Spot],
    called: Sequence[str],
    wall: Wall,
    group: Group,
    printer: Printer,
    search: Search,
) -> tuple[Spot, ...]:
    """Return where each frame hangs. Raises `Unhangable` if the zone has no room for them.

    `called`: the pieces of the pinned frames, "" for those of other groups.

    The same wall gives the same answer; `group.variant` chooses another one.
    """
    if not frames:
        return ()
    scale = _scale(frames, pinned, wall, group, printer)
    wishes = _wishes([*(frame.piece.name for frame in frames), *called], len(frames), group)
    room = replace(_room(pinned, wall, group, printer, scale), wishes=wishes)
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


def _wishes(names: Sequence[str], free: int, group: Group) -> tuple[Wish, ...]:
    """Return the group's wishes by the numbers of its frames, of which so many are free to hang anywhere."""
    made = []
    for beside, pairs in ((True, group.near), (False, group.apart)):
        for pair in pairs:
            one, other = (tuple(number for number, name in enumerate(names) if name == called) for called in pair)
            if one and other and min(*one, *other) < free:
                made.append(Wish(beside=beside, one=one, other=other))
    return tuple(made)


# --- arranging -------------------------------------------------------------------------------------------------------


def arranged(sizes: Sequence[Pair], room: Room, variant: int = 1) -> list[Box] | None:
    """Return the frames as a cluster, or `None` where the room does not hold them.

    A grouping that takes no notice of what is kept clear often misses it all the same. Where each hits it, one is
    sought that goes round it, still in the middle; where no such one is found either, the cluster moves aside by as
    little as may be.

    The variant counts the answers that differ, the best first; mirror images follow when every grouping has had its
    turn. Past the last answer it begins again.
    """
    answers = _answers(sizes, room)
    return list(answers[(variant - 1) % len(answers)]) if answers else None


def rounds(count: int) -> int:
    """Return how long the search goes on: enough for a few frames, and no longer than people wait for a hundred."""
    return min(7200, 600 * count)


def _answers(sizes: Sequence[Pair], room: Room) -> list[list[Box]]:
    """Return every answer that was found, the best first, no two the same up to equal frames that change places."""
    plain = plain_shelves(sizes, room)
    free = _gathered(sizes, replace(room, obstacles=(), edge=()), plain, rounds(len(sizes)))
    measure = Measure(sizes, room, _most(plain))
    found = _in_the_middle(free, room)
    if not room.plain and (not found or all(broken(boxes, room) for boxes in found)):
        found += _in_the_middle(_gathered(sizes, room, plain, rounds(len(sizes)) // 3), room)
    shelf, most = _hung_shelf(plain, sizes, room, measure)
    found += _in_the_middle(shelf, room)
    if not found:
        return _aside(free, room, measure)
    compact = found if most is None else [boxes for boxes in found if area(boxes) <= most]
    return _ranked(compact, room, measure)


def _gathered(sizes: Sequence[Pair], room: Room, plain: Sequence[Shelves], turns: int) -> list[list[Box]]:
    """Return groupings that no frame floats in, about the middle of the room."""
    if len(sizes) == 1:
        return [moved([(0, 0, *sizes[0])], room.middle[0] - sizes[0][0] // 2, room.middle[1] - sizes[0][1] // 2)]
    even = [made for made in plain if made.width <= LONGEST * made.height and made.height <= LONGEST * made.width]
    found = groupings(Measure(sizes, room, _most(plain)), dict.fromkeys((*even[:1], *plain[:1])), Random(1), turns)
    made = [list(grouping.boxes) for grouping in found]
    if room.plain:
        made += [in_middle(boxes(shelf, sizes, room.gap), room) for shelf in even[:SHELVES]]
    made += [settled(one, room) for one in made]
    held = [one for one in (joined(one, room) for one in made) if one is not None]
    return held + [mended(one, room) for one in held if broken(one, room)]


def _in_the_middle(found: Sequence[list[Box]], room: Room) -> list[list[Box]]:
    """Return the groupings that may hang in the middle of the room, and their mirror images that may."""
    if not found:
        return []
    middle = [in_middle(one, room) for one in found]
    turned = [[turn.box(box) for box in one] for turn in _turns(room) for one in middle]
    return [one for one in turned if is_centred(one, room) and all(map(room.takes, one))]


def _turns(room: Room) -> list[Mirror]:
    return [Mirror(middle=room.middle, across=across, up=up) for up in (False, True) for across in (False, True)]


def _ranked(found: Sequence[list[Box]], room: Room, measure: Measure) -> list[list[Box]]:
    """Return the groupings that differ, by their wishes, then their quality: first each grouping once, then its mirror
    images.
    """
    differing: dict[Boxes, tuple[int, float, Boxes]] = {}
    for one in found:
        rank = (broken(one, room), cost_of(one, room, measure), tuple(one))
        look = tuple(sorted(one))
        differing[look] = min(rank, differing.get(look, rank))
    times: Counter[Boxes] = Counter()
    order = []
    for look, rank in sorted(differing.items(), key=lambda item: item[1]):
        unturned = min(tuple(sorted(map(turn.box, look))) for turn in _turns(room))
        order.append((times[unturned], rank))
        times[unturned] += 1
    return [list(boxes) for _, (_, _, boxes) in sorted(order, key=lambda one: (one[0], one[1]))]


def _aside(found: Sequence[list[Box]], room: Room, measure: Measure) -> list[list[Box]]:
    """Return the groupings that may hang beside the middle, compact ones and the nearest first; a shift sideways counts
    twice.
    """
    placed = [each for one in found if (each := aside(in_middle(one, room), room)) is not None]

    def rank(one: list[Box]) -> tuple[bool, int, int, float, list[Box]]:
        across, up = off_middle(one, room)
        larger = measure.most is not None and area(one) > measure.most
        return larger, broken(one, room), 2 * abs(across) + abs(up), cost_of(one, room, measure), one

    differing = {tuple(sorted(one)): one for one in sorted(placed, key=rank, reverse=True)}
    return sorted(differing.values(), key=rank)


def cost_of(boxes: Sequence[Box], room: Room, measure: Measure) -> float:
    """Return the measure of a finished cluster: that of the search, and how much bare wall the frames leave in their
    box.
    """
    return measure.cost(boxes) + 0.2 * measure.gross * _spread(boxes, room)


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
    """Return the shelves that a cluster is measured by, of every width that stays within the room, the most compact
    first.
    """
    wide, high = room.most
    fitting = {made for made in every(sizes, room.gap, wide) if made.width <= wide and made.height <= high}
    return sorted(fitting, key=lambda made: (made.area, made.rows))


def _hung_shelf(
    plain: Sequence[Shelves], sizes: Sequence[Pair], room: Room, measure: Measure
) -> tuple[list[list[Box]], int | None]:
    """Return the most compact shelves that may hang in the middle of the room, as they are and drawn together, and
    their area; nothing where none may.
    """
    for shelf in plain:
        ways = [in_middle(way, room) for way in laid(shelf, sizes, room.gap)]
        hung = [way for way in ways if all(map(room.takes, way)) and not loose(way, room)]
        if hung:
            best = min(hung, key=lambda way: (broken(way, room), cost_of(way, room, measure), way))
            drawn = joined(settled(best, room), room)
            return [best, *([drawn] if drawn else [])], shelf.area
    return [], None


def _no_room(sizes: Sequence[Pair], room: Room, group: Group, printer: Printer, scale: int) -> Problem:
    """Return how much larger than the zone the frames are when they are gathered with nothing in their way."""
    reach = 4 * sum(max(size) + room.gap for size in sizes)
    x, y = room.middle
    free = Room(box=(x - reach, y - reach, x + reach, y + reach), middle=room.middle, gap=room.gap)
    made = _gathered(sizes, free, (), 600)
    measure = Measure(sizes, free)
    left, bottom, right, top = round_all(min(made, key=lambda one: (cost_of(one, free, measure), one)))
    wide, high = room.most

    def length(value: int) -> str:
        return mending(Fraction(value, scale), printer)

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
