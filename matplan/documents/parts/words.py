"""The words of the trade that a page uses, each with its sentence, in small running text at the page's foot."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Final

from matplan.catalogue.words import Word, words_in
from matplan.documents.parts.running import Made
from matplan.documents.parts.wording import Fact
from matplan.drawing import lettering
from matplan.drawing.blocks import Block
from matplan.drawing.items import Area, Group, Item, Level, Line, Size, Text
from matplan.drawing.pens import INK, SECONDARY, Pen

_SIZE: Final = Size.CAPTION
_PITCH: Final = _SIZE * lettering.LINE_PITCH
_BETWEEN: Final = 7.0
"""Between two columns."""
_HEADING: Final = 17.0
"""The title stands at the left where the text has two columns."""
_BELOW: Final = 1.4
"""Between the rule and the text."""
_TWO_COLUMNS: Final = 120.0
"""From this width on the text stands in two columns."""

type _Run = tuple[str, bool]
"""A piece of a line, and whether it is bold."""


def explained(texts: Iterable[str]) -> tuple[Word, ...]:
    """Return the words that the texts use, and those that their sentences use in turn."""
    return _explained(tuple(texts))


@lru_cache(maxsize=512)
def _explained(texts: tuple[str, ...]) -> tuple[Word, ...]:
    found = words_in(texts)
    while len(more := words_in([*texts, *(word.text for word in found)])) > len(found):
        found = more
    return found


def words_used(texts: Iterable[str]) -> tuple[Made, ...]:
    """Return the block that explains the texts' words, to be set at any place; nothing where they use none."""
    found = explained(texts)
    return (lambda x, y, width: words_block(found, x=x, y=y, width=width),) if found else ()


def texts_of(facts: Iterable[Fact]) -> Iterator[str]:
    """Yield the names and the figures of facts, each by itself."""
    for fact in facts:
        yield from fact


def words_block(words: Iterable[Word], *, x: float, y: float, width: float) -> Block:
    """Return the words one after the other: below their title, or beside it where there is room, in two columns where
    one line does not hold them.
    """
    words, beside = tuple(words), width >= _TWO_COLUMNS
    aside = _HEADING if beside else 0.0
    lines, wide = _lines(words, width - aside), width - aside
    if beside and len(lines) > 1:
        wide = (width - aside - _BETWEEN) / 2
        lines = _lines(words, wide)
    many = -(-len(lines) // (2 if beside and len(lines) > 1 else 1))
    rule = y if beside else y + Size.SMALL + 1.6
    top = rule + _BELOW
    items: list[Item] = [
        Text(at=(x, top if beside else y), text="Words", size=Size.SMALL, level=Level.TOP, bold=True),
        Line(start=(x, rule), end=(x + width, rule), pen=Pen.EDGE),
    ]
    for number, line in enumerate(lines):
        left = x + aside + number // many * (wide + _BETWEEN)
        for text, bold in line:
            at = (left, top + number % many * _PITCH)
            colour = INK if bold else SECONDARY
            items.append(Text(at=at, text=text, size=_SIZE, level=Level.TOP, bold=bold, colour=colour))
            left += lettering.width(f"{text} ", _SIZE, bold)
    height = top + max((many - 1) * _PITCH + 1.3 * _SIZE, 1.3 * Size.SMALL if beside else 0.0) - y
    area = Area(x=x, y=y, width=width, height=height)
    return Block(items=(Group(classes=("words",), items=tuple(items)),), area=area)


@lru_cache(maxsize=512)
def _lines(words: tuple[Word, ...], width: float) -> tuple[list[_Run], ...]:
    """Return the lines of the running text; a page is laid out many times, and its words stay the same."""
    return tuple(_broken(words, width))


def _broken(words: Iterable[Word], width: float) -> Iterator[list[_Run]]:
    """Yield the lines, none wider than `width`; a word and its sentence's first word are not parted."""
    line: list[_Run] = []
    for word in words:
        head, _, sentence = word.told.partition(": ")
        first, *others = sentence.split()
        for runs in ([(f"{head}:", True), (first, False)], *([(other, False)] for other in others)):
            longer = _joined(line, runs)
            if line and sum(lettering.width(f"{run} ", _SIZE, heavy) for run, heavy in longer) > width:
                yield line
                longer = runs
            line = longer
    if line:
        yield line


def _joined(line: list[_Run], runs: list[_Run]) -> list[_Run]:
    """Return the line with the runs behind it; two runs of one weight are one."""
    (text, bold), *others = runs
    if line and line[-1][1] == bold:
        return [*line[:-1], (f"{line[-1][0]} {text}", bold), *others]
    return [*line, *runs]
