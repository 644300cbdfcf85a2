"""The sums behind what a shaped outline adds to its opening: an arch's rise and radius, an octagon's corner legs."""

from __future__ import annotations

from matplan.job.records import Shape
from matplan.mats.outlines import Outline
from matplan.mats.shapes import polygon
from matplan.mats.shapes.roots import ROOT_2
from matplan.mats.shapes.segments import Arc
from matplan.mats.sums import Count, Sums


def explain(line: Outline, sums: Sums) -> None:
    """Records the clear opening's own figures, beyond its width and height."""
    first = line.segments[0]
    if line.shape is Shape.ARCH and isinstance(first, Arc):
        half, rise = line.box.width / 2, first.start[1] - line.box.y
        if rise == half:
            sums.add("arch's radius and rise", half, "opening {} ÷ 2", line.box.width)
        else:
            words = "(half width {} × {} + rise {} × {}) ÷ (2 × rise {})"
            sums.add("arch's radius", first.rx, words, half, half, rise, rise, rise)
    elif line.shape is Shape.OCTAGON:
        side, part = min(line.box.width, line.box.height), 1 - ROOT_2 / 2
        leg = polygon.leg_of(polygon.corners_of(line.segments))
        words, snap = "shorter side {} × {} as in a regular octagon", "to the nearest step"
        sums.add("leg of the corners", leg, words, side, Count(part), raw=side * part, snap=snap)
