"""What the maker of a piece should know of its photos and prints: crops, resolution, and what the paper leaves over."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import isqrt

from matplan.catalogue import is_iso_216, iso_216_tolerance
from matplan.job.records import Show
from matplan.lengths import INCH, ZERO, Printer, Size, plain_decimal
from matplan.mats.prints import reach_words
from matplan.mats.records import Finding, Print, SolvedAperture, SolvedPiece, note, warning

ARC_MINUTE_PPI_INCHES = 3438
"""ppi × distance in inches at which one pixel subtends one arc-minute (derived: 1 / tan 1′ = 3437.7)."""
VIEWING_DIAGONALS = Fraction(3, 2)
"""Usual viewing distance in diagonals of the image (common practice)."""
NEAREST_VIEW = Fraction(300)
"""Millimetres: nobody looks at a framed picture from nearer than a book is read (common practice)."""


def photo_findings(aperture: SolvedAperture, viewed_from: Fraction | None, printer: Printer) -> Iterator[Finding]:
    """Yield what is lost of the photo, and where its pixels are too few."""
    pixels, image = aperture.pixels, aperture.image.size
    if aperture.crop is not None:
        across = aperture.crop.width < 1
        gone = 1 - (aperture.crop.width if across else aperture.crop.height)
        side = "width" if across else "height"
        text = f"{plain_decimal(gone * 100, 1)} % of the photo's {side} is cropped away, half on each side"
        yield warning("photo-cropped", aperture.name, text)
    photo = aperture.ask.photo
    if photo is not None and photo.profile_broken:
        text = f"the colour profile of {photo.written} cannot be read; the photo is used without it, as sRGB"
        yield note("profile-unreadable", aperture.name, text)
    if pixels.ppi is None:
        return
    if pixels.ppi < pixels.wanted_ppi:
        text = (
            f"the photo gives {_ppi(pixels.ppi)} at {printer.size(image)}, and {_ppi(pixels.wanted_ppi)} are wanted: "
            f"{pixels.want[0]} × {pixels.want[1]} pixels{_smaller(aperture, pixels.ppi / pixels.wanted_ppi, printer)}"
        )
        yield warning("low-resolution", aperture.name, text)
    distance = viewed_from or usual_distance(image)
    needed = ARC_MINUTE_PPI_INCHES * INCH / distance
    if pixels.ppi < needed:
        usual = "" if viewed_from or distance == NEAREST_VIEW else ", one and a half diagonals away,"
        text = (
            f"from {printer.length(distance)}{usual} the eye resolves about {_ppi(needed)} and the photo gives "
            f"{_ppi(pixels.ppi)}"
        )
        yield warning("soft-at-distance", aperture.name, text)


def usual_distance(image: Size) -> Fraction:
    """Return one and a half diagonals of the image, to 10 mm, and no less than a book is read from."""
    squared = VIEWING_DIAGONALS**2 * (image.width**2 + image.height**2) / 100
    return max(NEAREST_VIEW, Fraction(10 * isqrt(int(squared))))


def print_findings(piece: SolvedPiece, aperture: SolvedAperture, printer: Printer) -> Iterator[Finding]:
    """Yield where the printer cannot print, where the sheet's edge may show, and where the sheet is too large."""
    made = aperture.print
    if made is None:
        return
    paper = made.paper
    if paper is not None and (missing := max(least - margin for margin, least in _margins(made))) > 0:
        text = (
            f"the image runs {printer.length(missing)} into the edge that the printer cannot reach on {paper.name} "
            f"({reach_words(paper, printer)}); print it smaller{_smaller(aperture, _fits(aperture, made), printer)}"
        )
        yield warning("printer-margin", aperture.name, text)
    if piece.layers and aperture.show is not Show.SHEET and is_iso_216(made.size):
        yield from _edge_findings(aperture, made, printer)
    given = aperture.ask.opening
    if given is not None and piece.layers and aperture.show is Show.SHEET and made.size != aperture.work.box.size:
        text = f"the sheet is cut to {printer.size(aperture.work.box.size)} after printing, as the opening asks"
        yield note("trim-to-work", aperture.name, text)
    if paper is not None and not piece.blank.holds(made.size):
        sheet, blank = printer.size(made.size), printer.size(piece.blank)
        text = f"the sheet {paper.name}, {sheet}, is larger than the blank of {blank}: trim it after printing"
        yield note("sheet-over-blank", aperture.name, text)


def _smaller(aperture: SolvedAperture, part: Fraction, printer: Printer) -> str:
    """Return the image's key with the part of its size that mends a finding, where one side of it is asked for."""
    ask, step = aperture.ask.image, printer.step.size
    if ask is None or (ask.width is None) == (ask.height is None):
        return ""
    side, length = ("width", ask.width) if ask.height is None else ("height", ask.height)
    less = (length or ZERO) * part // step * step
    return f'; image = {{ {side} = "{printer.length(less)}" }} mends it' if less > 0 else ""


def _fits(aperture: SolvedAperture, made: Print) -> Fraction:
    """Return the part of an image's size that the printer reaches on all sides."""
    size = aperture.image.size
    (top, right, bottom, left) = (max(least - margin, ZERO) for margin, least in _margins(made))
    return min(1 - 2 * max(left, right) / size.width, 1 - 2 * max(top, bottom) / size.height)


def _margins(made: Print) -> tuple[tuple[Fraction, Fraction], ...]:
    m, u = made.margins, made.unreachable
    return (m.top, u.top), (m.right, u.right), (m.bottom, u.bottom), (m.left, u.left)


def _edge_findings(aperture: SolvedAperture, made: Print, printer: Printer) -> Iterator[Finding]:
    """Yield where a sheet that is cut as short as its standard allows would show its edge in the opening."""
    covered = aperture.seen.box.inset_in(aperture.image)
    margins = made.margins
    across = min(covered.left + margins.left, covered.right + margins.right)
    upright = min(covered.top + margins.top, covered.bottom + margins.bottom)
    wide, high = iso_216_tolerance(made.size.width), iso_216_tolerance(made.size.height)
    if across < wide or upright < high:
        text = (
            f"the sheet goes {printer.fine(min(across, upright))} past the opening; paper of this size may be "
            f"{printer.fine(max(wide, high))} short (ISO 216), and then an edge shows"
        )
        yield warning("edge-may-show", aperture.name, text)


def _ppi(value: Fraction) -> str:
    return f"{plain_decimal(value, 0)} ppi"
