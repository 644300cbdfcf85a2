"""Where a key belongs that stands in a table which lacks it: `sight` of a piece belongs in its frame's table."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from matplan.job.file.table import keys_of
from matplan.job.records.job import Job
from matplan.job.records.piece import Piece
from matplan.job.records.supplies import Frame, Hardware, Material, Paper
from matplan.job.records.walls import Wall
from matplan.job.records.workshop import Climate, Cutter, Rates

_TABLES = {
    "the job, above all tables": Job, "[paper.…]": Paper, "[board.…]": Material, "[frame.…]": Frame,
    "[[piece]]": Piece, "[[wall]]": Wall, "[cutter]": Cutter, "[climate]": Climate,
    "[costs]": Rates, "[hardware.…]": Hardware,
}  # fmt: skip
_MOST = 3
"""A key of more tables is no sign of where it belongs."""


@cache
def homes() -> Mapping[str, str]:
    """Return for each key the tables that it belongs in.

    >>> homes()["sight"], homes()["eye"]
    ('[frame.…]', '[[wall]]')
    """
    found: dict[str, list[str]] = {}
    for table, record in _TABLES.items():
        for name in keys_of(record):
            found.setdefault(name, []).append(table)
    return {name: " or ".join(tables) for name, tables in found.items() if len(tables) <= _MOST}
