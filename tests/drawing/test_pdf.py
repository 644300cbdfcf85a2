"""What a PDF holds beyond the drawings themselves."""

from dataclasses import replace

import pypdfium2
import pytest

from matplan.drawing import arcs, pdf
from matplan.drawing.book import Book, Chapter
from matplan.drawing.items import ArcTo, Link
from tests.drawing.samples import SAMPLE, sheet_of
from tests.readback import read_pdf

BOOK = Book(
    title="Ferry steps",
    chapters=(
        Chapter(
            title="Contents", sheets=(sheet_of(Link(x=20, y=20, width=60, height=8, target="b"), name="contents"),)
        ),
        Chapter(
            title="Cutting",
            sheets=(
                replace(SAMPLE, name="a", title="Layer 1"),
                replace(SAMPLE, name="b", title="Layer 2", size=(279.4, 215.9)),
            ),
        ),
    ),
)


def test_each_chapter_has_a_bookmark_and_its_sheets_below() -> None:
    reading = read_pdf(pdf.render(BOOK))
    assert reading.bookmarks == ((0, "Contents", 0), (0, "Cutting", 1), (1, "Layer 1", 1), (1, "Layer 2", 2))


def test_each_page_is_as_large_as_its_sheet() -> None:
    sizes = [page.size for page in read_pdf(pdf.render(BOOK)).pages]
    assert [(round(w, 2), round(h, 2)) for w, h in sizes] == [(210, 297), (210, 297), (279.4, 215.9)]


def test_single_sheets_have_bookmarks_of_their_own() -> None:
    reading = read_pdf(pdf.render((SAMPLE, replace(SAMPLE, name="c", title="Other"))))
    assert [title for _, title, _ in reading.bookmarks] == ["Sample & <proof>", "Other"]
    assert len(read_pdf(pdf.render(SAMPLE)).pages) == 1


def _links(content: bytes) -> list[int]:
    import ctypes

    from pypdfium2 import raw

    document = pypdfium2.PdfDocument(content)
    page = document[0]
    found, start, link = [], ctypes.c_int(0), raw.FPDF_LINK()
    while raw.FPDFLink_Enumerate(page, start, link):
        found.append(raw.FPDFDest_GetDestPageIndex(document, raw.FPDFLink_GetDest(document, link)))
    return found


def test_link_leads_to_its_sheet() -> None:
    assert _links(pdf.render(BOOK)) == [2]


def test_link_to_a_sheet_that_is_not_in_the_book_is_left_out() -> None:
    assert _links(pdf.render(sheet_of(Link(x=1, y=1, width=5, height=5, target="elsewhere")))) == []


def test_title_names_the_file() -> None:
    document = pypdfium2.PdfDocument(pdf.render(BOOK))
    assert document.get_metadata_dict()["Title"] == "Ferry steps"
    assert not document.get_metadata_dict()["Author"]


def test_fonts_are_embedded() -> None:
    content = pdf.render(SAMPLE)
    assert content.count(b"/FontFile2") >= 2  # regular and bold
    assert b"SheetSans-Bold" in content


def test_one_picture_on_many_sheets_is_stored_once() -> None:
    single = pdf.render(SAMPLE)
    several = pdf.render([replace(SAMPLE, name=f"s{n}") for n in range(5)])
    assert several.count(b"/Subtype /Image") == single.count(b"/Subtype /Image")


def test_quarter_arc_is_the_known_curve() -> None:
    """A quarter circle's controls stand 0.5523 radii from its ends (4/3 · tan(π/8), a value every handbook has)."""
    ((first, second, end),) = arcs.beziers((0, 0), ArcTo(end=(10, 10), rx=10, ry=10))
    assert first == pytest.approx((5.5228, 0), abs=1e-3)
    assert second == pytest.approx((10, 4.4772), abs=1e-3)
    assert end == (10, 10)


def test_arc_with_radii_too_small_grows() -> None:
    """SVG 1.1, F.6.6: they are scaled up until the arc just reaches."""
    arc = arcs.Arc.of((0, 0), ArcTo(end=(20, 0), rx=5, ry=5))
    assert arc is not None
    assert (arc.rx, arc.ry) == (10, 10)
    assert arc.centre == pytest.approx((10, 0))


def test_arc_without_radius_is_a_line_and_to_itself_nothing() -> None:
    assert list(arcs.beziers((0, 0), ArcTo(end=(20, 0), rx=0, ry=5))) == [((0, 0), (20, 0), (20, 0))]
    assert list(arcs.beziers((3, 3), ArcTo(end=(3, 3), rx=5, ry=5))) == []


def test_sheet_with_nothing_on_it_is_a_page() -> None:
    (page,) = read_pdf(pdf.render(sheet_of())).pages
    assert page.marks == ()
