"""The blank of a frame and the strip of it that the lip hides."""

from __future__ import annotations

from matplan.job.records import BorderAt, Frame
from matplan.lengths import ZERO, Size
from matplan.mats.task import NO_STRIP, Task
from matplan.mats.weighting import Rule
from matplan.mats.windows import Unsolvable
from matplan.sums import down, half, length


def blank_of(task: Task, frame: Frame) -> tuple[Size, Size]:
    """Return the blank and the rabbet of a frame with a size. Raises `Unsolvable` where no blank is left."""
    add, step, play = task.sums.add, task.step, length("clearance", frame.clearance)
    if frame.takes is not None:
        takes = {"width": frame.takes.width, "height": frame.takes.height}
        sold = {side: length("the frame takes", whole) for side, whole in takes.items()}
        blank = Size(*(add(f"blank {side}", down(whole, step)) for side, whole in sold.items()))
        rabbet = Size(*(add(f"rabbet {side}", whole + play) for side, whole in sold.items()))
    elif frame.rabbet is not None:
        rabbet = frame.rabbet
        sides = {"width": rabbet.width, "height": rabbet.height}
        blank = Size(*(add(f"blank {s}", down(length("rabbet", whole) - play, step)) for s, whole in sides.items()))
    else:
        raise Unsolvable("frame", "the frame has no size")
    if blank.width <= 0 or blank.height <= 0:
        raise Unsolvable(
            "frame",
            f"the rabbet of {task.printer.size(rabbet)} leaves no blank after a clearance of "
            f"{task.printer.length(frame.clearance)}; use a larger frame or less clearance",
        )
    return blank, rabbet


def strip_of(task: Task, rabbet: Size, blank: Size) -> Size:
    """Return the hidden strip on each side: lip − (rabbet − blank) / 2."""
    lip = length("lip", task.piece.frame.lip)
    across = lip - half(length("rabbet", rabbet.width) - length("blank", blank.width))
    upright = lip - half(length("rabbet", rabbet.height) - length("blank", blank.height))
    if across.value == upright.value:
        strip = task.sums.add("under the lip", across)
        return Size(strip, strip)
    return Size(
        task.sums.add("under the lip left and right", across), task.sums.add("under the lip top and bottom", upright)
    )


def made_strip(task: Task, frame: Frame) -> Size:
    """Return the strip of a frame made to measure: lip − clearance / 2."""
    strip = task.sums.add("under the lip", length("lip", frame.lip) - half(length("clearance", frame.clearance)))
    return Size(strip, strip)


def rule_for(task: Task, strip: Size) -> Rule:
    """Return how the piece's borders are counted: from the blank to the cut where they are asked for as cut."""
    if task.piece.border_at is BorderAt.CUT:
        return Rule(strip=NO_STRIP, inset=ZERO, weight=task.piece.weight, step=task.step, at=BorderAt.CUT)
    return Rule(strip=strip, inset=task.border_inset, weight=task.piece.weight, step=task.step)
