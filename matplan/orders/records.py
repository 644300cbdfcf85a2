"""A line of the order list."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum
from fractions import Fraction
from typing import Final

from matplan.lengths import Box, Size
from matplan.orders.money import USUAL_DECIMALS


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
    PAPER = "paper"


SHOPS: Final = {
    Item.FRAME: "frame shop",
    Item.MOULDING: "frame shop",
    **dict.fromkeys((Item.MAT, Item.READY_CUT, Item.GLAZING, Item.BACKING, Item.MOUNT, Item.SHEET), "board and glass"),
    Item.SPACER: "hardware",
    Item.HARDWARE: "hardware",
    Item.PAPER: "paper",
}
"""The kind of shop that sells a thing, in the order in which one goes there."""
MADE_TO_MEASURE = "made to measure"
AT_HAND = "lies ready"
"""The note of what is not bought because it is there."""
CUT_HERE = "sticks, cut here"
"""The note of moulding that is bought in sticks: its size is the length and the face width."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderLine:
    """One line: `openings` are the backs of the layer's openings; `note` says what a size cannot.

    `quantity` counts pieces, or what is bought by its length: metres or feet, as `unit` says, to one decimal. `seen`
    are the openings as the eye sees them, where these are not the backs.
    """

    item: Item
    material: str
    size: Size | None = None
    openings: tuple[Box, ...] = ()
    seen: tuple[Box, ...] = ()
    quantity: int | Decimal
    unit: str = ""
    pieces: tuple[str, ...]
    unit_price: Decimal | None = None
    layer: int = 0
    """Of a mat that a supplier cuts, which of its piece's layers it is, from 1 next to the glazing; else 0."""
    note: str = ""
    article: str = ""
    """What stands for the note where lines are gathered: equal mats' notes differ by the names of their windows."""
    rank: Fraction | None = None
    """Of gathered lines that have one, the first with the highest tells the note."""
    supplier: str = ""
    """Where it is bought, "" where the job names nobody."""
    thing: str = ""
    """What lies ready of it is known by this: a small thing's name in the tables, `paper` and a paper's name."""
    spare: Decimal = Decimal(0)
    """What is left of the last pack or roll, in pieces or in metres or feet."""
    decimals: int = USUAL_DECIMALS
    """To how many decimals its price is rounded."""
    small: bool = False
    """Whether a selling price may do without its price."""

    @property
    def where(self) -> str:
        """The name of whoever sells it, else the kind of shop that does."""
        return self.supplier or SHOPS[self.item]

    @property
    def price(self) -> Decimal | None:
        """Unit price × quantity, or `None` where no price is known; what is not exact is rounded to the minor unit."""
        if self.unit_price is None:
            return None
        whole = self.unit_price * self.quantity
        fine = self.unit or self.unit_price != self.unit_price.quantize(Decimal("0.0001"))
        return whole.quantize(Decimal(1).scaleb(-self.decimals), ROUND_HALF_UP) if fine else whole
