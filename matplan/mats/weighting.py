"""Borders: the least that was asked for, and how an opening lies in its blank.

`s`, the hidden strip, is what the lip covers of the blank on a side. Borders that are asked for speak of what the eye
sees; what is cut is wider by `s`. With `border_at = "cut"` the strip counts as nought here and the optical construction
measures on the blank.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from matplan.job.records import AddedWeight, BorderAsk, OpticalWeight, RatioWeight, Weight
from matplan.lengths import Sides, Size, Step
from matplan.mats.sums import Count, Sums

NOUGHT = Fraction(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """How borders are counted for one piece: the strip (width: left and right, height: top and bottom), the weight and
    the step.
    """

    strip: Size
    weight: Weight
    step: Step


def optical_top(sight: Size, opening: Size) -> Fraction:
    """The visible top border of the optical-centre construction: (H − h)(W + w) / 4W."""
    return (sight.height - opening.height) * (sight.width + opening.width) / (4 * sight.width)


def optical_bottom(top: Fraction, sight_width: Fraction, opening_width: Fraction) -> Fraction:
    """The visible bottom border that goes with a visible top in the same construction: t(3W − w) / (W + w)."""
    return top * (3 * sight_width - opening_width) / (sight_width + opening_width)


def least_borders(ask: BorderAsk, rule: Rule, sums: Sums, *, opening_width: Fraction | None = None) -> Sides:
    """The least cut borders: each visible border and the strip, up to a step.

    With an optical weight the bottom is as the top, or, where `opening_width` is given (a blank made to measure),
    follows from the construction on the sight that the visible borders make.
    """
    up = rule.step.up
    sx, sy = rule.strip.width, rule.strip.height

    def least(side: str, visible: Fraction, strip: Fraction) -> Fraction:
        raw = visible + strip
        return sums.add(
            f"least cut border {side}",
            up(raw),
            "visible {} + under the lip {}",
            visible,
            strip,
            raw=raw,
            snap="up to a step",
        )

    top = least("top", ask.top, sy)
    match ask.bottom, rule.weight:
        case Fraction() as named, _:
            bottom = least("bottom", named, sy)
        case _, AddedWeight(extra=extra) if not extra:
            bottom = least("bottom", ask.top, sy)
        case _, AddedWeight(extra=extra):
            raw = ask.top + extra + sy
            words = "visible top {} + weight {} + under the lip {}"
            bottom = sums.add(
                "least cut border bottom", up(raw), words, ask.top, extra, sy, raw=raw, snap="up to a step"
            )
        case _, RatioWeight(ratio=ratio):
            raw = ask.top * ratio + sy
            words = "visible top {} × ratio {} + under the lip {}"
            bottom = sums.add(
                "least cut border bottom", up(raw), words, ask.top, Count(ratio), sy, raw=raw, snap="up to a step"
            )
        case _, OpticalWeight():
            if opening_width is None:
                bottom = least("bottom", ask.top, sy)
            else:
                sight_width = opening_width + ask.left + ask.right
                raw = optical_bottom(ask.top, sight_width, opening_width) + sy
                bottom = sums.add(
                    "least cut border bottom",
                    up(raw),
                    "visible top {} × (3 × sight width {} − opening width {}) ÷ (sight width {} + opening width {}) + under the lip {}",
                    *(ask.top, sight_width, opening_width, sight_width, opening_width, sy),
                    raw=raw,
                    snap="up to a step",
                )
    return Sides(top=top, bottom=bottom, left=least("left", ask.left, sx), right=least("right", ask.right, sx))


def placed(blank: Size, opening: Size, rule: Rule, sums: Sums, *, least: Sides | None, named: bool) -> Sides:
    """The cut borders of an opening in its blank; left + opening + right = blank, top + opening + bottom = blank.

    `named`: the sides were asked for one by one, bottom included; then what is left over goes half to each side. No
    side is less than its `least`, as long as the blank has room for both.
    """
    floor = least or Sides.all(NOUGHT)
    across, down = blank.width - opening.width, blank.height - opening.height
    left = _shared("left", across, floor.left, floor.right, rule.step, sums)
    top = (
        _shared("top", down, floor.top, floor.bottom, rule.step, sums)
        if named
        else _weighted_top(blank, opening, rule, sums)
    )
    if not named and least is not None and down >= least.down:
        held = min(max(top, least.top), down - least.bottom)
        if held != top:
            top = sums.add("cut border top", held, "the least that was asked for {}", held)
    return Sides(
        top=top,
        left=left,
        right=sums.add(
            "cut border right", across - left, "blank width {} − opening {} − left {}", blank.width, opening.width, left
        ),
        bottom=sums.add(
            "cut border bottom", down - top, "blank height {} − opening {} − top {}", blank.height, opening.height, top
        ),
    )


def _shared(side: str, room: Fraction, first: Fraction, second: Fraction, step: Step, sums: Sums) -> Fraction:
    """The first border where what is left over goes half to each side, the odd step to the second."""
    what = f"cut border {side}"
    if first == second:
        return sums.add(
            what, step.down(room / 2), "blank less opening {} ÷ 2", room, raw=room / 2, snap="down to a step"
        )
    raw = first + (room - first - second) / 2
    words = "least {} + (blank less opening {} − least {} − least {}) ÷ 2"
    return sums.add(
        what, first + step.down(raw - first), words, first, room, first, second, raw=raw, snap="down to a step"
    )


def _weighted_top(blank: Size, opening: Size, rule: Rule, sums: Sums) -> Fraction:
    """The top border as the weight puts it, before any least border is minded."""
    room, strip = blank.height - opening.height, rule.strip.height
    match rule.weight:
        case AddedWeight(extra=extra):
            raw = (room - extra) / 2
            words, terms = (
                ("(blank less opening {} − weight {}) ÷ 2", (room, extra))
                if extra
                else ("blank less opening {} ÷ 2", (room,))
            )
            return sums.add("cut border top", rule.step.down(raw), words, *terms, raw=raw, snap="down to a step")
        case RatioWeight(ratio=ratio):
            raw = (room - 2 * strip) / (1 + ratio) + strip
            words = "(blank less opening {} − 2 × under the lip {}) ÷ (1 + ratio {}) + under the lip {}"
            return sums.add(
                "cut border top",
                rule.step.down(raw),
                words,
                room,
                strip,
                Count(ratio),
                strip,
                raw=raw,
                snap="down to a step",
            )
        case OpticalWeight():
            sight = Size(blank.width - 2 * rule.strip.width, blank.height - 2 * strip)
            raw = optical_top(sight, opening) + strip
            words = "(sight height {} − opening height {}) × (sight width {} + opening width {}) ÷ (4 × sight width {}) + under the lip {}"
            return sums.add(
                "cut border top",
                rule.step.down(raw),
                words,
                *(sight.height, opening.height, sight.width, opening.width, sight.width, strip),
                raw=raw,
                snap="down to a step",
            )
