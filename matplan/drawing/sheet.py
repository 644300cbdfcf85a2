"""A sheet: one drawing on one piece of paper, ready for a back end."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from matplan.drawing.items import Group, Item, Text


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """Paper `size` (width, height) in mm and what is drawn on it. `name` is unique in a book, `title` is for people.

    `scale` is that of the drawing (paper : model), None where nothing is drawn to scale. `pixels` is the size of a
    photograph that fills the paper: the items are then in its pixels, and pens stay as wide on paper. `about` says what
    the sheet shows, for those who do not see it.
    """

    name: str
    title: str
    size: tuple[float, float]
    items: tuple[Item, ...]
    scale: Fraction | None = None
    pixels: tuple[int, int] | None = None
    about: str = ""

    def flat(self) -> Iterator[Item]:
        """Yield every item that is no group, in the order of drawing."""
        yield from _flat(self.items)

    def texts(self) -> Iterator[Text]:
        """Return every text, in the order of drawing."""
        return (item for item in self.flat() if isinstance(item, Text))


def _flat(items: tuple[Item, ...]) -> Iterator[Item]:
    for item in items:
        if isinstance(item, Group):
            yield from _flat(item.items)
        else:
            yield item
