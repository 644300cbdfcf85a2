"""The drawing of a laid sheet itself: parts, offcuts and cuts, every part with its key and every cut
with its number.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from matplan.documents.parts.framed import model_box
from matplan.documents.parts.labels import Spot, broken
from matplan.documents.stock.marks import NAMES, NUMBER, Marks, offcut_text
from matplan.drawing.items import Anchor, Group, Item, Level, Line, Text
from matplan.drawing.pens import PAPER, SECONDARY, TINT, Pen
from matplan.drawing.views import View
from matplan.lengths import Box, Printer, plain_decimal
from matplan.stock.records import LaidSheet, Piece

_DOT: Final = 0.5


def marked(sheet: LaidSheet, keys: Sequence[str], marks: Marks, view: View, printer: Printer) -> Iterator[Item]:
    """Yield the sheet's items with its marks, in the order in which they are drawn."""
    x, y = view.whole.x, view.whole.y
    numbers = [spot.moved(x, y) for spot in marks.numbers]
    yield view.rect(model_box(Box.of(sheet.stock.size)), pen=Pen.OUTLINE, fill=TINT, name="stock", classes=("stock",))
    if sheet.stock.trim:
        yield view.rect(model_box(sheet.stock.usable), pen=Pen.HIDDEN, classes=("trim",))
    for offcut in sheet.offcuts:
        yield view.rect(model_box(offcut), fill=TINT, classes=("offcut",))
    for key, piece in zip(keys, sheet.pieces, strict=True):
        data = (("name", piece.name), ("key", key))
        yield view.rect(model_box(piece.box), fill=PAPER, classes=("piece",), data=data)
    for number, (cut, spot) in enumerate(zip(sheet.cuts, numbers, strict=True), 1):
        line = view.point(cut.x1, cut.y1), view.point(cut.x2, cut.y2)
        parts = iter((line,)) if spot.leader else broken(line, spot.area)
        box = (min(cut.x1, cut.x2), min(cut.y1, cut.y2), abs(cut.x2 - cut.x1), abs(cut.y2 - cut.y1))
        data = (("number", str(number)), ("setting", plain_decimal(cut.setting)))
        drawn = tuple(Line(start=start, end=end, pen=Pen.CUT) for start, end in parts)
        yield Group(items=drawn, classes=("cut",), box=box, data=data)
    for offcut, place in zip(sheet.offcuts, marks.offcuts, strict=True):
        if place is not None:
            yield _offcut(offcut_text(offcut, printer), place.moved(x, y))
    places = [spot.moved(x, y) for spot in marks.keys]
    for spot in (*places, *numbers):
        yield from spot.drawn(_DOT)
    for key, piece, spot in zip(keys, sheet.pieces, places, strict=True):
        yield _key(key, piece, spot, marks, printer)
    yield from (_number(number, spot) for number, spot in enumerate(numbers, 1))


def _offcut(text: str, spot: Spot) -> Text:
    upright = spot.area.height > spot.area.width
    return Text(
        at=spot.area.centre,
        text=text,
        size=NAMES,
        anchor=Anchor.MIDDLE,
        level=Level.MIDDLE,
        turn=-90.0 if upright else 0.0,
        colour=SECONDARY,
    )


def _key(key: str, piece: Piece, spot: Spot, marks: Marks, printer: Printer) -> Group:
    """Return a part's key, with its name and size below it where all have room."""
    area, size = spot.area, marks.key_size
    x = area.centre[0]
    at = (x, area.y + size / 2 if marks.named else area.centre[1])
    texts = [
        Text(at=at, text=key, size=size, anchor=Anchor.MIDDLE, level=Level.MIDDLE, bold=True, halo=spot.met),
    ]
    for number, line in enumerate((piece.name, printer.size(piece.box.size)) if marks.named else (), 1):
        at = (x, area.y + size + (number * 1.8 - 0.5) * NAMES)
        texts.append(Text(at=at, text=line, size=NAMES, anchor=Anchor.MIDDLE, level=Level.MIDDLE, halo=spot.met))
    return Group(classes=("part-key",), items=tuple(texts), data=(("key", key),))


def _number(number: int, spot: Spot) -> Group:
    """Return a cut's number in its cell."""
    text = Text(
        at=spot.area.centre,
        text=str(number),
        size=NUMBER,
        anchor=Anchor.MIDDLE,
        level=Level.MIDDLE,
        bold=True,
        halo=spot.met,
    )
    cell = spot.area.rect(pen=Pen.EDGE, fill=PAPER)
    return Group(classes=("cut-number",), items=(cell, text), data=(("number", str(number)),))
