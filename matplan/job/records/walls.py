"""A wall as asked for: where frames may hang, on what, and what they keep away from."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from matplan.job.file.kinds import ListOf, Named, NamesOf, Naming, Nested, TableOf
from matplan.job.file.slips import CENTRE_LINES, GAPS, WALLS, Usual
from matplan.job.file.table import key
from matplan.job.file.written import (
    FLAG,
    LENGTH,
    NAME,
    OWN_NAME,
    SIZE,
    SOME_LENGTH,
    TEXT,
    chosen,
    counted,
    numbered,
)
from matplan.job.records.hanging import HANG, ByWire, Hang
from matplan.job.records.piece import MOST_COPIES, Photo
from matplan.job.records.words import Arrange, LabelSide
from matplan.lengths import Size

NESTED = Nested(Naming(NAME, "piece"))
PIXEL = numbered("a place in the photograph: pixels from its left or upper edge", Fraction(0), Fraction(1_000_000))
CORNERS = "[[412, 300], [3210, 355], [3180, 2400], [440, 2380]]"
FOUR = f"write four corners clockwise from the upper left, like {CORNERS}"
POINTS = ListOf(ListOf(LENGTH, exactly=(2, "write how far from the left and how high, like [0, 2400]")))
PAIRS = ListOf(ListOf(Naming(NAME, "piece"), exactly=(2, 'write two names like ["Gull", "Coil"]')))


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin:
    """Where a frame's lower left corner hangs; with one coordinate alone it keeps its place in its row."""

    left: Fraction | None = key(
        LENGTH, "The frame's left edge, from the wall's left edge. Left out: where its row has it.", None, like="900 mm"
    )
    bottom: Fraction | None = key(
        LENGTH, "The frame's lower edge, above the floor. Left out: where its row has it.", None, like="1200 mm"
    )

    @property
    def whole(self) -> bool:
        """Whether it leaves its arrangement: both coordinates are given."""
        return self.left is not None and self.bottom is not None


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """Where frames may hang. A side left out is the wall's."""

    left: Fraction = key(LENGTH, "Its left side, from the wall's left edge.", unsaid=0, like="600 mm")
    right: Fraction = key(LENGTH, "Its right side, from the wall's left edge.", like="3000 mm")
    bottom: Fraction = key(LENGTH, "Its lower side, above the floor.", unsaid=0, like="900 mm")
    top: Fraction = key(LENGTH, "Its upper side, above the floor.", like="2200 mm")


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepClear:
    """A thing on the wall that frames keep away from."""

    name: str = key(OWN_NAME, "What it is, as drawings name it.", needs='name = "light switch"')
    left: Fraction = key(LENGTH, "Its left edge, from the wall's left edge.", needs='left = "200 mm"')
    bottom: Fraction = key(LENGTH, "Its lower edge, above the floor.", needs='bottom = "1050 mm"')
    width: Fraction = key(SOME_LENGTH, "Its width.", needs='width = "80 mm"')
    height: Fraction = key(SOME_LENGTH, "Its height.", needs='height = "80 mm"')
    margin: Fraction = key(LENGTH, "How far frames stay away from it.", Fraction(0), like="50 mm")
    kind: str = key(
        TEXT,
        "What sort of thing: switch, socket, door … Cables are expected in bands beside fittings, and cautions say so.",
        "",
        like="switch",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Furniture:
    """A thing that stands on the floor before the wall."""

    name: str = key(OWN_NAME, "What it is, as drawings name it.", needs='name = "bench"')
    left: Fraction = key(LENGTH, "Its left edge, from the wall's left edge.", needs='left = "800 mm"')
    width: Fraction = key(SOME_LENGTH, "Its width.", needs='width = "1800 mm"')
    height: Fraction = key(SOME_LENGTH, "Its height above the floor.", needs='height = "450 mm"')


@dataclass(frozen=True, slots=True, kw_only=True)
class Labels:
    """The labels of works, beside or below their frames."""

    size: Size = key(
        SIZE, "The width and height of each label.", unsaid="80 x 50 mm", inches="3 x 2 in", like="90 x 60 mm"
    )
    side: LabelSide = key(chosen(LabelSide), "Where each label hangs, seen from its frame.", LabelSide.RIGHT)
    gap: Fraction = key(
        LENGTH, "How far each label hangs from its frame.", unsaid="40 mm", inches="1 1/2 in", like="30 mm"
    )
    up: Fraction = key(
        LENGTH, "At a side: how far a label's lower edge is above the frame's lower edge.", Fraction(0), like="20 mm"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """A rectangle on a wall whose corners are seen in its photograph."""

    left: Fraction = key(LENGTH, "Its left edge, from the wall's left edge.", unsaid=0, like="600 mm")
    bottom: Fraction = key(LENGTH, "Its lower edge, above the floor.", unsaid=0, like="300 mm")
    width: Fraction = key(SOME_LENGTH, "Its width. Default: to the wall's right edge.", like="2400 mm")
    height: Fraction = key(SOME_LENGTH, "Its height. Default: to the wall's top.", like="1800 mm")


@dataclass(frozen=True, slots=True, kw_only=True)
class WallPhoto:
    """A photograph of a wall, and where in it a rectangle of the wall is seen."""

    file: Photo = key(Named("photo", NAME), "The photograph, from the job's folder.", needs='file = "wall.jpg"')
    corners: tuple[tuple[Fraction, Fraction], ...] = key(
        ListOf(ListOf(PIXEL, exactly=(2, "write two numbers like [412, 300]")), exactly=(4, FOUR)),
        "Four pixels of the photograph as seen, clockwise from the upper left: the corners of a rectangle on the wall.",
        needs=f"corners = {CORNERS}",
    )
    of: Patch = key(
        TableOf(Patch),
        "The rectangle whose corners they are. Default: the whole wall.",
        like={"left": "600 mm", "width": "2400 mm"},
    )


type Tree = tuple[int | Tree, ...]
"""Frames by their number in hanging order; an inner list is a stack, upper first, one within it a row again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Flow:
    """What lines frames up: a wall's own, or that of a group on it."""

    arrange: Arrange = key(
        chosen(Arrange),
        "How frames are lined up: by a centre-line, flush-top or flush-base; in a grid; stepped up from "
        "left to right; in a cluster close about the middle; placed by at alone.",
        Arrange.CENTRE_LINE,
    )
    zone: Zone = key(
        TableOf(Zone), "Where frames may hang. Default: the whole wall.", like={"left": "600 mm", "right": "3000 mm"}
    )
    eye: Fraction = key(
        Usual(SOME_LENGTH, CENTRE_LINES),
        "The height of the centre line above the floor.",
        unsaid="1450 mm",
        inches="57 in",
        like="1500 mm",
    )
    top: Fraction | None = key(
        SOME_LENGTH, "In place of eye: the upper edge of the frames together.", None, like="2000 mm"
    )
    base: Fraction | None = key(
        SOME_LENGTH, "In place of eye: the lower edge of the frames together.", None, like="1200 mm"
    )
    gap: Fraction = key(
        Usual(LENGTH, GAPS),
        "How far neighbouring frames hang apart.",
        unsaid="60 mm",
        inches="2 1/2 in",
        like="80 mm",
    )
    over: str = key(
        Naming(TEXT, "thing"),
        "The furniture or thing kept clear, by its name, above whose middle the frames are centred.",
        "",
        like="bench",
    )
    columns: int | None = key(
        counted(1, MOST_COPIES),
        "grid: how many frames wide. Default: the square root of their number, up.",
        None,
        like=3,
    )
    rise: Fraction | None = key(
        LENGTH, "stepped: how much higher each frame hangs than the one to its left.", None, like="180 mm"
    )
    variant: int = key(
        counted(1, 1_000_000), "cluster: which of the possible answers, counted from the best.", 1, like=2
    )
    near: tuple[tuple[str, str], ...] = key(
        PAIRS, "cluster: pairs of pieces that hang beside each other.", (), like=[["Gull", "Coil"]]
    )
    apart: tuple[tuple[str, str], ...] = key(
        PAIRS, "cluster: pairs of pieces that never hang beside each other.", (), like=[["Gull", "Slipway"]]
    )

    @property
    def level(self) -> tuple[str, Fraction]:
        """The key that says how high they hang, and its height."""
        if self.top is not None:
            return "top", self.top
        return ("eye", self.eye) if self.base is None else ("base", self.base)


@dataclass(frozen=True, slots=True, kw_only=True)
class Group(Flow):
    """Frames on a wall that are lined up together; what it leaves out is the wall's."""

    tree: Tree = key(
        NESTED,
        "The pieces in hanging order; a list within it is a stack, upper first, and a list within a stack a row again.",
        name="pieces",
        like=["Slipway", ["Gull", "Coil"]],
    )
    place: str = field(default="", compare=False)
    """Its place within the wall, "" for the wall's own."""
    about: Fraction | None = None
    """What they are centred above, from the wall's left edge; `None`: their zone's middle."""

    @property
    def middle(self) -> Fraction:
        """What they are centred on, from the wall's left edge."""
        return (self.zone.left + self.zone.right) / 2 if self.about is None else self.about


@dataclass(frozen=True, slots=True, kw_only=True)
class Wall(Flow):
    """A wall to hang pieces on; lengths from its left edge and up from the floor."""

    name: str = key(
        OWN_NAME, "Its name on drawings and in file names, once in the job.", needs='name = "Stair landing"'
    )
    file: str
    line: int | None = field(default=None, compare=False)
    place: str = field(default="", compare=False)
    size: Size = key(Usual(SIZE, WALLS), "Its width and height.", needs='size = "3600 x 2400 mm"')
    hung: tuple[tuple[int, int], ...] = key(
        NESTED,
        "The pieces in hanging order, one copy a mention; a list within it is a stack, upper first, and a "
        "list within a stack a row again. Default: all, each as often as its quantity.",
        name="pieces",
        like=["Slipway", ["Gull", "Coil"]],
    )
    """An index into the job's pieces and a copy's number for each frame, in hanging order."""
    groups: tuple[Group, ...] = key(
        ListOf(TableOf(Group)), "Several groups on the wall, each with an arrangement of its own.", (), name="group"
    )
    """At least one: without any in the file, the wall's own frames."""
    floor: tuple[tuple[Fraction, Fraction], ...] = key(
        POINTS,
        "The floor's line on a stair: points from the wall's left edge, above its own zero. Heights in "
        "lists then count from the floor below.",
        (),
        like=[["0 mm", "0 mm"], ["3.6 m", "0.6 m"]],
    )
    at: tuple[tuple[str, Pin], ...] = key(
        NamesOf(ListOf(TableOf(Pin), one=True), Naming(NAME, "piece")),
        "Where single pieces hang, by their names: a table each, or a list of tables, one a copy.",
        (),
        like={"Gull": {"left": "900 mm", "bottom": "1200 mm"}},
    )
    keep_clear: tuple[KeepClear, ...] = key(
        ListOf(TableOf(KeepClear)),
        "Things on the wall that frames must not touch.",
        (),
        like=[
            {
                "name": "light switch",
                "kind": "switch",
                "left": "200 mm",
                "bottom": "1050 mm",
                "width": "80 mm",
                "height": "80 mm",
                "margin": "50 mm",
            }
        ],
    )
    furniture: tuple[Furniture, ...] = key(
        ListOf(TableOf(Furniture)),
        "Things that stand before the wall.",
        (),
        like=[{"name": "bench", "left": "800 mm", "width": "1800 mm", "height": "450 mm"}],
    )
    hang: Hang = key(HANG, "How each frame hangs.", ByWire(), like={"by": "two hooks", "in": "40 mm", "down": "30 mm"})
    labels: Labels | None = key(
        TableOf(Labels),
        "Labels beside or below the frames whose pieces have a label; `labels = {}` takes the usual ones.",
        None,
        like={"size": "80 x 50 mm", "side": "right", "gap": "40 mm"},
    )
    outline: tuple[tuple[Fraction, Fraction], ...] = key(
        POINTS,
        "The upper edge of a wall that is not a rectangle: points from its left edge, above the floor.",
        (),
        like=[["0 mm", "2.5 m"], ["4.2 m", "3.6 m"]],
    )
    photo: WallPhoto | None = key(
        TableOf(WallPhoto),
        "A photograph of the wall, to see the frames in.",
        None,
        like={"file": "wall.jpg", "corners": [[412, 300], [3210, 355], [3180, 2400], [440, 2380]]},
    )
    path: bool = key(FLAG, "Whether people walk along the wall, where frames must not protrude far.", False)
    key_lines: tuple[tuple[str, int], ...] = field(default=(), compare=False)
    """The lines of its keys (`hang.drop`, `at.Gull`, `keep_clear[2]`)."""

    @property
    def flows(self) -> tuple[Group, ...]:
        """Its groups; without any, its own frames as one."""
        if self.groups:
            return self.groups
        own = {name: getattr(self, name) for name in Flow.__dataclass_fields__}
        return (Group(**own, tree=tuple(range(len(self.hung)))),)

    @property
    def zones(self) -> tuple[Zone, ...]:
        """The zones of its groups that are not the whole wall, each once."""
        whole = Zone(left=Fraction(0), right=self.size.width, bottom=Fraction(0), top=self.size.height)
        return tuple(zone for zone in dict.fromkeys(group.zone for group in self.flows) if zone != whole)

    def line_of(self, where: str) -> int | None:
        """Return the line of that key of the wall, or of the nearest thing that is written."""
        lines = dict(self.key_lines)
        return lines.get(where, lines.get(where.partition(".")[0].partition("[")[0], self.line))
