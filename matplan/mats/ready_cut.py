"""Ready-cut mats: the standard mat of the tables that suits a blank and its work, and what the image must be for it.

A ready-cut mat is bought with its window, so that the window settles what is seen: it lies as the table says, in the
middle of its blank, and its opening is no whole number of steps where it is sold in other units than the job's. Where
several standard mats suit, it is the one that shows most of an image behind it, or leaves the narrowest strip round a
work that is shown whole.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from matplan import catalogue
from matplan.catalogue import ReadyCut
from matplan.job.records import AddedWeight, ApertureAsk, Cut, Frame, Piece, Shape, Show
from matplan.lengths import ZERO, Printer, Sides, Size
from matplan.mats.windows import Unsolvable, aspect, edge, sheet_of, without_edge
from matplan.sums import Sums, half, length

MOST_NAMED = 3
"""Standard mats whose sizes a message tells."""


def _else(frame: Frame, printer: Printer) -> str:
    """Return what else to write for `mat_supply`; the mat that the frame comes with is named."""
    mat = "the mat that the frame has"
    if frame.mat_opening is not None:
        mat = f'the {printer.size(frame.mat_opening)} mat of "{frame.name}"'
    return f'or write mat_supply = "to size", or "own" for {mat}'


def check_plain(piece: Piece, printer: Printer) -> None:
    """Raise `Unsolvable` that names everything for which no ready-cut mat is sold."""
    boards, windows = piece.mat, piece.apertures
    wrong: list[str] = []
    if not piece.frame.has_size:
        wrong.append("a frame without a size of its own")
    if len(windows) > 1:
        wrong.append(f"{len(windows)} windows")
    if len(boards) != 1:
        wrong.append(f"{len(boards)} boards" if boards else "no board")
    wrong += [f"a {board.cut} cut" for board in boards if board.cut is not Cut.BEVEL]
    wrong += [f"the shape {window.shape}" for window in windows if window.shape is not Shape.RECTANGLE]
    if piece.weight != AddedWeight(extra=ZERO):
        wrong.append("a weight")
    if wrong:
        raise Unsolvable(
            "mat_supply",
            "a ready-cut mat is one board with one bevelled rectangle in its middle, for a frame with a size; "
            f"got {', '.join(dict.fromkeys(wrong))}. Change that, {_else(piece.frame, printer)}",
        )


def standard_mat(piece: Piece, image: Size | None, blank: Size, printer: Printer) -> ReadyCut:
    """Return the standard mat for a blank and an image; without an image, the mat with most nearly the picture's
    aspect.

    Raises `Unsolvable` where no mat is sold for the blank, and where no mat suits the work: then with the sizes that
    do.
    """
    (ask,) = piece.apertures
    otherwise = _else(piece.frame, printer)
    mats = catalogue.ready_cuts(blank, within=printer.step.size)
    if not mats:
        raise Unsolvable(
            "mat_supply",
            f"the tables have no ready-cut mat for a blank of {printer.size(blank)} (`matplan sizes ready-cut` lists "
            f"them); use a frame of such a size, {otherwise}",
        )
    work = _work(ask, image)
    suiting = [mat for mat in mats if _suits(ask, work, mat, blank)]
    if not suiting:
        raise Unsolvable("mat_supply", f"{_none_suits(ask, work, mats, blank, printer)}, {otherwise}")
    if work is None and (ask.aspect is not None or ask.photo is not None):
        across, down = aspect(ask)
        suiting.sort(key=lambda mat: _strangeness(across / down, image_for(ask, mat)))
        least = _strangeness(across / down, image_for(ask, suiting[0]))
        suiting = [mat for mat in suiting if _strangeness(across / down, image_for(ask, mat)) == least]
    sign = 1 if ask.show is Show.IMAGE else -1
    return max(suiting, key=lambda mat: sign * mat.opening.area)


def image_for(ask: ApertureAsk, mat: ReadyCut, sums: Sums | None = None) -> Size:
    """Return the image that the mat shows whole but for the overlap, or with the reveal or gap round it."""
    if sums is None:
        return mat.opening.grown(-edge(ask))
    return Size(
        sums.add("image width", without_edge(ask, length("opening", mat.opening.width), ZERO)),
        sums.add("image height", without_edge(ask, length("opening", mat.opening.height), ZERO)),
    )


def borders_of(mat: ReadyCut, blank: Size, sums: Sums) -> Sides:
    """Return the cut borders of the mat's opening in the middle of the blank."""
    opening = mat.opening
    for side, whole in (("width", opening.width), ("height", opening.height)):
        sums.add(f"opening {side}", length("the ready-cut mat's", whole))
    across = half(length("blank", blank.width) - length("opening", opening.width))
    upright = half(length("blank", blank.height) - length("opening", opening.height))
    trees = {"top": upright, "right": across, "bottom": upright, "left": across}
    return Sides(**{side: sums.add(f"cut border {side}", tree) for side, tree in trees.items()})


def check_border(borders: Sides, least: Sides, mat: ReadyCut, frame: Frame, printer: Printer) -> None:
    """Raise `Unsolvable` where the standard mat leaves less than the least cut borders that were asked for."""
    short = [
        f"{side} by {printer.length(missing)}"
        for side in ("top", "right", "bottom", "left")
        if (missing := getattr(least, side) - getattr(borders, side)) > 0
    ]
    if short:
        raise Unsolvable(
            "border",
            f'the ready-cut mat "{mat.name}" has narrower borders than asked for: {", ".join(short)}; ask for less, '
            f"{_else(frame, printer)}",
        )


def _work(ask: ApertureAsk, image: Size | None) -> Size | None:
    """Return what the window covers or shows whole, the image or a floated sheet, or `None` if the mat settles it."""
    if ask.show is Show.SHEET and (image is not None or ask.paper is not None):
        return sheet_of(ask, image or (ask.paper.size if ask.paper else Size(ZERO, ZERO)))
    return image


def _suits(ask: ApertureAsk, work: Size | None, mat: ReadyCut, blank: Size) -> bool:
    smallest, largest = _range(ask, mat, blank)
    if work is None:
        return min(largest.width, largest.height) > 0 and largest.holds(smallest)
    return work.holds(smallest) and largest.holds(work)


def _range(ask: ApertureAsk, mat: ReadyCut, blank: Size) -> tuple[Size, Size]:
    """Return the smallest and the largest work that the standard mat suits.

    An image that the mat covers lies behind it, within the blank.
    """
    asked = image_for(ask, mat)
    return (asked, blank) if ask.show is Show.IMAGE else (Size(ZERO, ZERO), asked)


def _strangeness(wanted: Fraction, image: Size) -> Fraction:
    """Return how far the image's aspect is from the aspect wanted: 1 where both are equal."""
    has = image.width / image.height
    return max(has / wanted, wanted / has)


def _none_suits(ask: ApertureAsk, work: Size | None, mats: Sequence[ReadyCut], blank: Size, printer: Printer) -> str:
    """Return why no mat suits, and between which sizes the print must be."""
    covered = ask.show is Show.IMAGE
    what = "sheet" if ask.show is Show.SHEET else "image"
    has = f"the {what} of {printer.size(work)}" if work else f"any {what}"
    rule = "covers {} by {} on every side" if covered else "leaves {} round {}"
    said = rule.format(has, printer.length(-edge(ask))) if covered else rule.format(printer.length(edge(ask)), has)
    ranges = [(_range(ask, mat, blank), mat.name) for mat in mats[:MOST_NAMED]]
    sizes = " or ".join(
        f"{printer.size(smallest if covered else largest)} ({name})"
        for (smallest, largest), name in ranges
        if min(largest.width, largest.height) > 0 and largest.holds(smallest)
    )
    if not sizes:
        right = "use a larger frame"
    elif covered:
        right = f"make it at least {sizes} and at most {printer.size(blank)}"
    else:
        right = f"make it at most {sizes}"
    return f"no ready-cut mat for {printer.size(blank)} {said}; {right}"
