"""Why the block of windows and the images that fill a frame have their sizes: sums for `explain`."""

from __future__ import annotations

from collections.abc import Sequence

from matplan.job.records import Show
from matplan.lengths import Size
from matplan.mats.block import Block, row_width
from matplan.mats.sums import Count
from matplan.mats.task import NOUGHT, Task
from matplan.mats.windows import aspect, edge


def explain_block(task: Task, openings: Sequence[Size], block: Block) -> None:
    widest = max(task.piece.rows, key=lambda row: row_width(openings, row, task.gutter))
    gutters = len(widest) - 1
    words = " + ".join(["opening {}"] * len(widest)) + (f" + {gutters} × gutter {{}}" if gutters else "")
    terms = [openings[i].width for i in widest] + ([task.gutter] if gutters else [])
    task.sums.add("block width", block.size.width, words, *terms)
    rows = len(task.piece.rows)
    words = " + ".join(["row {}"] * rows) + (f" + {rows - 1} × gutter {{}}" if rows > 1 else "")
    heights = [max(openings[i].height for i in row) for row in task.piece.rows]
    task.sums.add("block height", block.size.height, words, *heights, *([task.gutter] if rows > 1 else []))


def explain_factor(task: Task, room: Size, images: Sequence[Size]) -> None:
    for ask, image in zip(task.piece.apertures, images, strict=True):
        sums = task.sums_of(ask)
        if task.many:
            across, down = aspect(ask)
            sums.add("image height", image.height, "the one factor for all {}", image.height)
            sums.add("image width", image.width, "image height {} × aspect {}", image.height, Count(across / down))
            continue
        by = edge(ask) if task.piece.mat else NOUGHT
        word = {Show.IMAGE: "+ 2 × overlap {}", Show.MARGIN: "− 2 × reveal {}", Show.SHEET: "− 2 × gap {}"}[ask.show]
        across, down = aspect(ask)
        if image.width == room.width - 2 * by:
            sums.add("image width", image.width, f"room {{}} {word}", room.width, abs(by))
            sums.add("image height", image.height, "image width {} ÷ aspect {}", image.width, Count(across / down))
        else:
            sums.add("image height", image.height, f"room {{}} {word}", room.height, abs(by), raw=image.height)
            sums.add("image width", image.width, "image height {} × aspect {}", image.height, Count(across / down))
