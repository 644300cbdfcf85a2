"""Walls made by hand for tests: pieces of a given outer size, and a wall that hangs them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from functools import cache
from typing import Any

from matplan.job.records import Arrange, Furniture, KeepClear, Pin, Wall, Zone
from matplan.lengths import ZERO, Printer, Size, Step, Units
from matplan.mats.records import SolvedPiece
from matplan.walls.hang import hang_wall
from matplan.walls.records import SolvedWall, Spot
from tests.making import frame, mm, size, solved, window

METRIC = Printer(Units.MM, Step.usual(Units.MM))
INCHES = Printer(Units.IN, Step.usual(Units.IN))
RAIL = 20


def piece(name: str, outer: str, **changes: Any) -> SolvedPiece:
    """A solved piece whose frame is that large outside: its rails of 20 mm cover 6 mm of the rabbet.

    `rail`, `height`, `density` and `depth` change the frame, all else the piece.
    """
    made = size(outer)
    return _piece(name, made.width, made.height, tuple(sorted(changes.items())))


@cache
def _piece(name: str, width: Fraction, height: Fraction, changes: tuple[tuple[str, Any], ...]) -> SolvedPiece:
    given = dict(changes)
    rail = given.pop("rail", RAIL)
    rabbet = Size(width - 2 * RAIL + 12, height - 2 * RAIL + 12)  # sight = outer − 2 × rail; rabbet = sight + 2 × lip 6
    keys = [key for key in given if key in ("height", "density", "depth")]
    asked = replace(
        frame(), rail=None if rail is None else Fraction(rail), rabbet=rabbet, **{key: given.pop(key) for key in keys}
    )
    image = Size(rabbet.width / 2, rabbet.height / 2)
    return solved(
        name=name,
        file=name.lower(),
        frame=asked,
        apertures=(window(name, image=f"{_text(image.width)}x{_text(image.height)} mm"),),
        **given,
    )


def _text(length: Fraction) -> str:
    return str(float(round(length, 3)))


def wall(pieces: Sequence[SolvedPiece], **changes: Any) -> Wall:
    """A wall of 3600 × 2400 mm that hangs each of the pieces once; lengths are written as people write them."""
    extent = size(changes.pop("size", "3600x2400 mm"))
    zone = changes.pop("zone", {})
    given: dict[str, Any] = {
        "name": "Landing",
        "file": "landing",
        "line": 7,
        "place": "wall[1]",
        "size": extent,
        "eye": mm(changes.pop("eye", 1450)),
        "gap": mm(changes.pop("gap", 60)),
        "arrange": Arrange(changes.pop("arrange", "centre-line")),
        "zone": Zone(
            left=mm(zone.get("left", 0)),
            right=mm(zone["right"]) if "right" in zone else extent.width,
            bottom=mm(zone.get("bottom", 0)),
            top=mm(zone["top"]) if "top" in zone else extent.height,
        ),
        "hung": tuple((index, 1) for index in range(len(pieces))) or ((0, ZERO),),
        "rise": mm(changes.pop("rise")) if "rise" in changes else None,
    }
    return Wall(**(given | changes))


def hung(pieces: Sequence[SolvedPiece], *, printer: Printer = METRIC, **changes: Any) -> SolvedWall:
    """The wall of those pieces, hung."""
    return hang_wall(wall(pieces, **changes), pieces, printer)


def keep(
    name: str, left: object, bottom: object, width: object, height: object, margin: object = 0, kind: str = ""
) -> KeepClear:
    """A thing to keep clear."""
    return KeepClear(
        name=name, left=mm(left), bottom=mm(bottom), width=mm(width), height=mm(height), margin=mm(margin), kind=kind
    )


def furniture(name: str, left: object, width: object, height: object) -> Furniture:
    """A thing that stands before the wall."""
    return Furniture(name=name, left=mm(left), width=mm(width), height=mm(height))


def pin(name: str, left: object, bottom: object) -> tuple[str, Pin]:
    """Where a piece is pinned."""
    return name, Pin(left=mm(left), bottom=mm(bottom))


type Pair = tuple[object, object]
"""Two lengths, compared with plain numbers."""


def centre(spot: Spot) -> Pair:
    """The middle of that spot."""
    return spot.centre


def spots(made: SolvedWall) -> list[Pair]:
    """Left and bottom of every frame."""
    return [(f.spot.left, f.spot.bottom) for f in made.frames]


def codes(made: SolvedWall) -> list[str]:
    """The codes of its warnings and notes, without the advice that every wall gets."""
    return [f.code for f in made.findings if f.code not in ("light", "loads-incomplete")]
