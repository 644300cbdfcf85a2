"""Whether a photo's colour profile can go with it into a document: it must be one for the colours that the picture has
there.
"""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from PIL import Image

COLOURS: Final = {"1": 1, "L": 1, "I;16": 1, "RGB": 3, "CMYK": 4}
"""Colour channels by Pillow's mode."""
_SPACE: Final = {1: "GRAY", 3: "RGB ", 4: "CMYK"}
"""The colour space that a profile names in its header (ICC.1:2022, 7.2.6), by channels."""


def kept_mode(image: Image.Image) -> str:
    """The mode in which a picture goes into a document: its own, as far as that has one."""
    if image.mode.startswith("I;16"):
        return "I;16"
    if image.mode in ("LA", "I", "F"):
        return "L"
    if image.mode in ("1", "L", "CMYK"):
        return image.mode
    return "RGB"


def profile_fits(profile: object, colours: int) -> bool:
    """Whether that colour profile can be read and is one for pictures of so many channels."""
    if not isinstance(profile, bytes) or not profile:
        return False
    from PIL import ImageCms

    try:
        return ImageCms.ImageCmsProfile(io.BytesIO(profile)).profile.xcolor_space == _SPACE[colours]
    except (OSError, ValueError, TypeError, ImageCms.PyCMSError):
        return False


def keeps_profile(image: Image.Image, profile: object) -> bool:
    """Whether a picture as opened keeps that profile in a document."""
    return profile_fits(profile, COLOURS[kept_mode(image)])
