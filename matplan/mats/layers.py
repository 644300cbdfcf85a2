"""The boards of a mat: each layer's openings from the clear ones, what the bevel makes of them, and the web that is left."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from matplan.job.records import Cut, LayerAsk, Shape
from matplan.lengths import Box, Step
from matplan.mats.block import Rows
from matplan.mats.outlines import Outline, enlarged, grown
from matplan.mats.records import Layer, LayerOpening
from matplan.mats.shapes import polygon
from matplan.mats.shapes.roots import near
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

    Raises `Unsolvable` where a reverse bevel leaves no opening or splits it, and where a bevel's faces run into each other.
    """
    match cut:
        case Cut.BEVEL:
            face = grown(back, thickness)
            if face is None:
                raise Unsolvable(
                    "mat", "the bevels run into each other: the board between two sides is thinner than two of its thicknesses"
                )
            return face
        case Cut.STRAIGHT:
            return back
        case Cut.REVERSE:
            face = grown(back, -thickness)
            if face is None:
                what = "closes the opening" if back.shape is not Shape.POLYGON else "closes or splits the opening"
                raise Unsolvable("mat", f"a reverse bevel {what}: the board is half as thick as the opening is wide, or thicker")
            return face


def _in_front(clear: Outline, by: Fraction, step: Step, name: str) -> Outline:
    """The opening of a board in front. Raises `Unsolvable` where the sides of a polygon run into each other."""
    found = enlarged(clear, by, step) if by else clear
    if found is None:
        raise Unsolvable("mat", f"the reveals close a gap between two sides of the opening of {name}; use a smaller reveal or other points")
    return found


def _check_thin(line: Outline, thickness: Fraction, name: str) -> None:
    """Raises `Unsolvable` where a polygon has a spike, or a part thinner than the board is thick, of the opening or of the board."""
    if line.shape is not Shape.POLYGON:
        return
    corners = polygon.corners_of(line.line)
    if polygon.thin_corner(corners) is not None:
        raise Unsolvable(
            "points",
            f"the opening of {name} has a corner too sharp to cut: under about 11° it stays thinner than the board; use a blunter one",
        )
    if (what := polygon.thin_part(corners, thickness)) is not None:
        where = "is in places narrower" if what == "opening" else "leaves board that is narrower"
        raise Unsolvable("points", f"the opening of {name} {where} than the board is thick; make the opening larger or move the points")


def layers_of(
    mat: Sequence[LayerAsk],
    clear: Sequence[tuple[str, Outline]],
    grows: Sequence[Fraction],
    setback: Fraction,
    step: Step,
    sums: Sums,
) -> tuple[Layer, ...]:
    """Every board with its openings; `clear` are the clear openings, named. Raises `Unsolvable` for a shape that no board can be cut to."""
    layers = []
    for number, (ask, by) in enumerate(zip(mat, grows, strict=True), 1):
        openings = []
        for name, line in clear:
            back = _in_front(line, by, step, name)
            _check_thin(back, ask.board.thickness, name)
            face = bevelled(back, ask.cut, ask.board.thickness)
            openings.append(LayerOpening(aperture=name, shape=line.shape, back=back, face=face))
        overcut = ask.board.thickness + setback
        words = "board's thickness {} + cutter's setback {}"
        sums.add(f"over-cut of the {_ordinal(number)} layer", overcut, words, ask.board.thickness, setback)
        layers.append(Layer(number=number, ask=ask, openings=tuple(openings), overcut=overcut))
    return tuple(layers)


def least_web(lines: Sequence[Outline], rows: Rows, sight: Box) -> Fraction:
    """The narrowest strip that is left of the front layer: between two neighbouring faces, or between one and the sight edge.

    Upright faces are compared with their neighbours in the row and in the row below, any others each with its nearest; time grows
    with their number.
    """
    faces = [line.box for line in lines]
    least = min(face.inset_in(sight).least for face in faces)
    if len(lines) > 1 and not all(line.upright for line in lines):
        return min(least, _between_shapes(lines))
    for row in rows:
        for left, right in pairwise(row):
            least = min(least, faces[right].x - faces[left].right)
    for upper, lower in pairwise(rows):
        least = min(least, _between(upper, lower, faces, least))
    return least


def _between_shapes(lines: Sequence[Outline]) -> Fraction:
    """The least distance between two faces, within the hundredth of a millimetre of their points."""
    from shapely import Polygon, STRtree

    drawn = [Polygon([(float(x), float(y)) for x, y in line.points()]) for line in lines]
    _, distances = STRtree(drawn).query_nearest(drawn, exclusive=True, all_matches=False, return_distance=True)
    return near(float(distances.min()))


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
