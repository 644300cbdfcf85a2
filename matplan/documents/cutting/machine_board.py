"""What a computerised cutter is given of one board: the blank and its openings at full size, and nothing else.

Points are seen from the side that the machine cuts: x to the right and y up from the blank's lower left corner. From
the back left and right change sides. The openings are those of the board's back, as every figure of a plan has them,
whatever the side: so an oval is an ellipse, and the comment says how much the cut changes them on the face.
"""

from __future__ import annotations

from matplan.documents.parts.folio import Folio, LayerOf
from matplan.documents.parts.traces import Bow, Chain, Corners, Line, MachineBoard, Trace, Whole
from matplan.faults import printable
from matplan.job.records import Cut, MachineSide
from matplan.lengths import Size, plain_decimal
from matplan.mats.outlines import Outline
from matplan.mats.records import Layer
from matplan.mats.shapes.roots import Point
from matplan.mats.shapes.segments import Arc, Segment


def drawn(folio: Folio, board: LayerOf) -> MachineBoard:
    """Return the board for the machine."""
    side, blank = folio.job.cutter.machine_side, board.piece.blank
    back = side is MachineSide.BACK
    comment = (
        f"{printable(board.piece.name)}, layer {board.layer.number}: {printable(board.layer.board.name)}, "
        f"{board.layer.cut} cut",
        "1:1, in mm; origin at the lower left corner of the blank",
        f"seen from the {side}, which the machine cuts" + (": mirrored" if back else ""),
        _of_cut(board.layer),
        "try it on scrap; keep hands away from moving blades and beams; follow the machine's own instructions",
    )
    cuts = tuple(_trace(opening.back, blank, back) for opening in board.layer.openings)
    return MachineBoard(comment=comment, blank=blank, cuts=cuts)


def _of_cut(layer: Layer) -> str:
    """Return what the cut makes of the openings."""
    if layer.cut is Cut.STRAIGHT:
        return "the cut is straight: the openings of back and face are equal"
    change = "larger" if layer.cut is Cut.BEVEL else "smaller"
    by = plain_decimal(layer.board.thickness)
    return f"the openings are those of the board's back; on its face the cut leaves them {by} mm {change} all round"


def _trace(line: Outline, blank: Size, back: bool) -> Trace:
    """Return the line of one opening as the machine sees it."""

    def seen(point: Point) -> Point:
        return blank.width - point[0] if back else point[0], blank.height - point[1]

    def piece_of(piece: Segment) -> Line | Bow:
        start, end = seen(piece.start), seen(piece.end)
        if not isinstance(piece, Arc):
            return Line(start=start, end=end)
        centre = seen(piece.centre)
        return Bow(centre=centre, radius=piece.rx, start=start, end=end, large=piece.large, clockwise=not back)

    first = line.segments[0]
    if line.ellipse and isinstance(first, Arc):
        return Whole(centre=seen(first.centre), rx=first.rx, ry=first.ry)
    if line.straight:
        return Corners(points=tuple(map(seen, line.points())))
    return Chain(pieces=tuple(map(piece_of, line.segments)))
