"""Blocks of text on a sheet: tables, notes and cautions, wrapped to a measured width.

A block is placed where it is made and says how high it came out, so that the next one can follow.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Final

from matplan.drawing import lettering
from matplan.drawing.items import Anchor, Area, Group, Item, Level, Line, Polyline, Rect, Size, Text
from matplan.drawing.pens import INK, SECONDARY, TINT, Pen

CELL_X: Final = 1.8
CELL_Y: Final = 1.5
"""What a cell keeps free at its sides, above and below."""
TICK: Final = 3.0
"""A box to tick."""


class Align(Enum):
    """Where a column's text stands; numbers stand at the right."""

    LEFT = Anchor.START
    RIGHT = Anchor.END
    CENTRE = Anchor.MIDDLE


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column's head and alignment. `share` is its part of the width that is left over; 0 is as wide as its text
    needs. A `tick` column has an empty box in each row; `room` is left free before a column of numbers besides.
    """

    head: str
    align: Align = Align.LEFT
    share: float = 0.0
    bold: bool = False
    tick: bool = False
    room: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Items on paper and the area that they take."""

    items: tuple[Item, ...]
    area: Area

    @property
    def bottom(self) -> float:
        return self.area.bottom


type Row = Sequence[str]
type Cells[T] = tuple[Column, Callable[[T], str]]
"""A column and what stands in its cell for a record."""


def filled[T](cells: Iterable[Cells[T] | None], records: Iterable[T]) -> tuple[tuple[Column, ...], tuple[Row, ...]]:
    """Return the columns and rows of a table of records; `None` stands for a column that is left out.

    >>> columns, rows = filled([(Column(head="No."), str), None, (Column(head="Half"), lambda n: f"{n / 2:g}")], [1, 2])
    >>> [column.head for column in columns], rows
    (['No.', 'Half'], (('1', '0.5'), ('2', '1')))
    """
    wanted = [one for one in cells if one is not None]
    rows = tuple(tuple(cell(record) for _, cell in wanted) for record in records)
    return tuple(column for column, _ in wanted), rows


def table(
    columns: Sequence[Column],
    rows: Sequence[Row],
    *,
    x: float,
    y: float,
    width: float,
    size: float = Size.SMALL,
    zebra: bool = False,
    classes: tuple[str, ...] = (),
) -> Block:
    """Return the whole table, as high as it needs to be, its top left corner at x, y."""
    laid = Table(columns, rows, width=width, size=size, zebra=zebra)
    return laid.block(0, len(rows), x, y, classes)


def paged_table(
    columns: Sequence[Column],
    rows: Sequence[Row],
    areas: Iterator[Area],
    *,
    size: float = Size.SMALL,
    zebra: bool = False,
    classes: tuple[str, ...] = (),
) -> Iterator[Block]:
    """Yield the table in as many blocks as it needs, each with the head, each in the next area; all areas are as wide.

    A row that is higher than its area is set all the same, alone.
    """
    first = 0
    laid: Table | None = None
    while first < len(rows) or laid is None:
        area = next(areas)
        laid = laid or Table(columns, rows, width=area.width, size=size, zebra=zebra)
        last, height = first, laid.head_height
        while last < len(rows) and (last == first or height + laid.heights[last] <= area.height):
            height += laid.heights[last]
            last += 1
        yield laid.block(first, last, area.x, area.y, classes)
        first = last


class Table:
    """A table measured before it is set: the widths of its columns, the heights of its head and of each row.

    Without a `width` no column is wider than its text. Heads have a size of their own where `head_size` is given; a
    head may hold line ends. A cell keeps `pad` free above and below and `side` at its sides; `classes` name the table.
    """

    def __init__(
        self,
        columns: Sequence[Column],
        rows: Sequence[Row],
        *,
        width: float | None = None,
        size: float = Size.SMALL,
        head_size: float | None = None,
        zebra: bool = False,
        pad: float = CELL_Y,
        side: float = CELL_X,
        classes: tuple[str, ...] = (),
    ) -> None:
        self._columns, self._size, self._zebra, self._pad, self._classes = columns, size, zebra, pad, classes
        self._side = side
        self._head_size = size if head_size is None else head_size
        wanted = tuple(
            w + 2 * side + c.room for w, c in zip(_natural(columns, rows, size, self._head_size), columns, strict=True)
        )
        self.widths = wanted if width is None else _widths(columns, wanted, width)
        self._head = [
            _wrapped(c.head, w - 2 * side, self._head_size, True) for c, w in zip(columns, self.widths, strict=True)
        ]
        self._cells = [
            [_wrapped(t, w - 2 * side, size, c.bold) for t, c, w in zip(row, columns, self.widths, strict=True)]
            for row in rows
        ]
        self.head_height = self._height(self._head, self._head_size) if any(c.head for c in columns) else 0.0
        self.heights = [self._height(row, size) for row in self._cells]

    def _height(self, cells: Sequence[tuple[str, ...]], size: float) -> float:
        lines = max(len(cell) for cell in cells)
        return 2 * self._pad + size + (lines - 1) * size * lettering.LINE_PITCH + 0.3 * size

    def block(self, first: int, last: int, x: float, y: float, classes: tuple[str, ...] = ()) -> Block:
        width = sum(self.widths)
        items: list[Item] = []
        top = y
        if self.head_height:
            items.append(Rect(x=x, y=y, width=width, height=self.head_height, fill=TINT))
            items.extend(self._texts(self._head, x, y, head=True))
            y += self.head_height
        items.append(Line(start=(x, y), end=(x + width, y), pen=Pen.EDGE))
        for number in range(first, last):
            height = self.heights[number]
            if self._zebra and (number - first) % 2:
                items.append(Rect(x=x, y=y, width=width, height=height, fill=TINT))
            items.extend(self._texts(self._cells[number], x, y))
            items.extend(self._boxes(x, y))
            y += height
            items.append(Line(start=(x, y), end=(x + width, y), pen=Pen.RULE))
        area = Area(x=x, y=top, width=width, height=y - top)
        return Block(items=(Group(classes=("table", *self._classes, *classes), items=tuple(items)),), area=area)

    def _boxes(self, x: float, y: float) -> Iterator[Rect]:
        top = y + self._pad + (self._size - TICK) / 2
        for column, width in zip(self._columns, self.widths, strict=True):
            if column.tick:
                yield Rect(x=x + self._side, y=top, width=TICK, height=TICK, pen=Pen.EDGE, classes=("tick",))
            x += width

    def _texts(self, cells: Sequence[tuple[str, ...]], x: float, y: float, head: bool = False) -> Iterator[Text]:
        size = self._head_size if head else self._size
        for lines, column, width in zip(cells, self._columns, self.widths, strict=True):
            left = {Align.LEFT: self._side, Align.RIGHT: width - self._side, Align.CENTRE: width / 2}[column.align]
            for number, line in enumerate(lines):
                if line:
                    yield Text(
                        at=(x + left, y + self._pad + number * size * lettering.LINE_PITCH),
                        text=line,
                        size=size,
                        anchor=column.align.value,
                        level=Level.TOP,
                        bold=head or column.bold,
                        colour=INK,
                    )
            x += width


def _wrapped(text: str, width: float, size: float, bold: bool) -> tuple[str, ...]:
    return lettering.wrapped(text, width, size, bold)


def _natural(columns: Sequence[Column], rows: Sequence[Row], size: float, head_size: float) -> tuple[float, ...]:
    """Return the widths of the columns' text where nothing is wrapped but at line ends."""

    def width(number: int, column: Column) -> float:
        heads = [lettering.width(line, head_size, True) for line in column.head.splitlines()]
        cells = (lettering.width(line, size, column.bold) for row in rows for line in row[number].splitlines())
        return max(*heads, *cells, TICK if column.tick else 0.0, 0.0) + 0.01

    return tuple(width(number, column) for number, column in enumerate(columns))


def _widths(columns: Sequence[Column], wanted: Sequence[float], width: float) -> tuple[float, ...]:
    """Return the columns' widths, together exactly `width`."""
    shares = [c.share for c in columns]
    fixed = sum(w for w, s in zip(wanted, shares, strict=True) if not s)
    left = width - fixed
    if left >= 0 and any(shares):
        shared = [left * s / sum(shares) for s in shares]
        if all(not s or w >= min(width * 0.12, n) for s, w, n in zip(shares, shared, wanted, strict=True)):
            return tuple(w if not s else g for w, s, g in zip(wanted, shares, shared, strict=True))
    if sum(wanted) <= width:
        spare = (width - sum(wanted)) / len(columns)
        return tuple(w + spare for w in wanted)
    # too much text for the width: the widest columns give way until all fit
    return levelled(wanted, width)


def levelled(wanted: Sequence[float], room: float) -> tuple[float, ...]:
    """Return the widths cut to one limit, so that together they take no more than the room.

    >>> levelled([2.0, 9.0, 7.0], 12.0)
    (2.0, 5.0, 5.0)
    """
    left = room
    for number, value in enumerate(sorted(wanted)):
        limit = left / (len(wanted) - number)
        if value > limit:
            return tuple(min(w, limit) for w in wanted)
        left -= value
    return tuple(wanted)


def paragraph(
    text: str, *, x: float, y: float, width: float, size: float = Size.SMALL, bold: bool = False, colour: str = INK
) -> Block:
    """Return a wrapped text whose first capitals' top stands at y."""
    pitch = size * lettering.LINE_PITCH
    lines = lettering.wrapped(text, width, size, bold)
    items = tuple(
        Text(at=(x, y + n * pitch), text=line, size=size, level=Level.TOP, bold=bold, colour=colour)
        for n, line in enumerate(lines)
        if line
    )
    height = size + (len(lines) - 1) * pitch + 0.3 * size
    return Block(items=items, area=Area(x=x, y=y, width=width, height=height))


def set_lines(
    found: lettering.Fitted,
    x: float,
    y: float,
    *,
    bold: bool = False,
    colour: str = INK,
    anchor: Anchor = Anchor.START,
    classes: tuple[str, ...] = (),
) -> Iterator[Text]:
    """Yield the lines of a fitted text, the first capitals' top at y."""
    for number, line in enumerate(found.lines):
        yield Text(
            at=(x, y + number * found.step),
            text=line,
            size=found.size,
            anchor=anchor,
            level=Level.TOP,
            bold=bold,
            colour=colour,
            classes=classes,
        )


def notes(
    lines: Sequence[str], *, x: float, y: float, width: float, title: str = "", size: float = Size.SMALL
) -> Block:
    """Notes under a title, each after a dash, wrapped with a hanging indent."""
    return _listing(lines, x, y, width, title, size, "notes", 0.0)


def cautions(
    lines: Sequence[str], *, x: float, y: float, width: float, title: str = "Caution", size: float = Size.SMALL
) -> Block:
    """Cautions beside a warning triangle, in a bordered box."""
    sign, pad = 6.5, 2.6
    inner = _listing(lines, x + pad + sign + 2.5, y + pad, width - 2 * pad - sign - 2.5, title, size, "text", 0.0)
    height = max(inner.area.height, sign) + 2 * pad
    box = Rect(x=x, y=y, width=width, height=height, pen=Pen.EDGE)
    left, top = x + pad, y + pad
    points = ((left, top + sign * 0.9), (left + sign / 2, top), (left + sign, top + sign * 0.9))
    triangle = Polyline(points=points, closed=True, pen=Pen.OUTLINE)
    mark = Text(at=(left + sign / 2, top + sign * 0.9 - 1), text="!", size=Size.SMALL, anchor=Anchor.MIDDLE, bold=True)
    group = Group(classes=("caution",), items=(box, triangle, mark, *inner.items))
    return Block(items=(group,), area=Area(x=x, y=y, width=width, height=height))


def _listing(
    lines: Sequence[str], x: float, y: float, width: float, title: str, size: float, name: str, indent: float
) -> Block:
    top = y
    items: list[Item] = []
    pitch = size * lettering.LINE_PITCH
    if title:
        head = paragraph(title, x=x, y=y, width=width, size=size, bold=True)
        items.extend(head.items)
        y = head.bottom + pitch - 1.15 * size
    hang = lettering.width("–  ", size) + indent if len(lines) > 1 else 0.0
    for line in lines:
        if hang:
            items.append(Text(at=(x, y), text="–", size=size, level=Level.TOP, colour=SECONDARY))
        body = paragraph(line, x=x + hang, y=y, width=width - hang, size=size)
        items.extend(body.items)
        y = body.bottom + pitch - 1.15 * size
    bottom = y - (pitch - 1.15 * size)
    return Block(
        items=(Group(classes=(name,), items=tuple(items)),), area=Area(x=x, y=top, width=width, height=bottom - top)
    )
