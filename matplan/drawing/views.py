"""Views: exact model millimetres placed on paper at a standard scale.

A view is the only place where a model length becomes a number of paper millimetres.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from matplan import habits
from matplan.drawing.items import Area, ModelBox, Point, Rect
from matplan.drawing.pens import Pen
from matplan.faults import DrawingError

METRIC: Final = habits.METRIC.scales
"""Reductions of ISO 5455, largest first."""
INCH: Final = habits.IMPERIAL.scales
"""The inch series, largest first: full size, 6, 3, 1 1/2, 3/4 and 1/2 inch to the foot."""


class NoScaleFits(DrawingError):
    """No scale of a series brings the model into the area."""


def scale_name(scale: Fraction) -> str:
    """`1:5` for 1/5."""
    return f"{scale.numerator}:{scale.denominator}"


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """Where a model box lies on paper. `at` is the paper point of the box's top left corner as it is seen.

    `mirrored` turns left and right over (a board seen from the back); `upward` is for models whose y runs up.
    """

    scale: Fraction
    at: Point
    model: ModelBox
    mirrored: bool = False
    upward: bool = False

    def length(self, mm: Fraction) -> float:
        """Return a model length in mm of paper."""
        # one division of whole numbers: as exact as the product of the fractions, without reducing it
        return mm.numerator * self.scale.numerator / (mm.denominator * self.scale.denominator)

    def point(self, x: Fraction, y: Fraction) -> Point:
        """Return the paper point of a model point."""
        mx, my, width, height = self.model
        across = mx + width - x if self.mirrored else x - mx
        down = my + height - y if self.upward else y - my
        return (self.at[0] + self.length(across), self.at[1] + self.length(down))

    def area(self, box: ModelBox) -> Area:
        """Return the paper rectangle of a model box."""
        x, y, width, height = box
        (x1, y1), (x2, y2) = self.point(x, y), self.point(x + width, y + height)
        return Area(x=min(x1, x2), y=min(y1, y2), width=abs(x2 - x1), height=abs(y2 - y1))

    def rect(
        self,
        box: ModelBox,
        *,
        pen: Pen | None = None,
        fill: str | None = None,
        name: str | None = None,
        classes: tuple[str, ...] = (),
        data: tuple[tuple[str, str], ...] = (),
    ) -> Rect:
        """Return a model box as an item; it carries its box where it has a name or classes."""
        named = box if name is not None or classes else None
        return self.area(box).rect(pen=pen, fill=fill, name=name, classes=classes, box=named, data=data)

    @property
    def whole(self) -> Area:
        """The paper rectangle of the model's own box."""
        return self.area(self.model)


def fit(
    model: ModelBox,
    area: Area,
    series: Sequence[Fraction] = METRIC,
    *,
    mirrored: bool = False,
    upward: bool = False,
) -> View:
    """Return the view at the largest scale of the series that brings the model box into the area, centred there.

    Raises NoScaleFits where even the smallest is too large.
    """
    _, _, width, height = model
    for scale in sorted(series, reverse=True):
        wide, high = float(width * scale), float(height * scale)
        if wide <= area.width + 1e-9 and high <= area.height + 1e-9:
            at = (area.x + (area.width - wide) / 2, area.y + (area.height - high) / 2)
            return View(scale=scale, at=at, model=model, mirrored=mirrored, upward=upward)
    raise NoScaleFits(
        f"{float(width):g} × {float(height):g} mm does not fit into {area.width:g} × {area.height:g} mm of paper"
        f" at {scale_name(min(series))}; a larger paper or a smaller scale would"
    )
