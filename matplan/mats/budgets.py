"""Budgets: will an edge ever show, will the blank or the glazing ever bind?

Each budget has a slack, what spends it, and the source's status of each spend. All spends at once are the worst case;
the root of the sum of their squares is the likely one, since they do not depend on one another. Everything is exact;
the root is worked out where `likely` is printed. Materials move between the bounds of the job's climate; where the
moulding's wood is not known it is taken to move as much as any wood of the tables does.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Final

from matplan.catalogue import Figure, Quantity, Status, figures, is_iso_216
from matplan.catalogue.tolerance import iso_216_tolerance
from matplan.habits import habits_of
from matplan.job.records import Climate, Included, Show
from matplan.lengths import ZERO, Printer, Sides
from matplan.mats.records import Bound, Budget, Finding, SolvedAperture, SolvedPiece, Spend, note, warning

PLACING: Final = Fraction(1, 32), 1
"""Inches, millimetres: so far a print may lie from where it is meant to (memory)."""
FRAME: Final = Fraction(1, 64), Fraction(1, 2)
"""Inches, millimetres: so far a rabbet may be from its size (memory)."""
METAL: Final = 2000
"""kg/m³: a denser moulding is no wood (own choice: the densest woods stay below 1300)."""
WOODS: Final = ("red oak", "white ash", "walnut", "cherry")
"""The woods whose movement the tables know."""
BOARD: Final = "mat board"


def thermal(length: Fraction, coefficient: Fraction, kelvin: Fraction) -> Fraction:
    """Return how much a length grows by the warmth."""
    return length * coefficient * kelvin


def across_the_grain(width: Fraction, coefficient: Fraction, percent: Fraction) -> Fraction:
    """Return how much wood grows across its grain by so many per cent of moisture content.

    Source: USDA Wood Handbook FPL-GTR-190, table 13-5: ΔD = D × C × ΔMC.
    """
    return width * coefficient * percent


def at_humidity(table: Sequence[Figure], humidity: Fraction) -> Fraction:
    """Return a table's value at a relative humidity, on the straight line through the two nearest of its figures."""
    points = [(Fraction(row.at_rh or 0), row.value) for row in table]
    low, high = next((pair for pair in pairwise(points) if humidity <= pair[1][0]), (points[-2], points[-1]))
    return low[1] + (high[1] - low[1]) * (humidity - low[0]) / (high[0] - low[0])


def growth(substance: str, climate: Climate) -> tuple[Fraction, Status] | None:
    """Return the part of its length that a sheet grows by from the dry to the damp bound; `None` if it is not known."""
    table = figures(substance, Quantity.HUMIDITY_GROWTH)
    if not table:
        return None
    dry = Figure(
        name=substance, also=(), source="", status=table[0].status, quantity=table[0].quantity, value=ZERO, unit=""
    )
    low, high = (at_humidity((dry, *table), bound) for bound in climate.humidity)
    return high - low, table[0].status


def budgets_of(piece: SolvedPiece, printer: Printer, climate: Climate) -> tuple[Budget, ...]:
    """Return the budgets of a solved piece: each covered edge of its windows, then blank and glazing in the rabbet."""
    return (
        *(one for aperture in piece.apertures for one in _edges(aperture, printer, climate)),
        *_in_the_rabbet(piece, printer, climate),
    )


def _edges(aperture: SolvedAperture, printer: Printer, climate: Climate) -> Iterator[Budget]:
    """Yield the covered edges of a window: the image's under the mat, or the sheet's where its margin is seen."""
    covered, made = aperture.overlap, aperture.print
    of_sheet = aperture.show is Show.MARGIN and made is not None and made.paper is not None
    if of_sheet and made is not None:
        m, inside = made.margins, aperture.seen.box.inset_in(aperture.image)
        covered = Sides(
            top=m.top + inside.top,
            right=m.right + inside.right,
            bottom=m.bottom + inside.bottom,
            left=m.left + inside.left,
        )
    if covered is None:
        return
    for side in ("top", "right", "bottom", "left"):
        across = side in ("left", "right")
        spends = [_half_step(printer), _spend("placing of the print", PLACING, printer)]
        if of_sheet and made is not None:
            size = made.size.width if across else made.size.height
            known = is_iso_216(made.size)
            of, status = ("", Status.PUBLISHED) if known else ("taken as that of ", Status.COMMON_PRACTICE)
            spends.append(Spend(f"the paper's tolerance, {of}ISO 216", iso_216_tolerance(size) / 2, status))
        span = aperture.seen.box.width if across else aperture.seen.box.height
        spends.extend(_grows("the board's", BOARD, span / 2, climate))
        yield Budget(
            what=Bound.EDGE_SHOWS,
            aperture=aperture.name,
            side=side,
            slack=getattr(covered, side),
            spends=tuple(spends),
        )


def _in_the_rabbet(piece: SolvedPiece, printer: Printer, climate: Climate) -> Iterator[Budget]:
    """Yield what blank and glazing have of play, in width and in height."""
    rabbet, blank, glazing = piece.frame.rabbet, piece.blank, piece.ask.glazing
    board = BOARD if piece.layers or piece.ask.mount is not None else ""
    found = [(Bound.BLANK_BINDS, board)]
    if glazing is not None and Included.GLAZING not in piece.brings:
        found.append((Bound.GLAZING_BINDS, glazing.substance))
    for what, substance in found:
        for side, hold, long in (
            ("width", rabbet.width, blank.width),
            ("height", rabbet.height, blank.height),
        ):
            spends = [_half_step(printer), _spend("the frame's tolerance", FRAME, printer)]
            if substance:
                whose = "the board's" if substance == BOARD else f"the {glazing.substance if glazing else ''}'s"
                spends.extend(_grows(whose, substance, long, climate))
            spends.extend(_swells(piece, climate))
            yield Budget(what=what, aperture="", side=side, slack=hold - long, spends=tuple(spends))


def _half_step(printer: Printer) -> Spend:
    return Spend("half a step of the cut", printer.step.size / 2, Status.DERIVED)


def _spend(of: str, figure: tuple[Fraction, Fraction | int], printer: Printer) -> Spend:
    amount = habits_of(printer.units).figure(figure[0], figure[1])
    return Spend(of, amount, Status.MEMORY)


def _grows(whose: str, substance: str, length: Fraction, climate: Climate) -> Iterator[Spend]:
    """Yield how much a length of a sheet grows by warmth and by damp."""
    cold, warm = climate.temperature
    for row in figures(substance, Quantity.THERMAL_EXPANSION):
        yield Spend(f"{whose} growth by warmth", thermal(length, row.value, warm - cold), row.status)
    damp = growth(substance, climate)
    if damp is not None:
        yield Spend(f"{whose} growth by damp", length * damp[0], damp[1])


def _swells(piece: SolvedPiece, climate: Climate) -> Iterator[Spend]:
    """Yield how much narrower the rabbet gets as both rails swell: by their width outside it."""
    frame = piece.frame.ask
    if frame.rail is None or (frame.density is not None and frame.density > METAL):
        return
    content = figures("wood", Quantity.MOISTURE_CONTENT)
    dry, damp = (at_humidity(content, bound) for bound in climate.humidity)
    most = max((row for wood in WOODS for row in figures(wood, Quantity.MOISTURE_MOVEMENT)), key=lambda row: row.value)
    swells = across_the_grain(2 * (frame.rail - frame.lip), most.value, damp - dry)
    if swells > 0:
        yield Spend(f"the rails' swelling by damp, as {most.name}", swells, most.status)


# --- in words --------------------------------------------------------------------------------------------------------


def tightest(budgets: Sequence[Budget]) -> Budget | None:
    """Return the budget that has the least left in the worst case; `None` without any."""
    return min(budgets, key=lambda one: one.worst, default=None)


def budget_findings(piece: SolvedPiece, printer: Printer) -> Iterator[Finding]:
    """Yield the tightest budget of each window, blank and glazing, where it does not hold."""
    kinds = dict.fromkeys((budget.what, budget.aperture) for budget in piece.budgets)
    for kind in kinds:
        found = tightest([one for one in piece.budgets if (one.what, one.aperture) == kind])
        if found is None or found.worst >= 0:
            continue
        code, where, key, whose = _KEYS[found.what]
        short = -found.likely if found.is_short else -found.worst
        may = f"is likely to be {printer.fine(short)}" if found.is_short else f"may at worst be {printer.fine(short)}"
        of = f" at the {found.side}" if found.aperture else f" in {found.side}"
        text = f"{whose}{of} has {printer.fine(found.slack)} of slack and {may} short (matplan explain has the sum); "
        if any(one.name == found.aperture and one.show is Show.MARGIN for one in piece.apertures):
            text += "use a smaller reveal, or a larger paper"
        else:
            text += f'{key} = "{printer.length(_mended(piece, found, short, printer))}" mends it'
        yield (warning if found.is_short else note)(code, found.aperture or where, text)


def _mended(piece: SolvedPiece, budget: Budget, short: Fraction, printer: Printer) -> Fraction:
    """Return the length of the key that makes the budget hold, up to a step."""
    now = piece.frame.ask.clearance
    if budget.aperture:
        (ask,) = (one.ask for one in piece.apertures if one.name == budget.aperture)
        now = ask.overlap
    return printer.step.up(now + short)


_KEYS: Final = {
    Bound.EDGE_SHOWS: ("edge-budget", "", "overlap", "the covered edge"),
    Bound.BLANK_BINDS: ("blank-budget", "frame", "clearance", "the blank's play"),
    Bound.GLAZING_BINDS: ("glazing-budget", "glazing", "clearance", "the glazing's play"),
}
"""Of each kind its code, where it is, the key that mends it and what it is called."""
