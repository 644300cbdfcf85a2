"""The print sheet: the image lies on its paper as the margins say, measured from the paper's corner."""

from __future__ import annotations

import base64
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matplan.documents.parts.pictures import Picture
from matplan.documents.prints.print_sheet import is_printed, picture_size, print_sheet
from matplan.drawing import clashes, pdf, svg
from matplan.job.records import ApertureAsk, Paper, Piece, Show
from matplan.lengths import Box, Sides, Units
from matplan.planning import Plan
from tests.documents.reading import bounds_of, boxed, check_dimensions, near, on_paper, origin_of, scale_of
from tests.laws.strategies import pieces, plan_of
from tests.making import RAG, border, frame, photo, piece, planned, size, window
from tests.readback import Bundle, Lettering, Reading, Shape, read_pdf, read_svg

PNG = base64.b64decode("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNgAAAAAgABSK+kcQAAAABJRU5ErkJggg==")


def one(ask: ApertureAsk, units: Units = Units.MM) -> Plan:
    return planned(piece(apertures=(ask,), border=border("60"), frame=frame()), units=units)


def read(plan: Plan) -> Reading:
    solved = plan.pieces[0]
    return read_svg(svg.render(print_sheet(plan.job, solved, solved.apertures[0], {})))


def box_of(reading: Reading, name: str) -> list[Fraction]:
    (part,) = reading.named(name)
    assert part.box is not None
    return list(part.box)


def test_the_image_lies_in_the_papers_own_coordinates() -> None:
    reading = read(one(window(image="250 x 167", paper=RAG)))
    assert box_of(reading, "paper") == [0, 0, 329, 483]
    # left (329 − 250) / 2, top (483 − 167) / 2
    assert box_of(reading, "image") == [Fraction("39.5"), 158, 250, 167]


def test_a_photo_is_drawn_at_its_place() -> None:
    plan = one(window(image="250 x 167", paper=RAG))
    solved = plan.pieces[0]
    photo_at = {("slipway", "Slipway"): Picture(data=PNG, media="image/png", pixels=(1, 1))}
    reading = read_svg(svg.render(print_sheet(plan.job, solved, solved.apertures[0], photo_at)))
    (picture,) = reading.pictures
    (image,) = reading.named("image")
    assert near(picture.bounds, bounds_of(image))
    assert picture.content == PNG
    assert not reading.says("image")


def test_margins_and_image_make_the_paper() -> None:
    reading = read(one(window(image="250 x 167", paper=RAG)))
    across = [box_of(reading, name)[2] for name in ("margin-left", "size-width", "margin-right")]
    down = [box_of(reading, name)[3] for name in ("margin-top", "size-height", "margin-bottom")]
    assert sum(across) == box_of(reading, "size-paper-width")[2] == 329
    assert sum(down) == box_of(reading, "size-paper-height")[3] == 483


def test_the_unreachable_edge_is_drawn_inside_the_paper() -> None:
    uneven = replace(
        RAG, printer_margin=Sides(top=Fraction(3), right=Fraction(4), bottom=Fraction(20), left=Fraction(4))
    )
    assert box_of(read(one(window(image="250 x 167", paper=uneven))), "printable") == [4, 3, 321, 460]


def test_a_printer_without_margins_has_no_unreachable_edge() -> None:
    borderless = Paper(name="roll", size=size("329 x 483"))
    assert not read(one(window(image="250 x 167", paper=borderless))).named("printable")


def test_a_sheet_that_lies_says_landscape() -> None:
    plan = one(window(image="450 x 300", paper=RAG))
    reading = read(plan)
    assert box_of(reading, "paper") == [0, 0, 483, 329]
    assert ticked(reading)["Orientation"] == "landscape"
    assert ticked(reading)["Paper"] == "rag, 483 × 329 mm"


def test_the_word_for_the_image_stands_clear_of_a_narrow_printable_edge() -> None:
    plan = one(
        window(
            image="25 x 300", paper=Paper(name="strip", size=size("30 x 400"), printer_margin=Sides.all(Fraction(5)))
        )
    )
    solved = plan.pieces[0]
    assert clashes.check(print_sheet(plan.job, solved, solved.apertures[0], {})) == ()


def test_pixels_are_told() -> None:
    reading = read(one(window(image="252 x 168", photo=photo(3000, 2000), paper=RAG)))
    # 252 mm / 25.4 × 320 ppi = 3174.8; 3000 / (252 / 25.4) = 302.4 ppi
    for text in ("3175 × 2117", "3000 × 2000", "302 ppi"):
        assert reading.says(text)


def test_a_floated_work_without_paper_is_a_sheet_cut_to_the_image() -> None:
    reading = read(one(window(image="200 x 300", show=Show.SHEET)))
    assert box_of(reading, "paper") == box_of(reading, "image") == [0, 0, 200, 300]
    assert reading.says("cut to the image")


def test_a_window_without_paper_has_no_sheet() -> None:
    plan = one(window(image="250 x 167"))
    solved = plan.pieces[0]
    assert not is_printed(solved.apertures[0])
    with pytest.raises(ValueError, match="has no sheet to print; name a paper"):
        print_sheet(plan.job, solved, solved.apertures[0], {})


def test_the_pdf_has_the_same_rectangles() -> None:
    plan = one(window(image="250 x 167", paper=RAG))
    solved = plan.pieces[0]
    sheet = print_sheet(plan.job, solved, solved.apertures[0], {})
    (page,) = read_pdf(pdf.render(sheet)).pages
    for name in ("paper", "image", "printable"):
        (part,) = read_svg(svg.render(sheet)).named(name)
        assert any(near(bounds_of(part), shape.bounds) for shape in page.shapes)


@settings(max_examples=40, deadline=None)
@given(pieces(3), st.sampled_from(list(Units)))
def test_what_is_drawn_is_what_was_solved(ask: Piece, units: Units) -> None:
    plan = plan_of(ask, units=units)
    solved = plan.pieces[0]
    for aperture in solved.apertures:
        if aperture.print is None:
            continue
        sheet = print_sheet(plan.job, solved, aperture, {})
        assert clashes.check(sheet) == ()
        reading = read_svg(svg.render(sheet))
        scale, origin, made = scale_of(reading), origin_of(reading, "paper"), aperture.print
        image = Box(made.margins.left, made.margins.top, aperture.image.width, aperture.image.height)
        for name, box in (("paper", Box.of(made.size)), ("image", image)):
            (part,) = reading.named(name)
            assert part.box == boxed(box)
            assert near(bounds_of(part), on_paper(box, origin, scale))
        assert picture_size(plan.job, solved, aperture) == pytest.approx(on_paper(image, origin, scale)[2:])
        assert check_dimensions(reading, plan.job.printer) >= 4


# --- the card beside the print dialog --------------------------------------------------------------------------------


def ticked(reading: Reading) -> dict[str, str]:
    """What stands to tick off: each setting and its value."""
    (ticks,) = (bundle for bundle in reading.named("ticks") if isinstance(bundle, Bundle))
    boxes = [part for part in ticks.parts if isinstance(part, Shape) and "tick" in part.classes]
    texts = [part.text for part in ticks.parts if isinstance(part, Lettering)][1:]
    pairs = dict(zip(texts[::2], texts[1::2], strict=True))
    assert len(boxes) == len(pairs)
    return pairs


def test_every_setting_of_a_print_dialog_is_a_line_to_tick() -> None:
    rag = replace(RAG, profile="rag-matt.icc", media="heavy fine art", ppi=Fraction(360))
    assert ticked(read(one(window(image="240 x 300", paper=rag)))) == {
        "Paper": "rag, 329 × 483 mm",
        "Orientation": "portrait",
        "Borderless": "no",
        "Scale": "100 %, not fitted to the page",
        "Image size": "240 × 300 mm",
        "Margin top": "91.5 mm",  # (483 − 300) ÷ 2
        "Margin bottom": "91.5 mm",
        "Margin left": "44.5 mm",  # (329 − 240) ÷ 2
        "Margin right": "44.5 mm",
        "Pixels per inch": "360",
        "Colour profile": "rag-matt.icc",
        "Paper type": "heavy fine art",
        "Colours": "managed by one program only",
        "Quantity": "1",
    }


def test_what_nobody_named_is_said_in_words() -> None:
    bare = replace(RAG, printer_margin=Sides.all(Fraction(0)))
    found = ticked(read(one(window(image="240 x 300", paper=bare))))
    assert found["Borderless"] == "yes"
    assert found["Colour profile"] == "the one for this paper and printer"
    assert found["Paper type"] == "as the paper's maker says"


def test_margins_in_inches_give_the_paper_with_the_image_between() -> None:
    """22 in less 10 15/16 leaves 5 17/32 at either side: to the nearest sixteenth they would give 22 1/16."""
    paper = replace(RAG, size=size("22x30 in"))
    found = ticked(read(one(window(image="10 15/16 x 14 in", paper=paper), Units.IN)))
    assert (found["Margin left"], found["Margin right"]) == ("5.531 in", "5.531 in")
    assert found["Margin top"] == "8 in"
    assert found["Image size"].startswith("10 15/16 ×")


def test_a_sheet_cut_to_its_image_has_no_margins_to_type() -> None:
    found = ticked(read(one(window(image="240 x 300", paper=None, show=Show.SHEET))))
    assert found["Paper"] == "any larger than 240 × 300 mm"
    assert found["Margins"] == "as that paper leaves them"
    assert "Margin top" not in found
