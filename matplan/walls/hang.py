"""One wall, hung: pieces become frames to hang, these are arranged, checked against what the wall forbids, and given
their hooks.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, assert_never

from matplan.habits import habits_of
from matplan.job.records import Arrange, Pin, Wall
from matplan.lengths import Printer, Step, Units
from matplan.mats.records import SolvedPiece
from matplan.walls import lines
from matplan.walls.findings import findings
from matplan.walls.hanging import carried, refusal
from matplan.walls.limits import Standing, problems
from matplan.walls.records import HungFrame, Problem, SolvedWall, Spot, ToHang, Unhangable

if TYPE_CHECKING:
    from matplan.walls.cluster import Search

type Pieces = Sequence[SolvedPiece] | Mapping[int, SolvedPiece]
"""The job's solved pieces by their index."""


def hang_wall(wall: Wall, pieces: Pieces, printer: Printer, search: Search | None = None) -> SolvedWall:
    """Return the wall with every frame and hook in its place.

    `pieces` hold at least the pieces that the wall names, `printer` prints lengths in messages, `search` finds clusters
    in place of `cluster.arranged`. Raises `Unhangable` with every problem at once.
    """
    frames = to_hang(wall, pieces, printer.units)
    if not frames:
        raise Unhangable((Problem(where="pieces", text="nothing hangs on it; name pieces, or leave the wall out"),))
    standing = _arranged(frames, wall, printer, search)
    _raise((*_refusals(frames, wall, printer), *problems(standing, wall, printer)))
    hung = []
    for one in standing:
        held = carried(one.frame, one.spot, wall.hang)
        hung.append(HungFrame(frame=one.frame, spot=one.spot, pinned=one.pinned, hooks=held.hooks, wire=held.wire))
    made = SolvedWall(ask=wall, frames=tuple(hung))
    return SolvedWall(ask=wall, frames=made.frames, findings=tuple(findings(made, printer)))


def _raise(found: Sequence[Problem]) -> None:
    if found:
        raise Unhangable(tuple(found))


def to_hang(wall: Wall, pieces: Pieces, units: Units = Units.MM) -> tuple[ToHang, ...]:
    """Return the frames in hanging order. Raises `Unhangable` naming every piece whose outer size is not known."""
    copies = Counter(index for index, _ in wall.hung)
    frames: list[ToHang] = []
    unknown: dict[int, Problem] = {}
    for index, copy in wall.hung:
        piece = pieces[index]
        outer, rail = piece.frame.outer, piece.frame.ask.rail
        if outer is None or rail is None:
            unknown[index] = Problem(where="", text=_asks_for_rail(piece, units))
            continue
        frames.append(ToHang(index=index, piece=piece, copy=copy, copies=copies[index], size=outer, rail=rail))
    _raise(tuple(unknown.values()))
    return tuple(frames)


def _asks_for_rail(piece: SolvedPiece, units: Units) -> str:
    name = piece.frame.ask.name
    face = habits_of(units).figure(Fraction(3, 4), 20)
    rail = f'rail = "{Printer(units, Step.usual(units)).length(face)}"'
    key = name if re.fullmatch(r"[A-Za-z0-9_-]+", name) else f'"{name}"'
    which = f'its frame "{name}"' if name else "its frame"
    mend = (
        f"write {rail} (the face width) in [frame.{key}]" if name else f"give it a [frame] that has a rail, like {rail}"
    )
    return f'"{piece.name}" cannot hang: the rail of {which} is not given, and so its outside is not known; {mend}'


def _refusals(frames: Sequence[ToHang], wall: Wall, printer: Printer) -> tuple[Problem, ...]:
    """Return what the way of hanging refuses, once a size."""
    found: dict[tuple[Fraction, Fraction], Problem] = {}
    for frame in frames:
        problem = refusal(frame, wall.hang, printer.length)
        if problem is not None:
            found.setdefault((frame.size.width, frame.size.height), problem)
    return tuple(found.values())


# --- arranging -------------------------------------------------------------------------------------------------------


def _arranged(frames: Sequence[ToHang], wall: Wall, printer: Printer, search: Search | None) -> tuple[Standing, ...]:
    """Return every frame where it would hang, in hanging order: pinned ones there, the others as the wall arranges
    them.
    """
    pins = _pins(frames, wall)
    free = [number for number in range(len(frames)) if number not in pins]
    spots = dict(pins)
    found = _free([frames[n] for n in free], tuple(pins.values()), wall, printer, search)
    spots.update(zip(free, found, strict=True))
    return tuple(
        Standing(frame=frame, spot=spots[number], pinned=number in pins) for number, frame in enumerate(frames)
    )


def _pins(frames: Sequence[ToHang], wall: Wall) -> dict[int, Spot]:
    """Return the spots of pinned frames by their number: a piece's pins go to its copies in order."""
    waiting: defaultdict[str, list[Pin]] = defaultdict(list)
    for name, pin in wall.at:
        waiting[name].append(pin)
    spots: dict[int, Spot] = {}
    for number, frame in enumerate(frames):
        if waiting[frame.piece.name]:
            pin = waiting[frame.piece.name].pop(0)
            spots[number] = Spot(left=pin.left, bottom=pin.bottom, width=frame.size.width, height=frame.size.height)
    return spots


def _free(
    frames: Sequence[ToHang], pinned: tuple[Spot, ...], wall: Wall, printer: Printer, search: Search | None
) -> tuple[Spot, ...]:
    sizes = [frame.size for frame in frames]
    match wall.arrange:
        case Arrange.CENTRE_LINE:
            return lines.centre_line(sizes, wall)
        case Arrange.FLUSH_TOP:
            return lines.flush_top(sizes, wall)
        case Arrange.FLUSH_BASE:
            return lines.flush_base(sizes, wall)
        case Arrange.GRID:
            return lines.grid(sizes, wall)
        case Arrange.STEPPED:
            return lines.stepped(sizes, wall)
        case Arrange.CLUSTER:
            from matplan.walls.cluster import arranged, cluster

            return cluster(frames, pinned, wall, printer, search or arranged)
        case Arrange.PLACED:
            return ()
        case _:
            assert_never(wall.arrange)
