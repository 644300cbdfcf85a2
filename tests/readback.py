"""Reads finished drawings back: SVG by lxml, PDF by pypdfium2, into the same small records in mm of paper.

Shared by the tests of every room. Points are in mm from the paper's top left corner, y down, whatever the file counts
in. A `Shape` has the vertices of its outline (the ends of lines and curves, not the controls); a `Lettering` the left
end of its baseline. SVG alone has names: `id`, classes and the model box.
"""

import base64
import ctypes
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction

from lxml import etree

SVG = "{http://www.w3.org/2000/svg}"
MM = 25.4 / 72

type Point = tuple[float, float]
type Matrix = tuple[float, float, float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """What any drawn part may carry in an SVG."""

    tag: str = ""
    id: str | None = None
    classes: tuple[str, ...] = ()
    box: tuple[Fraction, ...] | None = None
    data: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape(Part):
    points: tuple[Point, ...]
    stroke: str | None = None
    fill: str | None = None
    width: float = 0.0

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """x, y, width, height of the vertices."""
        xs, ys = [x for x, _ in self.points], [y for _, y in self.points]
        return (min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


@dataclass(frozen=True, slots=True, kw_only=True)
class Lettering(Part):
    """A text: start of its baseline, em and drawn width in mm, clockwise turn in degrees."""

    text: str
    at: Point
    em: float
    width: float
    turn: float = 0.0
    fill: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture(Part):
    bounds: tuple[float, float, float, float]
    content: bytes = b""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bundle(Part):
    """A named group and all that is in it."""

    parts: tuple["Mark", ...]


type Mark = Shape | Lettering | Picture


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One sheet. `marks` are in the order of drawing, without the white ground; `bundles` are the named groups."""

    size: tuple[float, float]
    marks: tuple[Mark, ...]
    bundles: tuple[Bundle, ...] = ()
    scale: str | None = None
    title: str = ""

    @property
    def shapes(self) -> tuple[Shape, ...]:
        return tuple(m for m in self.marks if isinstance(m, Shape))

    @property
    def texts(self) -> tuple[Lettering, ...]:
        return tuple(m for m in self.marks if isinstance(m, Lettering))

    @property
    def pictures(self) -> tuple[Picture, ...]:
        return tuple(m for m in self.marks if isinstance(m, Picture))

    def named(self, name: str) -> tuple[Mark | Bundle, ...]:
        """Every part and group whose id or one of whose classes is that name."""
        return tuple(p for p in (*self.bundles, *self.marks) if p.id == name or name in p.classes)

    def says(self, text: str) -> bool:
        """Whether a text holds that wording."""
        return any(text in t.text for t in self.texts)


@dataclass(frozen=True, slots=True, kw_only=True)
class PdfReading:
    pages: tuple[Reading, ...]
    bookmarks: tuple[tuple[int, str, int], ...]
    """Level, title and page index of each."""


# --- SVG -------------------------------------------------------------------------------------------------------------


def read_svg(content: bytes) -> Reading:
    """The sheet that an SVG file holds. Raises ValueError where paper and viewBox do not count in the same mm."""
    root = etree.fromstring(content)
    size = (_millimetres(root.get("width", "")), _millimetres(root.get("height", "")))
    box = tuple(map(float, root.get("viewBox", "").split()))
    if box != (0, 0, *size):
        raise ValueError(f"width and height are {size} mm, but the viewBox is {box}")
    bundles: list[Bundle] = []
    marks = list(_svg_marks(root, bundles))
    ground = marks[:1]
    if ground and isinstance(ground[0], Shape) and ground[0].tag == "rect" and ground[0].bounds == (0, 0, *size):
        marks = marks[1:]
    title = root.findtext(f"{SVG}title") or ""
    return Reading(size=size, marks=tuple(marks), bundles=tuple(bundles), scale=root.get("data-scale"), title=title)


def _millimetres(text: str) -> float:
    if not text.endswith("mm"):
        raise ValueError(f"{text!r} is not in mm")
    return float(text[:-2])


def _svg_marks(parent: "etree._Element", bundles: list[Bundle]) -> Iterator[Mark]:
    for element in parent:
        tag = str(element.tag).removeprefix(SVG)
        if tag in ("defs", "title", "desc", "style"):
            continue
        if tag == "g":
            inner = tuple(_svg_marks(element, bundles))
            part = _part(element, tag)
            if part.id or part.classes or part.box:
                bundles.append(
                    Bundle(tag=tag, id=part.id, classes=part.classes, box=part.box, data=part.data, parts=inner)
                )
            yield from inner
        else:
            yield _svg_mark(element, tag)


def _part(element: "etree._Element", tag: str) -> Part:
    box = element.get("data-box")
    data = {
        str(k).removeprefix("data-"): str(v)
        for k, v in element.attrib.items()
        if str(k).startswith("data-") and k != "data-box"
    }
    return Part(
        tag=tag,
        id=element.get("id"),
        classes=tuple(element.get("class", "").split()),
        box=tuple(map(Fraction, box.split())) if box else None,
        data=data,
    )


def _svg_mark(element: "etree._Element", tag: str) -> Mark:
    part = _part(element, tag)

    def number(name: str) -> float:
        text = element.get(name, "0")
        if text == "100%":
            root = element.getroottree().getroot()
            return float(root.get("viewBox", "").split()[2 if name == "width" else 3])
        return float(text)

    if tag == "text":
        at, turn = (number("x"), number("y")), 0.0
        if rotation := re.fullmatch(r"rotate\((\S+) (\S+) (\S+)\)", element.get("transform", "")):
            turn, x, y = map(float, rotation.groups())
            at = _turned(at, (x, y), turn)
        return Lettering(
            tag=tag,
            id=part.id,
            classes=part.classes,
            box=part.box,
            data=part.data,
            text="".join(map(str, element.itertext())),
            at=at,
            em=number("font-size"),
            width=number("textLength"),
            turn=turn,
            fill=element.get("fill"),
        )
    if tag == "image":
        bounds = (number("x"), number("y"), number("width"), number("height"))
        href = element.get("{http://www.w3.org/1999/xlink}href", "")
        content = base64.b64decode(href.partition("base64,")[2])
        return Picture(
            tag=tag, id=part.id, classes=part.classes, box=part.box, data=part.data, bounds=bounds, content=content
        )
    x, y = number("x"), number("y")
    points: tuple[Point, ...]
    match tag:
        case "line":
            points = ((number("x1"), number("y1")), (number("x2"), number("y2")))
        case "rect":
            right, low = x + number("width"), y + number("height")
            points = ((x, y), (right, y), (right, low), (x, low))
        case "ellipse":
            cx, cy, rx, ry = number("cx"), number("cy"), number("rx"), number("ry")
            points = ((cx - rx, cy), (cx, cy - ry), (cx + rx, cy), (cx, cy + ry))
        case "polyline" | "polygon":
            pairs = [pair.split(",") for pair in element.get("points", "").split()]
            points = tuple((float(a), float(b)) for a, b in pairs)
        case "path":
            points = tuple(_path_points(element.get("d", "")))
        case _:
            raise ValueError(f"an element {tag!r} that the reader does not know")
    return Shape(
        tag=tag,
        id=part.id,
        classes=part.classes,
        box=part.box,
        data=part.data,
        points=points,
        stroke=element.get("stroke"),
        fill=element.get("fill"),
        width=number("stroke-width"),
    )


_USED = {"M": 2, "L": 2, "A": 7, "Q": 4, "C": 6, "Z": 0}


def _path_points(d: str) -> Iterator[Point]:
    for verb, rest in re.findall(r"([MLAQCZ])([^MLAQCZ]*)", d):
        numbers = [float(n) for n in re.findall(r"-?[\d.]+", rest)]
        if len(numbers) != _USED[verb]:
            raise ValueError(f"{verb}{rest} in a path")
        if numbers:
            yield (numbers[-2], numbers[-1])


def _turned(point: Point, about: Point, degrees: float) -> Point:
    angle = math.radians(degrees)
    x, y = point[0] - about[0], point[1] - about[1]
    return (about[0] + x * math.cos(angle) - y * math.sin(angle), about[1] + x * math.sin(angle) + y * math.cos(angle))


# --- PDF -------------------------------------------------------------------------------------------------------------


def read_pdf(content: bytes) -> PdfReading:
    """The sheets that a PDF holds, and its bookmarks."""
    import pypdfium2

    document = pypdfium2.PdfDocument(content)
    try:
        pages = tuple(_pdf_page(document[n]) for n in range(len(document)))
        marks = tuple((b.level, b.get_title(), b.get_dest().get_index()) for b in document.get_toc())
    finally:
        document.close()
    return PdfReading(pages=pages, bookmarks=marks)


def _pdf_page(page: "object") -> Reading:
    import pypdfium2
    from pypdfium2 import raw

    assert isinstance(page, pypdfium2.PdfPage)
    width, height = page.get_size()
    sheet = page.get_textpage()
    widths = _pdf_widths(sheet)
    marks: list[Mark] = []
    for thing in page.get_objects():
        pointer = thing.raw
        matrix = _pdf_matrix(pointer)
        match thing.type:
            case raw.FPDF_PAGEOBJ_PATH:
                marks.append(_pdf_shape(pointer, matrix, height))
            case raw.FPDF_PAGEOBJ_TEXT:
                marks.append(_pdf_text(pointer, matrix, height, sheet, widths))
            case raw.FPDF_PAGEOBJ_IMAGE:
                a, _, _, d, e, f = matrix
                marks.append(Picture(bounds=(e * MM, (height - f - d) * MM, a * MM, d * MM)))
            case _:
                raise ValueError(f"a PDF object of type {thing.type} that the reader does not know")
    sheet.close()
    return Reading(size=(width * MM, height * MM), marks=tuple(_joined(marks)))


def _pdf_matrix(pointer: object) -> Matrix:
    from pypdfium2 import raw

    matrix = raw.FS_MATRIX()
    raw.FPDFPageObj_GetMatrix(pointer, matrix)
    return (matrix.a, matrix.b, matrix.c, matrix.d, matrix.e, matrix.f)


def _pdf_shape(pointer: object, matrix: Matrix, height: float) -> Shape:
    from pypdfium2 import raw

    a, b, c, d, e, f = matrix
    points: list[Point] = []
    curve = 0
    for number in range(raw.FPDFPath_CountSegments(pointer)):
        segment = raw.FPDFPath_GetPathSegment(pointer, number)
        if raw.FPDFPathSegment_GetType(segment) == raw.FPDF_SEGMENT_BEZIERTO:
            curve += 1
            if curve % 3:  # two controls come before each end
                continue
        x, y = ctypes.c_float(), ctypes.c_float()
        raw.FPDFPathSegment_GetPoint(segment, x, y)
        px, py = a * x.value + c * y.value + e, b * x.value + d * y.value + f
        points.append((px * MM, (height - py) * MM))
    mode, stroked = ctypes.c_int(), ctypes.c_int()
    raw.FPDFPath_GetDrawMode(pointer, mode, stroked)
    width = ctypes.c_float()
    raw.FPDFPageObj_GetStrokeWidth(pointer, width)
    return Shape(
        points=tuple(points),
        stroke=_pdf_colour(pointer, raw.FPDFPageObj_GetStrokeColor) if stroked.value else None,
        fill=_pdf_colour(pointer, raw.FPDFPageObj_GetFillColor) if mode.value else None,
        width=width.value * MM if stroked.value else 0.0,
    )


def _pdf_colour(pointer: object, getter: "ctypes._NamedFuncPointer") -> str:
    parts = [ctypes.c_uint() for _ in range(4)]
    getter(pointer, *parts)
    return "#" + "".join(f"{p.value:02x}" for p in parts[:3])


def _pdf_text(pointer: object, matrix: Matrix, height: float, sheet: "object", widths: dict[int, float]) -> Lettering:
    from pypdfium2 import raw

    a, b, c, d, e, f = matrix
    size = ctypes.c_float()
    raw.FPDFTextObj_GetFontSize(pointer, size)
    buffer_length = raw.FPDFTextObj_GetText(pointer, sheet.raw, None, 0)  # type: ignore[attr-defined]
    buffer = (ctypes.c_ushort * buffer_length)()
    raw.FPDFTextObj_GetText(pointer, sheet.raw, buffer, buffer_length)  # type: ignore[attr-defined]
    text = bytes(buffer).decode("utf-16-le").rstrip("\0")
    return Lettering(
        text=text,
        at=(e * MM, (height - f) * MM),
        em=size.value * math.hypot(c, d) * MM,
        width=widths.get(ctypes.addressof(pointer.contents), 0.0) * MM,  # type: ignore[attr-defined]
        turn=-math.degrees(math.atan2(b, a)),
        fill=_pdf_colour(pointer, raw.FPDFPageObj_GetFillColor),
    )


def _pdf_widths(sheet: "object") -> dict[int, float]:
    """The advance width of each text object, by its address, in points; along its own baseline."""
    from pypdfium2 import raw

    text = sheet.raw  # type: ignore[attr-defined]
    spans: dict[int, list[float]] = {}
    for number in range(raw.FPDFText_CountChars(text)):
        pointer = raw.FPDFText_GetTextObject(text, number)
        if not pointer:
            continue
        box = raw.FS_RECTF()
        raw.FPDFText_GetLooseCharBox(text, number, box)
        upright = abs(math.sin(raw.FPDFText_GetCharAngle(text, number))) > 0.5
        low, high = (box.bottom, box.top) if upright else (box.left, box.right)
        spans.setdefault(ctypes.addressof(pointer.contents), []).extend((low, high))
    return {address: max(ends) - min(ends) for address, ends in spans.items()}


def _joined(marks: list[Mark]) -> Iterator[Mark]:
    """Texts that go on exactly where the one before ends are one text: a PDF parts them where the font's subset
    changes, and where a fraction is smaller than its whole number.
    """
    last: Lettering | None = None
    for mark in marks:
        if isinstance(mark, Lettering) and last is not None and _goes_on(last, mark):
            at = last.at if mark.em <= last.em else _along(mark, -last.width)
            text = last.text.rstrip() if mark.text.startswith(" ") else last.text
            last = replace(last, text=text + mark.text, width=last.width + mark.width, em=max(last.em, mark.em), at=at)
            continue
        if last is not None:
            yield _ended(last)
        last = mark if isinstance(mark, Lettering) else None
        if last is None:
            yield mark
    if last is not None:
        yield _ended(last)


def _along(text: Lettering, distance: float) -> Point:
    """The point so far to the right on the text's baseline."""
    angle = math.radians(text.turn)
    return (text.at[0] + distance * math.cos(angle), text.at[1] + distance * math.sin(angle))


def _ended(text: Lettering) -> Lettering:
    """The text without the blank that pdfium puts in after a text with room behind it."""
    return replace(text, text=text.text.rstrip())


def _goes_on(first: Lettering, second: Lettering) -> bool:
    end, angle = _along(first, first.width), math.radians(first.turn)
    x, y = second.at[0] - end[0], second.at[1] - end[1]
    along, down = x * math.cos(angle) + y * math.sin(angle), y * math.cos(angle) - x * math.sin(angle)
    raised = abs(down) <= 0.3 * max(first.em, second.em) and first.em != second.em
    return first.turn == second.turn and abs(along) < 0.02 and (raised or (first.em == second.em and abs(down) < 0.02))
