"""A dimension and its look: what is measured, the style, the placed form, and the items that draw it.

Where a dimension stands is the business of `dimensions`.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import Final

from matplan.drawing import lettering
from matplan.drawing.items import Area, Group, Item, Line, ModelBox, Point, Polyline, Size, Text
from matplan.drawing.pens import SECONDARY, Pen

type ModelPoint = tuple[Fraction, Fraction]


class Side(StrEnum):
    """On which side of the part, as it is seen, a dimension stands."""

    ABOVE = "above"
    BELOW = "below"
    LEFT = "left"
    RIGHT = "right"

    @property
    def across(self) -> bool:
        """Whether dimensions there measure widths."""
        return self in (Side.ABOVE, Side.BELOW)

    @property
    def outward(self) -> int:
        """The sign of the paper coordinate that leads away from the part."""
        return 1 if self in (Side.BELOW, Side.RIGHT) else -1


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """Measures of dimensions in mm of paper."""

    size: float = Size.NORMAL
    first: float = 8.0
    """From the part to the first row."""
    pitch: float = 8.0
    """From row to row."""
    arrow: float = 2.6
    arrow_width: float = 0.9
    stroke: float = 2.2
    """Length of the oblique stroke that stands for an arrow."""
    gap: float = 1.0
    """Left free between what is measured and its extension line."""
    overshoot: float = 1.4
    """By how much an extension line passes the dimension line."""
    lift: float = 1.2
    """From the dimension line to the label's baseline."""
    pad: float = 0.9
    """Least distance of a label from an extension line or another label."""


NORMAL: Final = Style()
SMALL: Final = Style(size=Size.SMALL, first=6.5, pitch=6.2, arrow=2.2, arrow_width=0.75, stroke=1.8, lift=0.9)
"""For figures that nothing is set by."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Dimension:
    """A distance between two model points, seen from one side; `label` is its exact text."""

    start: ModelPoint
    end: ModelPoint
    side: Side
    label: str
    id: str | None = None
    classes: tuple[str, ...] = ()
    bold: bool = False

    @property
    def box(self) -> ModelBox:
        """What is measured, as a model box of no height or no width."""
        (x1, y1), (x2, y2) = self.start, self.end
        if self.side.across:
            return (min(x1, x2), y1, abs(x2 - x1), Fraction(0))
        return (x1, min(y1, y2), Fraction(0), abs(y2 - y1))


class Ends(StrEnum):
    """How a dimension line ends."""

    INSIDE = "arrows inside"
    OUTSIDE = "arrows outside"
    STROKES = "oblique strokes"


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A dimension on paper: its row (0 nearest the part), its line, ends, extension lines and label."""

    dimension: Dimension
    row: int
    feet: tuple[Point, Point]
    """Where the extension lines meet the dimension line."""
    line: tuple[Point, Point]
    """The dimension line itself, which may run on under its label or to arrows outside."""
    ends: Ends
    extensions: tuple[tuple[Point, Point], ...]
    text: Text

    @property
    def bounds(self) -> Area:
        """The upright rectangle round all of it."""
        points = [*self.line, *lettering.setting(self.text).corners(), *(p for e in self.extensions for p in e)]
        return around(points)


def united(areas: Iterable[Area]) -> Area:
    """Return the smallest area that holds them all."""
    return around([p for a in areas for p in ((a.x, a.y), (a.right, a.bottom))])


def around(points: Sequence[Point]) -> Area:
    xs, ys = [p[0] for p in points], [p[1] for p in points]
    return Area(x=min(xs), y=min(ys), width=max(xs) - min(xs), height=max(ys) - min(ys))


def draw(placed: Sequence[Placed], style: Style = NORMAL) -> tuple[Group, ...]:
    """Return a group of class `dimension` for each, with what it measures as its model box."""
    return tuple(_drawn(p, style) for p in placed)


def _drawn(placed: Placed, style: Style) -> Group:
    dimension = placed.dimension
    lines = [Line(start=a, end=b, pen=Pen.DIMENSION) for a, b in (*placed.extensions, placed.line)]
    low, high = placed.feet
    inward = 1.0 if placed.ends is Ends.INSIDE else -1.0
    marks: list[Item] = []
    if placed.ends is Ends.STROKES:
        marks = [_stroke(foot, style) for foot in dict.fromkeys((low, high))]
    else:
        along = (1.0, 0.0) if dimension.side.across else (0.0, 1.0)
        marks = [
            _arrow(low, (along[0] * inward, along[1] * inward), style),
            _arrow(high, (-along[0] * inward, -along[1] * inward), style),
        ]
    return Group(
        id=dimension.id,
        classes=("dimension", dimension.side.value, *dimension.classes),
        box=dimension.box,
        items=(*lines, *marks, placed.text),
    )


def _arrow(tip: Point, towards: Point, style: Style) -> Polyline:
    """Return a slim filled arrow whose body lies from its tip `towards` the given unit direction."""
    (x, y), (dx, dy) = tip, towards
    length, half = style.arrow, style.arrow_width / 2
    base = (x + dx * length, y + dy * length)
    wings = ((base[0] - dy * half, base[1] + dx * half), (base[0] + dy * half, base[1] - dx * half))
    return Polyline(points=(tip, *wings), closed=True, fill=SECONDARY)


def _stroke(at: Point, style: Style) -> Line:
    half = style.stroke / 2 * 0.7071
    return Line(start=(at[0] - half, at[1] + half), end=(at[0] + half, at[1] - half), pen=Pen.EDGE)
