"""The image on its sheet, its crop and its pixels: what is typed into a print dialog."""

from __future__ import annotations

from fractions import Fraction
from math import floor

from matplan.catalogue import USUAL_PPI
from matplan.job.records import ApertureAsk, Paper, Photo, Show
from matplan.lengths import INCH, Box, Sides, Size, Step
from matplan.mats.records import Pixels, Print
from matplan.mats.windows import turns
from matplan.sums import Sums, half, length


def crop_of(photo: Photo | None, image: Size, step: Step) -> Box | None:
    """The part of the photo that fills the image, about its centre, as fractions of its width and height.

    None where the whole photo does: where its aspect is the image's to within a step.
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
    """The pixels that the print wants, those the photo has, and the density the print gets."""
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


def print_of(ask: ApertureAsk, image: Size, sums: Sums) -> Print | None:
    """The image centred on the paper, moved only as far as the printer's margins demand; None where no paper is named.

    A floated image stays in the middle of its sheet. A floated work without a named paper is a sheet cut to the image.
    """
    if ask.paper is None:
        if ask.show is not Show.SHEET:
            return None
        nothing = Sides.all(Fraction(0))
        return Print(paper=None, size=image, turned=False, margins=nothing, unreachable=nothing)
    paper = ask.paper
    turned = turns(paper.size, image) if ask.show is Show.SHEET else _fed_turned(paper, image)
    size = paper.size.turned if turned else paper.size
    bare = turned_sides(paper.printer_margin) if turned else paper.printer_margin
    moves = ask.show is not Show.SHEET
    left = _margin(size.width - image.width, bare.left, bare.right, moves=moves)
    top = _margin(size.height - image.height, bare.top, bare.bottom, moves=moves)
    margins = Sides(left=left, right=size.width - image.width - left, top=top, bottom=size.height - image.height - top)
    for side, whole, shown, first, second, edge in (
        ("left", size.width, image.width, left, margins.right, bare.left),
        ("top", size.height, image.height, top, margins.bottom, bare.top),
    ):
        _explain_margin(side, whole, shown, (first, second), edge, sums)
    return Print(paper=paper, size=size, turned=turned, margins=margins, unreachable=bare)


def _explain_margin(
    side: str, whole: Fraction, shown: Fraction, margins: tuple[Fraction, Fraction], edge: Fraction, sums: Sums
) -> None:
    """The first margin and the opposite one: centred, or held off the printer's edge."""
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


def _fed_turned(paper: Paper, image: Size) -> bool:
    """Whether the sheet is fed the other way round: only where the image needs it, first of all within the printer's
    margins.
    """
    free = paper.printer_margin
    reach = Size(paper.size.width - free.across, paper.size.height - free.down)
    if reach.holds(image):
        return False
    if reach.turned.holds(image):
        return True
    return turns(paper.size, image)


def turned_sides(sides: Sides) -> Sides:
    """The sides of a sheet turned by a quarter to the left: what was its right is now its top."""
    return Sides(top=sides.right, left=sides.top, bottom=sides.left, right=sides.bottom)


def _margin(room: Fraction, least: Fraction, opposite: Fraction, *, moves: bool) -> Fraction:
    """The first margin: half the room, moved off the printer's unreachable edge where both sides can be had."""
    half = room / 2
    if not moves or room < least + opposite:
        return half
    return min(max(half, least), room - opposite)
