"""Justified rows: one height in each row, every row the same width, and images that go with such openings."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from matplan.job.records import ApertureAsk, Show
from matplan.lengths import Size
from matplan.mats.block import arranged, evened, justified, justified_width, row_width
from matplan.mats.explained_windows import explain_block
from matplan.mats.task import NO_STRIP, Task, Windows
from matplan.mats.windows import EVEN_SIDED, Unsolvable, aspect, opening_size, without_edge
from matplan.sums import Sums, length


def justified_windows(task: Task, images: Sequence[Size] | None, room: Size | None = None) -> Windows:
    """Return rows of one width: the width of the widest row as asked for, or the largest that the room allows."""
    piece = task.piece
    asks = piece.apertures
    fixed = [ask.name for ask in asks if ask.show is Show.SHEET and ask.paper is not None and piece.mat]
    if fixed:
        raise Unsolvable(
            "justify",
            f"{', '.join(fixed)} floats on a paper whose size is fixed, so the rows cannot be evened out; leave out "
            "`paper` (a sheet cut to the image) or `justify`",
        )
    ratios = [Fraction(1) if a.shape in EVEN_SIDED else aspect(a)[0] / aspect(a)[1] for a in asks]
    edges = [task.edge(ask) for ask in asks]
    if images is not None:
        openings = [_quiet_opening(task, ask, image) for ask, image in zip(asks, images, strict=True)]
        width = max(row_width(openings, row, task.gutter) for row in piece.rows)
    else:
        width = task.step.down(justified_width(ratios, edges, piece.rows, task.gutter, room or NO_STRIP))
    openings = justified(ratios, edges, piece.rows, task.gutter, task.step, width)
    openings = evened(openings, piece.rows, [ask.shape in EVEN_SIDED for ask in asks])
    if any(
        min(o.width, o.height, o.width - 2 * by, o.height - 2 * by) <= 0 for o, by in zip(openings, edges, strict=True)
    ):
        raise Unsolvable(
            "justify",
            "rows of one width leave nothing of some images; use narrower borders, a larger frame or fewer windows in "
            "a row",
        )
    block = arranged(openings, piece.rows, task.gutter, piece.row_align, task.step)
    explain_block(task, openings, block)
    covering = [_covering(task, ask, opening) for ask, opening in zip(asks, openings, strict=True)]
    return Windows(images=tuple(covering), block=block, front=task.front)


def _quiet_opening(task: Task, ask: ApertureAsk, image: Size) -> Size:
    return opening_size(ask, image, task.step, Sums(), task.inset) if task.piece.mat else image


def _covering(task: Task, ask: ApertureAsk, opening: Size) -> Size:
    """Return the image of its own aspect for an opening that is given.

    No overlap, reveal or gap comes out less than asked for.
    """
    across, upright = (Fraction(1), Fraction(1)) if ask.shape in EVEN_SIDED else aspect(ask)
    wide, high = length("opening", opening.width), length("opening", opening.height)
    asked = (
        (without_edge(ask, wide, task.inset), without_edge(ask, high, task.inset)) if task.piece.mat else (wide, high)
    )
    fits_width = asked[0].value * upright >= asked[1].value * across
    if ask.show is not Show.IMAGE:
        fits_width = not fits_width
    sums = task.sums_of(ask)
    if fits_width:
        width = sums.add("image width", asked[0])
        return Size(width, sums.add("image height", length("image width", width) * upright / across))
    height = sums.add("image height", asked[1])
    return Size(sums.add("image width", length("image height", height) * across / upright), height)
