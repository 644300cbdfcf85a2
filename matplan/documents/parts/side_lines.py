"""Dimensions round a part, all of one line's on one line: each label beside its own arrows.

A line is a chain of spans on one side of the part. Labels stand along the line where each fits between its arrows;
else all labels of the line are turned across it, side by side, and thin leaders lead to those that had to move.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import zip_longest
from typing import Final, Self

from matplan.documents.parts.spreading import spread
from matplan.drawing import lettering
from matplan.drawing.dimensions import Dimension, Ends, Placed, Side, Style, draw, united
from matplan.drawing.items import Anchor, Area, Item, Level, ModelBox, Point, Polyline, Text
from matplan.drawing.pens import Pen
from matplan.drawing.views import View

type SideLine = Sequence[Dimension]
"""The dimensions of one line, all on one side; they do not overlap."""

_NEAR: Final = 4.0
"""From the part to a line whose labels are turned across it, in mm of paper."""
_LEAD: Final = 2.4
"""A leader slants over so much to a label that had to move."""
_BETWEEN: Final = 1.0
"""Between two labels that are turned across their line, and outside them."""
_MOVED: Final = 0.2
"""A label that is moved by more gets a leader."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lined:
    """A view with its lines of dimensions; `bounds` is the paper that they take together."""

    view: View
    bounds: Area
    items: tuple[Item, ...]


def lined(
    model: ModelBox,
    lines: Sequence[Sequence[SideLine]],
    area: Area,
    scale: Fraction,
    style: Style,
    *,
    turned: bool = True,
) -> Lined | None:
    """Return the model with its lines of dimensions centred in the area; `None` where there is no room at that scale.

    Each entry of `lines` gives one line in several versions, the fullest first: the first that has room is drawn. On a
    side the lines stand in the order given, the first nearest to the part. Unless labels may be `turned` across their
    lines, every line stands in its fullest version with its labels along it.
    """
    if float(model[2] * scale) > area.width or float(model[3] * scale) > area.height:
        return None
    view = View(scale=scale, at=(area.x, area.y), model=model)
    found = _round(view, lines, style, turned=turned, drawn=False)
    if found is None or found.bounds.width > area.width + 1e-6 or found.bounds.height > area.height + 1e-6:
        return None
    shift = (area.centre[0] - found.bounds.centre[0], area.centre[1] - found.bounds.centre[1])
    return _round(replace(view, at=(view.at[0] + shift[0], view.at[1] + shift[1])), lines, style, turned=turned)


def _round(
    view: View, lines: Sequence[Sequence[SideLine]], style: Style, *, turned: bool, drawn: bool = True
) -> Lined | None:
    """Return the lines round a view, without items where they are measured only."""
    depths = dict.fromkeys(Side, 0.0)
    items: list[Item] = []
    areas = [view.whole]
    for versions in lines:
        tried = (_line(version, view, style, depths, turned) for version in (versions if turned else versions[:1]))
        made = next((one for one in tried if one is not None), None)
        if made is None:
            return None
        side = versions[0][0].side
        depths[side] = made.depth
        items.extend(made.items(style) if drawn else ())
        areas.append(made.bounds)
    return Lined(view=view, bounds=united(areas), items=tuple(items))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Made:
    """A line on paper: how far from the part it reaches, its dimensions and their leaders."""

    depth: float
    bounds: Area
    placed: tuple[Placed, ...]
    leaders: tuple[Polyline | None, ...]

    def items(self, style: Style) -> tuple[Item, ...]:
        """Return what is drawn of the line."""
        groups = draw(self.placed, style)
        return tuple(
            group if leader is None else replace(group, items=(*group.items, leader))
            for group, leader in zip_longest(groups, self.leaders)
        )


def _line(line: SideLine, view: View, style: Style, depths: dict[Side, float], turned: bool) -> _Made | None:
    """Return one line on paper, `None` where its labels have no room."""
    side = line[0].side
    axis = 0 if side.across else 1
    spans = [tuple(sorted((view.point(*one.start)[axis], view.point(*one.end)[axis]))) for one in line]
    widths = [lettering.width(one.label, style.size, one.bold) for one in line]
    if all(high - low >= wide + 2 * style.pad for (low, high), wide in zip(spans, widths, strict=True)):
        return _along(line, view, style, spans, depths[side])
    return _across(line, view, style, spans, depths[side], max(widths)) if turned else None


def _along(line: SideLine, view: View, style: Style, spans: Sequence[tuple[float, ...]], depth: float) -> _Made:
    side, whole = line[0].side, view.whole
    at = depth + (style.pitch if depth else style.first)
    level = _Level.of(side, whole, at)
    texts = [
        Text(
            at=level.point((low + high) / 2, -style.lift * side.outward),
            text=one.label,
            size=style.size,
            anchor=Anchor.MIDDLE,
            turn=0.0 if side.across else -90.0,
            bold=one.bold,
        )
        for one, (low, high) in zip(line, spans, strict=True)
    ]
    reach = style.lift + style.size if side.outward < 0 else 0.0
    return _made(line, level, style, spans, texts, (), at, at + max(reach, style.overshoot))


def _across(
    line: SideLine, view: View, style: Style, spans: Sequence[tuple[float, ...]], depth: float, widest: float
) -> _Made | None:
    side, whole = line[0].side, view.whole
    low, high = (whole.x, whole.right) if side.across else (whole.y, whole.bottom)
    middles = [(a + b) / 2 for a, b in spans]
    order = sorted(range(len(line)), key=lambda n: middles[n])
    each = style.size * 1.15 + _BETWEEN
    places = spread([middles[n] for n in order], [each] * len(line), low, max(high, low + each))
    if places is None:
        return None
    placed = dict(zip(order, places, strict=True))
    moved = {n for n in order if abs(placed[n] - middles[n]) > _MOVED}
    at = depth + _NEAR
    level = _Level.of(side, whole, at)
    stub = style.overshoot + 0.3
    start = stub + (_LEAD if moved else 0.0) + 0.3
    first = side in (Side.ABOVE, Side.RIGHT)
    texts = [
        Text(
            at=level.point(placed[n], start),
            text=one.label,
            size=style.size,
            anchor=Anchor.START if first else Anchor.END,
            level=Level.MIDDLE,
            turn=-90.0 if side.across else 0.0,
            bold=one.bold,
        )
        for n, one in enumerate(line)
    ]
    leaders = tuple(
        Polyline(
            points=(level.point(middles[n], 0.0), level.point(middles[n], stub), level.point(placed[n], start - 0.3)),
            pen=Pen.RULE,
        )
        if n in moved
        else None
        for n in range(len(line))
    )
    return _made(line, level, style, spans, texts, leaders, at, at + start + widest + _BETWEEN)


@dataclass(frozen=True, slots=True)
class _Level:
    """A line's place: the paper coordinate across its side."""

    side: Side
    at: float

    @classmethod
    def of(cls, side: Side, whole: Area, away: float) -> Self:
        """Return the place `away` mm from the part's edge."""
        edge = {Side.ABOVE: whole.y, Side.BELOW: whole.bottom, Side.LEFT: whole.x, Side.RIGHT: whole.right}[side]
        return cls(side, edge + side.outward * away)

    def point(self, along: float, further: float) -> Point:
        """Return the paper point on the line, or `further` from the part than the line."""
        across = self.at + self.side.outward * further
        return (along, across) if self.side.across else (across, along)


def _made(
    line: SideLine,
    level: _Level,
    style: Style,
    spans: Sequence[tuple[float, ...]],
    texts: Sequence[Text],
    leaders: Sequence[Polyline | None],
    away: float,
    depth: float,
) -> _Made:
    roomy = all(high - low >= 2 * style.arrow + 0.6 for low, high in spans)
    drawn: set[float] = set()
    placed = []
    for one, (low, high), text in zip(line, spans, texts, strict=True):
        feet = (level.point(low, 0.0), level.point(high, 0.0))
        ends = [end for end in (low, high) if round(end, 6) not in drawn]
        drawn.update(round(end, 6) for end in ends)
        placed.append(
            Placed(
                dimension=one,
                row=0,
                feet=feet,
                line=feet,
                ends=Ends.INSIDE if roomy else Ends.STROKES,
                extensions=tuple(_extensions(level, style, ends, away)),
                text=text,
            )
        )
    bounds = united([one.bounds for one in placed])
    return _Made(depth=depth, bounds=bounds, placed=tuple(placed), leaders=tuple(leaders))


def _extensions(level: _Level, style: Style, ends: Sequence[float], away: float) -> Iterator[tuple[Point, Point]]:
    for end in ends:
        yield level.point(end, style.gap - away), level.point(end, style.overshoot)
