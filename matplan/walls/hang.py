"""One wall, hung: pieces become frames to hang, these are arranged, checked against what the wall forbids, and given
their hooks.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING, assert_never

from matplan.habits import habits_of
from matplan.job.file.lines import place_text
from matplan.job.records import Arrange, Group, Pin, Tree, Wall
from matplan.lengths import ZERO, Printer, Step, Units
from matplan.mats.records import SolvedPiece
from matplan.walls import labels, lines
from matplan.walls.findings import findings
from matplan.walls.hanging import carried, refusal
from matplan.walls.limits import Standing, problems
from matplan.walls.outline import floor_below
from matplan.walls.records import HungFrame, Problem, SolvedWall, Spot, ToHang, Unhangable
from matplan.walls.stacks import Block, block_of

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
    _raise(
        (
            *_refusals(frames, wall, printer),
            *problems(standing, wall, printer),
            *labels.problems(standing, wall, printer),
        )
    )
    hung = []
    for one in standing:
        held = carried(one.frame, one.spot, wall.hang)
        hung.append(
            HungFrame(
                frame=one.frame,
                spot=one.spot,
                pinned=one.pinned,
                hooks=held.hooks,
                wire=held.wire,
                group=one.group,
                label=labels.label_of(one.frame, one.spot, wall.labels),
            )
        )
    made = SolvedWall(ask=wall, frames=tuple(hung))
    return replace(made, findings=tuple(findings(made, printer)))


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
    """Return every frame where it would hang, in hanging order: pinned ones there, the others as their groups arrange
    them, a group that goes round things after the others.
    """
    pins = _pins(frames, wall)
    spots = {number: _pinned(frames[number], pin) for number, pin in pins.items() if pin.whole}
    whole = frozenset(spots)
    groups = sorted(enumerate(wall.flows), key=lambda one: one[1].arrange is Arrange.CLUSTER)
    for _, group in groups:
        spots |= _group(group, frames, spots, pins, wall, printer, search)
    of = {number: at for at, group in enumerate(wall.flows) for number in _numbers(group.tree)}
    return tuple(
        Standing(frame=frame, spot=spots[number], pinned=number in whole, group=wall.flows[of[number]])
        for number, frame in enumerate(frames)
    )


def _numbers(tree: Tree) -> Iterator[int]:
    for entry in tree:
        yield from (entry,) if isinstance(entry, int) else _numbers(entry)


def _pins(frames: Sequence[ToHang], wall: Wall) -> dict[int, Pin]:
    """Return the pins of frames by their number: a piece's pins go to its copies in order."""
    waiting: defaultdict[str, list[Pin]] = defaultdict(list)
    for name, pin in wall.at:
        waiting[name].append(pin)
    return {
        number: waiting[frame.piece.name].pop(0) for number, frame in enumerate(frames) if waiting[frame.piece.name]
    }


def _pinned(frame: ToHang, pin: Pin) -> Spot:
    return Spot(left=pin.left or ZERO, bottom=pin.bottom or ZERO, width=frame.size.width, height=frame.size.height)


def _group(
    group: Group,
    frames: Sequence[ToHang],
    there: Mapping[int, Spot],
    pins: Mapping[int, Pin],
    wall: Wall,
    printer: Printer,
    search: Search | None,
) -> dict[int, Spot]:
    """Return where the frames of a group hang, but for those that are pinned whole. `there` are the frames so far."""
    sizes = {number: frames[number].size for number in _numbers(group.tree) if number not in there}
    blocks = [block for entry in group.tree if (block := block_of(entry, sizes, group.gap)) is not None]
    single = {at: block.spots[0][0] for at, block in enumerate(blocks) if len(block.spots) == 1}
    held = {at: pins[number] for at, number in single.items() if number in pins and group.arrange in _PINNED_ROWS}
    loose = [number for number in sizes if number in pins and number not in {single[at] for at in held}]
    _raise([_needs_both(frames[number]) for number in loose])
    found = _lined_up(blocks, held, group, frames, there, wall, printer, search)
    made: dict[int, Spot] = {}
    for block, spot in zip(blocks, found, strict=True):
        made |= block.at(spot.left, spot.bottom)
    return made


_PINNED_ROWS = frozenset({Arrange.CENTRE_LINE, Arrange.FLUSH_TOP, Arrange.FLUSH_BASE, Arrange.STEPPED})
"""Arrangements that go on round a frame with one coordinate of its own."""


def _needs_both(frame: ToHang) -> Problem:
    text = (
        f"{frame.called} names one coordinate alone, and only a row goes on round such a frame; write left and bottom"
    )
    return Problem(where=place_text(("at", frame.piece.name)), text=text)


def _lined_up(
    blocks: Sequence[Block],
    held: Mapping[int, Pin],
    group: Group,
    frames: Sequence[ToHang],
    there: Mapping[int, Spot],
    wall: Wall,
    printer: Printer,
    search: Search | None,
) -> tuple[Spot, ...]:
    """Return where the blocks of a group stand."""
    sizes = [block.size for block in blocks]
    floor = floor_below(wall.floor, group.middle)
    match group.arrange:
        case Arrange.CENTRE_LINE:
            return lines.centre_line(sizes, group, floor, held)
        case Arrange.FLUSH_TOP:
            return lines.flush_top(sizes, group, floor, held)
        case Arrange.FLUSH_BASE:
            return lines.flush_base(sizes, group, floor, held)
        case Arrange.GRID:
            return lines.grid(sizes, group, floor)
        case Arrange.STEPPED:
            if group.rise is None:
                return lines.along_floor(sizes, group, lambda x: floor_below(wall.floor, x), held)
            return lines.stepped(sizes, group, floor, held)
        case Arrange.CLUSTER:
            from matplan.walls.cluster import arranged, cluster

            free = [frames[block.spots[0][0]] for block in blocks]
            own = frozenset(_numbers(group.tree))
            called = [frames[number].piece.name if number in own else "" for number in there]
            level = replace(group, eye=group.eye + floor)
            return cluster(free, tuple(there.values()), called, wall, level, printer, search or arranged)
        case Arrange.PLACED:
            return ()
        case _:
            assert_never(group.arrange)
