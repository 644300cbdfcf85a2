"""What the maker of a piece should know before cutting: the engine's findings, in words.

Every threshold has its source beside it. Findings never change a dimension.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import isqrt

from matplan.catalogue import Quantity, figures, is_iso_216, iso_216_tolerance
from matplan.job.records import Show
from matplan.lengths import INCH, Printer, Size, plain_decimal
from matplan.mats.records import Finding, Level, Print, SolvedAperture, SolvedPiece

LIFTING_LIMIT_KG = 23
"""One person, ideal conditions: NIOSH lifting equation (published)."""
ARC_MINUTE_PPI_INCHES = 3438
"""ppi × distance in inches at which one pixel subtends one arc-minute (published: teaching article)."""
VIEWING_DIAGONALS = Fraction(3, 2)
"""Usual viewing distance in diagonals of the image (common practice)."""
NEAREST_VIEW = Fraction(300)
"""Nobody looks at a framed picture from nearer than a book is read (common practice)."""
THIN_WEB = Fraction(10)
"""Below this a web bends and tears while it is cut (common practice)."""
WARM_BY = 20
"""Kelvin between the workshop and the warmest day on a wall (common practice)."""
DAMP = 60
"""Percent of relative humidity in a damp room (common practice)."""


def findings(piece: SolvedPiece, printer: Printer) -> Iterator[Finding]:
    """All findings of a solved piece, the piece's own first."""
    yield from _frame_findings(piece, printer)
    yield from _stack_findings(piece)
    if piece.web is not None and piece.web < THIN_WEB:
        text = f"the narrowest web of the front layer is {printer.length(piece.web)}; under {printer.length(THIN_WEB)} it tears easily"
        yield _warning("thin-web", "layer 1", text)
    for aperture in piece.apertures:
        yield from _photo_findings(aperture, piece.ask.viewing_distance, printer)
        yield from _print_findings(aperture, printer, matted=bool(piece.layers))
        yield from _sheet_findings(piece, aperture, printer)
        yield from _border_findings(piece, aperture, printer)


def _warning(code: str, where: str, text: str) -> Finding:
    return Finding(level=Level.WARNING, code=code, where=where, text=text)


def _note(code: str, where: str, text: str) -> Finding:
    return Finding(level=Level.NOTE, code=code, where=where, text=text)


def _frame_findings(piece: SolvedPiece, printer: Printer) -> Iterator[Finding]:
    play = Size(piece.frame.rabbet.width - piece.blank.width, piece.frame.rabbet.height - piece.blank.height)
    if min(piece.hidden.width, piece.hidden.height) <= 0:
        text = (
            f"the lip of {printer.length(piece.frame.ask.lip)} does not reach over the blank, which has "
            f"{printer.length(max(play.width, play.height))} of play in its rabbet; use less clearance"
        )
        yield _warning("blank-not-held", "frame", text)
    if piece.mass + (piece.frame_mass or 0) > LIFTING_LIMIT_KG:
        mass = plain_decimal(piece.mass + (piece.frame_mass or 0), 1)
        yield _warning(
            "heavy",
            "",
            f"{mass} kg is more than one person should lift ({LIFTING_LIMIT_KG} kg in ideal conditions); take two",
        )
    glazing = piece.ask.glazing
    if glazing is not None and glazing.substance == "acrylic":
        longest = max(piece.blank.width, piece.blank.height)
        grows = longest * _growth("acrylic")
        room = play.width if piece.blank.width >= piece.blank.height else play.height
        if grows > room:
            text = (
                f"acrylic {printer.length(longest)} long grows by up to {_rough(grows)} mm in a warm, damp room and has "
                f"{_rough(room)} mm of play; give it more clearance"
            )
            yield _warning("movement", "glazing", text)


def _growth(substance: str) -> Fraction:
    """Return the part of its length that a sheet grows by in a warm, damp room, by the figures of the catalogue."""
    warm = sum((figure.value for figure in figures(substance, Quantity.THERMAL_EXPANSION)), Fraction(0))
    humid = figures(substance, Quantity.HUMIDITY_GROWTH)
    damp = sum((figure.value for figure in humid if figure.at_rh == DAMP), Fraction(0))
    return WARM_BY * warm + damp


def _stack_findings(piece: SolvedPiece) -> Iterator[Finding]:
    stack = piece.stack
    if stack.fits is False and stack.depth is not None:
        over = _rough(stack.thickness - stack.depth)
        text = (
            f"the stack is {_rough(stack.thickness)} mm thick and the rabbet {_rough(stack.depth)} mm deep: {over} mm stand out behind; "
            "use a thinner backing, a deeper frame or offset clips"
        )
        yield _warning("stack-too-deep", "frame", text)


def _photo_findings(aperture: SolvedAperture, viewed_from: Fraction | None, printer: Printer) -> Iterator[Finding]:
    pixels, image = aperture.pixels, aperture.image.size
    if aperture.crop is not None:
        across = aperture.crop.width < 1
        gone = 1 - (aperture.crop.width if across else aperture.crop.height)
        side = "width" if across else "height"
        yield _warning(
            "photo-cropped",
            aperture.name,
            f"{_percent(gone)} % of the photo's {side} is cropped away, half on each side",
        )
    if aperture.ask.photo is not None and aperture.ask.photo.profile_broken:
        text = (
            f"the colour profile of {aperture.ask.photo.written} cannot be read; the photo is used without it, as sRGB"
        )
        yield _note("profile-unreadable", aperture.name, text)
    if pixels.ppi is None:
        return
    if pixels.ppi < pixels.wanted_ppi:
        text = (
            f"the photo gives {_whole(pixels.ppi)} ppi at {printer.size(image)}, and {_whole(pixels.wanted_ppi)} are wanted: "
            f"{pixels.want[0]} × {pixels.want[1]} pixels"
        )
        yield _warning("low-resolution", aperture.name, text)
    distance = viewed_from or usual_distance(image)
    needed = ARC_MINUTE_PPI_INCHES * INCH / distance
    if pixels.ppi < needed:
        usual = "" if viewed_from or distance == NEAREST_VIEW else ", one and a half diagonals away,"
        text = f"from {printer.length(distance)}{usual} the eye tells {_whole(needed)} ppi apart and the photo gives {_whole(pixels.ppi)}"
        yield _warning("soft-at-distance", aperture.name, text)


def usual_distance(image: Size) -> Fraction:
    """The usual viewing distance: one and a half diagonals of the image, to 10 mm, and no nearer than a book is read."""
    squared = VIEWING_DIAGONALS**2 * (image.width**2 + image.height**2) / 100
    return max(NEAREST_VIEW, Fraction(10 * isqrt(int(squared))))


def _print_findings(aperture: SolvedAperture, printer: Printer, *, matted: bool) -> Iterator[Finding]:
    made = aperture.print
    if made is None:
        return
    image = aperture.image.size
    if made.paper is not None:
        name, margins = made.paper.name, made.margins
        if margins.least < 0:
            short = Size(
                max(image.width - made.size.width, Fraction(0)), max(image.height - made.size.height, Fraction(0))
            )
            text = (
                f"the paper {name}, {printer.size(made.size)}, is smaller than the image of {printer.size(image)}: "
                f"{printer.length(max(short.width, short.height))} too small"
            )
            yield _warning("paper-too-small", aperture.name, text)
        elif (missing := max(least - margin for margin, least in _pairs(made))) > 0:
            text = f"the image runs {printer.length(missing)} into the edge that the printer cannot reach on {name}; print it smaller"
            yield _warning("printer-margin", aperture.name, text)
        if made.turned:
            yield _note(
                "paper-turned",
                aperture.name,
                f"the image needs the paper {name} fed the other way round: {printer.size(made.size)}",
            )
    if not matted or aperture.show is Show.SHEET or made.margins.least < 0:
        return
    sheet = aperture.image
    reach = Size(  # how far the sheet goes on behind the mat, on the side where that is least
        min(
            aperture.seen.box.x - sheet.x + made.margins.left,
            sheet.right + made.margins.right - aperture.seen.box.right,
        ),
        min(
            aperture.seen.box.y - sheet.y + made.margins.top,
            sheet.bottom + made.margins.bottom - aperture.seen.box.bottom,
        ),
    )
    overlap = aperture.ask.overlap
    shortest = min(reach.width, reach.height)
    if aperture.show is Show.MARGIN and shortest < overlap:
        text = (
            f"the sheet reaches {printer.length(shortest)} behind the mat where {printer.length(overlap)} are asked for: "
            "take a larger paper, a smaller image or a smaller reveal"
        )
        if shortest < 0:
            text = (
                f"the sheet ends {printer.length(-shortest)} inside the opening, so that its edge shows; "
                + text.split(": ", 1)[1]
            )
        yield _warning("paper-too-small", aperture.name, text)
        return
    if not is_iso_216(made.size):
        return
    tolerance = Size(iso_216_tolerance(made.size.width), iso_216_tolerance(made.size.height))
    if reach.width < tolerance.width or reach.height < tolerance.height:
        text = (
            f"the sheet goes {_rough(shortest)} mm past the opening; paper of this size may be "
            f"{_rough(max(tolerance.width, tolerance.height))} mm short (ISO 216), and then an edge shows"
        )
        yield _warning("edge-may-show", aperture.name, text)


def _pairs(made: Print) -> tuple[tuple[Fraction, Fraction], ...]:
    m, u = made.margins, made.unreachable
    return (m.top, u.top), (m.right, u.right), (m.bottom, u.bottom), (m.left, u.left)


def _sheet_findings(piece: SolvedPiece, aperture: SolvedAperture, printer: Printer) -> Iterator[Finding]:
    """A sheet larger than the blank does not go into the frame as it is."""
    made = aperture.print
    if made is None or made.paper is None or piece.blank.holds(made.size):
        return
    sheet, blank = printer.size(made.size), printer.size(piece.blank)
    text = f"the sheet {made.paper.name}, {sheet}, is larger than the blank of {blank}: trim it after printing"
    yield _note("sheet-over-blank", aperture.name, text)


def _border_findings(piece: SolvedPiece, aperture: SolvedAperture, printer: Printer) -> Iterator[Finding]:
    rail, least = piece.frame.ask.rail, aperture.visible.least
    if not piece.layers:
        if least < 0:
            text = f"the lip covers up to {printer.length(-least)} of the image's edge"
            yield _warning("lip-covers-work", aperture.name, text)
        return
    if rail is not None and least <= rail:
        text = (
            f"the narrowest border shows {printer.length(least)}, no wider than the rail's face of {printer.length(rail)}; "
            "twice the face looks right (common practice)"
        )
        yield _warning("narrow-border", aperture.name, text)


def _rough(value: Fraction) -> str:
    return plain_decimal(value, 1)


def _whole(value: Fraction) -> str:
    return plain_decimal(value, 0)


def _percent(part: Fraction) -> str:
    return plain_decimal(part * 100, 1)
