"""What concerns a job as a whole, and no piece or wall alone."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from matplan.job.records import Job
from matplan.mats.records import Finding, Level


def findings_of(job: Job) -> Iterator[Finding]:
    """Yield all findings of a job as a whole."""
    yield from _hung_nowhere(job)
    yield from _hung_too_often(job)


def _hung_nowhere(job: Job) -> Iterator[Finding]:
    """Yield the pieces that no wall names while a wall names others."""
    hung = {index for wall in job.walls for index, _ in wall.hung}
    if not hung:
        return
    for index, piece in enumerate(job.pieces):
        if index not in hung:
            text = f'"{piece.name}" hangs on no wall, while others do; name it in a wall\'s pieces'
            yield Finding(level=Level.NOTE, code="hung-nowhere", where=piece.name, text=text)


def _hung_too_often(job: Job) -> Iterator[Finding]:
    """Yield the pieces of which the walls together hang more than are made."""
    hung = Counter(index for wall in job.walls for index, _ in wall.hung)
    for index, count in sorted(hung.items()):
        piece = job.pieces[index]
        if count > piece.quantity:
            made = f"{piece.quantity} {'is' if piece.quantity == 1 else 'are'} made"
            text = (
                f'the walls hang {count} of "{piece.name}", and {made}; write quantity = {count} or name it less often'
            )
            yield Finding(level=Level.WARNING, code="more-than-made", where=piece.name, text=text)
