"""What cannot be planned, as faults at their places in the job file."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from matplan.faults import Fault
from matplan.job.records import Job, Piece, Wall
from matplan.lengths import ZERO
from matplan.mats.records import SolvedPiece
from matplan.mats.windows import Unsolvable
from matplan.orders.cutting import Cutting, Rack, kinds_of, kinds_of_sticks, parts_of, rails_of
from matplan.walls.records import Unhangable


def fault_of(piece: Piece, error: Unsolvable) -> Fault:
    """Return a piece's error at its place in the job file."""
    place = ".".join(part for part in (piece.place, error.where) if part)
    return Fault(line=piece.line_of(error.where), where=place, text=f"{piece.name}: {error.text}")


def faults_of(wall: Wall, error: Unhangable) -> Iterator[Fault]:
    """Yield a wall's problems at their places in the job file."""
    for problem in error.problems:
        place = ".".join(part for part in (wall.place, problem.where) if part)
        yield Fault(line=wall.line_of(problem.where), where=place, text=f"{wall.name}: {problem.text}")


def too_large(job: Job, pieces: Sequence[SolvedPiece]) -> Iterator[Fault]:
    """Yield a fault for each part that no sheet holds and for each piece with a rail that no stick gives.

    Nothing is searched for this.
    """
    asked = {piece.name: piece for piece in job.pieces}
    solved = {piece.name: piece for piece in pieces}
    for material, owned in parts_of(pieces, job.dropout_trim):
        kinds = kinds_of(material)
        for owner, part in owned:
            if any(kind.holds(part) for kind in kinds):
                continue
            from matplan.stock.solver import too_large as reason

            what = f"{part.quantity} × {part.name}" if part.quantity > 1 else part.name
            size, sheets = job.printer.size(solved[owner].blank), f"{material.kind} {material.name}"
            text = f"{what}, {size}, cannot be cut from the {sheets}: {reason(part, kinds)}"
            if largest := max((kind.usable.size for kind in kinds), key=lambda usable: usable.area, default=None):
                text += f", the largest of which gives {job.printer.size(largest)}; name a larger sheet"
            yield Fault(line=asked[owner].line, where=asked[owner].place, text=text)
    for frame, wanted in rails_of(pieces):
        longest = max((stick.usable for stick in kinds_of_sticks(frame) if stick.sold or stick.have), default=ZERO)
        for piece, own in wanted:
            if max(own) > longest:
                text = (
                    f"{piece.name}: a rail of {job.printer.length(max(own))} is longer than every stick of "
                    f"{frame.name},"
                    f" which gives {job.printer.length(longest)}; name a longer stick"
                )
                ask = asked[piece.name]
                yield Fault(line=ask.line_of("frame"), where=f"{ask.place}.frame", text=text)


def unplaced(job: Job, pieces: Sequence[SolvedPiece], cutting: Cutting) -> Iterator[Fault]:
    """Yield a fault for each part that the search has left no sheet for."""
    asked = {piece.name: piece for piece in job.pieces}
    solved = {piece.name: piece for piece in pieces}
    owners = {part.name: owner for owner, part in zip(cutting.owners, cutting.parts, strict=True)}
    for lost in cutting.layout.unplaced:
        owner = owners[lost.name]
        what = f"{lost.quantity} × {lost.name}" if lost.quantity > 1 else lost.name
        size, sheets = job.printer.size(solved[owner].blank), f"{cutting.material.kind} {cutting.material.name}"
        text = f"{what}, {size}, cannot be cut from the {sheets}: {lost.reason}"
        yield Fault(line=asked[owner].line, where=asked[owner].place, text=text)


def unsawn(job: Job, pieces: Sequence[SolvedPiece], rack: Rack) -> Iterator[Fault]:
    """Yield a fault for each piece with a rail that no stick is left for: those at hand are used up."""
    asked = {piece.name: piece for piece in job.pieces}
    lost = rack.sticks.unplaced
    for frame, wanted in rails_of(pieces):
        for piece, own in wanted if frame.name == rack.frame.name else ():
            if longest := max((rail for rail in own if rail in lost), default=None):
                text = (
                    f"{piece.name}: a rail of {job.printer.length(longest)} is longer than the sticks of {frame.name} "
                    "that are sold, and those that lie ready are used up; name a longer stick"
                )
                ask = asked[piece.name]
                yield Fault(line=ask.line_of("frame"), where=f"{ask.place}.frame", text=text)


def in_order(faults: Sequence[Fault]) -> tuple[Fault, ...]:
    """Return the faults by their files and lines, those of the job's own file first, each once."""
    return tuple(sorted(dict.fromkeys(faults), key=lambda fault: (fault.file, fault.line or 0)))
