"""The template: the mat at full size, seen from the front, on as many sheets of an office printer as it takes.

The blank's edge, every back opening in its layer's own line style, and centre lines, in the plan's own coordinates.
Every sheet holds only what it shows: lines end at its window, arcs stay arcs. Sheets that would show nothing but an
opening's waste are left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from matplan.documents.parts import wording
from matplan.documents.parts.folio import Folio, cut_here
from matplan.documents.parts.free_places import Taken, within
from matplan.documents.parts.page import paper, title_block
from matplan.documents.parts.windowed import Run, Window, bounds_of, runs
from matplan.documents.tiled.joins import Join, join_items, joins
from matplan.documents.tiled.lines import WORK_PEN, ModelLine, clear_openings, layer_pen, template_lines
from matplan.documents.tiled.strip import Words, strip_items
from matplan.documents.tiled.tiling import (
    MARGIN,
    MOST,
    OVERLAP,
    STRIP,
    Tile,
    Tiling,
    on_paper,
    run_on_paper,
    sheets_needed,
    tiling,
)
from matplan.drawing import blocks, lettering
from matplan.drawing.frame import frame
from matplan.drawing.items import Area, Group, Item, Level, Line, Path, Point, Polyline, Size, Text, To
from matplan.drawing.pens import Pen
from matplan.drawing.sheet import Sheet
from matplan.job.records import Job
from matplan.lengths import Box
from matplan.mats.outlines import Outline
from matplan.mats.records import SolvedPiece

"""Where a window's top left corner lies on its sheet."""
_STRIP_GAP: Final = 2.0
_SAMPLE: Final = 6.0
"""A sample of a line style, beside words."""
_NAMED: Final = 3
"""Layers beyond which the key has no room for their boards' names."""
_SHAPED: Final = Fraction(3, 20)
"""What to leave free, of its shorter side, in the box of a shaped opening so that words stand inside it."""


def drawn(folio: Folio, piece: SolvedPiece) -> tuple[Sheet, ...]:
    """Return the template of a mat or a mount; empty where there is none to cut or mark."""
    return template(folio.job, piece) if cut_here(piece) or piece.ask.floats else ()


def template(job: Job, piece: SolvedPiece) -> tuple[Sheet, ...]:
    """The template's sheets, row by row; one that says so where the blank would take more sheets than anybody joins."""
    page = paper(job.units)
    if sheets_needed(piece.blank, page) > MOST:
        return (_too_large(job, piece),)
    lines, clear = template_lines(piece), clear_openings(piece)
    made = tiling(piece.blank, clear, [line.box for line in lines], page)
    joined = joins(made, lines)
    return tuple(_Page(job, piece, made, joined, lines, tile).sheet() for tile in made.tiles)


def _too_large(job: Job, piece: SolvedPiece) -> Sheet:
    page = paper(job.units)
    block = title_block(job, document="Template", title=piece.name, view="seen from the front")
    drawn = frame(page.portrait, block)
    text = (
        f"At full size this blank of {job.printer.size(piece.blank)} would take "
        f"{sheets_needed(piece.blank, page)} sheets, "
        f"and more than {MOST} are not drawn. Set it out by the measures of the cutting diagrams."
    )
    note = blocks.paragraph(text, x=drawn.area.x, y=drawn.area.y, width=drawn.area.width)
    return Sheet(
        name=f"template {piece.ask.file}", title="Template", size=page.portrait, items=(*drawn.items, *note.items)
    )


class _Page:
    """One sheet: the lines that its window shows, marks, words in the openings, and the strip."""

    def __init__(
        self,
        job: Job,
        piece: SolvedPiece,
        made: Tiling,
        joined: Iterable[Join],
        lines: Sequence[ModelLine],
        tile: Tile,
    ) -> None:
        self._job, self._piece, self._tiling, self._tile = job, piece, made, tile
        self._window = Window.on(tile.window)
        self._joins = [join for join in joined if (tile.row, tile.column) in join.sheets]
        self._shown = [(line, runs(line.segments, self._window)) for line in lines if self._window.meets(line.bounds)]
        self._taken = Taken()

    def sheet(self) -> Sheet:
        tile, printer = self._tile, self._job.printer
        drawn = [item for line, shown in self._shown for item in self._line(line, shown)]
        marks = [item for join in self._joins for item in join_items(join, tile)]
        self._taken.areas.extend(_area_of(mark) for mark in marks if isinstance(mark, Group))
        about = f"1:1, seen from the front · blank {printer.size(self._piece.blank)}"
        words = Words(title=wording.short(self._piece.name), about=about, key=tuple(self._key()))
        width, height = self._tiling.page
        strip = Area(
            x=float(MARGIN),
            y=height - float(MARGIN + STRIP) + _STRIP_GAP,
            width=width - 2 * float(MARGIN),
            height=float(STRIP) - _STRIP_GAP,
        )
        clear = clear_openings(self._piece)
        blank = Box.of(self._piece.blank)
        foot = strip_items(strip, self._tiling, tile, words, self._job.units, blank, [line.box for line in clear])
        names = list(self._names(clear))
        return Sheet(
            name=f"template {self._piece.ask.file} {tile.row}-{tile.column}",
            title=f"Row {tile.row}, column {tile.column}",
            size=self._tiling.page,
            items=(*drawn, *marks, *names, foot),
            scale=Fraction(1),
        )

    def _key(self) -> Iterator[tuple[Pen, str]]:
        yield Pen.OUTLINE, "blank"
        if self._piece.ask.floats:
            yield WORK_PEN, "work, on the mount"
        if len(self._piece.layers) == 1:
            yield layer_pen(self._piece.layers[0]), f"back opening, {wording.short(self._piece.layers[0].board.name)}"
        else:
            for layer in self._piece.layers:
                name = f", {wording.short(layer.board.name)}" if len(self._piece.layers) <= _NAMED else ""
                yield layer_pen(layer), f"layer {layer.number}{name}"
        yield Pen.CENTRE, "centre"
        if self._joins:
            yield Pen.RULE, "trim and join"

    def _line(self, line: ModelLine, shown: Sequence[Run]) -> Iterator[Item]:
        for run in shown:
            self._taken.run(run_on_paper(run))
            yield _path(run_on_paper(run), line)

    # --- words in the openings ---

    def _names(self, clear: Sequence[Outline]) -> Iterator[Item]:
        """Each window's name and the sizes of its openings, inside it, clear of every line and off the overlaps."""
        for number, outline in enumerate(clear):
            room = self._room(outline)
            if room is None:
                continue
            tries = (
                (*named, *facts)
                for facts in (self._sizes(number), self._sizes(number, sized=False), ())
                for named in _named(wording.short(self._piece.layers[-1].openings[number].aperture), room)
            )
            for part in tries:
                width = max(entry.width for entry in part)
                spot = self._taken.first_free(within(room, width, sum(entry.height for entry in part)))
                if spot is not None:
                    yield Group(items=tuple(_stacked(spot, part)), classes=("window-words",))
                    break

    def _sizes(self, number: int, *, sized: bool = True) -> tuple[_Entry, ...]:
        """Return a window's opening, or each layer's line style; and, where `sized`, how large it is."""
        return tuple(self._sized(number, sized))

    def _sized(self, number: int, sized: bool) -> Iterator[_Entry]:
        printer, layers = self._job.printer, self._piece.layers
        for layer in layers:
            size = printer.size(layer.openings[number].back.box.size)
            if len(layers) > 1:
                text = f"layer {layer.number}: {size}" if sized else f"layer {layer.number}"
                yield _Entry(text=text, size=Size.SMALL, pen=layer_pen(layer))
            elif sized:
                yield _Entry(text=size, size=Size.SMALL)

    def _room(self, outline: Outline) -> Area | None:
        """What this sheet shows of an opening's inside, less the overlaps; of a shaped one the middle part."""
        inner = (
            outline.box if outline.upright else outline.box.grown(-min(outline.box.width, outline.box.height) * _SHAPED)
        )
        opening, window, off = bounds_of(inner), self._window.bounds, float(OVERLAP) + 1
        left, top = max(opening[0] + 2, window[0] + off), max(opening[1] + 2, window[1] + off)
        right, bottom = min(opening[2] - 2, window[2] - off), min(opening[3] - 2, window[3] - off)
        if right <= left or bottom <= top:
            return None
        x, y = on_paper((left - window[0], top - window[1]))
        return Area(x=x, y=y, width=right - left, height=bottom - top)


_NAME: Final = 0.45
"""How much of an opening a long name may take, across or upright."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Entry:
    """A line of words in an opening, behind a sample of a line style where it is about one."""

    text: str
    size: float
    bold: bool = False
    pen: Pen | None = None

    @property
    def height(self) -> float:
        return self.size * lettering.LINE_PITCH

    @property
    def indent(self) -> float:
        return 0.0 if self.pen is None else _SAMPLE + 1.5

    @property
    def width(self) -> float:
        return self.indent + lettering.width(self.text, self.size, self.bold) + 1.0


def _named(name: str, room: Area) -> Iterator[tuple[_Entry, ...]]:
    """Yield a window's name on one line, then smaller on several in a part of the opening: a centre line may cross the
    rest.
    """
    yield (_Entry(text=name, size=Size.NORMAL, bold=True),)
    for wide, high in ((_NAME, _NAME), (0.9, _NAME), (_NAME, _NAME / 2), (0.9, _NAME / 2), (_NAME, 0.9)):
        found = lettering.fitted(name, room.width * wide - 1.0, room.height * high - 1.0, Size.NORMAL, True)
        if found is not None:
            yield tuple(_Entry(text=line, size=found.size, bold=True) for line in found.lines)


def _stacked(spot: Area, entries: Sequence[_Entry]) -> Iterator[Item]:
    x, y = spot.x + 0.5, spot.y + 0.6
    for entry in entries:
        if entry.pen is not None:
            level = y + entry.size / 2
            yield Line(start=(x, level), end=(x + _SAMPLE, level), pen=entry.pen, classes=("key",))
        yield Text(
            at=(x + entry.indent, y),
            text=entry.text,
            size=entry.size,
            level=Level.TOP,
            bold=entry.bold,
            classes=("name",) if entry.bold else ("opening-size",),
        )
        y += entry.height


def _path(run: Run, line: ModelLine) -> Path:
    steps = run.steps
    if run.closed and isinstance(steps[-1], To):
        steps = steps[:-1]
    box = line.box
    return Path(
        start=run.start,
        steps=steps,
        closed=run.closed,
        pen=line.pen,
        classes=(line.name,),
        box=(box.x, box.y, box.width, box.height),
        data=line.data,
    )


def _area_of(mark: Group) -> Area:
    """The paper that a join mark takes."""
    points = [point for item in mark.items for point in (_corners(item))]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Area(x=min(xs) - 1, y=min(ys) - 1, width=max(xs) - min(xs) + 2, height=max(ys) - min(ys) + 2)


def _corners(item: Item) -> Sequence[Point]:
    match item:
        case Polyline():
            return item.points
        case Text():
            return lettering.setting(item).corners()
        case _:
            return ()
