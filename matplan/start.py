"""The console script: answers `--version` without entering any room, everything else through `cli`."""

from __future__ import annotations

import sys


def main() -> None:
    """Runs the command line and exits with its code."""
    if sys.argv[1:] == ["--version"]:
        from matplan import __version__

        sys.stdout.write(f"matplan {__version__}\n")
        return
    import gc

    gc.set_threshold(
        50_000, 20, 20
    )  # a command is short: collecting while the rooms are entered costs a tenth of its time
    from matplan.cli import run

    sys.exit(run(sys.argv[1:]))


if __name__ == "__main__":
    main()
