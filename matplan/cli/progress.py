"""Progress of long work on stderr, where that is a terminal."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from fractions import Fraction

type Tick = Callable[[int, int], None]
"""Called with what is done and what there is to do."""


@contextmanager
def steps(what: str) -> Iterator[Tick]:
    """Yield a tick that draws a bar from its first call on, while the block runs; nothing if stderr is no terminal."""
    with ExitStack() as block:
        draw: Tick | None = None

        def tick(done: int, total: int) -> None:
            nonlocal draw
            if draw is None:
                draw = block.enter_context(_bar(what))
            draw(done, total)

        yield tick if sys.stderr.isatty() else lambda _done, _total: None


@contextmanager
def _bar(what: str) -> Iterator[Tick]:
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task(what, total=None)
        yield lambda done, total: bar.update(task, completed=done, total=total)


type Better = Callable[[Fraction, Fraction], None]
"""Called with what the best answer so far comes to, and the proven bound."""


@contextmanager
def found_so_far() -> Iterator[Better]:
    """Yield a tick for a line that says what a search has found; nothing if stderr is no terminal."""
    if not sys.stderr.isatty():
        yield lambda _value, _bound: None
        return
    from rich.console import Console

    console = Console(stderr=True)
    with console.status("searching") as line:
        yield lambda value, bound: line.update(
            f"searching: {float(value):g} found, {float(bound):g} proven (Ctrl-C takes it)"
        )
