"""How large a print each paper takes, either way up."""

from __future__ import annotations

from fractions import Fraction

from matplan.fit.records import Question, Sheet
from matplan.lengths import Sides, Size


def reach_of(sheet: Sheet, question: Question) -> Size:
    """Return the largest area that an image may fill on the sheet as named.

    With white paper shown round it, the sheet goes on behind the mat by the overlap; a floated image stays in the
    middle of its sheet.
    """
    bare = sheet.bare
    match question.show:
        case "image":
            across, down = bare.across, bare.down
        case "margin":
            behind = question.reveal + question.overlap
            across, down = 2 * max(behind, bare.left, bare.right), 2 * max(behind, bare.top, bare.bottom)
        case "sheet":
            across, down = 2 * max(bare.left, bare.right), 2 * max(bare.top, bare.bottom)
    return Size(sheet.size.width - across, sheet.size.height - down)


def factors_on(reach: Size, aspect: tuple[Fraction, Fraction]) -> tuple[Fraction, Fraction]:
    """Return the factors of the largest images of the aspect: on the sheet as named, and turned."""
    across, down = aspect
    return min(reach.width / across, reach.height / down), min(reach.height / across, reach.width / down)


def lies_turned(sheet: Sheet, image: Size, question: Question) -> bool | None:
    """Return whether the sheet lies other than it is named for the image; `None` where the image has no place on it.

    It does so only where the image does not fit as the paper is named, as in a job.
    """
    reach = reach_of(sheet, question)
    bare = Sides.all(Fraction(0)) if question.show == "sheet" else sheet.bare
    as_named = Size(sheet.size.width - bare.across, sheet.size.height - bare.down)
    turned = not as_named.holds(image)
    return turned if (reach.turned if turned else reach).holds(image) else None
