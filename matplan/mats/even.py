"""Borders in one setting: an opening moves by one step where equal borders would need half a step on each side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Literal

from matplan.job.records import AddedWeight, ApertureAsk, BorderAsk, Piece, Show
from matplan.lengths import ZERO, Sides, Size
from matplan.mats.block import arranged, row_width
from matplan.mats.explained_windows import explain_block
from matplan.mats.task import Task, Windows
from matplan.mats.windows import EVEN_SIDED
from matplan.sums import length

type Axis = Literal["width", "height"]
type Moves = dict[int, Fraction]
"""By how much the opening at a place becomes longer on one axis."""


def equal_borders(piece: Piece) -> dict[Axis, bool]:
    """Return on which axes the piece asks for equal borders: left and right, top and bottom."""
    border = piece.border or BorderAsk(top=ZERO, right=ZERO, bottom=None, left=ZERO)
    weightless = isinstance(piece.weight, AddedWeight) and not piece.weight.extra
    return {
        "width": border.left == border.right,
        "height": border.bottom == border.top if border.bottom is not None else weightless,
    }


def odd_sides(piece: Piece, borders: Sides) -> tuple[str, ...]:
    """Return the sides that take the odd step where equal borders are asked for and no setting gives them."""
    equal = equal_borders(piece)
    uneven = {"right": equal["width"] and borders.left != borders.right}
    uneven["bottom"] = equal["height"] and borders.top != borders.bottom
    return tuple(side for side, odd in uneven.items() if odd)


def even_borders(task: Task, windows: Windows, blank: Size) -> Windows:
    """Return the windows so that equal borders in the blank are whole steps, if the piece asks for that (`even`).

    An opening that covers its image becomes smaller, any other larger, so that no overlap, reveal or gap is less than
    asked for. An opening that is given does not move. No border becomes less: the side without the odd step stays as it
    is. Where no opening can move the windows stay as they are.
    """
    given = windows.standard is not None or any(ask.opening is not None for ask in task.piece.apertures)
    if not task.piece.even or not task.piece.mat or given:
        return windows
    equal = equal_borders(task.piece)
    odd: list[Axis] = [axis for axis in equal if equal[axis] and _is_odd(task, windows, blank, axis)]
    if len(odd) == 2 and not task.many and task.piece.apertures[0].shape in EVEN_SIDED:
        by = _by(task, task.piece.apertures[0])
        return _kept(task, windows, blank, {"width": {0: by}, "height": {0: by}})
    for axis in odd:
        moves = _across(task, windows) if axis == "width" else _upright(task, windows)
        windows = _kept(task, windows, blank, {axis: moves}) if moves else windows
    return windows


def _is_odd(task: Task, windows: Windows, blank: Size, axis: Axis) -> bool:
    spare: Fraction = getattr(blank, axis) - getattr(windows.bordered, axis)
    return spare / task.step.size % 2 == 1


def _by(task: Task, ask: ApertureAsk) -> Fraction:
    return -task.step.size if ask.show is Show.IMAGE else task.step.size


def _openings(windows: Windows) -> list[Size]:
    return [box.size for box in windows.block.boxes]


def _across(task: Task, windows: Windows) -> Moves:
    """Return one opening to move in each of the widest rows; nothing if a row has none."""
    piece, openings = task.piece, _openings(windows)
    moves: Moves = {}
    for row in piece.rows:
        if row_width(openings, row, task.gutter) < windows.block.size.width:
            continue
        free = [place for place in row if piece.apertures[place].shape not in EVEN_SIDED]
        if not free:
            return {}
        moves[free[-1]] = _by(task, piece.apertures[free[-1]])
    return moves


def _upright(task: Task, windows: Windows) -> Moves:
    """Return all the highest openings of one row, the lowest in which they can move together."""
    piece, openings = task.piece, _openings(windows)
    for row in reversed(piece.rows):
        high = max(openings[place].height for place in row)
        highest = [place for place in row if openings[place].height == high]
        ways = {_by(task, piece.apertures[place]) for place in highest}
        if len(ways) == 1 and not any(piece.apertures[place].shape in EVEN_SIDED for place in highest):
            by = ways.pop()
            return dict.fromkeys(highest, by)
    return {}


def _kept(task: Task, windows: Windows, blank: Size, moves: dict[Axis, Moves]) -> Windows:
    """Return the windows moved, or as they were if rows of other widths keep the borders odd."""
    openings = _openings(windows)
    for axis, places in moves.items():
        for place, by in places.items():
            openings[place] = replace(openings[place], **{axis: getattr(openings[place], axis) + by})
    block = arranged(openings, task.piece.rows, task.gutter, task.piece.row_align, task.step)
    moved = replace(windows, block=block)
    if any(_is_odd(task, moved, blank, axis) for axis in moves):
        return windows
    for axis, places in moves.items():
        _explain(task, _openings(windows), axis, places)
    if task.many:
        explain_block(task, openings, block)
    return moved


def _explain(task: Task, openings: Sequence[Size], axis: Axis, places: Moves) -> None:
    for place, by in places.items():
        opening = length("opening", getattr(openings[place], axis))
        step = length("a step for equal borders", abs(by))
        task.sums_of(task.piece.apertures[place]).add(f"opening {axis}", opening - step if by < 0 else opening + step)
