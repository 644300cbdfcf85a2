"""One piece, solved: of frame, image and border any two settle the third, and all three are checked against each other.

The walk: images and openings (`fitting`, `evening`) → the blank (`blank`) → where the block lies in it (`bordering`) →
layers, prints, stack and findings (`finishing`). Everything is exact; every cut dimension is a whole number of steps
before anything is drawn.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from matplan.job.records import Climate, MatSupply, Piece, Show
from matplan.lengths import ZERO, Printer, Sides, Size
from matplan.mats.blank import blank_of, made_strip, rule_for, strip_of
from matplan.mats.block import arranged
from matplan.mats.bordering import made_borders, measured_borders, placed_borders
from matplan.mats.even import even_borders
from matplan.mats.finishing import finished
from matplan.mats.fitting import asked_images, filling, fitted, largest_on_paper, windows_of
from matplan.mats.ready_cut import borders_of, check_border, check_plain, image_for, standard_mat
from matplan.mats.records import SolvedPiece
from matplan.mats.task import Task, Windows
from matplan.mats.weighting import least_borders
from matplan.mats.windows import Unsolvable
from matplan.sums import Sums, length

USUAL_CLIMATE: Final = Climate()
"""Where a job says nothing of its rooms."""


def solve(piece: Piece, *, printer: Printer, setback: Fraction = ZERO, climate: Climate = USUAL_CLIMATE) -> SolvedPiece:
    """Return the piece with every dimension closed.

    `printer` carries the job's step and how lengths print in findings, `setback` the cutter's own,
    `climate` the bounds that materials move between. Raises `Unsolvable`.
    """
    task = Task(piece, printer, setback, climate)
    if piece.mat_supply is MatSupply.READY_CUT:
        check_plain(piece, printer)
    images = asked_images(task)
    if piece.frame.has_size:
        return _in_a_frame(task, images)
    if images is not None and piece.border is not None:
        return _to_measure(task, images)
    have = "the image" if images is not None else "the border" if piece.border is not None else "none of them"
    raise Unsolvable("", f"of frame, image and border two settle the third; got {have} alone: add another")


def _in_a_frame(task: Task, images: tuple[Size, ...] | None) -> SolvedPiece:
    """Solve with the blank given: borders follow from the images, or images from the borders."""
    piece = task.piece
    blank, rabbet = blank_of(task, piece.frame)
    strip = strip_of(task, rabbet, blank)
    if piece.mat_supply is MatSupply.READY_CUT:
        windows, borders = _ready_cut(task, images, blank, strip)
        return finished(task, windows, borders, blank, rabbet, strip)
    if images is not None:
        windows = windows_of(task, images)
    elif piece.border is not None:
        windows = fitted(task, blank, strip)
    elif not piece.mat and not task.many:
        windows = filling(task, blank)
    else:
        raise Unsolvable("", "a frame alone settles nothing: add an image or a border")
    if piece.mat_supply is MatSupply.OWN:
        return finished(task, windows, measured_borders(task, windows, blank, strip), blank, rabbet, strip)
    windows = even_borders(task, windows, blank)
    return finished(task, windows, placed_borders(task, windows, blank, strip), blank, rabbet, strip)


def _to_measure(task: Task, images: tuple[Size, ...]) -> SolvedPiece:
    """Solve with images and borders, which make the blank, and the blank its frame."""
    frame = task.piece.frame
    windows = windows_of(task, images)
    strip = made_strip(task, frame)
    borders, blank = made_borders(task, windows, strip)
    rabbet = blank.grown(frame.clearance / 2)
    for side, made, play in (("width", rabbet.width, blank.width), ("height", rabbet.height, blank.height)):
        task.sums.told(f"rabbet {side}", made, length("blank", play) + length("clearance", frame.clearance))
    return finished(task, windows, borders, blank, rabbet, strip)


def _ready_cut(task: Task, images: Sequence[Size] | None, blank: Size, strip: Size) -> tuple[Windows, Sides]:
    """Return the window of the standard mat that suits, in the middle of the blank; the rest follows from it."""
    piece, (ask,) = task.piece, task.piece.apertures
    mat = standard_mat(piece, images[0] if images else None, blank, task.printer)
    borders = borders_of(mat, blank, task.sums)
    if images is None:
        floats = ask.show is Show.SHEET and ask.paper is not None
        images = (largest_on_paper(ask, task.sums) if floats else image_for(ask, mat, task.sums),)
    if piece.border is not None:
        check_border(
            borders, least_borders(piece.border, rule_for(task, strip), Sums()), mat, piece.frame, task.printer
        )
    block = arranged([mat.opening], piece.rows, ZERO, piece.row_align, task.step)
    return Windows(images=tuple(images), block=block, front=ZERO, standard=mat), borders
