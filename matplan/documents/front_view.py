"""The front view: a piece as framed, to scale and in colours, with what the eye sees dimensioned and its figures below."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from matplan.documents.parts import wording
from matplan.documents.parts.facts import facts_beside
from matplan.documents.parts.folio import Folio
from matplan.documents.parts.framed import extent, framed, model_box
from matplan.documents.parts.page import further_scales, title_block
from matplan.documents.parts.paper import Laid, best_paper
from matplan.documents.parts.pictures import PictureKey, Pictures
from matplan.drawing import blocks
from matplan.drawing.blocks import Align, Block, Column
from matplan.drawing.dimensions import SMALL, Arranged, Dimension, ModelPoint, Side, arrange, united
from matplan.drawing.frame import frame
from matplan.drawing.items import Area, Item
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import NoScaleFits
from matplan.job.records import Job
from matplan.lengths import Box, Printer, plain_decimal
from matplan.mats.records import SolvedAperture, SolvedPiece

GAP = 5.0
_MOST_OF_THE_SHEET = 0.42
"""The figures take no more of the height, whatever there is to say."""
_MOST_WINDOWS = 10
_MOST_FINDINGS = 8
_MOST_POINTS = 10


def drawn(folio: Folio, piece: SolvedPiece) -> tuple[Sheet, ...]:
    """Return the front view of a piece."""
    return (_sheet(folio.job, piece, folio.pictures, _once(folio, piece)),)


def front_view(job: Job, piece: SolvedPiece, pictures: Pictures) -> Sheet:
    """Return the sheet for a piece; windows without a picture show a plain field."""
    return _sheet(job, piece, pictures, _laid(job, piece))


def _once(folio: Folio, piece: SolvedPiece) -> Laid[_Layout]:
    return folio.once(("front view", piece.ask.file), lambda: _laid(folio.job, piece))


def _sheet(job: Job, piece: SolvedPiece, pictures: Pictures, layout: Laid[_Layout]) -> Sheet:
    made, scale = layout.made, layout.scale
    items = (*framed(piece, pictures, made.drawn.view), *made.drawn.items, *made.below)
    count = (("Count", str(piece.ask.quantity)),)
    view = "as framed, seen from the front"
    block = title_block(job, document="Front view", title=piece.name, view=view, scale=scale, further=count)
    return Sheet(
        name=f"front {piece.ask.file}",
        title=piece.name,
        size=layout.size,
        items=(*frame(layout.size, block).items, *items),
        scale=scale,
    )


def picture_sizes(folio: Folio, piece: SolvedPiece) -> dict[PictureKey, tuple[float, float]]:
    """Return how large each window's picture is drawn on the front view, in mm of paper."""
    view = _once(folio, piece).made.drawn.view
    return {
        (piece.ask.file, a.name): (view.length(a.image.width), view.length(a.image.height)) for a in piece.apertures
    }


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layout:
    drawn: Arranged
    below: tuple[Item, ...]


def _laid(job: Job, piece: SolvedPiece) -> Laid[_Layout]:
    """Return the piece with its figures on the paper that suits it."""
    return best_paper(job.units, extent(piece).size, lambda area: _lay(job, piece, area))


def _lay(job: Job, piece: SolvedPiece, area: Area) -> tuple[Fraction, _Layout]:
    """Return the scale and the layout in the area that a paper leaves; raises `NoScaleFits`."""
    figures = _Figures(job, piece, area)
    room = area.inset(0, 0, 0, figures.height + GAP)
    dimensions = _dimensions(piece, job.printer)
    model = model_box(extent(piece))
    drawn = arrange(model, dimensions, room, further_scales(job.units), style=SMALL)
    with suppress(NoScaleFits):  # larger figures where they cost no scale
        drawn = arrange(model, dimensions, room, (drawn.view.scale,))
    return drawn.view.scale, _Layout(drawn=drawn, below=figures.block(area.bottom - figures.height).items)


# --- dimensions ------------------------------------------------------------------------------------------------------


def _dimensions(piece: SolvedPiece, printer: Printer) -> list[Dimension]:
    """What the eye sees above and on the left, image and whole size below and on the right.

    They are measured from the edge of all that is drawn, so that no line runs across the picture.
    """
    whole = extent(piece)
    found: list[Dimension] = []
    for side, name in ((Side.ABOVE, "across"), (Side.LEFT, "down")):
        found.extend(_run(_stops(piece, side), side, whole, printer, name))
    images = [a.image for a in piece.apertures]
    for side, name in ((Side.BELOW, "width"), (Side.RIGHT, "height")):
        if len(images) == 1:
            image = images[0]
            ends = (image.x, image.right) if side.across else (image.y, image.bottom)
            found.extend(_run(ends, side, whole, printer, f"image-{name}"))
        ends = (whole.x, whole.right) if side.across else (whole.y, whole.bottom)
        found.extend(_run(ends, side, whole, printer, f"outer-{name}"))
    return found


def _run(stops: Sequence[Fraction], side: Side, whole: Box, printer: Printer, name: str) -> list[Dimension]:
    """Running dimensions from stop to stop on a side of the whole."""
    level = {Side.ABOVE: whole.y, Side.BELOW: whole.bottom, Side.LEFT: whole.x, Side.RIGHT: whole.right}[side]

    def point(stop: Fraction) -> ModelPoint:
        return (stop, level) if side.across else (level, stop)

    pairs = [(a, b) for a, b in pairwise(stops) if a < b]
    return [
        Dimension(
            start=point(a),
            end=point(b),
            side=side,
            label=printer.number(b - a),
            id=f"{name}-{n}" if len(pairs) > 1 else name,
        )
        for n, (a, b) in enumerate(pairs, 1)
    ]


def _stops(piece: SolvedPiece, side: Side) -> list[Fraction]:
    """The sight's edges, and between them the edges of the openings of the first row, or of each row's first opening."""
    sight = piece.sight_box
    low, high = (sight.x, sight.right) if side.across else (sight.y, sight.bottom)
    rows = piece.ask.rows
    chosen = rows[0] if side.across else tuple(row[0] for row in rows)
    stops = [low]
    for index in chosen:
        opening = piece.apertures[index].seen.box
        stops.extend((opening.x, opening.right) if side.across else (opening.y, opening.bottom))
    stops.append(high)
    inside = [s for s in stops if low <= s <= high]
    if len(inside) > _MOST_POINTS:  # too many to read: the block alone
        inside = [low, inside[1], inside[-2], high]
    return inside if inside == sorted(inside) else [low, high]


# --- figures ---------------------------------------------------------------------------------------------------------


class _Figures:
    """The figures below the drawing: as many windows and findings as leave room for it, the rest stand on the piece's
    summary.
    """

    def __init__(self, job: Job, piece: SolvedPiece, area: Area) -> None:
        self._piece, self._area, self._printer = piece, area, job.printer
        self._windows, self._findings = (
            min(len(piece.apertures), _MOST_WINDOWS),
            min(len(piece.findings), _MOST_FINDINGS),
        )
        most = area.height * _MOST_OF_THE_SHEET
        self.height = self.block(area.y).area.height
        while self.height > most and self._windows + self._findings > 2:
            if self._findings > self._windows:
                self._findings -= 1
            else:
                self._windows -= 1
            self.height = self.block(area.y).area.height

    def block(self, y: float) -> Block:
        """All of them, from y down."""
        area = self._area
        laid = [facts_beside(self._lists(), x=area.x, y=y, width=area.width)]
        for part in (self._window_table, self._notes):
            made = part(laid[-1].bottom + 3.5)
            if made is not None:
                laid.append(made)
        return Block(items=tuple(i for b in laid for i in b.items), area=united([b.area for b in laid]))

    def _lists(self) -> tuple[tuple[str, list[wording.Fact]], ...]:
        """Sizes, what the eye sees of the only window, and materials."""
        piece, printer = self._piece, self._printer
        sizes = [(what, printer.size(size)) for what, size in wording.frame_sizes(piece)]
        seen: list[wording.Fact] = []
        if len(piece.apertures) == 1:
            aperture = piece.apertures[0]
            sizes = [*((what, printer.size(size)) for what, size in wording.window_sizes(aperture)), *sizes]
            seen = list(_seen(aperture, printer))
        made = [*wording.materials(piece, printer), *wording.weights(piece, printer.units)]
        return (("Sizes, width × height", sizes), ("What the eye sees", seen), ("Made of", made))

    def _window_table(self, y: float) -> Block | None:
        """The windows of a piece that has several."""
        piece, printer = self._piece, self._printer
        if len(piece.apertures) == 1:
            return None
        columns = [Column(head="Window", share=1.0), Column(head="Opening"), Column(head="Image")]
        columns += [Column(head=head, align=Align.RIGHT) for head in ("Top", "Right", "Bottom", "Left", "ppi")]
        rows = []
        for a in piece.apertures[: self._windows]:
            image = printer.size(a.image.size) if a.ask.text is None else "caption"
            borders = map(printer.number, (a.visible.top, a.visible.right, a.visible.bottom, a.visible.left))
            ppi = "" if a.pixels.ppi is None else plain_decimal(a.pixels.ppi, 0)
            rows.append((wording.short(a.name), printer.size(a.opening.size), image, *borders, ppi))
        more = len(piece.apertures) - self._windows
        if more:
            rows.append((f"and {more} more: see the summary", *("",) * (len(columns) - 1)))
        return blocks.table(columns, rows, x=self._area.x, y=y, width=self._area.width, classes=("windows",))

    def _notes(self, y: float) -> Block | None:
        piece = self._piece
        if not piece.findings:
            return None
        lines = [wording.finding_in_words(f, piece) for f in piece.findings[: self._findings]]
        more = len(piece.findings) - len(lines)
        if more:
            lines.append(f"and {more} more: see the summary" if lines else f"{more} findings: see the summary")
        return blocks.notes(lines, x=self._area.x, y=y, width=self._area.width, title="Findings")


def _seen(aperture: SolvedAperture, printer: Printer) -> Iterator[wording.Fact]:
    if aperture.visible.least >= 0:
        yield from wording.side_facts("Border", aperture.visible, printer)
    covered = wording.shown_in_words(aperture, printer)
    if covered is not None:
        yield covered
    if aperture.print is not None and aperture.print.paper is not None:
        yield "Paper", wording.short(aperture.print.paper.name)
    if aperture.ask.text is None:
        yield from wording.pixels_in_words(aperture)
