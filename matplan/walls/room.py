"""The room that a cluster hangs in, in whole numbers (parts of a millimetre), so that every distance is exact and quick
to compare.

It knows nothing of pieces or job files. Boxes are left, bottom, right, top, from the wall's left edge and up from the
floor.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

type Box = tuple[int, int, int, int]
"""left, bottom, right, top."""
type Pair = tuple[int, int]
"""Width and height, or across and up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Obstacle:
    """What frames stay `margin` away from. `neighbour`: a frame that hangs already."""

    box: Box
    margin: int
    neighbour: bool = False

    @property
    def taken(self) -> Box:
        """With its margin."""
        left, bottom, right, top = self.box
        return (left - self.margin, bottom - self.margin, right + self.margin, top + self.margin)


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """Two pieces that should hang beside each other, or never. A piece is the numbers of its frames; those of frames
    that hang already go on after the others.
    """

    beside: bool
    one: tuple[int, ...]
    other: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Frames hang inside `box`, below `edge` (points left to right), round the obstacles and `gap` apart, about
    `middle`.
    """

    box: Box
    middle: Pair
    gap: int
    obstacles: tuple[Obstacle, ...] = ()
    edge: tuple[Pair, ...] = ()
    wishes: tuple[Wish, ...] = ()

    @property
    def most(self) -> Pair:
        """The largest width and height that stays inside the box when centred on the middle."""
        left, bottom, right, top = self.box
        x, y = self.middle
        return 2 * min(x - left, right - x), 2 * min(y - bottom, top - y)

    @property
    def plain(self) -> bool:
        """Whether there is nothing to go round."""
        return not self.obstacles and not self.edge

    def ceiling(self, left: int, right: int) -> int:
        """Return the highest whole number that the wall's top edge allows over that stretch."""
        lowest = self.box[3]
        for (x1, y1), (x2, y2) in zip(self.edge, self.edge[1:], strict=False):
            if x2 <= left or x1 >= right or x1 == x2:
                continue
            for x in (max(left, x1), min(right, x2)):
                lowest = min(lowest, y1 + (y2 - y1) * (x - x1) // (x2 - x1))
        return lowest

    def takes(self, box: Box) -> bool:
        """Return whether a frame may hang there, the other frames left aside."""
        left, bottom, right, top = box
        x0, y0, x1, y1 = self.box
        if left < x0 or bottom < y0 or right > x1 or top > y1:
            return False
        if self.edge and top > self.ceiling(left, right):
            return False
        return not any(meet(box, thing.taken) for thing in self.obstacles)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mirror:
    """Left and right, top and bottom changed about a middle; twice is nothing."""

    middle: Pair
    across: bool
    up: bool

    def box(self, box: Box) -> Box:
        left, bottom, right, top = box
        if self.across:
            left, right = 2 * self.middle[0] - right, 2 * self.middle[0] - left
        if self.up:
            bottom, top = 2 * self.middle[1] - top, 2 * self.middle[1] - bottom
        return (left, bottom, right, top)


def meet(one: Box, other: Box) -> bool:
    """Return whether two boxes share any area."""
    return one[0] < other[2] and one[2] > other[0] and one[1] < other[3] and one[3] > other[1]


def grown(box: Box, by: int) -> Box:
    """Return the box, larger by `by` on every side."""
    return (box[0] - by, box[1] - by, box[2] + by, box[3] + by)


def facing(one: Box, other: Box, gap: int) -> bool:
    """Return whether two frames hang beside or above each other exactly `gap` apart, with some of their
    edges facing.
    """
    across = max(one[0], other[0]) - min(one[2], other[2])
    up = max(one[1], other[1]) - min(one[3], other[3])
    return (across == gap and up < 0) or (up == gap and across < 0)


def round_all(boxes: Sequence[Box]) -> Box:
    """Return the least box round all of them."""
    return (min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes))


def area(boxes: Sequence[Box]) -> int:
    """Return the area of the least box round all of them."""
    left, bottom, right, top = round_all(boxes)
    return (right - left) * (top - bottom)


def neighbours(room: Room) -> list[Box]:
    """Return the frames that hang already."""
    return [thing.box for thing in room.obstacles if thing.neighbour]


def moved(boxes: Sequence[Box], across: int, up: int) -> list[Box]:
    """Return the boxes, all shifted by the same."""
    return [(a + across, b + up, c + across, d + up) for a, b, c, d in boxes]


def off_middle(boxes: Sequence[Box], room: Room) -> Pair:
    """Return how far their common box's middle lies from the room's, across and up, down to a whole number."""
    left, bottom, right, top = round_all(boxes)
    return (left + right) // 2 - room.middle[0], (bottom + top) // 2 - room.middle[1]


def in_middle(boxes: Sequence[Box], room: Room) -> list[Box]:
    """Return the boxes, shifted together into the middle of the room, down to a whole number."""
    across, up = off_middle(boxes, room)
    return moved(boxes, -across, -up)


def is_centred(boxes: Sequence[Box], room: Room) -> bool:
    """Return whether their common box lies exactly in the middle of the room."""
    left, bottom, right, top = round_all(boxes)
    return left + right == 2 * room.middle[0] and bottom + top == 2 * room.middle[1]
