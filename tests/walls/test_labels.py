"""Labels beside frames: where they hang, what is wrong with their places, each with the sum beside its number."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box

from matplan.documents.parts.folio import Folio
from matplan.documents.prints import back_labels
from matplan.documents.wall.hanging_list import hanging_list
from matplan.documents.wall.view import wall_view
from matplan.drawing import clashes, pdf, svg
from matplan.drawing.book import book_of
from matplan.faults import JobError
from matplan.job import parse_job
from matplan.planning import Plan, plan, plan_json
from tests.readback import Shape, read_pdf, read_svg

FRAME = '[frame.a]\nrabbet = "372 x 472 mm"\nlip = "6 mm"\nrail = "20 mm"\nheight = "20 mm"\n'
"""400 × 500 mm outside: rabbet + 2 × (20 − 6)."""
HALL = '[[wall]]\nname = "Hall"\nsize = "3000 x 2400 mm"\n'
WORDS = "Ferry steps at six in the morning, pigment print on cotton paper"


def planned(wall: str, names: Sequence[str] = "ABC", bare: str = "", units: str = "mm") -> Plan:
    """A plan of pieces in equal frames, each with a label but for the `bare` ones."""
    pieces = "".join(
        f'[[piece]]\nname = "{name}"\nframe = "a"\naspect = "3:2"\nborder = "20 mm"\n'
        + ("" if name in bare else f'label = "{name}. {WORDS}"\n')
        for name in names
    )
    return plan(parse_job(f'units = "{units}"\n{FRAME}{pieces}{wall}', Path()))


def boxes(made: Plan) -> dict[str, Any]:
    document: Any = plan_json(made)
    return {frame["piece"]: frame["label"] for frame in document["walls"][0]["frames"]}


def refused(wall: str, names: Sequence[str] = "ABC", **changes: str) -> list[str]:
    with pytest.raises(JobError) as told:
        planned(wall, names, **changes)
    return [fault.text for fault in told.value.faults]


@pytest.mark.parametrize(
    ("keys", "label"),
    [
        ("", [1740, 1200, 80, 50]),  # right: 1300 + 400 + 40
        ('side = "left", up = "30 mm"', [1180, 1230, 80, 50]),  # 1300 − 40 − 80; 1200 + 30
        ('side = "below", gap = "25 mm", size = "100 x 60 mm"', [1300, 1115, 100, 60]),  # 1200 − 25 − 60
    ],
)
def test_a_label_hangs_at_the_right_at_the_left_or_below(keys: str, label: list[int]) -> None:
    made = planned(HALL + f"labels = {{ {keys} }}\n", "A")  # the frame: 1300 to 1700, 1200 to 1700
    assert boxes(made) == {"A": label}


def test_a_piece_without_words_has_no_label_and_a_wall_without_labels_none() -> None:
    assert boxes(planned(HALL + 'labels = {}\ngap = "150 mm"\n', "AB", bare="B"))["B"] is None
    assert boxes(planned(HALL, "A")) == {"A": None}


def test_labels_of_inch_jobs_are_three_by_two_inches_an_inch_and_a_half_from_the_frame() -> None:
    (left, bottom, width, height) = boxes(planned(HALL + "labels = {}\n", "A", units="in"))["A"]
    assert (left, width, height) == pytest.approx((1700 + 38.1, 76.2, 50.8))
    assert bottom == pytest.approx(57 * 25.4 - 250)


def test_labels_wider_than_their_gap_are_one_error_with_what_is_missing() -> None:
    (text,) = refused(HALL + "labels = {}\n")
    assert 'the labels of "A" and "B", 80 mm wide and 40 mm from the frame, find no room in the gap of 60 mm' in text
    assert "60 mm too little; take a gap between frames of 120 mm or more" in text  # 80 + 40 − 60
    planned(HALL + 'labels = {}\ngap = "120 mm"\n')
    (text,) = refused(HALL + 'labels = { side = "left" }\n')
    assert '"B" and "C"' in text
    (text,) = refused(HALL + 'labels = { side = "below" }\narrange = "grid"\ncolumns = 1\nzone = { bottom = "0 mm" }\n')
    assert "50 mm high" in text
    assert "30 mm too little" in text  # 50 + 40 − 60


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        (
            'keep_clear = [{ name = "switch", left = "1800 mm", bottom = "1220 mm", width = "80 mm", '
            'height = "80 mm", margin = "10 mm" }]\n',
            'the label of "A" hangs over "switch" and its margin of 10 mm, which is kept clear; the least shift that '
            "clears it is 30 mm to the left",  # 1740 + 80 − (1800 − 10)
        ),
        (
            'zone = { left = "1300 mm", right = "1700 mm" }\n',
            'the label of "A" reaches 120 mm past the zone\'s right edge; the least shift that mends it is 120 mm to '
            "the left",  # 1740 + 80 − 1700
        ),
        (
            'floor = [["0 mm", "0 mm"], ["1650 mm", "0 mm"], ["1820 mm", "1250 mm"], ["3000 mm", "1250 mm"]]\n',
            'the label of "A" reaches 50 mm below the floor; the least shift that mends it is 50 mm up',
        ),
    ],
)
def test_a_label_that_may_not_hang_so_is_one_error_with_the_least_shift(keys: str, told: str) -> None:
    assert [text.partition(": ")[2] for text in refused(HALL + "labels = {}\n" + keys, "A")] == [told]


PLACED = 'arrange = "placed"\nat = { A = { left = "500 mm", bottom = "1200 mm" }, B = '


def test_labels_over_one_another_and_over_another_frame_are_told() -> None:
    right = 'labels = { size = "80 x 50 mm", up = "520 mm" }\n'  # the label of A: 940 to 1020, 1720 to 1770
    (text,) = refused(HALL + right + PLACED + '{ left = "950 mm", bottom = "1750 mm" } }\n', "AB", bare="B")
    assert 'the label of "A" overlaps "B"; the least shift that parts them is 20 mm down' in text  # 1770 − 1750


def test_two_labels_over_one_another_are_told() -> None:
    small = '[frame.b]\nrabbet = "72 x 72 mm"\nlip = "6 mm"\nrail = "20 mm"\n'  # 100 × 100 mm outside
    piece = '[[piece]]\nname = "{0}"\nframe = "b"\naspect = "1:1"\nmat = []\nlabel = "{0}"\n'
    keys = 'labels = { size = "80 x 240 mm", gap = "0 mm" }\narrange = "placed"\n'
    pins = 'at = { D = { left = "500 mm", bottom = "1200 mm" }, E = { left = "510 mm", bottom = "1050 mm" } }\n'
    with pytest.raises(JobError) as told:
        plan(parse_job(small + piece.format("D") + piece.format("E") + HALL + keys + pins, Path()))
    (fault,) = told.value.faults
    # of D: 600 to 680, 1200 to 1440; of E: 610 to 690, 1050 to 1290: apart by 680 − 610 or 1290 − 1200
    assert 'the label of "D" overlaps the label of "E"; the least shift that parts them is 70 mm to the left' in (
        fault.text
    )


@pytest.mark.parametrize(
    ("labels", "told"),
    [
        ('{ side = "below", up = "10 mm" }', "leave up out"),
        ('{ size = "300 x 50 mm" }', "got 300 mm × 50 mm, which fits no sheet"),
        ('{ side = "above" }', 'write "right", "left" or "below"'),
    ],
)
def test_labels_that_cannot_be_are_refused_with_what_would_be_right(labels: str, told: str) -> None:
    (text,) = refused(HALL + f"labels = {labels}\n", "A")
    assert told in text


def test_a_label_on_a_path_and_lower_than_forty_inches_is_told_by_the_standard() -> None:
    """2010 ADA Standards 703.5.6: visual characters 40 inches (1015 mm) minimum above the floor."""

    def low(wall: str) -> list[str]:
        return [f.text for f in planned(wall, "A").walls[0].findings if f.code == "low-labels"]

    assert not low(HALL + 'labels = { up = "0 mm" }\npath = true\nbase = "1016 mm"\n')  # 40 × 25.4
    (text,) = low(HALL + 'labels = { up = "0 mm" }\npath = true\nbase = "1015 mm"\n')
    assert "703.5.6" in text
    assert not low(HALL + 'labels = {}\nbase = "1015 mm"\n')


def test_labels_behind_furniture_and_a_wall_without_words_are_told() -> None:
    sofa = 'furniture = [{ name = "sofa", left = "1710 mm", width = "900 mm", height = "1210 mm" }]\n'
    codes = {f.code: f.text for f in planned(HALL + "labels = {}\n" + sofa, "A").walls[0].findings}
    assert 'the labels of "A" hang behind "sofa"' in codes["behind-furniture"]
    assert "no-labels" in {f.code for f in planned(HALL + "labels = {}\n", "A", bare="A").walls[0].findings}


@settings(max_examples=25, deadline=None)
@given(st.sampled_from(["right", "left", "below"]), st.integers(0, 160), st.integers(20, 200), st.integers(20, 120))
def test_labels_that_hang_meet_neither_frames_nor_one_another(side: str, gap: int, width: int, height: int) -> None:
    """Proved with shapely: an independent plane geometry."""
    keys = f'labels = {{ size = "{width} x {height} mm", side = "{side}", gap = "{gap} mm" }}\n'
    try:
        made = planned(HALL + keys + 'gap = "200 mm"\n')
    except JobError:
        room = 200 if side != "below" else 1200
        assert gap + (width if side != "below" else height) > room
        return
    spots = [spot for hung in made.walls[0].frames for spot in (hung.spot, hung.label) if spot is not None]
    shapes = [box(float(s.left), float(s.bottom), float(s.right), float(s.top)) for s in spots]
    assert len(shapes) == 6
    assert not any(one.intersection(other).area > 1e-6 for one, other in combinations(shapes, 2))


# --- on paper --------------------------------------------------------------------------------------------------------


def test_the_view_shows_each_label_where_the_plan_has_it() -> None:
    made = planned(HALL + 'labels = { up = "20 mm" }\ngap = "150 mm"\n', bare="C")
    for sheet in wall_view(made.job, made.walls[0], {}):
        assert clashes.check(sheet) == ()
        reading = read_svg(svg.render(sheet))
        drawn = {part.data["piece"]: part.box for part in reading.named("wall-label") if isinstance(part, Shape)}
        want = {piece: tuple(label) for piece, label in boxes(made).items() if label}
        assert {name: tuple(map(float, found or ())) for name, found in drawn.items()} == want


def test_the_hanging_list_has_each_labels_corner_and_words() -> None:
    made = planned(HALL + 'labels = {}\ngap = "150 mm"\n', bare="C")
    sheets = hanging_list(made.job, made.walls[0])
    texts = [text.text for sheet in sheets for text in sheet.texts()]
    assert any(text.startswith("Wall labels, 80 × 50 mm") for text in texts)
    assert {"1190", "1740"} <= set(texts)  # 750 + 400 + 40; 1300 + 400 + 40
    assert all(clashes.check(sheet) == () for sheet in sheets)


def labels_pdf(made: Plan) -> bytes:
    """The document of labels; nothing on its sheets clashes."""
    sheets = back_labels.drawn(Folio(job=made.job, pieces=made.pieces, walls=made.walls, plan=made), made)
    assert all(clashes.check(sheet) == () for sheet in sheets)
    return pdf.render(book_of(sheets, "labels", full_size=True))


def test_labels_are_printed_at_full_size_several_a_page_with_their_words() -> None:
    names = "ABCDEFGHIJKL"
    keys = 'size = "9000 x 2400 mm"\nlabels = { size = "85 x 55 mm" }\ngap = "150 mm"\n'
    made = planned(HALL.replace('size = "3000 x 2400 mm"\n', keys), names)
    pages = [page for page in read_pdf(labels_pdf(made)).pages if page.says("Wall labels, Hall")]
    assert len(pages) == 2  # two across, four down: (297 − 12 − 14 + 10) / (55 + 10)
    uprights = [s.bounds for page in pages for s in page.shapes if s.bounds[2] < 0.01 and abs(s.bounds[3] - 3) < 0.01]
    levels = [s.bounds for page in pages for s in page.shapes if s.bounds[3] < 0.01 and abs(s.bounds[2] - 3) < 0.01]
    assert len(uprights) == len(levels) == 4 * len(names)
    assert {round(b[0] - min(uprights)[0], 1) for b in uprights} == {0, 85, 95, 180}  # 85, 10 between, 85
    top = min(b[1] for b in levels)
    assert {round(b[1] - top, 1) for b in levels} == {0, 55, 65, 120, 130, 185, 195, 250}
    for name in names:
        assert sum(page.says(f"{name}. Ferry steps") for page in pages) == 1


def test_a_label_too_small_for_its_words_is_printed_higher_and_told() -> None:
    made = planned(HALL + 'labels = { size = "40 x 6 mm" }\n', "A")
    (page,) = (page for page in read_pdf(labels_pdf(made)).pages if page.says("Wall labels, Hall"))
    assert page.says("needs ")
    assert page.says("of height, not 6 mm")
    assert " ".join(text.text for text in page.texts).startswith(f"A. {WORDS}")
    assert min(text.em for text in page.texts) > 2
