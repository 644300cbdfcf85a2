"""What a computerised cutter is given of one board: the blank and its openings at full size, and nothing else.

Points are seen from the side that the machine cuts: x to the right and y up from the blank's lower left corner. From
the back left and right change sides. Openings are the line that the blade follows on that side.
"""

from __future__ import annotations

from collections.abc import Iterator

from matplan.documents.parts.folio import Folio, LayerOf
from matplan.documents.parts.traces import Bow, Corners, Line, MachineBoard, Trace, Whole
from matplan.faults import printable
from matplan.job.records import MachineSide
from matplan.lengths import Size
from matplan.mats.outlines import Outline
from matplan.mats.shapes.roots import Point
from matplan.mats.shapes.segments import FINE, Arc, Parallel


def drawn(folio: Folio, board: LayerOf) -> MachineBoard:
    """Return the board for the machine."""
    side, blank = folio.job.cutter.machine_side, board.piece.blank
    back = side is MachineSide.BACK
    outlines = [opening.back if back else opening.face for opening in board.layer.openings]
    comment = [
        f"{printable(board.piece.name)}, layer {board.layer.number}: {printable(board.layer.board.name)}, "
        f"{board.layer.cut} cut",
        "1:1, in mm; origin at the lower left corner of the blank",
        f"seen from the {side}, which the machine cuts" + (": mirrored" if back else ""),
    ]
    if any(isinstance(piece, Parallel) for line in outlines for piece in line.line):
        comment.append(f"a bevel round an oval is no ellipse on the face: its line has points, within {float(FINE)} mm")
    cuts = tuple(trace for line in outlines for trace in _traces(line, blank, back))
    return MachineBoard(comment=tuple(comment), blank=blank, cuts=cuts)


def _traces(line: Outline, blank: Size, back: bool) -> Iterator[Trace]:
    """Yield the lines of one opening as the machine sees it."""

    def seen(point: Point) -> Point:
        return blank.width - point[0] if back else point[0], blank.height - point[1]

    first = line.segments[0]
    if line.ellipse and isinstance(first, Arc):
        yield Whole(centre=seen(first.centre), rx=first.rx, ry=first.ry)
    elif not any(isinstance(piece, Arc) for piece in line.segments):
        yield Corners(points=tuple(map(seen, line.points())))
    else:
        for piece in line.segments:
            start, end = seen(piece.start), seen(piece.end)
            yield (
                _trace(piece, seen(piece.centre), start, end, back)
                if isinstance(piece, Arc)
                else Line(start=start, end=end)
            )


def _trace(arc: Arc, centre: Point, start: Point, end: Point, back: bool) -> Bow:
    """Return an arch's bow. It is clockwise as framed, so that it is counter-clockwise from the back."""
    if not back:
        start, end = end, start
    return Bow(centre=centre, radius=arc.rx, start=start, end=end, large=arc.large)
