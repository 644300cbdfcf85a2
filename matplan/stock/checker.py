"""The independent checker: no answer is believed before it has been cut here.

It shares no code with what lays parts out. Every sheet is cut up cut by cut, exactly: each cut must run from edge to
edge of a part that exists at that moment, and what comes out must be the pieces, whole. Then the pieces are counted
against the list, the sheets against the stock, and the sums are made anew.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction

from matplan.faults import StockError
from matplan.lengths import Box
from matplan.stock.records import CutLine, LaidSheet, Layout, Measure, Part, Piece, StockKind

type _Span = tuple[Fraction, Fraction]


def check_layout(layout: Layout, parts: Sequence[Part], kinds: Sequence[StockKind], kerf: Fraction) -> None:
    """Raises `StockError`, naming everything that is wrong, unless the layout can be cut and is what it says it is.

    `kinds` are the sheets in stock and to buy; drop-outs follow from the parts.
    """
    faults = [
        *_sheets(layout, kerf),
        *_counts(layout, parts),
        *_stock(layout, kinds),
        *_drops(layout, parts),
        *_sums(layout, kinds),
    ]
    if faults:
        shown = faults[:8] if len(faults) <= 8 else [*faults[:8], f"and {len(faults) - 8} more"]
        raise StockError("the answer of the sheet solver does not hold: " + "; ".join(shown))


# --- one sheet -------------------------------------------------------------------------------------------------------


def _sheets(layout: Layout, kerf: Fraction) -> Iterator[str]:
    for number, sheet in enumerate(layout.sheets, 1):
        where = f"sheet {number} ({sheet.stock.name})"
        if sheet.count < 1:
            yield f"{where} counts {sheet.count} times"
        if not sheet.pieces:
            yield f"{where} has no piece"
        for fault in cut_up(sheet, kerf):
            yield f"{where}: {fault}"


def cut_up(sheet: LaidSheet, kerf: Fraction) -> Iterator[str]:
    """Yield what is wrong with one sheet when its cuts are made one after another."""
    room = sheet.stock.usable
    yield from _lying(sheet.pieces, room)
    pool = _Pool(room)
    for number, cut in enumerate(sheet.cuts, 1):
        fault = pool.cut(cut, kerf)
        if fault:
            yield f"cut {number} {fault}"
            return
    left = Counter(pool.boxes())
    for piece in sheet.pieces:
        if not left[piece.box]:
            yield f"{piece.name} does not come out of the cuts whole"
        left[piece.box] -= 1
    for offcut in sheet.offcuts:
        if not left[offcut]:
            yield f"the offcut at {float(offcut.x):g}, {float(offcut.y):g} does not come out of the cuts"
        left[offcut] -= 1


def _lying(pieces: Sequence[Piece], room: Box) -> Iterator[str]:
    """Yield pieces outside the trimmed sheet, or over one another (swept from left to right)."""
    for piece in pieces:
        if piece.width <= 0 or piece.height <= 0:
            yield f"{piece.name} has no size"
        if not piece.box.within(room):
            yield f"{piece.name} reaches past the trimmed sheet"
    active: list[Piece] = []
    for piece in sorted(pieces, key=lambda one: (one.x, one.y)):
        active = [other for other in active if other.x + other.width > piece.x]
        for other in active:
            if piece.y < other.y + other.height and other.y < piece.y + piece.height:
                yield f"{piece.name} lies over {other.name}"
        active.append(piece)


class _Pool:
    """The parts that exist at a moment, found by the edges that a cut runs between."""

    def __init__(self, room: Box) -> None:
        self._upright: defaultdict[_Span, list[Box]] = defaultdict(list)
        self._level: defaultdict[_Span, list[Box]] = defaultdict(list)
        self._add(room)

    def _add(self, box: Box) -> None:
        if box.width > 0 and box.height > 0:
            self._upright[box.y, box.bottom].append(box)
            self._level[box.x, box.right].append(box)

    def _drop(self, box: Box) -> None:
        self._upright[box.y, box.bottom].remove(box)
        self._level[box.x, box.right].remove(box)

    def boxes(self) -> Iterator[Box]:
        for found in self._upright.values():
            yield from found

    def cut(self, cut: CutLine, kerf: Fraction) -> str:
        """Makes a cut; returns what is wrong with it, "" where it can be made."""
        if cut.x1 == cut.x2 and cut.y1 < cut.y2:
            box = next((b for b in self._upright[cut.y1, cut.y2] if b.x < cut.x1 < b.right), None)
            if box is None:
                return "runs edge to edge of no part"
            kept, rest = cut.x1 - box.x, box.right - cut.x1 - kerf
            new = (Box(box.x, box.y, kept, box.height), Box(cut.x1 + kerf, box.y, rest, box.height))
        elif cut.y1 == cut.y2 and cut.x1 < cut.x2:
            box = next((b for b in self._level[cut.x1, cut.x2] if b.y < cut.y1 < b.bottom), None)
            if box is None:
                return "runs edge to edge of no part"
            kept, rest = cut.y1 - box.y, box.bottom - cut.y1 - kerf
            new = (Box(box.x, box.y, box.width, kept), Box(box.x, cut.y1 + kerf, box.width, rest))
        else:
            return "is neither upright nor level"
        if kept != cut.setting:
            return "has another fence setting than what it keeps"
        self._drop(box)
        for part in new:
            self._add(part)
        return ""


# --- the list --------------------------------------------------------------------------------------------------------


def _counts(layout: Layout, parts: Sequence[Part]) -> Iterator[str]:
    """Yield every part cut or named as left over, in its size and no more often than asked."""
    asked: dict[str, list[Part]] = defaultdict(list)
    for part in parts:
        asked[part.name].append(part)
    lying: dict[str, Counter[tuple[Fraction, Fraction, bool]]] = defaultdict(Counter)
    for sheet in layout.sheets:
        for piece in sheet.pieces:
            lying[piece.name][piece.width, piece.height, piece.turned] += sheet.count
    left: Counter[str] = Counter()
    for unplaced in layout.unplaced:
        if unplaced.quantity < 1 or not unplaced.reason:
            yield f"{unplaced.name} is left over {unplaced.quantity} times for no reason"
        left[unplaced.name] += unplaced.quantity
    for name in lying.keys() | left.keys():
        if name not in asked:
            yield f"nobody asked for {name}"
    for name, wanted in asked.items():
        cut = lying[name]
        total = sum(cut.values()) + left[name]
        if total != sum(part.quantity for part in wanted):
            yield f"{name} is asked for {sum(part.quantity for part in wanted)} times and comes {total} times"
        for (width, height, turned), count in cut.items():
            if not any(_is(part, width, height, turned) for part in wanted):
                yield f"{name} is cut in a size or a way that nobody asked for"
            elif count > sum(part.quantity for part in wanted if _is(part, width, height, turned)):
                yield f"{name} is cut too often in one of its sizes"


def _is(part: Part, width: Fraction, height: Fraction, turned: bool) -> bool:
    """Return whether the part may lie so."""
    size = part.size.turned if turned else part.size
    return (size.width, size.height) == (width, height) and (part.turn or not turned)


# --- the stock -------------------------------------------------------------------------------------------------------


def _stock(layout: Layout, kinds: Sequence[StockKind]) -> Iterator[str]:
    used: Counter[StockKind] = Counter()
    for sheet in layout.sheets:
        if sheet.stock.falls_from is None:
            used[sheet.stock] += sheet.count
    for kind, count in used.items():
        there = [other for other in kinds if other == kind]
        if not there:
            yield f"there are no sheets {kind.name} of that size and price"
        elif all(other.most is not None for other in there) and count > sum(other.most or 0 for other in there):
            yield f"{count} sheets {kind.name} are used, more than there are"


def _drops(layout: Layout, parts: Sequence[Part]) -> Iterator[str]:
    """Yield drop-outs used before or more often than they fall, or of another size."""
    yields = {part.name: Counter(part.drops) for part in parts if part.drops}
    there: Counter[tuple[str, Fraction, Fraction]] = Counter()
    for sheet in layout.sheets:
        source = sheet.stock.falls_from
        if source is not None:
            key = (source, sheet.stock.size.width, sheet.stock.size.height)
            if sheet.stock.trim or sheet.stock.price:
                yield f"{sheet.stock.name} has a trim or a price"
            if there[key] < sheet.count:
                yield f"{sheet.stock.name} is used before it falls out, or more often than it does"
            there[key] -= sheet.count
        for piece in sheet.pieces:
            for size, times in yields.get(piece.name, Counter()).items():
                there[piece.name, size.width, size.height] += times * sheet.count


# --- sums ------------------------------------------------------------------------------------------------------------


def _sums(layout: Layout, kinds: Sequence[StockKind]) -> Iterator[str]:
    prices = [kind.price for kind in kinds]
    measure = Measure.COUNT if len(kinds) <= 1 else Measure.AREA
    if kinds and all(price is not None for price in prices):
        measure = Measure.COST
    if layout.measure is not measure:
        yield f"the answer is measured by {layout.measure} instead of {measure}"
    counts: Counter[StockKind] = Counter()
    for sheet in layout.sheets:
        if sheet.stock.falls_from is None:
            counts[sheet.stock] += sheet.count
    cost = sum((max(0, count - kind.have) * (kind.price or 0) for kind, count in counts.items()), Decimal(0))
    if (layout.cost is None) != (measure is not Measure.COST) or (layout.cost is not None and layout.cost != cost):
        yield f"the cost is given as {layout.cost} and comes to {cost}"
    if layout.lower_bound > layout.value and not layout.unplaced:
        yield f"the bound {float(layout.lower_bound):g} lies above the answer {float(layout.value):g}"
