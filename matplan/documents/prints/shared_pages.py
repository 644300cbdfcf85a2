"""A sheet with several prints as a page to send to the printer."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Final

from matplan.documents.parts.folio import Folio
from matplan.documents.prints.marks import corner_marks
from matplan.documents.prints.photo_pages import Page, Placed, placed_photo
from matplan.orders.gangs import Gang, Lying, footprint


def drawn(_folio: Folio, gang: Gang) -> tuple[Page, ...]:
    """Return the page of a sheet that holds several prints; empty where none has a photo."""
    page = gang_page(gang)
    return () if page is None else (page,)


_CORNER_OFF: Final = Fraction(2, 5)
_CORNER_LONG: Final = Fraction(6, 5)
"""Marks at the corners of prints that share a sheet: they stay within half of the gap between two."""


def gang_page(gang: Gang) -> Page | None:
    """The page of a sheet that holds several prints, those without a photo left blank; None where none has one."""
    prints = tuple(placed for lying in gang.prints if (placed := _shared(lying)) is not None)
    return Page(size=gang.size, prints=prints) if prints else None


def _shared(lying: Lying) -> Placed | None:
    made = lying.aperture.print
    if made is None:
        return None
    foot = footprint(lying.aperture, made)
    placed = placed_photo(lying.piece, lying.aperture, corner_marks(foot, _CORNER_OFF, _CORNER_LONG))
    if placed is None:
        return None
    x, y = lying.box.x - foot.x, lying.box.y - foot.y
    if lying.turned:
        x, y = lying.box.x - foot.y, lying.box.y - (made.size.width - foot.right)
    return replace(placed, onto=(x, y, lying.turned))
