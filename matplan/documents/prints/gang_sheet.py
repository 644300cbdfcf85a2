"""The drawing of a sheet that holds several prints: where each lies, and a list of them.

Boxes are in the sheet's own frame of reference: from the paper's top left corner, as it is fed.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Final

from matplan.documents.parts import wording
from matplan.documents.parts.folio import Folio
from matplan.documents.parts.framed import FIELD, model_box, pictured
from matplan.documents.parts.page import further_scales, paper, title_block
from matplan.documents.parts.pictures import Pictures
from matplan.documents.prints.marks import shape_on_sheet
from matplan.drawing import blocks, lettering
from matplan.drawing.blocks import Align, Block, Column
from matplan.drawing.dimensions import Dimension, Side, arrange, united
from matplan.drawing.frame import frame
from matplan.drawing.items import Anchor, Area, Item, Level, Outline, Rect, Size, Text
from matplan.drawing.pens import PAPER, Pen
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import View
from matplan.job.records import Job
from matplan.lengths import Box, Printer
from matplan.mats.letters import letter_of
from matplan.orders.gangs import GAP, Gang, Lying

_GAP: Final = 6.0
_PLACED: Final = 14
"""Prints beyond which the list has one line for all that are alike, without their places."""


def drawn(folio: Folio, gang: Gang) -> tuple[Sheet, ...]:
    """Return the drawing of a sheet that holds several prints."""
    keys = {(lying.piece.ask.file, lying.aperture.name) for lying in gang.prints if lying.turned}
    return (gang_sheet(folio.job, gang, folio.pictures, folio.turned(keys)),)


def gang_sheet(job: Job, gang: Gang, pictures: Pictures, turned: Pictures) -> Sheet:
    """The sheet's drawing; `turned` are the pictures of turned prints, themselves turned a quarter to the left."""
    title = f"{wording.short(gang.paper.name)}, sheet {gang.number}"
    size = paper(job.units).portrait
    marked = _marked(gang)
    area = frame(size, title_block(job, title="", document="")).area
    height = _list(job, gang, marked, area, area.y).area.height
    figures = _list(job, gang, marked, area, area.bottom - height)
    whole = Box.of(gang.size)
    drawn = arrange(
        model_box(whole),
        _dimensions(gang, job.printer),
        area.inset(0, 0, 0, height + _GAP),
        further_scales(job.units),
    )
    block = title_block(
        job,
        document="Several prints on one sheet",
        title=title,
        view="seen from the printed side",
        scale=drawn.view.scale,
    )
    items = (
        *frame(size, block).items,
        *_paper(gang, marked, pictures, turned, drawn.view),
        *drawn.items,
        *figures.items,
    )
    return Sheet(name=f"print {gang.file}", title=title, size=size, items=items, scale=drawn.view.scale)


def _marked(gang: Gang) -> tuple[tuple[str, Lying], ...]:
    """Each print with a letter; prints that are alike have the same."""
    found: dict[tuple[str, str], str] = {}
    return tuple(
        (found.setdefault((lying.piece.ask.file, lying.aperture.name), letter_of(len(found))), lying)
        for lying in gang.prints
    )


def _dimensions(gang: Gang, printer: Printer) -> tuple[Dimension, ...]:
    size, nought = gang.size, Fraction(0)
    corner = (size.width, size.height)
    return (
        Dimension(
            start=(nought, size.height),
            end=corner,
            side=Side.BELOW,
            label=printer.number(size.width),
            id="size-paper-width",
        ),
        Dimension(
            start=(size.width, nought),
            end=corner,
            side=Side.RIGHT,
            label=printer.number(size.height),
            id="size-paper-height",
        ),
    )


def _paper(
    gang: Gang, marked: Sequence[tuple[str, Lying]], pictures: Pictures, turned: Pictures, view: View
) -> list[Item]:
    whole = Box.of(gang.size)
    items: list[Item] = [view.rect(model_box(whole), pen=Pen.OUTLINE, fill=PAPER, name="paper", classes=("paper",))]
    for _, lying in marked:
        image = lying.image
        area = view.area(model_box(image))
        picture = (turned if lying.turned else pictures).get((lying.piece.ask.file, lying.aperture.name))
        if picture is None:
            items.append(area.rect(fill=FIELD))
        else:
            items.append(pictured(picture, area, _shape(lying, view)))
        items.append(_image_edge(lying, view))
        if lying.box != image:
            items.append(view.rect(model_box(lying.box), pen=Pen.RULE, classes=("footprint",)))
    bare = gang.unreachable
    if max(bare.top, bare.right, bare.bottom, bare.left) > 0:
        reach = Box(bare.left, bare.top, whole.width - bare.across, whole.height - bare.down)
        items.append(view.rect(model_box(reach), pen=Pen.HIDDEN, name="printable", classes=("printable",)))
    items.extend(_letter(letter, view.area(model_box(lying.image))) for letter, lying in marked)
    return items


def _shape(lying: Lying, view: View) -> Outline | None:
    """The line round a print that lies as it hangs; one that is turned is shown as its rectangle."""
    made = lying.aperture.print
    if made is None or lying.turned:
        return None
    image = lying.image
    corner = view.point(image.x - made.margins.left, image.y - made.margins.top)
    return shape_on_sheet(lying.piece, lying.aperture, made, view.scale, corner)


def _image_edge(lying: Lying, view: View) -> Rect:
    facts = (
        ("piece", lying.piece.ask.file),
        ("aperture", lying.aperture.name),
        ("turned", "yes" if lying.turned else "no"),
    )
    return view.rect(model_box(lying.image), pen=Pen.EDGE, classes=("image",), data=facts)


def _letter(letter: str, area: Area) -> Text:
    size = min(Size.TITLE, area.height * 0.4, Size.TITLE * area.width * 0.8 / lettering.width(letter, Size.TITLE, True))
    return Text(
        at=area.centre,
        text=letter,
        size=size,
        anchor=Anchor.MIDDLE,
        level=Level.MIDDLE,
        bold=True,
        halo=True,
        classes=("print-letter",),
    )


def _list(job: Job, gang: Gang, marked: Sequence[tuple[str, Lying]], area: Area, y: float) -> Block:
    """The prints, each with its place where they are few, and what is to be known of the sheet."""
    printer = job.printer
    columns = [Column(head="", bold=True), Column(head="Print", share=1.0), Column(head="Image")]
    rows: list[tuple[str, ...]] = []
    if len(marked) <= _PLACED:
        columns += [Column(head=head, align=Align.RIGHT) for head in ("From the left", "From the top")]
        columns += [Column(head="")]
        for letter, lying in marked:
            image = lying.image
            place = (printer.length(image.x), printer.length(image.y), "turned" if lying.turned else "")
            rows.append((letter, _name(lying), printer.size(lying.aperture.image.size), *place))
    else:
        columns += [Column(head="On this sheet", align=Align.RIGHT)]
        alike: dict[str, list[Lying]] = {}
        for letter, lying in marked:
            alike.setdefault(letter, []).append(lying)
        rows = [
            (letter, _name(group[0]), printer.size(group[0].aperture.image.size), f"{len(group)} ×")
            for letter, group in alike.items()
        ]
    table = blocks.table(columns, rows, x=area.x, y=y, width=area.width, classes=("prints",))
    times = "once" if gang.copies == 1 else f"{gang.copies} times"
    fed = printer.size(gang.size)
    lines = [
        f"Print this sheet {times} instead of {len(gang.prints) * gang.copies} sheets with one print each; paper fed {fed}, at 100 %.",
        f"Cut between the prints: they lie {printer.length(GAP)} apart at least.",
    ]
    if any(lying.aperture.ask.photo is not None for _, lying in marked):
        lines.append(
            f"print/{gang.file}.pdf has the photos in place, with their own pixels, and corner marks to cut by."
        )
    notes = blocks.notes(lines, x=area.x, y=table.bottom + 4, width=area.width, title="Notes")
    return Block(items=(*table.items, *notes.items), area=united([table.area, notes.area]))


def _name(lying: Lying) -> str:
    name = wording.short(lying.piece.name)
    return name if len(lying.piece.apertures) == 1 else f"{name}: {wording.short(lying.aperture.name)}"
