"""What a sheet is made of: frozen items in millimetres of paper.

x runs to the right and y down from the sheet's top left corner; angles are degrees, clockwise as seen.
An item knows nothing of SVG or PDF: a back end is a function that matches on the item's type.
Any item may carry a name that travels to the back ends (`id`, `classes`), the box that it stands for in
exact model millimetres (`box`), and further facts for programs that read the drawing (`data`).
"""

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from itertools import pairwise
from typing import Literal

from matplan.drawing.pens import INK, Pen

type Point = tuple[float, float]
type ModelBox = tuple[Fraction, Fraction, Fraction, Fraction]
"""x, y, width, height of something in the model, in exact millimetres."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """An upright rectangle of paper, in mm."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        return self.x + self.width

    @property
    def bottom(self) -> float:
        return self.y + self.height

    @property
    def centre(self) -> Point:
        return (self.x + self.width / 2, self.y + self.height / 2)

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """Clockwise from the upper left."""
        return ((self.x, self.y), (self.right, self.y), (self.right, self.bottom), (self.x, self.bottom))

    @property
    def sides(self) -> tuple[tuple[Point, Point], ...]:
        """The four, clockwise from the upper one."""
        return tuple(pairwise((*self.corners, self.corners[0])))

    @classmethod
    def about(cls, middle: Point, width: float, height: float) -> "Area":
        """Return the area of that size whose middle is there."""
        return cls(x=middle[0] - width / 2, y=middle[1] - height / 2, width=width, height=height)

    def holds(self, other: "Area") -> bool:
        """Return whether the other lies within, edges included."""
        return self.x <= other.x and other.right <= self.right and self.y <= other.y and other.bottom <= self.bottom

    def meets(self, other: "Area") -> bool:
        """Return whether both have more in common than an edge."""
        return self.x < other.right and other.x < self.right and self.y < other.bottom and other.y < self.bottom

    def nearest(self, point: Point) -> Point:
        """Return the point of the area that is nearest to that one."""
        return min(max(point[0], self.x), self.right), min(max(point[1], self.y), self.bottom)

    def inset(self, left: float, top: float, right: float, bottom: float) -> "Area":
        """Return the area less strips at its sides."""
        return Area(x=self.x + left, y=self.y + top, width=self.width - left - right, height=self.height - top - bottom)

    def rect(
        self,
        *,
        pen: Pen | None = None,
        fill: str | None = None,
        name: str | None = None,
        classes: tuple[str, ...] = (),
        box: ModelBox | None = None,
        data: tuple[tuple[str, str], ...] = (),
    ) -> "Rect":
        """Return the area as an item whose id is `name`."""
        return Rect(
            x=self.x, y=self.y, width=self.width, height=self.height,
            pen=pen, fill=fill, id=name, classes=classes, box=box, data=data,
        )  # fmt: skip


class Size:
    """Heights of lettering in mm (the height of the capitals and of the figures, as ISO 3098 measures it)."""

    LEAST = 1.8
    """No text is set smaller."""
    CAPTION = LEAST
    """Names of fields in a title block; nothing that work depends on."""
    SMALL = 2.5
    """Tables and notes."""
    NORMAL = 3.5
    """Dimensions, and everything that is set on a cutter."""
    TITLE = 5.0


class Anchor(StrEnum):
    """Which end of a text stands at its point."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


class Level(StrEnum):
    """Which height of a text stands at its point: its baseline, the middle or the top of its capitals."""

    BASELINE = "baseline"
    MIDDLE = "middle"
    TOP = "top"


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """What any item may carry: a unique `id`, `classes`, the model `box`, and pairs of `data` (key without "data-",
    value).
    """

    id: str | None = None
    classes: tuple[str, ...] = ()
    box: ModelBox | None = None
    data: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Line(Named):
    start: Point
    end: Point
    pen: Pen


@dataclass(frozen=True, slots=True, kw_only=True)
class Polyline(Named):
    """A chain of straight lines, open or closed (a polygon); `fill` is a colour."""

    points: tuple[Point, ...]
    pen: Pen | None = None
    closed: bool = False
    fill: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Rect(Named):
    x: float
    y: float
    width: float
    height: float
    pen: Pen | None = None
    fill: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class To:
    """A straight step of a path."""

    end: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class ArcTo:
    """A step of a path along an ellipse whose axes are upright: as SVG's `A`, `large` and `clockwise` (as seen) choose
    among four.
    """

    end: Point
    rx: float
    ry: float
    large: bool = False
    clockwise: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Path(Named):
    """Lines and exact arcs in a row; an arc alone is a path of one step."""

    start: Point
    steps: tuple[To | ArcTo, ...]
    pen: Pen | None = None
    closed: bool = False
    fill: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ellipse(Named):
    """A whole ellipse or circle, its axes upright."""

    centre: Point
    rx: float
    ry: float
    pen: Pen | None = None
    fill: str | None = None

    @property
    def path(self) -> Path:
        """Return the two arcs that it is made of, for back ends and checks that know no ellipse."""
        (x, y), rx, ry = self.centre, self.rx, self.ry
        halves = (ArcTo(end=(x + rx, y), rx=rx, ry=ry), ArcTo(end=(x - rx, y), rx=rx, ry=ry))
        return Path(start=(x - rx, y), steps=halves, closed=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class Compound(Named):
    """Several closed outlines filled as one, where an outline inside another is a hole (even-odd)."""

    outlines: tuple["Outline", ...]
    pen: Pen | None = None
    fill: str | None = None


type Outline = Polyline | Rect | Ellipse | Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Text(Named):
    """One line of lettering. `size` is the height of its capitals in mm, `turn` clockwise degrees about `at`.

    A size under `Size.LEAST` raises `ValueError`: who makes a text smaller to fit stops there (`lettering.fitted`).

    `halo` lays white paper behind it, for a text that cannot avoid a line.
    """

    at: Point
    text: str
    size: float = Size.SMALL
    anchor: Anchor = Anchor.START
    level: Level = Level.BASELINE
    turn: float = 0.0
    bold: bool = False
    colour: str = INK
    halo: bool = False

    def __post_init__(self) -> None:
        if self.size < Size.LEAST:
            raise ValueError(f"{self.text!r} is {self.size:g} mm high; the least is {Size.LEAST} mm")


@dataclass(frozen=True, slots=True, kw_only=True)
class Image(Named):
    """A picture stretched into its rectangle, and cut to `clip` where that is given. `content` is a whole JPEG or PNG
    file.
    """

    x: float
    y: float
    width: float
    height: float
    content: bytes
    kind: Literal["jpeg", "png"]
    clip: Outline | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Group(Named):
    """Items that are named together, and cut to `clip` where that is given."""

    items: tuple["Item", ...]
    clip: Outline | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Link(Named):
    """A place that leads to the sheet of that name in the same PDF; invisible, and without effect in SVG."""

    x: float
    y: float
    width: float
    height: float
    target: str


type Item = Line | Outline | Compound | Text | Image | Group | Link
