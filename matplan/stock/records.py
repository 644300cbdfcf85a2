"""What is cut from what: parts and kinds of sheet before, laid sheets after.

Lengths are exact millimetres. Coordinates are those of the whole sheet, x to the right and y down from its top left
corner; sizes of pieces and offcuts are net, the kerf lies beyond them.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from matplan.lengths import Box, Size


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """A rectangle to cut. `turn` tells whether it may lie by a quarter turn (grain, or a picture's way up, forbids it).

    `drops` are the rectangles that fall out of each one when its windows are cut, trimmed already: they serve as stock.
    """

    name: str
    size: Size
    quantity: int = 1
    turn: bool = True
    drops: tuple[Size, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StockKind:
    """Sheets of one size: `have` of them lie ready and cost nothing, at most `limit` more are bought (None: any
    number).

    `trim` is taken off all four edges and includes its kerf. `falls_from` names the part that a drop-out falls out of.
    """

    name: str
    size: Size
    price: Decimal | None = None
    have: int = 0
    limit: int | None = None
    trim: Fraction = Fraction(0)
    falls_from: str | None = None

    @property
    def most(self) -> int | None:
        """How many there can be, or `None` for any number."""
        return None if self.limit is None else self.have + self.limit

    @property
    def usable(self) -> Box:
        """What the trim leaves, in the sheet's coordinates."""
        return Box(self.trim, self.trim, self.size.width - 2 * self.trim, self.size.height - 2 * self.trim)

    def holds(self, part: Part) -> bool:
        """Return whether one such part comes out of one such sheet."""
        room = self.usable.size
        return room.holds(part.size) or (part.turn and room.holds(part.size.turned))


class Measure(StrEnum):
    """What an answer is measured by: cost where prices are given, else sheets of the one kind there is, else area."""

    COST = "cost"
    COUNT = "sheets"
    AREA = "area"


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A part as it lies on its sheet."""

    name: str
    x: Fraction
    y: Fraction
    width: Fraction
    height: Fraction
    turned: bool = False

    @property
    def box(self) -> Box:
        return Box(self.x, self.y, self.width, self.height)


@dataclass(frozen=True, slots=True, kw_only=True)
class CutLine:
    """One cut, edge to edge of the part being cut, drawn at the kept part's far edge; the kerf goes beyond it.

    `setting` is what the fence is set to: the width of the part that is kept.
    """

    x1: Fraction
    y1: Fraction
    x2: Fraction
    y2: Fraction
    setting: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidSheet:
    """A sheet with its pieces and its cuts in the order in which they are made; `count` sheets are cut so."""

    stock: StockKind
    count: int
    pieces: tuple[Piece, ...]
    cuts: tuple[CutLine, ...]
    offcuts: tuple[Box, ...] = ()

    @property
    def settings(self) -> int:
        """How often the fence is set, the first time included."""
        marks = [cut.setting for cut in self.cuts]
        return sum(mark != before for mark, before in zip(marks, [None, *marks[:-1]], strict=True))


@dataclass(frozen=True, slots=True, kw_only=True)
class Unplaced:
    """Parts that no sheet holds, or that no sheet is left for."""

    name: str
    quantity: int
    reason: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """How a list of parts is cut. `lower_bound` is proven, in `measure`; sheets that fell out of parts count in none of
    the sums.
    """

    sheets: tuple[LaidSheet, ...]
    measure: Measure
    lower_bound: Fraction
    cost: Decimal | None = None
    unplaced: tuple[Unplaced, ...] = ()

    @property
    def used(self) -> dict[str, int]:
        """How many sheets of each kind, those that lie ready included, drop-outs not."""
        counts: dict[str, int] = {}
        for sheet in self.sheets:
            if sheet.stock.falls_from is None:
                counts[sheet.stock.name] = counts.get(sheet.stock.name, 0) + sheet.count
        return counts

    def bought(self, kind: StockKind) -> int:
        """Return how many of the kind must be bought, beyond those that lie ready."""
        return max(0, self.count(kind) - kind.have)

    def count(self, kind: StockKind) -> int:
        """Return how many of the kind are cut, those that lie ready included."""
        return sum(sheet.count for sheet in self.sheets if sheet.stock == kind)

    @property
    def kinds(self) -> tuple[StockKind, ...]:
        """The kinds of sheet that are used, drop-outs not, in the order in which they come."""
        return tuple(dict.fromkeys(sheet.stock for sheet in self.sheets if sheet.stock.falls_from is None))

    @property
    def area_used(self) -> Fraction:
        """The area of the sheets, in mm²."""
        return sum(
            (sheet.stock.size.area * sheet.count for sheet in self.sheets if sheet.stock.falls_from is None),
            Fraction(0),
        )

    @property
    def value(self) -> Fraction:
        """What the answer comes to in its measure: the cost, the number of sheets, or the area bought."""
        match self.measure:
            case Measure.COST:
                return Fraction(self.cost or 0)
            case Measure.COUNT:
                return Fraction(sum(self.used.values()))
            case Measure.AREA:
                return sum((kind.size.area * self.bought(kind) for kind in self.kinds), Fraction(0))

    @property
    def optimal(self) -> bool:
        """Whether nothing is left over and the proven bound is met."""
        return not self.unplaced and self.value == self.lower_bound
