"""The cut borders of the block: in a blank that is given, or making the blank."""

from __future__ import annotations

from dataclasses import replace

from matplan.lengths import Sides, Size
from matplan.mats.blank import rule_for
from matplan.mats.task import Task, Windows
from matplan.mats.weighting import least_borders, placed
from matplan.mats.windows import Unsolvable
from matplan.sums import Sums, length, total, up


def placed_borders(task: Task, windows: Windows, blank: Size, strip: Size) -> Sides:
    """Return the cut borders of the block in a blank that is given.

    Raises `Unsolvable` where they are narrower than asked for.
    """
    rule, border = rule_for(task, strip), task.piece.border
    opening = windows.bordered
    least = None
    if border is not None:
        least = least_borders(border, rule, Sums())
        short = [
            f"{name} by {task.printer.length(missing)}"
            for name, missing in (
                ("width", opening.width + least.across - blank.width),
                ("height", opening.height + least.down - blank.height),
            )
            if missing > 0
        ]
        if short:
            raise Unsolvable(
                "border",
                "frame, image and border do not go together: opening and borders exceed the blank of "
                f"{task.printer.size(blank)} in {' and in '.join(short)}; leave one of the three out, or make the image "
                "or the borders smaller",
            )
    return placed(blank, opening, rule, task.sums, least=least, named=border is not None and border.bottom is not None)


def made_borders(task: Task, windows: Windows, strip: Size) -> tuple[Sides, Size]:
    """Return the borders and the blank of a frame made to measure."""
    border = task.piece.border
    if border is None:
        raise Unsolvable("border", "no border is asked for")
    opening = windows.bordered
    least = least_borders(border, rule_for(task, strip), task.sums, opening_width=opening.width)
    across = total(length("left", least.left), length("opening", opening.width), length("right", least.right))
    upright = total(length("top", least.top), length("opening", opening.height), length("bottom", least.bottom))
    blank = Size(
        task.sums.add("blank width", up(across, task.step)), task.sums.add("blank height", up(upright, task.step))
    )
    borders = replace(
        least, right=blank.width - opening.width - least.left, bottom=blank.height - opening.height - least.top
    )
    return borders, blank
