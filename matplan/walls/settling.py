"""A grouping drawn together: frames move towards the middle until they hang `gap` from a neighbour, and none is left
floating.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from matplan.walls.room import Box, Pair, Room, facing, grown, meet, moved, neighbours, round_all
from matplan.walls.wishes import broken

_SWEEPS = 8
_MOST_SHIFTS = 60


def settled(boxes: Sequence[Box], room: Room) -> list[Box]:
    """Return the same frames drawn towards the middle of their common box, upwards and sideways in turn. No frame
    leaves that box.
    """
    found = list(boxes)
    left, bottom, right, top = round_all(found)
    middle = ((left + right) // 2, (bottom + top) // 2)
    for _ in range(_SWEEPS):
        upwards, sideways = _draw(found, room, middle, 1), _draw(found, room, middle, 0)
        if not upwards and not sideways:
            break
    return found


def _draw(boxes: list[Box], room: Room, middle: Pair, axis: int) -> bool:
    """Moves every frame along one axis as far as it may go; return whether any moved. The nearest to the middle go
    first.
    """
    any_moved = False

    def away(number: int) -> tuple[int, int]:
        return (abs(boxes[number][axis] + boxes[number][axis + 2] - 2 * middle[axis]), number)

    for number in sorted(range(len(boxes)), key=away):
        box = boxes[number]
        wanted = middle[axis] - (box[axis] + box[axis + 2]) // 2
        step = _way(box, number, boxes, room, axis, wanted)
        if step:
            boxes[number] = _shifted(box, axis, step)
            any_moved = True
    return any_moved


def _way(box: Box, number: int, boxes: Sequence[Box], room: Room, axis: int, wanted: int) -> int:
    """Return how far of what is wanted the frame may go along the axis before it meets something; 0 where it ends up
    nowhere.
    """
    if not wanted:
        return 0
    low, high, across = axis, axis + 2, 1 - axis
    step = wanted
    bars = [grown(other, room.gap) for n, other in enumerate(boxes) if n != number]
    bars += [thing.taken for thing in room.obstacles]
    for bar in bars:
        if box[across] >= bar[across + 2] or box[across + 2] <= bar[across]:
            continue
        if wanted > 0 and bar[low] >= box[high]:
            step = min(step, bar[low] - box[high])
        elif wanted < 0 and bar[high] <= box[low]:
            step = max(step, bar[high] - box[low])
    while room.edge and step and not room.takes(_shifted(box, axis, step)):
        step = abs(step) // 4 * 2 * (1 if step > 0 else -1)
    return step


def _shifted(box: Box, axis: int, step: int) -> Box:
    across, up = (step, 0) if axis == 0 else (0, step)
    return (box[0] + across, box[1] + up, box[2] + across, box[3] + up)


# --- neighbours ------------------------------------------------------------------------------------------------------


def loose(boxes: Sequence[Box], room: Room) -> list[int]:
    """Return the frames that hang `gap` from no other, one of several and more."""
    hanging = neighbours(room)
    if len(boxes) + len(hanging) < 2 or len(boxes) == 1:
        return []
    return [
        n
        for n, box in enumerate(boxes)
        if not any(facing(box, other, room.gap) for m, other in enumerate((*boxes, *hanging)) if m != n)
    ]


def joined(boxes: Sequence[Box], room: Room) -> list[Box] | None:
    """Return the grouping with every loose frame at the nearest place where it has a neighbour, or `None` where one
    finds no place.
    """
    found = list(boxes)
    for number in loose(found, room):
        others = [box for n, box in enumerate(found) if n != number]
        place = min(
            _places(found[number], others, room),
            key=lambda box: ((box[0] - found[number][0]) ** 2 + (box[1] - found[number][1]) ** 2, box),
            default=None,
        )
        if place is None:
            return None
        found[number] = place
    return found if not loose(found, room) else None


def mended(boxes: Sequence[Box], room: Room) -> list[Box]:
    """Return the grouping with a frame moved, within its box, for each wish that this grants."""
    found, wrong = list(boxes), broken(boxes, room)
    free = [n for wish in room.wishes if wish.beside for n in (*wish.one, *wish.other) if n < len(found)]
    for number in free if wrong else ():
        others = [box for n, box in enumerate(found) if n != number]
        ways = [[*found[:number], place, *found[number + 1 :]] for place in _places(found[number], others, room)]
        for way in ways:
            if broken(way, room) < wrong and round_all(way) == round_all(found) and not loose(way, room):
                found, wrong = way, broken(way, room)
    return found


def _places(box: Box, others: Sequence[Box], room: Room) -> Iterator[Box]:
    """Yield every place inside the grouping's own box where the frame lies against its neighbours or
    flush with them.
    """
    width, height = box[2] - box[0], box[3] - box[1]
    left, bottom, right, top = round_all([*others, box])
    bars = [grown(other, room.gap) for other in others]
    hanging = [*others, *neighbours(room)]
    wide = [*bars, *(grown(other, room.gap) for other in neighbours(room))]
    xs = sorted(
        {x for b, o in zip(wide, hanging, strict=True) for x in (b[0] - width, b[2], o[0], o[2] - width, box[0])}
    )
    ys = sorted(
        {y for b, o in zip(wide, hanging, strict=True) for y in (b[1] - height, b[3], o[1], o[3] - height, box[1])}
    )
    for x in xs:
        if x < left or x + width > right:
            continue
        column = [bar for bar in bars if x < bar[2] and x + width > bar[0]]
        for y in ys:
            place = (x, y, x + width, y + height)
            if y < bottom or place[3] > top or any(meet(place, bar) for bar in column):
                continue
            if room.takes(place) and any(facing(place, other, room.gap) for other in hanging):
                yield place


def aside(boxes: Sequence[Box], room: Room) -> list[Box] | None:
    """Return the grouping, as a whole, where the room takes it with the least shift (sideways counts twice), or `None`
    where it takes it nowhere.

    It comes to lie against something: the shifts to try are those that bring a frame beside an obstacle, under the
    wall's edge or to the room's sides.
    """
    left, bottom, right, top = round_all(boxes)
    x0, y0, x1, y1 = room.box
    across, up = {0, x0 - left, x1 - right}, {0, y0 - bottom, y1 - top}
    for a, b, c, d in boxes:
        for e, f, g, h in (thing.taken for thing in room.obstacles):
            across |= {e - c, g - a}
            up |= {f - d, h - b}
        if room.edge:
            up.add(room.ceiling(a, c) - d)
    ways = sorted((2 * abs(x) + abs(y), x, y) for x in _shortest(across) for y in _shortest(up))
    for _, x, y in ways:
        found = moved(boxes, x, y)
        if all(map(room.takes, found)):
            return found
    return None


def _shortest(shifts: set[int]) -> list[int]:
    return sorted(shifts, key=lambda way: (abs(way), way))[:_MOST_SHIFTS]
