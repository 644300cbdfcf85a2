"""One rectangular window in one frame, exactly: the engine's rules for the plainest piece, without entering the engine.

A single image behind a mat of one board, the same border all round: blank, strip under the lip, least borders, the
largest image and where its opening lies, all as `matplan.mats.solve` has them; a law in the tests compares the two.
Boxes are not needed here, sizes and sides are.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import assert_never

from matplan.fit.records import Question, Rim
from matplan.lengths import Sides, Size, Step


@dataclass(frozen=True, slots=True, kw_only=True)
class Bed:
    """A frame, one way up: its blank, the strip that the lip hides on each side, the least cut borders and the room
    between them.
    """

    rim: Rim
    turned: bool
    blank: Size
    strip: Size
    border: Fraction
    least: Sides
    room: Size

    @property
    def sight(self) -> Size:
        """What is seen of the blank."""
        return Size(self.blank.width - 2 * self.strip.width, self.blank.height - 2 * self.strip.height)


def blank_and_strip(rim: Rim, step: Step) -> tuple[Size, Size]:
    """Return the frame's blank and the strip under its lip on each side: lip − (rabbet − blank) / 2; as the frame is
    named, not turned.
    """
    if rim.takes is not None:
        blank, rabbet = rim.takes.each(step.down), rim.takes.grown(rim.clearance / 2)
    elif rim.rabbet is not None:
        blank, rabbet = rim.rabbet.grown(-rim.clearance / 2).each(step.down), rim.rabbet
    else:
        raise ValueError(f"{rim.name!r} is a moulding without a size")
    return blank, Size(rim.lip - (rabbet.width - blank.width) / 2, rim.lip - (rabbet.height - blank.height) / 2)


def bed_of(rim: Rim, blank: Size, strip: Size, border: Fraction, question: Question, *, turned: bool) -> Bed:
    """Return the frame with the least visible borders; blank and strip are turned where it is. The room may be 0 or
    less.
    """
    step = question.printer.step
    side, top = step.up(border + strip.width), step.up(border + strip.height)
    least = Sides(top=top, right=side, bottom=step.up(_bottom(border, question) + strip.height), left=side)
    room = Size(blank.width - least.across, blank.height - least.down)
    return Bed(rim=rim, turned=turned, blank=blank, strip=strip, border=border, least=least, room=room)


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


def borders_of(bed: Bed, opening: Size, question: Question) -> Sides | None:
    """Return the cut borders of the opening, or `None` where it does not fit, or leaves less than the least borders."""
    across, down = bed.blank.width - opening.width, bed.blank.height - opening.height
    if across < bed.least.across or down < bed.least.down or min(opening.width, opening.height) <= 0:
        return None
    step = question.printer.step
    left = step.down(across / 2)
    top = min(max(step.down(_top(bed, opening, down, question)), bed.least.top), down - bed.least.bottom)
    return _shown(Sides(top=top, right=across - left, bottom=down - top, left=left), bed)


def _top(bed: Bed, opening: Size, down: Fraction, question: Question) -> Fraction:
    """Return the top border as the weight puts it, before it is snapped."""
    if question.weight is None:
        return down / 2
    from matplan.job.records import AddedWeight, OpticalWeight, RatioWeight

    strip = bed.strip.height
    match question.weight:
        case AddedWeight(extra=extra):
            return (down - extra) / 2
        case RatioWeight(ratio=ratio):
            return (down - 2 * strip) / (1 + ratio) + strip
        case OpticalWeight():
            sight = bed.sight
            return (sight.height - opening.height) * (sight.width + opening.width) / (4 * sight.width) + strip
        case _ as never:
            assert_never(never)


def centred(bed: Bed, opening: Size) -> Sides | None:
    """Return the cut borders of a ready-cut mat's opening, or `None` where it leaves less than the least borders."""
    across, down = (bed.blank.width - opening.width) / 2, (bed.blank.height - opening.height) / 2
    cut = Sides(top=down, right=across, bottom=down, left=across)
    short = across < bed.least.left or down < bed.least.top or down < bed.least.bottom
    return None if short else _shown(cut, bed)


def _shown(cut: Sides, bed: Bed) -> Sides | None:
    """Return the borders, or `None` where the opening reaches under the lip or past the blank."""
    hidden = Size(max(bed.strip.width, Fraction(0)), max(bed.strip.height, Fraction(0)))
    whole = min(cut.left, cut.right) >= hidden.width and min(cut.top, cut.bottom) >= hidden.height
    return cut if whole else None


def seen(cut: Sides, bed: Bed) -> Sides:
    """Return what is seen of the cut borders."""
    across, down = bed.strip.width, bed.strip.height
    return Sides(top=cut.top - down, right=cut.right - across, bottom=cut.bottom - down, left=cut.left - across)
