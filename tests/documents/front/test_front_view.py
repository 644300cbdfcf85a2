"""The front view: drawn boxes, dimensions and figures equal the model, whatever the piece."""

from __future__ import annotations

import io
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from matplan.documents.front.letters import letters_of
from matplan.documents.front.view import front_view, picture_sizes
from matplan.documents.parts.folio import Folio
from matplan.documents.parts.framed import extent, model_box
from matplan.documents.parts.free_places import Taken
from matplan.documents.parts.pictures import Picture
from matplan.documents.parts.side_lines import lined
from matplan.drawing import clashes, lettering, pdf, svg
from matplan.drawing.dimensions import NORMAL
from matplan.drawing.items import Area, Group, Line, Rect, Text
from matplan.drawing.pens import Pen
from matplan.drawing.sheet import Sheet
from matplan.job.records import Cut, LayerAsk, Paper, Piece, Shape, Show
from matplan.lengths import Box, Size, Units
from matplan.mats.budgets import tightest
from matplan.mats.gauge import window_letters
from matplan.planning import Plan
from tests.documents.reading import (
    bounds_of,
    boxed,
    check_dimensions,
    near,
    on_paper,
    origin_of,
    scale_of,
)
from tests.laws.strategies import pieces, plan_of
from tests.making import CHARCOAL, RAG, WHITE, border, double_mat, frame, mm, photo, piece, planned, size, window
from tests.readback import Bundle, Lettering, Reading, read_pdf, read_svg
from tests.readback import Picture as ReadPicture
from tests.readback import Shape as ReadShape

SLIPWAY: dict[str, Any] = {
    "apertures": (window(image="250 x 167", photo=photo(3000, 2000), paper=RAG),),
    "frame": frame("40 x 50 cm"),
}


def jpeg() -> Picture:
    from PIL import Image

    out = io.BytesIO()
    Image.new("RGB", (30, 20), "#4060a0").save(out, "JPEG")
    return Picture(data=out.getvalue(), media="image/jpeg", pixels=(30, 20))


def read(plan: Plan, **pictures: Picture) -> Reading:
    """The front view of a plan's only piece, from its SVG."""
    keyed = {("slipway", name): picture for name, picture in pictures.items()}
    return read_svg(svg.render(front_view(plan.job, plan.pieces[0], keyed)[0]))


def the_box(reading: Reading, name: str) -> list[Fraction]:
    (part,) = reading.named(name)
    assert part.box is not None
    return list(part.box)


def test_frame_sight_and_blank_lie_in_the_plans_coordinates() -> None:
    reading = read(planned(piece(**SLIPWAY)))
    # blank 400 × 500; rabbet 403 × 503, lip 6: sight 391 × 491, 4.5 in from the blank's edge; rail 20
    assert the_box(reading, "blank") == [0, 0, 400, 500]
    assert the_box(reading, "sight") == [Fraction("4.5"), Fraction("4.5"), 391, 491]
    assert the_box(reading, "frame-outer") == [Fraction("-15.5"), Fraction("-15.5"), 431, 531]


def test_without_a_rail_there_is_no_outer_edge() -> None:
    reading = read(planned(piece(**SLIPWAY | {"frame": frame("40 x 50 cm", rail=None)})))
    assert not reading.named("frame-outer")
    assert the_box(reading, "sight")[2:] == [391, 491]


def test_a_photo_is_drawn_at_the_images_place() -> None:
    plan = planned(piece(**SLIPWAY))
    reading = read(plan, Slipway=jpeg())
    (image,) = (m for m in reading.named("image") if isinstance(m, ReadPicture))
    aperture = plan.pieces[0].apertures[0]
    assert image.box == boxed(aperture.image)
    assert image.content == jpeg().data
    assert near(image.bounds, on_paper(aperture.image, origin_of(reading, "blank"), scale_of(reading)))
    assert not reading.says("image")


def test_without_a_photo_a_field_says_so() -> None:
    reading = read(planned(piece(**SLIPWAY)))
    assert not reading.pictures
    assert [t.text for t in reading.texts].count("image") == 1


def test_pictures_are_asked_for_as_large_as_they_are_drawn() -> None:
    plan = planned(piece(**SLIPWAY))
    (drawn,) = read(plan, Slipway=jpeg()).pictures
    (asked,) = picture_sizes(Folio(job=plan.job, pieces=plan.pieces), plan.pieces[0]).values()
    assert asked == pytest.approx(drawn.bounds[2:], abs=0.01)


def test_the_pdf_has_the_same_rectangles() -> None:
    plan = planned(piece(**SLIPWAY))
    sheet = front_view(plan.job, plan.pieces[0], {})[0]
    (page,) = read_pdf(pdf.render(sheet)).pages
    for part in read_svg(svg.render(sheet)).shapes:
        if part.tag == "rect" and part.box is not None:
            assert any(near(part.bounds, shape.bounds) for shape in page.shapes)


def test_a_bevel_is_seen_as_a_strip_of_the_boards_thickness() -> None:
    """At 45° the face opening is the back opening grown by the thickness (derived)."""
    reading = read(planned(piece(**SLIPWAY)))
    face, back = the_box(reading, "face-opening"), the_box(reading, "back-opening")
    thickness = WHITE.thickness
    assert face == [back[0] - thickness, back[1] - thickness, back[2] + 2 * thickness, back[3] + 2 * thickness]


@pytest.mark.parametrize("cut", [Cut.REVERSE, Cut.STRAIGHT])
def test_edges_that_the_eye_does_not_see_are_not_drawn(cut: Cut) -> None:
    reading = read(planned(piece(**SLIPWAY | {"mat": (LayerAsk(board=WHITE, reveal=Fraction(0), cut=cut),)})))
    assert not reading.named("back-opening")
    assert len(reading.named("face-opening")) == 1


def test_behind_a_reverse_cut_the_dimensions_go_to_the_face_that_is_seen() -> None:
    """The borders of the table and those between the arrows are one: sight edge to face."""
    plan = planned(piece(**SLIPWAY | {"mat": (LayerAsk(board=WHITE, reveal=Fraction(0), cut=Cut.REVERSE),)}))
    (shown,) = plan.pieces[0].apertures
    measured = [d.box for d in read(plan).named("dimension") if d.box is not None]
    assert shown.seen.box.width != shown.opening.width
    assert any(box[0] == shown.seen.box.x and box[2] == shown.seen.box.width for box in measured)
    assert any(box[2] == shown.visible.left for box in measured)


def test_a_mount_is_drawn_behind_a_work_that_floats() -> None:
    asked = window(image="200 x 300", show=Show.SHEET)
    reading = read(planned(piece(apertures=(asked,), frame=frame("50 x 70 cm"), mat=(), mount=CHARCOAL)))
    assert CHARCOAL.colour in {shape.fill for shape in reading.shapes if "mount" in shape.classes}
    assert the_box(reading, "paper") == [150, 200, 200, 300]


def test_boards_have_their_colours() -> None:
    fills = {s.fill for s in read(planned(piece(**SLIPWAY | {"mat": double_mat()}))).shapes}
    assert {WHITE.colour, CHARCOAL.colour} <= fills


def test_a_floated_sheet_is_drawn_with_its_margins() -> None:
    ask = window(image="200 x 300", show=Show.SHEET, paper=RAG)
    plan = planned(piece(apertures=(ask,), frame=frame("50 x 70 cm")))
    x, y, width, height = the_box(read(plan), "paper")
    image = plan.pieces[0].apertures[0].image
    assert [width, height] == [329, 483]
    assert (image.x - x, image.y - y) == (Fraction("64.5"), Fraction("91.5"))  # (329 − 200) / 2, (483 − 300) / 2


def test_a_sheet_larger_than_the_frame_is_cut_off_at_its_window() -> None:
    huge = Paper(name="roll", size=size("2000 x 3000"))
    plan = planned(
        piece(apertures=(window(image="200 x 300", show=Show.MARGIN, paper=huge),), frame=frame("50 x 70 cm"))
    )
    sheet = front_view(plan.job, plan.pieces[0], {})[0]
    (work,) = (item for item in sheet.items if isinstance(item, Group) and "work" in item.classes)
    opening = plan.pieces[0].apertures[0].opening
    assert isinstance(work.clip, Rect)
    assert sheet.scale is not None
    assert (work.clip.width, work.clip.height) == pytest.approx(
        (opening.width * sheet.scale, opening.height * sheet.scale)
    )


def test_without_a_mat_the_sheet_is_cut_off_at_the_sight() -> None:
    plan = planned(
        piece(apertures=(window(aspect="3:2"),), frame=frame("60 x 40 cm"), mat=(), glazing=None, backing=None)
    )
    sheet = front_view(plan.job, plan.pieces[0], {})[0]
    assert clashes.check(sheet) == ()
    (work,) = (item for item in sheet.items if isinstance(item, Group) and "work" in item.classes)
    assert isinstance(work.clip, Rect)
    assert sheet.scale is not None
    assert work.clip.width == pytest.approx(591 * sheet.scale)  # rabbet 603 − 2 × lip 6
    assert not any("face-opening" in item.classes for item in sheet.items)


def test_a_caption_window_shows_its_words() -> None:
    windows = (window("photo", image="200 x 150"), window("title", image="80 x 30", text="Low water"))
    plan = planned(piece(apertures=windows, rows=((0,), (1,)), gutter=Fraction(20), border=border("50"), frame=frame()))
    reading = read(plan)
    assert reading.says("Low water")
    assert len(reading.named("image")) == 1
    assert len(reading.named("face-opening")) == 2


@pytest.mark.parametrize(("shape", "tag"), [(Shape.OVAL, "ellipse"), (Shape.ARCH, "path"), (Shape.OCTAGON, "polygon")])
def test_shaped_windows_keep_their_shape(shape: Shape, tag: str) -> None:
    plan = planned(piece(apertures=(window(image="150 x 200", shape=shape),), border=border("60"), frame=frame()))
    reading = read(plan)
    (back,) = reading.named("back-opening")
    assert isinstance(back, ReadShape)
    assert back.tag == tag
    assert back.box == boxed(plan.pieces[0].apertures[0].opening)
    x, y, width, height = on_paper(plan.pieces[0].apertures[0].opening, origin_of(reading, "blank"), scale_of(reading))
    left, top, wide, high = back.bounds
    # the vertices of an arch's path are the ends of its pieces: its top is none of them
    assert (left, wide, top + high) == pytest.approx((x, width, y + height), abs=0.01)


def test_borders_and_opening_make_the_sight() -> None:
    plan = planned(piece(**SLIPWAY))
    reading = read(plan)
    labels = [Fraction(label_of(reading, f"across-{n}")) for n in (1, 2, 3)]
    assert labels == [Fraction("73.5"), 244, Fraction("73.5")]
    assert sum(labels) == 391


def label_of(reading: Reading, name: str) -> str:
    """A dimension's label."""
    (group,) = reading.named(name)
    assert isinstance(group, Bundle)
    (label,) = (part.text for part in group.parts if isinstance(part, Lettering))
    return label


def test_findings_are_printed_in_words() -> None:
    ask = window(image="250 x 167", photo=photo(300, 200))
    plan = planned(piece(apertures=(ask,), frame=frame("40 x 50 cm")))
    text = " ".join(t.text for t in read(plan).texts)
    assert plan.pieces[0].findings
    for finding in plan.pieces[0].findings:
        assert finding.text in text


def many(count: int, across: int, **changes: Any) -> Plan:
    """A piece of so many windows, `across` in a row."""
    windows = tuple(window(f"Window {n} of the long jetty", image="60 x 40", photo=photo(90, 60)) for n in range(count))
    rows = tuple(tuple(range(n, min(n + across, count))) for n in range(0, count, across))
    asks: dict[str, Any] = {"gutter": Fraction(20), "border": border("50"), "frame": frame()} | changes
    return planned(piece(apertures=windows, rows=rows, **asks))


@pytest.mark.parametrize(("count", "across"), [(2, 2), (8, 4), (24, 6), (40, 8), (40, 40), (30, 1)])
def test_every_window_has_its_letter_once_and_its_row_with_its_name(count: int, across: int) -> None:
    plan = many(count, across)
    sheets = front_view(plan.job, plan.pieces[0], {})
    assert all(clashes.check(sheet) == () for sheet in sheets)
    assert len({sheet.name for sheet in sheets}) == len(sheets)
    assert len(read_svg(svg.render(sheets[0])).named("face-opening")) == count
    letters = window_letters(plan.pieces[0].ask.rows)
    drawn_letters = {
        dict(text.data)["aperture"]: text.text for text in sheets[0].texts() if "window-letter" in text.classes
    }
    assert drawn_letters == dict(zip((a.name for a in plan.pieces[0].apertures), letters, strict=True))
    assert len({text.size for text in sheets[0].texts() if "window-letter" in text.classes}) == 1
    words = [text.text for sheet in sheets for text in sheet.texts()]
    for aperture, letter in zip(plan.pieces[0].apertures, letters, strict=True):
        assert words.count(letter) == 2  # on the drawing and in its row
        assert words.count(aperture.name) == 1
        assert sum(finding.where == aperture.name for finding in plan.pieces[0].findings) == sum(
            f"({aperture.name})" in word for word in words
        )


def test_the_paper_is_the_larger_one_only_where_the_letters_have_no_room() -> None:
    assert front_view_of(many(40, 8))[0].size == (297.0, 210.0)
    assert front_view_of(many(40, 40))[0].size == (420.0, 297.0)


def row_of_narrow_windows() -> Plan:
    windows = tuple(window(f"w{n}", image="26 x 206") for n in range(60))
    rows = (tuple(range(60)),)
    return planned(piece(apertures=windows, rows=rows, gutter=Fraction(5), border=border("50"), frame=frame()))


@pytest.mark.parametrize(
    "plan",
    [
        many(8, 4),
        many(40, 8),
        many(40, 8, mat=double_mat()),
        many(4, 2, border=border("10"), gutter=Fraction(12)),
        row_of_narrow_windows(),
    ],
    ids=["8", "40", "double mat", "narrow", "60 in a row"],
)
def test_no_letter_stands_on_an_edge(plan: Plan) -> None:
    first = front_view_of(plan)[0]
    assert clashes.check(first) == ()
    letters = [text for text in first.texts() if "window-letter" in text.classes]
    assert len(letters) == len(plan.pieces[0].apertures)
    edges = Taken()
    for item in first.flat():
        if isinstance(item, Rect) and {"back-opening", "face-opening", "sight", "frame-outer"} & set(item.classes):
            edges.lines.extend(pairwise(clashes.chain(item)))
    for text in letters:
        xs, ys = zip(*lettering.setting(text).corners(lettering.HALO_MM), strict=True)
        paper = Area(x=min(xs), y=min(ys), width=max(xs) - min(xs), height=max(ys) - min(ys))
        assert edges.is_free(paper), text.text


def test_a_letter_without_room_in_or_beside_its_window_has_a_leader() -> None:
    plan = row_of_narrow_windows()
    area = Area(x=0.0, y=0.0, width=400.0, height=100.0)
    drawn = lined(model_box(extent(plan.pieces[0])), (), area, Fraction(1, 20), NORMAL)
    assert drawn is not None
    items = letters_of(plan.pieces[0], drawn, area) or ()
    leaders = [item for item in items if isinstance(item, Line)]
    assert len(leaders) == len([item for item in items if isinstance(item, Text)]) == 60
    windows = [drawn.view.area(model_box(a.opening)) for a in plan.pieces[0].apertures]
    for leader in leaders:  # each ends in a window of its own
        (own,) = [w for w in windows if w.x < leader.end[0] < w.right and w.y < leader.end[1] < w.bottom]
        windows.remove(own)


def front_view_of(plan: Plan) -> tuple[Sheet, ...]:
    return front_view(plan.job, plan.pieces[0], {})


@pytest.mark.parametrize("units", list(Units))
@pytest.mark.parametrize("across", [1, 4, 8])
def test_the_dimensions_of_a_side_s_chain_stand_on_one_line(across: int, units: Units) -> None:
    windows = tuple(window(f"w{n}", image="60 x 40") for n in range(8))
    rows = tuple(tuple(range(n, n + across)) for n in range(0, 8, across))
    plan = planned(
        piece(apertures=windows, rows=rows, gutter=Fraction(20), border=border("50"), frame=frame()), units=units
    )
    for name, axis, count in (("across", 1, 2 * across + 1), ("down", 0, 2 * 8 // across + 1)):
        found = [item for item in front_view_of(plan)[0].items if (item.id or "").startswith(f"{name}-")]
        assert len(found) == count
        ends = [
            line.start[axis]
            for group in found
            if isinstance(group, Group)
            for line in group.items
            if isinstance(line, Line) and line.pen is Pen.DIMENSION and abs(line.start[axis] - line.end[axis]) < 1e-9
        ]
        assert len(ends) == count
        assert max(ends) - min(ends) < 1e-9


def test_hidden_edges_are_not_dimensioned_but_stand_in_a_list() -> None:
    plan = planned(piece(**SLIPWAY))
    reading = read(plan)
    labels = {label for group in reading.named("dimension") if isinstance(group, Bundle) for label in _labels(group)}
    solved, number = plan.pieces[0], plan.job.printer.number
    hidden = (solved.blank.width, solved.frame.rabbet.width, solved.apertures[0].image.width)
    assert labels.isdisjoint(map(number, hidden))
    assert {number(solved.frame.sight.width), number(solved.apertures[0].opening.width)} <= labels
    for hidden_size in (solved.blank, solved.frame.rabbet, solved.apertures[0].image.size):
        assert reading.says(plan.job.printer.size(hidden_size))


def _labels(group: Bundle) -> list[str]:
    return [part.text for part in group.parts if isinstance(part, Lettering)]


def test_a_dark_frame_has_light_edges() -> None:
    def pens(colour: str) -> set[Pen | None]:
        plan = planned(piece(**SLIPWAY | {"frame": frame("40 x 50 cm", colour=colour)}))
        return {
            item.pen
            for item in front_view_of(plan)[0].flat()
            if isinstance(item, Rect | Line) and {"mitre", "sight", "blank"} & set(item.classes)
        }

    assert pens("#1a1a1a") == {Pen.LIGHT, Pen.LIGHT_HIDDEN}
    assert pens("#e0d0b0") == {Pen.RULE, Pen.EDGE, Pen.HIDDEN}


@pytest.mark.parametrize(
    "name", ["Ö" * 300, "שלום עולם", "東京の桟橋", "a\N{COMBINING ACUTE ACCENT}" * 40, "<&>\"'", "W" * 90]
)
def test_any_name_fits(name: str) -> None:
    plan = planned(
        piece(name, apertures=(window(name, image="200 x 300", photo=photo(300, 450)),), frame=frame("40 x 50 cm"))
    )
    sheet = front_view(plan.job, plan.pieces[0], {})[0]
    assert clashes.check(sheet) == ()
    assert svg.render(sheet)
    assert pdf.render(sheet)


def test_a_panorama_turns_the_sheet() -> None:
    wide = planned(piece(apertures=(window(image="1800 x 300"),), border=border("80"), frame=frame()))
    width, height = front_view(wide.job, wide.pieces[0], {})[0].size
    assert (width, height) == (297, 210)


def test_an_inch_job_has_letter_paper_and_fractions() -> None:
    plan = planned(piece(**SLIPWAY), units=Units.IN)
    reading = read(plan)
    assert sorted(reading.size) == [215.9, 279.4]
    assert scale_of(reading) in {Fraction(1, n) for n in (1, 2, 4, 8, 16, 24)}
    assert check_dimensions(reading, plan.job.printer) >= 8
    assert reading.says(plan.job.printer.size(plan.pieces[0].blank))


@settings(max_examples=50, deadline=None)
@given(pieces(4), st.sampled_from(list(Units)))
def test_what_is_drawn_is_what_was_solved(ask: Piece, units: Units) -> None:
    plan = plan_of(ask, units=units)
    solved = plan.pieces[0]
    sheet = front_view(plan.job, solved, {})[0]
    assert clashes.check(sheet) == ()
    reading = read_svg(svg.render(sheet))
    scale, origin = scale_of(reading), origin_of(reading, "blank")
    expected: dict[str, list[Box]] = {"sight": [solved.sight_box], "image": [a.image for a in solved.apertures]}
    rail = solved.frame.ask.rail
    expected["frame-outer"] = [] if rail is None else [solved.sight_box.grown(rail)]
    for name, boxes in expected.items():
        found = reading.named(name)
        assert [p.box for p in found] == [boxed(b) for b in boxes]
        assert all(near(bounds_of(p), on_paper(b, origin, scale)) for p, b in zip(found, boxes, strict=True))
    first = [p for p in reading.named("face-opening") if p.data["layer"] == "1"]
    faces = [o.face.box for o in solved.layers[0].openings]
    assert [p.box for p in first] == [boxed(b) for b in faces]
    assert all(near(bounds_of(p), on_paper(b, origin, scale)) for p, b in zip(first, faces, strict=True))
    check_dimensions(reading, plan.job.printer)


def test_the_check_of_boxes_can_fail() -> None:
    plan = planned(piece(**SLIPWAY))
    reading = read(plan)
    (blank,) = (p for p in reading.named("blank") if isinstance(p, ReadShape))
    moved = replace(blank, points=tuple((x + 0.02, y) for x, y in blank.points))
    assert not near(
        bounds_of(moved), on_paper(Box.of(plan.pieces[0].blank), origin_of(reading, "blank"), scale_of(reading))
    )


def test_behind_a_reverse_cut_the_opening_that_is_seen_is_the_face() -> None:
    mat = (LayerAsk(board=WHITE, reveal=Fraction(0), cut=Cut.REVERSE),)
    made = planned(piece(**{**SLIPWAY, "mat": mat}))
    opening = made.pieces[0].apertures[0].opening.size
    reading = read(made)
    seen = made.job.printer.size(Size(opening.width - Fraction(14, 5), opening.height - Fraction(14, 5)))
    texts = [text.text for text in reading.texts]
    assert seen in texts[texts.index("Opening") :][:2]
    assert made.job.printer.size(opening) in texts[texts.index("Opening, back") :][:2]


@pytest.mark.parametrize(
    ("units", "clearance", "said"),
    [(Units.MM, "2 mm", "2 mm"), (Units.CM, "2 mm", "0.2 cm"), (Units.CM, "2.5 mm", "2.5 mm")],
)
def test_the_facts_name_the_least_slack(units: Units, clearance: str, said: str) -> None:
    """In the job's units, as what stands beside it, where it is a step."""
    held = frame("40 x 50 cm", clearance=mm(clearance))
    plan = planned(piece(**SLIPWAY | {"frame": held}), units=units)
    least = tightest(plan.pieces[0].budgets)
    assert least is not None
    assert read(plan).says(f"{said}, {least.what.partition(' ')[0]}")


@pytest.mark.parametrize("pixels", [None, (900, 600)])
def test_windows_without_photos_have_no_column_of_resolution(pixels: tuple[int, int] | None) -> None:
    pictured = None if pixels is None else photo(*pixels)
    pair = (window("left", image="150 x 100", photo=pictured), window("right", image="150 x 100"))
    plan = planned(piece(apertures=pair, rows=((0, 1),), gutter=Fraction(20), frame=frame("40 x 50 cm")))
    heads = {text.text for sheet in front_view(plan.job, plan.pieces[0], {}) for text in sheet.texts()}
    assert {"Window", "Left"} <= heads
    assert ("ppi" in heads) == (pixels is not None)
