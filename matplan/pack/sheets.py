"""Drawings of stock sheets for `matplan sheets --svg DIR`; files that are there are never overwritten."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from matplan.faults import PackError, printable
from matplan.job.names import safe_name
from matplan.job.records import Job
from matplan.lengths import Step, Units
from matplan.stock.records import Layout


def write_drawings(layout: Layout, folder: Path, *, title: str, units: Units) -> tuple[Path, ...]:
    """One SVG a laid sheet, `<stock>-<N>.svg`, into a folder that is made where it is missing.

    Raises `PackError` where a file of that name is there already, or the folder cannot be written; then nothing is.
    """
    from matplan.documents.stock.sheet_layout import sheet_layout
    from matplan.drawing import svg

    step = Step.usual(units) if units is Units.IN else Step(Fraction(1, 10))
    job = Job(title=title, file=title, folder=folder, units=units, step=step, currency="")
    paths = [
        folder / f"{safe_name(sheet.stock.name, 'sheet')}-{number}.svg" for number, sheet in enumerate(layout.sheets, 1)
    ]
    taken = [printable(path.name) for path in paths if path.exists() or path.is_symlink()]
    if taken:
        raise PackError(
            f"{printable(str(folder))}: holds {', '.join(taken[:5])} already, so nothing is drawn; name another folder"
        )
    drawn = [
        svg.render(
            sheet_layout(job, sheet, material=sheet.stock.name, number=number, of=len(layout.sheets), title=title)
        )
        for number, sheet in enumerate(layout.sheets, 1)
    ]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for path, content in zip(paths, drawn, strict=True):
            with path.open("xb") as stream:
                stream.write(content)
    except OSError as error:
        raise PackError(
            f"{printable(str(folder))}: the drawings cannot be written: {error.strerror or error}"
        ) from error
    return tuple(paths)
