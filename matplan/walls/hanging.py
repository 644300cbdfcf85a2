"""Hooks and wires: heights, angles and loads."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import Final, assert_never

from matplan.habits import habits_of
from matplan.job.records import ByCleat, BySawtooth, ByTwoHooks, ByWire, Hang
from matplan.lengths import Units
from matplan.walls.records import Hook, Problem, Spot, ToHang, Wire

KNOTS: Final = (12, 300)
"""Inches, millimetres: wire for the two knots (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried:
    """The hooks of one frame from left to right, and its wire where it hangs on one."""

    hooks: tuple[Hook, ...]
    wire: Wire | None = None


def hook_height(centre: Fraction, height: Fraction, drop: Fraction) -> Fraction:
    """Return how high above the floor the hook sits: centre + half the frame's height − drop.

    `drop` is from the frame's top down to the tightened wire or the hanger.
    """
    return centre + height / 2 - drop


def anchor_depth(hang: ByWire, frame: ToHang) -> Fraction:
    """Return how far below the frame's top the wire is anchored."""
    return hang.anchors * frame.size.height


def drop_of(hang: Hang, frame: ToHang) -> Fraction:
    """Return how far the hook is below the frame's top."""
    match hang:
        case ByWire():
            return anchor_depth(hang, frame) / 2 if hang.drop is None else hang.drop
        case ByTwoHooks() | BySawtooth() | ByCleat():
            return hang.down
        case _:
            assert_never(hang)


def wire_to_cut(wire: Wire, units: Units) -> Fraction:
    """Return the tightened wire and its two knots, up to a whole centimetre or half inch."""
    habits = habits_of(units)
    return ceil((Fraction(wire.taut) + habits.figure(*KNOTS)) / habits.wire_step) * habits.wire_step


def cleat_width(hang: ByCleat, frame: ToHang) -> Fraction:
    """Return the cleat's length: as asked, or what lies between the side rails."""
    return frame.size.width - 2 * frame.rail if hang.width is None else hang.width


def carried(frame: ToHang, spot: Spot, hang: Hang) -> Carried:
    """Return what holds the frame at the spot. It has passed `refusal`."""
    height = hook_height(spot.centre[1], spot.height, drop_of(hang, frame))
    match hang:
        case ByWire():
            wire = Wire(
                rise=anchor_depth(hang, frame) - drop_of(hang, frame),
                run=(spot.width - frame.rail) / 2,
                mass=frame.mass,
            )
            return Carried(hooks=_one(frame, spot, height), wire=wire)
        case ByTwoHooks():
            return Carried(hooks=_pair(frame, spot, height, hang.inset))
        case BySawtooth():
            return Carried(hooks=_one(frame, spot, height))
        case ByCleat():
            return Carried(hooks=_pair(frame, spot, height, (spot.width - cleat_width(hang, frame)) / 2))
        case _:
            assert_never(hang)


def _one(frame: ToHang, spot: Spot, height: Fraction) -> tuple[Hook, ...]:
    return (Hook(left=spot.centre[0], height=height, load=frame.mass),)


def _pair(frame: ToHang, spot: Spot, height: Fraction, inset: Fraction) -> tuple[Hook, ...]:
    return tuple(
        Hook(left=left, height=height, load=frame.mass / 2) for left in (spot.left + inset, spot.right - inset)
    )


def refusal(frame: ToHang, hang: Hang, length: Callable[[Fraction], str]) -> Problem | None:
    """Return why the frame cannot hang so, or `None` where it can; `length` prints."""
    name, size = frame.called, frame.size
    match hang:
        case ByWire():
            depth, drop = anchor_depth(hang, frame), drop_of(hang, frame)
            if drop >= depth:
                text = (
                    f"the wire of {name} is to be tightened to {length(drop)} below the top, but it is anchored "
                    f"{length(depth)} below it "
                    f"and must rise from its anchors; write a drop of less than {length(depth)}"
                )
                return Problem(where="hang.drop", text=text)
        case ByTwoHooks():
            if hang.inset * 2 >= size.width:
                wide = length(size.width)
                text = (
                    f"two hooks {length(hang.inset)} in from the sides of {name} meet: it is {wide} wide; "
                    "write less than half"
                )
                return Problem(where="hang.in", text=text)
        case ByCleat():
            if cleat_width(hang, frame) > size.width:
                text = (
                    f"the cleat of {length(cleat_width(hang, frame))} is longer than {name}, which is "
                    f"{length(size.width)} wide; write less"
                )
                return Problem(where="hang.width", text=text)
        case BySawtooth():
            pass
        case _:
            assert_never(hang)
    if not isinstance(hang, ByWire) and hang.down >= size.height:
        text = f"{length(hang.down)} below the top is below {name}, which is {length(size.height)} high; write less"
        return Problem(where="hang.down", text=text)
    return None
