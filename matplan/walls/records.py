"""What hangs where: frames on a wall with their hooks, as frozen records.

Lengths are exact millimetres from the wall's left edge and **up** from the floor. Angles and tensions are irrational: a
`Wire` keeps the exact lengths that they come from, and works them out as floats when it is asked.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from matplan.faults import MatplanError
from matplan.job.records import Arrange, Furniture, Group, KeepClear, Wall
from matplan.lengths import ZERO, Size
from matplan.mats.records import Finding, SolvedPiece
from matplan.walls.outline import floor_below

GRAVITY = Fraction("9.80665")
"""Standard gravity in m/s² (published: 3rd CGPM, 1901, declaration on weight)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """An upright rectangle on a wall."""

    left: Fraction
    bottom: Fraction
    width: Fraction
    height: Fraction

    @property
    def right(self) -> Fraction:
        return self.left + self.width

    @property
    def top(self) -> Fraction:
        return self.bottom + self.height

    @property
    def centre(self) -> tuple[Fraction, Fraction]:
        return self.left + self.width / 2, self.bottom + self.height / 2

    def grown(self, by: Fraction) -> Spot:
        """Larger by `by` on every side."""
        return Spot(
            left=self.left - by, bottom=self.bottom - by, width=self.width + 2 * by, height=self.height + 2 * by
        )

    def moved(self, right: Fraction, up: Fraction) -> Spot:
        """Return the same, elsewhere."""
        return Spot(left=self.left + right, bottom=self.bottom + up, width=self.width, height=self.height)

    def beside(self, other: Spot) -> tuple[Fraction, Fraction]:
        """Return the free wall between the two, sideways and upwards; negative where they reach past each other."""
        across = max(other.left - self.right, self.left - other.right)
        up = max(other.bottom - self.top, self.bottom - other.top)
        return across, up

    def overlaps(self, other: Spot) -> bool:
        """Return whether they share any area; edge to edge they do not."""
        across, up = self.beside(other)
        return across < 0 and up < 0

    def nearer_than(self, distance: Fraction, other: Spot) -> bool:
        """Return whether the shortest way between the two is shorter than that."""
        across, up = (max(way, Fraction(0)) for way in self.beside(other))
        return across**2 + up**2 < distance**2


def place_of(thing: KeepClear | Furniture) -> Spot:
    """Return where a thing kept clear lies, or a piece of furniture stands."""
    bottom = thing.bottom if isinstance(thing, KeepClear) else ZERO
    return Spot(left=thing.left, bottom=bottom, width=thing.width, height=thing.height)


def around(spots: tuple[Spot, ...] | list[Spot]) -> Spot:
    """Return the least rectangle round all of them; there is at least one."""
    left, bottom = min(s.left for s in spots), min(s.bottom for s in spots)
    return Spot(
        left=left, bottom=bottom, width=max(s.right for s in spots) - left, height=max(s.top for s in spots) - bottom
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class ToHang:
    """One copy of a piece, to be hung: `index` is its piece's in the job, `copies` how many of the piece this wall
    takes.
    """

    index: int
    piece: SolvedPiece
    copy: int
    copies: int
    size: Size
    rail: Fraction

    @property
    def called(self) -> str:
        """How messages name it: `"Gull"`, or `"Gull" (copy 2)` where several hang on the wall."""
        return f'"{self.piece.name}"' + (f" (copy {self.copy})" if self.copies > 1 else "")

    @property
    def mass(self) -> Fraction:
        """In kg: the stack's parts and the frame, as far as they are known."""
        return self.piece.mass + (self.piece.frame_mass or Fraction(0))


@dataclass(frozen=True, slots=True, kw_only=True)
class Hook:
    """A point of the wall that carries `load` kilograms of one frame."""

    left: Fraction
    height: Fraction
    load: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire:
    """A tightened wire over one hook: it rises by `rise` over `run` from each anchor and carries `mass` kilograms."""

    rise: Fraction
    run: Fraction
    mass: Fraction

    @property
    def weight(self) -> Fraction:
        """In newtons, exact."""
        return self.mass * GRAVITY

    @property
    def angle_deg(self) -> float:
        """Above the horizontal."""
        return math.degrees(math.atan(self.rise / self.run))

    @property
    def tension_n(self) -> float:
        """In newtons, in each half of the wire: weight / (2 sin angle)."""
        return float(self.weight) * math.hypot(self.rise, self.run) / (2 * float(self.rise))

    @property
    def taut(self) -> float:
        """In mm, from anchor to anchor over the hook."""
        return 2 * math.hypot(self.rise, self.run)


@dataclass(frozen=True, slots=True, kw_only=True)
class HungFrame:
    """A frame in its place: `spot` is its outer size on the wall. `wire` is None where it hangs on none."""

    frame: ToHang
    spot: Spot
    pinned: bool
    hooks: tuple[Hook, ...]
    wire: Wire | None = None
    group: Group
    """What it is lined up with."""
    label: Spot | None = None
    """Where its wall label hangs."""

    @property
    def name(self) -> str:
        return self.frame.piece.name

    @property
    def copy(self) -> int:
        return self.frame.copy


@dataclass(frozen=True, slots=True, kw_only=True)
class SolvedWall:
    """A wall with everything in its place, the frames in hanging order."""

    ask: Wall
    frames: tuple[HungFrame, ...]
    findings: tuple[Finding, ...] = ()

    @property
    def name(self) -> str:
        return self.ask.name

    def above_floor(self, left: Fraction, height: Fraction) -> Fraction:
        """Return how far a point lies above the floor below it: on a stair less than its height."""
        return height - floor_below(self.ask.floor, left)

    @property
    def levels(self) -> tuple[Fraction, ...]:
        """The heights of its groups' eye lines, each once; a group that follows a stair has none of its own."""
        return levels_of(self.ask)

    @property
    def group(self) -> Spot:
        """The least rectangle round all frames."""
        return around([hung.spot for hung in self.frames])


def levels_of(wall: Wall) -> tuple[Fraction, ...]:
    """Return the heights of a wall's eye lines; see `SolvedWall.levels`."""
    level = [
        group.eye + floor_below(wall.floor, group.middle)
        for group in wall.flows
        if group.top is None and group.base is None and not (group.arrange is Arrange.STEPPED and group.rise is None)
    ]
    return tuple(dict.fromkeys(level))


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One reason why a wall cannot be hung as asked; `where` is the place within the wall's table, "" for the wall."""

    where: str
    text: str


class Unhangable(MatplanError, ValueError):
    """A wall that cannot be hung as asked; carries every `Problem`."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("\n".join(problem.text for problem in problems))
        self.problems = problems
