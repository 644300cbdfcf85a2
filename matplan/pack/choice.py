"""What of a pack is wanted: documents, pieces and walls by their names."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from matplan.documents.shelf import PARTS
from matplan.faults import MatplanError
from matplan.job.records import Job


class OnlyError(MatplanError, ValueError):
    """`--only` names something that is neither a document of a pack nor a piece or wall."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """The documents that are wanted, by the names of the shelf, and the pieces and walls, by their files."""

    parts: frozenset[str]
    pieces: frozenset[str]
    walls: frozenset[str]


def choice(job: Job, only: str | Iterable[str] | None) -> Choice:
    """Return what the names ask for: names of documents choose documents, names of pieces and walls choose these.

    A text that is no whole name holds several, separated by commas. Nothing named means all. Where pieces are named and
    walls are not, the walls are those that hang no other pieces. Raises `OnlyError`.
    """
    every = {piece.file for piece in job.pieces}
    hung = {wall.file: {job.pieces[index].file for index, _ in wall.hung} for wall in job.walls}
    if only is None:
        return Choice(parts=frozenset(PARTS), pieces=frozenset(every), walls=frozenset(hung))
    known = _known(job)
    names = [name for text in ((only,) if isinstance(only, str) else only) for name in _names(text, known)]
    unknown = sorted({name for name in names if name not in known})
    if unknown or not names:
        raise OnlyError(_unknown(job, unknown))
    parts = frozenset(name for name in names if name in PARTS)
    pieces = frozenset(p.file for p in job.pieces if {p.name, p.file} & set(names) - parts)
    walls = frozenset(w.file for w in job.walls if {w.name, w.file} & set(names) - parts)
    if walls and not pieces and not parts:
        parts = frozenset({"wall"})
    if pieces and not walls:
        walls = frozenset(file for file, on_it in hung.items() if on_it <= pieces)
    elif not pieces:
        walls = walls or frozenset(hung)
    return Choice(parts=parts or frozenset(PARTS), pieces=pieces or frozenset(every), walls=walls)


def _known(job: Job) -> frozenset[str]:
    pieces = ((piece.name, piece.file) for piece in job.pieces)
    return frozenset(PARTS).union(*pieces, *((wall.name, wall.file) for wall in job.walls))


def _names(text: str, known: frozenset[str]) -> Iterator[str]:
    """Yield the names in a text: itself where it is one, else what stands between commas, the longest names first."""
    words = [word.strip() for word in text.split(",")]
    while words:
        for end in range(len(words), 0, -1):
            name = ", ".join(words[:end])
            if name in known or end == 1:
                break
        if name:
            yield name
        words = words[end:]


def _unknown(job: Job, unknown: list[str]) -> str:
    got = ", ".join(repr(name) for name in unknown) or "nothing"
    pieces = ", ".join(piece.name for piece in job.pieces[:12]) + (", …" if len(job.pieces) > 12 else "")
    walls = f", the walls {', '.join(wall.name for wall in job.walls[:12])}" if job.walls else ""
    return f"got {got}; the documents are {', '.join(PARTS)}, the pieces {pieces}{walls}"
