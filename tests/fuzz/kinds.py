"""The kinds of inputs that are tried, by name."""

from __future__ import annotations

from pathlib import Path
from random import Random
from typing import Final

from tests.fuzz import jobs, lists, options, photos, requests
from tests.fuzz.law import TooLong
from tests.fuzz.trial import Trial, Tried

KINDS: Final[dict[str, Trial]] = {
    "job-bytes": jobs.job_bytes,
    "job-values": jobs.job_values,
    "job-keys": jobs.job_keys,
    "supplies": jobs.supplies,
    "leftovers": jobs.leftovers,
    "photos": photos.photos,
    "photo-places": photos.places,
    "cut-lists": lists.lists,
    "options": options.options,
    "requests": requests.requests,
}


def tried(kind: str, seed: int, number: int, folder: Path) -> Tried:
    """Try the input of that number: the same one for the same seed, kind and number."""
    folder.mkdir(parents=True, exist_ok=True)
    try:
        return KINDS[kind](Random(f"{seed} {kind} {number}"), folder)
    except TooLong as error:
        return Tried(input=b"", command=[kind], breach=str(error))
