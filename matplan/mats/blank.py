"""The blank of a frame and the strip of it that the lip hides."""

from __future__ import annotations

from matplan.job.records import BorderAt, Frame
from matplan.lengths import Size
from matplan.mats.task import NO_STRIP, Task
from matplan.mats.weighting import Rule
from matplan.mats.windows import Unsolvable


def blank_of(task: Task, frame: Frame) -> tuple[Size, Size]:
    """Blank and rabbet of a frame with a size."""
    add, step = task.sums.add, task.step
    if frame.takes is not None:
        blank = Size(
            *(
                add(f"blank {side}", step.down(length), "the frame takes {}", length, raw=length, snap="down to a step")
                for side, length in (("width", frame.takes.width), ("height", frame.takes.height))
            )
        )
        rabbet = Size(
            *(
                add(
                    f"rabbet {side}",
                    length + frame.clearance,
                    "the frame takes {} + clearance {}",
                    length,
                    frame.clearance,
                )
                for side, length in (("width", frame.takes.width), ("height", frame.takes.height))
            )
        )
        return held(task, blank, rabbet), rabbet
    if frame.rabbet is None:
        raise Unsolvable("frame", "the frame has no size")
    rabbet = frame.rabbet
    sides = (("width", rabbet.width), ("height", rabbet.height))
    blank = Size(
        *(
            add(
                f"blank {side}",
                step.down(length - frame.clearance),
                "rabbet {} − clearance {}",
                length,
                frame.clearance,
                raw=length - frame.clearance,
                snap="down to a step",
            )
            for side, length in sides
        )
    )
    return held(task, blank, rabbet), rabbet


def held(task: Task, blank: Size, rabbet: Size) -> Size:
    if blank.width <= 0 or blank.height <= 0:
        show = task.printer.size
        raise Unsolvable(
            "frame",
            f"the rabbet of {show(rabbet)} leaves no blank after a clearance of "
            f"{task.printer.length(task.piece.frame.clearance)}; use a larger frame or less clearance",
        )
    return blank


def strip_of(task: Task, rabbet: Size, blank: Size) -> Size:
    """The hidden strip on each side: lip − (rabbet − blank) / 2."""
    lip = task.piece.frame.lip
    words = "lip {} − (rabbet {} − blank {}) ÷ 2"
    across, down = lip - (rabbet.width - blank.width) / 2, lip - (rabbet.height - blank.height) / 2
    if across == down:
        task.sums.add("under the lip", across, words, lip, rabbet.width, blank.width)
    else:
        task.sums.add("under the lip left and right", across, words, lip, rabbet.width, blank.width)
        task.sums.add("under the lip top and bottom", down, words, lip, rabbet.height, blank.height)
    return Size(across, down)


def made_strip(task: Task, frame: Frame) -> Size:
    """The strip of a frame made to measure: lip − clearance / 2."""
    strip = frame.lip - frame.clearance / 2
    task.sums.add("under the lip", strip, "lip {} − clearance {} ÷ 2", frame.lip, frame.clearance)
    return Size(strip, strip)


def rule_for(task: Task, strip: Size) -> Rule:
    counted = NO_STRIP if task.piece.border_at is BorderAt.CUT else strip
    return Rule(strip=counted, weight=task.piece.weight, step=task.step)
