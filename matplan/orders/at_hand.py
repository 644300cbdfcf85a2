"""Which pieces get the ready-made frames that lie ready."""

from __future__ import annotations

from collections.abc import Iterable

from matplan.job.records import Piece


def frames_at_hand(pieces: Iterable[Piece]) -> dict[str, int]:
    """Return how many of its frames lie ready for each piece, by its name; the first pieces of a job have them first.

    A frame that is turned is the same frame.
    """
    left: dict[str, int] = {}
    found: dict[str, int] = {}
    for piece in pieces:
        frame = piece.frame
        ready = min(piece.quantity, left.setdefault(frame.name, frame.have)) if frame.ready_made else 0
        found[piece.name] = ready
        left[frame.name] = left.get(frame.name, 0) - ready
    return found
