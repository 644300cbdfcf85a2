"""What of a pack is wanted: documents, what one person needs of them, pieces and walls, by their names."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from matplan.documents.document import Document, Form
from matplan.documents.shelf import KITS, PARTS
from matplan.faults import MatplanError, printable
from matplan.job.records import Job

DOCUMENTS: Final = frozenset((*PARTS, *KITS))
"""The names that choose documents."""
PREFIX: Final = "documents:"
"""Stands before a document's name that a piece or wall has too."""
_BINDER: Final = frozenset({"plan", "workshop"})
"""Where nothing but these is chosen, the workbook binds every document."""


class OnlyError(MatplanError, ValueError):
    """`--only` names something that is neither a document of a pack nor a piece or wall."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """The documents that are wanted, by the names of the shelf, and the pieces and walls, by their files.

    `all_bound` tells that the workbook binds every document, else it binds the chosen ones; `notes` say how a name
    was taken that can be taken in two ways. `machine` are the forms of machine files that are wanted.
    """

    parts: frozenset[str]
    pieces: frozenset[str]
    walls: frozenset[str]
    all_bound: bool = False
    notes: tuple[str, ...] = ()
    machine: frozenset[Form] = frozenset()

    def forms(self, document: Document) -> tuple[Form, ...]:
        """Return the forms that are wanted of a chosen document: of a machine file those asked for."""
        return tuple(form for form in document.forms if not document.machine or form in self.machine)

    def takes(self, document: Document) -> bool:
        """Return whether the document is chosen itself; machine files are by their forms."""
        return bool(self.forms(document)) if document.machine else document.among(self.parts)


def choice(job: Job, only: str | Iterable[str] | None) -> Choice:
    """Return what the names ask for: names of documents choose documents, names of pieces and walls choose these.

    A text that is no whole name holds several, separated by commas. A name of a piece or wall goes before the same name
    of documents, which `documents:` asks for. Nothing named means all. Where pieces are named and walls are not, the
    walls are those that hang no other pieces; a wall that is named alone brings its own pieces. Raises `OnlyError`.
    """
    every = {piece.file for piece in job.pieces}
    hung = {wall.file: {job.pieces[index].file for index, _ in wall.hung} for wall in job.walls}
    if only is None:
        return Choice(parts=frozenset(PARTS), pieces=frozenset(every), walls=frozenset(hung))
    known = _known(job)
    notes: list[str] = []
    names = [name for text in ((only,) if isinstance(only, str) else only) for name in _names(text, known, notes)]
    unknown = sorted({name for name in names if name not in known})
    if unknown or not names:
        raise OnlyError(_unknown(job, unknown))
    things = frozenset((*(piece.name for piece in job.pieces), *(wall.name for wall in job.walls)))
    parts = frozenset(name.removeprefix(PREFIX) for name in names if name not in things) & DOCUMENTS
    notes.extend(
        f"{printable(name)} is taken as the piece or wall of that name; for the documents write {PREFIX}{name}"
        for name in dict.fromkeys(names)
        if name in things & DOCUMENTS
    )
    own = frozenset(name for name in names if name in things or name not in DOCUMENTS)
    pieces = frozenset(piece.file for piece in job.pieces if {piece.name, piece.file} & own)
    walls = frozenset(wall.file for wall in job.walls if {wall.name, wall.file} & own)
    if walls and not pieces and not parts:
        parts = frozenset({"wall"})
        pieces = frozenset(file for wall in walls for file in hung[wall])
    elif pieces and not walls:
        walls = frozenset(file for file, on_it in hung.items() if on_it <= pieces)
    elif not pieces:
        pieces, walls = frozenset(every), walls or frozenset(hung)
    return Choice(
        parts=parts or frozenset(PARTS),
        pieces=pieces,
        walls=walls,
        all_bound="workshop" in parts and parts <= _BINDER,
        notes=tuple(notes),
    )


def _known(job: Job) -> frozenset[str]:
    """Return every name that may be chosen."""
    pieces = ((piece.name, piece.file) for piece in job.pieces)
    walls = ((wall.name, wall.file) for wall in job.walls)
    return DOCUMENTS.union(*pieces, *walls, (PREFIX + name for name in DOCUMENTS))


def _names(text: str, known: frozenset[str], notes: list[str]) -> Iterator[str]:
    """Yield the names in a text: itself where it is one, else what stands between commas, the longest names first."""
    words = [word.strip() for word in text.split(",")]
    while words:
        for end in range(len(words), 0, -1):
            name = text if text in known else ", ".join(words[:end])
            if name in known or end == 1:
                break
        if end > 1 and all(word in known for word in words[:end]):
            notes.append(f"{printable(name)} is taken as one name; for its parts write --only once for each")
        if name:
            yield name
        words = words[end:]


def _unknown(job: Job, unknown: list[str]) -> str:
    got = ", ".join(repr(name) for name in unknown) or "nothing"
    pieces = ", ".join(piece.name for piece in job.pieces[:12]) + (", …" if len(job.pieces) > 12 else "")
    walls = f", the walls {', '.join(wall.name for wall in job.walls[:12])}" if job.walls else ""
    people = ", ".join(kit for kit in KITS if kit not in PARTS)
    return f"got {got}; the documents are {', '.join(PARTS)}, several at once {people}, the pieces {pieces}{walls}"
