"""The mark of a sheet's content: a few letters in its title block that tell two issues of a sheet apart.

The mark is the beginning of a hash of all that the sheet shows. The same job gives the same mark; a changed figure
gives another one. The page's number in the workbook is added later and has no part in the mark.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from hashlib import sha256
from typing import Final

from matplan.drawing.frame import MARGIN
from matplan.drawing.items import Group, Image, Item, Size, Text
from matplan.drawing.pens import SECONDARY
from matplan.drawing.sheet import Sheet

LENGTH: Final = 6
"""So many letters of the hash are shown."""
FOOT: Final = 6.0
"""The mark and the page's number stand so far above the paper's lower edge, in mm."""


def has_title_block(sheet: Sheet) -> bool:
    """Return whether the sheet has a title block."""
    return any(map(_is_title_block, sheet.items))


def marked(sheet: Sheet) -> Sheet:
    """Return the sheet with its mark in its title block; without a title block it stays as it is."""
    if not has_title_block(sheet):
        return sheet
    text = Text(
        at=(MARGIN, sheet.size[1] - FOOT),
        text=f"issue mark {content_mark(sheet)}",
        size=Size.CAPTION,
        colour=SECONDARY,
        classes=("issue-mark",),
    )
    return replace(
        sheet,
        items=tuple(
            replace(item, items=(*item.items, text)) if isinstance(item, Group) and _is_title_block(item) else item
            for item in sheet.items
        ),
    )


def content_mark(sheet: Sheet) -> str:
    """Return the first letters of a hash of the sheet's size and items."""
    found = sha256(repr(sheet.size).encode())
    for part in _parts(sheet.items):
        found.update(part)
    return found.hexdigest()[:LENGTH]


def _is_title_block(item: Item) -> bool:
    return isinstance(item, Group) and "title-block" in item.classes


def _parts(items: Iterable[Item]) -> Iterator[bytes]:
    """Yield what is hashed of each item; a picture's bytes are hashed as they are."""
    for item in items:
        match item:
            case Group():
                yield repr(replace(item, items=())).encode()
                yield from _parts(item.items)
                yield b")"
            case Image():
                yield repr(replace(item, content=b"")).encode()
                yield item.content
            case _:
                yield repr(item).encode()
