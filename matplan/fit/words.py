"""Why an answer is one, in words, and why there is none."""

from __future__ import annotations

from fractions import Fraction

from matplan.fit.choices import blanks_of
from matplan.fit.paper import factors_on, reach_of
from matplan.fit.records import Option, OwnMat, Question
from matplan.fit.window import Blank, opening_of
from matplan.lengths import Printer, Sides, Size, plain_decimal


def why(option: Option, printer: Printer) -> str:
    """Return what the frame leaves, what it prints on and how sharply, and what else speaks for it or against."""
    said = [f"{option.named} leaves {_borders(option.visible, printer)}"]
    if option.sheet is None:
        said.append("none of the usual papers is large enough: have it printed")
    else:
        spare = f"with {printer.length(option.spare)} to spare" if option.spare else "from edge to edge"
        said.append(f"prints on {option.printed_on} {spare}")
    if option.ppi is not None:
        short = f" of the {_whole(option.wanted_ppi)} wanted" if option.ppi < option.wanted_ppi else ""
        said.append(f"{_whole(option.ppi)} ppi{short}")
    if option.mat is not None:
        named = "mat that it comes with" if isinstance(option.mat, OwnMat) else f"ready-cut mat {option.mat.name}"
        said.append(f"the {named} does, so nothing is cut")
    if option.standard:
        said.append(f"{option.standard} is a standard print size")
    lost = (
        (1 - option.kept, "of the picture is cropped away"),
        (option.covered, "of the print is covered besides the usual strip"),
    )
    said += [f"{plain_decimal(part * 100, 1)} % {what}" for part, what in lost if part * 1000 >= 1]
    if option.frame.rail is not None and option.visible.least < 2 * option.frame.rail:
        said.append(f"the narrowest border is under twice the rail's face of {printer.length(option.frame.rail)}")
    return "; ".join(said)


def _borders(sides: Sides, printer: Printer) -> str:
    """`62 mm on every side`, from the least to the most where they differ by a step, else the sides, the top and the
    bottom.
    """
    least, most = sides.least, max(sides.top, sides.right, sides.bottom, sides.left)
    if least == most:
        return f"{printer.length(least)} on every side"
    if most - least <= printer.step.size:
        return f"{printer.number(least)} to {printer.length(most)} on every side"
    across = printer.length(min(sides.left, sides.right))
    if abs(sides.top - sides.bottom) <= printer.step.size:
        return f"{across} at the sides, {printer.length(min(sides.top, sides.bottom))} above and below"
    return f"{across} at the sides, {printer.length(sides.top)} above and {printer.length(sides.bottom)} below"


def _whole(value: Fraction) -> str:
    return plain_decimal(value, 0)


# --- nothing suits ---------------------------------------------------------------------------------------------------


def nothing(question: Question) -> str:
    """Return why nothing suits, and what came nearest."""
    printer, image = question.printer, question.image
    blanks = [blank for blank, _ in blanks_of(question)]
    if not blanks:
        return "none of the frames shows anything: their lips cover them; name larger ones"
    if image is not None and not question.any_sheet and not _taken(image, question):
        return f"no paper named takes an image of {printer.size(image)}; {_largest_print(question)}"
    if question.show == "sheet":
        return _nothing_floats(question, blanks)
    if image is not None:
        return _no_frame_for(image, question, blanks)
    return _no_room(question, blanks)


def _taken(image: Size, question: Question) -> bool:
    """Return whether any of the papers takes that image, either way up."""
    return any(reach_of(sheet, question).holds(way) for sheet in question.sheets for way in (image, image.turned))


def _largest_print(question: Question) -> str:
    """Return the largest print of the picture's aspect that any of the papers takes."""
    factor, name = max(
        (max(factors_on(reach_of(sheet, question), question.subject.aspect)), sheet.name) for sheet in question.sheets
    )
    across, down = question.subject.aspect
    if factor <= 0:
        return "none takes any; name a larger paper"
    size = Size(*(question.printer.step.down(side * factor) for side in (across, down)))
    return f"the largest of its aspect is {question.printer.size(size)}, on {name}"


def _named(blank: Blank) -> str:
    return f"{blank.frame.name} {blank.size.orientation}" if blank.turned else blank.frame.name


def _short(opening: Size, blank: Blank) -> Fraction:
    """Return how much is missing, on the axis where most is."""
    return max(opening.width - blank.room.width, opening.height - blank.room.height)


def _nearest(opening: Size, blanks: list[Blank]) -> Blank:
    return min(blanks, key=lambda blank: _short(opening, blank))


def _missing(opening: Size, blank: Blank, printer: Printer) -> str:
    return f"the nearest, {_named(blank)}, is {printer.length(max(_short(opening, blank), Fraction(0)))} too small"


def _no_frame_for(image: Size, question: Question, blanks: list[Blank]) -> str:
    opening = opening_of(image, question)
    printer = question.printer
    if min(opening.width, opening.height) <= 0:
        return (
            f"the overlap of {printer.length(question.overlap)} covers an image of {printer.size(image)}; use "
            "a smaller overlap"
        )
    border = f" with {printer.length(question.border)} of border" if question.border else ""
    miss = _missing(opening, _nearest(opening, blanks), printer)
    return f"no frame holds an image of {printer.size(image)}{border}; {miss}"


def _no_room(question: Question, blanks: list[Blank]) -> str:
    """No picture is left between the borders."""
    printer = question.printer
    best = max(blanks, key=lambda blank: min(blank.room.width, blank.room.height))
    room = min(best.room.width, best.room.height)
    if room > 0:
        return f"no print fits between the borders and on the papers named; {_largest_print(question)}"
    border = printer.length(question.border if question.border is not None else best.border)
    return (
        f"a border of {border} leaves no picture in any frame; in the roomiest, {_named(best)}, the borders are "
        f"{printer.length(-room)} wider than its blank of {printer.size(best.size)}"
    )


def _nothing_floats(question: Question, blanks: list[Blank]) -> str:
    """No sheet has room whole."""
    printer = question.printer
    chances = [
        (opening_of(way, question), sheet) for sheet in question.sheets for way in (sheet.size, sheet.size.turned)
    ]
    short, name, miss = min(
        (
            (_short(opening, blank), sheet.name, _missing(opening, blank, printer))
            for opening, sheet in chances
            for blank in blanks
        ),
        key=lambda chance: chance[0],
    )
    if short <= 0:
        return f"no paper has room for that image; {_largest_print(question)}"
    return f"no frame floats any of the papers whole with {printer.length(question.gap)} round it; for {name} {miss}"
