"""A job file into a `Job`: every name resolved, every length exact, every default filled in; or every fault at once."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from matplan.faults import JobError
from matplan.job.file.document import Document, read_text
from matplan.job.file.lines import Place
from matplan.job.model import CostsTable, CutterTable
from matplan.job.names import file_names
from matplan.job.read.bench import Bench, check_names
from matplan.job.read.complaints import written_job
from matplan.job.read.photos import Photos
from matplan.job.read.pieces import read_piece
from matplan.job.read.supplies import Supplies
from matplan.job.read.walls import read_walls
from matplan.job.records import Cutter, Hand, Job, Rates
from matplan.lengths import Step


def read_job(path: str | Path, *, may_be_bare: bool = False) -> Job:
    """The job in that file. Raises `JobError` with all its faults; photos are read by their headers alone.

    `may_be_bare`: it may lack pieces, where only its papers and frames are wanted.
    """
    return parse_job(read_text(Path(path), file=str(path)), Path(path).parent, str(path), may_be_bare=may_be_bare)


def parse_job(
    text: str, folder: Path, file: str = "job.toml", *, confined: bool = False, may_be_bare: bool = False
) -> Job:
    """The job that the text says. Relative paths start from `folder`; `file` is what messages and the job call it.

    `confined`: photos come from the folder alone, and links out of it are not followed. Raises `JobError` with all
    faults.
    """
    document = Document(text, file=file)
    job, units, faults = written_job(document)
    supplies = Supplies(job, document.data, units, faults)
    bench = Bench(units=units, faults=faults, supplies=supplies, photos=Photos.of(folder, confined=confined))
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
    if faults:
        raise JobError(faults.in_order(), file=file)
    return Job(
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
        walls=walls,
        rates=_rates(job.costs),
        dropout_trim=job.dropout_trim,
    )


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
