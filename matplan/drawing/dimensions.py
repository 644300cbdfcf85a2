"""Dimensions: what is measured, where its line and label stand, and the items that draw it.

A dimension measures the distance of two model points across (above, below) or down (left, right) and carries the label
that the model's exact length was given; nothing is measured on the page. Rows stand at a fixed pitch outside the part,
the shortest dimension nearest to it. Labels stand above their line, read from below or from the right. What is too
short for its arrows has them outside, or oblique strokes where a neighbour stands there; what is too short for its
label has it beside, on its own line, in the nearest row with room, so that no two labels ever meet.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import count, pairwise
from typing import Final

from matplan.drawing import lettering
from matplan.drawing.items import Anchor, Area, Item, Level, ModelBox, Point, Text
from matplan.drawing.measure import (
    NORMAL,
    SMALL,
    Dimension,
    Ends,
    ModelPoint,
    Placed,
    Side,
    Style,
    around,
    draw,
    united,
)
from matplan.drawing.pens import INK, NARROW_MM
from matplan.drawing.views import METRIC, NoScaleFits, View, fit, scale_name

__all__ = [
    "NORMAL",
    "SMALL",
    "Arranged",
    "Dimension",
    "Ends",
    "ModelPoint",
    "Placed",
    "Side",
    "Style",
    "arrange",
    "chain",
    "draw",
    "place",
    "united",
]

type Span = tuple[float, float]

_EPSILON: Final = 1e-6
_MOST_ROWS: Final = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Arranged:
    """A view with its dimensions placed; `bounds` is the paper that part and dimensions take."""

    view: View
    placed: tuple[Placed, ...]
    bounds: Area
    items: tuple[Item, ...]


def chain(
    points: Sequence[ModelPoint], labels: Sequence[str], side: Side, *, classes: tuple[str, ...] = ()
) -> tuple[Dimension, ...]:
    """Return the running dimensions from each point to the next; one label less than points."""
    return tuple(
        Dimension(start=start, end=end, side=side, label=label, classes=classes)
        for (start, end), label in zip(pairwise(points), labels, strict=True)
    )


def arrange(
    model: ModelBox,
    dimensions: Sequence[Dimension],
    area: Area,
    series: Sequence[Fraction] = METRIC,
    *,
    style: Style = NORMAL,
    mirrored: bool = False,
    upward: bool = False,
) -> Arranged:
    """Return the model, centred in the area, at the largest scale at which it fits there with its dimensions.

    Raises NoScaleFits where even the smallest is too large.
    """
    for scale in sorted(series, reverse=True):
        if float(model[2] * scale) > area.width or float(model[3] * scale) > area.height:
            continue
        view = View(scale=scale, at=(area.x, area.y), model=model, mirrored=mirrored, upward=upward)
        bounds = _bounds(view, place(dimensions, view, style))
        if bounds.width > area.width + _EPSILON or bounds.height > area.height + _EPSILON:
            continue
        shift = (area.centre[0] - bounds.centre[0], area.centre[1] - bounds.centre[1])
        view = replace(view, at=(view.at[0] + shift[0], view.at[1] + shift[1]))
        placed = place(dimensions, view, style)
        return Arranged(view=view, placed=placed, bounds=_bounds(view, placed), items=draw(placed, style))
    fit(model, area, series, mirrored=mirrored, upward=upward)  # says so where even the bare model is too large
    raise NoScaleFits(
        f"the model fits at {scale_name(min(series))}, but its dimensions do not; a larger paper would help"
    )


def _bounds(view: View, placed: Sequence[Placed]) -> Area:
    return united([view.whole, *(p.bounds for p in placed)])


def _inked(line: Sequence[Point]) -> Area:
    """Return the area that a line takes with its width."""
    return around(line).inset(*[-NARROW_MM / 2] * 4)


# --- placing ---------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Choice:
    """A row's decision for one dimension, in coordinates along its side."""

    row: int
    line: Span
    text: Span
    ends: Ends


def place(
    dimensions: Sequence[Dimension],
    view: View,
    style: Style = NORMAL,
    *,
    part: Area | None = None,
    avoid: Sequence[Area] = (),
) -> tuple[Placed, ...]:
    """Return every dimension in its row, in the order given. Rows stand round `part`, by default the whole model.

    Labels keep clear of the areas to `avoid`.
    """
    part = part or view.whole
    found: dict[int, Placed] = {}
    texts, lines = list(avoid), list[Area]()
    for side in Side:
        members = [n for n, d in enumerate(dimensions) if d.side is side]
        rows = _Side(side, [dimensions[n] for n in members], view, style, part, texts, lines)
        for number, placed in zip(members, rows.placed(), strict=True):
            found[number] = placed
            texts.append(around(lettering.setting(placed.text).corners()))
            lines.extend(map(_inked, (placed.line, *placed.extensions)))
    return tuple(found[n] for n in range(len(dimensions)))


class _Side:
    """The dimensions on one side of a part. `along` is the coordinate that they measure, `depth` leads away from the
    part.
    """

    def __init__(
        self,
        side: Side,
        dimensions: list[Dimension],
        view: View,
        style: Style,
        part: Area,
        texts: list[Area],
        lines: list[Area],
    ) -> None:
        self._side, self._dimensions, self._style = side, dimensions, style
        self._texts, self._strokes = list(texts), list(lines)
        self._axis = 0 if side.across else 1
        self._edge = {Side.ABOVE: part.y, Side.BELOW: part.bottom, Side.LEFT: part.x, Side.RIGHT: part.right}[side]
        self._middle = part.centre[self._axis]
        self._points = [(view.point(*d.start), view.point(*d.end)) for d in dimensions]
        self._spans = [(min(p[self._axis], q[self._axis]), max(p[self._axis], q[self._axis])) for p, q in self._points]
        self._widths = [lettering.width(d.label, style.size, d.bold) for d in dimensions]
        self._chosen: dict[int, _Choice] = {}

    def placed(self) -> list[Placed]:
        def nearest_first(n: int) -> tuple[float, float, int]:
            low, high = self._spans[n]
            return (round(high - low, 6), low, n)

        for n in sorted(range(len(self._dimensions)), key=nearest_first):
            self._chosen[n] = self._choose(n)
        return [self._finished(n) for n in range(len(self._dimensions))]

    def _choose(self, n: int) -> _Choice:
        for row in count():
            for choice in self._choices(n, row):
                if row >= _MOST_ROWS or self._is_free(n, choice):
                    return choice
        raise AssertionError("rows never end")

    def _choices(self, n: int, row: int) -> Iterator[_Choice]:
        """Yield what may be tried in a row, the best first."""
        (low, high), style, width = self._spans[n], self._style, self._widths[n]
        tail = 2 * style.arrow
        roomy = high - low >= 2 * style.arrow + 0.6
        outside = ((Ends.OUTSIDE, tail), (Ends.STROKES, style.overshoot))
        variants = ((Ends.INSIDE, 0.0),) if roomy else outside
        lines = self._lines(row)
        for ends, reach in variants:
            for text in self._places(low, high, width, reach, lines):
                line = (min(low - reach, text[0]), max(high + reach, text[1])) if ends is Ends.OUTSIDE else (low, high)
                if text[1] > high + _EPSILON or text[0] < low - _EPSILON:
                    line = (min(line[0], text[0]), max(line[1], text[1]))
                yield _Choice(row=row, line=line, text=text, ends=ends)

    def _lines(self, row: int) -> list[float]:
        """Return where extension lines may pass the row: of dimensions that are not known to stand nearer."""
        return sorted(
            {
                end
                for n, span in enumerate(self._spans)
                for end in span
                if n not in self._chosen or self._chosen[n].row >= row
            }
        )

    def _places(self, low: float, high: float, width: float, reach: float, lines: list[float]) -> Iterator[Span]:
        """Yield where the label stands clear of the lines: inside, nearest the middle; then outside, nearest first."""
        pad = self._style.pad
        middle = (low + high) / 2
        inner = [low, *(x for x in lines if low + _EPSILON < x < high - _EPSILON), high]
        inside = []
        for left, right in pairwise(inner):
            if right - left >= width + 2 * pad:
                start = min(max(middle - width / 2, left + pad), right - pad - width)
                inside.append((abs(start + width / 2 - middle), (start, start + width)))
        yield from (span for _, span in sorted(inside))
        after = [high, *(x for x in lines if x > high + _EPSILON), float("inf")]
        before = [float("-inf"), *(x for x in lines if x < low - _EPSILON), low]
        outside = []
        for left, right in pairwise(after):
            start = max(left + pad, high + reach)
            if start + width + pad <= right:
                outside.append((start - high, middle < self._middle, (start, start + width)))
        for left, right in pairwise(before):
            start = min(right - pad, low - reach) - width
            if start - pad >= left:
                outside.append((low - start - width, middle > self._middle, (start, start + width)))
        yield from (span for _, _, span in sorted(outside))

    def _is_free(self, n: int, choice: _Choice) -> bool:
        pad = self._style.pad
        rivals = [(c.line, c.text) for c in self._chosen.values() if c.row == choice.row]
        coming = (m for m in range(len(self._spans)) if m not in self._chosen and m != n)
        rivals += [(self._spans[m], self._spans[m]) for m in coming if self._will_stand_beside(n, m, choice)]
        for line, text in rivals:
            widened = (choice.text[0] - pad, choice.text[1] + pad)
            meetings = (
                _overlap(line, choice.line),
                _overlap(line, choice.text),
                _overlap(text, choice.line),
                _overlap(text, widened),
            )
            if max(meetings) > _EPSILON:
                return False
        label, depth = self._text_area(choice), self._depth(choice.row)
        own = _inked([self._point(end, depth) for end in choice.line])
        taken = any(_meet(label, area, pad) for area in (*self._texts, *self._strokes))
        return not taken and not any(_meet(own, area, pad) for area in self._texts)

    def _will_stand_beside(self, n: int, other: int, choice: _Choice) -> bool:
        """Return whether another dimension, not yet placed, will stand in the first row where this one reaches over."""
        low, high = self._spans[n]
        reaches = choice.line[0] < low - _EPSILON or choice.line[1] > high + _EPSILON
        return choice.row == 0 and reaches and _overlap(self._spans[other], (low, high)) <= _EPSILON

    def _depth(self, row: int) -> float:
        """Return the paper coordinate, across the side, of a row's lines."""
        return self._edge + self._side.outward * (self._style.first + row * self._style.pitch)

    def _point(self, along: float, depth: float) -> Point:
        return (along, depth) if self._side.across else (depth, along)

    def _text_area(self, choice: _Choice) -> Area:
        style, depth = self._style, self._depth(choice.row)
        low, high = choice.text
        top, height = depth - style.lift - style.size, style.size + style.lift
        if self._side.across:
            return Area(x=low, y=top, width=high - low, height=height)
        return Area(x=top, y=low, width=height, height=high - low)

    def _finished(self, n: int) -> Placed:
        choice, dimension, style = self._chosen[n], self._dimensions[n], self._style
        depth = self._depth(choice.row)
        low, high = self._spans[n]
        text = Text(
            at=self._point((choice.text[0] + choice.text[1]) / 2, depth - style.lift),
            text=dimension.label,
            size=style.size,
            anchor=Anchor.MIDDLE,
            level=Level.BASELINE,
            turn=0.0 if self._side.across else -90.0,
            bold=dimension.bold,
            colour=INK,
        )
        return Placed(
            dimension=dimension,
            row=choice.row,
            feet=(self._point(low, depth), self._point(high, depth)),
            line=(self._point(choice.line[0], depth), self._point(choice.line[1], depth)),
            ends=choice.ends,
            extensions=tuple(self._extensions(n)),
            text=text,
        )

    def _extensions(self, n: int) -> Iterator[tuple[Point, Point]]:
        """Yield the extension lines that a dimension draws: where several share one, the outermost draws it for all."""
        outward, style = self._side.outward, self._style
        for point in dict.fromkeys(self._points[n]):
            along = point[self._axis]
            sharing = [m for m in range(len(self._spans)) if any(abs(along - e) < _EPSILON for e in self._spans[m])]
            if n != max(sharing, key=lambda m: (self._chosen[m].row, -m)):
                continue
            starts = [
                p[1 - self._axis] for m in sharing for p in self._points[m] if abs(p[self._axis] - along) < _EPSILON
            ]
            start = min(starts, key=lambda v: v * outward) + outward * style.gap
            end = self._depth(self._chosen[n].row) + outward * style.overshoot
            yield (self._point(along, start), self._point(along, end))


def _overlap(first: Span, second: Span) -> float:
    return min(first[1], second[1]) - max(first[0], second[0])


def _meet(first: Area, second: Area, pad: float) -> bool:
    return (
        _overlap((first.x - pad, first.right + pad), (second.x, second.right)) > _EPSILON
        and _overlap((first.y - pad, first.bottom + pad), (second.y, second.bottom)) > _EPSILON
    )
