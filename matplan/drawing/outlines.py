"""Shaped outlines: texts that the house typeface cannot set, in any script that an installed font has.

A name may hold any letter of Unicode. What the typeface lacks (and whatever stacks marks or joins letters) is split
into runs of one direction and one font, shaped by HarfBuzz and drawn as filled curves, so that it looks the same in
every program. What no font has is drawn as the replacement mark.
"""

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any, Final, Literal

from matplan.drawing import fonts
from matplan.drawing.items import Point

_NOTO: Final = (
    "", "Arabic", "Hebrew", "Devanagari", "Thai", "Armenian", "Georgian", "Bengali", "Gujarati", "Gurmukhi", "Kannada",
    "Malayalam", "Oriya", "Sinhala", "Tamil", "Telugu", "Khmer", "Lao", "Myanmar", "Ethiopic", "Symbols",
)  # fmt: skip
_FILES: Final = (
    ("fontpkg_ibm_plex_sans", "files/IBMPlexSans[wdth,wght].ttf"),
    *(("manimgx_fonts", f"NotoSans{script}[wght].ttf") for script in _NOTO),
    ("manimgx_fonts_cjk", "NotoSansCJK-VF.otf.ttc"),
    ("manimgx_fonts", "NotoEmoji[wght].ttf"),
)

_ISOLATE: Final = re.compile("\u2068(.*?)(?:\u2069|$)")
"""A name that is kept whole in a sentence; its marks are not drawn."""
_NAME: Final = "\N{OBJECT REPLACEMENT CHARACTER}"
_JOINERS: Final = "\u200c\u200d\ufe0e\ufe0f"
"""Joiners and variation selectors: where a font lacks them, nothing is missing."""
_MIRRORED: Final = str.maketrans("()[]{}<>«»‹›", ")(][}{><»«›‹")


@dataclass(frozen=True, slots=True)
class Step:
    """One step of an outline with its points: move and line have one, quad two, curve three, close none."""

    verb: Literal["move", "line", "quad", "curve", "close"]
    points: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A text's outline in parts of the em, from the left end of its baseline, y down; and its width."""

    steps: tuple[Step, ...]
    width: float


@lru_cache(maxsize=1024)
def drawn(text: str, bold: bool) -> Drawn:
    """Return the outline of a clean text."""
    steps: list[Step] = []
    x = 0.0
    for run in _runs(text):
        shaped, advance = _shaped(run, bold)
        steps.extend(Step(s.verb, tuple((px + x, py) for px, py in s.points)) for s in shaped)
        x += advance
    return Drawn(steps=tuple(steps), width=x)


def placed(text: str, bold: bool, *, start: Point, em: float) -> tuple[Step, ...]:
    """Return the outline of a text whose baseline begins at `start`, before it is turned."""
    x, y = start
    return tuple(
        Step(s.verb, tuple((x + px * em, y + py * em) for px, py in s.points)) for s in drawn(text, bold).steps
    )


def readable(text: str) -> str:
    """Return the text as a PDF holds it for readers: in the order in which it stands on paper, in units of UTF-16."""
    if any(unicodedata.bidirectional(c) in ("R", "AL") for c in text):
        text = "".join(t[::-1].translate(_MIRRORED) if leftward else t for t, leftward in _stretches(text))
    units = text.encode("utf-16-le", "replace")
    return "".join(chr(int.from_bytes(units[i : i + 2], "little")) for i in range(0, len(units), 2))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Run:
    text: str
    font: int
    leftward: bool


@cache
def _face(number: int) -> Any:
    """Return the HarfBuzz face of a file, None where its package is not installed."""
    import importlib.util
    from importlib import resources

    import uharfbuzz  # type: ignore[import-untyped]

    package, name = _FILES[number]
    if importlib.util.find_spec(package) is None:
        return None
    file = resources.files(package).joinpath(name)
    with resources.as_file(file) as path:
        return uharfbuzz.Face(uharfbuzz.Blob.from_file_path(str(path)))


@cache
def _characters(number: int) -> frozenset[int]:
    face = _face(number)
    return frozenset(face.unicodes) if face is not None else frozenset()


@cache
def _font(number: int, bold: bool) -> Any:
    import uharfbuzz

    font = uharfbuzz.Font(_face(number))
    font.set_variations({"wght": 700 if bold else 400})
    return font


@cache
def _font_of(character: str) -> int | None:
    return next((n for n in range(len(_FILES)) if ord(character) in _characters(n)), None)


def _runs(text: str) -> Iterator[_Run]:
    """Yield the runs in the order in which they stand on paper, each in logical order."""
    for stretch, leftward in _stretches(text):
        runs = list(_one_font(stretch, leftward))
        yield from reversed(runs) if leftward else runs


def _one_font(text: str, leftward: bool) -> Iterator[_Run]:
    """Yield the text in runs of one font: letters and figures take the first that has them, other signs go along."""
    current, piece = 0, ""
    for character in text:
        font = _font_of(character)
        if piece and not character.isalnum() and ord(character) in _characters(current):
            font = current
        elif font is None and character in _JOINERS:
            continue
        elif font is None:
            character, font = fonts.REPLACEMENT, _font_of(fonts.REPLACEMENT) or 0
        if piece and font != current:
            yield _Run(text=piece, font=current, leftward=leftward)
            piece = ""
        current, piece = font, piece + character
    if piece:
        yield _Run(text=piece, font=current, leftward=leftward)


def _stretches(text: str) -> Iterator[tuple[str, bool]]:
    """Yield the text in stretches of one direction, ordered as they stand on paper, each in logical order."""
    if "\u2068" in text or "\u2069" in text:
        yield from _round_names(text)
        return
    directions = [unicodedata.bidirectional(c) for c in text]
    if not any(d in ("R", "AL") for d in directions):
        yield text, False
        return
    import bidi  # type: ignore[import-untyped]

    # the algorithm reverses what runs leftwards; turning each such stretch back gives the order that shaping needs
    seen: str = bidi.get_display(text)
    base = next((d in ("R", "AL") for d in directions if d in ("L", "R", "AL")), False)
    leftward = _leftward(seen, base)
    start = 0
    for end in range(1, len(seen) + 1):
        if end == len(seen) or leftward[end] != leftward[start]:
            piece = seen[start:end]
            yield (piece[::-1] if leftward[start] else piece), leftward[start]
            start = end


def _round_names(text: str) -> Iterator[tuple[str, bool]]:
    """Yield the stretches of a sentence with isolated names: each name is a neutral sign in it (UAX 9, rule X5c)."""
    names = iter(_ISOLATE.findall(text))
    for stretch, leftward in _stretches(_ISOLATE.sub(_NAME, text).replace("\u2069", "")):
        parts = [(next(names), None) if part == _NAME else (part, leftward) for part in re.split(f"({_NAME})", stretch)]
        for part, direction in reversed(parts) if leftward else parts:
            if direction is None:
                yield from _stretches(part)
            elif part:
                yield part, direction


def _leftward(seen: str, base: bool) -> list[bool]:
    """For each character as it stands on paper, whether it belongs to a stretch that runs leftwards."""
    strong: list[bool | None] = []
    for character in seen:
        match unicodedata.bidirectional(character):
            case "R" | "AL":
                strong.append(True)
            case "L" | "EN" | "AN":
                strong.append(False)
            case _:
                strong.append(None)
    found: list[bool] = []
    for index, own in enumerate(strong):
        if own is None:
            before = next((s for s in reversed(strong[:index]) if s is not None), base)
            after = next((s for s in strong[index:] if s is not None), base)
            found.append(before if before == after else base)
        else:
            found.append(own)
    return found


def _shaped(run: _Run, bold: bool) -> tuple[list[Step], float]:
    import uharfbuzz

    font = _font(run.font, bold)
    buffer = uharfbuzz.Buffer()
    buffer.add_str(run.text)
    buffer.guess_segment_properties()
    buffer.language = "und"  # the guess would be the environment's
    buffer.direction = "rtl" if run.leftward else "ltr"
    uharfbuzz.shape(font, buffer)
    em = font.face.upem
    pen = _Pen(em)
    x = 0
    for info, position in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
        pen.origin = (x + position.x_offset, position.y_offset)
        font.draw_glyph_with_pen(info.codepoint, pen)
        x += position.x_advance
    return pen.steps, x / em


class _Pen:
    """Takes a glyph's outline in font units (y up) and keeps it in parts of the em (y down)."""

    def __init__(self, em: int) -> None:
        self.steps: list[Step] = []
        self.origin = (0, 0)
        self._em = em

    def _points(self, points: tuple[tuple[float, float], ...]) -> tuple[Point, ...]:
        ox, oy = self.origin
        return tuple(((x + ox) / self._em, -(y + oy) / self._em) for x, y in points)

    def moveTo(self, point: Point) -> None:  # noqa: N802 - the names that the pen protocol has
        self.steps.append(Step("move", self._points((point,))))

    def lineTo(self, point: Point) -> None:  # noqa: N802
        self.steps.append(Step("line", self._points((point,))))

    def qCurveTo(self, *points: Point) -> None:  # noqa: N802
        self.steps.append(Step("quad", self._points(points)))

    def curveTo(self, *points: Point) -> None:  # noqa: N802
        self.steps.append(Step("curve", self._points(points)))

    def closePath(self) -> None:  # noqa: N802
        self.steps.append(Step("close"))

    def endPath(self) -> None:  # noqa: N802
        """An open contour; fonts have none."""
