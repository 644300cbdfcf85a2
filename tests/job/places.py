"""The places in the data of a job file, for the tests of its lines and of its reading."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from matplan.job.file.lines import Place


def places(value: Any, place: Place = ()) -> Iterator[Place]:
    """Every place in a value."""
    if place:
        yield place
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from places(inner, (*place, key))
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from places(inner, (*place, number))
