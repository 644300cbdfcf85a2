"""The cut borders of the block: in a blank that is given, or making the blank."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from matplan.job.records.sides import FourSides
from matplan.lengths import Sides, Size
from matplan.mats.blank import rule_for
from matplan.mats.task import Task, Windows
from matplan.mats.weighting import least_borders, placed, weighted_top
from matplan.mats.windows import Unsolvable
from matplan.sums import Sums, Term, half, length, total, up


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
                f"{task.printer.size(blank)} in {' and in '.join(short)}; leave one of the three out, or make the "
                "image or the borders smaller",
            )
    return placed(blank, opening, rule, task.sums, least=least, named=border is not None and border.bottom is not None)


def measured_borders(task: Task, windows: Windows, blank: Size, strip: Size) -> Sides:
    """Return the cut borders of a mat that is there already: as measured, the other side what the opening leaves.

    Where neither side is measured the opening lies in the middle, or as it is weighted. Raises `Unsolvable` where both
    are and do not make the blank.
    """
    rule, asked = rule_for(task, strip), task.piece.measured or FourSides()
    opening = windows.bordered
    left, right = _measured(
        task, ("left", asked.left), ("right", asked.right), (blank.width, opening.width), (rule.beside, None)
    )
    middle = weighted_top(blank, opening, rule)
    top, bottom = _measured(
        task, ("top", asked.top), ("bottom", asked.bottom), (blank.height, opening.height), (rule.above, middle)
    )
    return Sides(left=left, right=right, top=top, bottom=bottom)


def _measured(
    task: Task,
    first: tuple[str, Fraction | None],
    second: tuple[str, Fraction | None],
    lengths: tuple[Fraction, Fraction],
    rule: tuple[Term, Term | None],
) -> tuple[Fraction, Fraction]:
    """Return the two cut borders of one axis: the first side, and the second what it leaves."""
    (side, asked), (opposite, other), (whole, opening), (unseen, middle) = first, second, lengths, rule
    room = length("blank", whole) - length("opening", opening)
    if asked is not None:
        border = task.sums.add(f"cut border {side}", length("measured", asked) + unseen)
    elif other is not None:
        border = task.sums.add(f"cut border {side}", room - (length("measured", other) + unseen))
    else:
        border = task.sums.add(f"cut border {side}", middle or half(room))
    rest = task.sums.add(f"cut border {opposite}", room - length(side, border))
    if asked is not None and other is not None and abs(rest - unseen.value - other) >= task.step.size:
        shown = task.printer.length
        raise Unsolvable(
            f"border.{opposite}",
            f"the borders measured {side} and {opposite} and the opening do not make the blank of {shown(whole)}: "
            f"{opposite} {shown(rest - unseen.value)} would be right, got {shown(other)}; measure again, or leave one "
            "out",
        )
    return border, rest


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
