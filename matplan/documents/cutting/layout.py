"""How a cutting diagram's sheet is shared out: blocks of text, and the room that they leave for the drawing.

A block's size in a width is asked for once; what is set is only what the chosen way to share the sheet needs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Final

from matplan.drawing.blocks import Block
from matplan.drawing.items import Area, Item

GAP: Final = 4.5
"""Between one block and the next, in mm of paper."""
_WIDE: Final = 130.0
"""A column of text on wide paper."""
_WIDTHS: Final = (90.0, 80.5, 70.0, 61.0)
"""Columns of text beside a drawing."""
_LEAST_DRAWING: Final = 40.0
"""A drawing's room is no smaller, in width and in height."""

type Made = Callable[[float, float, float], Block]
"""A block made at x, y and of a width."""
type Makers = tuple[Made, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Texts:
    """What stands round the drawing. `settings` and `windows` may be none."""

    head: Made
    settings: Makers
    windows: Makers
    sketches: Made
    notes: Made
    care: Made


@dataclass(frozen=True, slots=True, kw_only=True)
class _Column:
    """Blocks one below the other from x, y on, in that width."""

    makers: Makers
    x: float
    width: float
    y: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Space:
    """One way to share out a sheet of that size: the drawing's room, and the columns of text in the rest."""

    size: tuple[float, float]
    room: Area
    columns: tuple[_Column, ...]

    def text(self) -> Iterator[Item]:
        """Every block of text, set."""
        for column in self.columns:
            y = column.y
            for make in column.makers:
                block = make(column.x, y, column.width)
                yield from block.items
                y = block.bottom + GAP


@dataclass(slots=True)
class Sharing:
    """Shares out sheets among a drawing and its texts."""

    texts: Texts
    _areas: dict[tuple[Made, float], Area] = field(default_factory=dict)

    def spaces(self, size: tuple[float, float], area: Area) -> Iterator[Space]:
        """The ways to share out a sheet of that size whose frame leaves that area, the plainest first."""
        head = self._area(self.texts.head, area.width)
        top = _Column(makers=(self.texts.head,), x=area.x, width=area.width, y=area.y)
        rest = area.inset(0, head.height, 0, 0)
        for share in (self._below, self._cornered, self._beside):
            for room, columns in share(rest):
                if room.width >= _LEAST_DRAWING and room.height >= _LEAST_DRAWING:
                    yield Space(size=size, room=room, columns=(top, *columns))

    def _below(self, area: Area) -> Iterator[_Share]:
        """The drawing over two columns of text."""
        texts = self.texts
        left = round((area.width - GAP) * 0.53, 1)
        yield from self._foot(
            _Column(makers=(*texts.settings, *texts.windows, texts.care), x=area.x, width=left),
            _Column(makers=(texts.sketches, texts.notes), x=area.x + left + GAP, width=area.width - GAP - left),
            area,
        )

    def _cornered(self, area: Area) -> Iterator[_Share]:
        """The drawing at the left of the figures, with notes and cautions under both; sketches and windows where there
        is room.
        """
        texts = self.texts
        ways: tuple[tuple[Makers, Makers, Makers], ...] = (
            ((*texts.settings, *texts.windows, texts.sketches), (texts.notes,), (texts.care,)),
            ((*texts.settings, *texts.windows), (texts.notes,), (texts.sketches, texts.care)),
            (texts.settings, (texts.notes, *texts.windows), (texts.sketches, texts.care)),
        )
        half = (area.width - GAP) / 2
        for makers, left, right in ways[: 3 if texts.windows else 2]:
            second = area.x + half + GAP
            for upper, foot in self._foot(
                _Column(makers=left, x=area.x, width=half), _Column(makers=right, x=second, width=half), area
            ):
                for room, columns in self._beside_column(upper, makers):
                    yield room, (*columns, *foot)

    def _beside(self, area: Area) -> Iterator[_Share]:
        """The drawing at the left of all text."""
        texts = self.texts
        yield from self._beside_column(area, (*texts.settings, *texts.windows, texts.sketches, texts.notes, texts.care))

    def _beside_column(self, area: Area, makers: Makers) -> Iterator[_Share]:
        """A column of text at the right, in each width in which it is no higher than the area."""
        for width in (*((_WIDE,) if area.width >= 2 * _WIDE else ()), *_WIDTHS):
            height = self._height(makers, width)
            if height is not None and height + 2 <= area.height:
                column = _Column(makers=makers, x=area.right - width, width=width, y=area.y + 2)
                yield area.inset(0, 0, width + GAP, 0), (column,)

    def _foot(self, left: _Column, right: _Column, area: Area) -> Iterator[_Share]:
        """Two columns of text at the foot of the area, where they are wide enough for their text and leave something."""
        heights = [height for c in (left, right) if (height := self._height(c.makers, c.width)) is not None]
        if len(heights) == 2 and max(heights) + GAP < area.height:
            top = area.bottom - max(heights)
            columns = tuple(_Column(makers=c.makers, x=c.x, width=c.width, y=top) for c in (left, right))
            yield area.inset(0, 0, 0, max(heights) + GAP), columns

    def _height(self, makers: Sequence[Made], width: float) -> float | None:
        """How high those blocks are together; None where one is wider than that."""
        areas = [self._area(make, width) for make in makers]
        if any(area.width > width + 1e-6 for area in areas):
            return None
        return sum(area.height for area in areas) + GAP * (len(areas) - 1)

    def _area(self, make: Made, width: float) -> Area:
        key = (make, width)
        if key not in self._areas:
            self._areas[key] = make(0.0, 0.0, width).area
        return self._areas[key]


type _Share = tuple[Area, tuple[_Column, ...]]
"""What is left for the drawing, and the text in the rest."""
