"""Justified rows: one height in each row, every row the same width, and images that go with such openings."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from matplan.job.records import ApertureAsk, Show
from matplan.lengths import Size
from matplan.mats.block import arranged, evened, justified, justified_width, row_width
from matplan.mats.explained_windows import explain_block, explain_rows
from matplan.mats.levelling import Kept, Unlevel, levelled
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
        openings = []
        width = task.step.down(justified_width(ratios, edges, piece.rows, task.gutter, room or NO_STRIP))
    if openings and any(map(is_print, asks)):
        openings = _around_prints(task, openings, width)
    else:
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
    explain_rows(task, openings)
    explain_block(task, openings, block)
    shown = [
        images[place] if images and is_print(ask) else _covering(task, ask, opening)
        for place, (ask, opening) in enumerate(zip(asks, openings, strict=True))
    ]
    return Windows(images=tuple(shown), block=block, front=task.front)


def is_print(ask: ApertureAsk) -> bool:
    """Return whether the image is a print as it is: both its sides are given. A caption is printed for its window."""
    image = ask.image
    return image is not None and image.width is not None and image.height is not None and ask.text is None


def _around_prints(task: Task, openings: Sequence[Size], width: Fraction) -> list[Size]:
    """Return openings in rows of one width that show no more of a print than its own opening would.

    A print that the mat covers may be covered more; one that is shown whole may get more room.
    """
    asks = task.piece.apertures

    def kept(ask: ApertureAsk, own: Size) -> Kept:
        even = ask.shape in EVEN_SIDED
        if not is_print(ask):
            return Kept(own=own, even=even)
        return Kept(own=own, most=own, even=even) if ask.show is Show.IMAGE else Kept(own=own, least=own, even=even)

    bounds = [kept(ask, own) for ask, own in zip(asks, openings, strict=True)]
    try:
        return levelled(bounds, task.piece.rows, task.gutter, task.step, width)
    except Unlevel:
        whole = ", ".join(ask.name for ask in asks if is_print(ask) and ask.show is not Show.IMAGE)
        raise Unsolvable(
            "justify",
            f"no rows of one width and no one height of a row show {whole} whole and no more of the other prints than "
            "there is; leave out justify, or give those images one side only, so that they can follow",
        ) from None


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
