"""The stages of planning, each kept by what goes into it.

A `Workshop` reads jobs, solves pieces, cuts stock and hangs walls, and keeps each answer by all that went into it, so
that after an edit only the changed parts are done again and the others are the very same objects. Records are frozen
and hash quickly; the oldest answers go first. Nothing is kept outside the object. It must not know drawings.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Final

from matplan.faults import Fault, JobError
from matplan.job.records import Climate, Hang, Job, Photo, Piece, Reading, Wall
from matplan.lengths import Printer
from matplan.mats.records import SolvedPiece
from matplan.mats.solve import solve
from matplan.mats.windows import Unsolvable
from matplan.orders.costs import costs_of
from matplan.orders.cutting import Cutting, Rack, kinds_of, kinds_of_sticks, parts_of, rails_of
from matplan.orders.leftovers import keep_of
from matplan.orders.lines import own_lines, ready_of, shopping
from matplan.orders.store import Store
from matplan.planning.faulty import fault_of, faults_of, in_order, too_large, unplaced, unsawn
from matplan.planning.findings import findings_of
from matplan.planning.record import Drafted, Plan, Stock
from matplan.stock.sticks import StickKind, Sticks, cut_sticks
from matplan.walls.records import SolvedWall, Unhangable

if TYPE_CHECKING:
    from matplan.job.file.document import Document
    from matplan.stock.records import Layout, Part, StockKind
    from matplan.walls.room import Box, Pair, Room

type Tick = Callable[[int, int], None]
"""Called with what is done and what there is to do."""


def no_tick(_done: int, _total: int) -> None:
    """Tells nobody."""


KEPT: Final = 4096
"""Pieces and photos that a workshop keeps; a solved piece takes about 20 kB."""
KEPT_SEARCHES: Final = 256
"""Layouts of a material, racks of sticks, walls and clusters that it keeps, of each so many."""


class Workshop:
    """Reads, solves, cuts and hangs; keeps at most `keep` pieces and photos, and `searches` answers of other stages."""

    def __init__(self, *, keep: int = KEPT, searches: int = KEPT_SEARCHES) -> None:
        self._headers = lru_cache(keep)(_header)
        self._solved = lru_cache(keep)(_solved)
        self._laid = lru_cache(searches)(_laid)
        self._sawn = lru_cache(searches)(_sawn)
        self._clustered = lru_cache(searches)(_clustered)
        self._hung = lru_cache(searches)(self._hang)

    def read(self, path: str | Path) -> Reading:
        """Return what can be read of a job file, and its faults; see `parse`."""
        from matplan.job.file.document import read_text

        return self.parse(read_text(Path(path), file=str(path)), Path(path).parent, str(path))

    def parse(self, text: str | Document, folder: Path, file: str = "job.toml", *, confined: bool = False) -> Reading:
        """Return what can be read of a job's text, and its faults; see `job.parse_reading`.

        The headers of photos are kept by their files' path, time and size. Raises `JobError` if the text is no TOML.
        """
        from matplan.job import parse_reading

        return parse_reading(text, folder, file, confined=confined, header=self._photo)

    def solve(self, job: Job, piece: Piece) -> SolvedPiece:
        """Return one piece of a job with every dimension closed. Raises `Unsolvable`."""
        return self._solved(piece, job.printer, job.cutter.setback, job.climate)

    def stock(self, job: Job, pieces: Sequence[SolvedPiece], tick: Tick = no_tick) -> Stock:
        """Return what the pieces take from sheets and sticks, searched a material at a time.

        `tick` is called with the materials that are done and how many there are. Raises `JobError` with a fault for
        each part that no sheet and no stick gives; a part that is larger than every sheet is told without a search.
        """
        _refuse(job, tuple(too_large(job, pieces)))
        cuttings = tuple(self._cuttings(job, pieces, tick))
        racks = tuple(self._racks(pieces))
        faults = [fault for cutting in cuttings for fault in unplaced(job, pieces, cutting)]
        _refuse(job, [*faults, *(fault for rack in racks for fault in unsawn(job, pieces, rack))])
        return Stock(cuttings=cuttings, racks=racks)

    def hang(self, job: Job, wall: Wall, pieces: Mapping[int, SolvedPiece]) -> SolvedWall:
        """Return a wall of a job with every frame and hook in its place. Raises `Unhangable`.

        `pieces` are at least those that the wall names, by their index in the job.
        """
        return self._hung(wall, tuple((index, pieces[index]) for index, _ in wall.hung), job.printer)

    def draft(self, job: Job | Reading) -> Drafted:
        """Return a job as far as it needs no search for sheets: its sound pieces and walls, and every fault."""
        read: tuple[Fault, ...] = ()
        if isinstance(job, Reading):
            read, job = job.faults, job.job
        faults: list[Fault] = []
        solved = dict(self._every_piece(job, faults))
        walls = tuple(self._every_wall(job, solved, faults))
        pieces = tuple(solved.values())
        faults.extend(too_large(job, pieces))
        told = in_order((*read, *job.asking(in_order(faults)))) if faults or read else ()
        return Drafted(job=job, pieces=pieces, walls=walls, faults=tuple(told))

    def plan(self, job: Job | Reading, tick: Tick = no_tick) -> Plan:
        """Return the plan of a job. Raises `JobError` with every fault of its text, its pieces and its walls at once.

        No search for sheets begins before pieces and walls are without a fault. Time grows with the pieces; a cluster
        of many frames and a full search for sheets take seconds. `tick` is that of `stock`.
        """
        drafted = self.draft(job)
        if drafted.faults:
            raise JobError(drafted.faults, file=drafted.job.file)
        job, pieces, walls = drafted.job, drafted.pieces, drafted.walls
        stock = self.stock(job, pieces, tick)
        store = Store.of(job)
        bought = shopping(
            own_lines(pieces, store=store, hung=_ways(job), racks=stock.racks),
            store=store,
            ready=ready_of(job, store),
            cuttings=stock.cuttings,
            racks=stock.racks,
        )
        costs = costs_of(pieces, bought.own, bought.order, stock.cuttings, stock.racks, job.rates, store.currency)
        return Plan(
            job=job,
            pieces=pieces,
            order=bought.order,
            at_hand=bought.at_hand,
            walls=walls,
            cuttings=stock.cuttings,
            racks=stock.racks,
            costs=costs,
            findings=tuple(findings_of(job, costs)),
        )

    def _every_piece(self, job: Job, faults: list[Fault]) -> Iterator[tuple[int, SolvedPiece]]:
        """Yield each piece that can be solved by its index; the others join the faults."""
        for index, piece in enumerate(job.pieces):
            try:
                yield index, self.solve(job, piece)
            except Unsolvable as error:
                faults.append(fault_of(piece, error))

    def _every_wall(self, job: Job, pieces: Mapping[int, SolvedPiece], faults: list[Fault]) -> Iterator[SolvedWall]:
        """Yield each wall whose pieces are all solved; the problems of one that cannot be hung join the faults."""
        for wall in job.walls:
            if not all(index in pieces for index, _ in wall.hung):
                continue
            try:
                yield self.hang(job, wall, pieces)
            except Unhangable as error:
                faults.extend(faults_of(wall, error))

    def _cuttings(self, job: Job, pieces: Sequence[SolvedPiece], tick: Tick) -> Iterator[Cutting]:
        """Yield each sheet material with its parts laid out."""
        materials = tuple(parts_of(pieces, job.dropout_trim))
        least = keep_of(job)
        keep = min(least.width, least.height)
        for done, (material, owned) in enumerate(materials):
            tick(done, len(materials))
            parts, kinds = tuple(part for _, part in owned), kinds_of(material)
            layout = self._laid(parts, kinds, material.kerf, keep)
            owners = tuple(owner for owner, _ in owned)
            yield Cutting(material=material, kinds=kinds, parts=parts, owners=owners, layout=layout)

    def _racks(self, pieces: Sequence[SolvedPiece]) -> Iterator[Rack]:
        """Yield each moulding with its rails on sticks."""
        for frame, wanted in rails_of(pieces):
            rails = tuple(rail for _, own in wanted for rail in own)
            owners = tuple((piece.name, sum(own, Fraction(0))) for piece, own in wanted)
            yield Rack(frame=frame, sticks=self._sawn(rails, kinds_of_sticks(frame), frame.kerf), owners=owners)

    def _photo(self, path: Path, called: str) -> Photo:
        """Return what a photo's header tells. Raises `PhotoFault`."""
        try:
            about = path.stat()
        except (OSError, ValueError):
            return _header(path, called, 0, 0)
        return self._headers(path, called, about.st_mtime_ns, about.st_size)

    def _hang(self, wall: Wall, pieces: tuple[tuple[int, SolvedPiece], ...], printer: Printer) -> SolvedWall:
        from matplan.walls.hang import hang_wall

        return hang_wall(wall, dict(pieces), printer, self._clustered)


def plan(job: Job) -> Plan:
    """Return the plan of a job, made in a workshop of its own; see `Workshop.plan`."""
    return Workshop().plan(job)


def _refuse(job: Job, faults: Sequence[Fault]) -> None:
    """Raise `JobError` where there is a fault."""
    if faults:
        raise JobError(in_order(tuple(job.asking(in_order(faults)))), file=job.file)


def _ways(job: Job) -> dict[str, Hang]:
    """Return how each piece hangs that a wall names, by its name; the first wall counts."""
    found: dict[str, Hang] = {}
    for wall in job.walls:
        for index, _ in wall.hung:
            found.setdefault(job.pieces[index].name, wall.hang)
    return found


# --- one answer of each stage ----------------------------------------------------------------------------------------


def _header(path: Path, called: str, _changed: int, _bytes: int) -> Photo:
    from matplan.job.read.photos import read_photo

    return read_photo(path, called)


def _solved(piece: Piece, printer: Printer, setback: Fraction, climate: Climate) -> SolvedPiece:
    return solve(piece, printer=printer, setback=setback, climate=climate)


def _laid(parts: tuple[Part, ...], kinds: tuple[StockKind, ...], kerf: Fraction, keep: Fraction) -> Layout:
    from matplan.stock.dropouts import cut_mats

    return cut_mats(parts, kinds, kerf=kerf, keep=keep)


def _sawn(rails: tuple[Fraction, ...], kinds: tuple[StickKind, ...], kerf: Fraction) -> Sticks:
    return cut_sticks(rails, kinds, kerf)


def _clustered(sizes: tuple[Pair, ...], room: Room, variant: int) -> Sequence[Box] | None:
    from matplan.walls.cluster import arranged

    return arranged(sizes, room, variant)
