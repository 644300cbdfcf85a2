"""Finding a place on paper that no line and no text takes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Final

from matplan.documents.parts.windowed import Run, crossing
from matplan.drawing.arcs import chords
from matplan.drawing.items import ArcTo, Area, Point, To

_CHORDS: Final = 24


@dataclass(slots=True)
class Taken:
    """What stands on a sheet already: lines, and areas that other things fill."""

    lines: list[tuple[Point, Point]] = field(default_factory=list)
    areas: list[Area] = field(default_factory=list)

    def run(self, run: Run) -> None:
        """Take note of a line."""
        here = run.start
        for step in run.steps:
            match step:
                case To():
                    self.lines.append((here, step.end))
                case ArcTo():
                    for point in chords(here, step, _CHORDS):
                        self.lines.append((here, point))
                        here = point
            here = step.end

    def is_free(self, area: Area) -> bool:
        """Return whether neither a line nor an area meets that one."""
        return not any(self._met(area))

    def count(self, area: Area) -> int:
        """Return how many lines and areas meet that one."""
        return sum(self._met(area))

    def _met(self, area: Area) -> Iterator[bool]:
        """Yield True once for each thing that meets the area."""
        left, top, right, bottom = box = (area.x, area.y, area.right, area.bottom)
        for start, end in self.lines:
            (x1, y1), (x2, y2) = start, end
            if (
                (x1 < left and x2 < left)
                or (x1 > right and x2 > right)
                or (y1 < top and y2 < top)
                or (y1 > bottom and y2 > bottom)
            ):
                continue
            if crossing(start, end, box):
                yield True
        for other in self.areas:
            if area.meets(other):
                yield True

    def first_free(self, areas: Iterable[Area]) -> Area | None:
        """Return the first of those areas that nothing meets; it is taken from then on."""
        for area in areas:
            if self.is_free(area):
                self.areas.append(area)
                return area
        return None


def within(room: Area, width: float, height: float, *, steps: int = 8) -> Iterator[Area]:
    """Yield areas of that size in a room, over a grid: from its top left on, row by row; none where it is too small."""
    across, down = room.width - width, room.height - height
    if across < 0 or down < 0:
        return
    for row in range(steps + 1):
        for column in range(steps + 1):
            yield Area(x=room.x + across * column / steps, y=room.y + down * row / steps, width=width, height=height)
