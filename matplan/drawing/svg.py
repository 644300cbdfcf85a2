"""The SVG back end: a sheet as the bytes of one self-contained file.

`width` and `height` are mm of paper and the `viewBox` counts the same mm, or a photograph's pixels. Texts are real text
in an embedded font, each with its measured length, so that a program with another font sets it as wide.
"""

import base64
from collections.abc import Iterable
from fractions import Fraction
from typing import TYPE_CHECKING, assert_never

from matplan.drawing import fonts, lettering
from matplan.drawing.items import (
    ArcTo,
    Compound,
    Ellipse,
    Group,
    Image,
    Item,
    Line,
    Link,
    Named,
    Outline,
    Path,
    Polyline,
    Rect,
    Text,
    To,
)
from matplan.drawing.pens import PAPER, STROKES, Pen
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import scale_name

if TYPE_CHECKING:
    from svgwrite.base import BaseElement


def render(sheet: Sheet) -> bytes:
    """Return the sheet as UTF-8 SVG; the same sheet gives the same bytes."""
    return _Writer(sheet).written()


def number(value: float) -> str:
    """Return the number to a ten-thousandth of a mm, without idle zeros."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def exact(value: Fraction) -> str:
    """Return the shortest decimal of a model length, to at most six places."""
    millionths = round(value * 1_000_000)
    sign, (whole, part) = "-" if millionths < 0 else "", divmod(abs(millionths), 1_000_000)
    return f"{sign}{whole}.{part:06d}".rstrip("0").rstrip(".")


def model_box(box: tuple[Fraction, Fraction, Fraction, Fraction]) -> str:
    """`x y w h` as `data-box` has it."""
    return " ".join(map(exact, box))


class _Writer:
    def __init__(self, sheet: Sheet) -> None:
        from svgwrite.drawing import Drawing

        self._sheet = sheet
        width, height = sheet.size
        across, down = sheet.pixels or sheet.size
        self._unit = across / width
        self._drawing = Drawing(
            size=(f"{number(width)}mm", f"{number(height)}mm"),
            viewBox=f"0 0 {number(across)} {number(down)}",
            debug=False,
        )
        # the house default: only what differs stands on an item
        self._drawing.attribs.update(
            {
                "font-family": ", ".join(f"'{f}'" if " " in f else f for f in (fonts.FAMILY, *fonts.FALLBACK_FAMILIES)),
                "fill": "none",
                "stroke-linejoin": "miter",
                "stroke-miterlimit": "10",
                "xml:lang": "en",
            }
        )
        if sheet.scale is not None:
            self._drawing.attribs["data-scale"] = scale_name(sheet.scale)
        self._clips = 0
        self._weights: set[bool] = set()

    def written(self) -> bytes:
        drawing, sheet = self._drawing, self._sheet
        drawing.set_desc(title=lettering.clean(sheet.title), desc=lettering.clean(_description(sheet)))
        drawing.add(self._element("rect", {"x": "0", "y": "0", "width": "100%", "height": "100%", "fill": PAPER}))
        for item in sheet.items:
            drawing.add(self._item(item))
        self._embed_fonts()
        text: str = drawing.tostring()
        return f'<?xml version="1.0" encoding="utf-8"?>\n{text}\n'.encode()

    def _embed_fonts(self) -> None:
        further = fonts.extra(lettering.clean(text.text) for text in self._sheet.texts())
        faces = "".join(
            f"@font-face{{font-family:'{fonts.FAMILY}';font-weight:{700 if bold else 400};"
            f"src:url({fonts.web_font(bold, further)}) format('woff')}}"
            for bold in sorted(self._weights)
        )
        if faces:
            self._drawing.embed_stylesheet(faces)

    def _element(self, kind: str, attributes: dict[str, str]) -> "BaseElement":
        from svgwrite.base import BaseElement

        element = BaseElement(debug=False)
        element.elementname = kind
        element.attribs = attributes
        return element

    def _item(self, item: Item) -> "BaseElement":
        match item:
            case Line() | Polyline() | Rect() | Ellipse() | Path() | Compound():
                return self._shape(item)
            case Text():
                return self._text(item)
            case Image():
                return self._image(item)
            case Group():
                attributes = _names(item)
                if item.clip is not None:
                    attributes["clip-path"] = self._clip(item.clip)
                group = self._element("g", attributes)
                for part in item.items:
                    group.add(self._item(part))
                return group
            case Link():
                return self._element("g", _names(item))
            case _:
                assert_never(item)

    def _shape(self, item: Line | Outline | Compound) -> "BaseElement":
        kind, attributes = _geometry(item)
        fill = None if isinstance(item, Line) else item.fill
        return self._element(
            kind, {**_names(item), **attributes, **_stroke(item.pen, self._unit), **({"fill": fill} if fill else {})}
        )

    def _clip(self, outline: Outline) -> str:
        self._clips += 1
        name = f"clip-{self._clips}"
        clip = self._element("clipPath", {"id": name})
        clip.add(self._element(*_geometry(outline)))
        self._drawing.defs.add(clip)
        return f"url(#{name})"

    def _image(self, item: Image) -> "BaseElement":
        attributes = _names(item) | _rectangle(item.x, item.y, item.width, item.height)
        attributes["preserveAspectRatio"] = "none"
        if item.clip is not None:
            attributes["clip-path"] = self._clip(item.clip)
        content = base64.b64encode(item.content).decode("ascii")
        return self._element("image", {**attributes, "xlink:href": f"data:image/{item.kind};base64,{content}"})

    def _text(self, item: Text) -> "BaseElement":
        setting = lettering.setting(item)
        attributes = {"x": number(setting.start[0]), "y": number(setting.start[1]), "font-size": number(setting.em)}
        if item.turn:
            attributes["transform"] = _rotation(item)
        if item.bold:
            attributes["font-weight"] = "700"
        attributes |= (
            {"textLength": number(setting.width), "lengthAdjust": "spacingAndGlyphs"} if setting.text.strip() else {}
        )
        if "  " in setting.text:
            attributes["xml:space"] = "preserve"
        parts: list[BaseElement] = []
        if item.halo:
            points = " ".join(f"{number(x)},{number(y)}" for x, y in setting.corners(lettering.HALO_MM))
            parts.append(self._element("polygon", {"points": points, "fill": PAPER}))
        if lettering.is_set(setting.text):
            self._weights.add(item.bold)
            attributes["fill"] = item.colour
        else:
            parts.append(self._outlines(item, setting))
            attributes |= {
                "class": "reading",
                "fill": "none",
            }  # unseen, so that programs still read the text whose outlines are drawn
        text = self._runs(item, setting)
        text.attribs = attributes
        if not parts:
            text.attribs = _names(item) | attributes
            return text
        group = self._element("g", _names(item))
        for part in (*parts, text):
            group.add(part)
        return group

    def _runs(self, item: Text, setting: lettering.Setting) -> "BaseElement":
        """Return the text as one element; what is smaller or raised is a part of it, with its own measured length."""
        from svgwrite.text import Text as SvgText
        from svgwrite.text import TSpan

        if len(setting.runs) == 1:
            text: BaseElement = SvgText(setting.text, debug=False)
            return text
        text = SvgText("", debug=False)
        (x, y), risen = setting.start, 0.0
        for run in setting.runs:
            em = setting.em * run.scale
            width = lettering.width_em(run.text, item.bold) * em
            part = TSpan(run.text, debug=False)
            part.attribs = {"x": number(x)}
            if run.text.strip():
                part.attribs |= {"textLength": number(width), "lengthAdjust": "spacingAndGlyphs"}
            if run.scale != 1.0:
                part.attribs["font-size"] = number(em)
            if run.rise != risen:
                part.attribs["y"] = number(y - run.rise)
            x, risen = x + width, run.rise
            text.add(part)
        return text

    def _outlines(self, item: Text, setting: lettering.Setting) -> "BaseElement":
        from matplan.drawing import outlines

        steps = outlines.placed(setting.text, item.bold, start=setting.start, em=setting.em)
        d = "".join(_VERBS[step.verb] + " ".join(number(v) for point in step.points for v in point) for step in steps)
        attributes = {"d": d or "M0 0", "fill": item.colour}
        if item.turn:
            attributes["transform"] = _rotation(item)
        return self._element("path", attributes)


def _description(sheet: Sheet) -> str:
    """Return what the sheet shows, at what scale and on what paper, for those who do not see it."""
    scale = "not to scale" if sheet.scale is None else f"scale {scale_name(sheet.scale)}"
    paper = f"paper {' × '.join(map(number, sheet.size))} mm"
    return "; ".join((sheet.about, scale, paper) if sheet.about else (scale, paper))


_VERBS = {"move": "M", "line": "L", "quad": "Q", "curve": "C", "close": "Z"}


def _rotation(item: Text) -> str:
    return f"rotate({number(item.turn)} {number(item.at[0])} {number(item.at[1])})"


def _names(item: Named) -> dict[str, str]:
    found: dict[str, str] = {}
    if item.id is not None:
        found["id"] = item.id
    if item.classes:
        found["class"] = " ".join(item.classes)
    if item.box is not None:
        found["data-box"] = model_box(item.box)
    for key, value in item.data:
        found[f"data-{key}"] = lettering.clean(value)
    return found


def _stroke(pen: Pen | None, unit: float) -> dict[str, str]:
    """Return a pen's look; `unit` is a mm of paper in what the drawing counts in."""
    if pen is None:
        return {}
    stroke = STROKES[pen]
    found = {"stroke": stroke.colour, "stroke-width": number(stroke.width * unit)}
    if stroke.dashes:
        found["stroke-dasharray"] = " ".join(number(dash * unit) for dash in stroke.dashes)
    return found


def _rectangle(x: float, y: float, width: float, height: float) -> dict[str, str]:
    return {"x": number(x), "y": number(y), "width": number(width), "height": number(height)}


def _geometry(item: Line | Outline | Compound) -> tuple[str, dict[str, str]]:
    match item:
        case Line():
            (x1, y1), (x2, y2) = item.start, item.end
            return "line", {"x1": number(x1), "y1": number(y1), "x2": number(x2), "y2": number(y2)}
        case Polyline():
            points = " ".join(f"{number(x)},{number(y)}" for x, y in item.points)
            return "polygon" if item.closed else "polyline", {"points": points}
        case Rect():
            return "rect", _rectangle(item.x, item.y, item.width, item.height)
        case Ellipse():
            (x, y), rx, ry = item.centre, item.rx, item.ry
            return "ellipse", {"cx": number(x), "cy": number(y), "rx": number(rx), "ry": number(ry)}
        case Path():
            return "path", {"d": _path(item)}
        case Compound():
            d = " ".join(map(_outline_path, item.outlines))
            return "path", {"d": d, "fill-rule": "evenodd"}
        case _:
            assert_never(item)


def _path(item: Path) -> str:
    parts = [f"M{number(item.start[0])} {number(item.start[1])}"]
    for step in item.steps:
        x, y = step.end
        match step:
            case To():
                parts.append(f"L{number(x)} {number(y)}")
            case ArcTo():
                flags = f"0 {int(step.large)} {int(step.clockwise)}"
                parts.append(f"A{number(step.rx)} {number(step.ry)} {flags} {number(x)} {number(y)}")
            case _:
                assert_never(step)
    return "".join([*parts, "Z" if item.closed else ""])


def _outline_path(outline: Outline) -> str:
    match outline:
        case Path():
            return _path(outline)
        case Polyline():
            return _chain(outline.points)
        case Rect(x=x, y=y, width=width, height=height):
            return _chain(((x, y), (x + width, y), (x + width, y + height), (x, y + height)))
        case Ellipse():
            return _path(outline.path)
        case _:
            assert_never(outline)


def _chain(points: Iterable[tuple[float, float]]) -> str:
    return "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points) + "Z"
