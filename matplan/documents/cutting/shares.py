"""A board's windows in shares, where one drawing has no room for the numbers of all its cuts.

Windows that are cut alike give few readings in blocks: the cuts of a row or a column share a leader. The cuts of unlike
windows in a row lie near one line, and their leaders would be pushed far apart; such windows are scattered.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import accumulate, pairwise
from math import sqrt
from typing import Final

from matplan.documents.cutting.board import Board

type Shares = Iterator[Sequence[int]]
"""Windows by their places in the piece."""
type Way = Callable[[Board, int], Shares]
"""A way to share out a board's windows over so many drawings."""


def _blocks(board: Board, count: int) -> Shares:
    """Yield the windows in so many blocks, as square as may be, so that no reading has many numbers."""
    backs, rows = [opening.back.box for opening in board.layer.openings], board.piece.ask.rows
    strips = min(count, max(1, round(sqrt(count * max(map(len, rows)) / len(rows)))))
    across = sorted(board.order, key=lambda n: (-backs[n].centre[0], backs[n].centre[1]))
    each = [count // strips + (strip < count % strips) for strip in range(strips)]
    for strip, blocks in zip(_runs(across, each), each, strict=True):
        yield from _runs(sorted(strip, key=lambda n: (backs[n].centre[1], -backs[n].centre[0])), [1] * blocks)


def _runs(windows: Sequence[int], weights: Sequence[int]) -> Shares:
    """Yield the windows in runs as long as their weights ask for."""
    stops = [round(len(windows) * weight / sum(weights)) for weight in accumulate(weights, initial=0)]
    return (windows[start:stop] for start, stop in pairwise(stops) if start < stop)


def _scattered(board: Board, count: int) -> Shares:
    """Yield the windows in so many shares, with as few as may be of one row, or of one place in their rows."""
    places = {window: (row, at) for row, line in enumerate(board.piece.ask.rows) for at, window in enumerate(line)}
    shares: list[list[int]] = [[] for _ in range(count)]
    most = -(-len(board.order) // count)
    for window in board.order:
        near = [
            sum(one == other for member in share for one, other in zip(places[member], places[window], strict=True))
            for share in shares
        ]
        open_ones = (n for n, share in enumerate(shares) if len(share) < most)
        shares[min(open_ones, key=lambda n: (near[n], len(shares[n])))].append(window)
    return (share for share in shares if share)


WAYS: Final[tuple[Way, ...]] = (_blocks, _scattered)
"""The ways as they are tried."""
