"""The test strip: the print's own pixels at final size on a small sheet, where asked for or where the tones are."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from PIL import Image

from matplan.documents.parts.folio import Folio, WindowOf
from matplan.documents.prints.photo_pages import Page
from matplan.documents.prints.test_strip import drawn
from matplan.drawing.items import Rect
from matplan.job.names import file_names
from matplan.job.read.photos import read_photo
from matplan.job.records import Paper
from matplan.lengths import Box
from matplan.pack.contents import Album
from matplan.pack.darkroom import Darkroom
from matplan.pack.print_pdf import print_pdf
from tests.making import RAG, border, piece, planned, size, window
from tests.readback import read_pdf

A6 = size("105 x 148 mm")
STRIP = replace(RAG, test_strip=A6)


def strip(photo: Path, paper: Paper = STRIP, image: str = "240 x 300") -> Page:
    """The page of the strip of a picture printed in that size."""
    ask = window(image=image, photo=read_photo(photo, "photo"), paper=paper)
    plan = planned(piece(apertures=(ask,), border=border("60")))
    (solved,) = plan.pieces
    pictures = Darkroom().pictures(plan.job, plan.pieces, lambda _: {"Slipway": (60.0, 75.0)})
    folio = Folio(job=plan.job, pieces=plan.pieces, plan=plan, pictures=pictures, album=Album())
    (page,) = drawn(folio, WindowOf(piece=solved, aperture=solved.apertures[0]))
    return page


def shown(page: Page) -> Box:
    """What of the image the strip shows, from the image's own top left corner, in mm."""
    (placed,) = page.prints
    assert isinstance(placed.shape, Rect)
    area = [Fraction(value).limit_denominator(1000) for value in (placed.shape.x, placed.shape.y)]
    wide, high = (Fraction(value).limit_denominator(1000) for value in (placed.shape.width, placed.shape.height))
    return Box(area[0] - placed.image.x, area[1] - placed.image.y, wide, high)


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    """Grey, with a black and a white patch side by side near the lower right corner."""
    picture = Image.new("RGB", (960, 1200), (128, 128, 128))
    picture.paste((0, 0, 0), (760, 1000, 800, 1040))
    picture.paste((255, 255, 255), (840, 1000, 880, 1040))
    path = tmp_path / "grey.png"
    picture.save(path)
    return path


def test_the_strip_is_at_final_size(photo: Path) -> None:
    page = strip(photo)
    assert page.size in (A6, A6.turned)
    assert page.prints[0].image.size == size("240 x 300")  # the whole image, of which the strip is a window
    part = shown(page)
    reach = RAG.printer_margin
    assert part.width == page.size.width - reach.left - reach.right
    assert 0 <= part.x <= 240 - part.width
    assert 0 <= part.y <= 300 - part.height


def test_the_strip_lies_where_the_deepest_and_the_brightest_tones_are(photo: Path) -> None:
    part = shown(strip(photo))
    # black from 190 to 200 mm (760 and 800 × 240 ÷ 960), white from 210 to 220 mm, both from 250 to 260 mm down
    assert part.x <= 190
    assert part.right > 210 + 4
    assert part.y <= 250
    assert part.bottom > 250 + 4


@pytest.mark.parametrize(
    ("at", "corner"),
    [
        ((Fraction(0), Fraction(0)), "top left"),
        ((Fraction(1, 2), Fraction(1, 2)), "middle"),
        ((Fraction(1), Fraction(1)), "bottom right"),
    ],
)
def test_strip_at_sets_the_middle_within_the_image(photo: Path, at: tuple[Fraction, Fraction], corner: str) -> None:
    part = shown(strip(photo, replace(STRIP, strip_at=at)))
    match corner:
        case "top left":
            assert [part.x, part.y] == [0, 0]
        case "middle":
            assert [part.x + part.width / 2, part.y + part.height / 2] == [120, 150]
        case _:
            assert [part.right, part.bottom] == [240, 300]


def test_a_print_smaller_than_the_strip_is_shown_whole(photo: Path) -> None:
    part = shown(strip(photo, image="60 x 75"))
    assert part == Box(Fraction(0), Fraction(0), Fraction(60), Fraction(75))


def test_the_file_has_the_photo_s_own_pixels_and_the_light_to_judge_by(photo: Path) -> None:
    page = strip(photo)
    words = " ".join(text.text for text in page.words)
    assert "about 500 lx" in words
    assert "ISO 3664" in words  # the practical appraisal of prints
    data = b"".join(print_pdf("strip", (page,)))
    (read,) = read_pdf(data).pages
    assert read.size == pytest.approx((float(page.size.width), float(page.size.height)), abs=0.01)
    low = max(text.at[1] for text in page.words)
    assert low <= float(page.size.height - RAG.printer_margin.bottom)
    assert isinstance(page.prints[0].shape, Rect)
    assert min(text.at[1] - text.size for text in page.words) > page.prints[0].shape.y + page.prints[0].shape.height


def test_without_a_small_sheet_there_is_no_strip(photo: Path) -> None:
    plan = planned(
        piece(apertures=(window(image="240 x 300", photo=read_photo(photo, "photo"), paper=RAG),), border=border("60"))
    )
    (solved,) = plan.pieces
    assert drawn(Folio(job=plan.job, pieces=plan.pieces), WindowOf(piece=solved, aperture=solved.apertures[0])) == ()


def test_no_piece_s_file_ends_as_a_strip_s_does() -> None:
    assert file_names(["Slip", "Slip strip"]) == ("slip", "slip-strip-piece")
