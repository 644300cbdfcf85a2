"""The front view: a piece as framed, to scale and in colours, with what the eye sees dimensioned and its figures below."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from matplan.documents import wording
from matplan.documents.fact_list import facts_beside
from matplan.documents.framed import extent, framed, model_box
from matplan.documents.page import further_scales, paper, title_block
from matplan.documents.pictures import PictureKey, Pictures
from matplan.drawing import blocks
from matplan.drawing.blocks import Block
from matplan.drawing.dimensions import SMALL, Arranged, Dimension, ModelPoint, Side, Style, arrange, united
from matplan.drawing.frame import frame
from matplan.drawing.items import Area, Item
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import NoScaleFits
from matplan.lengths import Box, Printer
from matplan.mats.records import SolvedAperture, SolvedPiece
from matplan.planning import Plan

GAP = 5.0
_LEAST_DRAWING = 70.0
"""The drawing keeps that much of the sheet's height, whatever there is to say below it."""
_MOST_WINDOWS = 3
"""So many windows have their figures on the sheet; all of them stand on the piece's summary."""
_MOST_POINTS = 10


def front_view(plan: Plan, piece: SolvedPiece, pictures: Pictures) -> Sheet:
    """The sheet for that piece; windows without a picture show a plain field."""
    layout = _laid(plan, piece)
    items = (
        *framed(piece, pictures, layout.drawn.view),
        *layout.drawn.items,
        *layout.below,
    )
    scale = layout.drawn.view.scale
    block = title_block(plan.job, document="Front view", title=piece.name, view="as framed, seen from the front", scale=scale)
    return Sheet(
        name=f"front {piece.ask.file}",
        title=piece.name,
        size=layout.size,
        items=(*frame(layout.size, block).items, *items),
        scale=scale,
    )


def picture_sizes(plan: Plan, piece: SolvedPiece) -> dict[PictureKey, tuple[float, float]]:
    """How large each window's picture is drawn on the front view, in mm of paper."""
    view = _laid(plan, piece).drawn.view
    return {(piece.ask.file, a.name): (view.length(a.image.width), view.length(a.image.height)) for a in piece.apertures}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layout:
    size: tuple[float, float]
    drawn: Arranged
    below: tuple[Item, ...]


def _laid(plan: Plan, piece: SolvedPiece) -> _Layout:
    """Upright, unless the sheet on its side gives a larger scale."""
    page = paper(plan.job.units)
    tried = [_laid_on(plan, piece, size) for size in (page.portrait, page.landscape)]
    found = [layout for layout in tried if isinstance(layout, _Layout)]
    if not found:
        raise next(fault for fault in tried if isinstance(fault, NoScaleFits))
    return max(found, key=lambda layout: layout.drawn.view.scale)


def _laid_on(plan: Plan, piece: SolvedPiece, size: tuple[float, float]) -> _Layout | NoScaleFits:
    area = frame(size, title_block(plan.job, title="", document="")).area
    figures = _figures(plan, piece, area, area.y)
    high = min(figures.area.height, area.height - _LEAST_DRAWING - GAP)
    room = area.inset(0, 0, 0, high + GAP)
    dimensions = _dimensions(piece, plan.job.printer)

    def arranged(style: Style) -> Arranged:
        return arrange(model_box(extent(piece)), dimensions, room, further_scales(plan.job.units), style=style)

    try:
        drawn = arranged(SMALL)
    except NoScaleFits as fault:
        return fault
    with suppress(NoScaleFits):  # larger figures where they cost no scale
        large = arranged(Style())
        drawn = large if large.view.scale == drawn.view.scale else drawn
    return _Layout(size=size, drawn=drawn, below=_figures(plan, piece, area, area.bottom - figures.area.height).items)


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
        opening = piece.apertures[index].opening
        stops.extend((opening.x, opening.right) if side.across else (opening.y, opening.bottom))
    stops.append(high)
    inside = [s for s in stops if low <= s <= high]
    if len(inside) > _MOST_POINTS:  # too many to read: the block alone
        inside = [low, inside[1], inside[-2], high]
    return inside if inside == sorted(inside) else [low, high]


# --- figures ---------------------------------------------------------------------------------------------------------


def _figures(plan: Plan, piece: SolvedPiece, area: Area, y: float) -> Block:
    """Sizes, what the eye sees and materials beside one another, the findings below them."""
    printer = plan.job.printer
    shown = piece.apertures[:_MOST_WINDOWS]
    many = len(piece.apertures) > 1
    sizes = [(_named(what, a, many), printer.size(size)) for a in shown for what, size in wording.window_sizes(a)]
    sizes += [(what, printer.size(size)) for what, size in wording.frame_sizes(piece)]
    seen = list(_seen(piece, shown, printer, many))
    made = [*wording.materials(piece), *wording.weights(piece)]
    columns = (("Sizes, width × height", sizes), ("What the eye sees", seen), ("Made of", made))
    beside = facts_beside(columns, x=area.x, y=y, width=area.width)
    findings = _findings(piece, area, beside.bottom + 3.5)
    laid = [beside] if findings is None else [beside, findings]
    return Block(items=tuple(i for b in laid for i in b.items), area=united([b.area for b in laid]))


def _named(what: str, aperture: SolvedAperture, many: bool) -> str:
    return f"{what} {wording.short(aperture.name)}" if many else what


def _seen(piece: SolvedPiece, shown: Sequence[SolvedAperture], printer: Printer, many: bool) -> list[wording.Fact]:
    facts: list[wording.Fact] = []
    for aperture in shown:
        if aperture.visible.least >= 0:
            facts.extend(wording.side_facts(_named("Border", aperture, many), aperture.visible, printer))
        covered = wording.shown_in_words(aperture, printer)
        if covered is not None:
            facts.append((_named(covered[0], aperture, many), covered[1]))
        if aperture.print is not None and aperture.print.paper is not None:
            facts.append((_named("Paper", aperture, many), wording.short(aperture.print.paper.name)))
        if aperture.ask.text is None:
            facts.extend((_named(what, aperture, many), figure) for what, figure in wording.pixels_in_words(aperture))
    if len(shown) < len(piece.apertures):
        facts.append(("", f"{len(piece.apertures) - len(shown)} more windows: see the piece's summary"))
    return facts


def _findings(piece: SolvedPiece, area: Area, y: float) -> Block | None:
    lines = [wording.finding_in_words(f, piece) for f in piece.findings]
    if not lines:
        return None
    return blocks.notes(lines, x=area.x, y=y, width=area.width, title="Findings")
