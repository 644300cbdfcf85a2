"""The sums of a wall's figures: why each hook sits where it does."""

from __future__ import annotations

from typing import assert_never

from matplan.job.records import ByCleat, BySawtooth, ByTwoHooks, ByWire, Hang
from matplan.sums import Sum, Sums, half, length, ratio
from matplan.walls.hanging import anchor_depth, cleat_width, drop_of
from matplan.walls.records import HungFrame, SolvedWall


def wall_sums(wall: SolvedWall) -> tuple[Sum, ...]:
    """Return for each frame in hanging order where its middle is, then each hook's height and distance
    from the left.
    """
    found = Sums()
    for hung in wall.frames:
        name = f"{hung.name} {hung.copy}" if hung.frame.copies > 1 else hung.name
        _frame_sums(hung, wall.ask.hang, found.about(name))
    return tuple(found.found)


def _frame_sums(hung: HungFrame, hang: Hang, sums: Sums) -> None:
    spot, frame = hung.spot, hung.frame
    x, y = spot.centre
    drop = drop_of(hang, frame)
    wide, high, rail = length("width", spot.width), length("height", spot.height), length("rail", frame.rail)
    sums.told("centre across", x, length("left", spot.left) + half(wide))
    sums.told("centre up", y, length("bottom", spot.bottom) + half(high))
    match hang:
        case ByWire():
            depth = anchor_depth(hang, frame)
            anchors = length("anchors", depth)
            sums.told("anchors below the top", depth, high * ratio("anchors at", hang.anchors))
            if hang.drop is None:
                sums.told("drop", drop, half(anchors))
            sums.told("wire rises", depth - drop, anchors - length("drop", drop))
            sums.told("wire runs", (spot.width - frame.rail) / 2, half(wide - rail))
        case ByCleat():
            if hang.width is None:
                sums.told("cleat", cleat_width(hang, frame), wide - 2 * rail)
        case ByTwoHooks() | BySawtooth():
            pass
        case _:
            assert_never(hang)
    sums.told("hook up", hung.hooks[0].height, length("centre", y) + half(high) - length("drop", drop))
    _across(hung, hang, sums)


def _across(hung: HungFrame, hang: Hang, sums: Sums) -> None:
    spot, (x, _) = hung.spot, hung.spot.centre
    left, wide = length("left", spot.left), length("width", spot.width)
    match hang:
        case ByWire() | BySawtooth():
            sums.told("hook across", hung.hooks[0].left, left + half(wide))
        case ByTwoHooks():
            first, last = hung.hooks
            inset = length("in", hang.inset)
            sums.told("hook a across", first.left, left + inset)
            sums.told("hook b across", last.left, left + wide - inset)
        case ByCleat():
            first, last = hung.hooks
            centre, cleat = length("centre", x), length("cleat", cleat_width(hang, hung.frame))
            sums.told("hook a across", first.left, centre - half(cleat))
            sums.told("hook b across", last.left, centre + half(cleat))
        case _:
            assert_never(hang)
