"""What the page is told of a piece: its part of the plan, its sums and its drawings, made once for each solved piece.

A workshop returns the very same object for a piece that has not changed, so that it is known by its identity; the
piece is kept beside what is told of it, so that no other takes its place.
"""

from __future__ import annotations

import hashlib
import json
from collections import OrderedDict
from dataclasses import dataclass
from typing import Any, Final

from matplan.job.records import Job
from matplan.lengths import Printer
from matplan.mats.records import SolvedPiece
from matplan.pack.single import names
from matplan.planning.written.pieces import piece_json
from matplan.sums import figures

KEPT: Final = 4096

type Body = dict[str, Any]
"""What becomes JSON."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """A piece as the page has it; `mark` is the same where all of it is."""

    piece: SolvedPiece
    plan: Body
    sums: list[Body]
    documents: dict[str, str]
    mark: str


class Teller:
    """Tells pieces, and keeps what it has told."""

    def __init__(self, keep: int = KEPT) -> None:
        self._keep = keep
        self._told: OrderedDict[tuple[object, ...], Told] = OrderedDict()

    def told(self, job: Job, piece: SolvedPiece, ready: int) -> Told:
        """Return a piece of a job, of whose frames so many lie ready."""
        key = (id(piece), ready, job.cutter, job.printer)
        found = self._told.get(key)
        if found is None:
            plan, sums, drawn = piece_json(piece, job.cutter, ready), _sums(piece, job.printer), names(job, piece)
            found = Told(piece=piece, plan=plan, sums=sums, documents=drawn, mark=mark_of([plan, sums, drawn]))
            self._told[key] = found
            if len(self._told) > self._keep:
                self._told.popitem(last=False)
        return found


def mark_of(value: object) -> str:
    """Return a mark of a value that becomes JSON, or of a text."""
    text = value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
    return hashlib.blake2b(text.encode("utf-8", "surrogatepass"), digest_size=8).hexdigest()


def _sums(piece: SolvedPiece, printer: Printer) -> list[Body]:
    """Return each sum of a piece: what it makes, its words, and the names of its terms."""
    return [
        {
            "what": one.what,
            "of": one.of,
            "value": float(one.value),
            "text": one.in_words(printer),
            "terms": [term.name for term in figures(one.tree) if term.name],
        }
        for one in piece.sums
    ]
