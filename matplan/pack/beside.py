"""Work done beside: in a process of its own, where the system gives one that already knows all that this one does.

It must not know what the work is.
"""

from __future__ import annotations

import os
import sys
import threading
from collections.abc import Callable
from multiprocessing import get_context
from multiprocessing.connection import Connection

type Work = Callable[[], bytes]


def beside(work: Work) -> Work:
    """Starts that work and returns what waits for its bytes. Without a second core, or among threads, it is done when
    asked for.

    A copy of a process with threads may wait for ever for a lock that one of them held; so it is copied only while it
    has one.
    """
    if sys.platform != "linux" or threading.active_count() > 1 or len(os.sched_getaffinity(0)) < 2:
        return work
    context = get_context("fork")
    here, there = context.Pipe(duplex=False)
    process = context.Process(target=_done, args=(work, there), daemon=True)
    process.start()
    there.close()

    def result() -> bytes:
        try:
            return here.recv_bytes()
        except EOFError:  # it failed beside: failing here says why
            return work()
        finally:
            here.close()
            process.join()

    return result


def _done(work: Work, there: Connection) -> None:
    import contextlib

    with contextlib.suppress(Exception), there:
        there.send_bytes(work())
