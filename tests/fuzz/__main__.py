"""Inputs that nobody means: `python -m tests.fuzz [--minutes 10] [--seed 1] [--kinds NAME,...] [--only N]`.

Tries each kind in turn and prints how many inputs of each it tried, how many were refused, and what broke the law of
`tests/fuzz/law.py`. An input follows from seed, kind and number: `--kinds job-values --only 812` tries that one again.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

from tests.fuzz.kinds import KINDS, tried
from tests.fuzz.law import short_searches

_SHOWN = 2000
"""Bytes of an input that broke the law."""


def main() -> int:
    """Try for a while; 1 where anything broke the law."""
    arguments = argparse.ArgumentParser(prog="python -m tests.fuzz", description="Try inputs that nobody means.")
    arguments.add_argument("--minutes", type=float, default=10)
    arguments.add_argument("--seed", type=int, default=1)
    arguments.add_argument("--kinds", default=",".join(KINDS), help="some of " + ", ".join(KINDS))
    arguments.add_argument("--only", type=int, help="the number of one input")
    given = arguments.parse_args()
    kinds = [name for name in given.kinds.split(",") if name]
    counts: Counter[str] = Counter()
    refused: Counter[str] = Counter()
    broken: Counter[str] = Counter()
    spent: Counter[str] = Counter()
    until = time.monotonic() + 60 * given.minutes
    number = -1
    with tempfile.TemporaryDirectory() as folder, short_searches():
        while time.monotonic() < until and (given.only is None or number < 0):
            number = number + 1 if given.only is None else given.only
            kind = min(kinds, key=lambda name: spent[name])  # each kind gets the same share of the time
            at = counts[kind] if given.only is None else given.only
            begin = time.monotonic()
            found = tried(kind, given.seed, at, Path(folder) / kind)
            spent[kind] += time.monotonic() - begin  # type: ignore[assignment]
            counts[kind] += 1
            refused[kind] += found.refused
            if found.breach:
                broken[kind] += 1
                sys.stdout.write(
                    f"--- {kind} {at}: {' '.join(found.command)}\n{found.breach}\n{found.input[:_SHOWN]!r}\n"
                )
                sys.stdout.flush()
    for kind in kinds:
        sys.stdout.write(f"{kind}: {counts[kind]} inputs, {refused[kind]} refused, {broken[kind]} broke the law\n")
    sys.stdout.write(f"seed {given.seed}: {counts.total()} inputs, {broken.total()} broke the law\n")
    return int(bool(broken.total()))


if __name__ == "__main__":
    sys.exit(main())
