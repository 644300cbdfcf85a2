"""The built-in tables on a terminal."""

from __future__ import annotations

from collections.abc import Iterable

from matplan.catalogue import Kind
from matplan.catalogue.listing import listing
from matplan.lengths import Units


def print_tables(kinds: Iterable[Kind]) -> None:
    """Print each table with its heading; wide on a terminal, never wrapped into a file."""
    import sys

    from rich.box import SIMPLE_HEAD
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    console = Console(highlight=False, width=None if sys.stdout.isatty() else 200)
    for kind in kinds:
        found = listing(kind, Units.MM)
        table = Table(
            title=found.title, title_justify="left", box=SIMPLE_HEAD, caption=found.note or None, caption_justify="left"
        )
        for header in found.headers:
            table.add_column(Text(header), overflow="fold")
        for row in found.rows:
            table.add_row(*(Text(cell) for cell in row))
        console.print(table)
