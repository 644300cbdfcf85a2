"""The measuring sheet as a PDF file; a file that is there is never overwritten."""

from __future__ import annotations

from pathlib import Path

from matplan.faults import PackError, printable
from matplan.lengths import Units


def write_measuring_sheet(path: Path, units: Units) -> None:
    """Write the sheet. Raises `PackError` where a file is there already or cannot be written; then nothing is."""
    from matplan.documents.measuring.sheet import measuring_sheets
    from matplan.drawing import pdf
    from matplan.drawing.book import book_of

    content, shown = pdf.render(book_of(measuring_sheets(units), "To measure")), printable(str(path))
    try:
        stream = path.open("xb")
    except FileExistsError:
        raise PackError(f"{shown} is there already, and nothing is overwritten; name another file with --out") from None
    except OSError as error:
        raise PackError(f"{shown} cannot be written: {error.strerror or error}") from None
    try:
        with stream:
            stream.write(content)
    except OSError as error:
        path.unlink(missing_ok=True)
        raise PackError(f"{shown} cannot be written: {error.strerror or error}") from None
