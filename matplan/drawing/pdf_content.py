"""The content of a PDF page: the operators that draw lines, outlines and lettering.

Operators are written here and not by the library's canvas, which formats each number by rules of its own and takes a
tenth of a pack's time for it. Points of paper come in mm, y down; a page counts points of 1/72 in, y up. What the
page has taken up (pen, fill colour) is not said again. The operators are those of ISO 32000-1, annex A.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import cache
from typing import TYPE_CHECKING, Final, assert_never

from matplan.drawing import lettering
from matplan.drawing.arcs import beziers
from matplan.drawing.items import ArcTo, Ellipse, Outline, Path, Point, Polyline, Rect, Text, To
from matplan.drawing.pdf_structure import ARTIFACT, WORDS, Marks
from matplan.drawing.pens import STROKES, Pen

if TYPE_CHECKING:
    from matplan.drawing.outlines import Step

PT: Final = 72 / 25.4
"""Points in a mm."""

type Shown = tuple[tuple[str, str], ...]
"""A text as pairs: the name of a font on the page, and codes of its glyphs as hexadecimal figures."""


class Content:
    """Writes the operators of one page as high as that, in mm."""

    def __init__(self, height: float, write: Callable[[str], object], marks: Marks | None = None) -> None:
        self._height, self._write, self._marks = height * PT, write, marks
        self._taken: list[tuple[Pen | None, str | None]] = [(None, None)]
        """The pen and the fill colour taken up, in each saved state."""

    def at(self, point: Point) -> Point:
        """Return a paper point in the page's units."""
        return (point[0] * PT, self._height - point[1] * PT)

    def line(self, start: Point, end: Point, pen: Pen) -> None:
        """Draw a straight line."""
        self._mark(ARTIFACT)
        self._take_pen(pen)
        self._write(f"{self._point(start)} m {self._point(end)} l S")

    def shape(self, outlines: Sequence[Outline], pen: Pen | None, fill: str | None) -> None:
        """Draw outlines as one shape; what an even number of them holds is not filled."""
        if pen is None and fill is None:
            return
        self._mark(ARTIFACT)
        if pen is not None:
            self._take_pen(pen)
        if fill is not None:
            self._take_fill(fill)
        ending = "S" if fill is None else "f*" if pen is None else "B*"
        self._write(" ".join([*(t for outline in outlines for t in traces(outline, self._height)), ending]))

    @contextmanager
    def clipped(self, outline: Outline | None) -> Iterator[None]:
        """Cut what is drawn within to the outline, where there is one."""
        if outline is None:
            yield
            return
        self._taken.append(self._taken[-1])
        self._mark(None)
        self._write(" ".join(["q", *traces(outline, self._height), "W* n"]))
        yield
        self._taken.pop()
        self._mark(None)
        self._write("Q")

    def text(self, setting: lettering.Setting, shown: Sequence[Shown], colour: str, stretch: float = 1.0) -> None:
        """Set a text in type, each of its runs as `shown` has it, stretched to that part of its width."""
        self._mark(WORDS)
        self._take_fill(colour)
        angle = -math.radians(setting.turn)
        cosine, sine = math.cos(angle), math.sin(angle)
        place = self._point(lettering.turned(setting.start, setting.at, setting.turn))
        matrix = f"{cosine:.5f} {sine:.5f} {-sine:.5f} {cosine:.5f}" if setting.turn else "1 0 0 1"
        wide, usual = ("", "") if stretch == 1.0 else (f"{stretch * 100:.4f} Tz ", " 100 Tz")
        parts: list[str] = []
        risen = 0.0
        for run, pairs in zip(setting.runs, shown, strict=True):
            em = f"{setting.em * run.scale * PT:.4f}"
            parts += [f"{run.rise * PT:.4f} Ts"] if run.rise != risen else []
            parts += [f"{font} {em} Tf <{codes}> Tj" for font, codes in pairs]
            risen = run.rise
        self._write(f"BT {wide}{matrix} {place} Tm {' '.join(parts)}{usual} ET")

    def outlines(self, steps: Iterable["Step"], setting: lettering.Setting, colour: str) -> None:
        """Fill a text's outline, turned as the text is."""
        self._mark(ARTIFACT)
        self._take_fill(colour)
        parts = []
        here = setting.start
        for step in steps:
            points = step.points
            match step.verb:
                case "move" | "line" | "curve":
                    shown = points
                case "quad":
                    control, end = points
                    shown = (_raised(here, control), _raised(end, control), end)
                case "close":
                    shown = ()
                case _:
                    assert_never(step.verb)
            placed = (self._point(lettering.turned(point, setting.at, setting.turn)) for point in shown)
            parts.append(" ".join([*placed, _VERBS[step.verb]]))
            here = points[-1] if points else here
        if parts:
            self._write(" ".join([*parts, "f"]))

    def _mark(self, kind: str | None) -> None:
        """Put what follows under that kind of a tagged page, or under none."""
        if self._marks is not None:
            self._marks.end() if kind is None else self._marks.begin(kind)

    def _point(self, point: Point) -> str:
        return _on_page(point, self._height)

    def _take_pen(self, pen: Pen) -> None:
        taken, colour = self._taken[-1]
        if taken is not pen:
            self._taken[-1] = (pen, colour)
            self._write(_stroke(pen))

    def _take_fill(self, colour: str) -> None:
        pen, taken = self._taken[-1]
        if taken != colour:
            self._taken[-1] = (pen, colour)
            self._write(f"{_colour(colour)} rg")


def lettered(texts: Sequence[Text], height: float) -> list[str]:
    """Return the operators that draw texts in outlines, without a font, on a page as high as that, in mm."""
    if not texts:
        return []
    from matplan.drawing import outlines

    lines: list[str] = []
    content = Content(height, lines.append)
    for item in texts:
        at = lettering.setting(item)
        steps = outlines.placed(at.text, item.bold, start=at.start, em=at.em)
        content.outlines(steps, at, item.colour)
    return lines


def traces(outline: Outline, height: float) -> Iterator[str]:
    """Yield the operators that trace an outline on a page as high as that, in points."""
    match outline:
        case Polyline():
            first, *rest = outline.points
            yield f"{_on_page(first, height)} m"
            yield from (f"{_on_page(point, height)} l" for point in rest)
            if outline.closed:
                yield "h"
        case Rect():
            corner = _on_page((outline.x, outline.y + outline.height), height)
            yield f"{corner} {outline.width * PT:.3f} {outline.height * PT:.3f} re"
        case Ellipse():
            yield from _path(outline.path, height)
        case Path():
            yield from _path(outline, height)
        case _:
            assert_never(outline)


def _path(path: Path, height: float) -> Iterator[str]:
    yield f"{_on_page(path.start, height)} m"
    here = path.start
    for step in path.steps:
        match step:
            case To():
                yield f"{_on_page(step.end, height)} l"
            case ArcTo():
                for curve in beziers(here, step):
                    yield " ".join([*(_on_page(point, height) for point in curve), "c"])
            case _:
                assert_never(step)
        here = step.end
    if path.closed:
        yield "h"


def _on_page(point: Point, height: float) -> str:
    return f"{point[0] * PT:.3f} {height - point[1] * PT:.3f}"


_VERBS: Final = {"move": "m", "line": "l", "quad": "c", "curve": "c", "close": "h"}


@cache
def _stroke(pen: Pen) -> str:
    stroke = STROKES[pen]
    dashes = " ".join(f"{d * PT:.4f}" for d in stroke.dashes)
    return f"{_colour(stroke.colour)} RG {stroke.width * PT:.4f} w [{dashes}] 0 d"


@cache
def _colour(text: str) -> str:
    """Return the three parts of `#rrggbb`, each from 0 to 1."""
    return " ".join(f"{int(text[n : n + 2], 16) / 255:.4f}" for n in (1, 3, 5))


def _raised(end: Point, control: Point) -> Point:
    """Return the cubic's control point beside `end` for a quadratic's."""
    return (end[0] + (control[0] - end[0]) * 2 / 3, end[1] + (control[1] - end[1]) * 2 / 3)
