"""Justified rows: one height in each row, every row the same width, and images that go with such openings."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from matplan.job.records import ApertureAsk, Show
from matplan.lengths import Size
from matplan.mats.block import arranged, evened, justified, justified_width, row_width
from matplan.mats.explained_windows import explain_block
from matplan.mats.sums import Count, Sums
from matplan.mats.task import NO_STRIP, NOUGHT, Task, Windows
from matplan.mats.windows import EVEN_SIDED, Unsolvable, aspect, edge, opening_size


def justified_windows(task: Task, images: Sequence[Size] | None, room: Size | None = None) -> Windows:
    """Rows of one width: that of the widest row as asked for, or the largest that the room allows."""
    piece = task.piece
    asks = piece.apertures
    fixed = [ask.name for ask in asks if ask.show is Show.SHEET and ask.paper is not None and piece.mat]
    if fixed:
        raise Unsolvable(
            "justify",
            f"{', '.join(fixed)} floats on a paper whose size is fixed, so the rows cannot be evened out; leave out `paper` "
            "(a sheet cut to the image) or `justify`",
        )
    ratios = [Fraction(1) if a.shape in EVEN_SIDED else aspect(a)[0] / aspect(a)[1] for a in asks]
    edges = [edge(a) if piece.mat else NOUGHT for a in asks]
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
            "rows of one width leave nothing of some images; use narrower borders, a larger frame or fewer windows in a row",
        )
    block = arranged(openings, piece.rows, task.gutter, piece.row_align, task.step)
    explain_block(task, openings, block)
    covering = [_covering(task, a, ratio, by, o) for a, ratio, by, o in zip(asks, ratios, edges, openings, strict=True)]
    return Windows(images=tuple(covering), block=block, front=task.front)


def _quiet_opening(task: Task, ask: ApertureAsk, image: Size) -> Size:
    return opening_size(ask, image, task.step, Sums()) if task.piece.mat else image


def _covering(task: Task, ask: ApertureAsk, ratio: Fraction, by: Fraction, opening: Size) -> Size:
    """The image of its own aspect for an opening that is given: no overlap, reveal or gap comes out less than asked
    for.
    """
    asked = opening.grown(-by)
    fits_width = asked.width / ratio >= asked.height
    if ask.show is not Show.IMAGE:
        fits_width = not fits_width
    height = asked.width / ratio if fits_width else asked.height
    sums = task.sums_of(ask)
    if fits_width:
        width = sums.add(
            "image width", asked.width, f"opening {{}} {'−' if by > 0 else '+'} 2 × edge {{}}", opening.width, abs(by)
        )
        sums.add("image height", height, "image width {} ÷ aspect {}", width, Count(ratio))
    else:
        sums.add(
            "image height", height, f"opening {{}} {'−' if by > 0 else '+'} 2 × edge {{}}", opening.height, abs(by)
        )
        width = sums.add("image width", height * ratio, "image height {} × aspect {}", height, Count(ratio))
    return Size(width, height)
