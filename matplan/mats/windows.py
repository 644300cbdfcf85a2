"""From an image to its opening and back: what `show` asks of one window.

What the eye sees of the opening is the image and twice the `edge`: minus the overlap, plus the reveal or plus the gap.
A floated work on a named paper has an opening that follows the paper, whatever the image.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import NoReturn

from matplan.faults import MatplanError
from matplan.job.records import ApertureAsk, Shape, Show
from matplan.lengths import Box, Sides, Size, Step
from matplan.mats.outlines import Outline, grown, outline
from matplan.sums import Sums, Term, down, least, length, up

EVEN_SIDED = (Shape.SQUARE, Shape.CIRCLE)


class Unsolvable(MatplanError, ValueError):
    """A piece that cannot be solved; `where` is the key it is about, "" for the piece, `text` the whole message."""

    def __init__(self, where: str, text: str) -> None:
        super().__init__(text)
        self.where, self.text = where, text


def edge(ask: ApertureAsk) -> Fraction:
    """Return what the eye sees more than what is shown, on each side; negative where the mat covers."""
    match ask.show:
        case Show.IMAGE:
            return -ask.overlap
        case Show.MARGIN:
            return ask.reveal
        case Show.SHEET:
            return ask.gap


def with_edge(ask: ApertureAsk, shown: Term, inset: Fraction) -> Term:
    """Return what the opening is before it is snapped: what it shows and the edge on both sides.

    `inset` is how far a reverse cut's face, which the eye sees, lies inside the opening.
    """
    match ask.show:
        case Show.IMAGE:
            seen = shown - 2 * length("overlap", ask.overlap)
        case Show.MARGIN:
            seen = shown + 2 * length("reveal", ask.reveal)
        case Show.SHEET:
            seen = shown + 2 * length("gap", ask.gap)
    return seen + 2 * length("reverse cut", inset) if inset else seen


def without_edge(ask: ApertureAsk, opening: Term, inset: Fraction) -> Term:
    """Return what an opening shows that is given: the opening without the edge on both sides."""
    seen = opening - 2 * length("reverse cut", inset) if inset else opening
    match ask.show:
        case Show.IMAGE:
            return seen + 2 * length("overlap", ask.overlap)
        case Show.MARGIN:
            return seen - 2 * length("reveal", ask.reveal)
        case Show.SHEET:
            return seen - 2 * length("gap", ask.gap)


def aspect(ask: ApertureAsk) -> tuple[Fraction, Fraction]:
    """Return width : height of the printed image. Raises `Unsolvable` where nothing tells it."""
    if ask.image is not None and ask.image.width is not None and ask.image.height is not None:
        return ask.image.width, ask.image.height
    if ask.aspect is not None:
        return ask.aspect
    if ask.shape in EVEN_SIDED:
        return Fraction(1), Fraction(1)
    if ask.photo is not None:
        width, height = ask.photo.pixels
        return Fraction(width), Fraction(height)
    raise Unsolvable("", 'no aspect is known: name a photo, an aspect such as "3:2" or an image with both sides')


def asked_image(ask: ApertureAsk, sums: Sums) -> Size | None:
    """Return the printed image where its size was asked for: as given, a missing side from the aspect."""
    if ask.image is None:
        return None
    width, height = ask.image.width, ask.image.height
    across, upright = aspect(ask)
    if width is not None and height is not None:
        return Size(width, height)
    if width is not None:
        return Size(width, sums.add("image height", length("image width", width) * upright / across))
    if height is not None:
        return Size(sums.add("image width", length("image height", height) * across / upright), height)
    return None


def sheet_of(ask: ApertureAsk, image: Size) -> Size:
    """Return the sheet that a floated work shows: the paper, in the orientation of the image, or a sheet cut to the
    image.

    In a square or round window it is cut square or round, by its shorter side; for an opening that is given it is cut
    to what the opening leaves.
    """
    if ask.paper is None or ask.opening is not None:
        return _even(ask, image)
    return _even(ask, ask.paper.size.turned if turns(ask.paper.size, image) else ask.paper.size)


def _even(ask: ApertureAsk, size: Size) -> Size:
    """Return the size cut to equal sides where the shape has equal sides."""
    side = min(size.width, size.height)
    return Size(side, side) if ask.shape in EVEN_SIDED else size


def turns(paper: Size, image: Size) -> bool:
    """Return whether a sheet serves an image better turned: it does not hold it as it is, and lacks less turned."""
    return paper.turned.lacks(image) < paper.lacks(image)


def given_opening(ask: ApertureAsk, step: Step | None, sums: Sums, inset: Fraction) -> Size:
    """Return the clear opening where what the eye sees of it is given: as measured, or down to a `step`."""
    if ask.opening is None:
        raise ValueError("no opening is given")

    def side(name: str, whole: Fraction) -> Fraction:
        seen = length("as given", whole)
        back = seen + 2 * length("reverse cut", inset) if inset else seen
        return sums.add(f"opening {name}", back if step is None else down(back, step))

    return Size(side("width", ask.opening.width), side("height", ask.opening.height))


def shown_in(ask: ApertureAsk, opening: Size, sums: Sums, inset: Fraction) -> Size:
    """Return the image, or the floated work, that an opening shows. Raises `Unsolvable` where nothing is left of it."""
    width, height = (
        sums.add(f"image {side}", without_edge(ask, length("opening", whole), inset))
        for side, whole in (("width", opening.width), ("height", opening.height))
    )
    return Size(width, height) if width > 0 and height > 0 else _nothing(ask)


def opening_size(ask: ApertureAsk, image: Size, step: Step, sums: Sums, inset: Fraction) -> Size:
    """Return the clear opening for an image, in whole steps. Raises `Unsolvable` where nothing is left of it."""
    floats = ask.show is Show.SHEET
    name, shown = ("sheet", sheet_of(ask, image)) if floats else ("image", image)
    snap = up if floats else down
    width, height = (
        sums.add(f"opening {side}", snap(with_edge(ask, length(name, whole), inset), step))
        for side, whole in (("width", shown.width), ("height", shown.height))
    )
    if width <= 0 or height <= 0:
        raise Unsolvable(
            "overlap", "the overlap covers the whole image; a smaller overlap or a larger image leaves an opening"
        )
    if ask.shape in EVEN_SIDED and width != height:
        sides = least(length("width", width), length("height", height))
        width = height = sums.add(f"opening of the {ask.shape}", sides)
    return Size(width, height)


@dataclass(frozen=True, slots=True, kw_only=True)
class TrueEdges:
    """The overlap, reveal and gap that an image really has in its opening, by side; `None` for what does not apply."""

    overlap: Sides | None = None
    reveal: Sides | None = None
    gap: Sides | None = None


def work_of(ask: ApertureAsk, opening: Box, line: Outline, image: Box) -> Outline:
    """Return the edge of what the window shows, behind the nominal `opening` whose outline is `line`.

    Behind a covering mat it is the whole image, a rectangle. With a margin or floated it has the window's own shape, so
    that an even strip shows round it: a round window has a round image, or a sheet cut round. It is the outline moved
    inwards along the normal by the largest of the strips between the boxes, so that the image or paper holds it; an
    oval's axes are shorter by twice as much, as the cutter is set. Raises `Unsolvable` where nothing is left.
    """
    if ask.show is Show.IMAGE:
        return Outline(shape=Shape.RECTANGLE, box=image)
    size = _even(ask, image.size) if ask.show is Show.MARGIN else sheet_of(ask, image.size)
    box = Box.of(size).centred_in(opening)
    if line.upright:
        return Outline(shape=line.shape, box=box)
    strips = box.inset_in(opening)
    by = max(strips.left, strips.top, Fraction(0))
    if line.shape in (Shape.CIRCLE, Shape.OVAL):
        return outline(line.shape, opening.grown(-by)) if min(opening.width, opening.height) > 2 * by else _nothing(ask)
    return grown(line, -by) or _nothing(ask)


def _nothing(ask: ApertureAsk) -> NoReturn:
    key = "reveal" if ask.show is Show.MARGIN else "gap"
    raise Unsolvable(
        key,
        f"the {key} leaves nothing of the {ask.shape}, or only parts of it; use a smaller {key} or a larger "
        + ("image" if ask.opening is None else "opening"),
    )


def true_edges(ask: ApertureAsk, seen: Outline, work: Outline) -> TrueEdges:
    """Return what the finished window really covers or shows: from the bounds of what is seen to those of the work."""
    inside = seen.box.inset_in(work.box)
    match ask.show:
        case Show.IMAGE:
            return TrueEdges(overlap=inside)
        case Show.MARGIN:
            return TrueEdges(reveal=inside.each(lambda length: -length))
        case Show.SHEET:
            return TrueEdges(gap=inside.each(lambda length: -length))
