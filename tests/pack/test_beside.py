"""Work done beside gives the same bytes and the same errors as work done here."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from matplan.pack.beside import beside

SCRIPT = """
import os
from matplan.pack.beside import beside
here = os.getpid()
there = beside(lambda: str(os.getpid()).encode())
print(int(there()) != here)
def failing():
    raise ValueError("no ink")
try:
    beside(failing)()
except ValueError as error:
    print(error)
"""


def test_among_threads_it_is_done_here() -> None:
    """pytest-xdist's workers have threads; so has a server."""
    import threading

    done = threading.Event()
    thread = threading.Thread(target=done.wait)
    thread.start()
    try:
        assert beside(lambda: str(os.getpid()).encode())() == str(os.getpid()).encode()
    finally:
        done.set()
        thread.join()


@pytest.mark.skipif(
    not hasattr(os, "sched_getaffinity") or len(os.sched_getaffinity(0)) < 2, reason="needs Linux and a second core"
)
def test_alone_it_is_done_in_another_process_and_fails_here() -> None:
    made = subprocess.run([sys.executable, "-W", "error", "-c", SCRIPT], capture_output=True, text=True, check=True)
    assert made.stdout.split("\n")[:2] == ["True", "no ink"]
