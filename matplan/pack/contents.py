"""Which documents a plan's pack holds and what each is called. It must not know how a document looks."""

from __future__ import annotations

from enum import StrEnum


class Part(StrEnum):
    """The parts of a pack, as `--only` names them."""

    PLAN = "plan"
    WORKSHOP = "workshop"
    CUT = "cut"
    FRONT = "front"
    ORDER = "order"
    PRINT = "print"
