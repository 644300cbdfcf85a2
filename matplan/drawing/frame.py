"""Sheet frames: paper sizes, the border, and a title block with the fields of ISO 7200 in a design of our own."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import Final

from matplan.drawing import lettering
from matplan.drawing.blocks import levelled, set_lines
from matplan.drawing.items import Area, Group, Item, Level, Line, Size, Text
from matplan.drawing.pens import SECONDARY, Pen
from matplan.drawing.views import scale_name

MARGIN: Final = 12.0
"""From the paper's edge to the border, in mm; printers reach that far."""
BLOCK_HEIGHT: Final = 21.0
_INSET: Final = 6.0
_COLUMN: Final = 30.0
_PER_COLUMN: Final = 2
_ROW_HEIGHT: Final = 8.4
"""A field's caption and its value, where two stand in a column."""


class Page(Enum):
    """Paper sizes, upright, in mm (ISO 216; Letter and Tabloid are 8 1/2 × 11 and 11 × 17 in)."""

    A4 = (210.0, 297.0)
    A3 = (297.0, 420.0)
    LETTER = (215.9, 279.4)
    TABLOID = (279.4, 431.8)

    @property
    def portrait(self) -> tuple[float, float]:
        """Width and height, upright."""
        return self.value

    @property
    def landscape(self) -> tuple[float, float]:
        """Width and height, lying."""
        return (self.value[1], self.value[0])


@dataclass(frozen=True, slots=True, kw_only=True)
class TitleBlock:
    """What a title block says; what is None or empty is left out. `further` holds more (caption, value) fields.

    `view` tells how the thing is seen ("seen from the back, mirrored"); `sheet` is its number and how many there are.
    """

    title: str
    document: str
    job: str = ""
    view: str = ""
    units: str = ""
    scale: Fraction | None = None
    sheet: tuple[int, int] | None = None
    further: tuple[tuple[str, str], ...] = ()

    @property
    def fields(self) -> tuple[tuple[str, str], ...]:
        """Captions and values in the order in which they are shown."""
        scale = scale_name(self.scale) if self.scale is not None else ""
        sheet = f"{self.sheet[0]} of {self.sheet[1]}" if self.sheet is not None else ""
        known = (
            ("Job", self.job),
            ("Scale", scale),
            ("Units", self.units),
            ("Sheet", sheet),
        )
        return tuple((caption, value) for caption, value in (*known, *self.further) if value)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The items of a sheet's frame, and the area that they leave for the drawing."""

    items: tuple[Item, ...]
    area: Area


def drawing_area(size: tuple[float, float]) -> Area:
    """Return the area that the frame of a sheet of that size leaves for the drawing."""
    width, height = size
    return Area(x=MARGIN, y=MARGIN, width=width - 2 * MARGIN, height=height - 2 * MARGIN - BLOCK_HEIGHT - _INSET)


def frame(size: tuple[float, float], block: TitleBlock) -> Frame:
    """Return a sheet's frame: the title block under a rule at the bottom, the drawing's area above it."""
    width, height = size
    inner = Area(x=MARGIN, y=MARGIN, width=width - 2 * MARGIN, height=height - 2 * MARGIN)
    strip = Area(x=inner.x, y=inner.bottom - BLOCK_HEIGHT, width=inner.width, height=BLOCK_HEIGHT)
    return Frame(items=(title_block(block, strip),), area=drawing_area(size))


def title_block(block: TitleBlock, strip: Area) -> Group:
    """Return the title block in its strip: document and title at the left, fields in columns at the right."""
    columns = _columns(block.fields)
    wanted = [_column_width(column) for column in columns]
    widths = levelled(wanted, strip.width * 0.62)
    items: list[Item] = [Line(start=(strip.x, strip.y), end=(strip.right, strip.y), pen=Pen.BORDER)]
    x = strip.right - sum(widths)
    title_width = x - strip.x - 4
    kind = " · ".join(part for part in (block.document, block.view) if part)
    named = lettering.held(kind, title_width, Size.SMALL, Size.SMALL)
    items.extend(set_lines(named, strip.x, strip.y + 4, colour=SECONDARY, classes=("document",)))
    items.extend(_title(block.title, strip, strip.y + 4 + named.height, title_width))
    for column, width in zip(columns, widths, strict=True):
        items.append(Line(start=(x, strip.y + 3), end=(x, strip.bottom), pen=Pen.RULE))
        high = _ROW_HEIGHT if len(column) > 1 else BLOCK_HEIGHT - 4
        for row, (caption, value) in enumerate(column):
            items.extend(_field(caption, value, Area(x=x + 3, y=strip.y + 4 + row * 8.8, width=width - 5, height=high)))
        x += width
    return Group(classes=("title-block",), items=tuple(items))


def _title(title: str, strip: Area, top: float, width: float) -> Iterator[Text]:
    """Yield the title on one line, or smaller on several where it is long."""
    size = min(Size.TITLE, Size.NORMAL * width / max(lettering.width(title, Size.NORMAL, True), 0.01))
    if size >= Size.NORMAL:
        found, low = lettering.Fitted(size=size, lines=(title,)), strip.bottom - 4.2
    else:
        low = strip.bottom - 1.0
        high = low - top - 2.0
        found = lettering.begun(lettering.held(title, width, high, Size.NORMAL, True), high + 0.4)
    yield from set_lines(found, strip.x, max(low - found.height, top + 1.6), bold=True, classes=("title",))


type _Column = tuple[tuple[str, str], ...]


def _columns(fields: _Column) -> list[_Column]:
    """Return the fields in columns: two in each, or one alone whose value is too long for a row."""
    found: list[_Column] = []
    for field in fields:
        alone = lettering.fitted(field[1], 2 * _COLUMN - 5.5, _ROW_HEIGHT - 3.4, Size.SMALL) is None
        if alone or not found or len(found[-1]) == _PER_COLUMN or _is_long(found[-1]):
            found.append((field,))
        else:
            found[-1] = (*found[-1], field)
    return found


def _is_long(column: _Column) -> bool:
    return any(lettering.fitted(value, 2 * _COLUMN - 5.5, _ROW_HEIGHT - 3.4, Size.SMALL) is None for _, value in column)


def _column_width(column: _Column) -> float:
    widest = max(
        max(lettering.width(value, Size.SMALL), lettering.width(caption, Size.CAPTION)) for caption, value in column
    )
    return min(max(widest + 5.5, 18.0), 2 * _COLUMN)


def _field(caption: str, value: str, area: Area) -> Iterator[Text]:
    yield Text(at=(area.x, area.y), text=caption, size=Size.CAPTION, level=Level.TOP, colour=SECONDARY)
    high = area.height - 3.4
    found = lettering.begun(lettering.held(value, area.width, high, Size.SMALL), high)
    yield from set_lines(found, area.x, area.y + 3.4, classes=(caption.split()[0].lower(),))
