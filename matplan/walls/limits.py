"""What a wall forbids, and the least shift that mends it: leaving the zone or the outline, touching what is kept clear,
overlapping.

Every problem names its frames and says by how much, in the job's units. What has one cause is one problem.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from matplan.habits import habits_of
from matplan.job.file.lines import place_text
from matplan.job.records import Arrange, Group, KeepClear, Wall
from matplan.lengths import Printer
from matplan.walls.outline import highest, lowest, sideways
from matplan.walls.records import Problem, Spot, ToHang, around, place_of

_MOST_NAMES = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A frame where it would hang."""

    frame: ToHang
    spot: Spot
    pinned: bool
    group: Group


def kept_clear(thing: KeepClear) -> Spot:
    """Return the thing with its margin."""
    return place_of(thing).grown(thing.margin)


def mending(length: Fraction, printer: Printer) -> str:
    """Return a length that mends something: in inches never rounded to less."""
    return printer.length(printer.step.up(length) if habits_of(printer.units).whole_steps else length)


def problems(standing: Sequence[Standing], wall: Wall, printer: Printer) -> tuple[Problem, ...]:
    """Return everything that is wrong with the places, or nothing where they may hang so."""
    check = _Limits(wall, printer)
    return (
        *check.zone(standing),
        *check.outline(standing),
        *check.floor(standing),
        *check.clear(standing),
        *check.overlaps(standing),
    )


def shift(spot: Spot, from_: Spot) -> tuple[Fraction, str]:
    """Return the least way that the spot must move to lie beside or above the other, and whereto."""
    ways = (
        (spot.right - from_.left, "to the left"),
        (from_.right - spot.left, "to the right"),
        (spot.top - from_.bottom, "down"),
        (from_.top - spot.bottom, "up"),
    )
    return min(ways, key=lambda way: way[0])


def names(frames: Sequence[ToHang]) -> str:
    """Return frames as messages list them."""
    return listed([frame.called for frame in frames])


def listed(called: Sequence[str]) -> str:
    """`a, b and c`; where they are many, the first of them and how many more."""
    if len(called) > _MOST_NAMES:
        called = [*called[: _MOST_NAMES - 1], f"{len(called) - _MOST_NAMES + 1} more"]
    return called[0] if len(called) == 1 else f"{', '.join(called[:-1])} and {called[-1]}"


class _Limits:
    def __init__(self, wall: Wall, printer: Printer) -> None:
        self.wall, self.printer = wall, printer

    def _length(self, length: Fraction) -> str:
        return mending(length, self.printer)

    def _where(self, standing: Standing) -> str:
        return place_text(("at", standing.frame.piece.name)) if standing.pinned else ""

    # --- the zone ----------------------------------------------------------------------------------------------------

    def zone(self, standing: Sequence[Standing]) -> Iterator[Problem]:
        """Return pinned frames one by one, arranged ones together."""
        for one in standing:
            if one.pinned:
                yield from self._outside((one,), around([one.spot]), self._where(one))
        for group in self.wall.flows:
            arranged = [one for one in standing if not one.pinned and one.group == group]
            if arranged:
                yield from self._outside(arranged, around([one.spot for one in arranged]), group.place)

    def _outside(self, standing: Sequence[Standing], group: Spot, where: str) -> Iterator[Problem]:
        zone, size = standing[0].group.zone, self.wall.size
        for low, high, extent, room, sides, ends, words in (
            (
                zone.left - group.left,
                group.right - zone.right,
                group.width,
                zone.right - zone.left,
                ("left", "right"),
                (zone.left == 0, zone.right == size.width),
                ("wide", "narrow", "to the right", "to the left"),
            ),
            (
                zone.bottom - group.bottom,
                group.top - zone.top,
                group.height,
                zone.top - zone.bottom,
                ("bottom", "top"),
                (zone.bottom == 0, zone.top == size.height),
                ("high", "low", "up", "down"),
            ),
        ):
            edges = [f"the {'wall' if end else 'zone'}'s {side} edge" for side, end in zip(sides, ends, strict=True)]
            past = [self._past(standing, side) for side in sides]
            if extent > room and (low > 0 or high > 0):
                told = " and ".join(
                    f"{names(past[n])} {_reach(past[n])} {self._length(over)} past {edges[n]}"
                    for n, over in enumerate((low, high))
                    if over > 0
                )
                subject = "the frame is" if len(standing) == 1 else "the frames together are"
                mend = "take a wider zone" if words[0] == "wide" else "take a higher zone"
                text = (
                    f"{told}: {subject} {self._length(extent)} {words[0]} and the zone {self._length(room)}, "
                    f"{self._length(extent - room)} too {words[1]}; "
                    f"{mend}{'' if len(standing) == 1 else ', a smaller gap or fewer frames'}"
                )
                yield Problem(where=where, text=text)
                continue
            for number, over in enumerate((low, high)):
                if over > 0:
                    yield Problem(
                        where=where,
                        text=f"{names(past[number])} {_reach(past[number])} {self._length(over)} past {edges[number]}; "
                        f"{self._mend(standing, over, words[2 + number])}",
                    )

    def _mend(self, standing: Sequence[Standing], over: Fraction, way: str) -> str:
        if standing[0].pinned:
            return f"move it {self._length(over)} {way}"
        if way in ("up", "down"):
            key, _ = standing[0].group.level
            level = "the eye line" if key == "eye" else key
            return f"put {level} {self._length(over)} {'higher' if way == 'up' else 'lower'}, or change the zone"
        return f"they would have to hang {self._length(over)} further {way}; change the zone"

    def _past(self, standing: Sequence[Standing], side: str) -> list[ToHang]:
        zone = standing[0].group.zone
        beyond = {
            "left": [one.spot.left < zone.left for one in standing],
            "right": [one.spot.right > zone.right for one in standing],
            "bottom": [one.spot.bottom < zone.bottom for one in standing],
            "top": [one.spot.top > zone.top for one in standing],
        }
        return [one.frame for one, out in zip(standing, beyond[side], strict=True) if out]

    # --- the outline -------------------------------------------------------------------------------------------------

    def outline(self, standing: Sequence[Standing]) -> Iterator[Problem]:
        """Yield frames that reach above the wall's own top edge."""
        points = self.wall.outline
        if not points:
            return
        for one in standing:
            spot = one.spot
            left, right = max(spot.left, Fraction(0)), min(spot.right, self.wall.size.width)
            if left >= right:
                continue  # beside the wall altogether, and said so already
            over = spot.top - lowest(points, left, right)
            if over <= 0:
                continue
            least, way = over, "down"
            across = sideways(points, spot.left, spot.width, spot.top)
            if across is not None and abs(across) < over:
                least, way = abs(across), "to the right" if across > 0 else "to the left"
            text = (
                f"{one.frame.called} reaches {self._length(over)} above the wall's top edge; "
                f"the least shift that brings it below is {self._length(least)} {way}"
            )
            yield Problem(where=self._where(one), text=text)

    def floor(self, standing: Sequence[Standing]) -> Iterator[Problem]:
        """Yield frames that reach below the floor of a stair."""
        points = self.wall.floor
        if not points:
            return
        for one in standing:
            below = highest(points, one.spot.left, one.spot.right) - one.spot.bottom
            if below > 0:
                length = self._length(below)
                text = f"{one.frame.called} reaches {length} below the floor; move it {length} up"
                yield Problem(where=self._where(one), text=text)

    # --- what is kept clear ------------------------------------------------------------------------------------------

    def clear(self, standing: Sequence[Standing]) -> Iterator[Problem]:
        """Yield frames on a thing or its margin. A margin may be used up to its edge; a thing without one may not be
        touched.
        """
        for number, thing in enumerate(self.wall.keep_clear):
            taken = kept_clear(thing)
            for one in standing:
                across, up = one.spot.beside(taken)
                where = self._where(one) or place_text(("keep_clear", number))
                margin = f" and its margin of {self.printer.length(thing.margin)}" if thing.margin else ""
                if across < 0 and up < 0:
                    least, way = shift(one.spot, taken)
                    text = (
                        f'{one.frame.called} hangs over "{thing.name}"{margin}, which is kept clear; '
                        f"the least shift that clears it is {self._length(least)} {way}"
                    )
                    yield Problem(where=where, text=text)
                elif not thing.margin and max(across, up) == 0:
                    text = (
                        f'{one.frame.called} touches "{thing.name}", which is kept clear; move it {self._a_step()} away'
                    )
                    yield Problem(where=where, text=text)

    def _a_step(self) -> str:
        return self.printer.length(self.printer.step.size)

    # --- each other --------------------------------------------------------------------------------------------------

    def overlaps(self, standing: Sequence[Standing]) -> Iterator[Problem]:
        """Yield frames over one another; an arrangement may not even touch what is pinned."""
        for one, other in combinations(standing, 2):
            if other.pinned and not one.pinned:
                one, other = other, one
            across, up = one.spot.beside(other.spot)
            if across < 0 and up < 0:
                least, way = shift(one.spot, other.spot)
                text = (
                    f"{one.frame.called} and {other.frame.called} overlap; the least shift that parts them is "
                    f"{self._length(least)}"
                )
                yield Problem(where=self._where(one), text=f"{text}, {one.frame.called} {way}")
            elif max(across, up) == 0 and other.group.arrange is not Arrange.PLACED and one.pinned != other.pinned:
                text = (
                    f"{one.frame.called}, which is pinned, touches {other.frame.called}; move it {self._a_step()} away"
                )
                yield Problem(where=self._where(one), text=text)


def _reach(frames: Sequence[ToHang]) -> str:
    return "reaches" if len(frames) == 1 else "reach up to"
