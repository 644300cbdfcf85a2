"""Which rail comes out of which stick: rails with their piece and side, and sticks that are sawn alike once.

Rails of one length are the same thing until they are named, so that names are dealt out here: a frame's rails stay
together where they can, and as many sticks as possible become alike.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from matplan.mats.records import SolvedPiece
from matplan.orders.cutting import Rack, rails_of
from matplan.stock.sticks import ROOT_TWO, Stick


@dataclass(frozen=True, slots=True, kw_only=True)
class Rail:
    """A rail of a piece's frame: its side as seen from the front, its long edge and its length at the rabbet."""

    piece: str
    side: str
    long_edge: Fraction
    rabbet: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class SawnStick:
    """A stick with its rails in the order in which they are sawn; `count` sticks are sawn like it, and `ready` tells
    that they are at hand.
    """

    stick: Stick
    rails: tuple[Rail, ...]
    count: int
    ready: bool = False

    def starts(self, kerf: Fraction) -> Iterator[Fraction]:
        """Yield how far from the stick's end each rail's long edge begins: a mitred cut lies between two rails."""
        at = self.stick.kind.spare
        for rail in self.rails:
            yield at
            at += rail.long_edge + kerf * ROOT_TWO


def sawn(rack: Rack, pieces: Sequence[SolvedPiece]) -> tuple[SawnStick, ...]:
    """Return the rack's sticks in their order, sticks that are alike in all their rails once."""
    left = _rails(rack, pieces)
    order = {rail: number for number, rail in enumerate(left)}
    of_length: dict[Fraction, list[Rail]] = {}
    for rail in left:
        of_length.setdefault(rail.long_edge, []).append(rail)
    found: list[SawnStick] = []
    for (stick, ready), many in Counter(rack.sticks.told()).items():
        while many:
            rails: list[Rail] = []
            used: Counter[Rail] = Counter()
            for length in stick.rails:
                rail = _next(of_length[length], left, used)
                rails.append(rail)
                used[rail] += 1
            again = min(many, *(left[rail] // count for rail, count in used.items()))
            left -= Counter({rail: again * count for rail, count in used.items()})
            many -= again
            rails.sort(key=lambda rail: (-rail.long_edge, order[rail]))
            found.append(SawnStick(stick=stick, rails=tuple(rails), count=again, ready=ready))
    return tuple(found)


def _next(rails: Sequence[Rail], left: Counter[Rail], used: Counter[Rail]) -> Rail:
    """Return the rail to saw next: of a piece that is on the stick already, else of the side with most rails left."""
    here = {rail.piece for rail in used}
    ready = (rail for rail in rails if left[rail] > used[rail])
    return max(ready, key=lambda rail: (rail.piece in here, left[rail] - used[rail]))


def _rails(rack: Rack, pieces: Sequence[SolvedPiece]) -> Counter[Rail]:
    """Return how many of each rail the rack's frames take, in the order of the job."""
    found: Counter[Rail] = Counter()
    for frame, owned in rails_of(pieces):
        if frame.name != rack.frame.name:
            continue
        for piece, _ in owned:
            edges, rabbet = piece.frame.long_edges, piece.frame.rabbet
            if edges is None:
                continue
            level, upright = (edges.width, rabbet.width), (edges.height, rabbet.height)
            for side, (edge, inner) in (("top", level), ("bottom", level), ("left", upright), ("right", upright)):
                found[Rail(piece=piece.name, side=side, long_edge=edge, rabbet=inner)] += piece.ask.quantity
    return found
