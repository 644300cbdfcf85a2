"""The wall view: drawn boxes lie where the plan says, every hook's figures stand on the drawing, and
nothing clashes.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest

from matplan.documents.parts.folio import Folio
from matplan.documents.parts.pictures import Picture, PictureKey, Pictures
from matplan.documents.wall.hung_frames import MARK
from matplan.documents.wall.tapes import spread
from matplan.documents.wall.view import drawn, wall_view
from matplan.drawing import clashes, pdf, svg
from matplan.job.records import Arrange, ByCleat, ByTwoHooks, Job, Wall
from matplan.lengths import Units
from matplan.planning import Plan, plan
from matplan.walls.records import SolvedWall, Spot
from matplan.walls.work import marks
from tests.documents.reading import HUNDREDTH, bounds_of, check_dimensions, scale_of
from tests.making import frame, job, mm, piece, size, window
from tests.readback import Bundle, Reading, Shape, read_svg
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
    return read_svg(svg.render(wall_view(made.job, made.walls[0], keyed)))


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
    sheet = wall_view(made.job, wall, {})
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
    check_hooks(reading, wall)
    assert len(pdf.render((sheet,))) > 1000


def check_hooks(reading: Reading, wall: SolvedWall) -> None:
    """Every hook has a mark in its place and both its figures on the drawing."""
    found = {(b.data["number"]): b for b in reading.named("hook") if isinstance(b, Bundle)}
    figures = {
        (b.data["number"]): [p.text for p in b.parts if hasattr(p, "text")]
        for b in reading.named("hook-figures")
        if isinstance(b, Bundle)
    }
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
        number, name, left, up = figures[mark.number]
        assert number == mark.number
        assert name.startswith(mark.hung.name)
        printer = planned_printer(reading)
        assert (left, up) == (printer.number(hook.left), printer.number(hook.height))


def planned_printer(reading: Reading) -> Any:
    from matplan.lengths import Printer, Step

    units = Units.IN if reading.size in ((279.4, 215.9), (215.9, 279.4), (431.8, 279.4)) else Units.MM
    return Printer(units, Step.usual(units))


def test_the_tapes_run_from_the_left_edge_and_from_the_floor() -> None:
    made = planned()
    reading = read(made)
    running = [b for b in reading.named("running") if isinstance(b, Bundle)]
    hooks = [hook for hung in made.walls[0].frames for hook in hung.hooks]
    boxes = [b.box for b in running]
    for hook in hooks:
        assert rounded(Fraction(0), Fraction(0), hook.left, Fraction(0)) in boxes
        assert rounded(Fraction(0), Fraction(0), Fraction(0), hook.height) in boxes


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
    assert reading.says("use a detector, local rules decide")


def test_without_a_wired_thing_there_is_no_hatch_and_no_word_of_cables() -> None:
    reading = read(planned(keep_clear=(keep("radiator", 200, 300, 900, 500),)))
    assert not reading.named("cable-zone")
    assert not reading.says("cables")
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

    def turned(self, _pictures: Pictures, _keys: Iterable[PictureKey]) -> Pictures:
        return {}


@pytest.mark.parametrize(
    ("changes", "scale", "paper"),
    [
        ({}, "1:20", (297, 210)),
        ({"size": "11x3 m"}, "1:50", (297, 210)),
        ({"size": "5x3 m"}, "1:20", (420, 297)),
        ({"units": Units.IN, "size": "12x8 ft"}, "1:24", (279.4, 215.9)),
        ({"size": "90x4 m"}, "1:500", (297, 210)),
    ],
)
def test_the_smallest_paper_at_a_good_scale(changes: dict[str, Any], scale: str, paper: tuple[float, float]) -> None:
    reading = read(planned(**changes))
    assert (reading.scale, reading.size) == (scale, paper)


def test_a_hundred_frames_have_all_their_figures_on_one_sheet() -> None:
    made = planned(count=100, size="12x7 m", arrange="grid", eye="3.5 m")
    sheet = wall_view(made.job, made.walls[0], {})
    assert not clashes.check(sheet)
    check_hooks(read_svg(svg.render(sheet)), made.walls[0])


def test_figures_on_a_tape_keep_apart_in_their_order() -> None:
    assert spread([5.0, 5.0, 5.0], 0.0, 10.0, 2.0) == [3.0, 5.0, 7.0]
    assert spread([0.0, 0.5], 0.0, 10.0, 2.0) == [0.0, 2.0]  # not below the tape's end
    assert spread([9.9, 10.0], 0.0, 10.0, 2.0) == [8.0, 10.0]
    assert spread([1.0, 5.0], 0.0, 10.0, 2.0) == [1.0, 5.0]
    assert spread([1.0] * 7, 0.0, 10.0, 2.0) is None


def test_all_arrangements_are_looked_at() -> None:
    assert {Arrange(case.get("arrange", "centre-line")) for case in ARRANGED} == set(Arrange)
    assert size("1x1 mm").width == 1
