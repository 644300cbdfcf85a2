"""The command line: arguments, exit codes and a few lines over each use case.

Exit codes: 0 done; 1 the job or list has an error; 2 wrong usage; 130 stopped by Ctrl-C. Errors go to stderr, one a
fault, and one for what is wrong in the same way at many places.
"""

from __future__ import annotations

import errno
import os
import sys
from collections.abc import Sequence
from io import StringIO
from pathlib import Path

from matplan.cli.commands import matplan
from matplan.faults import MESSAGE, CutListError, JobError, MatplanError, printable

INTERRUPTED = 130
_FULL = frozenset({errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO})
"""What a stream that goes to a file may answer; files of our own have errors of their own."""


def run(arguments: Sequence[str]) -> int:
    """Run one command and return its exit code. No exception and no broken pipe becomes a traceback."""
    import click

    try:
        code = matplan.main(args=list(arguments), prog_name="matplan", standalone_mode=False)
        sys.stdout.flush()
    except click.exceptions.Exit as stop:
        return stop.exit_code
    except (click.exceptions.Abort, KeyboardInterrupt):
        sys.stderr.write("stopped\n")
        return INTERRUPTED
    except click.ClickException as error:
        shown = StringIO()  # it holds what was typed
        error.show(file=shown)
        sys.stderr.write("\n".join(printable(line, 2000) for line in shown.getvalue().split("\n")))
        return error.exit_code
    except (JobError, CutListError) as error:
        sys.stderr.write(f"{error}\n")
        return 1
    except MatplanError as error:
        for text in error.args:
            sys.stderr.write(printable(str(text), MESSAGE) + "\n")
        return 1
    except BrokenPipeError:
        return _closed_pipe()
    except Exception as error:
        if isinstance(error, OSError) and error.errno in _FULL:
            sys.stderr.write(f"the answer cannot be written: {error.strerror}\n")
            return _closed_pipe()
        if isinstance(error, FileNotFoundError) and not _is_somewhere():
            sys.stderr.write("the folder that you are in is gone; go to another\n")
            return 1
        return _own_fault(error)

    return code if isinstance(code, int) else 0


def _closed_pipe() -> int:
    """Point stdout nowhere, where nobody reads on or nothing more goes, so that closing it does not complain again."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return 1


def _is_somewhere() -> bool:
    """Return whether the folder that the process runs in is still there."""
    try:
        return bool(Path.cwd())
    except FileNotFoundError:
        return False


def _own_fault(error: Exception) -> int:
    """Tell a mistake of matplan in one line; MATPLAN_TRACEBACK=1 shows where, for a report."""
    if os.environ.get("MATPLAN_TRACEBACK"):
        import traceback

        traceback.print_exception(error)
    kind = f"{type(error).__name__}: {error}"
    sys.stderr.write(
        f"matplan failed, and it is not your job's fault: {printable(kind)} (set MATPLAN_TRACEBACK=1 to see where)\n"
    )
    return 1
