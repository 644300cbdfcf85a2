"""Pictures in perspective: drawn into the four corners where a photograph of a wall shows them."""

from __future__ import annotations

import io
from fractions import Fraction
from math import ceil, floor, hypot
from typing import Final

from matplan.documents.parts.folio import Corners
from matplan.pack.pictures import QUALITY
from matplan.walls.perspective import Perspective, Row

_FINE: Final = 2
"""Pixels are sampled so many times finer across and down, and then averaged."""
_RIM: Final = 16
"""A picture goes on so many pixels beyond its edges, so that what lies beyond mixes into none of its own; a JPEG's
blocks are 8 pixels wide.
"""


def in_perspective(
    picture: bytes, corners: Corners, within: tuple[int, int], part: float
) -> tuple[bytes, tuple[int, int, int, int]]:
    """Return the picture as a JPEG and its box; see `documents.parts.folio.Album`. What lies beyond the corners in the
    box is no part of the picture.
    """
    from PIL import Image

    (left, right), (top, bottom) = (
        (min(max(0, floor(min(ends))), most - 1), max(1, min(most, ceil(max(ends)))))
        for ends, most in zip(zip(*corners, strict=True), within, strict=True)
    )
    width, height = max(1, ceil((right - left) * part)), max(1, ceil((bottom - top) * part))
    fine = (Fraction(width * _FINE, right - left), Fraction(height * _FINE, bottom - top))
    placed = tuple(((x - left) * fine[0], (y - top) * fine[1]) for x, y in corners)
    with Image.open(io.BytesIO(picture)) as opened:
        across, down = _longest(placed, opened.size)
        source = opened.convert("RGB").resize((across, down), Image.Resampling.LANCZOS)
    rimmed = source.resize((across + 2 * _RIM, down + 2 * _RIM))
    rimmed.paste(source, (_RIM, _RIM))
    back = Perspective.onto(placed).inverse
    rows = (_scaled(back.across, across, back.depth), _scaled(back.down, down, back.depth), back.depth)
    unit = rows[2][2]
    if not unit:  # the box's first corner lies on the horizon, beyond the picture
        unit = Fraction(1, 10**9)
    data = [float(value / unit) for row in rows for value in row][:8]
    seen = rimmed.transform(
        (width * _FINE, height * _FINE), Image.Transform.PERSPECTIVE, data, Image.Resampling.BICUBIC
    ).reduce(_FINE)
    out = io.BytesIO()
    seen.save(out, "JPEG", quality=QUALITY, subsampling=0)
    return out.getvalue(), (left, top, right - left, bottom - top)


def _longest(corners: Corners, most: tuple[int, int]) -> tuple[int, int]:
    """Return how many pixels the picture needs so that none of its sides is enlarged, and no more than it has."""
    (a, b, c, d) = ((float(x), float(y)) for x, y in corners)

    def side(one: tuple[float, float], other: tuple[float, float]) -> int:
        return ceil(hypot(one[0] - other[0], one[1] - other[1]))

    wide, high = max(side(a, b), side(d, c)), max(side(a, d), side(b, c))
    return max(1, min(most[0], wide)), max(1, min(most[1], high))


def _scaled(row: Row, by: int, depth: Row) -> Row:
    """Return a row of the map to the unit square for a picture of so many pixels within its rim."""
    a, b, c = (value * by + rim * _RIM for value, rim in zip(row, depth, strict=True))
    return a, b, c
