"""The summary of a piece: every size that the bench needs in tables, as many sheets as they take."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from matplan.documents.parts import wording
from matplan.documents.parts.cautions import Work, cautions, is_heavy, work_with
from matplan.documents.parts.facts import facts_beside
from matplan.documents.parts.folio import Folio
from matplan.documents.parts.page import paper, printed, title_block
from matplan.documents.parts.running import Running
from matplan.drawing import blocks
from matplan.drawing.blocks import Align, Column
from matplan.drawing.frame import drawing_area, frame
from matplan.drawing.sheet import Sheet
from matplan.job.records import Job, Show
from matplan.lengths import Box, Printer, Sides, Units, plain_decimal
from matplan.mats.records import SolvedAperture, SolvedPiece
from matplan.weights import mass

_SHOWN: Final = {Show.IMAGE: "image", Show.MARGIN: "image and margin", Show.SHEET: "whole sheet"}


def drawn(folio: Folio, piece: SolvedPiece) -> tuple[Sheet, ...]:
    """Return the summary of a piece."""
    return piece_summary(folio.job, piece)


def piece_summary(job: Job, piece: SolvedPiece) -> tuple[Sheet, ...]:
    """Return the sheets of one piece's summary."""
    size = paper(job.units).portrait
    running = Running(drawing_area(size))
    _facts(running, piece, job.printer)
    _cautions(running, piece, job)
    _windows(running, piece, job.printer)
    _prints(running, piece, job.printer)
    _layers(running, piece, job.printer)
    _stack(running, piece, job.units)
    _findings(running, piece)
    pages = running.pages
    sheets = []
    for number, items in enumerate(pages, 1):
        block = title_block(job, title=piece.name, document="Summary", sheet=(number, len(pages)))
        title = piece.name if len(pages) == 1 else f"{piece.name}, sheet {number}"
        sheets.append(
            Sheet(
                name=f"summary {piece.ask.file} {number}",
                title=title,
                size=size,
                items=(*frame(size, block).items, *items),
            )
        )
    return tuple(sheets)


def _facts(running: Running, piece: SolvedPiece, printer: Printer) -> None:
    asked = piece.frame.ask
    sizes = [(what, printer.size(size)) for what, size in wording.frame_sizes(piece)]
    if piece.frame.long_edges is not None and piece.frame.made_to_measure:
        sizes.append(("Rails, long edges", printer.size(piece.frame.long_edges)))
    frame_facts = [("Frame", wording.frame_in_words(piece)), ("Clearance", printed(asked.clearance, printer))]
    frame_facts += [("Lip", printed(asked.lip, printer))]
    frame_facts += [("Rail", printed(asked.rail, printer))] if asked.rail is not None else []
    frame_facts += [("Hidden by the lip", _hidden(piece, printer))]
    whole = [
        ("Quantity", str(piece.ask.quantity)),
        ("Windows", str(len(piece.apertures))),
        *wording.weights(piece, printer.units),
    ]
    if piece.web is not None and piece.web > 0:
        whole.append(("Narrowest mat between openings", printed(piece.web, printer)))
    lists = (("Sizes, width × height", sizes), ("Frame", frame_facts), ("Overall", whole))
    running.add(lambda x, y, width: facts_beside(lists, x=x, y=y, width=width), gap=6.0)


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


def _windows(running: Running, piece: SolvedPiece, printer: Printer) -> None:
    """Set what the eye sees: each opening with its borders up to the sight edge."""
    columns = [Column(head="Window", share=1.0), Column(head="Opening"), *_numbers("Top", "Right", "Bottom", "Left")]
    columns += [Column(head="Image"), Column(head="Shows")]
    rows = [
        (
            wording.short(a.name),
            printer.size(a.opening.size),
            *_sides(a.visible, printer),
            printer.size(a.image.size) if a.ask.text is None else "",
            _SHOWN[a.show] if a.ask.text is None else "caption",
        )
        for a in piece.apertures
    ]
    running.table(columns, rows, title="Windows, with their visible borders", classes=("windows",), gap=6.0)


def _prints(running: Running, piece: SolvedPiece, printer: Printer) -> None:
    """Set each image on its sheet, with the margins of the print dialog."""
    columns = [
        Column(head="Window", share=1.0),
        Column(head="Paper", share=1.0),
        *_numbers("Top", "Right", "Bottom", "Left"),
    ]
    columns += _numbers("Pixels", "Wanted", "ppi")
    rows = [row for a in piece.apertures if (row := _print(a, printer)) is not None]
    running.table(columns, rows, title="Prints, with the margins of the sheet", classes=("prints",), gap=6.0)


def _print(aperture: SolvedAperture, printer: Printer) -> tuple[str, ...] | None:
    if aperture.ask.text is not None:
        return None
    made, pixels = aperture.print, aperture.pixels
    sheet = "not named" if made is None else wording.print_in_words(made, printer)
    margins = ("",) * 4 if made is None else _sides(made.margins, printer)
    have = "" if pixels.used is None else f"{pixels.used[0]} × {pixels.used[1]}"
    ppi = "" if pixels.ppi is None else plain_decimal(pixels.ppi, 0)
    return (wording.short(aperture.name), sheet, *margins, have, f"{pixels.want[0]} × {pixels.want[1]}", ppi)


def _layers(running: Running, piece: SolvedPiece, printer: Printer) -> None:
    """Set each board's openings on its back with what the board keeps on each side, seen from the front."""
    columns = [
        Column(head="Layer"),
        Column(head="Board", share=1.0),
        Column(head="Window", share=1.0),
        Column(head="Opening on the back"),
    ]
    columns += [*_numbers("Top", "Right", "Bottom", "Left"), Column(head="Opening on the face")]
    blank = Box.of(piece.blank)
    rows = []
    for layer in piece.layers:
        for number, opening in enumerate(layer.openings):
            first = number == 0
            rows.append(
                (
                    str(layer.number) if first else "",
                    wording.layer_in_words(layer) if first else "",
                    wording.short(opening.aperture),
                    printer.size(opening.back.box.size),
                    *_sides(opening.back.box.inset_in(blank), printer),
                    printer.size(opening.face.box.size),
                )
            )
    running.table(
        columns, rows, title="Boards, with the borders as cut, seen from the front", classes=("layers",), gap=6.0
    )


def _stack(running: Running, piece: SolvedPiece, units: Units) -> None:
    columns = [Column(head="Part"), Column(head="Material", share=1.0), *_numbers("Thickness", "Weight")]
    rows = [
        (
            part.part,
            "" if part.material is None else wording.short(part.material.name),
            f"{plain_decimal(part.thickness, 2)} mm",
            "" if part.mass is None else mass(part.mass, units),
        )
        for part in piece.stack.parts
    ]
    if piece.frame_mass is not None:
        rows.append(("frame", wording.short(piece.frame.ask.name), "", mass(piece.frame_mass, units)))
    running.table(columns, rows, title="In the rabbet, from the glazing inwards", classes=("stack",), gap=6.0)


def _findings(running: Running, piece: SolvedPiece) -> None:
    rows = [(f.level.value, wording.short(f.where), f.text) for f in piece.findings]
    columns = (Column(head="Level"), Column(head="About", share=0.4), Column(head="Finding", share=1.6))
    running.table(columns, rows, title="Findings", classes=("findings",), gap=6.0)


def _cautions(running: Running, piece: SolvedPiece, job: Job) -> None:
    lines = cautions(*_work(piece), units=job.units)
    if lines:
        running.add(lambda x, y, width: blocks.cautions(lines, x=x, y=y, width=width), gap=6.0)


def _work(piece: SolvedPiece) -> Iterator[Work]:
    """Yield what of putting the piece together can hurt."""
    glazing = piece.ask.glazing
    if glazing is not None:
        yield from work_with((glazing.substance,))
    if is_heavy(piece.mass + (piece.frame_mass or Fraction(0))):
        yield Work.HEAVY
    yield Work.CONSERVATION
