"""Drawn lines as many points, read from the files themselves: SVG elements with lxml, PDF paths with pypdfium2, in mm
of paper.

Arcs by SVG 1.1, appendix F.6.5 (end points to centre), curves of a PDF by their Bernstein polynomials; nothing of the
program takes part.
"""

from __future__ import annotations

import ctypes
import math
import re
from collections.abc import Iterator

from lxml import etree

type Point = tuple[float, float]

SVG = "{http://www.w3.org/2000/svg}"
MM = 25.4 / 72
PARTS = 400
"""Into so many parts a curve is divided."""


def drawn_lines(content: bytes, name: str) -> dict[str, list[Point]]:
    """The lines of every element of that class, by aperture (and number, for cuts)."""
    found = {}
    for element in etree.fromstring(content).iter():
        if name in (element.get("class") or "").split():
            key = " ".join(
                filter(None, (element.get("data-aperture"), element.get("data-layer"), element.get("data-number")))
            )
            found[key] = list(_points(element))
    return found


def _points(element: etree._Element) -> Iterator[Point]:
    def number(key: str) -> float:
        return float(element.get(key, "0"))

    match str(element.tag).removeprefix(SVG):
        case "line":
            yield (number("x1"), number("y1"))
            yield (number("x2"), number("y2"))
        case "rect":
            x, y, width, height = map(number, ("x", "y", "width", "height"))
            yield from ((x, y), (x + width, y), (x + width, y + height), (x, y + height), (x, y))
        case "ellipse":
            cx, cy, rx, ry = map(number, ("cx", "cy", "rx", "ry"))
            turns = (2 * math.pi * n / PARTS for n in range(PARTS + 1))
            yield from ((cx + rx * math.cos(t), cy + ry * math.sin(t)) for t in turns)
        case "polygon":
            pairs = [tuple(map(float, pair.split(","))) for pair in (element.get("points") or "").split()]
            yield from ((x, y) for x, y in [*pairs, pairs[0]])
        case "path":
            yield from _path(element.get("d") or "")
        case other:
            raise ValueError(f"an element {other}")


def _path(d: str) -> Iterator[Point]:
    here = first = (0.0, 0.0)
    for verb, rest in re.findall(r"([MLAZ])([^MLAZ]*)", d):
        numbers = [float(n) for n in re.findall(r"-?[\d.]+", rest)]
        match verb:
            case "M" | "L":
                here = (numbers[0], numbers[1])
                first = here if verb == "M" else first
                yield here
            case "A":
                rx, ry, _, large, sweep, x, y = numbers
                yield from _arc(here, (x, y), rx, ry, bool(large), bool(sweep))
                here = (x, y)
            case _:
                yield first


def _arc(start: Point, end: Point, rx: float, ry: float, large: bool, sweep: bool) -> Iterator[Point]:
    x, y = (start[0] - end[0]) / 2, (start[1] - end[1]) / 2
    under = max(0.0, (rx * ry) ** 2 / ((rx * y) ** 2 + (ry * x) ** 2) - 1)
    factor = math.sqrt(under) * (-1 if large == sweep else 1)
    cx, cy = factor * rx * y / ry, -factor * ry * x / rx
    first, last = math.atan2((y - cy) / ry, (x - cx) / rx), math.atan2((-y - cy) / ry, (-x - cx) / rx)
    turn = last - first
    turn += 2 * math.pi if sweep and turn < 0 else -2 * math.pi if not sweep and turn > 0 else 0
    mx, my = (start[0] + end[0]) / 2 + cx, (start[1] + end[1]) / 2 + cy
    for n in range(1, PARTS + 1):
        angle = first + turn * n / PARTS
        yield (mx + rx * math.cos(angle), my + ry * math.sin(angle))


def pdf_lines(content: bytes, page: int = 0) -> Iterator[list[Point]]:
    """Every stroked or filled path of a page; a path of several parts as one list of each."""
    import pypdfium2
    from pypdfium2 import raw

    document = pypdfium2.PdfDocument(content)
    sheet = document[page]
    _, height = sheet.get_size()
    for thing in sheet.get_objects():
        if thing.type == raw.FPDF_PAGEOBJ_PATH:
            yield from _pdf_parts(thing.raw, height)
    document.close()


def _pdf_parts(pointer: object, height: float) -> Iterator[list[Point]]:
    from pypdfium2 import raw

    matrix = raw.FS_MATRIX()
    raw.FPDFPageObj_GetMatrix(pointer, matrix)
    part: list[Point] = []
    controls: list[Point] = []
    for number in range(raw.FPDFPath_CountSegments(pointer)):
        segment = raw.FPDFPath_GetPathSegment(pointer, number)
        x, y = ctypes.c_float(), ctypes.c_float()
        raw.FPDFPathSegment_GetPoint(segment, x, y)
        at = (
            (matrix.a * x.value + matrix.c * y.value + matrix.e) * MM,
            (height - matrix.b * x.value - matrix.d * y.value - matrix.f) * MM,
        )
        match raw.FPDFPathSegment_GetType(segment):
            case raw.FPDF_SEGMENT_MOVETO:
                if part:
                    yield part
                part = [at]
            case raw.FPDF_SEGMENT_BEZIERTO:
                controls.append(at)
                if len(controls) == 3:
                    part.extend(_bezier(part[-1], *controls))
                    controls = []
            case _:
                part.append(at)
        if raw.FPDFPathSegment_GetClose(segment):
            part.append(part[0])
    if part:
        yield part


def _bezier(p: Point, q: Point, r: Point, s: Point) -> Iterator[Point]:
    for n in range(1, 101):
        t = n / 100
        weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
        x, y = (sum(w * point[axis] for w, point in zip(weights, (p, q, r, s), strict=True)) for axis in (0, 1))
        yield (x, y)
