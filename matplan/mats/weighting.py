"""Borders: the least that was asked for, and how an opening lies in its blank.

The hidden strip is what the lip covers of the blank on a side. Borders that are asked for speak of what the eye sees;
what is cut is wider by the strip. With `border_at = "cut"` the strip counts as zero here and the optical construction
measures on the blank.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import assert_never

from matplan.job.records import AddedWeight, BorderAsk, BorderAt, OpticalWeight, RatioWeight, Weight
from matplan.lengths import ZERO, Sides, Size, Step
from matplan.sums import Sums, Term, down, greatest, half, least, length, ratio, up


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """How borders are counted for one piece.

    `strip` is what the lip hides (width: left and right, height: top and bottom), `inset` how far a reverse cut's face,
    to which the eye measures, lies inside the opening.
    """

    strip: Size
    inset: Fraction
    weight: Weight
    step: Step
    at: BorderAt = BorderAt.VISIBLE

    @property
    def asked(self) -> str:
        """What a border is called that was asked for: `visible` or `cut`."""
        return self.at.value

    @property
    def whole(self) -> str:
        """What the borders frame: the sight, or the blank where they are asked for as cut."""
        return "blank" if self.at is BorderAt.CUT else "sight"

    @property
    def within(self) -> str:
        """What the borders end at: the opening as seen, or as cut."""
        return "opening" if self.at is BorderAt.CUT else "seen"

    @property
    def beside(self) -> Term:
        """What a cut border on the left or right is more than the visible one."""
        return self._unseen(self.strip.width)

    @property
    def above(self) -> Term:
        """What a cut border at the top or bottom is more than the visible one."""
        return self._unseen(self.strip.height)

    def _unseen(self, strip: Fraction) -> Term:
        hidden = length("under the lip", strip)
        return hidden - length("reverse cut", self.inset) if self.inset else hidden


def optical_top(sight: Size, opening: Size, rule: Rule) -> Term:
    """Return the top border of the optical-centre construction, as it is asked for: (H − h)(W + w) / 4W."""
    high = length(f"{rule.whole} height", sight.height) - length(f"{rule.within} height", opening.height)
    wide = length(f"{rule.whole} width", sight.width)
    return high * (wide + length(f"{rule.within} width", opening.width)) / (4 * wide)


def optical_bottom(top: Fraction, sight_width: Fraction, opening_width: Fraction, rule: Rule) -> Term:
    """Return the bottom border that goes with a top in the same construction: t(3W − w) / (W + w)."""
    wide = length(f"{rule.whole} width as asked", sight_width)
    opening = length(f"{rule.within} width", opening_width)
    return length(f"{rule.asked} top", top) * (3 * wide - opening) / (wide + opening)


def least_borders(ask: BorderAsk, rule: Rule, sums: Sums, *, opening_width: Fraction | None = None) -> Sides:
    """Return the least cut borders: each border as asked for, and the strip where that is visible, up to a step.

    With an optical weight the bottom is as the top, or, where `opening_width` is given (a blank made to measure),
    follows from the construction on the sight that the visible borders make.
    """
    beside, above = rule.beside, rule.above

    def cut(side: str, asked: Term, strip: Term) -> Fraction:
        needed = asked if rule.at is BorderAt.CUT else asked + strip
        return sums.add(f"least cut border {side}", up(needed, rule.step))

    def bottom() -> Term:
        top = length(f"{rule.asked} top", ask.top)
        match rule.weight:
            case AddedWeight(extra=extra) if extra:
                return top + length("weight", extra)
            case RatioWeight(ratio=factor):
                return top * ratio("ratio", factor)
            case OpticalWeight() if opening_width is not None:
                seen = opening_width - 2 * rule.inset
                return optical_bottom(ask.top, seen + ask.left + ask.right, seen, rule)
            case _:
                return length(rule.asked, ask.top)

    return Sides(
        top=cut("top", length(rule.asked, ask.top), above),
        bottom=cut("bottom", bottom() if ask.bottom is None else length(rule.asked, ask.bottom), above),
        left=cut("left", length(rule.asked, ask.left), beside),
        right=cut("right", length(rule.asked, ask.right), beside),
    )


def placed(blank: Size, opening: Size, rule: Rule, sums: Sums, *, least: Sides | None, named: bool) -> Sides:
    """Return the cut borders of an opening in its blank.

    left + opening + right = blank and top + opening + bottom = blank. `named`: the sides were asked for one by one,
    bottom included; then what is left over goes half to each side. No side is less than its `least`, as long as the
    blank has room for both.
    """
    floor = least or Sides.all(ZERO)
    wide, high = length("blank width", blank.width), length("blank height", blank.height)
    across, upright = wide - length("opening", opening.width), high - length("opening", opening.height)
    left = sums.add("cut border left", _shared(across.value, floor.left, floor.right, rule.step))
    if named:
        top = sums.add("cut border top", _shared(upright.value, floor.top, floor.bottom, rule.step))
    else:
        top = sums.add("cut border top", down(weighted_top(blank, opening, rule), rule.step))
        if least is not None and upright.value >= least.down:
            top = _held(top, upright.value, least, sums)
    return Sides(
        top=top,
        left=left,
        right=sums.add("cut border right", across - length("left", left)),
        bottom=sums.add("cut border bottom", upright - length("top", top)),
    )


def _held(top: Fraction, room: Fraction, floor: Sides, sums: Sums) -> Fraction:
    """Return the top border kept at or above its least, and low enough for the least bottom border."""
    weighted = length("the weighted top", top)
    if top < floor.top:
        return sums.add("cut border top", greatest(weighted, length("the least top", floor.top)))
    if room - top < floor.bottom:
        most = length("blank less opening", room) - length("the least bottom", floor.bottom)
        return sums.add("cut border top", least(weighted, most))
    return top


def _shared(room: Fraction, first: Fraction, second: Fraction, step: Step) -> Term:
    """Return the first border where what is left over goes half to each side, the odd step to the second."""
    whole = length("blank less opening", room)
    if first == second:
        return down(half(whole), step)
    kept, opposite = length("least", first), length("least opposite", second)
    return kept + down(half(whole - kept - opposite), step)


def weighted_top(blank: Size, opening: Size, rule: Rule) -> Term:
    """Return the top border as the weight puts it, before any least border is minded."""
    room, unseen = length("blank less opening", blank.height - opening.height), rule.above
    match rule.weight:
        case AddedWeight(extra=extra):
            return half(room - length("weight", extra)) if extra else half(room)
        case RatioWeight(ratio=factor):
            return (room - 2 * unseen) / (1 + ratio("ratio", factor)) + unseen
        case OpticalWeight():
            sight = Size(blank.width - 2 * rule.strip.width, blank.height - 2 * rule.strip.height)
            return optical_top(sight, opening.grown(-rule.inset), rule) + unseen
        case _:
            assert_never(rule.weight)
