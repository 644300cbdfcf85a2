"""Reads a template's PDF as somebody who joins its sheets would: every line where it lies on paper, marks, words; then
all sheets as one.

Nothing of the program's own layout is used: sheets are joined by the marks that they print, curves are followed between
their ends.
"""

from __future__ import annotations

import ctypes
import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from matplan.drawing.pens import STROKES, Pen
from tests.readback import MM, Lettering, Point, Reading, Shape, read_pdf

_CURVE = 64
"""Points to follow a curve by."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stroke:
    """A line as it is printed, in mm from the sheet's top left corner: its colour, its width and how many dashes and
    gaps it has.
    """

    points: tuple[Point, ...]
    colour: str
    width: float
    dashes: int

    def is_of(self, pen: Pen) -> bool:
        look = STROKES[pen]
        return self.colour == look.colour and abs(self.width - look.width) < 0.01 and self.dashes == len(look.dashes)


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """One sheet: what is printed on it, and its marks by their letters."""

    reading: Reading
    strokes: tuple[Stroke, ...]
    marks: dict[str, Point]

    def of(self, pen: Pen) -> tuple[Stroke, ...]:
        return tuple(stroke for stroke in self.strokes if stroke.is_of(pen))


def printed(content: bytes) -> tuple[Printed, ...]:
    """Every sheet of a template."""
    import pypdfium2

    readings = read_pdf(content).pages
    document = pypdfium2.PdfDocument(content)
    found = []
    for page, reading in zip(document, readings, strict=True):
        found.append(Printed(reading=reading, strokes=tuple(_strokes(page)), marks=_marks(reading)))
        page.close()
    document.close()
    return tuple(found)


def _marks(reading: Reading) -> dict[str, Point]:
    """Each diamond's middle by the letter that is printed after it."""
    found: dict[str, Point] = {}
    for mark, after in pairwise(reading.marks):
        if (
            isinstance(mark, Shape)
            and isinstance(after, Lettering)
            and len(mark.points) in (4, 5)
            and after.text.isupper()
        ):
            x, y, width, height = mark.bounds
            if abs(width - 8.8) < 0.01 and abs(height - 8.8) < 0.01:
                found[after.text] = (x + width / 2, y + height / 2)
    return found


def _strokes(page: object) -> Iterator[Stroke]:
    from pypdfium2 import raw

    height = page.get_height()  # type: ignore[attr-defined]
    for thing in page.get_objects():  # type: ignore[attr-defined]
        if thing.type != raw.FPDF_PAGEOBJ_PATH:
            continue
        pointer = thing.raw
        mode, stroked = ctypes.c_int(), ctypes.c_int()
        raw.FPDFPath_GetDrawMode(pointer, mode, stroked)
        if not stroked.value:
            continue
        matrix = raw.FS_MATRIX()
        raw.FPDFPageObj_GetMatrix(pointer, matrix)
        assert (matrix.a, matrix.b, matrix.c, matrix.d, matrix.e, matrix.f) == (1, 0, 0, 1, 0, 0)
        width, colour = ctypes.c_float(), [ctypes.c_uint() for _ in range(4)]
        raw.FPDFPageObj_GetStrokeWidth(pointer, width)
        raw.FPDFPageObj_GetStrokeColor(pointer, *colour)
        yield Stroke(
            points=tuple((x * MM, (height - y) * MM) for x, y in _points(pointer)),
            colour="#" + "".join(f"{part.value:02x}" for part in colour[:3]),
            width=width.value * MM,
            dashes=raw.FPDFPageObj_GetDashCount(pointer),
        )


def _points(pointer: object) -> Iterator[Point]:
    """The points of a path, curves followed, back to its start where it is closed."""
    from pypdfium2 import raw

    start = here = (0.0, 0.0)
    controls: list[Point] = []
    for number in range(raw.FPDFPath_CountSegments(pointer)):
        segment = raw.FPDFPath_GetPathSegment(pointer, number)
        x, y = ctypes.c_float(), ctypes.c_float()
        raw.FPDFPathSegment_GetPoint(segment, x, y)
        at = (x.value, y.value)
        kind = raw.FPDFPathSegment_GetType(segment)
        if kind == raw.FPDF_SEGMENT_BEZIERTO:
            controls.append(at)
            if len(controls) == 3:
                yield from _followed(here, *controls)
                here, controls = at, []
        else:
            if kind == raw.FPDF_SEGMENT_MOVETO:
                start = at
            here = at
            yield at
        if raw.FPDFPathSegment_GetClose(segment):
            yield start


def _followed(start: Point, first: Point, second: Point, end: Point) -> Iterator[Point]:
    for number in range(1, _CURVE + 1):
        t = number / _CURVE
        a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
        yield (
            a * start[0] + b * first[0] + c * second[0] + d * end[0],
            a * start[1] + b * first[1] + c * second[1] + d * end[1],
        )


def joined(sheets: tuple[Printed, ...]) -> tuple[tuple[Point, ...], float]:
    """How far each sheet is moved so that its marks lie on its neighbours', the first where it is; and by how much
    marks miss at most.
    """
    moves: dict[int, Point] = {0: (0.0, 0.0)}
    worst = 0.0
    waiting = [0]
    while waiting:
        here = waiting.pop()
        for other, sheet in enumerate(sheets):
            common = sheets[here].marks.keys() & sheet.marks.keys()
            if other == here or not common:
                continue
            letter = min(common)
            move = _moved(sheets[here].marks[letter], moves[here])
            move = (move[0] - sheet.marks[letter][0], move[1] - sheet.marks[letter][1])
            if other not in moves:
                moves[other] = move
                waiting.append(other)
            for mark in common:
                gap = math.dist(_moved(sheets[here].marks[mark], moves[here]), _moved(sheet.marks[mark], moves[other]))
                worst = max(worst, gap)
    assert len(moves) == len(sheets), "a sheet that no mark joins to the others"
    return tuple(moves[number] for number in range(len(sheets))), worst


def _moved(at: Point, by: Point) -> Point:
    return at[0] + by[0], at[1] + by[1]


def assembled(sheets: tuple[Printed, ...], pen: Pen) -> list[tuple[Point, ...]]:
    """Every line of that pen over all sheets as joined by their marks, without the strips and the samples of lines
    beside words.
    """
    moves, _ = joined(sheets)
    return [
        tuple(_moved(point, move) for point in stroke.points)
        for sheet, move in zip(sheets, moves, strict=True)
        for stroke in sheet.of(pen)
        if not _is_sample(stroke) and max(y for _, y in stroke.points) <= sheet.reading.size[1] - 10 - 18 + 0.01
    ]


def _is_sample(stroke: Stroke) -> bool:
    """Whether it is a level line 6 mm long."""
    return (
        len(stroke.points) == 2
        and stroke.points[0][1] == stroke.points[1][1]
        and abs(math.dist(*stroke.points) - 6) < 0.001
    )
