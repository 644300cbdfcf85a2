"""Sheet frames: paper sizes, the border, and a title block with the fields of ISO 7200 in a design of our own."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from typing import Final

from matplan.drawing import lettering
from matplan.drawing.items import Area, Group, Item, Level, Line, Size, Text
from matplan.drawing.pens import INK, SECONDARY, Pen
from matplan.drawing.views import scale_name

MARGIN: Final = 12.0
"""From the paper's edge to the border, in mm; printers reach that far."""
BLOCK_HEIGHT: Final = 21.0
_INSET: Final = 6.0
_COLUMN: Final = 30.0
_PER_COLUMN: Final = 2


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
    columns = [block.fields[i : i + _PER_COLUMN] for i in range(0, len(block.fields), _PER_COLUMN)]
    widths = [_column_width(column) for column in columns]
    room = strip.width * 0.62
    if sum(widths) > room:
        widths = [w * room / sum(widths) for w in widths]
    items: list[Item] = [Line(start=(strip.x, strip.y), end=(strip.right, strip.y), pen=Pen.BORDER)]
    x = strip.right - sum(widths)
    title_width = x - strip.x - 4
    kind = " · ".join(part for part in (block.document, block.view) if part)
    items.append(
        Text(
            at=(strip.x, strip.y + 4),
            text=kind,
            size=Size.SMALL,
            level=Level.TOP,
            colour=SECONDARY,
            max_width=title_width,
            classes=("document",),
        )
    )
    items.extend(_title(block.title, strip, title_width))
    for column, width in zip(columns, widths, strict=True):
        items.append(Line(start=(x, strip.y + 3), end=(x, strip.bottom), pen=Pen.RULE))
        for row, (caption, value) in enumerate(column):
            items.extend(_field(caption, value, x + 3, strip.y + 4 + row * 8.8, width - 5))
        x += width
    return Group(classes=("title-block",), items=tuple(items))


def _title(title: str, strip: Area, width: float) -> Iterator[Text]:
    """Yield the title on one line, or smaller on two where it is long."""
    lines: tuple[str, ...]
    if lettering.width(title, Size.TITLE, True) * lettering.NARROWEST <= width:
        size, lines = Size.TITLE, (title,)
    else:
        size, lines = Size.NORMAL, lettering.wrapped(title, width, Size.NORMAL, True)
        lines = lines if len(lines) <= 2 else (lines[0], " ".join(lines[1:]))
    low = strip.bottom - (4.2 if len(lines) == 1 else 1.0)
    for number, line in enumerate(reversed(lines)):
        at = (strip.x, low - number * size * lettering.LINE_PITCH)
        yield Text(at=at, text=line, size=size, bold=True, max_width=width, classes=("title",))


def _column_width(column: tuple[tuple[str, str], ...]) -> float:
    widest = max(
        max(lettering.width(value, Size.SMALL), lettering.width(caption, Size.CAPTION)) for caption, value in column
    )
    return min(max(widest + 5.5, 18.0), 2 * _COLUMN)


def _field(caption: str, value: str, x: float, y: float, width: float) -> tuple[Text, Text]:
    return (
        Text(at=(x, y), text=caption, size=Size.CAPTION, level=Level.TOP, colour=SECONDARY, max_width=width),
        Text(
            at=(x, y + 3.4),
            text=value,
            size=Size.SMALL,
            level=Level.TOP,
            colour=INK,
            max_width=width,
            classes=(caption.split()[0].lower(),),
        ),
    )
