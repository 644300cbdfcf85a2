"""Where the keys of a sheet's parts and the numbers of its cuts stand, for each scale once.

Places are those of a drawing whose sheet begins at 0, 0.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from matplan.documents.parts.framed import model_box
from matplan.documents.parts.labels import Board, NoRoom, Spot, Stroke, Wanted, length_of
from matplan.drawing import lettering
from matplan.drawing.items import Area, Size
from matplan.drawing.views import View
from matplan.lengths import Box, Printer
from matplan.stock.records import LaidSheet

NUMBER: Final = Size.SMALL
"""Height of a cut's number."""
KEYS: Final = (Size.NORMAL, Size.SMALL)
"""Height of a part's key: the first at which every key stands in its part, else the last."""
NAMES: Final = 2.0
LINE: Final = 1.4
"""What a line of text takes, in heights of its capitals."""
_CELL: Final = 4.2
_PAD: Final = 0.8
_FREE: Final = 1.0
"""Round a key within its part."""
_FEW: Final = 0.15
"""A drawing is crowded where more of its labels than this part, and two, need leaders."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """The places of keys, numbers and offcuts' sizes, in the order of the sheet's pieces, cuts and offcuts.

    `named` tells that every part has room for its name and size below its key. `crowded` is how crowded the drawing is:
    half where keys are small, one more where many labels need leaders or a leader meets a label.
    """

    key_size: float
    named: bool
    keys: tuple[Spot, ...]
    numbers: tuple[Spot, ...]
    offcuts: tuple[Spot | None, ...]
    crowded: float


def offcut_text(size: Box, printer: Printer) -> str:
    """Return what stands in an offcut."""
    return f"offcut {printer.size(size.size)}"


def marks(sheet: LaidSheet, keys: Sequence[str], scale: Fraction, printer: Printer, *, rows: int) -> Marks:
    """Return the places at that scale, with so many rows of labels outside the sheet.

    Raises `NoRoom` where labels must stand outside and the rows do not hold them.
    """
    whole = Box.of(sheet.stock.size)
    view = View(scale=scale, at=(0.0, 0.0), model=model_box(whole))
    lines = [(view.point(cut.x1, cut.y1), view.point(cut.x2, cut.y2)) for cut in sheet.cuts]
    edges = [*view.whole.sides, *(view.area(model_box(sheet.stock.usable)).sides if sheet.stock.trim else ())]
    board = Board(whole=view.whole)
    board.draw([*edges, *lines])
    areas = [view.area(model_box(piece.box)) for piece in sheet.pieces]
    size = _key_size(keys, areas)
    room = _named(sheet, keys, areas, size, printer)
    inside = [
        Spot(area=Area.about(area.centre, *room)) if room else _within(area, key, size)
        for key, area in zip(keys, areas, strict=True)
    ]
    for spot in inside:
        if spot is not None:
            board.take(spot.area)
    wanted = [_cell(number, line) for number, line in enumerate(lines, 1)]
    found: list[Spot | None] = [None] * len(lines)
    for place in sorted(range(len(lines)), key=lambda n: (length_of(lines[n]), n)):
        found[place] = board.on_line(wanted[place])
    found = [spot or board.beside(one) for spot, one in zip(found, wanted, strict=True)]
    left = [_outer(key, area, size) for key, area, spot in zip(keys, areas, inside, strict=True) if spot is None]
    left += [one for one, spot in zip(wanted, found, strict=True) if spot is None]
    if left and not rows:
        raise NoRoom
    outside = iter(board.outside(left, rows)) if left else iter(())
    all_keys = tuple(board.under_leaders(spot or next(outside)) for spot in inside)
    numbers = tuple(board.under_leaders(spot or next(outside)) for spot in found)
    led = sum(bool(spot.leader) for spot in (*all_keys, *numbers))
    many = led > 2 + _FEW * (len(keys) + len(lines)) or any(spot.met for spot in (*all_keys, *numbers))
    return Marks(
        key_size=size,
        named=room is not None,
        keys=all_keys,
        numbers=numbers,
        offcuts=tuple(
            _offcut(offcut_text(offcut, printer), view.area(model_box(offcut)), board) for offcut in sheet.offcuts
        ),
        crowded=(0.5 if size < KEYS[0] else 0.0) + (1.0 if many else 0.0),
    )


def _key_size(keys: Sequence[str], areas: Sequence[Area]) -> float:
    for size in KEYS:
        if all(_within(area, key, size) is not None for key, area in zip(keys, areas, strict=True)):
            return size
    return KEYS[-1]


def _within(area: Area, key: str, size: float) -> Spot | None:
    """Return the key's place in the middle of its part, or `None` where the part is too small."""
    width = lettering.width(key, size, True)
    if width + 2 * _FREE > area.width or size * LINE + 1.5 * _FREE > area.height:
        return None
    return Spot(area=Area.about(area.centre, width + 0.6, size * LINE + 0.4))


def _named(
    sheet: LaidSheet, keys: Sequence[str], areas: Sequence[Area], size: float, printer: Printer
) -> tuple[float, float] | None:
    """Return the room of key, name and size where every part has that room, else `None`."""
    names = [name for piece in sheet.pieces for name in (piece.name, printer.size(piece.box.size))]
    wide = max(*(lettering.width(name, NAMES) for name in names), *(lettering.width(k, size, True) for k in keys), 0.0)
    high = size + 2 * NAMES * 1.8
    keep = 2 * (_CELL / 2 + _FREE)
    if all(wide + keep <= area.width and high + keep <= area.height for area in areas):
        return wide, high
    return None


def _cell(number: int, line: Stroke) -> Wanted:
    width = max(_CELL, lettering.width(str(number), NUMBER, True) + 2 * _PAD)
    return Wanted(width=width, height=_CELL, line=line)


def _outer(key: str, area: Area, size: float) -> Wanted:
    width = lettering.width(key, size, True) + 0.8
    return Wanted(width=width, height=size * LINE + 0.6, line=(area.centre, area.centre), thing=area)


def _offcut(text: str, area: Area, board: Board) -> Spot | None:
    """Return where an offcut's size has room, level or upright, or `None` where it has none."""
    wide = lettering.width(text, NAMES)
    for width, height in ((wide, NAMES * LINE), (NAMES * LINE, wide)):
        spot = Area.about(area.centre, width, height)
        if width + 2 <= area.width and height + 2 <= area.height and board.is_free(spot):
            board.take(spot)
            return Spot(area=spot)
    return None
