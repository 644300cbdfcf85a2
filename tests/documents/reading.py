"""What the tests of documents read off a sheet: where its model lies on paper, and what its dimensions measure."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from matplan.lengths import Box, Printer, parse_length
from tests.readback import Bundle, Lettering, Mark, Picture, Reading, Shape

HUNDREDTH = 0.01
"""In mm of paper: how near a drawn edge lies to where the model says."""

type Bounds = tuple[float, float, float, float]


def scale_of(reading: Reading) -> Fraction:
    """Paper : model, as the file says."""
    assert reading.scale is not None
    one, many = reading.scale.split(":")
    return Fraction(int(one), int(many))


def bounds_of(mark: Mark | Bundle) -> Bounds:
    assert isinstance(mark, Shape | Picture)
    return mark.bounds


def origin_of(reading: Reading, name: str) -> tuple[float, float]:
    """The paper point of the model's origin: the top left corner of the part whose box begins there."""
    (part,) = (p for p in reading.named(name) if isinstance(p, Shape))
    assert part.box is not None
    assert not any(part.box[:2])
    x, y, _, _ = part.bounds
    return x, y


def on_paper(box: Box, origin: tuple[float, float], scale: Fraction) -> Bounds:
    """Where a model box lies on paper."""
    x, y, width, height = (float(v * scale) for v in (box.x, box.y, box.width, box.height))
    return (origin[0] + x, origin[1] + y, width, height)


def near(one: Bounds, other: Bounds) -> bool:
    return all(abs(a - b) <= HUNDREDTH for a, b in zip(one, other, strict=True))


def boxed(box: Box) -> tuple[Fraction, ...]:
    """The box as a drawing's data has it: to six places."""
    return tuple(round(v, 6) for v in (box.x, box.y, box.width, box.height))


def dimensions(reading: Reading) -> Iterator[Bundle]:
    return (p for p in reading.named("dimension") if isinstance(p, Bundle))


def check_dimensions(reading: Reading, printer: Printer) -> int:
    """Every dimension is as long as its box says at the scale, and its label says the same; how many there are."""
    scale, count = scale_of(reading), 0
    for count, dimension in enumerate(dimensions(reading), 1):  # noqa: B007 - the last one is returned
        assert dimension.box is not None
        measured = max(dimension.box[2:])
        tips = [p.points[0] for p in dimension.parts if isinstance(p, Shape) and p.tag == "polygon"]
        tips += [_middle(p) for p in dimension.parts if isinstance(p, Shape) and p.tag == "line" and _oblique(p)]
        (x1, y1), (x2, y2) = min(tips), max(tips)
        assert abs(max(abs(x2 - x1), abs(y2 - y1)) - float(measured * scale)) <= HUNDREDTH
        (label,) = (p.text for p in dimension.parts if isinstance(p, Lettering))
        slack = printer.step.size / 2 if printer.units.value == "in" else Fraction(1, 20)
        assert abs(parse_length(label, printer.units) - measured) <= slack + Fraction(1, 10**6)
    return count


def _oblique(line: Shape) -> bool:
    (x1, y1), (x2, y2) = line.points
    return abs(x1 - x2) > 0.1 and abs(y1 - y2) > 0.1


def _middle(line: Shape) -> tuple[float, float]:
    (x1, y1), (x2, y2) = line.points
    return ((x1 + x2) / 2, (y1 + y2) / 2)
