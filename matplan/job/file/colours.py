"""Colours of boards and frames: a code such as `#f6f2e8`, or a plain name from the list here.

The sixteen basic names are those of CSS Color Module Level 4, section 6.1 (W3C); the others are plain words with a tone
of our own choosing, for pictures only: no board of any maker is meant.
"""

from __future__ import annotations

import re
from difflib import get_close_matches

from matplan.faults import printable

_BASIC = {
    "black": "#000000", "silver": "#c0c0c0", "gray": "#808080", "grey": "#808080", "white": "#ffffff",
    "maroon": "#800000", "red": "#ff0000", "purple": "#800080", "fuchsia": "#ff00ff", "green": "#008000",
    "lime": "#00ff00", "olive": "#808000", "yellow": "#ffff00", "navy": "#000080", "blue": "#0000ff",
    "teal": "#008080", "aqua": "#00ffff",
}  # fmt: skip
_PLAIN = {
    "warm white": "#f6f2e8", "soft white": "#f8f6f0", "cool white": "#f4f6f8", "off-white": "#f3f0e6",
    "cream": "#f3e9d2", "ivory": "#f6f0dc", "beige": "#e3d6bd", "sand": "#d9c8a5", "stone": "#bdb6a8",
    "light grey": "#d2d2d0", "dark grey": "#4c4c4c", "charcoal": "#36373a", "slate": "#5c6670", "brown": "#6b4a32",
    "dark brown": "#3f2a1d", "tan": "#c19a6b", "rust": "#9c4a2b", "brick": "#8c3b30", "wine": "#5e1f2d",
    "pink": "#e3b7b7", "orange": "#d97b2b", "ochre": "#c38a2e", "gold": "#b8923f", "sage": "#a3ad92",
    "moss": "#5f6b3c", "dark green": "#2c4432", "sky blue": "#a9c6d8", "light blue": "#bcd0dc",
    "dark blue": "#22324f", "lavender": "#b9b0cf", "plum": "#5b3a55", "natural wood": "#c9a878",
    "pale wood": "#dcc6a0", "dark wood": "#4a3526", "bronze": "#7d6138",
}  # fmt: skip
COLOURS = {**_BASIC, **_PLAIN}
"""Every plain name with its code."""

_CODE = re.compile(r"#(?:[0-9a-f]{3}|[0-9a-f]{6})", re.ASCII)


def colour_code(text: str) -> str:
    """Return a colour as `#rrggbb`. Raises `ValueError`.

    >>> colour_code("#FA0"), colour_code("Warm white")
    ('#ffaa00', '#f6f2e8')
    """
    plain = " ".join(text.casefold().split())
    if _CODE.fullmatch(plain):
        return plain if len(plain) == 7 else "#" + "".join(digit * 2 for digit in plain[1:])
    if plain in COLOURS:
        return COLOURS[plain]
    near = get_close_matches(plain[:40], COLOURS, n=3) if not plain.startswith("#") else []
    right = f"did you mean {' or '.join(near)}?" if near else "write a code like #f6f2e8 or a name like warm white"
    right = f'{right} ("matplan sizes colours" lists them)'
    raise ValueError(f'got "{printable(text, 60)}", which is no colour known here; {right}')
