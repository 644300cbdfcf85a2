"""A job file into a `Job`: names resolved, lengths exact, defaults filled in; and every fault at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import MISSING, replace
from pathlib import Path
from typing import Any

from matplan.faults import Fault
from matplan.job.file.complaints import Faults
from matplan.job.file.document import Document, read_text
from matplan.job.file.lines import Place, place_text
from matplan.job.file.table import LISTS, Opened, Reader, check_names
from matplan.job.file.wrong import got
from matplan.job.names import file_names
from matplan.job.read.photos import Header, Photos
from matplan.job.read.pieces import read_piece
from matplan.job.read.shelves import with_supplies
from matplan.job.read.supplies import MAKERS, Supplies, check_prices
from matplan.job.read.walls import read_wall
from matplan.job.records import Job, Piece, Reading, Slip, Wall
from matplan.job.records.homes import homes
from matplan.job.records.other_words import EXAMPLES, OTHER_WORDS
from matplan.lengths import Units


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
    text: str | Document,
    folder: Path,
    file: str = "job.toml",
    *,
    confined: bool = False,
    may_be_bare: bool = False,
    header: Header | None = None,
) -> Reading:
    """Return what can be read of a job's text, and the faults of the rest; of a text that is parsed already too.

    Raises `JobError` if the text is no TOML.

    Relative paths start from `folder`; `file` is what messages and the job call the text. `confined`: photos come from
    the folder alone, and links out of it are not followed. `header` reads photos in place of `photos.read_photo`.
    """
    document = text if isinstance(text, Document) else Document(text, file=file)
    shelves = with_supplies(document, folder, Path(file).name)
    faults = Faults(shelves.sources)
    reader = Reader(
        units=Units.MM, faults=faults, makers=MAKERS, other_words=OTHER_WORDS, examples=EXAMPLES, homes=homes()
    )
    job = Opened(reader, Job, shelves.data, ())
    reader.units, reader.currency = job.value("units"), job.value("currency")
    job.value("supplies")  # a file that is named wrongly could hold any name
    supplies = Supplies(job, lost=shelves.lost or job.faulty("supplies"))
    check_prices(job)
    photos = Photos.of(folder, confined=confined, header=header)
    reader.find = lambda kind, name: photos.photo(name) if kind == "photo" else supplies.find(kind, name)
    tables = tuple(_tables(job, "piece", Piece))
    if not job.says("piece") and not may_be_bare and not job.faulty("piece"):
        job.wrong(text="the job has no piece; write a [[piece]] for each picture to frame")
        faults.guess(("piece",))
    pieces = [read_piece(table, file_name, supplies) for table, file_name in _files(tables, "piece", "the piece")]
    written = job.table.get("piece", [])
    lost = len(tables) < len(written) if isinstance(written, list) else True
    lost = lost or (not tables and job.faulty("piece"))
    walls = [
        read_wall(table, file_name, tables, lost=lost)
        for table, file_name in _files(tuple(_tables(job, "wall", Wall)), "wall", "the wall")
    ]
    trusted = not job.faulty("units", "step")
    sound: list[Piece | None] = pieces if trusted else []
    read = job.make(
        file=file,
        folder=folder,
        pieces=tuple(filter(None, sound)),
        walls=tuple(_whole_walls(filter(None, walls), sound)),
        slips=() if job.faulty("units") else tuple(_asked(reader, reader.slips)),
        idle=tuple(_asked(reader, reader.idle)),
        **supplies.own(),
    )
    if job.faulty("units", "step") and trusted:  # found while the rest was read
        read = replace(read, pieces=(), walls=())
    told = (*_asking(read, faults), *shelves.faults)
    return Reading(job=read, faults=tuple(sorted(told, key=lambda fault: (fault.file, fault.line or 0))))


def _asking(job: Job, faults: Faults) -> Iterator[Fault]:
    """Yield every fault; those about a size that a slip of the unit may explain ask for it."""
    for fault in faults.in_order():
        yield from job.asking((fault,)) if fault in faults.sized else (fault,)


def _asked(reader: Reader, told: Sequence[tuple[Place, str]]) -> Iterator[Slip]:
    """Yield what is asked about, each once: sizes that look like another unit's, keys that change nothing."""
    for place, text in dict.fromkeys(told):
        if not reader.faults.touches(place):
            table = place_text(place[:2])
            source, there = reader.faults.lines.told(place)
            line = source.lines.of(there) if not source.file else None
            yield Slip(where=place_text(there), table=table, line=line, text=text)


def _tables[T](job: Opened[Job], key: str, record: type[T]) -> Iterator[Opened[T]]:
    """Yield the job's tables of a kind; what is no table is told."""
    written: Any = job.table.get(key, [])
    if not isinstance(written, list):
        job.wrong(key, text=f"{got(written)}; write {LISTS[key]} with double brackets for each {key}")
        return
    for number, table in enumerate(written):
        try:
            yield job.reader.open(record, table, (key, number))
        except ValueError as error:
            job.wrong(key, number, text=str(error))


def _files[T](tables: Sequence[Opened[T]], instead: str, what: str) -> Iterator[tuple[Opened[T], str]]:
    """Yield each table with the name of its files; a name that stands twice is told."""
    names = ["" if (name := table.value("name")) is MISSING else str(name) for table in tables]
    if tables:
        check_names(names, [table.place for table in tables], tables[0].reader.faults, what)
    return iter(tuple(zip(tables, file_names(names, instead), strict=True)))


def _whole_walls(walls: Iterable[Wall], pieces: Sequence[Piece | None]) -> Iterator[Wall]:
    """Yield the walls whose pieces could all be read, with the indexes of these among those that could."""
    index = {old: new for new, old in enumerate(number for number, piece in enumerate(pieces) if piece)}
    for wall in walls:
        if all(number in index for number, _ in wall.hung):
            yield replace(wall, hung=tuple((index[number], copy) for number, copy in wall.hung))
