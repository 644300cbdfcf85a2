"""What lies in the rabbet: thickness and mass of glazing, boards and backing, and the mass of the frame round them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from matplan.job.records import Frame, Material, Piece
from matplan.lengths import ZERO, Size
from matplan.mats.records import Layer, Part, Stack
from matplan.sums import Sums, length, total

CUBIC_MM = Fraction(1, 10**9)
"""One cubic millimetre in cubic metres."""


def mass_of(material: Material, area: Fraction) -> Fraction | None:
    """Return the mass in kg of an area in square millimetres, or `None` if the density is not known."""
    return None if material.density is None else material.thickness * area * CUBIC_MM * material.density


def stack_of(piece: Piece, blank: Size, layers: Sequence[Layer], sums: Sums) -> Stack:
    """Return the parts from the glazing inwards. A board's mass is that of the blank less its openings.

    A lift lies within the height of the spacer where there is one, else it takes room of its own.
    """
    parts = list(_parts(piece, blank, layers))
    depth = piece.frame.depth
    thickness = sum((part.thickness for part in parts), ZERO)
    if parts:
        sums.told("stack thickness", thickness, total(*(length(part.part, part.thickness) for part in parts)))
    return Stack(
        parts=tuple(parts), thickness=thickness, depth=depth, fits=None if depth is None else thickness <= depth
    )


def _parts(piece: Piece, blank: Size, layers: Sequence[Layer]) -> Iterator[Part]:
    if piece.glazing is not None:
        yield _part("glazing", piece.glazing, blank.area)
    if piece.spacer is not None:
        yield Part(part="spacer", material=None, thickness=piece.spacer, mass=None)
    for layer in layers:
        windows = sum((opening.back.area for opening in layer.openings), ZERO)
        yield _part("mat", layer.board, blank.area - windows)
    if piece.lift and piece.spacer is None:
        yield Part(part="lift", material=None, thickness=piece.lift, mass=None)
    if piece.mount is not None:
        yield _part("mount", piece.mount, blank.area)
    if piece.backing is not None:
        yield _part("backing", piece.backing, blank.area)


def _part(name: str, material: Material, area: Fraction) -> Part:
    return Part(part=name, material=material, thickness=material.thickness, mass=mass_of(material, area))


def frame_mass(frame: Frame, rabbet: Size) -> Fraction | None:
    """Return the mass in kg of the four rails, or `None` if a figure is missing.

    The rails fill the ring from outer size to sight, as high as the moulding, less the rabbet behind the lip.
    """
    if frame.density is None or frame.rail is None or frame.height is None:
        return None
    outer, sight = rabbet.grown(frame.rail - frame.lip), rabbet.grown(-frame.lip)
    solid = (outer.area - sight.area) * frame.height - (rabbet.area - sight.area) * (frame.depth or ZERO)
    return solid * CUBIC_MM * frame.density
