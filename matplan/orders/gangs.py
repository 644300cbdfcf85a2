"""Several prints on one sheet, where the paper takes them: which lie on which sheet, and where.

Prints lie in rows from the top, the highest first, a cutting gap apart, within what the printer reaches; each may be
turned by a quarter, and so may the sheet. The same prints give the same sheets. It is a proposal: every print also has
a sheet of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
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
        inner, foot = _image(self.aperture, made), footprint(self.aperture, made)
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
    image = _image(aperture, made)
    if aperture.show is not Show.MARGIN:
        return image
    seen = aperture.seen.box.moved(image.x - aperture.image.x, image.y - aperture.image.y)
    hidden = seen.grown(aperture.ask.overlap)
    left, top = min(image.x, hidden.x), min(image.y, hidden.y)
    return Box(left, top, max(image.right, hidden.right) - left, max(image.bottom, hidden.bottom) - top)


def _image(aperture: SolvedAperture, made: Print) -> Box:
    return Box.of(aperture.image.size, made.margins.left, made.margins.top)


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
    """Return sheet after sheet, each the one that takes the most of what is left, as often as it can be repeated;
    sheets of one print left out.
    """
    ways = (
        _Sheet(size=paper.size, bare=paper.printer_margin),
        _Sheet(size=paper.size.turned, bare=turned_sides(paper.printer_margin)),
    )
    left = [(kind, copies) for kind, copies in wanted if any(_fits(kind.size, way.reach.size) for way in ways)]
    while left:
        tries = [(way, _filled(left, way, policy)) for way in ways for policy in range(3)]
        sheet, placed = max(tries, key=lambda found: sum(print_.box.size.area for print_ in found[1]))
        used = [
            sum(print_.aperture is kind.aperture and print_.piece is kind.piece for print_ in placed)
            for kind, _ in left
        ]
        copies = min(have // n for (_, have), n in zip(left, used, strict=True) if n)
        if len(placed) > 1:
            yield sheet, placed, copies
        rest = [(kind, have - n * copies) for (kind, have), n in zip(left, used, strict=True)]
        left = [(kind, have) for kind, have in rest if have]


def _fits(size: Size, room: Size) -> bool:
    return room.holds(size) or room.holds(size.turned)


def _filled(wanted: Sequence[tuple[_Kind, int]], sheet: _Sheet, policy: int) -> tuple[Lying, ...]:
    """Return a sheet with as many of the prints as go into its rows, the block of them in the middle of what the
    printer reaches.
    """
    reach = sheet.reach
    lying = [(kind, copies, _turned(kind.size, reach.size, policy)) for kind, copies in wanted]
    lying.sort(key=lambda entry: _as_it_lies(entry[0].size, entry[2]).height, reverse=True)
    rows: list[tuple[Fraction, Fraction, Fraction]] = []  # top, height, where the next one begins
    placed: list[Lying] = []
    for kind, copies, turned in lying:
        size = _as_it_lies(kind.size, turned)
        if not reach.size.holds(size):
            continue
        for _ in range(copies):
            corner = _corner(rows, size, reach.size)
            if corner is None or len(placed) == MOST:
                break
            placed.append(Lying(piece=kind.piece, aperture=kind.aperture, box=Box.of(size, *corner), turned=turned))
    return _centred(placed, reach)


def _corner(
    rows: list[tuple[Fraction, Fraction, Fraction]], size: Size, room: Size
) -> tuple[Fraction, Fraction] | None:
    """Return where the next print of the size lies, from the corner of the room; `rows` grow by it."""
    for number, (top, high, at) in enumerate(rows):
        if size.height <= high and at + size.width <= room.width:
            rows[number] = (top, high, at + size.width + GAP)
            return at, top
    top = rows[-1][0] + rows[-1][1] + GAP if rows else Fraction(0)
    if top + size.height > room.height or size.width > room.width:
        return None
    rows.append((top, size.height, size.width + GAP))
    return Fraction(0), top


def _turned(size: Size, room: Size, policy: int) -> bool:
    """Return whether a print is turned: as it is, lying or standing where that fits, the other way
    where it does not.
    """
    turned = (False, size.height > size.width, size.width > size.height)[policy]
    return turned if room.holds(_as_it_lies(size, turned)) else not turned


def _as_it_lies(size: Size, turned: bool) -> Size:
    return size.turned if turned else size


def _centred(placed: Sequence[Lying], reach: Box) -> tuple[Lying, ...]:
    if not placed:
        return ()
    right, bottom = max(lying.box.right for lying in placed), max(lying.box.bottom for lying in placed)
    dx, dy = reach.x + (reach.width - right) / 2, reach.y + (reach.height - bottom) / 2
    return tuple(
        Lying(piece=lying.piece, aperture=lying.aperture, box=lying.box.moved(dx, dy), turned=lying.turned)
        for lying in placed
    )
