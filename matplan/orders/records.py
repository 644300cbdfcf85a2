"""A line of the order list."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from matplan.lengths import Box, Size


class Item(StrEnum):
    """What a line of the order is."""

    FRAME = "frame"
    MOULDING = "moulding"
    MAT = "mat"
    READY_CUT = "ready-cut mat"
    GLAZING = "glazing"
    BACKING = "backing"
    MOUNT = "mount"
    SPACER = "spacer"
    SHEET = "sheet"
    HARDWARE = "hardware"


MADE_TO_MEASURE = "made to measure"
CUT_HERE = "sticks, cut here"
"""The note of moulding that is bought in sticks: its size is the length and the face width."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    """One line: `openings` are the backs of the layer's openings; `note` says what a size cannot."""

    item: Item
    material: str
    size: Size | None = None
    openings: tuple[Box, ...] = ()
    quantity: int
    pieces: tuple[str, ...]
    unit_price: Decimal | None = None
    note: str = ""

    @property
    def price(self) -> Decimal | None:
        """Unit price × quantity, or `None` where no price is known."""
        return None if self.unit_price is None else self.unit_price * self.quantity
