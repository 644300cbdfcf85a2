"""The console script: answers `--version` without entering any room, everything else through `cli`."""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from io import TextIOWrapper


def main() -> None:
    """Runs the command line and exits with its code."""
    _open_streams()
    if sys.argv[1:] == ["--version"]:
        from matplan import __version__

        with suppress(OSError):  # it cannot be written: `run` tells it
            sys.stdout.write(f"matplan {__version__}\n")
            sys.stdout.flush()
            return
    import gc

    gc.set_threshold(
        50_000, 20, 20
    )  # a command is short: collecting while the rooms are entered costs a tenth of its time
    try:
        from matplan.cli import run

        sys.exit(run(sys.argv[1:]))
    except KeyboardInterrupt:  # before `run` listens to it
        sys.stderr.write("stopped\n")
        sys.exit(130)


def _open_streams() -> None:
    """Give the program streams where it was started without, and let what an encoding cannot say be a question mark."""
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            setattr(sys, name, os.fdopen(os.open(os.devnull, os.O_WRONLY), "w", encoding="utf-8"))
    if isinstance(sys.stdout, TextIOWrapper):
        sys.stdout.reconfigure(errors="replace")


if __name__ == "__main__":
    main()
