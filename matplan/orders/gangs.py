"""Several prints on one sheet, where the paper takes them: which lie on which sheet, and where.

Prints lie in rows from the top, the highest first, a cutting gap apart, within what the printer reaches; each may be
turned by a quarter, and so may the sheet. The same prints give the same sheets. It is a proposal: every print also has
a sheet of its own.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm
from typing import Final

from matplan.job.names import file_names
from matplan.job.records import Paper, Show
from matplan.lengths import Box, Sides, Size
from matplan.mats.prints import turned_sides
from matplan.mats.records import Print, SolvedAperture, SolvedPiece

GAP: Final = Fraction(4)
"""Between two prints: a cut anywhere in it harms neither."""
MOST: Final = 400
"""Prints on one sheet at most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lying:
    """A print on a sheet: its footprint there, and whether it is turned a quarter to the left."""

    piece: SolvedPiece
    aperture: SolvedAperture
    box: Box
    turned: bool

    @property
    def image(self) -> Box:
        """The image on the sheet, from the sheet's top left corner."""
        made = self.aperture.print
        if made is None:
            raise ValueError(f"the window {self.aperture.name} has no sheet to print")
        inner, foot = made.image_box(self.aperture.image.size), footprint(self.aperture, made)
        left, top, size = inner.x - foot.x, inner.y - foot.y, inner.size
        if self.turned:
            left, top, size = top, foot.right - inner.right, size.turned
        return Box.of(size, self.box.x + left, self.box.y + top)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gang:
    """A sheet that holds several prints, and how often it is printed.

    `size` is the paper's as it is fed, `unreachable` what of it the printer cannot print on; `file` is its file's name,
    without folder and ending; `number` counts the sheets of one paper from 1.
    """

    paper: Paper
    file: str
    number: int
    size: Size
    unreachable: Sides
    prints: tuple[Lying, ...]
    copies: int


@dataclass(frozen=True, slots=True, kw_only=True)
class _Kind:
    """Prints that are alike."""

    piece: SolvedPiece
    aperture: SolvedAperture
    size: Size


def footprint(aperture: SolvedAperture, made: Print) -> Box:
    """Return the paper that a print needs, on the sheet of its own: the image, and what the mat must hold round a
    margin.
    """
    image = made.image_box(aperture.image.size)
    if aperture.show is not Show.MARGIN:
        return image
    seen = aperture.seen.box.moved(image.x - aperture.image.x, image.y - aperture.image.y)
    hidden = seen.grown(aperture.ask.overlap)
    left, top = min(image.x, hidden.x), min(image.y, hidden.y)
    return Box(left, top, max(image.right, hidden.right) - left, max(image.bottom, hidden.bottom) - top)


def gangs(pieces: Iterable[SolvedPiece]) -> tuple[Gang, ...]:
    """Return the sheets that hold more than one of the pieces' prints, paper by paper, or nothing where that would save
    no sheet.
    """
    by_paper: dict[Paper, list[tuple[_Kind, int]]] = {}
    for piece in pieces:
        for aperture in piece.apertures:
            kind = _kind(piece, aperture)
            if kind is not None and aperture.print is not None and aperture.print.paper is not None:
                by_paper.setdefault(aperture.print.paper, []).append((kind, piece.ask.quantity))
    names = file_names([paper.name for paper in by_paper], "paper")
    return tuple(
        Gang(
            paper=paper,
            file=f"gang-{name}-{number}",
            number=number,
            size=sheet.size,
            unreachable=sheet.bare,
            prints=prints,
            copies=copies,
        )
        for name, (paper, wanted) in zip(names, by_paper.items(), strict=True)
        for number, (sheet, prints, copies) in enumerate(_sheets(paper, wanted), 1)
    )


def _kind(piece: SolvedPiece, aperture: SolvedAperture) -> _Kind | None:
    """Return a print that may share its sheet, or `None` where the whole sheet is in view, or nothing is printed."""
    made = aperture.print
    if made is None or made.paper is None or aperture.ask.text is not None:
        return None
    if aperture.show is Show.SHEET or not piece.layers:
        return None
    return _Kind(piece=piece, aperture=aperture, size=footprint(aperture, made).size)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheet:
    """A paper fed one way."""

    size: Size
    bare: Sides

    @property
    def reach(self) -> Box:
        return Box(self.bare.left, self.bare.top, self.size.width - self.bare.across, self.size.height - self.bare.down)


def _sheets(paper: Paper, wanted: Sequence[tuple[_Kind, int]]) -> Iterator[tuple[_Sheet, tuple[Lying, ...], int]]:
    """Yield sheet after sheet, each the one that takes the most of what is left, as often as it can be repeated; sheets
    of one print left out.

    Time grows with the kinds of prints times the sheets.
    """
    sheets = (
        _Sheet(size=paper.size, bare=paper.printer_margin),
        _Sheet(size=paper.size.turned, bare=turned_sides(paper.printer_margin)),
    )
    kinds = [kind for kind, _ in wanted]
    reaches = [sheet.reach.size for sheet in sheets]
    left = [copies if any(reach.holds_either_way(kind.size) for reach in reaches) else 0 for kind, copies in wanted]
    sizes = (*(kind.size for kind in kinds), *reaches)
    parts = lcm(GAP.denominator, *(n.denominator for size in sizes for n in (size.width, size.height)))
    ways = [_Way.of(sheet, policy, kinds, parts) for sheet in sheets for policy in range(3)]
    while any(left):
        way, placed = max(((way, way.filled(left)) for way in ways), key=lambda found: found[0].taken(found[1]))
        used = Counter(number for number, *_ in placed)
        copies = min(left[number] // count for number, count in used.items())
        if len(placed) > 1:
            prints = tuple(way.lying(kinds[number], placing, parts) for number, *placing in placed)
            yield way.sheet, _centred(prints, way.sheet.reach), copies
        for number, count in used.items():
            left[number] -= count * copies


type _Placed = tuple[int, int, int, bool]
"""The number of a print's kind, where it lies from the corner of what the printer reaches, whether it is turned."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Way:
    """One way to fill sheets: the sheet, and the kinds that go on it, the highest first, as number, width, height and
    whether turned. Lengths are whole numbers of a common part of a millimetre.
    """

    sheet: _Sheet
    room: tuple[int, int]
    gap: int
    order: tuple[tuple[int, int, int, bool], ...]
    areas: Mapping[int, int]

    @classmethod
    def of(cls, sheet: _Sheet, policy: int, kinds: Sequence[_Kind], parts: int) -> _Way:
        """Return the way that turns prints by the policy."""
        room = sheet.reach.size
        order = []
        for number, kind in enumerate(kinds):
            turned = _turned(kind.size, room, policy)
            size = kind.size.turned if turned else kind.size
            if room.holds(size):
                order.append((number, int(size.width * parts), int(size.height * parts), turned))
        order.sort(key=lambda entry: -entry[2])
        areas = {number: width * height for number, width, height, _ in order}
        whole = (int(room.width * parts), int(room.height * parts))
        return cls(sheet=sheet, room=whole, gap=int(GAP * parts), order=tuple(order), areas=areas)

    def filled(self, left: Sequence[int]) -> list[_Placed]:
        """Return a sheet with as many of the prints that are left as go into its rows."""
        rows: list[list[int]] = []  # top, height, where the next one begins
        placed: list[_Placed] = []
        refused: list[tuple[int, int]] = []  # rows only fill up: what is no smaller finds no place either
        for number, width, height, turned in self.order:
            if not left[number] or any(width >= w and height >= h for w, h in refused):
                continue
            for _ in range(left[number]):
                corner = self._corner(rows, width, height)
                if corner is None:
                    refused.append((width, height))
                    break
                if len(placed) == MOST:
                    return placed
                placed.append((number, *corner, turned))
        return placed

    def _corner(self, rows: list[list[int]], width: int, height: int) -> tuple[int, int] | None:
        """Return where the next print lies; `rows` grow by it."""
        for row in rows:
            top, high, at = row
            if height <= high and at + width <= self.room[0]:
                row[2] = at + width + self.gap
                return at, top
        top = rows[-1][0] + rows[-1][1] + self.gap if rows else 0
        if top + height > self.room[1] or width > self.room[0]:
            return None
        rows.append([top, height, width + self.gap])
        return 0, top

    def taken(self, placed: Iterable[_Placed]) -> int:
        """Return the area that the prints take."""
        return sum(self.areas[number] for number, *_ in placed)

    def lying(self, kind: _Kind, placing: Sequence[int], parts: int) -> Lying:
        """Return a print at its place."""
        x, y, turned = placing
        size = kind.size.turned if turned else kind.size
        box = Box.of(size, Fraction(x, parts), Fraction(y, parts))
        return Lying(piece=kind.piece, aperture=kind.aperture, box=box, turned=bool(turned))


def _turned(size: Size, room: Size, policy: int) -> bool:
    """Return whether a print is turned: as it is, lying or standing where that fits, the other way
    where it does not.
    """
    turned = (False, size.height > size.width, size.width > size.height)[policy]
    return turned if room.holds(size.turned if turned else size) else not turned


def _centred(placed: Sequence[Lying], reach: Box) -> tuple[Lying, ...]:
    if not placed:
        return ()
    right, bottom = max(lying.box.right for lying in placed), max(lying.box.bottom for lying in placed)
    dx, dy = reach.x + (reach.width - right) / 2, reach.y + (reach.height - bottom) / 2
    return tuple(
        Lying(piece=lying.piece, aperture=lying.aperture, box=lying.box.moved(dx, dy), turned=lying.turned)
        for lying in placed
    )
