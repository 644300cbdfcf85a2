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
from matplan.documents.parts.running import Running
from matplan.documents.prints.marks import shape_on_sheet
from matplan.drawing import blocks, lettering
from matplan.drawing.blocks import Align, Block, Column
from matplan.drawing.dimensions import Dimension, Side, arrange
from matplan.drawing.frame import drawing_area, frame
from matplan.drawing.items import Anchor, Area, Item, Level, Outline, Rect, Size, Text
from matplan.drawing.pens import PAPER, Pen
from matplan.drawing.sheet import Sheet
from matplan.drawing.views import View
from matplan.job.records import Job
from matplan.lengths import Box, Printer
from matplan.orders.gangs import GAP, Gang, Lying

type Numbered = Sequence[tuple[str, Lying]]
"""The prints of a sheet, each with its number."""

_GAP: Final = 6.0
_MOST_OF_THE_SHEET: Final = 0.22
"""A list that takes more of the sheet's height stands on sheets of its own."""


def drawn(folio: Folio, gang: Gang) -> tuple[Sheet, ...]:
    """Return the drawing of a sheet that holds several prints, and the sheets on which its list goes on."""
    keys = {(lying.piece.ask.file, lying.aperture.name) for lying in gang.prints if lying.turned}
    return gang_sheets(folio.job, gang, folio.pictures, folio.turned(keys))


def gang_sheets(job: Job, gang: Gang, pictures: Pictures, turned: Pictures) -> tuple[Sheet, ...]:
    """Return the sheets; `turned` are the pictures of turned prints, themselves turned a quarter to the left.

    Each print has a number, its place in the list; a long list stands on sheets of its own.
    """
    size = paper(job.units).portrait
    area = drawing_area(size)
    numbered = tuple((str(number), lying) for number, lying in enumerate(gang.prints, 1))

    def below(y: float) -> tuple[Block, ...]:
        table = _table(job, numbered, Area(x=area.x, y=y, width=area.width, height=0.0))
        if table.area.height > _MOST_OF_THE_SHEET * area.height:
            return (_notes(job, gang, area, y, "The list of prints with their places is on the next sheet."),)
        return table, _notes(job, gang, area, table.bottom + 4)

    blocks_below = below(area.y)
    height = blocks_below[-1].bottom - area.y
    figures = below(area.bottom - height)
    view = arrange(
        model_box(Box.of(gang.size)),
        _dimensions(gang, job.printer),
        area.inset(0, 0, 0, height + _GAP),
        further_scales(job.units),
    )
    first = (
        *_paper(gang, numbered, pictures, turned, view.view),
        *view.items,
        *(item for block in figures for item in block.items),
    )
    pages = [first]
    if len(figures) == 1:
        running = Running(area)
        columns, rows = _rows(job, numbered)
        running.table(columns, rows, title="Prints and their places", classes=("prints",))
        pages += running.pages
    return tuple(_sheet(job, gang, size, items, number, len(pages), view.view) for number, items in enumerate(pages, 1))


def _sheet(
    job: Job, gang: Gang, size: tuple[float, float], items: Sequence[Item], number: int, of: int, view: View
) -> Sheet:
    title = f"{wording.short(gang.paper.name)}, sheet {gang.number}"
    drawing = number == 1
    block = title_block(
        job,
        document="Several prints on one sheet",
        title=title,
        view="seen from the printed side" if drawing else "",
        scale=view.scale if drawing else None,
        sheet=(number, of) if of > 1 else None,
    )
    name = f"print {gang.file}" if drawing else f"print {gang.file} {number}"
    scale = view.scale if drawing else None
    return Sheet(name=name, title=title, size=size, items=(*frame(size, block).items, *items), scale=scale)


def _dimensions(gang: Gang, printer: Printer) -> tuple[Dimension, ...]:
    size, zero = gang.size, Fraction(0)
    corner = (size.width, size.height)
    return (
        Dimension(
            start=(zero, size.height),
            end=corner,
            side=Side.BELOW,
            label=printer.number(size.width),
            id="size-paper-width",
        ),
        Dimension(
            start=(size.width, zero),
            end=corner,
            side=Side.RIGHT,
            label=printer.number(size.height),
            id="size-paper-height",
        ),
    )


def _paper(gang: Gang, marked: Numbered, pictures: Pictures, turned: Pictures, view: View) -> list[Item]:
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
    items.extend(_number(number, view.area(model_box(lying.image))) for number, lying in marked)
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


def _number(number: str, area: Area) -> Text:
    widest = Size.TITLE * area.width * 0.8 / lettering.width(number, Size.TITLE, True)
    size = max(Size.SMALL, min(Size.TITLE, area.height * 0.4, widest))
    return Text(
        at=area.centre,
        text=number,
        size=size,
        anchor=Anchor.MIDDLE,
        level=Level.MIDDLE,
        bold=True,
        halo=True,
        classes=("print-number",),
    )


def _rows(job: Job, numbered: Numbered) -> tuple[tuple[Column, ...], list[tuple[str, ...]]]:
    """Return the list's columns, and a row for each print with its place."""
    printer = job.printer
    columns = (
        Column(head="", bold=True),
        Column(head="Print", share=1.0),
        Column(head="Image"),
        Column(head="From the left", align=Align.RIGHT),
        Column(head="From the top", align=Align.RIGHT),
        Column(head=""),
    )
    rows: list[tuple[str, ...]] = [
        (
            number,
            _name(lying),
            printer.size(lying.aperture.image.size),
            printer.length(lying.image.x),
            printer.length(lying.image.y),
            "turned a quarter" if lying.turned else "",
        )
        for number, lying in numbered
    ]
    return columns, rows


def _table(job: Job, numbered: Numbered, area: Area) -> Block:
    columns, rows = _rows(job, numbered)
    return blocks.table(columns, rows, x=area.x, y=area.y, width=area.width, classes=("prints",))


def _notes(job: Job, gang: Gang, area: Area, y: float, *further: str) -> Block:
    """Return what is to be known of the sheet."""
    printer = job.printer
    times = "once" if gang.copies == 1 else f"{gang.copies} times"
    lies = "portrait" if gang.size.height >= gang.size.width else "landscape"
    lines = [
        f"Print this sheet {times} instead of {len(gang.prints) * gang.copies} sheets with one print each; "
        f"paper {printer.size(gang.size)}, {lies}, at 100 %.",
        f"Cut between the prints: they lie {printer.length(GAP)} apart at least.",
    ]
    if any(lying.aperture.ask.photo is not None for lying in gang.prints):
        lines.append(
            f"print/{gang.file}.pdf has the photos in place, with their own pixels, and corner marks to cut by."
        )
    return blocks.notes([*lines, *further], x=area.x, y=y, width=area.width, title="Notes")


def _name(lying: Lying) -> str:
    name = wording.short(lying.piece.name)
    return name if len(lying.piece.apertures) == 1 else f"{name}: {wording.short(lying.aperture.name)}"
