"""Glass above the size that its thickness is sold for (common practice: 2 mm to about 60 × 80 cm, 3 mm to 1 m)."""

from __future__ import annotations

from dataclasses import replace

import pytest

from matplan.lengths import Units
from matplan.mats.records import Finding
from tests.making import ACRYLIC_EIGHTH, GLASS, frame, mm, solved, window


def found(takes: str, thickness: str = "2 mm", units: Units = Units.MM, **glazing: object) -> list[Finding]:
    glass = replace(GLASS, thickness=mm(thickness), **glazing)  # type: ignore[arg-type]
    made = solved(frame=frame(takes), apertures=(window(image="200x300 mm"),), glazing=glass, units=units)
    return [finding for finding in made.findings if finding.code == "glass-too-large"]


@pytest.mark.parametrize(
    ("takes", "thickness", "too_large"),
    [
        ("600x800 mm", "2 mm", False),
        ("800x600 mm", "2 mm", False),
        ("601x800 mm", "2 mm", True),
        ("600x801 mm", "2 mm", True),
        ("700x900 mm", "1.8 mm", True),
        ("1000x1000 mm", "2.5 mm", False),
        ("1000x1000 mm", "3 mm", False),
        ("1000x1001 mm", "2.5 mm", True),
        ("1000x1001 mm", "3 mm", True),
        ("1000x1400 mm", "4 mm", False),  # nothing is known of thicker glass
    ],
)
def test_glass_is_used_up_to_a_size(takes: str, thickness: str, too_large: bool) -> None:
    assert [finding.where for finding in found(takes, thickness)] == (["glazing"] if too_large else [])


def test_the_cure_is_acrylic_or_glass_that_is_thick_enough() -> None:
    (finding,) = found("700x1000 mm")
    assert finding.text == (
        "700 × 1000 mm of glass-2mm: glass of 2 mm is used up to 600 × 800 mm (common practice); "
        "take acrylic, or glass of 3 mm"
    )
    (finding,) = found("1000x1400 mm")
    assert finding.text.endswith("; take acrylic")


def test_acrylic_and_what_nobody_knows_are_not_glass() -> None:
    assert found("1000x1400 mm", substance="acrylic") == []
    assert found("1000x1400 mm", substance="") == []
    assert not [
        finding
        for finding in solved(
            frame=frame("1000x1400 mm"), apertures=(window(image="200x300 mm"),), glazing=ACRYLIC_EIGHTH
        ).findings
        if finding.code == "glass-too-large"
    ]


def test_an_inch_job_is_told_in_inches() -> None:
    (finding,) = found("30x40 in", units=Units.IN)
    assert "30 × 40 in of glass-2mm" in finding.text
    assert " mm" not in finding.text.replace("glass-2mm", "")
