"""Measures every document on seeded jobs, and prints a table.

    python -m tests.drawn [--jobs 200] [--seed 1]

A row for each document of the shelf: sheets, clashes by the checker, the smallest letter, papers. Below it stands what
`tests.documents.seeded` counts on cutting diagrams: numbers, starts and stops that are missing, the board's share of
its page. The jobs are those of `tests.documents.seeded`; a few run in the suite (`tests/test_drawn.py`).
"""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from matplan.documents.document import Document, Form
from matplan.documents.parts.folio import Folio
from matplan.documents.shelf import SHELF
from matplan.drawing import clashes
from matplan.drawing.book import Book
from matplan.drawing.sheet import Sheet
from matplan.faults import MatplanError
from matplan.planning import Plan
from tests.documents.seeded import LARGEST, Measured, pieces
from tests.making import planned

DRAWN = {Form.SVG, Form.PDF, Form.FULL_SIZE}
PAPERS = {(210, 297): "A4", (297, 420): "A3", (215.9, 279.4): "Letter", (279.4, 431.8): "Tabloid"}


@dataclass(slots=True)
class Row:
    """What was found on the sheets of one document."""

    sheets: int = 0
    clashes: list[str] = field(default_factory=list)
    smallest: float = 100.0
    papers: Counter[str] = field(default_factory=Counter)

    def take(self, sheet: Sheet) -> None:
        """Measure a sheet."""
        self.sheets += 1
        self.smallest = min([self.smallest, *(text.size for text in sheet.texts())])
        self.clashes += [f"{sheet.name}: {clash}" for clash in clashes.check(sheet)]
        narrow, long = sorted(sheet.size)
        self.papers[PAPERS.get((narrow, long), "own size")] += 1


def sheets_of(document: Document, folio: Folio) -> Iterator[Sheet]:
    """Yield all sheets of a document in a folio."""
    for subject in document.over(folio):
        drawn: Any = document.draw(folio, subject)
        if isinstance(drawn, Book):
            yield from drawn.sheets
        elif drawn:
            yield from (one for one in drawn if isinstance(one, Sheet))


def rows_of(plans: Iterator[Plan], diagrams: Measured) -> dict[str, Row]:
    """Return a row for each document that is drawn; the cutting diagrams are counted besides."""
    rows: dict[str, Row] = {}
    for plan in plans:
        folio = Folio(job=plan.job, pieces=plan.pieces, walls=plan.walls, plan=plan)
        for document in SHELF:
            if (not document.forms or DRAWN & set(document.forms)) and document.part != "workbook":
                row = rows.setdefault(document.title, Row())
                for sheet in sheets_of(document, folio):
                    row.take(sheet)
        diagrams.take(plan)
    return rows


def plans(count: int, seed: int) -> Iterator[Plan]:
    """Yield the plans of so many seeded jobs of one piece; a job that cannot be solved is passed over."""
    for ask, units in pieces(count, seed):
        try:
            plan = planned(ask, units=units)
        except MatplanError:
            continue
        if max(plan.pieces[0].blank.width, plan.pieces[0].blank.height) <= LARGEST:
            yield plan


def lines(rows: dict[str, Row], diagrams: Measured) -> Iterator[str]:
    """Yield the table and what stands below it."""
    yield f"{'document':34}{'sheets':>8}{'clashes':>9}{'least mm':>10}  papers"
    for title, row in rows.items():
        if row.sheets:
            papers = ", ".join(f"{paper} {number}" for paper, number in row.papers.most_common())
            yield f"{title:34}{row.sheets:>8}{len(row.clashes):>9}{row.smallest:>10.2f}  {papers}"
    for row in rows.values():
        yield from row.clashes[:3]
    yield from diagrams.report()


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--jobs", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    found = Measured()
    print("\n".join(lines(rows_of(plans(asked.jobs, asked.seed), found), found)))  # noqa: T201
