"""Several prints on one sheet: nothing overlaps, nothing lies where the printer cannot print, and only where it saves
sheets.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import matplan
from matplan.documents.prints.gang_sheet import gang_sheets
from matplan.documents.prints.shared_pages import gang_page
from matplan.drawing import clashes, svg
from matplan.faults import JobError
from matplan.job.read.photos import read_photo
from matplan.job.records import Paper, Piece, Show
from matplan.lengths import Box, Sides
from matplan.orders.gangs import GAP, Gang, Lying, footprint, gangs
from matplan.pack.print_pdf import print_pdf
from matplan.planning import Plan
from tests.documents.prints.test_print_pdf import at, page_size, pictures_on, rendered
from tests.documents.reading import boxed, near, on_paper, origin_of, scale_of
from tests.making import border, piece, planned, size, window
from tests.photographs import halves, turned_jpeg
from tests.readback import Shape, read_pdf, read_svg

A4 = Paper(name="a4", size=size("210 x 297"), printer_margin=Sides.all(Fraction(5)))
UNEVEN = Paper(
    name="uneven",
    size=size("329 x 483"),
    printer_margin=Sides(top=Fraction(3), right=Fraction(4), bottom=Fraction(20), left=Fraction(6)),
)


def prints(*images: str, name: str = "Slipway", paper: Paper = A4, quantity: int = 1, **changes: Any) -> Piece:
    """A piece with a window for each of those images, in one row."""
    asks = tuple(window(f"w{number}", image=image, paper=paper, **changes) for number, image in enumerate(images))
    return piece(
        name,
        apertures=asks,
        rows=(tuple(range(len(asks))),),
        gutter=Fraction(20),
        border=border("60"),
        quantity=quantity,
    )


def ganged(*pieces: Piece) -> tuple[Gang, ...]:
    return gangs(planned(*pieces).pieces)


# --- which lie together -----------------------------------------------------------------------------------------------


def test_two_13_by_18_on_an_a4_turned() -> None:
    """130 + 4 + 130 = 264 of the 287 mm and 180 of the 200 mm that the printer reaches; upright they would need 264 of
    200.
    """
    (gang,) = ganged(prints("130 x 180", quantity=2))
    assert [lying.box.size for lying in gang.prints] == [size("180 x 130")] * 2
    assert gang.copies == 1
    # in the middle: left (210 − 180) / 2, top (297 − 264) / 2
    assert [(lying.box.x, lying.box.y) for lying in gang.prints] == [
        (Fraction(15), Fraction(33, 2)),
        (Fraction(15), Fraction(301, 2)),
    ]


def test_an_odd_one_keeps_its_own_sheet() -> None:
    (gang,) = ganged(prints("130 x 180", quantity=3))
    assert (len(gang.prints), gang.copies) == (2, 1)


def test_equal_sheets_are_one_that_is_printed_often() -> None:
    (gang,) = ganged(prints("130 x 180", quantity=81))
    assert (len(gang.prints), gang.copies) == (2, 40)


def test_windows_and_pieces_share_a_paper() -> None:
    (gang,) = ganged(prints("130 x 180", name="Gull"), prints("180 x 130", name="Ferry"))
    assert [lying.piece.name for lying in gang.prints] == ["Gull", "Ferry"]
    assert [lying.turned for lying in gang.prints] == [True, False]


def test_papers_do_not_mix() -> None:
    other = Paper(name="other", size=A4.size, printer_margin=A4.printer_margin)
    assert not ganged(prints("130 x 180", name="Gull"), prints("130 x 180", name="Ferry", paper=other))


def test_nothing_is_proposed_where_it_saves_nothing() -> None:
    assert not ganged(prints("180 x 240", quantity=4))
    assert not ganged(prints("130 x 180"))
    assert not ganged(prints("205 x 100", quantity=4))  # wider than what the printer reaches


@pytest.mark.parametrize("changes", [{"show": Show.SHEET}, {"text": "Ferry steps"}])
def test_whole_sheets_and_captions_share_none(changes: dict[str, Any]) -> None:
    assert not ganged(prints("80 x 60", quantity=4, **changes))


def test_a_margin_takes_the_paper_that_the_mat_holds() -> None:
    """Image 100 + 2 × reveal 10 + 2 × overlap 3 = 126 wide."""
    plan = planned(prints("100 x 80", quantity=2, show=Show.MARGIN))
    (aperture,) = plan.pieces[0].apertures
    assert aperture.print is not None
    assert footprint(aperture, aperture.print).size == size("126 x 106")
    (gang,) = gangs(plan.pieces)
    for lying in gang.prints:
        assert lying.image.size == (size("80 x 100") if lying.turned else size("100 x 80"))
        assert lying.image.grown(Fraction(13)) == lying.box


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.integers(20, 210), st.integers(20, 210), st.integers(1, 30)), min_size=1, max_size=5),
    st.sampled_from([A4, UNEVEN]),
)
def test_every_sheet_can_be_printed_and_cut(wanted: list[tuple[int, int, int]], paper: Paper) -> None:
    pieces = [
        prints(f"{w} x {h}", name=f"P{n}", paper=paper, quantity=copies) for n, (w, h, copies) in enumerate(wanted)
    ]
    plan = planned(*pieces)
    found = gangs(plan.pieces)
    assert found == gangs(plan.pieces)
    assert [gang.number for gang in found] == list(range(1, len(found) + 1))
    made: Counter[str] = Counter()
    for gang in found:
        assert len(gang.prints) > 1
        assert gang.size in (paper.size, paper.size.turned)
        bare, as_it_is = gang.unreachable, paper.printer_margin
        sides = (bare.top, bare.right, bare.bottom, bare.left)
        upright = (as_it_is.top, as_it_is.right, as_it_is.bottom, as_it_is.left)
        # turned to the left, what was right is above
        assert sides == (upright if gang.size == paper.size else (*upright[1:], upright[0]))
        reach = Box(bare.left, bare.top, gang.size.width - bare.across, gang.size.height - bare.down)
        for lying in gang.prints:
            assert lying.box.within(reach)
            assert lying.image.within(lying.box)
            made[lying.piece.name] += gang.copies
        for one, other in combinations(gang.prints, 2):
            a, b = one.box, other.box
            assert max(a.x - b.right, b.x - a.right, a.y - b.bottom, b.y - a.bottom) >= GAP
    assert all(made[solved.name] <= solved.ask.quantity for solved in plan.pieces)


# --- the drawing ------------------------------------------------------------------------------------------------------


def mixed() -> Plan:
    return planned(
        prints("100 x 150", "150 x 100", name="Gull", paper=UNEVEN),
        prints("120 x 120", name="Ferry", paper=UNEVEN, show=Show.MARGIN),
        prints("40 x 60", name="Tern", paper=UNEVEN, quantity=30),
    )


def test_the_drawing_shows_each_print_at_its_place() -> None:
    plan = mixed()
    found = gangs(plan.pieces)
    assert found
    for gang in found:
        sheets = gang_sheets(plan.job, gang, {}, {})
        assert not [clash for sheet in sheets for clash in clashes.check(sheet)]
        sheet = sheets[0]
        reading = read_svg(svg.render(sheet))
        scale, origin = scale_of(reading), origin_of(reading, "paper")
        images = [part for part in reading.named("image") if isinstance(part, Shape)]
        assert [part.box for part in images] == [boxed(lying.image) for lying in gang.prints]
        for part, lying in zip(images, gang.prints, strict=True):
            assert near(part.bounds, on_paper(lying.image, origin, scale))
        (paper,) = reading.named("paper")
        assert paper.box == boxed(Box.of(gang.size))


def test_the_list_names_what_lies_on_it() -> None:
    plan = planned(prints("130 x 180", name="Gull", quantity=4))
    (gang,) = gangs(plan.pieces)
    (sheet,) = gang_sheets(plan.job, gang, {}, {})
    reading = read_svg(svg.render(sheet))
    assert reading.says(
        "Print this sheet 2 times instead of 4 sheets with one print each; paper 210 × 297 mm, portrait, at 100 %."
    )
    for text in ("Gull", "130 × 180 mm", "16.5 mm", "150.5 mm", "turned a quarter", "they lie 4 mm apart at least"):
        assert reading.says(text)
    assert not reading.says(".pdf")  # without photos there is none


@pytest.mark.parametrize(("image", "quantity", "many"), [("40 x 40", 40, 24), ("20 x 20", 90, 90)])
def test_every_print_has_a_number_on_the_drawing_and_its_place_in_the_list(
    image: str, quantity: int, many: int
) -> None:
    plan = planned(prints(image, name="Gull", quantity=quantity))
    gang = gangs(plan.pieces)[0]
    assert len(gang.prints) == many  # columns and rows of prints 4 mm apart within the printer's 5 mm
    sheets = gang_sheets(plan.job, gang, {}, {})
    assert len(sheets) > 1  # the list has sheets of its own
    assert not [clash for sheet in sheets for clash in clashes.check(sheet)]
    drawn = [t.text for t in sheets[0].texts() if "print-number" in t.classes]
    assert drawn == [str(number) for number in range(1, many + 1)]
    listed = [text.text for sheet in sheets[1:] for text in sheet.texts()]
    assert all(listed.count(number) == 1 for number in drawn)
    for lying in gang.prints:
        assert plan.job.printer.length(lying.image.x) in listed
        assert plan.job.printer.length(lying.image.y) in listed


# --- the photos in place ----------------------------------------------------------------------------------------------


def test_the_pdf_has_every_photo_at_its_place_with_its_own_pixels(tmp_path: Path) -> None:
    photo = read_photo(turned_jpeg(tmp_path / "a.jpg", 900, 600, 6), "photo")
    lying_photo = read_photo(turned_jpeg(tmp_path / "b.jpg", 900, 600, 1), "photo")
    plan = planned(
        prints("120 x 180", name="Gull", quantity=2, photo=photo),
        prints("180 x 120", name="Ferry", quantity=2, photo=lying_photo),
    )
    found = gangs(plan.pieces)
    assert any(lying.turned for gang in found for lying in gang.prints)
    for gang in found:
        page = gang_page(gang)
        assert page is not None
        data = b"".join(print_pdf("prints", (page,)))
        assert page_size(data) == pytest.approx((float(gang.size.width), float(gang.size.height)), abs=0.001)
        placed = pictures_on(data)
        wanted = [
            tuple(float(v) for v in (i.x, i.y, i.width, i.height)) for i in (lying.image for lying in gang.prints)
        ]
        assert [p.box for p in placed] == [pytest.approx(box, abs=0.001) for box in wanted]
        assert {p.stored for p in placed} <= {(tmp_path / name).read_bytes() for name in ("a.jpg", "b.jpg")}
        shown = rendered(data, scale=2)
        for lying in gang.prints:
            image = lying.image
            x, y, w, h = (float(v) for v in (image.x, image.y, image.width, image.height))
            # as seen "Gull" is red on its right and blue on its left, "Ferry" red above and blue below; turned left,
            # right becomes top
            red = (0.8, 0.5) if lying.piece.name == "Gull" else (0.5, 0.2)
            if lying.turned:
                red = (red[1], 1 - red[0])
            pixel = at(shown, page_size(data), x + red[0] * w, y + red[1] * h)
            other = at(shown, page_size(data), x + (1 - red[0]) * w, y + (1 - red[1]) * h)
            assert pixel.index(max(pixel)) == 0
            assert other.index(max(other)) == 2


@pytest.mark.parametrize(
    ("image", "show"),
    [
        ("318 x 100", Show.IMAGE),  # moved on its sheet: 6 mm on the left, 5 mm on the right
        ("100.5 x 80.3", Show.MARGIN),  # 9.75 mm of white at the sides, 9.85 mm above and below
    ],
)
@pytest.mark.parametrize("turned", [False, True])
def test_a_print_lies_in_its_footprint_however_it_lay_on_its_own_sheet(
    tmp_path: Path, image: str, show: Show, turned: bool
) -> None:
    width, height = (float(side) for side in image.split(" x "))
    halves(round(width * 10), round(height * 10)).save(tmp_path / "a.png")
    plan = planned(prints(image, paper=UNEVEN, show=show, photo=read_photo(tmp_path / "a.png", "photo")))
    (solved,) = plan.pieces
    (aperture,) = solved.apertures
    assert aperture.print is not None
    foot = footprint(aperture, aperture.print)
    box = Box.of(foot.size.turned if turned else foot.size, Fraction(20), Fraction(30))
    lying = Lying(piece=solved, aperture=aperture, box=box, turned=turned)
    gang = Gang(
        paper=UNEVEN,
        file="gang",
        number=1,
        size=size("483 x 483"),
        unreachable=UNEVEN.printer_margin,
        prints=(lying,),
        copies=1,
    )
    page = gang_page(gang)
    assert page is not None
    (placed,) = pictures_on(b"".join(print_pdf("prints", (page,))))
    across, down = (box.width - float(lying.image.width)) / 2, (box.height - float(lying.image.height)) / 2
    wanted = (20 + float(across), 30 + float(down), *((height, width) if turned else (width, height)))
    assert placed.box == pytest.approx(wanted, abs=0.001)
    assert tuple(map(float, (lying.image.x, lying.image.y))) == pytest.approx(wanted[:2])


def test_corner_marks_stay_off_every_image(tmp_path: Path) -> None:
    halves(600, 400).save(tmp_path / "a.jpg")
    photo = read_photo(tmp_path / "a.jpg", "photo")
    (gang,) = ganged(prints("90 x 60", quantity=6, photo=photo))
    page = gang_page(gang)
    assert page is not None
    (reading,) = read_pdf(b"".join(print_pdf("prints", (page,)))).pages
    marks = [shape.points for shape in reading.shapes]
    assert len(marks) == 8 * len(gang.prints)
    for points in marks:
        for lying in gang.prints:
            box = lying.image
            for x, y in points:
                inside = float(box.x) < x < float(box.right) and float(box.y) < y < float(box.bottom)
                assert not inside


JOB = """
title = "Ferry steps"
[paper.a4]
size = "A4"
printer_margin = "5 mm"
[[piece]]
name = "Gang a4 1"
frame = "30x40 cm"
photo = "a.jpg"
image = "130 x 180 mm"
quantity = 4
paper = "a4"
"""


def test_the_pack_has_the_shared_sheets_beside_the_single_ones(tmp_path: Path) -> None:
    halves(600, 900).save(tmp_path / "a.jpg")
    (tmp_path / "job.toml").write_text(JOB)
    plan = matplan.plan(matplan.read_job(tmp_path / "job.toml"))
    matplan.make(plan, tmp_path / "pack", only=["print", "workshop"])
    files = sorted(path.name for path in (tmp_path / "pack/print").iterdir())
    assert files == ["gang-a4-1.pdf", "gang-a4-1.svg", "piece-gang-a4-1.pdf", "piece-gang-a4-1.svg"]
    reading = read_svg((tmp_path / "pack/print/gang-a4-1.svg").read_bytes())
    assert len(reading.pictures) == 2
    assert reading.says("print/gang-a4-1.pdf has the photos in place")
    contents = read_pdf((tmp_path / "pack/workshop.pdf").read_bytes()).pages[0]
    assert any("print/gang-a4-1.svg" in text.text for text in contents.texts)


def test_a_job_that_cannot_be_solved_has_none() -> None:
    with pytest.raises(JobError):
        ganged(piece(apertures=(window(paper=A4),)))
