"""The search for a compact grouping: many orders of stacking, better ones kept, worse ones allowed a little less each
time.

A threshold search: an order of the frames and a width are changed at random and the change is kept where the grouping
gets no worse than by a threshold, which falls to 0. It uses no exponentials, so that every machine takes the same
decisions; the chance comes from a seed.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from random import Random

from matplan.walls.room import Box, Pair, Room, area, is_centred, moved, off_middle, round_all
from matplan.walls.shelves import Shelves, falling
from matplan.walls.skyline import stacked
from matplan.walls.wishes import strain

ASPECTS = (1.0, 1.35, 1.75)
"""Width : height of the groupings that the search begins with."""
SLENDER = (0.95, 1.9)
"""Width : height between which a grouping's shape costs nothing; the further beyond, the more."""
ALIKE = 0.012
"""What each pair of equal frames side by side costs, as a part of the area."""
LOPSIDED = 0.25
"""What a centre of gravity off the middle costs, by the part of the width and height that it is off."""
WISHED = 0.15
"""What a wish that is not granted costs, as a part of the area."""
DENSE = 0.92
"""How much of a good grouping's area is frames and gaps, for the first width."""
KEPT = 6
"""How many of the best groupings come out of a search, and of the best among those no larger than `most`."""
_RECENTRINGS = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Grouping:
    """A grouping and what it costs; the cost is an area."""

    boxes: tuple[Box, ...]
    cost: float


def alike(sizes: Sequence[Pair]) -> tuple[tuple[int, ...], ...]:
    """Return the numbers of frames of equal sizes, group by group, or nothing where all are equal and nothing can be
    avoided.
    """
    groups: defaultdict[Pair, list[int]] = defaultdict(list)
    for number, size in enumerate(sizes):
        groups[size].append(number)
    return tuple(tuple(group) for group in groups.values() if 1 < len(group) < len(sizes))


def side_by_side(boxes: Sequence[Box], groups: Sequence[Sequence[int]], reach: int) -> int:
    """Return how many pairs of equal frames face each other from no further than `reach`."""
    count = 0
    for group in groups:
        for place, n in enumerate(group):
            a, b, c, d = boxes[n]
            for m in group[place + 1 :]:
                e, f, g, h = boxes[m]
                across, up = max(a, e) - min(c, g), max(b, f) - min(d, h)
                if (across <= reach and up < 0) or (up <= reach and across < 0):
                    count += 1
    return count


class Measure:
    """What makes a grouping good: a box no larger than `most`, of no slender shape, its weight in the middle,
    unlike neighbours, and wishes that are granted.
    """

    def __init__(self, sizes: Sequence[Pair], room: Room, most: int | None = None) -> None:
        self.sizes, self.room, self.most = sizes, room, most
        self.groups = alike(sizes)
        self.gross = float(sum((w + room.gap) * (h + room.gap) for w, h in sizes))
        self._areas = [w * h for w, h in sizes]
        self._total = sum(self._areas)

    def cost(self, boxes: Sequence[Box]) -> float:
        """Return an area: the box's, made larger by what is wrong with it."""
        left, bottom, right, top = round_all(boxes)
        width, height = right - left, top - bottom
        slender = max(width / height / SLENDER[1], SLENDER[0] * height / width) - 1
        wrong = 0.15 * slender if slender > 0 else 0.0
        x = sum(area * (box[0] + box[2]) for area, box in zip(self._areas, boxes, strict=True)) / (2 * self._total)
        y = sum(area * (box[1] + box[3]) for area, box in zip(self._areas, boxes, strict=True)) / (2 * self._total)
        wrong += LOPSIDED * (abs(x - (left + right) / 2) / width + abs(y - (bottom + top) / 2) / height)
        if self.groups:
            wrong += ALIKE * side_by_side(boxes, self.groups, self.room.gap)
        if self.room.wishes:
            wrong += WISHED * strain(boxes, self.room)
        most_wide, most_high = self.room.most
        over = max(width / most_wide, height / most_high) - 1 if most_wide > 0 and most_high > 0 else 9.0
        area = width * height
        loose = max(area - self.most, 0) if self.most else 0
        return area * (1 + wrong + (10 * over + 1 if over > 0 else 0.0)) + 2 * loose


def groupings(measure: Measure, seeds: Iterable[Shelves], chance: Random, rounds: int) -> list[Grouping]:
    """Return the best groupings that so many rounds find, the best first; they may still be larger than the room."""
    search = _Search(measure, chance)
    starts = _starts(measure, seeds)
    for order, width, tall in starts:
        search.run(order, width, tall, rounds // len(starts))
    return search.best()


def _starts(measure: Measure, seeds: Iterable[Shelves]) -> list[tuple[list[int], int, float]]:
    """Orders with widths and aspects to begin from: by falling height at round shapes, and the most compact shelves."""
    sizes, most = measure.sizes, measure.room.most
    widest = max(width for width, _ in sizes)
    starts = []
    for aspect in ASPECTS:
        width = math.sqrt(measure.gross * aspect / DENSE)
        if width / aspect > most[1] > 0:
            width = measure.gross / DENSE / most[1]
        starts.append((falling(sizes), max(min(int(width) - measure.room.gap, most[0]), widest), aspect))
    starts.extend(
        ([n for row in made.rows for n in row], max(made.width, widest), made.width / made.height) for made in seeds
    )
    return starts


class _Search:
    def __init__(self, measure: Measure, chance: Random) -> None:
        self.measure, self.chance = measure, chance
        self._found: dict[tuple[Box, ...], float] = {}
        self._extent: Pair | None = None

    def best(self) -> list[Grouping]:
        most = self.measure.most
        kept = sorted(self._found.items(), key=lambda item: (item[1], item[0]))
        compact = [] if most is None else [item for item in kept if area(item[0]) <= most]
        both = dict((*kept[:KEPT], *compact[:KEPT]))
        return [Grouping(boxes=boxes, cost=cost) for boxes, cost in both.items()]

    def _keep(self, boxes: Sequence[Box], cost: float) -> None:
        self._found[tuple(boxes)] = cost
        if len(self._found) > 6 * KEPT:
            self._found = {p.boxes: p.cost for p in self.best()}

    def run(self, order: list[int], width: int, aspect: float, rounds: int) -> None:
        """Searches from the order and width, keeping the width near what gives the aspect."""
        measure, chance = self.measure, self.chance
        count, widest, most = len(order), max(w for w, _ in measure.sizes), max(measure.room.most[0], 1)
        low, high = (math.sqrt(measure.gross * a) for a in (aspect * 0.7, aspect * 1.5))
        current, best = self._cost(order, width), math.inf
        for turn in range(rounds):
            left = 1 - turn / rounds
            tried, wide, what = order.copy(), width, chance.random()
            if what < 0.5:
                n, m = int(chance.random() * count), int(chance.random() * count)
                tried[n], tried[m] = tried[m], tried[n]
            elif what < 0.85:
                n, m = int(chance.random() * count), int(chance.random() * count)
                tried.insert(m, tried.pop(n))
            else:
                wide = int(width * (0.96 + 0.08 * chance.random()))
                wide = min(max(wide, widest, int(low)), max(int(high), width), max(most, widest))
            cost = self._cost(tried, wide, keep_below=best)
            if cost < current + 0.05 * measure.gross * left * left:
                order, width, current = tried, wide, cost
                best = min(best, cost)

    def _cost(self, order: Sequence[int], width: int, keep_below: float = math.inf) -> float:
        made = self._stacked(order, width)
        if made is None:
            return math.inf
        boxes, fits = made
        cost = self.measure.cost(boxes)
        if not fits:
            return cost * 1.5 + self.measure.gross
        if cost < keep_below:
            self._keep(boxes, cost)
        return cost

    def _stacked(self, order: Sequence[int], width: int) -> tuple[list[Box], bool] | None:
        """Return the stack in the middle of the room, and whether it may hang there.

        Where there is something to go round, the stack depends on where it stands, and where it stands on its own width
        and height: it is stacked anew from where the last one should have stood, until it stands in the middle.
        """
        room, sizes = self.measure.room, self.measure.sizes
        if room.plain:
            boxes = stacked(order, sizes, room, 0, 0, width)
            if boxes is None:
                return None
            across, up = off_middle(boxes, room)
            return moved(boxes, -across, -up), True
        wide, high = self._extent or (width, int(self.measure.gross / DENSE / width))
        x, y = room.middle[0] - min(wide, width) // 2, max(room.middle[1] - high // 2, room.box[1])
        boxes = None
        for _ in range(_RECENTRINGS):
            boxes = stacked(order, sizes, room, x, y, width)
            if boxes is None:
                return None
            across, up = off_middle(boxes, room)
            shifted = moved(boxes, -across, -up)
            if is_centred(shifted, room) and all(map(room.takes, shifted)):
                left, bottom, right, top = round_all(boxes)
                self._extent = (right - left, top - bottom)
                return shifted, True
            if not across and not up:
                break
            x, y = x - across, max(y - up, room.box[1])
        return None if boxes is None else (boxes, False)
