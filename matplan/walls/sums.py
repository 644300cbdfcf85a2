"""Why each hook sits where it does: the sums behind a wall's figures, in the words that people check with a pencil."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import assert_never

from matplan.job.records import ByCleat, BySawtooth, ByTwoHooks, ByWire, Hang
from matplan.mats.sums import Count, Sum
from matplan.walls.hanging import anchor_depth, cleat_width, drop_of
from matplan.walls.records import HungFrame, SolvedWall


def wall_sums(wall: SolvedWall) -> Iterator[Sum]:
    """Yield for each frame in hanging order: where its middle is, then each hook's height and distance
    from the left.
    """
    for hung in wall.frames:
        name = f"{hung.name} {hung.copy}" if hung.frame.copies > 1 else hung.name
        yield from _frame_sums(name, hung, wall.ask.hang)


def _frame_sums(name: str, hung: HungFrame, hang: Hang) -> Iterator[Sum]:
    spot, frame = hung.spot, hung.frame
    x, y = spot.centre
    drop = drop_of(hang, frame)
    yield _sum(f"{name} centre across", x, "left {} + width {} ÷ 2", spot.left, spot.width)
    yield _sum(f"{name} centre up", y, "bottom {} + height {} ÷ 2", spot.bottom, spot.height)
    match hang:
        case ByWire():
            depth = anchor_depth(hang, frame)
            yield _sum(f"{name} anchors below the top", depth, "height {} × {}", spot.height, Count(hang.anchors))
            if hang.drop is None:
                yield _sum(f"{name} drop", drop, "anchors {} ÷ 2", depth)
            yield _sum(f"{name} wire rises", depth - drop, "anchors {} − drop {}", depth, drop)
            yield _sum(
                f"{name} wire runs", (spot.width - frame.rail) / 2, "(width {} − rail {}) ÷ 2", spot.width, frame.rail
            )
        case ByCleat():
            if hang.width is None:
                yield _sum(f"{name} cleat", cleat_width(hang, frame), "width {} − 2 × rail {}", spot.width, frame.rail)
        case ByTwoHooks() | BySawtooth():
            pass
        case _:
            assert_never(hang)
    yield _sum(f"{name} hook up", hung.hooks[0].height, "centre {} + height {} ÷ 2 − drop {}", y, spot.height, drop)
    yield from _across(name, hung, hang)


def _across(name: str, hung: HungFrame, hang: Hang) -> Iterator[Sum]:
    spot, (x, _) = hung.spot, hung.spot.centre
    match hang:
        case ByWire() | BySawtooth():
            yield _sum(f"{name} hook across", hung.hooks[0].left, "left {} + width {} ÷ 2", spot.left, spot.width)
        case ByTwoHooks():
            first, last = hung.hooks
            yield _sum(f"{name} hook a across", first.left, "left {} + in {}", spot.left, hang.inset)
            yield _sum(
                f"{name} hook b across", last.left, "left {} + width {} − in {}", spot.left, spot.width, hang.inset
            )
        case ByCleat():
            first, last = hung.hooks
            cleat = cleat_width(hang, hung.frame)
            yield _sum(f"{name} hook a across", first.left, "centre {} − cleat {} ÷ 2", x, cleat)
            yield _sum(f"{name} hook b across", last.left, "centre {} + cleat {} ÷ 2", x, cleat)
        case _:
            assert_never(hang)


def _sum(what: str, value: Fraction, words: str, *terms: Fraction | Count) -> Sum:
    return Sum(what=what, value=value, words=words, terms=terms, raw=value)
