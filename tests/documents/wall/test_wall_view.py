"""The wall view: drawn boxes lie where the plan says, every hook's figures stand on the drawing, and
nothing clashes.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from matplan.documents.parts.folio import Corners, Folio
from matplan.documents.parts.pictures import Picture, PictureKey, Pictures
from matplan.documents.parts.spreading import spread
from matplan.documents.wall.hung_frames import MARK
from matplan.documents.wall.view import drawn, wall_view
from matplan.drawing import clashes, lettering, pdf, svg
from matplan.drawing.items import Group, Text
from matplan.drawing.sheet import Sheet
from matplan.job.records import Arrange, ByCleat, ByTwoHooks, Job, Wall
from matplan.lengths import Printer, Units
from matplan.planning import Plan, plan
from matplan.walls.records import SolvedWall, Spot
from matplan.walls.work import in_order, marks
from tests.documents.reading import HUNDREDTH, bounds_of, check_dimensions, scale_of
from tests.making import frame, job, mm, piece, size, window
from tests.readback import Bundle, Lettering, Reading, Shape, read_svg
from tests.walls.building import furniture, keep, pin
from tests.walls.building import wall as asked_wall

SWITCH = keep("light switch", 200, 1050, 80, 80, margin=50)
PIECES = (
    piece("Slipway", frame=frame("40x50 cm"), apertures=(window("Slipway", image="250x300 mm"),)),
    piece(
        "Gull", frame=frame("30x40 cm", name="oak", rail=Fraction(15)), apertures=(window("Gull", image="180x240 mm"),)
    ),
    piece(
        "Coil", frame=frame("18x24 cm", name="thin", rail=Fraction(10)), apertures=(window("Coil", image="100x120 mm"),)
    ),
)


def planned(units: Units = Units.MM, count: int = 3, **changes: Any) -> Plan:
    hung = tuple((n % 3, 1 + n // 3) for n in range(count))
    asked = asked_wall([], **{"hung": hung, **changes})
    made: Job = job(*PIECES, units=units)
    return plan(replace(made, walls=(asked,)))


def read(made: Plan, **pictures: Picture) -> Reading:
    keyed = {(name, name.capitalize()): picture for name, picture in pictures.items()}
    return read_svg(svg.render(wall_view(made.job, made.walls[0], keyed)[0]))


def on_paper(spot: Spot, reading: Reading, asked: Wall) -> tuple[float, float, float, float]:
    """Where that spot lies on paper: from the drawn wall's lower left corner, up."""
    (drawn,) = (part for part in reading.named("wall") if isinstance(part, Shape))
    x, y, _, height = drawn.bounds
    scale = scale_of(reading)
    assert drawn.box == (mm(0), mm(0), asked.size.width, asked.size.height)
    left, up, wide, high = (float(v * scale) for v in (spot.left, spot.top, spot.width, spot.height))
    return (x + left, y + height - up, wide, high)


def near(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return all(abs(a - b) <= HUNDREDTH for a, b in zip(one, other, strict=True))


def rounded(*values: Fraction) -> tuple[Fraction, ...]:
    return tuple(round(value, 6) for value in values)


ARRANGED: list[dict[str, Any]] = [
    {},
    {"arrange": "flush-top", "hang": ByTwoHooks(inset=mm(40), down=mm(30))},
    {"arrange": "flush-base", "keep_clear": (SWITCH,), "furniture": (furniture("bench", 900, 1800, 450),)},
    {"arrange": "grid", "count": 7, "zone": {"left": 300, "right": 3300, "bottom": 500, "top": 2400}},
    {"arrange": "stepped", "rise": 150, "hang": ByCleat(down=mm(30))},
    {"arrange": "cluster", "count": 9, "keep_clear": (SWITCH, keep("door", 0, 0, 150, 2000))},
    {"arrange": "placed", "at": (pin("Slipway", 100, 900), pin("Gull", 700, 900), pin("Coil", 1200, "900.5"))},
    {"outline": ((mm(0), mm(1900)), (mm(900), mm(2400)), (mm(3600), mm(2400)))},
    {"units": Units.IN, "size": "12x8 ft", "eye": "57 in", "gap": "2 1/2 in"},
    {"size": "12x3 m", "count": 21, "arrange": "grid", "columns": 11},
    {"size": "900x2200 mm", "count": 1},
]


@pytest.mark.parametrize("case", ARRANGED)
def test_everything_drawn_lies_where_the_plan_says_and_nothing_clashes(case: dict[str, Any]) -> None:
    made = planned(**case)
    (wall,) = made.walls
    sheet, *more = wall_view(made.job, wall, {})
    assert not clashes.check(sheet)
    reading = read_svg(svg.render(sheet))
    frames = {(b.data["piece"], b.data["copy"]): b for b in reading.named("hung") if isinstance(b, Bundle)}
    assert len(frames) == len(wall.frames)
    for hung in wall.frames:
        bundle = frames[(hung.name, str(hung.copy))]
        (outer,) = (p for p in bundle.parts if "frame-outer" in p.classes)
        assert outer.box == bundle.box == rounded(hung.spot.left, hung.spot.bottom, hung.spot.width, hung.spot.height)
        assert near(bounds_of(outer), on_paper(hung.spot, reading, wall.ask))
        (image,) = (p for p in bundle.parts if "image" in p.classes)
        assert image.box is not None
        left, bottom, width, height = image.box
        assert near(
            bounds_of(image), on_paper(Spot(left=left, bottom=bottom, width=width, height=height), reading, wall.ask)
        )
        assert hung.spot.left < left < left + width < hung.spot.right
        assert hung.spot.bottom < bottom < bottom + height < hung.spot.top
    assert check_dimensions(reading, made.job.printer) >= 3
    check_hooks(reading, (sheet, *more), wall, made.job.printer)
    assert len(pdf.render((sheet,))) > 1000


def check_hooks(reading: Reading, pages: Sequence[Sheet], wall: SolvedWall, printer: Printer) -> None:
    """Every hook has a mark in its place, every frame one number at one size, and the table its hooks' figures."""
    found = {(b.data["number"]): b for b in reading.named("hook") if isinstance(b, Bundle)}
    assert len(found) == sum(len(hung.hooks) for hung in wall.frames)
    for mark in marks(wall):
        hook = mark.hook
        bundle = found[mark.number]
        assert bundle.box == rounded(hook.left, hook.height, Fraction(0), Fraction(0))
        ring = next(p for p in bundle.parts if isinstance(p, Shape) and p.tag == "ellipse")
        x, y, _, _ = on_paper(
            Spot(left=hook.left, bottom=hook.height, width=Fraction(0), height=Fraction(0)), reading, wall.ask
        )
        assert near(bounds_of(ring), (x - MARK, y - MARK, 2 * MARK, 2 * MARK))
    numbers = frame_numbers(pages[0])
    order = in_order(wall)
    assert [text.text for text in numbers] == [str(n) for n in range(1, len(order) + 1)]
    assert len({text.size for text in numbers}) == 1
    assert min(text.size for page in pages for text in page.texts()) >= 1.8
    rows = table_rows(pages)
    assert [row[0] for row in rows] == [str(n) for n in range(1, len(order) + 1)]
    for hung, (_, name, left, up) in zip(order, rows, strict=True):
        assert name.startswith(hung.name)
        assert left == " · ".join(printer.tape(hook.left) for hook in hung.hooks)
        assert up == " · ".join(dict.fromkeys(printer.tape(hook.height) for hook in hung.hooks))


def groups(items: tuple[Any, ...], name: str) -> Iterator[Group]:
    """The groups of that class, the outermost."""
    for item in items:
        if isinstance(item, Group):
            yield from (item,) if name in item.classes else groups(item.items, name)


def frame_numbers(page: Sheet) -> list[Text]:
    """The numbers of the frames, in their order."""
    return [item for group in groups(page.items, "frame-number") for item in group.items if isinstance(item, Text)]


def table_rows(pages: Sequence[Sheet]) -> list[list[str]]:
    """The rows of the table of hooks over all pages; a cell of several lines is its lines."""
    rows: list[list[str]] = []
    for page in pages:
        for table in groups(page.items, "hooks"):
            texts = [item for item in table.items if isinstance(item, Text)]
            heads = [text for text in texts if text.at[1] == texts[0].at[1]]
            columns = [[t for t in texts if t.at[0] == head.at[0] and t not in heads] for head in heads]
            tops = [text.at[1] for text in columns[0]]
            bounds = [*tops[1:], float("inf")]
            rows += [
                [" ".join(t.text for t in column if top <= t.at[1] < low) for column in columns]
                for top, low in zip(tops, bounds, strict=True)
            ]
    return rows


def test_the_tapes_run_from_the_left_edge_and_from_the_floor() -> None:
    made = planned()
    reading = read(made)
    running = [b for b in reading.named("running") if isinstance(b, Bundle)]
    hooks = [hook for hung in made.walls[0].frames for hook in hung.hooks]
    boxes = [b.box for b in running]
    for hook in hooks:
        assert rounded(Fraction(0), Fraction(0), hook.left, Fraction(0)) in boxes
        assert rounded(Fraction(0), Fraction(0), Fraction(0), hook.height) in boxes


STAIR = ((mm(0), mm(0)), (mm(1000), mm(0)), (mm(6000), mm(3000)), (mm(8000), mm(3000)))


@pytest.mark.parametrize(
    "changes",
    [
        {"arrange": "stepped", "count": 16, "gap": "40 mm"},
        {"arrange": "stepped", "count": 9, "hang": ByTwoHooks(inset=mm(40), down=mm(30))},
        {"arrange": "grid", "count": 9},
        {
            "arrange": "cluster",
            "size": "4x4 m",
            "count": 12,
            "floor": ((mm(0), mm(0)), (mm(4000), mm(900))),
            "furniture": (furniture("bench", 900, 1800, 450),),
        },
    ],
)
def test_on_a_stair_each_height_is_measured_from_the_step_below_and_no_other_is_drawn(changes: dict[str, Any]) -> None:
    made = planned(**{"size": "8x6 m", "floor": STAIR, **changes})
    (wall,) = made.walls
    pages = wall_view(made.job, wall, {})
    assert not [clash for page in pages for clash in clashes.check(page)]
    assert min(text.size for page in pages for text in page.texts()) >= 1.8
    reading = read_svg(svg.render(pages[0]))
    measured = {b.data["number"]: b for b in reading.named("above-floor") if isinstance(b, Bundle)}
    found = marks(wall)
    assert set(measured) == {mark.number for mark in found}
    for mark in found:
        above = wall.above_floor(mark.hook.left, mark.hook.height)
        group = measured[mark.number]
        assert group.box == rounded(mark.hook.left, mark.hook.height - above, mm(0), above)
        assert [part.text for part in group.parts if isinstance(part, Lettering)] == [made.job.printer.tape(above)]
        shaft = next(bounds_of(part) for part in group.parts if isinstance(part, Shape))
        x, y, _, high = on_paper(
            Spot(left=mark.hook.left, bottom=mark.hook.height - above, width=mm(0), height=above), reading, wall.ask
        )
        assert near((shaft[1], shaft[3]), (y, high))
        assert abs(shaft[0] - x) < 25  # beside, where others stand
    running = [b.box for b in reading.named("running") if isinstance(b, Bundle) and "above-floor" not in b.classes]
    assert all(box is not None and box[2] and not box[3] for box in running)
    assert any("straight up from the step or floor below each hook" in text.text for text in pages[0].texts())


def test_eye_line_zone_furniture_and_what_is_kept_clear_are_named_and_boxed() -> None:
    reading = read(
        planned(
            keep_clear=(SWITCH,), furniture=(furniture("bench", 900, 1800, 450),), zone={"left": 300, "bottom": 500}
        )
    )

    def box(name: str) -> object:
        (part,) = reading.named(name)
        return part.box

    assert box("eye-line") == (0, 1450, 3600, 0)
    assert box("zone") == (300, 500, 3300, 1900)
    assert box("furniture") == (900, 0, 1800, 450)
    assert box("keep-clear") == (200, 1050, 80, 80)
    assert box("margin") == (150, 1000, 180, 180)
    strips: list[object] = [part.box for part in reading.named("cable-zone")]
    assert strips == [(200, 0, 80, 2400), (0, 1050, 3600, 80)]
    assert reading.says("bench")
    assert reading.says("light switch")
    said = " ".join(text.text for text in reading.texts)
    assert "Dashes and dots: the zone where frames may hang." in said
    assert "Kept clear: light switch. Hatched: cables may run here; use a detector, local rules decide." in said


def test_without_a_wired_thing_there_is_no_hatch_and_no_word_of_cables() -> None:
    reading = read(planned(keep_clear=(keep("radiator", 200, 300, 900, 500),)))
    assert not reading.named("cable-zone")
    assert not reading.says("Hatched")
    assert not reading.says("zone where frames")
    assert not reading.named("zone")  # it is the whole wall


def test_photos_hang_in_their_frames() -> None:
    from PIL import Image

    out = io.BytesIO()
    Image.new("RGB", (25, 30), "#4060a0").save(out, "JPEG")
    made = planned()
    reading = read(made, slipway=Picture(data=out.getvalue(), media="image/jpeg", pixels=(25, 30)))
    (picture,) = reading.pictures
    assert picture.content == out.getvalue()
    asked = Sizes()
    drawn(Folio(job=made.job, pieces=made.pieces, album=asked), made.walls[0])
    assert near(picture.bounds[2:], asked.sizes[("slipway", "Slipway")])


class Sizes:
    """An album that remembers how large its pictures are asked for."""

    def __init__(self) -> None:
        self.sizes: dict[PictureKey, tuple[float, float]] = {}

    def smaller(self, _pictures: Pictures, sizes: Mapping[PictureKey, tuple[float, float]]) -> Pictures:
        self.sizes.update(sizes)
        return {}

    def widest_tones(self, picture: Picture, part: tuple[Fraction, Fraction]) -> tuple[Fraction, Fraction]:
        raise AssertionError(f"no wall asks for the tones of {picture.media} in {part}")

    def turned(self, _pictures: Pictures, _keys: Iterable[PictureKey]) -> Pictures:
        return {}

    def in_perspective(
        self, _picture: bytes, corners: Corners, _within: tuple[int, int], _part: float
    ) -> tuple[bytes, tuple[int, int, int, int]]:
        raise AssertionError(f"no wall view asks for a picture within {corners}")


@pytest.mark.parametrize(
    ("changes", "scale", "paper"),
    [
        ({}, "1:20", (297, 210)),
        ({"size": "11x3 m"}, "1:50", (297, 210)),
        ({"size": "5x3 m"}, "1:20", (420, 297)),
        ({"units": Units.IN, "size": "12x8 ft"}, "1:24", (279.4, 215.9)),
        ({"units": Units.IN, "size": "16x9 ft", "count": 1, "eye": "57 in"}, "1:24", (279.4, 215.9)),
        ({"size": "20x3 m"}, "1:50", (297, 210)),
        ({"size": "90x4 m"}, "1:50", (420, 297)),
    ],
)
def test_the_smallest_paper_at_a_good_scale(changes: dict[str, Any], scale: str, paper: tuple[float, float]) -> None:
    reading = read(planned(**changes))
    assert (reading.scale, reading.size) == (scale, paper)


def test_a_hundred_frames_have_all_their_figures() -> None:
    made = planned(count=100, size="12x7 m", arrange="grid", eye="3.5 m")
    pages = wall_view(made.job, made.walls[0], {})
    assert not [clash for page in pages for clash in clashes.check(page)]
    check_hooks(read_svg(svg.render(pages[0])), pages, made.walls[0], made.job.printer)


def test_figures_on_a_tape_keep_apart_in_their_order() -> None:
    assert spread([5.0, 5.0, 5.0], [2.0] * 3, 0.0, 10.0) == [3.0, 5.0, 7.0]
    assert spread([0.0, 0.5], [2.0] * 2, 0.0, 10.0) == [1.0, 3.0]  # not below the tape's end
    assert spread([9.9, 10.0], [2.0] * 2, 0.0, 10.0) == [7.0, 9.0]
    assert spread([1.0, 5.0], [2.0] * 2, 0.0, 10.0) == [1.0, 5.0]
    assert spread([1.0] * 6, [2.0] * 6, 0.0, 10.0) is None


def test_all_arrangements_are_looked_at() -> None:
    assert {Arrange(case.get("arrange", "centre-line")) for case in ARRANGED} == set(Arrange)
    assert size("1x1 mm").width == 1


def areas_of_frames(page: Sheet) -> list[tuple[float, float, float, float]]:
    return [bounds_of(part) for part in read_svg(svg.render(page)).named("frame-outer")]


@pytest.mark.parametrize("case", ARRANGED)
def test_a_number_stands_beside_its_frame_and_on_no_picture(case: dict[str, Any]) -> None:
    made = planned(**case)
    page = wall_view(made.job, made.walls[0], {})[0]
    frames = areas_of_frames(page)
    assert read_svg(svg.render(page)).named("image")
    for text in frame_numbers(page):
        corners = lettering.setting(text).corners()
        (left, right), (top, bottom) = ((min(c), max(c)) for c in zip(*corners, strict=True))
        assert not [1 for x, y, wide, high in frames if left < x + wide and x < right and top < y + high and y < bottom]


def test_frames_too_close_for_numbers_are_drawn_without_their_pictures_and_that_is_said() -> None:
    hung = tuple((0, copy) for copy in range(1, 41))
    made = planned(hung=hung, size="6x2.6 m", arrange="grid", columns=10, gap="30 mm", eye="1.3 m")
    page = wall_view(made.job, made.walls[0], {})[0]
    reading = read_svg(svg.render(page))
    assert not reading.named("image")
    assert len(frame_numbers(page)) == 40
    assert "their pictures are left out" in " ".join(text.text for text in page.texts())
    frames = areas_of_frames(page)
    for text in frame_numbers(page):
        (x, y) = text.at
        assert any(left < x < left + wide and top < y < top + high for left, top, wide, high in frames)


def test_hatch_and_zone_end_at_a_sloping_ceiling() -> None:
    slope = ((mm(0), mm(1900)), (mm(900), mm(2400)), (mm(3600), mm(2400)))
    made = planned(outline=slope, keep_clear=(SWITCH,), zone={"left": 60, "right": 3540})
    page = wall_view(made.job, made.walls[0], {})[0]
    (edge,) = (item for item in page.items if getattr(item, "id", None) == "wall")
    clips = [group.clip for group in page.items if isinstance(group, Group) and group.clip is not None]
    assert clips == [edge, edge, edge]  # two strips of hatching and the zone


def test_the_caution_is_on_the_wall_and_a_ladder_s_where_one_is_needed() -> None:
    def said(**changes: Any) -> str:
        made = planned(**changes)
        return " ".join(text.text for text in wall_view(made.job, made.walls[0], {})[0].texts())

    assert "look for cables and pipes with a detector" in said()
    assert "ladder" not in said()
    assert "Hooks above 2 m: a ladder on firm ground" in said(eye="2050 mm", size="3600x2600 mm")
