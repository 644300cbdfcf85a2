"""Pages of labels at full size, printed at 100 % and cut at their marks: what back labels and wall labels share."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from matplan.drawing.items import Anchor, Area, Item, Level, Size, Text
from matplan.drawing.pens import SECONDARY
from matplan.drawing.sheet import Sheet

EDGE: Final = 12.0
FOOT: Final = 14.0
"""Left free round the labels and below them, in mm."""


def label_sheets(name: str, what: str, page: tuple[float, float], pages: Sequence[Sequence[Item]]) -> Iterator[Sheet]:
    """Yield a sheet for each page that has labels; its foot tells what it is and how it is printed."""
    for number, items in enumerate(pages, 1):
        if items:
            title = what + (f", sheet {number}" if len(pages) > 1 else "")
            foot = _small(f"{title}. Print at 100 %, cut at the marks.", (page[0] / 2, page[1] - 8.4), Level.MIDDLE)
            yield Sheet(name=f"{name} {number}", title=title, size=page, items=(*items, foot), scale=Fraction(1))


def below(area: Area, text: str) -> Text:
    """Return what is told below a label, outside its marks."""
    return _small(text, (area.centre[0], area.bottom + 3), Level.TOP)


def _small(text: str, at: tuple[float, float], level: Level) -> Text:
    return Text(at=at, text=text, size=Size.LEAST, anchor=Anchor.MIDDLE, level=level, colour=SECONDARY)
