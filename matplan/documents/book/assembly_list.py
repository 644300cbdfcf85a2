"""The assembly list: what is set, filled and closed piece by piece, with each board's borders as cut.

Front views show the pieces, print sheets the prints; what stands there is not said again here. The cautions stand once,
at the head of the list.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from matplan.documents.parts import wording
from matplan.documents.parts.cautions import Work, cautions, cutting_of, handling_of, is_heavy
from matplan.documents.parts.facts import facts_beside
from matplan.documents.parts.folio import Folio
from matplan.documents.parts.page import paper, printed, title_block
from matplan.documents.parts.running import TITLE_SIZE, Made, Running
from matplan.drawing import blocks
from matplan.drawing.blocks import Align, Column
from matplan.drawing.frame import drawing_area, frame
from matplan.drawing.sheet import Sheet
from matplan.job.records import Included, Job
from matplan.lengths import Box, Printer, Sides, Step, Units
from matplan.mats.records import SolvedPiece
from matplan.orders.at_hand import frames_at_hand
from matplan.planning import Plan

_TOGETHER: Final = 8
"""A piece with no more rows of boards than these stands on one sheet."""
_GAP: Final = 2.6
"""Between the blocks of a piece."""
_APART: Final = 8.0
"""Between two pieces."""
_BOARDS: Final = "Boards, with the borders as cut, seen from the front"


def drawn(folio: Folio, plan: Plan) -> tuple[Sheet, ...]:
    """Return the assembly list of the chosen pieces."""
    return assembly_list(plan.job, folio.pieces)


def assembly_list(job: Job, pieces: Sequence[SolvedPiece]) -> tuple[Sheet, ...]:
    """Return the pieces one below the other, on as many sheets as they take; none without pieces."""
    if not pieces:
        return ()
    size = paper(job.units).portrait
    running = Running(drawing_area(size))
    _cautions(running, pieces, job.units)
    for piece in pieces:
        columns, rows = _boards(piece, job.printer)
        if len(rows) > _TOGETHER:
            running.add(*_piece(piece, job), gap=_GAP)
            running.table(columns, rows, title=_BOARDS, classes=("layers",), gap=_APART)
        else:
            running.add(*_piece(piece, job), *_table(columns, rows), gap=_GAP)
            running.space(_APART - _GAP)
    pages = running.pages
    sheets = []
    for number, items in enumerate(pages, 1):
        block = title_block(job, title=job.title, document="Assembly list", sheet=(number, len(pages)))
        title = "Assembly list" if len(pages) == 1 else f"Assembly list, sheet {number}"
        sheets.append(
            Sheet(name=f"assembly {number}", title=title, size=size, items=(*frame(size, block).items, *items))
        )
    return tuple(sheets)


def _cautions(running: Running, pieces: Sequence[SolvedPiece], units: Units) -> None:
    work = dict.fromkeys(one for piece in pieces for one in _work(piece))
    lines = cautions(*work, units=units)
    if lines:
        running.add(lambda x, y, width: blocks.cautions(lines, x=x, y=y, width=width), gap=6.0)


def _piece(piece: SolvedPiece, job: Job) -> tuple[Made, ...]:
    """Return a piece's name and its facts."""
    printer, asked = job.printer, piece.frame.ask
    sizes = [(what, printer.size(size)) for what, size in wording.frame_sizes(piece)]
    if piece.frame.long_edges is not None and piece.frame.made_to_measure:
        sizes.append(("Rails, long points", printer.size(piece.frame.long_edges)))
    ready = frames_at_hand(job.pieces).get(piece.name, 0)
    held = [("Frame", wording.frame_in_words(piece, ready)), ("Clearance", printed(asked.clearance, printer))]
    held += [("Lip", printed(asked.lip, printer))]
    held += [("Rail", printed(asked.rail, printer))] if asked.rail is not None else []
    held += [("Hidden by the lip", _hidden(piece, printer))]
    if piece.web is not None and piece.web > 0:
        held.append(("Narrowest mat", printed(piece.web, printer)))
    stack = list(_stack(piece, job.units))
    lists = (("Sizes, width × height", sizes), ("Frame", held), ("In the rabbet, from the front", stack))
    name = wording.short(piece.name)
    title = f"{piece.ask.quantity} × {name}" if piece.ask.quantity > 1 else name
    return (
        lambda x, y, width: blocks.paragraph(title, x=x, y=y, width=width, size=TITLE_SIZE, bold=True),
        lambda x, y, width: facts_beside(lists, x=x, y=y, width=width, between=4.0),
    )


def _table(columns: Sequence[Column], rows: Sequence[tuple[str, ...]]) -> tuple[Made, ...]:
    """Return the boards of a piece under their title; nothing of a piece without boards."""
    if not rows:
        return ()
    return (
        lambda x, y, width: blocks.paragraph(_BOARDS, x=x, y=y, width=width, bold=True),
        lambda x, y, width: blocks.table(columns, rows, x=x, y=y, width=width, classes=("layers",)),
    )


def _stack(piece: SolvedPiece, units: Units) -> Iterator[wording.Fact]:
    """Yield each part in the rabbet with its material and thickness, then how thick and heavy all of it is."""
    for part in piece.stack.parts:
        thick = Printer(units, Step.usual(units)).fine(part.thickness)
        name = "" if part.material is None else f"{wording.short(part.material.name)}, "
        yield part.part[:1].upper() + part.part[1:], f"{name}{thick}{wording.from_frame(piece, part.part)}"
    yield from wording.weights(piece, units)


def _hidden(piece: SolvedPiece, printer: Printer) -> str:
    across, down = printer.number(piece.hidden.width), printer.number(piece.hidden.height)
    return (
        f"{printer.length(piece.hidden.width)} all round"
        if across == down
        else f"sides {across}, top and bottom {down}"
    )


def _numbers(*heads: str) -> list[Column]:
    return [Column(head=head, align=Align.RIGHT) for head in heads]


def _sides(sides: Sides, printer: Printer) -> tuple[str, ...]:
    return tuple(printer.number(side) for side in (sides.top, sides.right, sides.bottom, sides.left))


def _boards(piece: SolvedPiece, printer: Printer) -> tuple[list[Column], list[tuple[str, ...]]]:
    """Return each board's openings on its back with what the board keeps on each side, seen from the front."""
    several = len(piece.apertures) > 1
    columns = [Column(head="Layer"), Column(head="Board", share=1.0)]
    columns += [Column(head="Window", share=1.0)] if several else []
    columns.append(Column(head="Opening on the back"))
    columns += [*_numbers("Top", "Right", "Bottom", "Left"), Column(head="Opening on the face")]
    blank = Box.of(piece.blank)
    rows: list[tuple[str, ...]] = []
    for layer in piece.layers:
        for number, opening in enumerate(layer.openings):
            first = number == 0
            rows.append(
                (
                    str(layer.number) if first else "",
                    wording.layer_in_words(layer) if first else "",
                    *((wording.short(opening.aperture),) if several else ()),
                    printer.size(opening.back.box.size),
                    *_sides(opening.back.box.inset_in(blank), printer),
                    printer.size(opening.face.box.size),
                )
            )
    return columns, rows


def _work(piece: SolvedPiece) -> Iterator[Work]:
    """Yield what of putting the piece together can hurt."""
    glazing = piece.ask.glazing
    if glazing is not None:
        yield from handling_of(glazing)
        if Work.SCORING in cutting_of(glazing) and glazing.sheets and Included.GLAZING not in piece.brings:
            yield Work.SCORING
    if is_heavy(piece.mass + (piece.frame_mass or Fraction(0))):
        yield Work.HEAVY
    if piece.ask.mount is not None:
        yield Work.SPRAY
    yield Work.CONSERVATION
