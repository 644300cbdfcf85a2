"""Photos as documents take them: already turned, cropped, in sRGB and no larger than the drawing shows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

type PictureKey = tuple[str, str]
"""The piece's `file` and the aperture's name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """An encoded picture of exactly what an aperture's image shows; `media` is its type, such as `image/jpeg`.

    `profile_lost`: the photo has a colour profile that does not fit its colours, so that no document can keep it.
    """

    data: bytes
    media: str
    pixels: tuple[int, int]
    profile_lost: bool = False


def photo_of_wall(file: str) -> PictureKey:
    """Return the key of a wall's photograph; no piece has a file of that name.

    >>> photo_of_wall("landing")
    ('wall/landing', '')
    """
    return f"wall/{file}", ""


type Pictures = Mapping[PictureKey, Picture]
"""Pictures at hand; an aperture without one is drawn as a plain field."""
