"""A job's boards, glazing and backing cut from their sheets, and its rails from their sticks; only where there is
something to cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from matplan.faults import Fault
from matplan.job.records import Job
from matplan.mats.records import SolvedPiece
from matplan.orders.cutting import Cutting, Rack, kinds_of, kinds_of_sticks, parts_of, rails_of
from matplan.stock.sticks import cut_sticks


def cuttings(job: Job, pieces: Sequence[SolvedPiece], faults: list[Fault]) -> Iterator[Cutting]:
    """Each material's parts on its sheets. A part that no sheet holds, or that no sheet is left for, joins the faults."""
    by_name = {piece.name: piece for piece in pieces}
    for material, owned in parts_of(pieces, job.dropout_trim):
        from matplan.stock.dropouts import cut_mats

        parts, kinds = tuple(part for _, part in owned), kinds_of(material)
        layout = cut_mats(parts, kinds, kerf=material.kerf)
        owners = {part.name: owner for owner, part in owned}
        for lost in layout.unplaced:
            piece = by_name[owners[lost.name]]
            what = f"{lost.quantity} × {lost.name}" if lost.quantity > 1 else lost.name
            text = f"{what}, {job.printer.size(piece.blank)}, cannot be cut from the {material.kind} {material.name}: {lost.reason}"
            faults.append(Fault(line=piece.ask.line, where=piece.ask.place, text=text))
        yield Cutting(
            material=material, kinds=kinds, parts=parts, owners=tuple(owner for owner, _ in owned), layout=layout
        )


def racks(job: Job, pieces: Sequence[SolvedPiece], faults: list[Fault]) -> Iterator[Rack]:
    """Each moulding's rails on its sticks. A rail longer than every stick joins the faults."""
    for frame, wanted in rails_of(pieces):
        rails = [rail for _, own in wanted for rail in own]
        sticks = cut_sticks(rails, kinds_of_sticks(frame), frame.kerf)
        longest = max(stick.usable for stick in kinds_of_sticks(frame))
        for piece, own in wanted:
            if max(own) > longest:
                text = (
                    f"{piece.name}: a rail of {job.printer.length(max(own))} is longer than every stick of {frame.name}, which gives "
                    f"{job.printer.length(longest)}; name a longer stick"
                )
                faults.append(Fault(line=piece.ask.line_of("frame"), where=f"{piece.ask.place}.frame", text=text))
        yield Rack(
            frame=frame, sticks=sticks, owners=tuple((piece.name, sum(own, Fraction(0))) for piece, own in wanted)
        )
