"""The boards of a mat: each layer's openings from the clear ones, what the bevel makes of them, and the web that is left."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from matplan.job.records import Cut, LayerAsk
from matplan.lengths import Box, Step
from matplan.mats.block import Rows
from matplan.mats.outlines import Outline, enlarged, grown
from matplan.mats.records import Layer, LayerOpening
from matplan.mats.sums import Sums
from matplan.mats.windows import Unsolvable


def reveals(mat: Sequence[LayerAsk], step: Step, sums: Sums) -> tuple[Fraction, ...]:
    """How much larger each layer's opening is than the clear one, on every side: the reveals of the layers behind it, in whole steps."""
    grows: list[Fraction] = []
    behind = Fraction(0)
    for number in range(len(mat), 0, -1):
        grows.append(behind)
        ask = mat[number - 1]
        if number > 1:
            strip = step.nearest(ask.reveal)
            sums.add(
                f"reveal of the {_ordinal(number)} layer", strip, "as asked {}", ask.reveal, raw=ask.reveal, snap="to the nearest step"
            )
            behind += strip
    return tuple(reversed(grows))


def _ordinal(number: int) -> str:
    return ("front", "second", "third", "fourth", "fifth")[number - 1] if number <= 5 else f"number {number}"


def bevelled(back: Outline, cut: Cut, thickness: Fraction) -> Outline:
    """The opening on the board's face: a bevel grows it by the board's thickness, a reverse bevel shrinks it, a straight cut leaves it.

    Raises `Unsolvable` where a reverse bevel leaves no opening.
    """
    match cut:
        case Cut.BEVEL:
            return grown(back, thickness)
        case Cut.STRAIGHT:
            return back
        case Cut.REVERSE:
            if min(back.box.width, back.box.height) <= 2 * thickness:
                raise Unsolvable("mat", "a reverse bevel closes the opening: the board is half as thick as the opening is wide, or thicker")
            return grown(back, -thickness)


def layers_of(
    mat: Sequence[LayerAsk], clear: Sequence[tuple[str, Outline]], grows: Sequence[Fraction], setback: Fraction, sums: Sums
) -> tuple[Layer, ...]:
    """Every board with its openings; `clear` are the clear openings, named."""
    layers = []
    for number, (ask, by) in enumerate(zip(mat, grows, strict=True), 1):
        openings = []
        for name, line in clear:
            back = enlarged(line, by) if by else line
            face = bevelled(back, ask.cut, ask.board.thickness)
            openings.append(LayerOpening(aperture=name, shape=line.shape, back=back, face=face))
        overcut = ask.board.thickness + setback
        words = "board's thickness {} + cutter's setback {}"
        sums.add(f"over-cut of the {_ordinal(number)} layer", overcut, words, ask.board.thickness, setback)
        layers.append(Layer(number=number, ask=ask, openings=tuple(openings), overcut=overcut))
    return tuple(layers)


def least_web(faces: Sequence[Box], rows: Rows, sight: Box) -> Fraction:
    """The narrowest strip that is left of the front layer: between two neighbouring faces, or between one and the sight edge.

    Faces are compared with their neighbours in the row and in the row below; time grows with their number.
    """
    least = min(face.inset_in(sight).least for face in faces)
    for row in rows:
        for left, right in pairwise(row):
            least = min(least, faces[right].x - faces[left].right)
    for upper, lower in pairwise(rows):
        least = min(least, _between(upper, lower, faces, least))
    return least


def _between(upper: Sequence[int], lower: Sequence[int], faces: Sequence[Box], least: Fraction) -> Fraction:
    """The least upright distance between faces of two rows that stand over each other; both rows run from left to right."""
    i = j = 0
    while i < len(upper) and j < len(lower):
        above, below = faces[upper[i]], faces[lower[j]]
        if above.x < below.right and below.x < above.right:
            least = min(least, below.y - above.bottom)
        if above.right <= below.right:
            i += 1
        else:
            j += 1
    return least
