"""Labels for the back of each frame at full size, and the wall labels behind them. A back tells what a buyer, a
framer or a conservator of later years asks.

Each copy has its own label, two beside each other, with cut marks; they are printed at 100 %.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import batched
from typing import Final

from matplan.documents.parts import wording
from matplan.documents.parts.facts import fact_list
from matplan.documents.parts.folio import Folio
from matplan.documents.parts.framed import model_box
from matplan.documents.parts.page import paper
from matplan.documents.parts.wording import Fact
from matplan.documents.prints import wall_labels
from matplan.documents.prints.label_pages import EDGE, FOOT, below, label_sheets
from matplan.documents.prints.marks import cut_marks
from matplan.drawing import lettering
from matplan.drawing.blocks import Block, paragraph
from matplan.drawing.items import Area, Group, Item, Line, Size, Text
from matplan.drawing.pens import SECONDARY, Pen
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import View
from matplan.habits import habits_of
from matplan.job.records import Job
from matplan.lengths import Box
from matplan.lengths import Size as Sized
from matplan.mats.records import SolvedPiece
from matplan.orders.hardware import needs
from matplan.planning import Plan
from matplan.weights import mass

MOST_COPIES: Final = 60
"""A piece with more copies has one label, its number in the edition left to be written by hand."""
WIDTH: Final = (Fraction(7, 2), 90)
"""Inches, millimetres."""
_LEAST_HEIGHT: Final = 60.0
_GAP: Final = 8.0
_PAD: Final = 3.0
_LETTERING: Final = 2.0
_LONGEST_TITLE: Final = 250


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A label to be made `many` times: a piece, and the number that its copy has in the edition."""

    piece: SolvedPiece
    edition: str
    many: int = 1


def labels_of(piece: SolvedPiece) -> Iterator[Label]:
    """Yield a label for each copy; of very many copies one, the number left to be written by hand."""
    edition, many = piece.ask.edition, piece.ask.quantity
    if many > MOST_COPIES:
        yield Label(piece=piece, edition=edition.blank if edition else "", many=many)
        return
    for copy in range(many):
        yield Label(piece=piece, edition=edition.of_copy(copy) if edition else "")


def drawn(folio: Folio, plan: Plan) -> tuple[Sheet, ...]:
    """Return the labels for the backs of the chosen pieces, two beside each other, then those beside frames."""
    job, page = plan.job, paper(plan.job.units).portrait
    wide = float(habits_of(job.units).figure(*WIDTH))
    left = (page[0] - 2 * wide - _GAP) / 2
    pages: list[list[Item]] = [[]]
    y = EDGE
    for pair in batched((label for piece in folio.pieces for label in labels_of(piece)), 2):
        written = [_written(label, job, left + n * (wide + _GAP), 0.0, wide) for n, label in enumerate(pair)]
        high = max(_LEAST_HEIGHT, *(block.bottom for block in written))
        if y + high > page[1] - FOOT and pages[-1]:
            pages.append([])
            y = EDGE
        for n, label in enumerate(pair):
            pages[-1].append(_label(label, job, Area(x=left + n * (wide + _GAP), y=y, width=wide, height=high)))
        y += high + _GAP
    return (*label_sheets("labels", "Labels for the backs", page, pages), *wall_labels.sheets(job, folio.walls))


def _label(label: Label, job: Job, area: Area) -> Group:
    """Return a label in its area with its cut marks, and how often it is made where that is more than once."""
    box = Box.of(Sized(Fraction(area.width), Fraction(area.height)))
    view = View(scale=Fraction(1), at=(area.x, area.y), model=model_box(box))
    line = area.bottom - _PAD
    told = "Framed on"
    by_hand: list[Item] = [
        Text(at=(area.x + _PAD, line), text=told, size=_LETTERING, colour=SECONDARY),
        Line(start=(area.x + _PAD + 18, line), end=(area.right - _PAD, line), pen=Pen.RULE, classes=("by-hand",)),
    ]
    if label.many > 1:
        by_hand.append(below(area, f"{label.many} of this label"))
    written = _written(label, job, area.x, area.y, area.width)
    outline = view.rect(model_box(box), classes=("label",))
    return Group(classes=("back-label",), items=(outline, *cut_marks(view, box), *written.items, *by_hand))


def _written(label: Label, job: Job, x: float, y: float, width: float) -> Block:
    """Return what is printed on a label, room for the line by hand below it."""
    piece, inner = label.piece, width - 2 * _PAD
    left, top = x + _PAD, y + _PAD
    items: list[Item] = []
    by = " · ".join(filter(None, (job.maker, f"edition {label.edition}" if label.edition else "")))
    lines = ((_title(piece.name), Size.NORMAL, True), (by[:1].upper() + by[1:], Size.SMALL, False))
    for text, size, bold in lines:
        if text:
            block = paragraph(text, x=left, y=top, width=inner, size=size, bold=bold)
            items.extend(block.items)
            top = block.bottom + 0.9
    facts = fact_list("", tuple(facts_of(piece, job)), x=left, y=top, width=inner, size=_LETTERING)
    items.extend(facts.items)
    apart = paragraph(
        "To take it apart: " + " ".join(steps(piece)), x=left, y=facts.bottom + 1.8, width=inner, size=_LETTERING
    )
    items.extend(apart.items)
    return Block(items=tuple(items), area=Area(x=x, y=y, width=width, height=apart.bottom + 7.5 + _PAD - y))


def _title(name: str) -> str:
    """Return the whole name; its beginning where it is longer than any title."""
    return lettering.isolated(name) if len(name) <= _LONGEST_TITLE else wording.short(name)


def facts_of(piece: SolvedPiece, job: Job) -> Iterator[Fact]:
    """Yield the sizes of images, sheets and frame, then what the piece is made of, and its mass."""
    printer = job.printer
    yield from _counted("Image", [printer.size(aperture.image.size) for aperture in piece.apertures])
    prints = [aperture.print for aperture in piece.apertures if aperture.print is not None]
    yield from _counted("Sheet", [wording.print_in_words(made, printer) for made in prints])
    frame = piece.frame
    size, which = (frame.rabbet, "rabbet") if frame.outer is None else (frame.outer, "outside")
    for what, text in wording.materials(piece, printer):
        yield what, f"{text}, {which} {printer.size(size)}" if what == "Frame" else text
    known = piece.frame_mass is not None
    if piece.mass or known:
        yield ("Weight" if known else "Weight without frame"), mass(piece.mass + (piece.frame_mass or 0), job.units)


def _counted(what: str, texts: Iterable[str]) -> Iterator[Fact]:
    """Yield each text once, with how often it stands where that is several times."""
    every = list(texts)
    for text in dict.fromkeys(every):
        many = every.count(text)
        yield what if many == 1 else f"{many} {what.lower()}s", text


def steps(piece: SolvedPiece) -> Iterator[str]:
    """Yield how the piece is taken apart, a plain sentence at a time."""
    taken = {need.name for need in needs(piece, None)}
    yield "Lay the frame face down on a soft, clean cloth."
    if "dust-cover" in taken:
        yield "Cut the dust cover along the rails and peel off the tape."
    if piece.ask.backing is not None:
        held = "Pull out the points" if "point" in taken else "Open the clips"
        yield f"{held} and lift out the backing."
    elif "point" in taken:
        yield "Pull out the points."
    if "hinge" in taken:
        on = "the mount" if piece.ask.mount is not None else "the mat"
        each = "The work hangs" if len(piece.apertures) == 1 else "Each work hangs"
        yield f"{each} from {on} by paper hinges along its top edge: cut the hinges, do not pull the work."
    else:
        yield "The work lies loose: lift it out by its edges."
    if piece.ask.glazing is not None:
        if piece.ask.glazing.substance == "glass":
            yield "The glazing is glass: lift it out last, with gloves on."
        else:
            yield "Lift out the glazing last, by its edges."
