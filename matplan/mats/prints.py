"""The image on its sheet, its crop and its pixels: what is typed into a print dialog."""

from __future__ import annotations

from fractions import Fraction
from math import floor

from matplan.catalogue import USUAL_PPI
from matplan.job.records import ApertureAsk, Paper, Photo, Show
from matplan.lengths import INCH, ZERO, Box, Printer, Sides, Size, Step
from matplan.mats.records import Pixels, Print
from matplan.mats.task import Task
from matplan.mats.windows import Unsolvable, turns
from matplan.sums import Sums, half, length


def crop_of(photo: Photo | None, image: Size, step: Step) -> Box | None:
    """Return the part of the photo that fills the image, about its centre, as fractions of its width and height.

    Return `None` if the whole photo does: its aspect is the image's to within a step.
    """
    if photo is None:
        return None
    width, height = (Fraction(side) for side in photo.pixels)
    scale = max(image.width / width, image.height / height)
    over = Size(width * scale - image.width, height * scale - image.height)
    if max(over.width, over.height) <= step.size:
        return None
    part = Size(image.width / (width * scale), image.height / (height * scale))
    return Box((1 - part.width) / 2, (1 - part.height) / 2, part.width, part.height)


def pixels_of(ask: ApertureAsk, image: Size, crop: Box | None) -> Pixels:
    """Return the pixels that the print wants, those the photo has, and the density the print gets."""
    wanted = ask.paper.ppi if ask.paper is not None else USUAL_PPI
    want = (_nearest(image.width / INCH * wanted), _nearest(image.height / INCH * wanted))
    if ask.photo is None:
        return Pixels(have=None, used=None, want=want, wanted_ppi=wanted, ppi=None)
    have = ask.photo.pixels
    part = crop.size if crop is not None else Size(Fraction(1), Fraction(1))
    across, down = have[0] * part.width, have[1] * part.height
    ppi = min(across / (image.width / INCH), down / (image.height / INCH))
    return Pixels(have=have, used=(_nearest(across), _nearest(down)), want=want, wanted_ppi=wanted, ppi=ppi)


def _nearest(value: Fraction) -> int:
    return floor(value + Fraction(1, 2))


def print_of(task: Task, ask: ApertureAsk, lies: Box, seen: Box) -> Print | None:
    """Return the print of an image that `lies` in the blank, centred on its paper but for what the printer demands.

    A floated image stays in the middle of its sheet; a floated work without a named paper is a sheet cut to the image.
    Return `None` if no paper is named. Raises `Unsolvable` where the paper is smaller than the image, or does not reach
    behind the mat round the white margin of an opening of which the eye sees `seen`.
    """
    image = lies.size
    if ask.paper is None:
        if ask.show is not Show.SHEET:
            return None
        nothing = Sides.all(ZERO)
        return Print(paper=None, size=image, turned=False, margins=nothing, unreachable=nothing)
    paper = ask.paper
    behind = seen.size.grown(ask.overlap) if ask.show is Show.MARGIN and task.piece.mat else image
    turned = turns(paper.size, image) if ask.show is Show.SHEET else _lies_turned(paper, image, behind)
    size = paper.size.turned if turned else paper.size
    if not size.holds(image):
        raise Unsolvable(task.key(ask, "image"), task.about(ask) + _too_large(task, ask, image))
    bare = turned_sides(paper.printer_margin) if turned else paper.printer_margin
    moves = ask.show is not Show.SHEET
    left = _margin(size.width - image.width, bare.left, bare.right, moves=moves)
    top = _margin(size.height - image.height, bare.top, bare.bottom, moves=moves)
    margins = Sides(left=left, right=size.width - image.width - left, top=top, bottom=size.height - image.height - top)
    if ask.show is Show.MARGIN and task.piece.mat:
        _check_behind(task, ask, lies, margins, seen)
    for side, whole, shown, first, second, edge in (
        ("left", size.width, image.width, left, margins.right, bare.left),
        ("top", size.height, image.height, top, margins.bottom, bare.top),
    ):
        _explain_margin(side, whole, shown, (first, second), edge, task.sums_of(ask))
    return Print(paper=paper, size=size, turned=turned, margins=margins, unreachable=bare)


def _too_large(task: Task, ask: ApertureAsk, image: Size) -> str:
    """Return why an image has no place on its paper, and the largest that has."""
    paper, show = ask.paper, task.printer.size
    if paper is None:
        raise ValueError("no paper is named")
    largest = _largest(task, ask, paper, image)
    right = f"make it at most {show(largest)}, or name a larger paper" if largest else "name a larger paper"
    return (
        f"the image of {show(image)} is larger than the paper {paper.name}, {show(paper.size)}; "
        f"{right} ({reach_words(paper, task.printer)})"
    )


def _largest(task: Task, ask: ApertureAsk, paper: Paper, image: Size) -> Size | None:
    """Return the largest image of the aspect on its paper, in whole steps, either way up; `None` where none is.

    It stays within what the printer reaches; where the sheet's margin is seen, the sheet reaches behind the mat too.
    """
    around = Sides.all(ask.reveal + ask.overlap if ask.show is Show.MARGIN and task.piece.mat else ZERO)
    sizes = (largest_on(size, free.at_least(around), image) for size, free in _ways(paper))
    largest = max(sizes, key=lambda size: size.area).each(task.step.down)
    return largest if min(largest.width, largest.height) > 0 else None


def reach_words(paper: Paper, printer: Printer) -> str:
    """Return what the printer leaves white on a paper, and whether anybody said so."""
    free = paper.printer_margin
    if not any((free.top, free.right, free.bottom, free.left)):
        return "printed borderless"
    figures = dict.fromkeys(map(printer.number, (free.top, free.right, free.bottom, free.left)))
    sides = printer.length(free.top) if len(figures) == 1 else f"{' / '.join(figures)} {printer.units}"
    if not paper.margin_assumed:
        return f"the printer leaves {sides} white"
    return f"the printer is taken to leave {sides} white; printer_margin on the paper says otherwise, 0 is borderless"


def _ways(paper: Paper) -> tuple[tuple[Size, Sides], tuple[Size, Sides]]:
    """Return the paper's two orientations, each with what the printer cannot reach."""
    return (paper.size, paper.printer_margin), (paper.size.turned, turned_sides(paper.printer_margin))


def largest_on(paper: Size, free: Sides, aspect: Size) -> Size:
    """Return the largest image of an aspect within what the printer reaches."""
    factor = min((paper.width - free.across) / aspect.width, (paper.height - free.down) / aspect.height)
    return Size(aspect.width * factor, aspect.height * factor)


def _check_behind(task: Task, ask: ApertureAsk, image: Box, margins: Sides, seen: Box) -> None:
    """Raise `Unsolvable` where the sheet does not reach `overlap` behind the mat on every side."""
    sheet = Box(
        image.x - margins.left, image.y - margins.top, margins.across + image.width, margins.down + image.height
    )
    reach = seen.inset_in(sheet)
    if reach.least >= ask.overlap or ask.paper is None:
        return
    show = task.printer.length
    ends = (
        f"reaches {show(reach.least)} behind the mat"
        if reach.least >= 0
        else f"ends {show(-reach.least)} inside the opening"
    )
    largest = _largest(task, ask, ask.paper, image.size)
    smaller = f"an image of at most {task.printer.size(largest)}" if largest else "a smaller image"
    raise Unsolvable(
        task.key(ask, "paper"),
        f"{task.about(ask)}the paper {ask.paper.name}, {task.printer.size(sheet.size)}, {ends}, where "
        f"{show(ask.overlap)} are needed on every side; take a larger paper, {smaller} or a smaller reveal",
    )


def _explain_margin(
    side: str, whole: Fraction, shown: Fraction, margins: tuple[Fraction, Fraction], edge: Fraction, sums: Sums
) -> None:
    """Record the first margin and the opposite one: centred, or held off the printer's edge."""
    first, second = margins
    opposite = {"left": "right", "top": "bottom"}[side]
    room = length("paper", whole) - length("image", shown)
    if first == second:
        sums.told(f"print margin {side}", first, half(room))
    elif first == edge:
        sums.told(f"print margin {side}", first, length("the printer's edge", edge))
    else:
        sums.told(f"print margin {side}", first, room - length("the printer's opposite edge", second))
    sums.told(f"print margin {opposite}", second, room - length(side, first))


def _lies_turned(paper: Paper, image: Size, behind: Size) -> bool:
    """Return whether the sheet serves the image better the other way round than as it is named.

    `behind` is what the sheet must cover. First counts what the printer reaches, then the sheet, then what is missing.
    """

    def serves(size: Size, free: Sides) -> tuple[bool, bool, bool, Fraction]:
        reach = Size(size.width - free.across, size.height - free.down)
        covers = size.holds(behind)
        return reach.holds(image) and covers, covers, reach.holds(image), -size.lacks(behind)

    named, turned = (serves(*way) for way in _ways(paper))
    return turned > named


def turned_sides(sides: Sides) -> Sides:
    """Return the sides of a sheet turned by a quarter to the left: what was its right is now its top."""
    return Sides(top=sides.right, left=sides.top, bottom=sides.left, right=sides.bottom)


def _margin(room: Fraction, least: Fraction, opposite: Fraction, *, moves: bool) -> Fraction:
    """Return the first margin: half the room, moved off the printer's unreachable edge where both sides can be had."""
    middle = room / 2
    if not moves or room < least + opposite:
        return middle
    return min(max(middle, least), room - opposite)
