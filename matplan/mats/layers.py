"""The boards of a mat: each layer's openings, what the bevel makes of them, and the web that is left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from matplan.job.records import Cut, LayerAsk, Shape
from matplan.lengths import ZERO, Box, Printer, Step
from matplan.mats.block import Rows
from matplan.mats.outlines import Outline, enlarged, grown
from matplan.mats.records import Layer, LayerOpening
from matplan.mats.shapes import polygon
from matplan.mats.shapes.roots import near
from matplan.mats.windows import Unsolvable
from matplan.sums import Sums, length, nearest


def reveals(mat: Sequence[LayerAsk], step: Step, sums: Sums) -> tuple[Fraction, ...]:
    """Return how much larger each layer's opening is than the clear one, on every side.

    It is the reveals of the layers behind it, in whole steps.
    """
    grows: list[Fraction] = []
    behind = ZERO
    for number in range(len(mat), 0, -1):
        grows.append(behind)
        ask = mat[number - 1]
        if number > 1:
            behind += sums.add(f"reveal of the {_ordinal(number)} layer", nearest(length("as asked", ask.reveal), step))
    return tuple(reversed(grows))


def inset(mat: Sequence[LayerAsk], grows: Sequence[Fraction]) -> Fraction:
    """Return how far the opening that the eye sees lies inside the clear one, on every side.

    It is zero but behind a reverse cut, whose face is smaller than its back by the board's thickness.
    """
    cover = (_covers(ask) - by for ask, by in zip(mat, grows, strict=True))
    return max((ZERO, *cover))


def _covers(ask: LayerAsk) -> Fraction:
    return ask.board.thickness if ask.cut is Cut.REVERSE else ZERO


def seen(layers: Sequence[Layer], place: int) -> Outline:
    """Return the outline that the eye sees of the window at `place`: the smallest edge of all layers."""
    edges = [
        opening.face if layer.cut is Cut.REVERSE else opening.back
        for layer in layers
        for opening in (layer.openings[place],)
    ]
    return min(reversed(edges), key=lambda line: line.box.size.area)


def _ordinal(number: int) -> str:
    return ("front", "second", "third", "fourth", "fifth")[number - 1] if number <= 5 else f"number {number}"


def bevelled(back: Outline, cut: Cut, thickness: Fraction) -> Outline:
    """Return the opening on the board's face: larger than its back by a bevel, smaller by a reverse one.

    Raises `Unsolvable` where a reverse bevel leaves no opening or splits it, and where a bevel's faces run into each
    other.
    """
    match cut:
        case Cut.BEVEL:
            face = grown(back, thickness)
            if face is None:
                raise Unsolvable(
                    "mat",
                    "the bevels run into each other: the board between two sides is thinner than two of its "
                    "thicknesses",
                )
            return face
        case Cut.STRAIGHT:
            return back
        case Cut.REVERSE:
            face = grown(back, -thickness)
            if face is None:
                what = "closes the opening" if back.shape is not Shape.POLYGON else "closes or splits the opening"
                raise Unsolvable(
                    "mat", f"a reverse bevel {what}: the board is half as thick as the opening is wide, or thicker"
                )
            return face


def _in_front(clear: Outline, by: Fraction, step: Step, name: str) -> Outline:
    """Return the opening of a board in front. Raises `Unsolvable` where the sides of a polygon run into each other."""
    found = enlarged(clear, by, step) if by else clear
    if found is None:
        raise Unsolvable(
            "mat",
            f"the reveals close a gap between two sides of the opening of {name}; use a smaller reveal or other points",
        )
    return found


def _check_thin(line: Outline, thickness: Fraction, name: str) -> None:
    """Raise `Unsolvable` where a polygon, or the board beside it, has a spike or a part thinner than the board."""
    if line.shape is not Shape.POLYGON:
        return
    corners = polygon.corners_of(line.line)
    if polygon.thin_corner(corners) is not None:
        raise Unsolvable(
            "points",
            f"the opening of {name} has a corner too sharp to cut: under about 11° it stays thinner than the board; "
            "use a blunter one",
        )
    if (what := polygon.thin_part(corners, thickness)) is not None:
        where = "is in places narrower" if what == "opening" else "leaves board that is narrower"
        raise Unsolvable(
            "points",
            f"the opening of {name} {where} than the board is thick; make the opening larger or move the points",
        )


def layers_of(
    mat: Sequence[LayerAsk],
    clear: Sequence[tuple[str, Outline]],
    grows: Sequence[Fraction],
    setback: Fraction,
    step: Step,
    sums: Sums,
) -> tuple[Layer, ...]:
    """Return every board with its openings; `clear` are the clear openings, named.

    Raises `Unsolvable` for a shape that no board can be cut to.
    """
    layers = []
    for number, (ask, by) in enumerate(zip(mat, grows, strict=True), 1):
        openings = []
        for name, line in clear:
            back = _in_front(line, by, step, name)
            _check_thin(back, ask.board.thickness, name)
            face = bevelled(back, ask.cut, ask.board.thickness)
            openings.append(LayerOpening(aperture=name, shape=line.shape, back=back, face=face))
        blade = length("cutter's setback", setback)
        over = length("board's thickness", ask.board.thickness) + blade if ask.cut is Cut.BEVEL else blade
        sums.add(f"over-cut of the {_ordinal(number)} layer", over)
        layers.append(Layer(number=number, ask=ask, openings=tuple(openings), setback=setback))
    return tuple(layers)


def least_web(lines: Sequence[Outline], rows: Rows, sight: Box) -> Fraction:
    """Return the narrowest strip left of the front layer: between two neighbouring faces, or one and the sight edge."""
    edge = min(line.box.inset_in(sight).least for line in lines)
    between = least_gutter(lines, rows)
    return edge if between is None else min(edge, between)


def least_gutter(lines: Sequence[Outline], rows: Rows) -> Fraction | None:
    """Return the narrowest strip between two neighbouring outlines, or `None` for a single one.

    It is zero or less where they meet. Upright outlines are compared with their neighbours in the row and in the row
    below, any others each with its nearest; time grows with their number.
    """
    if len(lines) < 2:
        return None
    if not all(line.upright for line in lines):
        return _between_shapes(lines)
    boxes = [line.box for line in lines]
    apart = [boxes[right].x - boxes[left].right for row in rows for left, right in pairwise(row)]
    apart += [gap for upper, lower in pairwise(rows) for gap in _between(upper, lower, boxes)]
    return min(apart, default=None)


def check_apart(layers: Sequence[Layer], rows: Rows, printer: Printer) -> None:
    """Raise `Unsolvable` where two openings of a board meet at its back: then no web is left to hold it."""
    for layer in layers:
        left = least_gutter([opening.back for opening in layer.openings], rows)
        if left is not None and left <= 0:
            raise Unsolvable(
                "gutter",
                f"the openings of layer {layer.number} run into one another by {printer.length(-left)}: the reveals "
                "behind it make them larger than the clear openings; use a wider gutter or narrower reveals",
            )


def _between_shapes(lines: Sequence[Outline]) -> Fraction:
    """Return the least distance between two faces, within the hundredth of a millimetre of their points."""
    from shapely import Polygon, STRtree

    drawn = [Polygon([(float(x), float(y)) for x, y in line.points()]) for line in lines]
    _, distances = STRtree(drawn).query_nearest(drawn, exclusive=True, all_matches=False, return_distance=True)
    return near(float(distances.min()))


def _between(upper: Sequence[int], lower: Sequence[int], boxes: Sequence[Box]) -> Iterator[Fraction]:
    """Yield the upright distances between boxes of two rows that stand over each other, both from left to right."""
    i = j = 0
    while i < len(upper) and j < len(lower):
        above, below = boxes[upper[i]], boxes[lower[j]]
        if above.x < below.right and below.x < above.right:
            yield below.y - above.bottom
        if above.right <= below.right:
            i += 1
        else:
            j += 1
