"""The sums of the block of windows and of the images that fill a frame."""

from __future__ import annotations

from collections.abc import Sequence

from matplan.job.records import ApertureAsk, Show
from matplan.lengths import Size
from matplan.mats.block import Block, row_width
from matplan.mats.task import Task
from matplan.mats.windows import aspect, without_edge
from matplan.sums import Term, length, total


def explain_block(task: Task, openings: Sequence[Size], block: Block) -> None:
    """Record how the block's width and height come about: the widest row, and the rows with their gutters."""
    widest = max(task.piece.rows, key=lambda row: row_width(openings, row, task.gutter))
    task.sums.told(
        "block width",
        block.size.width,
        _with_gutters(task, [length("opening", openings[place].width) for place in widest]),
    )
    heights = [max(openings[place].height for place in row) for row in task.piece.rows]
    task.sums.told(
        "block height", block.size.height, _with_gutters(task, [length("row", height) for height in heights])
    )


def explain_rows(task: Task, openings: Sequence[Size]) -> None:
    """Record how the openings of justified rows come about: one height, and what the others leave of the width."""
    for row in task.piece.rows:
        whole = length("row", row_width(openings, row, task.gutter))
        gutters = (len(row) - 1) * length("gutter", task.gutter)
        for place in row:
            sums = task.sums_of(task.piece.apertures[place])
            others = [length("opening", openings[other].width) for other in row if other != place]
            rest = whole - total(*others) - gutters if others else whole
            sums.told("opening width", openings[place].width, rest)
            sums.told(
                "opening height", openings[place].height, length("the one height of its row", openings[place].height)
            )


def _with_gutters(task: Task, parts: Sequence[Term]) -> Term:
    whole, gutters = total(*parts), len(parts) - 1
    return whole + gutters * length("gutter", task.gutter) if gutters else whole


def explain_factor(task: Task, room: Size, images: Sequence[Size]) -> None:
    """Record how the images come about that fill the room: all by one factor, a single one by the side that fills."""
    for ask, image in zip(task.piece.apertures, images, strict=True):
        fixed = ask.show is Show.SHEET and ask.paper is not None
        if task.many and (ask.text is not None or fixed):  # a caption or a sheet is not scaled
            continue
        if task.many:
            task.sums_of(ask).told("image height", image.height, length("one height for all", image.height))
            _explain_width(task, ask, image)
            continue
        wide, high = (_shown(task, ask, length("room", side)) for side in (room.width, room.height))
        if image.width == wide.value:
            across, upright = aspect(ask)
            task.sums.told("image width", image.width, wide)
            task.sums.told("image height", image.height, length("image width", image.width) * upright / across)
        else:
            task.sums.told("image height", image.height, high)
            _explain_width(task, ask, image)


def _shown(task: Task, ask: ApertureAsk, room: Term) -> Term:
    return without_edge(ask, room, task.inset) if task.piece.mat else room


def _explain_width(task: Task, ask: ApertureAsk, image: Size) -> None:
    across, upright = aspect(ask)
    task.sums_of(ask).told("image width", image.width, length("image height", image.height) * across / upright)
