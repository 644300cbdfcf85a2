"""What lies in the rabbet: thickness and mass of glazing, boards and backing, and the mass of the frame round them."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from matplan.job.records import Frame, Material
from matplan.lengths import Size
from matplan.mats.records import Layer, Part, Stack
from matplan.sums import Sums, length, total

CUBIC_MM = Fraction(1, 10**9)
"""One cubic millimetre in cubic metres."""


def mass_of(material: Material, area: Fraction) -> Fraction | None:
    """Return the mass in kg of an area in square millimetres, or `None` if the density is not known."""
    return None if material.density is None else material.thickness * area * CUBIC_MM * material.density


def stack_of(
    blank: Size,
    glazing: Material | None,
    layers: Sequence[Layer],
    backing: Material | None,
    depth: Fraction | None,
    sums: Sums,
) -> Stack:
    """Return the parts from the glazing inwards. A board's mass is that of the blank less its openings."""
    parts: list[Part] = []
    if glazing is not None:
        parts.append(_part("glazing", glazing, blank.area))
    for layer in layers:
        windows = sum((opening.back.area for opening in layer.openings), Fraction(0))
        parts.append(_part("mat", layer.board, blank.area - windows))
    if backing is not None:
        parts.append(_part("backing", backing, blank.area))
    thickness = sum((part.thickness for part in parts), Fraction(0))
    if parts:
        sums.told("stack thickness", thickness, total(*(length(part.part, part.thickness) for part in parts)))
    return Stack(
        parts=tuple(parts), thickness=thickness, depth=depth, fits=None if depth is None else thickness <= depth
    )


def _part(name: str, material: Material, area: Fraction) -> Part:
    return Part(part=name, material=material, thickness=material.thickness, mass=mass_of(material, area))


def frame_mass(frame: Frame, rabbet: Size) -> Fraction | None:
    """Return the mass in kg of the four rails, or `None` if a figure is missing.

    It is rail × height less the rabbet, along the middle of the face.
    """
    if frame.density is None or frame.rail is None or frame.height is None:
        return None
    section = frame.rail * frame.height - frame.lip * (frame.depth or Fraction(0))
    along = 2 * (rabbet.width + rabbet.height) + 4 * (frame.rail - 2 * frame.lip)
    return section * along * CUBIC_MM * frame.density
