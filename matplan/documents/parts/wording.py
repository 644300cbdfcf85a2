"""What documents say of a piece in words and figures, in the job's own units."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from matplan.drawing import lettering
from matplan.job.records import Cut, Included, MatSupply
from matplan.lengths import Printer, Sides, Step, Units
from matplan.lengths import Size as Sized
from matplan.mats.records import Finding, Layer, Level, Print, SolvedAperture, SolvedPiece
from matplan.weights import mass

type Fact = tuple[str, str]
"""What it is, and its figure."""

CUTS: Final = {Cut.BEVEL: "bevel", Cut.REVERSE: "reverse bevel", Cut.STRAIGHT: "straight cut"}
"""How a board's edge is cut."""

UNITS: Final = {Units.MM: "mm", Units.CM: "cm", Units.IN: "inches"}
"""A unit as the head of a column of figures has it."""


def short(name: str) -> str:
    """Return a name as tables and notes have it: whole, whatever stands beside it."""
    return lettering.isolated(name)


def sides_in_words(sides: Sides, printer: Printer) -> str:
    """Return `60 mm all round`, or side by side: `top 58 · right 60 · bottom 62 · left 60 mm`."""
    if _even(sides, printer):
        return f"{printer.length(sides.top)} all round"
    if sides.left == sides.right:
        return (
            f"top {printer.number(sides.top)} · sides {printer.number(sides.left)} · bottom "
            f"{printer.length(sides.bottom)}"
        )
    top, right, bottom = (printer.number(side) for side in (sides.top, sides.right, sides.bottom))
    return f"top {top} · right {right} · bottom {bottom} · left {printer.length(sides.left)}"


def _even(sides: Sides, printer: Printer) -> bool:
    """Return whether all sides print the same."""
    return len({printer.number(side) for side in (sides.top, sides.right, sides.bottom, sides.left)}) == 1


def counted(number: int, what: str) -> str:
    """Return `1 drop-out`, `2 drop-outs`."""
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def finding_in_words(finding: Finding, piece: SolvedPiece) -> str:
    """Return `Warning, left window: the photo gives 180 ppi …`."""
    level = "Warning" if finding.level is Level.WARNING else "Note"
    where = f" ({short(finding.where)})" if finding.where and finding.where != piece.name else ""
    return f"{level}{where}: {finding.text}"


_MATS: Final = ("Top", "Second", "Third", "Fourth", "Fifth")


def mat_name(number: int, count: int) -> str:
    """Return what a framer calls a layer of a mat, counted from 1 next to the glazing.

    >>> mat_name(1, 1), mat_name(1, 2), mat_name(2, 2), mat_name(6, 6)
    ('Mat', 'Top mat', 'Second mat', 'Mat 6')
    """
    if count == 1:
        return "Mat"
    return f"{_MATS[number - 1]} mat" if number <= len(_MATS) else f"Mat {number}"


def layer_in_words(layer: Layer) -> str:
    """Return `white, bevel`."""
    return f"{short(layer.board.name)}, {CUTS[layer.cut]}"


def print_in_words(made: Print, printer: Printer) -> str:
    """Return the sheet's name and size, and its orientation where that is not as the paper is named."""
    if made.paper is None:
        return f"sheet cut to {printer.size(made.size)}"
    turned = f", {made.orientation}" if made.turned else ""
    return f"{short(made.paper.name)}, {printer.size(made.size)}{turned}"


def frame_sizes(piece: SolvedPiece) -> tuple[tuple[str, Sized], ...]:
    """Return the blank and the frame round it, from the inside out."""
    frame = piece.frame
    sizes = [("Sight", frame.sight), ("Blank", piece.blank), ("Rabbet", frame.rabbet)]
    if frame.outer is not None:
        sizes.append(("Frame, outside", frame.outer))
    return tuple(sizes)


def window_sizes(aperture: SolvedAperture) -> Iterator[tuple[str, Sized]]:
    """Yield the image, its opening and its sheet."""
    yield "Image", aperture.image.size
    if aperture.matted:
        yield "Opening", aperture.opening.size
    if aperture.print is not None:
        yield "Sheet", aperture.print.size


def shown_in_words(aperture: SolvedAperture, printer: Printer) -> Fact | None:
    """Return what is covered of the image, or left free round it or its sheet; None where there is no mat to do so."""
    for name, sides in (("Overlap", aperture.overlap), ("White paper", aperture.reveal), ("Gap", aperture.gap)):
        if sides is not None:
            return name, sides_in_words(sides, printer)
    return None


def frame_in_words(piece: SolvedPiece, ready: int = 0) -> str:
    """Return the frame's name, whether it is built for this piece, and how many of the frames lie `ready`."""
    name, many = piece.frame.ask.name, piece.ask.quantity
    if not piece.frame.made_to_measure:
        size = piece.frame.rabbet
        at_hand = ", at hand" if ready == many else f", {ready} of {many} at hand" if ready else ""
        return short(name) + (f", {size.orientation}" if piece.frame.ask.turned else "") + at_hand
    return f"{short(name)}, made to measure" if name else "made to measure"


def from_frame(piece: SolvedPiece, part: str) -> str:
    """Return ", with the frame" of a part of the stack that the frame comes with, ", at hand" of another mat that is
    there already.
    """
    if part == Included.MAT:
        own = piece.ask.mat_supply is MatSupply.OWN
        return "" if not own else ", with the frame" if piece.frame.ask.has_mat else ", at hand"
    return ", with the frame" if part in piece.brings else ""


def materials(piece: SolvedPiece, printer: Printer, ready: int = 0) -> Iterator[Fact]:
    """Yield what the piece is made of, from the glazing inwards; `ready` of its frames are at hand."""
    yield "Frame", frame_in_words(piece, ready)
    if piece.ask.glazing is not None:
        yield "Glazing", short(piece.ask.glazing.name) + from_frame(piece, Included.GLAZING)
    for layer in piece.layers:
        yield mat_name(layer.number, len(piece.layers)), layer_in_words(layer) + from_frame(piece, Included.MAT)
    if piece.ask.mount is not None:
        yield "Mount", short(piece.ask.mount.name)
    if piece.ask.lift:
        yield "Work raised by", printer.fine(piece.ask.lift)
    if piece.ask.spacer is not None:
        yield "Spacer", printer.fine(piece.ask.spacer)
    if piece.ask.backing is not None:
        yield "Backing", short(piece.ask.backing.name) + from_frame(piece, Included.BACKING)


def weights(piece: SolvedPiece, units: Units) -> Iterator[Fact]:
    """Yield the stack's thickness against the rabbet's depth, and the mass of all of it, or of all but the frame."""
    stack = piece.stack
    if stack.parts:
        fine = Printer(units, Step.usual(units)).fine
        thick = fine(stack.thickness)
        if stack.depth is None:
            yield "Stack", thick
        else:
            yield (
                "Stack / rabbet",
                f"{thick} / {fine(stack.depth)}" + ("" if stack.fits else ": too deep"),
            )
    if piece.frame_mass is not None:
        yield "Weight", mass(piece.mass + piece.frame_mass, units)
    elif piece.mass:
        yield "Weight without frame", mass(piece.mass, units)
