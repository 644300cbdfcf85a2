"""One input tried: what it was, what was asked, and which law was broken."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """`breach` is "" where the law held; `refused` whether the input was, as most are."""

    input: bytes
    command: Sequence[str]
    breach: str = ""
    refused: bool = False


type Trial = Callable[[Random, Path], Tried]
"""Tries one input, which follows from the chance alone, in a folder that is kept for its kind."""
