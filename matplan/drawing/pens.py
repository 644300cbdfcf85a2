"""Pens and inks: one table of line roles, their widths, dashes and colours.

Widths and dashes follow ISO 128 (believed from memory of part 20: continuous wide for visible edges,
continuous narrow for dimensions, dashed for hidden edges, long-dashed dotted for centre lines,
wide : narrow = 2 : 1, dash 12 d, gap 3 d, long dash 24 d, dot 0.5 d with d the line's width). Wide dashes are 6 d long,
so that a short sample in a key shows them.
Everything is in millimetres of paper.

The colours are mixed here, after ink, pencil and chalk on rag paper: each is given in CIE L*a*b* (white D65) and turned
into sRGB. What text is set in has a contrast of at least 4.5 against white (WCAG 2, success criterion 1.4.3).
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

WIDE_MM: Final = 0.5
NARROW_MM: Final = 0.25
HAIR_MM: Final = 0.13

INK: Final = "#1f212a"
"""Text and visible edges: iron-gall ink, L* 13, a* 1, b* −6."""
SECONDARY: Final = "#686561"
"""What stands back, such as dimensions' lines, captions, notes: soft pencil, L* 43, a* 0, b* 3."""
FAINT: Final = "#cfc8c0"
"""Rules of tables, hatching of waste: hard pencil, L* 81, a* 1, b* 5."""
TINT: Final = "#f6f3ee"
"""The ground of heads and of every second row: rag paper, L* 96, a* 0, b* 3."""
ACCENT: Final = "#ac331b"
"""What the blade follows, and nothing else: red chalk, L* 40, a* 48, b* 42."""
PAPER: Final = "#ffffff"


class Pen(StrEnum):
    """The role of a line; its look stands in `STROKES`."""

    OUTLINE = "outline"
    """A visible edge of the thing itself: continuous wide."""
    EDGE = "edge"
    """A visible edge of less weight: continuous narrow."""
    LIGHT = "light"
    """A visible edge on a dark ground: continuous narrow, light."""
    LIGHT_HIDDEN = "light-hidden"
    """An edge behind something dark: dashed narrow, light."""
    HIDDEN = "hidden"
    """An edge behind something: dashed narrow."""
    CENTRE = "centre"
    """A centre line or an axis: long-dashed dotted narrow."""
    NEIGHBOUR = "neighbour"
    """A neighbouring part's outline: long-dashed double-dotted narrow."""
    DIMENSION = "dimension"
    """Dimension, extension and leader lines: continuous narrow."""
    CUT = "cut"
    """What the blade follows: continuous wide, in the accent colour."""
    CUT_SECOND = "cut-second"
    """What the blade follows on a second board of the same drawing: dashed wide, in the accent colour."""
    CUT_THIRD = "cut-third"
    """What the blade follows on a third board of the same drawing: dashed dotted wide, in the accent colour."""
    SCORE = "score"
    """A line drawn for the blade to meet, and start and stop marks: continuous narrow, in the accent colour."""
    WASTE = "waste"
    """Hatching and crossing-out: continuous narrow, faint."""
    BORDER = "border"
    """The sheet's own frame: continuous wide."""
    RULE = "rule"
    """Lines of tables and title blocks: thin, faint."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """How a pen draws: width and dashes in mm of paper, colour as `#rrggbb`. No dashes means continuous."""

    width: float
    colour: str = INK
    dashes: tuple[float, ...] = ()


def _dashes(width: float, *parts: float) -> tuple[float, ...]:
    """Return dashes and gaps given in widths of their line."""
    return tuple(part * width for part in parts)


_DASHED = (12, 3)
_LONG_DASHED_DOTTED = (24, 3, 0.5, 3)
_LONG_DASHED_DOUBLE_DOTTED = (24, 3, 0.5, 3, 0.5, 3)

STROKES: Final[dict[Pen, Stroke]] = {
    Pen.OUTLINE: Stroke(width=WIDE_MM),
    Pen.EDGE: Stroke(width=NARROW_MM),
    Pen.LIGHT: Stroke(width=NARROW_MM, colour=FAINT),
    Pen.LIGHT_HIDDEN: Stroke(width=NARROW_MM, colour=FAINT, dashes=_dashes(NARROW_MM, *_DASHED)),
    Pen.HIDDEN: Stroke(width=NARROW_MM, dashes=_dashes(NARROW_MM, *_DASHED)),
    Pen.CENTRE: Stroke(width=NARROW_MM, colour=SECONDARY, dashes=_dashes(NARROW_MM, *_LONG_DASHED_DOTTED)),
    Pen.NEIGHBOUR: Stroke(width=NARROW_MM, colour=SECONDARY, dashes=_dashes(NARROW_MM, *_LONG_DASHED_DOUBLE_DOTTED)),
    Pen.DIMENSION: Stroke(width=NARROW_MM, colour=SECONDARY),
    Pen.CUT: Stroke(width=WIDE_MM, colour=ACCENT),
    Pen.CUT_SECOND: Stroke(width=WIDE_MM, colour=ACCENT, dashes=_dashes(WIDE_MM, 6, 3)),
    Pen.CUT_THIRD: Stroke(width=WIDE_MM, colour=ACCENT, dashes=_dashes(WIDE_MM, 6, 3, 0.5, 3)),
    Pen.SCORE: Stroke(width=NARROW_MM, colour=ACCENT),
    Pen.WASTE: Stroke(width=NARROW_MM, colour=FAINT),
    Pen.BORDER: Stroke(width=WIDE_MM),
    Pen.RULE: Stroke(width=HAIR_MM, colour=SECONDARY),
}
