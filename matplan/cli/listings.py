"""The built-in tables and the words of the trade on a terminal."""

from __future__ import annotations

from collections.abc import Iterable

from matplan.catalogue import Kind
from matplan.catalogue.listing import SCHEMA, listing
from matplan.catalogue.words import Word
from matplan.job.file.colours import COLOURS
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


def words_text(words: Iterable[Word]) -> str:
    """Return each word with its sentence, wrapped, and other words for it."""
    from textwrap import fill

    indent = " " * 4
    blocks = []
    for word in words:
        also = f" (also {', '.join(word.also)})" if word.also else ""
        blocks.append(f"{word.name}{also}\n{fill(word.text, 100, initial_indent=indent, subsequent_indent=indent)}")
    return "\n".join(blocks)


def colours_text() -> str:
    """Return the plain names of colours with their codes."""
    return "\n".join(f"{name:<14} {code}" for name, code in COLOURS.items())


def colours_document() -> dict[str, object]:
    """Return the plain names of colours as `sizes` has its tables."""
    rows = [{"name": name, "code": code} for name, code in COLOURS.items()]
    return {"schema": SCHEMA, "tables": [{"kind": "colours", "title": "Colours", "rows": rows}]}
