"""Progress of long work on stderr, where that is a terminal."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from fractions import Fraction

type Tick = Callable[[int, int], None]
"""Called with what is done and what there is to do."""


@contextmanager
def steps(what: str) -> Iterator[Tick]:
    """A bar while the block runs; nothing where stderr is no terminal."""
    if not sys.stderr.isatty():
        yield lambda _done, _total: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

    with Progress(
        TextColumn(what), BarColumn(), MofNCompleteColumn(), console=Console(stderr=True), transient=True
    ) as bar:
        task = bar.add_task(what, total=None)
        yield lambda done, total: bar.update(task, completed=done, total=total)


type Better = Callable[[Fraction, Fraction], None]
"""Called with what the best answer so far comes to, and the proven bound."""


@contextmanager
def found_so_far() -> Iterator[Better]:
    """A line that says what a search has found, while the block runs; nothing where stderr is no terminal."""
    if not sys.stderr.isatty():
        yield lambda _value, _bound: None
        return
    from rich.console import Console

    console = Console(stderr=True)
    with console.status("searching") as line:
        yield lambda value, bound: line.update(
            f"searching: {float(value):g} found, {float(bound):g} proven (Ctrl-C takes it)"
        )
