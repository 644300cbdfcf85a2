"""The prints of a piece as pages to send to the printer: each as large as its sheet is fed, the photo in place.

The pages say where a photo lies; its own pixels are read where they are written.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from matplan.documents.parts.folio import Folio
from matplan.documents.prints.marks import Mark, crop_marks, shape_on_sheet
from matplan.drawing.items import Outline, Text
from matplan.job.records import Photo
from matplan.lengths import Box, Size
from matplan.mats.records import SolvedAperture, SolvedPiece


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A photo on a sheet: where the image lies, the part of the photo that it shows, the line round it where that is no
    rectangle.

    Everything is in mm from the top left corner of that `sheet`, y down. `onto` lays the sheet on another page: x, y of
    the corner that is its top left one there, from the page's own, and whether the sheet is turned a quarter to the
    left.
    """

    photo: Photo
    image: Box
    crop: Box | None
    shape: Outline | None
    marks: tuple[Mark, ...]
    sheet: Size
    onto: tuple[Fraction, Fraction, bool] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """A sheet as it lies in the printer, and what is printed on it: photos, and words in outlines."""

    size: Size
    prints: tuple[Placed, ...]
    words: tuple[Text, ...] = ()


def print_page(piece: SolvedPiece, aperture: SolvedAperture) -> Page | None:
    """The page for one window, None where it has no photo or no sheet."""
    made = aperture.print
    placed = placed_photo(piece, aperture, crop_marks(piece, aperture, made) if made is not None else ())
    return None if placed is None or made is None else Page(size=made.size, prints=(placed,))


def placed_photo(piece: SolvedPiece, aperture: SolvedAperture, marks: tuple[Mark, ...]) -> Placed | None:
    """The window's photo on its sheet, None where it has none."""
    photo, made = aperture.ask.photo, aperture.print
    if photo is None or made is None or aperture.ask.text is not None:
        return None
    shape = shape_on_sheet(piece, aperture, made, Fraction(1), (0.0, 0.0))
    return Placed(
        photo=photo,
        image=made.image_box(aperture.image.size),
        crop=aperture.crop,
        shape=shape,
        marks=marks,
        sheet=made.size,
    )


def drawn(_folio: Folio, piece: SolvedPiece) -> tuple[Page, ...]:
    """Return the pages of a piece's prints; empty where no window has a photo."""
    return pages_of(piece)


def pages_of(piece: SolvedPiece) -> tuple[Page, ...]:
    """The pages of a piece's prints, one for each window that has a photo and a sheet."""
    found = (print_page(piece, aperture) for aperture in piece.apertures)
    return tuple(page for page in found if page is not None)
