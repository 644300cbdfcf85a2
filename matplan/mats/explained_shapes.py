"""The sums of what a shaped outline adds to its opening: an arch's rise and radius, an octagon's corner legs."""

from __future__ import annotations

from matplan.job.records import Shape
from matplan.lengths import Step
from matplan.mats.outlines import Outline
from matplan.mats.shapes import polygon
from matplan.mats.shapes.roots import ROOT_2
from matplan.mats.shapes.segments import Arc
from matplan.sums import Sums, half, length, nearest, ratio


def explain(line: Outline, sums: Sums, step: Step) -> None:
    """Record the clear opening's own figures, beyond its width and height."""
    first = line.segments[0]
    if line.shape is Shape.ARCH and isinstance(first, Arc):
        wide, high = line.box.width / 2, first.start[1] - line.box.y
        if high == wide:
            sums.told("arch's radius and rise", wide, half(length("opening", line.box.width)))
        else:
            across, rise = length("half width", wide), length("rise", high)
            sums.told("arch's radius", first.rx, (across * across + rise * rise) / (2 * rise))
    elif line.shape is Shape.OCTAGON:
        side = length("shorter side", min(line.box.width, line.box.height))
        leg = polygon.leg_of(polygon.corners_of(line.segments))
        sums.told("leg of the corners", leg, nearest(side * ratio("a regular octagon's part", 1 - ROOT_2 / 2), step))
