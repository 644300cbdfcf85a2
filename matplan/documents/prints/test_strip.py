"""The test strip: a part of a print at final size on a small sheet of the same paper, to judge before the large one.

It shows the photo's own pixels where the print has them; nothing is resampled and no colour is changed. Its place is
the one that is asked for, or the one with the deepest and the brightest tones, found on a small copy.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Final

from matplan.documents.parts.folio import Folio, WindowOf
from matplan.documents.prints.photo_pages import Page, placed_photo
from matplan.drawing import lettering
from matplan.drawing.items import Rect, Text
from matplan.drawing.items import Size as Letters
from matplan.job.records import Paper
from matplan.lengths import ZERO, Box, Size
from matplan.mats.prints import turned_sides

_GAP: Final = 2.5
_TEXT: Final = (
    "{name}: test strip at final size, on the paper and with the settings of the print. Judge it dry, in neutral light "
    "of about 500 lx (practical appraisal, ISO 3664), not in direct sun."
)


def drawn(folio: Folio, window: WindowOf) -> tuple[Page, ...]:
    """Return the page of a window's strip; empty where its paper asks for none, or it has no photo to print."""
    aperture, made = window.aperture, window.aperture.print
    if made is None or made.paper is None or made.paper.test_strip is None:
        return ()
    placed = placed_photo(window.piece, aperture, ())
    if placed is None:
        return ()
    sheet, reach = _fed(made.paper, made.paper.test_strip, aperture.image.size)
    words = _words(_named(window), reach)
    room = Box(reach.x, reach.y, reach.width, reach.height - _height(words))
    image = aperture.image.size
    shown = Size(min(image.width, room.width), min(image.height, room.height))
    at = made.paper.strip_at or folio.widest_tones((window.piece.ask.file, aperture.name), _part(shown, image))
    x, y = _corner(image, shown, at)
    area = Box.of(shown).centred_in(room)
    strip = replace(
        placed,
        image=Box.of(image, area.x - x, area.y - y),
        shape=Rect(x=float(area.x), y=float(area.y), width=float(area.width), height=float(area.height)),
        sheet=sheet,
    )
    return (Page(size=sheet, prints=(strip,), words=words),)


def _fed(paper: Paper, sheet: Size, image: Size) -> tuple[Size, Box]:
    """Return the small sheet and what the printer reaches of it, the way up that shows more of the image."""
    margin = paper.printer_margin
    ways = []
    for size, bare in ((sheet, margin), (sheet.turned, turned_sides(margin))):
        reach = Box(bare.left, bare.top, size.width - bare.across, size.height - bare.down)
        ways.append((size, reach))
    return max(ways, key=lambda way: min(way[1].width, image.width) * min(way[1].height, image.height))


def _words(name: str, reach: Box) -> tuple[Text, ...]:
    """Return what the strip is and the light to judge it by, at the foot of what the printer reaches."""
    size = Letters.LEAST
    lines = lettering.wrapped(_TEXT.format(name=name), float(reach.width), size)
    pitch = size * lettering.LINE_PITCH
    low = float(reach.bottom) - 0.6
    return tuple(
        Text(at=(float(reach.x), low - pitch * (len(lines) - 1 - number)), text=line, size=size)
        for number, line in enumerate(lines)
    )


def _height(words: Sequence[Text]) -> Fraction:
    """Return the height that the words take, with the gap above them."""
    return Fraction(round((len(words) * Letters.LEAST * lettering.LINE_PITCH + _GAP) * 10), 10)


def _part(shown: Size, image: Size) -> tuple[Fraction, Fraction]:
    """Return how much of the image's width and height is shown."""
    return shown.width / image.width, shown.height / image.height


def _corner(image: Size, shown: Size, at: tuple[Fraction, Fraction]) -> tuple[Fraction, Fraction]:
    """Return where the part that is shown begins, from the image's top left corner; it never leaves the image."""
    middle = (at[0] * image.width - shown.width / 2, at[1] * image.height - shown.height / 2)
    return (
        min(max(middle[0], ZERO), image.width - shown.width),
        min(max(middle[1], ZERO), image.height - shown.height),
    )


def _named(window: WindowOf) -> str:
    name = window.piece.name
    return name if len(window.piece.apertures) == 1 else f"{name}, {window.aperture.name}"
