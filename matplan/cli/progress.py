"""Progress of long work on stderr, where that is a terminal."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

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

    with Progress(TextColumn(what), BarColumn(), MofNCompleteColumn(), console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(what, total=None)
        yield lambda done, total: bar.update(task, completed=done, total=total)
