"""The bench card: what holds for every board of the job, once for the whole pack.

How a board lies, how the cutter is set, what the signs and words of the cutting diagrams mean, how each kind of cut
looks in section and at a corner, and the cautions of the work. It hangs beside the cutter, the diagrams above it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from functools import partial
from typing import Final

from matplan.documents.cutting.marks import start_mark, stop_mark
from matplan.documents.cutting.sketches import HEIGHT, SECTION_WIDTH, WIDTH, corner, section
from matplan.documents.parts.cautions import Work, cautions
from matplan.documents.parts.facts import fact_list
from matplan.documents.parts.folio import Folio, cut_here
from matplan.documents.parts.page import paper, printed, title_block
from matplan.documents.parts.running import GAP, Running
from matplan.drawing import blocks
from matplan.drawing.blocks import Block
from matplan.drawing.dimensions import united
from matplan.drawing.frame import drawing_area, frame
from matplan.drawing.items import Area, Group, Item, Level, Line, Size, Text
from matplan.drawing.pens import Pen
from matplan.drawing.sheet import Sheet
from matplan.habits import habits_of
from matplan.job.records import Cut, Job
from matplan.lengths import Printer, Units
from matplan.mats.outline_cuts import runs_along_an_edge
from matplan.mats.records import Layer, SolvedPiece
from matplan.planning import Plan

UNDER_MAT: Final = (Fraction(1, 4), 6)
"""Inches, millimetres: so much smaller an under mat is cut, and taped to the back of the top one (common practice)."""
_BETWEEN: Final = 8.0
_TEXTS: Final = (3.0, Size.SMALL)
"""Heights of the card's text: the smaller one where it then takes one page."""


def drawn(folio: Folio, _plan: Plan) -> tuple[Sheet, ...]:
    """Return the bench card of the pieces chosen."""
    return bench_card(folio.job, folio.pieces)


def bench_card(job: Job, pieces: Sequence[SolvedPiece]) -> tuple[Sheet, ...]:
    """Return the card for the boards of these pieces; no sheet where none of them is cut by a diagram."""
    layers = [layer for piece in pieces for layer in cut_here(piece)]
    if not layers:
        return ()
    size = paper(job.units).portrait
    pages = next((pages for text in _TEXTS if len(pages := _pages(job, layers, drawing_area(size), text)) == 1), None)
    return tuple(_sheets(job, size, pages or _pages(job, layers, drawing_area(size), _TEXTS[0])))


def _pages(job: Job, layers: Sequence[Layer], area: Area, text: float) -> tuple[tuple[Item, ...], ...]:
    """Return what stands on the card's pages with text of this height, cautions first."""
    running = Running(area)
    care = cautions(Work.CUTTING, units=job.units)
    running.add(lambda x, y, width: blocks.cautions(care, x=x, y=y, width=width, size=text))
    for title, lines in _advice(job, layers):
        running.add(partial(_noted, title, lines, text))
    running.add(partial(_signs, text))
    running.add(partial(_sketches, tuple(_kinds(layers)), job.printer))
    words = _words(job.printer)
    running.add(lambda x, y, width: fact_list("Words", words, x=x, y=y, width=width))
    return running.pages


def _noted(title: str, lines: Sequence[str], text: float, x: float, y: float, width: float) -> Block:
    return blocks.notes(lines, x=x, y=y, width=width, title=title, size=text)


def _sheets(job: Job, size: tuple[float, float], pages: Sequence[tuple[Item, ...]]) -> Iterator[Sheet]:
    for number, items in enumerate(pages, 1):
        counted = (number, len(pages)) if len(pages) > 1 else None
        block = title_block(job, title="Bench card", document="At the mat cutter", sheet=counted)
        name = "bench card" if number == 1 else f"bench card {number}"
        yield Sheet(name=name, title="Bench card", size=size, items=(*frame(size, block).items, *items))


def _kinds(layers: Sequence[Layer]) -> Iterator[Layer]:
    """Yield one layer for each kind of cut, thickness and over-cut."""
    yield from {(layer.cut, layer.board.thickness, layer.overcut): layer for layer in layers}.values()


# --- words -----------------------------------------------------------------------------------------------------------


def _advice(job: Job, layers: Sequence[Layer]) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield the steps of the work under their titles, only those that the job's boards need."""
    printer, side = job.printer, job.cutter.window_side.value
    backs = [opening.back for layer in layers for opening in layer.openings]
    yield (
        "The board",
        (
            "Lay the board face down on a slip sheet, its top edge as framed (the triangle) away from you, as on the "
            "diagrams.",
            "Left and right are as the board lies; as framed they change sides. The name as framed stands in brackets.",
        ),
    )
    if any(runs_along_an_edge(piece) for back in backs for piece in back.segments):
        yield (
            "Straight cuts",
            (
                "Set the guide to the smallest gauge first.",
                "Make every cut at one gauge before the guide moves, so that its play does no harm.",
                "At one gauge turn the board clockwise from edge to edge; the numbers of the cuts follow.",
                "Measure the start from the board's near edge, the stop from its far edge, along the blade's travel.",
                f"The window lies on the {side} of the travel. A bevel is one firm pass with a fresh blade.",
                *(_over_cuts(layers, printer)),
            ),
        )
    rounds = any(back.ellipse for back in backs)
    if rounds:
        turn = "counter-clockwise" if side == "left" else "clockwise"
        yield (
            "Rounds",
            (
                "Set the cutter to the two axes or to their difference: the table has them at the back and the face.",
                f"Put the cutter's centre on the crossed axes; cut {turn} from the triangle on past the start.",
            ),
        )
    if any(not back.upright and not back.ellipse for back in backs):
        yield (
            "Arcs and slopes",
            (
                "Arcs and slopes are cut along a template or a straight-edge, from mark to mark.",
                "They run past their marks as drawn: more at sharp corners, less at blunt ones.",
                "In a notch the blade stops on the mark.",
            ),
        )
    if any(layer.number > 1 for layer in layers):
        less = habits_of(printer.units).figure(*UNDER_MAT)
        yield (
            "Under mats",
            (
                f"An under mat may be {printer.length(less)} smaller than the blank; each gauge is "
                f"{printer.length(less / 2)} less then.",
                "Put the drop-out of the upper mat back in its window while the mat below is cut against it.",
            ),
        )


def _over_cuts(layers: Sequence[Layer], printer: Printer) -> Iterator[str]:
    """Yield how far the blade runs past a marked corner, by the kind of cut."""
    found: dict[str, list[str]] = {}
    for layer in _kinds(layers):
        words = {Cut.BEVEL: "a bevel", Cut.REVERSE: "a reverse bevel", Cut.STRAIGHT: "a straight cut"}[layer.cut]
        far = printed(layer.overcut, printer) if layer.overcut else ""
        figures = found.setdefault(words, [])
        if far not in figures:
            figures.append(far)
    for words, figures in found.items():
        if past := " or ".join(figure for figure in figures if figure):
            yield f"Past a marked corner {words} runs {past}; start and stop in the tables include it."
        else:
            yield f"{words[:1].upper()}{words[1:]} ends on its marked corners."


_UNITS: Final = {Units.MM: "millimetres", Units.CM: "centimetres", Units.IN: "inches"}


def _words(printer: Printer) -> tuple[tuple[str, str], ...]:
    return (
        ("Gauge", f"what the guide is set to, in {_UNITS[printer.units]}: the border that stays, at the back"),
        ("Near edge, far edge", "the board's edges behind the blade and ahead of it, along its travel"),
        (
            "Over-cut",
            "how far the blade runs past the corner that is marked, so that the corner comes free at the face",
        ),
        ("Drop-out", "what falls out of a window; “keep” names the mats that a sheet layout cuts from it"),
        ("By hand", "marked, and cut without the guide: the cutter does not reach so far"),
    )


# --- signs and sketches ----------------------------------------------------------------------------------------------


def _signs(text: float, x: float, y: float, width: float) -> Block:
    """Return the signs of a cutting diagram with their meaning."""
    middle = y + Size.SMALL + 4.6
    items: list[Item] = [Text(at=(x, y), text="Signs", size=text, level=Level.TOP, bold=True)]
    each = width / 4
    signs: tuple[tuple[tuple[Item, ...], str], ...] = (
        ((Line(start=(x, middle), end=(x + 9, middle), pen=Pen.CUT),), "the blade's line"),
        ((start_mark((x + each + 6, middle), (1.0, 0.0), 3.0),), "the blade starts"),
        ((stop_mark((x + 2 * each + 3, middle), (1.0, 0.0), 3.0),), "the blade stops"),
        ((Area(x=x + 3 * each, y=middle - 2.8, width=5.6, height=5.6).rect(pen=Pen.EDGE),), "a cut's number"),
    )
    for number, (drawn, words) in enumerate(signs):
        items.extend(drawn)
        items.append(Text(at=(x + number * each + 11, middle), text=words, size=Size.SMALL, level=Level.MIDDLE))
    return Block(
        items=(Group(classes=("signs",), items=tuple(items)),), area=Area(x=x, y=y, width=width, height=middle + 3 - y)
    )


def _sketches(layers: Sequence[Layer], printer: Printer, x: float, y: float, width: float) -> Block:
    """Return the section through each kind of cut, and beside it the corner where two straight cuts pass, in rows."""
    made: list[Block] = []
    left, top = x, y
    for layer in layers:
        for sketch, wide in _of_layer(layer, printer):
            if left > x and left + wide > x + width:
                left, top = x, top + HEIGHT + GAP
            made.append(sketch(x=left, y=top, width=wide))
            left += wide + _BETWEEN
    area = united([*(block.area for block in made), Area(x=x, y=y, width=width, height=top - y + HEIGHT)])
    return Block(items=tuple(item for block in made for item in block.items), area=area)


def _of_layer(layer: Layer, printer: Printer) -> Iterator[tuple[Callable[..., Block], float]]:
    """Yield the sketches of a kind of cut with their widths."""
    yield partial(section, layer, printer), SECTION_WIDTH
    straight = any(runs_along_an_edge(piece) for opening in layer.openings for piece in opening.back.segments)
    if straight and layer.overcut:
        yield partial(corner, layer, printer), WIDTH
