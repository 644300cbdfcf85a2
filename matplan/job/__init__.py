"""The job: what the user wants framed, read from a TOML file into frozen records. It must not know how a piece is
solved.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from matplan.job.read.reader import parse_job, parse_reading, read_job

__all__ = ["parse_job", "parse_reading", "read_job"]


def __getattr__(name: str) -> object:
    """Return the reading, once it is asked for."""
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from matplan.job.read import reader

    return getattr(reader, name)
