"""Drawings of stock sheets for `matplan sheets --svg DIR`; files that are there are never overwritten."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from matplan.drawing.sheet import Sheet
from matplan.faults import PackError, printable
from matplan.habits import habits_of
from matplan.job.names import safe_name
from matplan.job.records import Job
from matplan.lengths import Step, Units
from matplan.stock.records import Layout


def write_drawings(layout: Layout, folder: Path, *, title: str, units: Units) -> tuple[Path, ...]:
    """Write each laid sheet as `<stock>-<N>.svg`, and the pages of its lists as `<stock>-<N>-2.svg`.

    The folder is made where it is missing.

    Raises `PackError` where a file of that name is there already, or the folder cannot be written; then nothing is.
    """
    from matplan.documents.stock.sheet_layout import sheet_layout
    from matplan.drawing import svg

    step = Step(habits_of(units).figure(Fraction(1, 16), Fraction(1, 10)))
    job = Job(title=title, file=title, folder=folder, units=units, step=step, currency="")
    drawn: dict[Path, Sheet] = {}
    for number, sheet in enumerate(layout.sheets, 1):
        name = f"{safe_name(sheet.stock.name, 'sheet')}-{number}"
        for page, drawing in enumerate(sheet_layout(job, sheet, number=number, of=len(layout.sheets), title=title), 1):
            drawn[folder / (f"{name}.svg" if page == 1 else f"{name}-{page}.svg")] = drawing
    taken = [printable(path.name) for path in drawn if path.exists() or path.is_symlink()]
    if taken:
        raise PackError(
            f"{printable(str(folder))}: holds {', '.join(taken[:5])} already, so nothing is drawn; name another folder"
        )
    written: list[Path] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for path, drawing in drawn.items():
            with path.open("xb") as stream:
                written.append(path)
                stream.write(svg.render(drawing))
    except OSError as error:
        for path in written:
            path.unlink(missing_ok=True)
        raise PackError(
            f"{printable(str(folder))}: the drawings cannot be written: {error.strerror or error}"
        ) from error
    return tuple(drawn)
