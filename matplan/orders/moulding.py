"""How much moulding a frame takes: exactly, and by the trade's quick rule."""

from __future__ import annotations

from fractions import Fraction

from matplan.lengths import Size


def rails_length(long_edges: Size) -> Fraction:
    """Return the four rails' long edges together: what is cut off the stick, without kerf."""
    return 2 * (long_edges.width + long_edges.height)


def quick_rule(opening: Size, face: Fraction, allowance: Fraction = Fraction(0)) -> Fraction:
    """Perimeter + 8 × face + allowance: the trade's quick rule (common practice).

    It over-orders by 8 × lip, because each of the eight mitred ends is a face less the lip longer than the opening
    (derived).
    """
    return 2 * (opening.width + opening.height) + 8 * face + allowance
