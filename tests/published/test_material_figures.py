"""Thicknesses, densities and movements against the sources that the tables name.

Published: EN 572-1 as quoted by glass makers; USDA *Wood Handbook* FPL-GTR-190, table 13-5; S. Saitzyk, *Art
Hardware*, 1987 (plies); Wengert (moisture content). Derived: densities of pines at 12 % moisture content from the
specific gravities of NDS 2018, table 12.3.3A. Common practice: the figures of acrylic. Memory: MDF and red oak.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from matplan import catalogue
from matplan.catalogue import Material, Quantity, Status
from matplan.lengths import Size, Units, parse_length

INCH = Fraction("25.4")


def material(name: str) -> Material:
    found = catalogue.glazing(name) or catalogue.backing(name) or catalogue.board(name)
    assert found is not None, name
    return found


def value(substance: str, quantity: Quantity) -> Fraction:
    found = catalogue.figure(substance, quantity)
    assert found is not None, (substance, quantity)
    return found.value


@pytest.mark.parametrize(("name", "mm"), [("glass-2mm", "2"), ("glass-2.5mm", "2.5"), ("glass-3mm", "3")])
def test_glass_weighs_2_5_kg_a_square_metre_and_millimetre(name: str, mm: str) -> None:
    """EN 572-1 as quoted by glass makers: 2500 kg/m³ = 2.5 kg/m² per mm."""
    glass = material(name)
    assert (glass.thickness, glass.density_kg_m3, glass.mass_kg_m2) == (
        Fraction(mm),
        Fraction(2500),
        Fraction("2.5") * Fraction(mm),
    )
    assert glass.mass_status is Status.PUBLISHED


@pytest.mark.parametrize(
    ("name", "mm"), [("acrylic-2mm", "2"), ("acrylic-2.5mm", "2.5"), ("acrylic-3mm", "3"), ("acrylic-1/8in", "3.175")]
)
def test_acrylic(name: str, mm: str) -> None:
    """Common practice: 1190 kg/m³ (ISO 1183 is the method alone)."""
    acrylic = material(name)
    assert (acrylic.thickness, acrylic.density_kg_m3) == (Fraction(mm), Fraction(1190))


def test_acrylic_expands_and_grows() -> None:
    """Common practice: 7.2e-5 /K; 0.2, 0.3, 0.6 % at 60, 80, 100 % RH. Glass: 9e-6 /K."""
    assert value("acrylic", Quantity.THERMAL_EXPANSION) == Fraction(72, 10**6)
    assert value("glass", Quantity.THERMAL_EXPANSION) == Fraction(9, 10**6)
    growth = {row.at_rh: row.value for row in catalogue.figures("acrylic", Quantity.HUMIDITY_GROWTH)}
    assert growth == {60: Fraction(2, 1000), 80: Fraction(3, 1000), 100: Fraction(6, 1000)}


def test_acrylic_expansion_agrees_with_the_same_figure_per_degree_fahrenheit() -> None:
    """Derived, as in makers' notes: 48 in at 4.1e-5 /°F over 100 °F grows 0.197 in. 7.2e-5 /K is 4.0e-5 /°F: within
    3 %.
    """
    grown = 48 * value("acrylic", Quantity.THERMAL_EXPANSION) * 100 * Fraction(5, 9)
    assert float(grown) == pytest.approx(0.197, rel=0.03)


def test_mdf() -> None:
    """Memory: about 750 kg/m³; 0.003 × 750 = 2.25 kg/m²."""
    assert material("mdf-3mm").density_kg_m3 == 750
    assert material("mdf-3mm").mass_kg_m2 == Fraction("2.25")
    assert material("mdf-3mm").mass_status is Status.MEMORY


def test_four_ply_lies_within_the_published_thickness() -> None:
    """Saitzyk 1987: 4-ply 0.050–0.060 in (1.27–1.52 mm); one ply 0.0125–0.015 in."""
    assert INCH * Fraction("0.050") <= material("4-ply").thickness <= INCH * Fraction("0.060")
    for name in ("2-ply", "4-ply", "6-ply", "8-ply"):
        board = material(name)
        assert board.ply is not None
        assert INCH * Fraction("0.0125") <= board.thickness / board.ply <= INCH * Fraction("0.015")


@pytest.mark.parametrize(("ply", "inches"), [(2, "1/32"), (4, "1/16"), (6, "3/32"), (8, "1/8")])
def test_plies_are_near_their_nominal_inches(ply: int, inches: str) -> None:
    """Common practice: 2, 4, 6, 8-ply are nominally 1/32, 1/16, 3/32, 1/8 in; the metric trade's board is a ninth
    thinner.
    """
    board = catalogue.board_of_ply(ply)
    assert board is not None
    assert 0 < parse_length(f"{inches} in", Units.MM) - board.thickness < board.thickness * Fraction(1, 7)


def test_mat_board_weighs_about_0_9_kg_a_square_metre() -> None:
    """Derived from solid chipboard, 654 kg/m³."""
    assert float(material("4-ply").mass_kg_m2) == pytest.approx(0.9, abs=0.02)
    assert material("4-ply").mass_status is Status.DERIVED


def test_foam_board() -> None:
    """1/8 and 3/16 in: encyclopedia, "Foamcore". 5 mm: 0.5 to 0.8 kg/m² is memory, and marked so."""
    foam = material("foam-5mm")
    assert foam.thickness == 5
    assert Fraction("0.5") <= foam.mass_kg_m2 <= Fraction("0.8")
    assert foam.mass_status is Status.MEMORY
    assert [material(f"foam-{t}").thickness for t in ("3mm", "10mm", "1/8in", "3/16in")] == [
        3,
        10,
        INCH / 8,
        INCH * 3 / 16,
    ]


def test_foam_board_masses_follow_one_model_of_faces_and_core() -> None:
    """0.3 kg/m² of faces and 0.07 kg/m² of core a millimetre, to two decimals (memory)."""
    for name in ("foam-3mm", "foam-5mm", "foam-10mm", "foam-1/8in", "foam-3/16in"):
        foam = material(name)
        assert float(foam.mass_kg_m2) == pytest.approx(0.3 + 0.07 * float(foam.thickness), abs=0.011), name


def test_acrylic_mat_and_foam_board_are_three_eighths_of_an_inch() -> None:
    """Derived: acrylic 1/8 + mat 1/16 + foam board 3/16 in = 3/8 in of rabbet."""
    assert material("acrylic-1/8in").thickness + INCH / 16 + material("foam-3/16in").thickness == INCH * 3 / 8


@pytest.mark.parametrize(("wood", "gravity"), [("white pine", "0.36"), ("ponderosa pine", "0.43"), ("red oak", "0.68")])
def test_wood_densities_follow_from_their_specific_gravity(wood: str, gravity: str) -> None:
    """NDS 2018: density = 1000 G / (1 + 0.009 G m) × (1 + m/100) kg/m³ at m % moisture content, G by oven-dry weight
    and volume; the gravity of red oak is from memory.
    """
    g = Fraction(gravity)
    density = 1000 * g / (1 + Fraction("0.009") * g * 12) * Fraction("1.12")
    assert abs(value(wood, Quantity.DENSITY) - density) < 1


@pytest.mark.parametrize(
    ("wood", "coefficient"),
    [("red oak", "0.00369"), ("white ash", "0.00274"), ("walnut", "0.00274"), ("cherry", "0.00248")],
)
def test_wood_moves_across_the_grain(wood: str, coefficient: str) -> None:
    """FPL-GTR-190, table 13-5, tangential: ΔD = D × C × ΔMC."""
    assert value(wood, Quantity.MOISTURE_MOVEMENT) == Fraction(coefficient)


def test_moisture_content_of_wood() -> None:
    """Wengert: RH 30, 50, 65, 80 % gives 6, 9, 12, 16 %."""
    content = {row.at_rh: float(row.value) for row in catalogue.figures("wood", Quantity.MOISTURE_CONTENT)}
    assert content == {30: 6, 50: 9, 65: 12, 80: 16}
    assert list(content) == [30, 50, 65, 80]


def test_shops_habit_for_large_glass() -> None:
    """Common practice: 2 mm to about 60 × 80 cm, 3 mm to 1 m."""
    assert material("glass-2mm").largest == Size(Fraction(600), Fraction(800))
    assert material("glass-3mm").largest == Size(Fraction(1000), Fraction(1000))
    assert material("glass-2.5mm").largest is None


def test_figures_that_depend_on_humidity_are_not_one_figure() -> None:
    assert catalogue.figure("acrylic", Quantity.HUMIDITY_GROWTH) is None
    assert catalogue.figure("brass", Quantity.DENSITY) is None
