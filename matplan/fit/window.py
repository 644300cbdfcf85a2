"""One rectangular window in one frame, exactly: the engine's rules for the plainest piece, without entering the engine.

A single image behind a mat of one board, the same border all round: blank, strip under the lip, least borders, the
largest image and where its opening lies, all as `matplan.mats.solve` has them; a law in the tests compares the two.
Boxes are not needed here, sizes and sides are.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import assert_never

from matplan.fit.records import FrameChoice, Question
from matplan.lengths import Sides, Size, Step


@dataclass(frozen=True, slots=True, kw_only=True)
class Blank:
    """The blank of a frame, one way up: its size, the strip that the lip hides on each side, the least cut borders and
    the room between them.
    """

    frame: FrameChoice
    turned: bool
    size: Size
    strip: Size
    border: Fraction
    least: Sides
    room: Size

    @property
    def sight(self) -> Size:
        """What is seen of the blank."""
        return Size(self.size.width - 2 * self.strip.width, self.size.height - 2 * self.strip.height)


def blank_and_strip(frame: FrameChoice, step: Step) -> tuple[Size, Size]:
    """Return the frame's blank and the strip under its lip on each side: lip − (rabbet − blank) / 2; as the frame is
    named, not turned.
    """
    if frame.takes is not None:
        blank, rabbet = frame.takes.each(step.down), frame.takes.grown(frame.clearance / 2)
    elif frame.rabbet is not None:
        blank, rabbet = frame.rabbet.grown(-frame.clearance / 2).each(step.down), frame.rabbet
    else:
        raise ValueError(f"{frame.name!r} is a moulding without a size")
    return blank, Size(frame.lip - (rabbet.width - blank.width) / 2, frame.lip - (rabbet.height - blank.height) / 2)


def blank_of(
    frame: FrameChoice, size: Size, strip: Size, border: Fraction, question: Question, *, turned: bool
) -> Blank:
    """Return the frame with the least visible borders; blank and strip are turned where it is. The room may be 0 or
    less.
    """
    step = question.printer.step
    side, top = step.up(border + strip.width), step.up(border + strip.height)
    least = Sides(top=top, right=side, bottom=step.up(_bottom(border, question) + strip.height), left=side)
    room = Size(size.width - least.across, size.height - least.down)
    return Blank(frame=frame, turned=turned, size=size, strip=strip, border=border, least=least, room=room)


def _bottom(top: Fraction, question: Question) -> Fraction:
    """Return the least visible bottom border that goes with the top one."""
    if question.weight is None:
        return top
    from matplan.job.records import AddedWeight, OpticalWeight, RatioWeight

    match question.weight:
        case AddedWeight(extra=extra):
            return top + extra
        case RatioWeight(ratio=ratio):
            return top * ratio
        case OpticalWeight():
            return top
        case _ as never:
            assert_never(never)


def opening_of(work: Size, question: Question) -> Size:
    """Return the clear opening for an image, or for the sheet that floats, in whole steps."""
    snap = question.printer.step.up if question.show == "sheet" else question.printer.step.down
    return work.grown(question.edge).each(snap)


def borders_of(blank: Blank, opening: Size, question: Question) -> Sides | None:
    """Return the cut borders of the opening, or `None` where it does not fit, or leaves less than the least borders."""
    across, down = blank.size.width - opening.width, blank.size.height - opening.height
    if across < blank.least.across or down < blank.least.down or min(opening.width, opening.height) <= 0:
        return None
    step = question.printer.step
    left = step.down(across / 2)
    top = min(max(step.down(_top(blank, opening, down, question)), blank.least.top), down - blank.least.bottom)
    return _shown(Sides(top=top, right=across - left, bottom=down - top, left=left), blank)


def _top(blank: Blank, opening: Size, down: Fraction, question: Question) -> Fraction:
    """Return the top border as the weight puts it, before it is snapped."""
    if question.weight is None:
        return down / 2
    from matplan.job.records import AddedWeight, OpticalWeight, RatioWeight

    strip = blank.strip.height
    match question.weight:
        case AddedWeight(extra=extra):
            return (down - extra) / 2
        case RatioWeight(ratio=ratio):
            return (down - 2 * strip) / (1 + ratio) + strip
        case OpticalWeight():
            sight = blank.sight
            return (sight.height - opening.height) * (sight.width + opening.width) / (4 * sight.width) + strip
        case _ as never:
            assert_never(never)


def centred(blank: Blank, opening: Size) -> Sides | None:
    """Return the cut borders of a ready-cut mat's opening, or `None` where it leaves less than the least borders."""
    across, down = (blank.size.width - opening.width) / 2, (blank.size.height - opening.height) / 2
    cut = Sides(top=down, right=across, bottom=down, left=across)
    short = across < blank.least.left or down < blank.least.top or down < blank.least.bottom
    return None if short else _shown(cut, blank)


def _shown(cut: Sides, blank: Blank) -> Sides | None:
    """Return the borders, or `None` where the opening reaches under the lip or past the blank."""
    hidden = Size(max(blank.strip.width, Fraction(0)), max(blank.strip.height, Fraction(0)))
    whole = min(cut.left, cut.right) >= hidden.width and min(cut.top, cut.bottom) >= hidden.height
    return cut if whole else None


def seen(cut: Sides, blank: Blank) -> Sides:
    """Return what is seen of the cut borders."""
    across, down = blank.strip.width, blank.strip.height
    return Sides(top=cut.top - down, right=cut.right - across, bottom=cut.bottom - down, left=cut.left - across)
