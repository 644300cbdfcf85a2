"""Lettering: what of a text is drawn, how wide it is, and where it stands.

Both back ends and the checker ask here, so that all of them speak of the same text.
"""

import math
import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final, assert_never

from matplan.drawing import fonts
from matplan.drawing.items import Anchor, Level, Point, Size, Text

LINE_PITCH: Final = 1.9
"""From one baseline to the next, in heights of a capital."""
_CLOSEST: Final = 1.5
"""The least pitch, where a long name has to stand in a small place."""
HALO_MM: Final = 0.5


def clean(text: str) -> str:
    """Return the text composed (NFC), on one line, without control characters; U+FFFD is what no font or XML holds."""
    if text.isascii() and text.isprintable():
        return text
    text = "".join(map(_printable, unicodedata.normalize("NFC", text)))
    alone = text.startswith(_ISOLATE) and text.endswith(_END) and text.count(_ISOLATE) == 1
    return text[1:-1] if alone else text


_ISOLATE, _END = "\N{FIRST STRONG ISOLATE}", "\N{POP DIRECTIONAL ISOLATE}"


def isolated(name: str) -> str:
    """Return a name as a sentence takes it: one that runs to the left is kept whole, whatever stands beside it.

    Without the marks, two such names in a list would be read from the right as one.
    """
    leftward = any(unicodedata.bidirectional(c) in ("R", "AL") for c in name)
    return f"{_ISOLATE}{name}{_END}" if leftward else name


def _printable(character: str) -> str:
    match unicodedata.category(character):
        case "Cc" | "Zl" | "Zp":
            return " " if character.isspace() else ""
        case "Cs" | "Co" | "Cn":
            return fonts.REPLACEMENT
        case "Cf":
            # joiners shape Arabic and Indic names, isolates keep a name whole
            return character if character in ("\u200c", "\u200d", _ISOLATE, _END) else ""
        case _:
            return character


@lru_cache(maxsize=4096)
def is_set(text: str) -> bool:
    """Return whether a clean text is set in the house typeface; any other is drawn in outlines, shaped."""
    widths = fonts.advances(False)
    return all(c in widths and (c.isascii() or not unicodedata.combining(c)) for c in text)


@lru_cache(maxsize=16384)
def width_em(text: str, bold: bool = False) -> float:
    """Return the width of a text as a part of its em."""
    text = clean(text)
    if is_set(text):
        widths = fonts.advances(bold)
        return sum(widths[c] for c in text)
    from matplan.drawing import outlines

    return outlines.drawn(text, bold).width


def em(size: float) -> float:
    """Return the em (font size) in mm of lettering with capitals of that height."""
    return size / fonts.metrics().capital


def width(text: str, size: float, bold: bool = False) -> float:
    """Return the width in mm of a text with capitals of that height."""
    if "/" not in text:
        return width_em(text, bold) * em(size)
    return sum(width_em(run.text, bold) * run.scale for run in runs(clean(text), size)) * em(size)


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """A part of a text in one size: `scale` of the text's, its baseline `rise` mm above the text's."""

    text: str
    scale: float = 1.0
    rise: float = 0.0


@lru_cache(maxsize=4096)
def runs(text: str, size: float) -> tuple[Run, ...]:
    """Return a clean text in runs: the figures of a vulgar fraction are smaller than a whole number beside them.

    The numerator ends where capitals end, the denominator stands on the baseline. No figure is under `Size.LEAST`: at
    that size, and in a text that is drawn in outlines, a fraction is as large as the rest.

    >>> [(run.text, run.scale) for run in runs("14 3/16 in", 3.5)]
    [('14 ', 1.0), ('3', 0.72), ('/', 1.0), ('16', 0.72), (' in', 1.0)]
    """
    scale = max(_FRACTION, Size.LEAST / size)
    if scale >= 1.0 or not is_set(text):
        return (Run(text=text),)
    found: list[Run] = []
    end = 0
    for match in _VULGAR.finditer(text):
        if int(match[1]) < int(match[2]):
            found.append(Run(text=text[end : match.start()]))
            found.append(Run(text=match[1], scale=scale, rise=size * (1 - scale)))
            found.append(Run(text="/"))
            found.append(Run(text=match[2], scale=scale))
            end = match.end()
    return tuple(run for run in (*found, Run(text=text[end:])) if run.text)


_FRACTION: Final = 0.72
_VULGAR: Final = re.compile(r"(?<![\w/.,])(\d{1,3})/(\d{1,3})(?![\w/]|[.,]\d)", re.ASCII)


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """A text as it is drawn: the left end of its baseline before it is turned about `at`, its em and width in mm."""

    text: str
    at: Point
    turn: float
    start: Point
    em: float
    width: float
    size: float

    @property
    def top(self) -> float:
        return self.start[1] - self.size

    @property
    def runs(self) -> tuple[Run, ...]:
        return runs(self.text, self.size)

    def corners(self, margin: float = 0.0) -> tuple[Point, Point, Point, Point]:
        """Return the rectangle of the text, descenders included, turned with it; clockwise from its own top left."""
        x, y = self.start
        drop = fonts.metrics().descent * self.em * 0.75
        left, right, top, low = x - margin, x + self.width + margin, y - self.size - margin, y + drop + margin
        box = ((left, top), (right, top), (right, low), (left, low))
        first, second, third, fourth = (turned(p, self.at, self.turn) for p in box)
        return (first, second, third, fourth)


def turned(point: Point, about: Point, degrees: float) -> Point:
    """Return the point turned clockwise as seen."""
    if not degrees:
        return point
    sine, cosine = math.sin(math.radians(degrees)), math.cos(math.radians(degrees))
    x, y = point[0] - about[0], point[1] - about[1]
    return (about[0] + x * cosine - y * sine, about[1] + x * sine + y * cosine)


def setting(item: Text) -> Setting:
    """Return how a text is drawn."""
    text = clean(item.text)
    size_em = em(item.size)
    drawn = width(text, item.size, item.bold)
    x, y = item.at
    match item.anchor:
        case Anchor.START:
            pass
        case Anchor.MIDDLE:
            x -= drawn / 2
        case Anchor.END:
            x -= drawn
        case _:
            assert_never(item.anchor)
    match item.level:
        case Level.BASELINE:
            pass
        case Level.MIDDLE:
            y += item.size / 2
        case Level.TOP:
            y += item.size
        case _:
            assert_never(item.level)
    return Setting(text=text, at=item.at, turn=item.turn, start=(x, y), em=size_em, width=drawn, size=item.size)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """A text in lines, and the height of its capitals at which they fit."""

    size: float
    lines: tuple[str, ...]
    pitch: float = LINE_PITCH
    """From one baseline to the next, in heights of a capital."""

    @property
    def step(self) -> float:
        """From one baseline to the next, in mm."""
        return self.size * self.pitch

    @property
    def height(self) -> float:
        """From the top of the first line's capitals to the last baseline."""
        return self.size + (len(self.lines) - 1) * self.step


def fitted(text: str, wide: float, high: float, largest: float, bold: bool = False) -> Fitted | None:
    """Return the text as large as an area of mm takes it, at most `largest`; wrapped at blanks, no word broken.

    None where it does not fit at `Size.LEAST`: the caller then says the text in another place, or lets it go on.

    >>> fitted("Harbour at dawn", 40, 10, 3.5).lines
    ('Harbour at dawn',)
    >>> fitted("Harbour at dawn", 12, 10, 3.5).lines
    ('Harbour', 'at dawn')
    >>> fitted("Harbour at dawn", 12, 3, 3.5) is None
    True
    """
    size = largest
    while True:
        size = max(size, Size.LEAST)
        lines = wrapped(text, wide, size, bold)
        whole = all(width(word, size, bold) <= wide + 1e-9 for word in _words(text))
        if whole and size * (1 + (len(lines) - 1) * LINE_PITCH) <= high + 1e-9:
            return Fitted(size=size, lines=lines)
        if size <= Size.LEAST:
            return None
        size *= 0.95


def held(text: str, wide: float, high: float, largest: float, bold: bool = False) -> Fitted:
    """Return the text as `fitted` does, or at the least size with its lines close together; nothing of it is left out.

    Words are broken where they are wider than the area, and a text that no lettering fits goes on below it.

    >>> held("Harbour at dawn", 12, 3, 3.5).lines
    ('Harbour', 'at dawn')
    """
    found = fitted(text, wide, high, largest, bold)
    return found or Fitted(size=Size.LEAST, lines=wrapped(text, wide, Size.LEAST, bold), pitch=_CLOSEST)


def begun(found: Fitted, high: float) -> Fitted:
    """Return the lines that an area of the height takes; the last ends with `…` where there are more.

    For very long names alone: the sheet's lists have them whole.

    >>> begun(Fitted(size=2.0, lines=("The long", "afternoon at the", "ferry"), pitch=1.5), 5.5).lines
    ('The long', 'afternoon at …')
    """
    most = max(int((high - found.size + 1e-9) // found.step) + 1, 1)
    if len(found.lines) <= most:
        return found
    *lines, last = found.lines[:most]
    words = last.split(" ")
    kept = " ".join(words[:-1]) if len(words) > 1 else last[:-2]
    return replace(found, lines=(*lines, f"{kept} …"))


_NUMBER: Final = r"[−+-]?\d[\d.,]*(?: \d+[/⁄]\d+|[/⁄]\d+)?"
_LENGTH: Final = rf"{_NUMBER}(?: (?:mm|cm|m|in|ft|kg|g|lb|oz|px|ppi|°|%)(?!\w))?"
_SIZE: Final = re.compile(rf"(?<!\w)(?:× )?{_LENGTH}(?: [×±] {_LENGTH})*(?: ×(?!\S))?")
"""A length, a size, a count: what a reader takes in at once."""
_KEPT: Final = "\N{NO-BREAK SPACE}"


def _words(text: str) -> list[str]:
    """Return what no line end may part: words, and each length or size with its unit as one."""
    joined = _SIZE.sub(lambda found: found[0].replace(" ", _KEPT), text)
    return [word.replace(_KEPT, " ") for word in joined.replace("\t", " ").split(" ") if word]


@lru_cache(maxsize=4096)
def wrapped(text: str, most: float, size: float, bold: bool = False) -> tuple[str, ...]:
    """Return the text in lines at most that wide (mm), broken at blanks and line ends.

    A length or a size is never broken inside (`14 1/4 × 13 3/16 in`) unless it alone is wider; then it is broken
    behind its signs `×`, and a word or a length inside only where it alone is wider.
    """
    lines: list[str] = []
    for paragraph in text.splitlines() or [""]:
        line = ""
        for word in _pieces(_words(paragraph), most, size, bold):
            joined = f"{line} {word}" if line else word
            if width(joined, size, bold) <= most:
                line = joined
                continue
            if line:
                lines.append(line)
            *full, line = _broken(word, most, size, bold)
            lines.extend(full)
        lines.append(line)
    return tuple(lines)


def _pieces(words: Iterable[str], most: float, size: float, bold: bool) -> Iterator[str]:
    """Yield the words; one wider than the line comes in the largest parts that a size may be broken into."""
    for word in words:
        if " " not in word or width(word, size, bold) <= most:
            yield word
            continue
        for part in re.split(r"(?<=[×±]) ", word):
            if width(part, size, bold) <= most:
                yield part
            else:
                yield from part.split(" ")


def _broken(word: str, most: float, size: float, bold: bool) -> Iterable[str]:
    """Return a word in pieces that fit, at least one character each, never parted from its combining marks."""
    piece = ""
    for character in word:
        if piece and not unicodedata.combining(character) and width(piece + character, size, bold) > most:
            yield piece
            piece = ""
        piece += character
    yield piece
