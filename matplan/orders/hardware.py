"""What a frame takes besides boards, glazing and moulding: how many, or what length, by the names of the tables.

Counts are those of the trade (`matplan sizes hardware` has each with its source). How they are sold, and what of them
lies ready, is `store`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Final, assert_never

from matplan.habits import habits_of
from matplan.job.records import ByCleat, BySawtooth, ByTwoHooks, ByWire, Hang, Included
from matplan.lengths import INCH, Printer, Step, Units
from matplan.mats.findings import DEEPER
from matplan.mats.records import SolvedPiece
from matplan.walls.hanging import KNOTS

HINGE_EVERY: Final = 12 * INCH
"""Millimetres: one hinge every 10 to 15 in on large work, and at least two (common practice); 12 in taken."""
POINT_EVERY: Final = (6, 150)
"""Inches, millimetres: points or brads stand 4–6 in, 10–15 cm apart along each rail (common practice)."""
ROLL_WIDTH: Final = (36, 900)
"""Inches, millimetres: dust-cover paper as sold (memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What one frame takes of a thing: how many, or what length in millimetres, by its name in the tables; `kind` tells
    apart what goes by one name.
    """

    name: str
    amount: Fraction
    kind: str = ""
    note: str = ""
    rank: Fraction | None = None
    """Of several needs that are bought as one, the highest tells the note."""


def hinges(width: Fraction) -> int:
    """Return how many hinges hold a work of the width along its top edge."""
    return max(2, -(-width // HINGE_EVERY))


def needs(piece: SolvedPiece, hang: Hang | None, units: Units = Units.MM) -> Iterator[Need]:
    """Yield what one copy takes; on a wire where no wall says otherwise (common practice).

    A frame that comes with its backing has clips of its own for it, and no cover.
    """
    blank, rabbet = piece.blank, piece.frame.rabbet
    if piece.layers or piece.ask.mount is not None:
        count = sum(hinges(aperture.image.width) for aperture in piece.apertures)
        yield _count("hinge", count, "reversible paper and paste, along the top edge")
    if piece.ask.spacer is not None:
        height = Printer(units, Step.usual(units)).fine(piece.ask.spacer)
        around = 2 * (blank.width + blank.height)
        yield Need(name="spacer", amount=around, kind=f"{height} high", note="under the lip")
    if Included.BACKING not in piece.brings:
        yield from _behind(piece, units)
    yield from _joined_here(piece)
    way = hang or ByWire()
    if Included.HANGERS not in piece.brings:
        yield from _hangers(way)
    if isinstance(way, ByWire):
        yield Need(name="wire", amount=rabbet.width + habits_of(units).figure(*KNOTS))
    yield from _on_the_wall(way)
    yield _count("bumper", 2, "at the lower corners")
    depth, stack = piece.stack.depth, piece.stack.thickness
    if depth is not None and depth - stack > habits_of(units).figure(*DEEPER) and Included.BACKING not in piece.brings:
        room = Printer(units, Step.usual(units)).fine(depth - stack)
        yield Need(
            name="filler",
            amount=2 * (rabbet.width + rabbet.height),
            note=f"up to {room} high, behind the backing",
            rank=depth - stack,
        )


def _count(name: str, count: int, note: str = "") -> Need:
    return Need(name=name, amount=Fraction(count), note=note)


def _behind(piece: SolvedPiece, units: Units) -> Iterator[Need]:
    """Yield what holds the stack in the rabbet, and keeps dust out."""
    blank, rabbet, figure = piece.blank, piece.frame.rabbet, habits_of(units).figure
    yield Need(name="backing-tape", amount=2 * (blank.width + blank.height))
    each = figure(*POINT_EVERY)
    yield _count("point", sum(2 * max(2, -(-side // each)) for side in (rabbet.width, rabbet.height)))
    long, short = max(rabbet.width, rabbet.height), min(rabbet.width, rabbet.height)
    yield Need(name="dust-cover", amount=short if long <= figure(*ROLL_WIDTH) else long)
    yield Need(name="cover-tape", amount=2 * (rabbet.width + rabbet.height))


def _joined_here(piece: SolvedPiece) -> Iterator[Need]:
    """Yield what joins the corners of a frame that is sawn from sticks."""
    if piece.frame.made_to_measure and piece.frame.ask.sticks:
        yield _count("corner-nail", 8, "two a corner")
        yield _count("glue", 1)


def _hangers(hang: Hang) -> Iterator[Need]:
    match hang:
        case ByWire() | ByTwoHooks():
            yield _count("hanger", 2)
            yield _count("screw", 4, "that suit the rail")
        case BySawtooth():
            yield _count("sawtooth", 1, "with its nails")
        case ByCleat():
            yield _count("cleat", 1, "a pair: one on the frame, one on the wall")
        case never:
            assert_never(never)


def _on_the_wall(hang: Hang) -> Iterator[Need]:
    match hang:
        case ByWire() | BySawtooth():
            yield _count("hook", 1, "rated for the frame's weight and the wall")
        case ByTwoHooks():
            yield _count("hook", 2, "rated for the frame's weight and the wall")
        case ByCleat():
            yield _count("wall-fixing", 2, "screws and plugs that suit the wall")
        case never:
            assert_never(never)
