"""What the parts of a sheet are called on its drawing: a letter for parts that are alike, with a number where there are
several.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from matplan.lengths import Size
from matplan.mats.letters import letter_of
from matplan.stock.records import Piece


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """Parts of one name and size on a sheet: `A`, or `A1` to `A6`. `size` is the part's own, not turned."""

    letter: str
    name: str
    size: Size
    count: int

    @property
    def called(self) -> str:
        """The keys of all its parts, as a table has them."""
        return self.letter if self.count == 1 else f"{self.letter}1–{self.letter}{self.count}"


def keyed(pieces: Sequence[Piece]) -> tuple[tuple[str, ...], tuple[Kind, ...]]:
    """Return each piece's key in the order of the pieces, and the kinds in the order of their letters."""
    kinds: dict[tuple[str, Size], list[int]] = {}
    for number, piece in enumerate(pieces):
        size = piece.box.size.turned if piece.turned else piece.box.size
        kinds.setdefault((piece.name, size), []).append(number)
    keys = [""] * len(pieces)
    found: list[Kind] = []
    for place, ((name, size), numbers) in enumerate(kinds.items()):
        letter = letter_of(place)
        found.append(Kind(letter=letter, name=name, size=size, count=len(numbers)))
        for count, number in enumerate(numbers, 1):
            keys[number] = letter if len(numbers) == 1 else f"{letter}{count}"
    return tuple(keys), tuple(found)
