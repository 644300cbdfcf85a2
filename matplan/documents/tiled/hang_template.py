"""The hang template: the upper edge of a frame at full size with its hook holes, to be held to the wall and pricked
through.

A strip as wide as the frame and as high as its hooks hang low, seen from the front, in the frame's own coordinates: x
to the right and y down from its upper left corner. It is spread over the sheets of an office printer like every
template, with the same joins and ruler.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise
from typing import Final

from matplan.documents.parts import wording
from matplan.documents.parts.cautions import Work, cautions, is_heavy
from matplan.documents.parts.folio import Folio
from matplan.documents.parts.free_places import Taken, within
from matplan.documents.parts.page import paper
from matplan.documents.parts.windowed import Run, Window, bounds_of, runs
from matplan.documents.tiled.joins import Join, join_items, joins
from matplan.documents.tiled.lines import ModelLine
from matplan.documents.tiled.strip import Words, strip_items
from matplan.documents.tiled.tiling import (
    MARGIN,
    OVERLAP,
    STRIP,
    Tile,
    Tiling,
    on_paper,
    run_on_paper,
    sheets_needed,
    tiling,
)
from matplan.drawing import lettering
from matplan.drawing.items import Area, Ellipse, Group, Item, Level, Line, Path, Size, Text
from matplan.drawing.pens import PAPER, Pen
from matplan.drawing.sheet import Sheet
from matplan.job.records import Job
from matplan.lengths import ZERO, Box, Printer
from matplan.lengths import Size as Sized
from matplan.mats.records import SolvedPiece
from matplan.mats.shapes.segments import Straight
from matplan.walls.records import HungFrame, SolvedWall

BELOW: Final = Fraction(25)
"""What the strip shows below its hooks."""
LOWEST: Final = Fraction(60)
"""The least height of a strip, so that there is something to hold."""
MOST: Final = 60
"""Sheets beyond which a strip is set out with a tape instead."""
_HOLE: Final = 2.5
_CROSS: Final = 6.0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Strip:
    """One strip: its size, its holes from its upper left corner, and where the frames hang that it serves."""

    size: Sized
    holes: tuple[tuple[Fraction, Fraction], ...]
    places: tuple[tuple[SolvedWall, HungFrame], ...]

    @property
    def box(self) -> Box:
        return Box.of(self.size)


def drawn(folio: Folio, piece: SolvedPiece) -> tuple[Sheet, ...]:
    """Return the hang template of a piece; empty where it hangs on no wall."""
    walls = () if folio.plan is None else folio.plan.walls
    return hang_template(folio.job, piece, walls) if walls else ()


def hang_template(job: Job, piece: SolvedPiece, walls: Sequence[SolvedWall]) -> tuple[Sheet, ...]:
    """Return the template's sheets: a strip for each way in which the piece hangs; nothing where it hangs nowhere or a
    strip is too large.

    A sheet without a hook is left out. No hook lies on a join.
    """
    page = paper(job.units)
    sheets: list[Sheet] = []
    for number, strip in enumerate(_strips(piece, walls), 1):
        if sheets_needed(strip.size, page) > MOST:
            continue
        lines = tuple(_lines(strip))
        holes = [Box(left, down, ZERO, ZERO) for left, down in strip.holes]
        whole = tiling(strip.size, (), [*(line.box for line in lines), *holes], page)
        marked = tuple(tile for tile in whole.tiles if any(_holds(tile, hole) for hole in strip.holes))
        made = replace(whole, tiles=marked)
        joined = joins(made, lines)
        sheets.extend(_Page(job, piece, strip, made, joined, lines, tile).sheet(number) for tile in made.tiles)
    return tuple(sheets)


def _holds(tile: Tile, hole: tuple[Fraction, Fraction]) -> bool:
    """Return whether a sheet shows a hook."""
    window = tile.window
    return window.x <= hole[0] <= window.right and window.y <= hole[1] <= window.bottom


def _strips(piece: SolvedPiece, walls: Sequence[SolvedWall]) -> Iterator[_Strip]:
    found: dict[tuple[tuple[Fraction, Fraction], ...], list[tuple[SolvedWall, HungFrame]]] = {}
    for wall in walls:
        for hung in wall.frames:
            if hung.frame.piece.ask.file == piece.ask.file:
                holes = tuple((hook.left - hung.spot.left, hung.spot.top - hook.height) for hook in hung.hooks)
                found.setdefault(holes, []).append((wall, hung))
    for holes, places in found.items():
        spot = places[0][1].spot
        height = min(max(max(down for _, down in holes) + BELOW, LOWEST), spot.height)
        yield _Strip(size=Sized(spot.width, height), holes=holes, places=tuple(places))


def _lines(strip: _Strip) -> Iterator[ModelLine]:
    """Centre line and hook height first, so that the frame's edge is drawn over them."""
    width, height = strip.size.width, strip.size.height
    yield _line((width / 2, ZERO), (width / 2, height), Pen.CENTRE, "centre-line")
    for level in dict.fromkeys(down for _, down in strip.holes):
        yield _line((ZERO, level), (width, level), Pen.CENTRE, "hook-height")
    yield _line((ZERO, height), (width, height), Pen.HIDDEN, "strip-end")
    edge = ((ZERO, height), (ZERO, ZERO), (width, ZERO), (width, height))
    segments = tuple(Straight(start=a, end=b) for a, b in pairwise(edge))
    yield ModelLine(segments=segments, box=strip.box, bounds=bounds_of(strip.box), pen=Pen.OUTLINE, name="frame-edge")


def _line(start: tuple[Fraction, Fraction], end: tuple[Fraction, Fraction], pen: Pen, name: str) -> ModelLine:
    (x1, y1), (x2, y2) = start, end
    box = Box(x1, y1, x2 - x1, y2 - y1)
    return ModelLine(segments=(Straight(start=start, end=end),), box=box, bounds=bounds_of(box), pen=pen, name=name)


class _Page:
    """One sheet of a strip."""

    def __init__(
        self,
        job: Job,
        piece: SolvedPiece,
        strip: _Strip,
        made: Tiling,
        joined: Sequence[Join],
        lines: Sequence[ModelLine],
        tile: Tile,
    ) -> None:
        self._job, self._piece, self._strip, self._tiling, self._tile = job, piece, strip, made, tile
        self._window = Window.on(tile.window)
        self._joins = [join for join in joined if (tile.row, tile.column) in join.sheets]
        self._shown = [(line, runs(line.segments, self._window)) for line in lines if self._window.meets(line.bounds)]
        self._taken = Taken()

    def sheet(self, number: int) -> Sheet:
        tile, printer = self._tile, self._job.printer
        drawn = [item for line, shown in self._shown for item in self._line(line, shown)]
        marks = [item for join in self._joins for item in join_items(join, tile)]
        holes = list(self._holes())
        words = Words(
            title=f"{wording.short(self._piece.name)}: hang template",
            about=f"1:1, as it hangs · frame {printer.size(self._strip.places[0][1].frame.size)}",
            key=(
                (Pen.OUTLINE, "frame's edge"),
                (Pen.CENTRE, "middle, hook height"),
                *(((Pen.RULE, "trim and join"),) if self._joins else ()),
            ),
            left_out="without a hook",
        )
        width, height = self._tiling.page
        foot = Area(
            x=float(MARGIN),
            y=height - float(MARGIN + STRIP) + 2.0,
            width=width - 2 * float(MARGIN),
            height=float(STRIP) - 2.0,
        )
        strip = strip_items(foot, self._tiling, tile, words, self._job.units, self._strip.box, ())
        return Sheet(
            name=f"hang template {self._piece.ask.file} {number} {tile.row}-{tile.column}",
            title=f"Strip {number}, row {tile.row}, column {tile.column}",
            size=self._tiling.page,
            items=(*drawn, *marks, *holes, *self._words(printer), strip),
            scale=Fraction(1),
        )

    def _line(self, line: ModelLine, shown: Sequence[Run]) -> Iterator[Item]:
        for run in shown:
            moved = run_on_paper(run)
            self._taken.run(moved)
            box = line.box
            yield Path(
                start=moved.start,
                steps=moved.steps,
                pen=line.pen,
                classes=(line.name,),
                box=(box.x, box.y, box.width, box.height),
            )

    def _holes(self) -> Iterator[Group]:
        """A ring and a cross at each hook that this sheet shows."""
        for left, down in self._strip.holes:
            point = self._window.point((left, down))
            if not self._window.holds(point):
                continue
            x, y = on_paper(point)
            items = (
                Ellipse(centre=(x, y), rx=_HOLE, ry=_HOLE, pen=Pen.OUTLINE, fill=PAPER),
                Line(start=(x - _CROSS, y), end=(x + _CROSS, y), pen=Pen.EDGE),
                Line(start=(x, y - _CROSS), end=(x, y + _CROSS), pen=Pen.EDGE),
            )
            self._taken.areas.append(Area(x=x - _CROSS, y=y - _CROSS, width=2 * _CROSS, height=2 * _CROSS))
            yield Group(classes=("hook",), items=items, box=(left, down, ZERO, ZERO))

    # --- words on the strip ---

    def _words(self, printer: Printer) -> Iterator[Item]:
        """Yield what to do and where each cross goes: together where there is room, else line by line."""
        room = self._room()
        lines = [
            (line, bold)
            for text, bold in self._lines(printer)
            for line in lettering.wrapped(text, room.width - 1.0, Size.SMALL, bold)
        ]
        pitch = Size.SMALL * lettering.LINE_PITCH
        for texts in (lines, *([line] for line in lines)):
            width = max(lettering.width(text, Size.SMALL, bold) for text, bold in texts) + 1.0
            spot = self._taken.first_free(within(room, width, len(texts) * pitch, steps=24))
            if spot is None:
                continue
            items = tuple(
                Text(
                    at=(spot.x + 0.5, spot.y + 0.6 + n * pitch), text=text, size=Size.SMALL, level=Level.TOP, bold=bold
                )
                for n, (text, bold) in enumerate(texts)
            )
            yield Group(items=items, classes=("strip-words",))
            if texts is lines:
                return

    def _lines(self, printer: Printer) -> Iterator[tuple[str, bool]]:
        yield wording.short(self._piece.name), True
        for wall, hung in self._strip.places:
            copy = f" {hung.copy}" if hung.frame.copies > 1 else ""
            for hook, hole in zip(hung.hooks, self._strip.holes, strict=True):
                if _holds(self._tile, hole):
                    left = printer.tape(hook.left)
                    height = printer.tape(wall.above_floor(hook.left, hook.height))
                    yield f"{wording.short(wall.name)}{copy}: cross {left} from the left, {height} above floor", False
        yield "Trim to the upper edge, level it, prick through the cross.", False
        piece = self._piece
        heavy = (Work.HEAVY,) if is_heavy(piece.mass + (piece.frame_mass or ZERO)) else ()
        for caution in cautions(Work.WALL, Work.FIXINGS, *heavy, units=self._job.units):
            yield caution, False

    def _room(self) -> Area:
        """Return the sheet's window less the overlaps; what lies below the strip is paper to write on."""
        window, tile = self._window, self._tile
        kept = {(one.row, one.column) for one in self._tiling.tiles}
        off = float(OVERLAP) + 1

        def side(row: int, column: int) -> float:
            return off if (row, column) in kept else 1.0

        left, top, right, bottom = window.bounds
        x, y = on_paper((0.0, 0.0))
        area = Area(x=x, y=y, width=right - left, height=bottom - top)
        return area.inset(
            side(tile.row, tile.column - 1),
            side(tile.row - 1, tile.column),
            side(tile.row, tile.column + 1),
            side(tile.row + 1, tile.column),
        )
