"""Hooks and wires: heights, angles and loads."""

from __future__ import annotations

from fractions import Fraction


def hook_height(centre: Fraction, height: Fraction, drop: Fraction) -> Fraction:
    """How high above the floor the hook sits: centre + half the frame's height − drop.

    `drop` is from the frame's top down to the tightened wire or the hanger (TRADE 6).
    """
    return centre + height / 2 - drop
