"""Photographs of walls for tests."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from matplan.job.records import Patch, Photo, WallPhoto
from matplan.lengths import ZERO, Size


def photographed(size: Size, *, pixels: tuple[int, int]) -> WallPhoto:
    """Return a photograph from the left, a pixel a millimetre at the wall's left edge and a tenth smaller at its right
    edge.
    """
    right, lost = size.width * Fraction(9, 10), size.height / 20
    corners = ((ZERO, ZERO), (right, lost), (right, size.height - lost), (ZERO, size.height))
    of = Patch(left=ZERO, bottom=ZERO, width=size.width, height=size.height)
    return WallPhoto(file=Photo(written="wall.jpg", path=Path("wall.jpg"), pixels=pixels), corners=corners, of=of)
