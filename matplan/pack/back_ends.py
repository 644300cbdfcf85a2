"""The back ends of a pack: what makes files of what a document draws, one for each form of the shelf.

To add one, write its module, name its form on the shelf and add a line to `BACK_ENDS`.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Any, Final

from matplan.documents.document import Form
from matplan.drawing.sheet import Sheet
from matplan.pack.folder import Content

type BackEnd = Callable[[str, Any], Iterator[tuple[str, Content]]]
"""From a title and what was drawn to the files: what stands between a file's name and its ending, and its content."""


def _svg(_title: str, sheets: Sequence[Sheet]) -> Iterator[tuple[str, Content]]:
    from matplan.drawing import svg

    for number, sheet in enumerate(sheets, 1):
        yield "" if number == 1 else f"-{number}", svg.render(sheet)


def _pdf(title: str, drawn: Any) -> Iterator[tuple[str, Content]]:
    from matplan.drawing import pdf
    from matplan.drawing.book import Book, book_of

    yield "", pdf.render(drawn if isinstance(drawn, Book) else book_of(tuple(drawn), title))


def _full_size(title: str, sheets: Sequence[Sheet]) -> Iterator[tuple[str, Content]]:
    from matplan.drawing import pdf
    from matplan.drawing.book import book_of

    yield "", pdf.render(book_of(tuple(sheets), title, full_size=True))


def _photos(title: str, pages: Sequence[Any]) -> Iterator[tuple[str, Content]]:
    from matplan.pack.print_pdf import print_pdf

    yield "", print_pdf(title, pages)


def _csv(_title: str, rows: Iterable[Iterable[str]]) -> Iterator[tuple[str, Content]]:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")  # so that it quotes both letters
    lines = []
    for row in rows:
        writer.writerow(row)
        lines.append(text.getvalue().removesuffix("\r\n") + "\n")
        text.seek(0)
        text.truncate()
    yield "", "".join(lines).encode()


def _toml(_title: str, text: str) -> Iterator[tuple[str, Content]]:
    yield "", text.encode()


def _json(_title: str, document: object) -> Iterator[tuple[str, Content]]:
    yield "", (json.dumps(document, ensure_ascii=False, indent=1) + "\n").encode()


def _dxf(_title: str, board: Any) -> Iterator[tuple[str, Content]]:
    from matplan.pack import machine

    yield "", machine.dxf(board)


def _machine_svg(title: str, board: Any) -> Iterator[tuple[str, Content]]:
    from matplan.pack import machine

    yield "", machine.svg(title, board)


BACK_ENDS: Final[Mapping[Form, BackEnd]] = {
    Form.SVG: _svg,
    Form.PDF: _pdf,
    Form.FULL_SIZE: _full_size,
    Form.PHOTOS: _photos,
    Form.CSV: _csv,
    Form.TOML: _toml,
    Form.JSON: _json,
    Form.DXF: _dxf,
    Form.MACHINE_SVG: _machine_svg,
}
