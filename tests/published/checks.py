"""The published checks as a table: what a work says, and what the program answers to the same question.

Each row is a test (`test_sources`) and a line of the gallery's page of sources. Rooms have more tests of the same
works; `test` names the one that goes on from here. "Derived" rows are arithmetic that anybody can repeat.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any, Final

from matplan import catalogue
from matplan.catalogue import Kind, Quantity
from matplan.catalogue.tolerance import iso_216_tolerance
from matplan.habits import POUND
from matplan.job.records import BorderAsk, BorderAt, LayerAsk, OpticalWeight, RatioWeight
from matplan.lengths import INCH, Units
from matplan.mats.budgets import across_the_grain, at_humidity, thermal
from matplan.mats.findings import LIFTING_LIMIT_KG
from matplan.mats.print_findings import ARC_MINUTE_PPI_INCHES
from matplan.walls.findings import LOWEST_CHARACTERS, PROTRUDING, PROTRUDING_FROM, PROTRUDING_TO
from matplan.walls.hanging import hook_height, wire_to_cut
from matplan.walls.records import GRAVITY, Wire
from tests.making import WHITE, frame, mm, solved, window

type Number = Fraction | float | int
F = Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """A question, what the work answers and what the program does; equal to within `within`."""

    what: str
    source: str
    there: tuple[Number, ...]
    here: Callable[[], tuple[Number, ...]]
    test: str
    status: str = "published"
    unit: str = ""
    within: Number = 0


def _cut(**changes: Any) -> Any:
    """The borders as cut of a piece with one opening of 8 × 10 in."""
    asked = {"units": Units.IN, "apertures": (window(image="8x10 in", overlap=F(0)),)} | changes
    return solved(border_at=BorderAt.CUT, **asked).apertures[0].cut


def _weighted(side: str, ratio: Fraction, units: Units = Units.MM) -> tuple[Fraction, ...]:
    ask = BorderAsk(top=mm(side), right=mm(side), bottom=None, left=mm(side))
    return (_cut(units=units, border=ask, weight=RatioWeight(ratio=ratio)).bottom,)


def _inches(*lengths: Fraction) -> tuple[Fraction, ...]:
    return tuple(length / INCH for length in lengths)


def _sheet(name: str) -> tuple[Fraction, ...]:
    found = catalogue.paper(name)
    if found is None:
        raise ValueError(f"no paper {name}")
    return found.size.width, found.size.height


def _value(substance: str, quantity: Quantity) -> tuple[Fraction, ...]:
    return tuple(figure.value for figure in catalogue.figures(substance, quantity))


def _optical(blank: str, step: str) -> tuple[Fraction, ...]:
    cut = _cut(frame=frame(blank, clearance=F(0)), step=mm(step), weight=OpticalWeight())
    return _inches(cut.left, cut.top, cut.bottom)


def _sizes(kind: Kind, work: str) -> tuple[Fraction, ...]:
    found = [row for row in catalogue.rows(kind) if work in row.source]
    return tuple(side / INCH for row in found for side in _sides(row))


def _sides(row: Any) -> tuple[Fraction, Fraction]:
    return row.size.width, row.size.height


def _tension(degrees: float) -> tuple[float]:
    wire = Wire(rise=F(round(math.tan(math.radians(degrees)) * 10**9), 10**6), run=F(1000), mass=F(1))
    return (wire.tension_n / float(wire.weight),)


def wood_moisture(humidity: float, celsius: float) -> float:
    """The moisture content of wood at rest in air, in %, by the equation of the Wood Handbook's chapter 4 for the
    adsorption of water in hydrates and solution; its coefficients for degrees Celsius are from memory.
    """
    t, h = celsius, humidity / 100
    w = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    bound = (k1 * k * h + 2 * k1 * k2 * (k * h) ** 2) / (1 + k1 * k * h + k1 * k2 * (k * h) ** 2)
    return 1800 / w * (k * h / (1 - k * h) + bound)


WORKED: Final = "tests/published/test_worked_examples.py"
MATERIALS: Final = "tests/published/test_material_figures.py"
HANGING: Final = "tests/published/test_hanging.py"
FRAMES: Final = "tests/published/test_frame_tables.py"
PAPERS: Final = "tests/published/test_paper_standards.py"
OPEN: Final = "tests/published/test_papersizes_open_data.py"
BUDGETS: Final = "tests/mats/test_budgets.py"
HANDBOOK: Final = "USDA Wood Handbook FPL-GTR-190"
WIKIBOOKS: Final = "Wikibooks, How to Frame a Picture, Calculate the sizes"
JACKSON: Final = "M. T. Jackson, The Museum, 1917, p. 175"

CHECKS: Final = (
    Check(
        what="Bottom border, where top and sides are 3 in and the ratio is 3 : 4",
        source="US Navy training manual 14066, p. 2-32",
        there=(4,),
        here=lambda: _inches(*_weighted("3 in", F(4, 3), Units.IN)),
        unit="in",
        test=f"{WORKED}::test_bottom_three_to_four",
    ),
    Check(
        what="Bottom border, a fifth more than the others of 50 mm",
        source=WIKIBOOKS,
        there=(60,),
        here=lambda: _weighted("50 mm", F(6, 5)),
        unit="mm",
        test=f"{WORKED}::test_bottom_a_fifth_more_than_the_others",
    ),
    Check(
        what="Mat sizes that museums keep to, width and height of each",
        source="CCI Notes 11/5, standard sizes",
        there=(8, 10, 10, 12, 14, 18, 16, 22, 22, 28, 28, 36),
        here=lambda: _sizes(Kind.MAT_BLANKS, "CCI Notes 11/5"),
        unit="in",
        test=f"{FRAMES}::test_museum_mat_sizes",
    ),
    Check(
        what="Museum frames that are used again, width and height of each",
        source=JACKSON,
        there=(14, 18, 22, 28, 28, 40),
        here=lambda: _sizes(Kind.FRAMES, "Jackson"),
        unit="in",
        test=f"{FRAMES}::test_museum_frames",
    ),
    Check(
        what="A0, A3, A4 and B4, width and height of each",
        source="ISO 216, main series A and B",
        there=(841, 1189, 297, 420, 210, 297, 250, 353),
        here=lambda: (*_sheet("A0"), *_sheet("A3"), *_sheet("A4"), *_sheet("B4")),
        unit="mm",
        test=f"{PAPERS}::test_each_sheet_halves_the_one_before",
    ),
    Check(
        what="How far a side of 150, 600 and 601 mm may be from its size",
        source="ISO 216, tolerances",
        there=(F(3, 2), 2, 3),
        here=lambda: tuple(map(iso_216_tolerance, (F(150), F(600), F(601)))),
        unit="mm",
        test=f"{PAPERS}::test_tolerances_of_iso_216",
    ),
    Check(
        what="Letter, Legal, Half letter, width and height of each",
        source="papersizes.guide open data, North American sizes",
        there=(F(17, 2), 11, F(17, 2), 14, F(11, 2), F(17, 2)),
        here=lambda: _inches(*_sheet("Letter"), *_sheet("Legal"), *_sheet("Half letter")),
        unit="in",
        test=f"{OPEN}::test_north_american_sheets_are_exact",
    ),
    Check(
        what="ANSI C and D, width and height of each",
        source="ANSI/ASME Y14.1, sheet sizes",
        there=(17, 22, 22, 34),
        here=lambda: _inches(*_sheet("ANSI C"), *_sheet("ANSI D")),
        unit="in",
        test=f"{PAPERS}::test_each_ansi_sheet_doubles_the_one_before",
    ),
    Check(
        what="4-ply board, the middle of 0.050 to 0.060 in",
        source="S. Saitzyk, Art Hardware, 1987, mat board",
        there=(F("1.397"),),
        here=lambda: tuple(board.thickness for board in (catalogue.board("4-ply"),) if board),
        within=F("0.127"),
        unit="mm",
        test=f"{MATERIALS}::test_four_ply_lies_within_the_published_thickness",
    ),
    Check(
        what="Density of glass",
        source="EN 572-1, general physical characteristics",
        there=(2500,),
        here=lambda: _value("glass", Quantity.DENSITY),
        unit="kg/m³",
        test=f"{MATERIALS}::test_glass_weighs_2_5_kg_a_square_metre_and_millimetre",
    ),
    Check(
        what="Expansion of glass by warmth",
        source="EN 572-1, general physical characteristics",
        there=(9e-6,),
        here=lambda: _value("glass", Quantity.THERMAL_EXPANSION),
        within=1e-12,
        unit="1/K",
        test=f"{MATERIALS}::test_acrylic_expands_and_grows",
    ),
    Check(
        what="Red oak, white ash, walnut, cherry: movement along the rings for each per cent of moisture",
        source=f"{HANDBOOK}, table 13-5",
        there=(0.00369, 0.00274, 0.00274, 0.00248),
        here=lambda: tuple(
            value
            for wood in ("red oak", "white ash", "walnut", "cherry")
            for value in _value(wood, Quantity.MOISTURE_MOVEMENT)
        ),
        within=1e-9,
        unit="of the width",
        test=f"{MATERIALS}::test_wood_moves_across_the_grain",
    ),
    Check(
        what="8 in of red alder that take up 6 % of moisture at 0.0026 grow by",
        source=f"{HANDBOOK}, chapter 13",
        there=(F("0.1248"),),
        here=lambda: (across_the_grain(F(8), F("0.0026"), F(6)),),
        unit="in",
        test=f"{BUDGETS}::test_eight_inches_of_red_alder_move_an_eighth",
    ),
    Check(
        what="Moisture content of wood at 30, 50, 65 and 80 % of relative humidity, 21 °C",
        status="memory",
        source=f"{HANDBOOK}, chapter 4, equation, whose coefficients are from memory",
        there=tuple(round(wood_moisture(humidity, 21.1), 1) for humidity in (30, 50, 65, 80)),
        here=lambda: tuple(
            at_humidity(catalogue.figures("wood", Quantity.MOISTURE_CONTENT), F(rh)) for rh in (30, 50, 65, 80)
        ),
        within=0.5,
        unit="%",
        test=f"{MATERIALS}::test_moisture_content_of_wood",
    ),
    Check(
        what="Two wires that pull with 0.75 of the weight each stand 41.81° above the horizontal",
        status="derived",
        source="2 T sin a = W",
        there=(0.75,),
        here=lambda: _tension(math.degrees(math.asin(1 / 1.5))),
        within=1e-6,
        unit="of the weight",
        test=f"{HANGING}::test_two_wires_at_three_quarters_of_the_weight",
    ),
    Check(
        what="Pull of a wire at 10° above the horizontal",
        status="derived",
        source="T = W / (2 sin a)",
        there=(2.879,),
        here=lambda: _tension(10),
        within=6e-4,
        unit="of the weight",
        test=f"{HANGING}::test_tension_by_angle",
    ),
    Check(
        what="Hook of a frame 30 in high, centre at 57 in, drop 1 in",
        status="derived",
        source="centre + height / 2 − drop",
        there=(71,),
        here=lambda: (hook_height(F(57), F(30), F(1)),),
        unit="in",
        test=f"{HANGING}::test_hook_heights",
    ),
    Check(
        what="Wire to cut for a tightened length of 500 mm: 30 cm more, for the knots",
        status="common practice",
        source="wire = spacing + 12 in (30 cm)",
        there=(800,),
        here=lambda: (wire_to_cut(Wire(rise=F(0), run=F(250), mass=F(1)), Units.MM),),
        unit="mm",
        test="tests/walls/test_hooks.py",
    ),
    Check(
        what="Standard gravity",
        source="3rd CGPM, 1901, declaration on weight",
        there=(F("9.80665"),),
        here=lambda: (GRAVITY,),
        unit="m/s²",
        test=f"{HANGING}::test_standard_gravity",
    ),
    Check(
        what="The inch, and the pound",
        source="international yard and pound agreement, 1959",
        there=(F("25.4"), F("0.45359237")),
        here=lambda: (INCH, POUND),
        unit="mm, kg",
        test="tests/test_habits.py",
    ),
    Check(
        what="How far a thing may stand out into a path, and from and up to which height above the floor",
        source="2010 ADA Standards, 307.2",
        there=(4, 27, 80),
        here=lambda: _inches(PROTRUDING, PROTRUDING_FROM, PROTRUDING_TO),
        unit="in",
        test=f"{HANGING}::test_protruding_objects",
    ),
    Check(
        what="The least height of characters on signs above the floor",
        source="2010 ADA Standards, 703.5.6",
        there=(40,),
        here=lambda: _inches(LOWEST_CHARACTERS),
        unit="in",
        test="tests/walls/test_labels.py",
    ),
    Check(
        what="What one person may lift in ideal conditions",
        source="NIOSH 94-110, the load constant",
        there=(23, 51),
        here=lambda: (LIFTING_LIMIT_KG, round(LIFTING_LIMIT_KG / POUND)),
        unit="kg, lb",
        test=f"{HANGING}::test_lifting_limit",
    ),
    Check(
        what="Borders of an opening of 8 × 10 in on 16 × 20 in by the optical centre: sides, top, bottom",
        status="derived",
        source="top = (H − h)(W + w) / 4W",
        there=(4, F(15, 4), F(25, 4)),
        here=lambda: _optical("16x20 in", "1/4 in"),
        unit="in",
        test=f"{WORKED}::test_optical_centre_construction",
    ),
    Check(
        what="The same on 11 × 14 in",
        status="derived",
        source="top = (H − h)(W + w) / 4W",
        there=(1.5, 1.7273, 2.2727),
        here=lambda: _optical("11x14 in", "0.01 mm"),
        within=5e-4,
        unit="in",
        test=f"{WORKED}::test_optical_centre_construction",
    ),
    Check(
        what="How much wider a bevel of 45° makes the opening at the face, in thicknesses of the board",
        status="derived",
        source="face = back + 2 t",
        there=(2,),
        here=lambda: tuple(
            (opening.face.box.width - opening.back.box.width) / WHITE.thickness
            for opening in solved(
                frame=frame("40x50 cm"),
                mat=(LayerAsk(board=WHITE, reveal=F(0)),),
                apertures=(window(image="200x300 mm"),),
            )
            .layers[0]
            .openings
        ),
        test=f"{WORKED}::test_bevel_at_45_degrees_grows_the_opening_by_twice_the_board",
    ),
    Check(
        what="48 in of acrylic at 4.1e-5 /°F and 100 °F grow by",
        status="derived",
        source="length × coefficient × warmth",
        there=(0.197,),
        here=lambda: (thermal(F(48), F("4.1e-5"), F(100)),),
        within=5e-4,
        unit="in",
        test=f"{BUDGETS}::test_four_feet_of_acrylic_grow_by_a_fifth_of_an_inch",
    ),
    Check(
        what="Resolution at which one pixel seen from one inch takes up one arc-minute",
        status="derived",
        source="1 / tan 1′",
        there=(1 / math.tan(math.radians(1 / 60)),),
        here=lambda: (ARC_MINUTE_PPI_INCHES,),
        within=0.5,
        unit="ppi",
        test="tests/mats/test_prints.py",
    ),
)

LISTS: Final = Path(__file__).with_name("sheets") / "index.json"


@dataclass(frozen=True, slots=True, kw_only=True)
class CutList:
    """A published cut list: its work, the proven bound and the fewest sheets that were found."""

    name: str
    source: str
    bound: int
    fewest: int


def cut_lists() -> Iterator[CutList]:
    """The published cut lists; `test_cut_lists` cuts each with at most one sheet more than the fewest found."""
    for known in json.loads(LISTS.read_text(encoding="utf-8")):
        part = f"class {known['class']}" if "class" in known else f"problem {known['number']}"
        source = f"{known['author']}, {known['source']}, {known['year']}, {part}"
        yield CutList(name=known["name"], source=source, bound=known["lower_bound"], fewest=known["best"])
