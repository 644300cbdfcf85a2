"""A job file into a `Job`: every name resolved, every length exact, every default filled in; and every fault at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from matplan.job.file.document import Document, read_text
from matplan.job.file.lines import Place
from matplan.job.model import CostsTable, CutterTable
from matplan.job.names import file_names
from matplan.job.read.bench import Bench, check_names
from matplan.job.read.complaints import written_job
from matplan.job.read.photos import Header, Photos
from matplan.job.read.pieces import read_piece
from matplan.job.read.supplies import Supplies
from matplan.job.read.walls import read_walls
from matplan.job.records import Cutter, Hand, Job, Piece, Rates, Reading, Wall
from matplan.lengths import Step


def read_job(path: str | Path, *, may_be_bare: bool = False) -> Job:
    """Return the job in a file. Raises `JobError` with all its faults; photos are read by their headers alone.

    `may_be_bare`: it may lack pieces, because only its papers and frames are wanted.
    """
    return parse_job(read_text(Path(path), file=str(path)), Path(path).parent, str(path), may_be_bare=may_be_bare)


def parse_job(
    text: str, folder: Path, file: str = "job.toml", *, confined: bool = False, may_be_bare: bool = False
) -> Job:
    """Return the job that a text says. Raises `JobError` with all its faults; see `parse_reading`."""
    return parse_reading(text, folder, file, confined=confined, may_be_bare=may_be_bare).whole()


def parse_reading(
    text: str,
    folder: Path,
    file: str = "job.toml",
    *,
    confined: bool = False,
    may_be_bare: bool = False,
    header: Header | None = None,
) -> Reading:
    """Return what can be read of a job's text, and the faults of the rest. Raises `JobError` if the text is no TOML.

    Relative paths start from `folder`; `file` is what messages and the job call the text. `confined`: photos come from
    the folder alone, and links out of it are not followed. `header` reads photos in place of `photos.read_photo`.
    """
    document = Document(text, file=file)
    job, units, faults = written_job(document)
    supplies = Supplies(job, document.data, units, faults)
    photos = Photos.of(folder, confined=confined, header=header)
    bench = Bench(units=units, faults=faults, supplies=supplies, photos=photos)
    tables = job.piece or ()
    places: list[Place] = [("piece", number) for number in range(len(tables))]
    if not (tables or may_be_bare) and not faults.touches(("piece",)):
        faults.add((), "the job has no piece; write a [[piece]] for each picture to frame")
        faults.guess(("piece",))
    names = [table.name for table in tables]
    check_names(names, places, faults, "the piece")
    files = file_names(name or "" for name in names)
    pieces = [read_piece(table, place, its, bench) for table, place, its in zip(tables, places, files, strict=True)]
    walls = read_walls(job.wall or (), tables, bench)
    if faults.touches(("units",)) or faults.touches(("step",)):  # no length can be trusted
        pieces, walls = [], ()
    whole = Job(
        title=job.title or "",
        file=file,
        folder=folder,
        units=units,
        step=job.step or Step.usual(units),
        currency=job.currency or "",
        cutter=_cutter(job.cutter),
        papers=supplies.papers,
        materials=supplies.materials,
        frames=supplies.frames,
        pieces=tuple(piece for piece in pieces if piece),
        walls=tuple(_whole_walls(walls, pieces)),
        rates=_rates(job.costs),
        dropout_trim=job.dropout_trim,
    )
    return Reading(job=whole, faults=faults.in_order())


def _whole_walls(walls: Iterable[Wall], pieces: Sequence[Piece | None]) -> Iterator[Wall]:
    """Yield the walls whose pieces could all be read, with the indexes of these among those that could."""
    index = {old: new for new, old in enumerate(number for number, piece in enumerate(pieces) if piece)}
    for wall in walls:
        if all(number in index for number, _ in wall.hung):
            yield replace(wall, hung=tuple((index[number], copy) for number, copy in wall.hung))


def _cutter(table: CutterTable | None) -> Cutter:
    if table is None:
        return Cutter()
    return Cutter(
        setback=table.setback or Fraction(0),
        widest_border=table.widest_border,
        longest_cut=table.longest_cut,
        window_side=table.window_side or Hand.LEFT,
    )


def _rates(table: CostsTable | None) -> Rates:
    return Rates() if table is None else Rates(**{key: getattr(table, key) for key in CostsTable.model_fields})
