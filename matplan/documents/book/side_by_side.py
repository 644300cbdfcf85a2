"""All pieces of a job side by side, as framed, at one scale, so that their sizes can be compared."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from matplan.documents.parts import wording
from matplan.documents.parts.framed import extent, framed, model_box
from matplan.documents.parts.page import further_scales
from matplan.documents.parts.pictures import Pictures
from matplan.documents.parts.running import TITLE_SIZE, Running
from matplan.drawing import blocks, lettering
from matplan.drawing.blocks import Block
from matplan.drawing.items import Anchor, Area, Group, Item, Level, Text
from matplan.drawing.views import View, scale_name
from matplan.job.records import Job
from matplan.mats.records import SolvedPiece

_CARD_GAP: Final = 8.0
_CARD_LEAST: Final = 26.0
_CARD_FOOT: Final = 7.5
_LABEL: Final = 2.2
"""Height of the names below the pieces."""
_STRIP_HIGHEST: Final = 96.0
_SMALL_CARD: Final = 27.0


def side_by_side(running: Running, job: Job, pieces: Sequence[SolvedPiece], pictures: Pictures) -> None:
    """Set all pieces as framed, in rows, at the largest scale at which they take no more than a part of the sheet."""
    if not pieces:
        return
    width = running.width
    scale = _common_scale(pieces, further_scales(job.units), width)
    heading = f"The piece{'s' if len(pieces) > 1 else ''}, {scale_name(scale)}"
    running.space(1.0)
    for number, row in enumerate(_rows(pieces, scale, width)):

        def made(x: float, y: float, width: float, row: Sequence[SolvedPiece] = row) -> Block:
            return _row(row, pictures, scale, Area(x=x, y=y, width=width, height=0.0))

        def titled(x: float, y: float, width: float) -> Block:
            return blocks.paragraph(heading, x=x, y=y, width=width, size=TITLE_SIZE, bold=True)

        running.add(*((titled, made) if number == 0 else (made,)), gap=3.0)
    running.space(2.0)


def _common_scale(pieces: Sequence[SolvedPiece], series: Sequence[Fraction], width: float) -> Fraction:
    """Return the largest scale at which all pieces take a part of the sheet, or where they are many, at which none is
    very high.
    """
    widest, highest = max(extent(p).width for p in pieces), max(extent(p).height for p in pieces)
    for scale in sorted(series, reverse=True):
        if widest * scale > width or highest * scale > _STRIP_HIGHEST - _CARD_FOOT:
            continue
        if highest * scale <= _SMALL_CARD or _height(_rows(pieces, scale, width), scale) <= _STRIP_HIGHEST:
            return scale
    return min(series)


def _card(piece: SolvedPiece, scale: Fraction) -> float:
    return max(float(extent(piece).width * scale), _CARD_LEAST)


def _rows(pieces: Sequence[SolvedPiece], scale: Fraction, width: float) -> list[list[SolvedPiece]]:
    """Return the pieces in rows no wider than that."""
    rows: list[list[SolvedPiece]] = [[]]
    used = 0.0
    for piece in pieces:
        card = _card(piece, scale)
        if rows[-1] and used + card > width:
            rows.append([])
            used = 0.0
        rows[-1].append(piece)
        used += card + _CARD_GAP
    return rows


def _row_height(row: Sequence[SolvedPiece], scale: Fraction) -> float:
    return max(float(extent(piece).height * scale) for piece in row) + _foot(row, scale)


def _foot(row: Sequence[SolvedPiece], scale: Fraction) -> float:
    """Return the height that the names below a row take."""
    lines = max(len(_names(piece, _card(piece, scale))) for piece in row)
    return _CARD_FOOT + (lines - 1) * _LABEL * lettering.LINE_PITCH


def _names(piece: SolvedPiece, card: float) -> tuple[str, ...]:
    """Return a piece's count and name in lines as wide as its card."""
    text = f"{piece.ask.quantity} × {piece.name}" if piece.ask.quantity > 1 else piece.name
    return lettering.wrapped(wording.short(text), card, _LABEL)


def _height(rows: Sequence[Sequence[SolvedPiece]], scale: Fraction) -> float:
    return sum(_row_height(row, scale) + 3.0 for row in rows)


def _row(row: Sequence[SolvedPiece], pictures: Pictures, scale: Fraction, at: Area) -> Block:
    """Return one row, the frames' lower edges on one line, each with its name below."""
    height = _row_height(row, scale)
    base = at.y + height - _foot(row, scale)
    x = at.x
    items: list[Item] = []
    for piece in row:
        whole = extent(piece)
        card, wide, high = _card(piece, scale), float(whole.width * scale), float(whole.height * scale)
        view = View(scale=scale, at=(x + (card - wide) / 2, base - high), model=model_box(whole))
        items.append(Group(classes=("small-front",), items=framed(piece, pictures, view, small=True)))
        for number, line in enumerate(_names(piece, card)):
            level = base + 2.6 + number * _LABEL * lettering.LINE_PITCH
            items.append(Text(at=(x + card / 2, level), text=line, size=_LABEL, anchor=Anchor.MIDDLE, level=Level.TOP))
        x += card + _CARD_GAP
    return Block(items=tuple(items), area=Area(x=at.x, y=at.y, width=at.width, height=height))
