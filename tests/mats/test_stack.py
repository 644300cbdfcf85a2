"""The mass of a frame, against solids that shapely cuts (a general-purpose geometry library)."""

from __future__ import annotations

from fractions import Fraction

import pytest
import shapely

from matplan.lengths import Size
from matplan.mats.stack import frame_mass
from tests.making import frame, size


def ring(outer: Size, inner: Size) -> float:
    """The area between two frames of one centre, mm²."""

    def box(one: Size) -> shapely.Polygon:
        across, up = float(one.width) / 2, float(one.height) / 2
        return shapely.box(-across, -up, across, up)

    return box(outer).difference(box(inner)).area


@pytest.mark.parametrize("depth", [Fraction(18), None])
def test_a_frames_mass_is_that_of_its_two_rings(depth: Fraction | None) -> None:
    """Rabbet 403 × 503, lip 6, rail 20, 30 high: before the rabbet's floor a ring of 20, behind it one of 14."""
    made = frame("40x50 cm", rail=Fraction(20), height=Fraction(30), depth=depth, density=Fraction(650))
    outer, rabbet, sight = size("431x531 mm"), size("403x503 mm"), size("391x491 mm")
    behind = float(depth or 0)
    volume = ring(outer, sight) * (30 - behind) + ring(outer, rabbet) * behind
    mass = frame_mass(made, rabbet)
    assert mass is not None
    assert float(mass) == pytest.approx(volume * 1e-9 * 650, rel=1e-12)
