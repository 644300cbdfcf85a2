"""Where a picture has the deepest and the brightest tones, found on a small grey copy."""

from __future__ import annotations

import io
from fractions import Fraction
from typing import Final

from matplan.documents.parts.pictures import Picture

_LONGER: Final = 48
"""Pixels along the longer side of the copy."""
_HALF: Final = Fraction(1, 2)


def widest_tones(picture: Picture, part: tuple[Fraction, Fraction]) -> tuple[Fraction, Fraction]:
    """Return the middle of the part with the widest range of tones, in fractions of the picture's width and height.

    `part` is how much of the width and height it has. Among equals the nearest to the picture's middle is taken.
    """
    from PIL import Image

    with Image.open(io.BytesIO(picture.data)) as opened:
        grey = opened.convert("L")
    grey.thumbnail((_LONGER, _LONGER), Image.Resampling.BOX)
    tones = grey.tobytes()
    wide, high = max(1, round(grey.width * part[0])), max(1, round(grey.height * part[1]))
    best = (-1, Fraction(0), _HALF, _HALF)
    for top in range(grey.height - high + 1):
        for left in range(grey.width - wide + 1):
            rows = [tones[row * grey.width + left : row * grey.width + left + wide] for row in range(top, top + high)]
            middle = (Fraction(2 * left + wide, 2 * grey.width), Fraction(2 * top + high, 2 * grey.height))
            off = abs(middle[0] - _HALF) + abs(middle[1] - _HALF)
            spread = max(map(max, rows)) - min(map(min, rows))
            best = max(best, (spread, -off, *middle), key=lambda found: found[:2])
    return best[2], best[3]
