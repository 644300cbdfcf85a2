"""What the maker of a piece should know before cutting: the engine's findings, in words.

Every threshold has its source beside it. Findings never change a dimension.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from matplan.catalogue import Quantity, figures
from matplan.habits import habits_of
from matplan.job.records import MatSupply, Shape
from matplan.lengths import ZERO, Box, Printer, Size
from matplan.mats.budgets import budget_findings
from matplan.mats.evening import is_print
from matplan.mats.glass import glass_findings
from matplan.mats.layers import least_gutter
from matplan.mats.print_findings import photo_findings, print_findings
from matplan.mats.records import Finding, SolvedAperture, SolvedPiece, note, warning
from matplan.mats.windows import EVEN_SIDED
from matplan.weights import mass

LIFTING_LIMIT_KG = 23
"""What one person may lift in ideal conditions, in kg (published: NIOSH 94-110, the load constant)."""
THIN_WEB = Fraction(3, 8), 10
"""Inches, millimetres: below this a web bends and tears while it is cut (common practice)."""
DEEPER = Fraction(3, 16), 5
"""Inches, millimetres: a rabbet that is deeper than its stack by more is filled behind (common practice)."""
SPACER = Fraction(3, 16), 5
"""Inches, millimetres: the spacer that is proposed where a work would touch its glazing (memory)."""
COVERS_MORE = Fraction(3, 8), 10
"""Inches, millimetres: a row of windows of one height may cover so much more of a print than asked for (own choice)."""
UNEVEN = 2
"""Times the border on one axis at which the other axis' looks like a frame that should be turned (own choice)."""
WARM_BY = 20
"""Kelvin between the workshop and the warmest day on a wall (own choice)."""
DAMP = 60
"""Percent of relative humidity in a damp room (own choice)."""


def findings(piece: SolvedPiece, printer: Printer) -> Iterator[Finding]:
    """Yield all findings of a solved piece, the piece's own first."""
    yield from _frame_findings(piece, printer)
    yield from glass_findings(piece, printer)
    yield from _own_mat_findings(piece, printer)
    yield from _turn_findings(piece, printer)
    yield from _stack_findings(piece, printer)
    thin = habits_of(printer.units).figure(*THIN_WEB)
    if piece.web is not None and piece.web < thin:
        lacks = thin - piece.web
        between = least_gutter([opening.face for opening in piece.layers[0].openings], piece.ask.rows)
        at_edge = between is None or piece.web < between
        gutter = printer.length(printer.step.up(piece.ask.gutter + lacks))
        text = (
            f"the narrowest web of the front layer is {printer.length(piece.web)}, {printer.fine(lacks)} less than the "
            f"{printer.length(thin)} under which it tears easily; "
            + ("a wider border or a smaller image mends it" if at_edge else f'gutter = "{gutter}" mends it')
        )
        yield warning("thin-web", "layer 1", text)
    yield from budget_findings(piece, printer)
    for aperture in piece.apertures:
        yield from photo_findings(aperture, piece.ask.viewing_distance, printer)
        yield from print_findings(piece, aperture, printer)
        yield from _border_findings(piece, aperture, printer)
        yield from _step_findings(piece, aperture, printer)
        if piece.ask.justify:
            yield from _cover_findings(aperture, printer)


def _frame_findings(piece: SolvedPiece, printer: Printer) -> Iterator[Finding]:
    play = Size(piece.frame.rabbet.width - piece.blank.width, piece.frame.rabbet.height - piece.blank.height)
    if min(piece.hidden.width, piece.hidden.height) <= 0:
        text = (
            f"the lip of {printer.length(piece.frame.ask.lip)} does not reach over the blank, which has "
            f"{printer.length(max(play.width, play.height))} of play in its rabbet; use less clearance"
        )
        if (less := printer.step.down(piece.frame.ask.lip)) > 0:
            text += f', such as clearance = "{printer.length(less)}"'
        yield warning("blank-not-held", "frame", text)
    if piece.mass + (piece.frame_mass or 0) > LIFTING_LIMIT_KG:
        weight = mass(piece.mass + (piece.frame_mass or 0), printer.units, 1)
        most = mass(Fraction(LIFTING_LIMIT_KG), printer.units, 0)
        text = f"{weight} is more than one person should lift ({most} in ideal conditions); take two"
        yield warning("heavy", "", text)
    glazing = piece.ask.glazing
    if glazing is not None and glazing.substance == "acrylic":
        longest = max(piece.blank.width, piece.blank.height)
        grows = longest * _growth("acrylic")
        room = play.width if piece.blank.width >= piece.blank.height else play.height
        if grows > room:
            text = (
                f"acrylic {printer.length(longest)} long grows by up to {printer.fine(grows)} in a warm, damp room and "
                f"has {printer.fine(room)} of play; give it more clearance, such as clearance = "
                f'"{printer.length(printer.step.up(piece.frame.ask.clearance + grows - room))}"'
            )
            yield warning("movement", "glazing", text)


def _growth(substance: str) -> Fraction:
    """Return the part of its length that a sheet grows by in a warm, damp room, by the figures of the catalogue."""
    warm = sum((figure.value for figure in figures(substance, Quantity.THERMAL_EXPANSION)), Fraction(0))
    humid = figures(substance, Quantity.HUMIDITY_GROWTH)
    damp = sum((figure.value for figure in humid if figure.at_rh == DAMP), Fraction(0))
    return WARM_BY * warm + damp


def _own_mat_findings(piece: SolvedPiece, printer: Printer) -> Iterator[Finding]:
    """Yield where the mat that a frame comes with is left over, and where a photo lies and the frame's mat stands."""
    frame = piece.frame.ask
    if piece.ask.mat_supply is not MatSupply.OWN:
        if frame.has_mat and piece.layers:
            own = "a mat" if frame.mat_opening is None else f"a mat for {printer.size(frame.mat_opening)}"
            text = f"the frame comes with {own}, and this piece has another; leave out mat, image and border to use it"
            yield note("frame-mat-left", "frame", text)
        return
    seen, photos = piece.apertures[0].seen.box.size, [aperture.ask.photo for aperture in piece.apertures]
    if len(photos) > 1 or photos[0] is None or seen.width == seen.height:
        return
    wide, high = photos[0].pixels
    if wide != high and (wide > high) != (seen.width > seen.height):
        lies, stands = ("landscape", "portrait") if wide > high else ("portrait", "landscape")
        key = "leaving out turn turns" if frame.turned else "turn = true turns"
        yield warning("turn-frame", "frame", f"a {lies} photo lies behind a {stands} mat; {key} frame and mat")


def _turn_findings(piece: SolvedPiece, printer: Printer) -> Iterator[Finding]:
    """Yield where a picture lies and its frame stands, or the other way round, and a quarter turn evens the borders."""
    seen, sight = Box.around(aperture.seen.box for aperture in piece.apertures).size, piece.frame.sight
    if not piece.ask.frame.has_size or not piece.layers or not sight.turned.holds(seen):
        return
    if piece.ask.mat_supply is MatSupply.OWN:  # it turns with its frame
        return
    across = (seen.width > seen.height) != (sight.width > sight.height) and sight.width != sight.height
    beside, above = (sight.width - seen.width) / 2, (sight.height - seen.height) / 2
    turned = (sight.height - seen.width) / 2, (sight.width - seen.height) / 2
    if not across or max(beside, above) < UNEVEN * min(beside, above) or _ratio(*turned) >= _ratio(beside, above):
        return
    show = printer.length
    picture, frame = ("landscape", "portrait") if seen.width > seen.height else ("portrait", "landscape")
    key = "leaving out turn" if piece.frame.ask.turned else "turn = true"
    text = (
        f"a {picture} picture in a {frame} frame has borders of {show(beside)} at the sides and {show(above)} above "
        f"and below; {key} makes them {show(turned[0])} and {show(turned[1])}"
    )
    yield warning("turn-frame", "frame", text)


def _ratio(one: Fraction, other: Fraction) -> Fraction:
    """Return how many times the smaller border goes into the larger."""
    return max(one, other) / max(min(one, other), Fraction(1, 100))


def _stack_findings(piece: SolvedPiece, printer: Printer) -> Iterator[Finding]:
    stack = piece.stack
    if stack.fits is False and stack.depth is not None:
        thick, deep, over = map(printer.fine, (stack.thickness, stack.depth, stack.thickness - stack.depth))
        text = (
            f"the stack is {thick} thick and the rabbet {deep} deep: {over} stand out behind; "
            "use a thinner backing, a deeper frame or offset clips"
        )
        yield warning("stack-too-deep", "frame", text)

    if piece.ask.glazing is not None and not piece.layers and piece.ask.spacer is None:
        text = (
            "without a mat or a spacer the work touches the glazing, where damp makes it stick; write spacer, such as "
            f'spacer = "{printer.length(habits_of(printer.units).figure(*SPACER))}", or put a mat in front'
        )
        yield warning("touches-glazing", "glazing", text)
    spare = ZERO if stack.depth is None else stack.depth - stack.thickness
    if spare > habits_of(printer.units).figure(*DEEPER):
        text = (
            f"the rabbet is {_depth(spare, printer)} deeper than the stack; fill that behind the backing with strips "
            "or board, so that nothing moves"
        )
        yield note("rabbet-deep", "frame", text)


def _depth(length: Fraction, printer: Printer) -> str:
    """Return a depth as one reads it off a rule: in inches to the nearest step."""
    return f"about {printer.length(length)}" if habits_of(printer.units).whole_steps else printer.fine(length)


def _border_findings(piece: SolvedPiece, aperture: SolvedAperture, printer: Printer) -> Iterator[Finding]:
    rail, least = piece.frame.ask.rail, aperture.visible.least
    if not piece.layers:
        if least < 0 and not piece.ask.floats:
            text = f"the lip covers up to {printer.length(-least)} of the image's edge"
            yield warning("lip-covers-work", aperture.name, text)
        return
    if rail is not None and least <= rail:
        text = (
            f"the narrowest border shows {printer.length(least)}, no wider than the rail's face of "
            f"{printer.length(rail)}; twice the face looks right (common practice)"
        )
        if piece.ask.border is not None:
            text += f': border = "{printer.length(printer.step.up(2 * rail))}"'
        yield warning("narrow-border", aperture.name, text)


def _step_findings(piece: SolvedPiece, aperture: SolvedAperture, printer: Printer) -> Iterator[Finding]:
    """Yield where an opening that is given is none that is cut here."""
    given, seen = aperture.ask.opening, aperture.seen.box.size
    if given is None or piece.ask.mat_supply is not MatSupply.SHEETS or aperture.ask.shape is Shape.POLYGON:
        return
    if given != seen:
        text = (
            f"the opening of {printer.exact_size(given)} is cut on steps of {printer.length(printer.step.size)}: "
            f"{printer.exact_size(seen)} are seen"
        )
        yield note("opening-to-step", aperture.name, text)


def _cover_findings(aperture: SolvedAperture, printer: Printer) -> Iterator[Finding]:
    """Yield where rows of one width cover much more of a print than was asked for."""
    ask, covered = aperture.ask, aperture.overlap
    if covered is None or not is_print(ask) or ask.shape in EVEN_SIDED:
        return
    limit = habits_of(printer.units).figure(*COVERS_MORE)
    beside, above = max(covered.left, covered.right), max(covered.top, covered.bottom)
    if max(beside, above) - ask.overlap > limit:
        text = (
            f"the mat covers {printer.length(beside)} of the print at the sides and {printer.length(above)} above and "
            f"below, where {printer.length(ask.overlap)} are asked for, so that the rows come out alike; leave out "
            "justify, or set prints of like shapes in a row"
        )
        yield warning("covers-more", aperture.name, text)
