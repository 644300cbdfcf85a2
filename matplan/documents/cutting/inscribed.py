"""What stands in the windows of a cutting diagram: a letter or the name, and what becomes of the drop-out.

Every letter of the table stands on the drawing at one size: in its window, or beside it where the window is too small.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from matplan.documents.cutting.board import WASTE, Board
from matplan.documents.cutting.shaped_lines import free_room
from matplan.documents.parts.framed import model_box
from matplan.drawing import lettering
from matplan.drawing.items import Anchor, Area, Item, Level, Size, Text
from matplan.drawing.pens import INK, SECONDARY
from matplan.drawing.views import View

_INSET: Final = 1.6
"""Left free between a window's sides and its words."""
_DESCENDERS: Final = 1.9
"""What a letter takes besides the height of its capital, so that no other text touches it."""
_OFF: Final = 1.0
"""Between a small window and its letter beside it."""
_PITCH: Final = Size.SMALL * lettering.LINE_PITCH
_MOST_LINES: Final = 5
WORDS_HEIGHT: Final = Size.NORMAL + 2.0 + 2 * Size.SMALL * lettering.LINE_PITCH
"""What a name and two lines on the drop-out take."""


def inscribed(board: Board, view: View, words: Area | None = None) -> tuple[Item, ...] | None:
    """Return the words of all windows, or `None` where a letter finds no place.

    `words` is where those of an only window stand, its middle by default.
    """
    rooms = [_room(board, view, window) for window in range(len(board.order))]
    if not board.several:
        return tuple(_named(board, words or rooms[0]))
    lettered = _letters(board, view, rooms)
    if lettered is None:
        return None
    with_fates = all(_holds(room, board.fate(window)) for window, room in enumerate(rooms))
    found: list[Item] = []
    for window, ((x, y), room) in enumerate(zip(lettered, rooms, strict=True)):
        found.append(_line(board.letters[window], (x, y - 2.6 if with_fates else y), Size.NORMAL, bold=True))
        if with_fates:
            found.extend(_lines(board.fate(window), room, y + 1.0))
    return tuple(found)


def _room(board: Board, view: View, window: int) -> Area:
    """Return the area for words inside a window."""
    back = board.layer.openings[window].back
    if back.upright:
        return view.area(model_box(back.box)).inset(_INSET, _INSET, _INSET, _INSET)
    return free_room(back, view)


# --- one window ------------------------------------------------------------------------------------------------------


def _named(board: Board, room: Area) -> Iterator[Text]:
    """Return the name over what becomes of the drop-out, or as much as the room holds."""
    name, fate = board.layer.openings[0].aperture, board.fate(0)
    for words in (f"drop-out: {fate}", fate) if fate == WASTE else (fate,):
        lines = lettering.wrapped(words, room.width, Size.SMALL)
        widest = max(lettering.width(line, Size.SMALL) for line in lines)
        with_name = _fits(name, Size.NORMAL, room)
        high = len(lines) * _PITCH + (Size.NORMAL + 2.0 if with_name else 0.0)
        if high <= room.height and widest <= room.width and len(lines) <= _MOST_LINES and _unbroken(words, lines):
            top = room.centre[1] - high / 2
            if with_name:
                yield _line(name, (room.centre[0], top + Size.NORMAL / 2), Size.NORMAL, bold=True)
                top += Size.NORMAL + 2.0
            yield from _lines(words, room, top)
            return


def _fits(text: str, size: float, room: Area) -> bool:
    return lettering.width(text, size, True) <= room.width and size <= room.height


def _unbroken(words: str, lines: Sequence[str]) -> bool:
    """Return whether no word had to be broken."""
    return " ".join(lines).split() == words.split()


# --- several windows -------------------------------------------------------------------------------------------------


def _holds(room: Area, fate: str) -> bool:
    """Return whether a room holds a letter with what becomes of the drop-out below."""
    lines = lettering.wrapped(fate, room.width, Size.SMALL)
    return room.width > 0 and room.height >= 7.0 + len(lines) * _PITCH and _unbroken(fate, lines)


def _letters(board: Board, view: View, rooms: Sequence[Area]) -> list[tuple[float, float]] | None:
    """Return the middle of each window's letter."""
    windows = [view.area(model_box(opening.back.box)) for opening in board.layer.openings]
    taken: list[Area] = []
    for window, (area, room) in enumerate(zip(windows, rooms, strict=True)):
        wide, high = lettering.width(board.letters[window], Size.NORMAL, True) + 0.6, Size.NORMAL + _DESCENDERS
        spare = 2 * _INSET if board.layer.openings[window].back.upright else _INSET
        own = Area(x=room.centre[0] - wide / 2, y=room.centre[1] - high / 2, width=wide, height=high)
        if wide <= room.width + spare and room.height + spare >= Size.NORMAL + 0.8:
            taken.append(own)
            continue
        beside = (
            one
            for one in _beside(area, wide, high)
            if view.whole.holds(one) and not any(one.meets(other) for other in (*windows, *taken))
        )
        place = next(beside, own)
        if any(place.meets(other) for other in taken):
            return None
        taken.append(place)
    return [place.centre for place in taken]


def _beside(area: Area, width: float, height: float) -> Iterator[Area]:
    """Return the places of that size round an area."""
    (x, y) = area.centre
    for left in (area.right + _OFF, area.x - _OFF - width):
        yield Area(x=left, y=y - height / 2, width=width, height=height)
    for top in (area.y - _OFF - height, area.bottom + _OFF):
        yield Area(x=x - width / 2, y=top, width=width, height=height)


def _lines(words: str, room: Area, top: float) -> Iterator[Text]:
    for number, line in enumerate(lettering.wrapped(words, room.width, Size.SMALL)):
        at = (room.centre[0], top + number * _PITCH + Size.SMALL / 2)
        yield _line(line, at, Size.SMALL, colour=SECONDARY)


def _line(text: str, at: tuple[float, float], size: float, *, bold: bool = False, colour: str = INK) -> Text:
    return Text(
        at=at, text=text, size=size, anchor=Anchor.MIDDLE, level=Level.MIDDLE, bold=bold, colour=colour, halo=True
    )
